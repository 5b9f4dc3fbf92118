"""The words for what a session was made with: its cups, its shots, its tails."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bench.model.step_kind import StepKind
from bench.session.choices import cut_tails
from bench.session.session import Session
from bench.session.shots_made import SLACK_K, ShotMade
from bench.session.weighings import Weighing

Degrees = Callable[[float], str]
"""How whoever shows it writes a temperature."""
Mass = Callable[[float], str]


def weighing_words(weighing: Weighing, mass: Mass) -> str:
    """One cup: what it is, the plastic, each colour in % and g."""
    melt = weighing.melt
    which = f", melt {melt.number} of {weighing.melts}" if weighing.melts > 1 else ""
    is_one = melt.first_round == melt.last_round
    rounds = f"round {melt.first_round}" if is_one else f"rounds {melt.first_round} to {melt.last_round}"
    colours = (f"{dose.title} {dose.load_pct:.3g} % {dose.mass_g:.2f} g" for dose in weighing.doses)
    contents = ", ".join((f"plastic {mass(weighing.base_g)}", *colours))
    core = f", with the core of {weighing.core}" if weighing.core else ""
    anew = f" ({weighing.anew})" if weighing.anew else ""
    return f"{melt.part.words} cup{which}, for {rounds}{core}: {contents}{anew}"


def shot_words(made: ShotMade, degrees: Degrees, duration: Callable[[float], str]) -> str:
    """One shot: cup and mould by their estimates, how long a core's shells were out, the set beside the planned
    one."""
    cups = [f"{part.words} cup {degrees(temp_c)}" for part, temp_c in made.cups_c.items()]
    planned = duration(made.planned_set_s)
    took = f"set {duration(made.set_s)}, planned {planned}" if made.set_s is not None else "not opened"
    lay = [] if made.shells_out_s is None else [f"shells {_out(made.shells_out_s, made.shells_limit_s, duration)}"]
    mould = f"mould {degrees(made.mould_c)}{' or more' if made.mould_rise_k > SLACK_K else ''}"
    return f"{shot_name(made)}: {', '.join((*cups, mould, *lay, took))}"


def _out(out_s: float, limit_s: float | None, duration: Callable[[float], str]) -> str:
    """How long they were out of their mould, with the limit where that was too long."""
    out = f"out for {duration(out_s)}"
    return out if limit_s is None or out_s <= limit_s else f"{out}, over the limit of {duration(limit_s)}"


def shot_name(made: ShotMade) -> str:
    """Which shot: "round 1, shell shot"."""
    name = made.shot.value if made.shot.value == "shot" else f"{made.shot} shot"
    return f"round {made.step.round}, {name}"


def outside_words(made: ShotMade) -> Iterator[tuple[str, float]]:
    """What was outside its range at that shot, each with its estimate in degC."""
    for each in made.outside:
        whose = "its mould was" if each.part is None else f"the {each.part.words} cup was"
        side, span = "over" if each.above else "under", "window" if each.part is None else "band"
        yield f"{shot_name(made)}: {whose} {side} its {span}, by the estimate", each.temp_c


def tails_words(session: Session) -> Iterator[str]:
    """How many tails of each trimmed round were cut; nothing where there are none to cut."""
    plan = session.job.plan
    if not plan.build.has_core or plan.volumes.tail_ml <= 0:
        return
    steps = (session.job.script[visit.index] for visit in session.visits if visit.by is not None)
    for number in sorted({step.round for step in steps if step.kind is StepKind.TRIM}):
        planned = "" if number in session.tails else ", as the recipe has it"
        yield f"round {number}: {cut_tails(session, number)} of {plan.cavities} tails cut{planned}"
