"""The words for what stays open until the shells are seen: their tails, and the core's colour."""

from __future__ import annotations

from bench.model.settings import UnitSystem
from bench.session.session import Session
from bench.session.view import View
from bench.tui import present
from bench.tui.pour.keys import Press, key_for
from bench.tui.text import clean


def trim_words(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """How many tails are cut, whether the core cup holds enough for that, and which colour it is; a line each."""
    if view.trim is None:
        return ()
    effect = view.trim.effect
    kept = "all kept" if effect.cut == 0 else f"{present.volume(effect.trimmed_ml, units)} of shell comes off"
    holds, needs = present.volume(effect.holds_ml, units), present.volume(effect.needs_ml, units)
    lines = [f"{effect.cut} of {present.counted(effect.of, 'tail')} cut: {kept}"]
    lines.append(f"core cup holds {holds}, this shot needs {needs}: {_verdict_on(view)}")
    another = f"; {key_for(Press.CORE)} takes another" if view.trim.core_open else ""
    lines.append(f"core colour: {_core_colour(session, view.trim.core)}{another}")
    if view.trim.weigh_anew_s is not None:
        about = present.long_time(view.trim.weigh_anew_s)
        lines.append(f"the mixed core cup is set aside and a new one weighed: about {about}")
    return tuple(lines)


def _core_colour(session: Session, title: str) -> str:
    """The recipe whose core goes in, and the colourants in it."""
    core = session.job.cores.get(session.core)
    titles = [session.job.colourants[dose.colourant].title for dose in core.doses] if core else []
    inside = f" ({', '.join(clean(each) for each in titles)})" if titles else ""
    return f"{clean(title)}{inside}"


def _verdict_on(view: View) -> str:
    assert view.trim is not None, "asked only where tails are open to choice"
    effect = view.trim.effect
    if not effect.enough:
        return "not enough"
    return "enough" if effect.enough_for_all else "enough now, not for every later round"
