"""What goes with a step in the smallest window: a row for each figure that the hands need."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.aside import OldCup
from bench.session.asked_words import short_names
from bench.session.asking import Asked
from bench.session.choices import shot_each_ml
from bench.session.cooldown import CoolDown
from bench.session.fill import FillChange, FillHelp, FillVerdict, FillView
from bench.session.session import Session
from bench.session.view import MouldView, View
from bench.tui import present
from bench.tui.pour.cup_words import brief_cups, is_over_band
from bench.tui.pour.heat_words import brief_heat, brief_touch, heating_words, weigh_words
from bench.tui.pour.keys import Press, key_for
from bench.tui.pour.learnt_words import brief_verdicts
from bench.tui.pour.left_words import brief_clean
from bench.tui.pour.question_words import coldest
from bench.tui.text import clean, cut

LONGEST_NAME = 18
"""Columns of a colour's name beside the key that changes it; the whole of it stands in the plan."""


def brief_details(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """The brief details of that step; empty where its details are short already."""
    if view.is_spoilt:
        return _thrown(view)
    if view.in_hand.old is not None and view.is_held_up:
        cooling = _cooling(view.in_hand.old)
        return (*cooling, f"{key_for(Press.FORWARD)}: the old cup is out, the new one on")
    own = _DETAILS.get(view.step.kind)
    return own(session, view, units) if own else ()


def _thrown(view: View) -> tuple[str, ...]:
    """How long the cup cools, and the ways on from it."""
    ways = [f"{key_for(Press.FORWARD)}: cold, thrown away, weigh anew"]
    if view.cool_down is not None and view.cool_down.left_s != 0:
        ways.append(f"{key_for(Press.FORWARD)}, {key_for(Press.ACKNOWLEDGE)}: it stays hot, weigh anew")
    if view.strikable is not None:
        ways.append(f"{key_for(Press.BACK)}: that reading was wrong")
    return (*(_cooling(view.cool_down) if view.cool_down else ()), *ways)


def _cooling(cooling: CoolDown | OldCup) -> tuple[str, ...]:
    if cooling.is_read:
        return ("it was read cool",)
    if cooling.left_s == 0:
        return ("cool by the estimate: test it first",)
    if cooling.left_s is None:
        return ("too warm a room to say when it is cool",)
    return (f"cool in about {present.wait(cooling.left_s)}, its middle later",)


def _weigh(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    lines = weigh_words(view.weigh, units) if view.weigh else ()
    return tuple(f"  {each.strip()}" if each.startswith(" ") else each for each in lines)


def _heat_on(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    seconds = view.set_burst_s or 0.0
    burst = f"set the timer to {present.countdown(seconds)}" if seconds else "hot enough: no burst, go on"
    return (burst, *_weigh(session, view, units))


def _heat(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if is_over_band(view):
        return _band(session, view, units)
    whole = (*heating_words(view), *_weigh(session, view, units), *_band(session, view, units))
    return brief_heat(view, units) or whole


def _band(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    return (f"until it reads {present.temperatures(*view.step.band_c, units)}",) if view.step.band_c else ()


def _shot(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if view.is_solid:
        return (f"{coldest(view, units)}: {Asked.SOLID.value}",)
    mould = next((each for each in view.moulds if each.number == view.step.mould), None)
    if view.step.shot is None:
        good = present.temperature(session.job.mould.warm_c[0], units)
        read = f"mould {present.temperature(mould.temp_c, units)}, " if mould else ""
        return (*_taken(session, units), f"{read}good from {good} ({key_for(Press.MOULD)})")
    fill = (_filling(mould, view.fill, units),) if mould and view.fill else ()
    return (*_taken(session, units), *fill, *_bond(view, units))


def _taken(session: Session, units: UnitSystem) -> tuple[str, ...]:
    """How much comes from which cup, top-off included."""
    each = {part: present.volume(ml, units) for part, ml in shot_each_ml(session).items()}
    if len(each) == 1:
        return tuple(f"{volume} from the {part.words} cup" for part, volume in each.items())
    if len({*each.values()}) == 1:
        return (f"{next(iter(each.values()))} from each: {short_names(tuple(each))}",)
    return (", ".join(f"{volume} {part.words}" for part, volume in each.items()),)


def _filling(mould: MouldView, fill: FillView, units: UnitSystem) -> str:
    """The mould as it is, and whether it fills: what decides whether to shoot."""
    if mould.warmed_s is not None:
        return f"mould not read ({key_for(Press.MOULD)}): {_fills(fill, units)}"
    against = ("cold", "warm", "too hot")[mould.against_window + 1]
    return f"mould {present.temperature(mould.temp_c, units)}, {against}: {_fills(fill, units)}"


def _fills(fill: FillView, units: UnitSystem) -> str:
    if fill.verdict is FillVerdict.FILLS:
        return "it fills"
    verdict = "barely fills" if fill.verdict is FillVerdict.MARGINAL else "runs short"
    return f"{verdict}. {_help(fill.help, units)}" if fill.help else verdict


def _help(change: FillHelp, units: UnitSystem) -> str:
    match change.change:
        case FillChange.REHEAT:
            return "Reheat the cup"
        case FillChange.PUSH:
            return "Push faster"
        case FillChange.MOULD:
            return f"Helps: the mould {present.warmer(change.by, units)}"
        case FillChange.PLASTIC:
            return f"Helps: the plastic {present.warmer(change.by, units)}"


def _bond(view: View, units: UnitSystem) -> tuple[str, ...]:
    """That it may peel is a warning of its own."""
    if view.bond is None or not view.bond.enough:
        return ()
    return (f"core meets shell at {present.temperature(view.bond.contact_c, units)}: it bonds",)


def _trim(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if view.trim is None:
        return ()
    effect = view.trim.effect
    kept = "all kept" if effect.cut == 0 else f"{present.volume(effect.trimmed_ml, units)} comes off"
    holds = present.volume(effect.holds_ml, units)
    needs = present.volume(effect.needs_ml, units).partition(" ")[0]
    enough = "not enough"
    if effect.enough:
        enough = "enough" if effect.enough_for_all else "only now"
    lines = [
        f"{effect.cut} of {present.counted(effect.of, 'tail')} cut: {kept}",
        f"core {holds}, needs {needs}: {enough}",
    ]
    another = f", {key_for(Press.CORE)}: another" if view.trim.core_open else ""
    lines.append(f"core: {cut(clean(view.trim.core), LONGEST_NAME)}{another}")
    if view.trim.weigh_anew_s is not None:
        lines.append(f"mixed core aside, weigh anew: {present.long_time(view.trim.weigh_anew_s)}")
    return tuple(lines)


def _hold(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    top_off = view.top_off
    if top_off is None:
        return ()
    when = "now" if top_off.next_in_s <= 0 else f"in {present.countdown(top_off.next_in_s)}"
    return (f"top off {when}, about {present.volume(top_off.volume_ml, units)}",)


def _open(_session: Session, view: View, _units: UnitSystem) -> tuple[str, ...]:
    return (brief_touch(view.touch),) if view.touch and view.touch.bare_s > 0 else ()


def _look(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """What is to be changed; before a verdict, what is chosen at the tails."""
    return brief_verdicts(session, view) or _trim(session, view, units)[1:]


def _clean(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    return brief_clean(session, view, units)


_DETAILS: Mapping[StepKind, Callable[[Session, View, UnitSystem], tuple[str, ...]]] = {
    StepKind.READY: brief_cups,
    StepKind.WARM_MOULD: brief_cups,
    StepKind.REST_MOULD: _band,
    StepKind.HEAT: _heat,
    StepKind.HEAT_ON: _heat_on,
    StepKind.WEIGH: _weigh,
    StepKind.SHOT: _shot,
    StepKind.WARM_UP_SHOT: _shot,
    StepKind.HOLD: _hold,
    StepKind.OPEN: _open,
    StepKind.LOOK_AT_SHELLS: _look,
    StepKind.LOOK_AT_BAITS: _look,
    StepKind.TRIM: _trim,
    StepKind.SHELLS_BACK: _trim,
    StepKind.CLEAN: _clean,
}
