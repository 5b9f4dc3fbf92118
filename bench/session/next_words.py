"""The words for what to change after a verdict, with the loads to try."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bench.model.recipe import Build
from bench.plan.look_records import Near
from bench.plan.look_words import load_words, span_words
from bench.session.advice import advice
from bench.session.next_loads import NextLoad, NextTime, Opposite, Otherwise, Told, next_times
from bench.session.session import Session
from bench.session.verdicts import Verdict, all_standing

STARTING_POINT = "Loads to try are first steps (common practice, no source): try one bait first."

HOW_TO_TAKE = (
    "To take a load: C on the bench opens the colour screen; go to that colour, type its dose, S saves it."
)

HOLD = "change no load yet, look at both again in daylight"
ANOTHER_CORE = "if both stay so, try another core"


def next_lines(session: Session) -> Iterator[str]:
    """What to change another time, a line a verdict, or one for those that ask for the opposite of each other;
    nothing where all was right."""
    asked, build = tuple(next_times(session)), session.job.recipe.build
    against = tuple(each for each in asked if each.opposite)
    said = [_opposed(against, session) if each.opposite else _line(each, build) for each in asked]
    yield from dict.fromkeys(said)
    if any("try about" in line for line in said):
        yield STARTING_POINT


def _opposed(against: Sequence[NextTime], session: Session) -> str:
    """That verdicts pull opposite ways, why, and the one thing to do."""
    named = " and ".join(_whose(each) for each in against)
    if len({each.subject for each in against}) == 1:
        return f"{named} pull opposite ways at the same load: {HOLD}."
    why = "as more colour in the shell shows the core less"
    hold = f"{HOLD}; {ANOTHER_CORE}" if session.job.recipe.build.has_core else HOLD
    return f"{named} pull opposite ways, {why}: {hold}."


def _whose(each: NextTime | Opposite) -> str:
    return f"{each.subject} {each.verdict.of_several}, {_rounds(each.rounds)}"


def _line(each: NextTime, build: Build) -> str:
    lines = [load_line(load) for load in each.loads]
    helps = not each.loads or any(load.try_pct is not None for load in each.loads)
    change = ". ".join((advice(each.verdict, each.subject, build), *lines) if helps else lines)
    if not each.otherwise:
        return f"{_whose(each)}: {change}."
    return f"{_whose(each)}: {_judged_otherwise(each)}. Else {change}."


def _judged_otherwise(each: NextTime) -> str:
    """That a change may be wrong, as the same load looked different in other rounds."""
    others = " and ".join(f"{_rounds(other.rounds)} {_were(other)}" for other in each.otherwise)
    return f"{others} with the same load, so look at both before changing"


def _rounds(numbers: tuple[int, ...]) -> str:
    return f"{'round' if len(numbers) == 1 else 'rounds'} {', '.join(map(str, numbers))}"


def _were(other: Otherwise) -> str:
    return f"{'was' if len(other.rounds) == 1 else 'were'} {other.verdict}"


def last_time_words(session: Session) -> str:
    """How the session was judged and what to try, in as few words as a plan leaves room for; empty where nobody
    judged it."""
    asked = tuple(next_times(session))
    against = " but ".join(_whose(each) for each in asked if each.opposite)
    said = [f"{against}: look at both again" if each.opposite else _briefly(each) for each in asked]
    if said:
        return "; ".join(dict.fromkeys(said))
    judged = dict.fromkeys(given.subject for given in all_standing(session.verdicts))
    return ", ".join(f"{subject} {Verdict.RIGHT}" for subject in judged)


def has_loads(session: Session) -> bool:
    """Whether the session was judged so that there is a load to try."""
    return any(load.try_pct is not None for each in next_times(session) for load in each.loads)


def _briefly(each: NextTime) -> str:
    if each.otherwise:
        others = ", ".join(f"{_rounds(other.rounds)} {other.verdict}" for other in each.otherwise)
        return f"{each.subject} {each.verdict.of_several} in {_rounds(each.rounds)}, {others}: look at both"
    loads = " or ".join(f"{load.title} about {load_words(load.try_pct)}" for load in each.loads if load.try_pct)
    return (
        f"{each.subject} {each.verdict.of_several}: try {loads}"
        if loads
        else f"{each.subject} {each.verdict.of_several}"
    )


def load_line(load: NextLoad) -> str:
    """One colourant: what it was, its window, what to try."""
    window = span_words(low_pct=load.low_pct, high_pct=load.high_pct)
    match load.told:
        case Told.INSIDE | Told.AT_END:
            where = f"its window {window}"
        case Told.OUTSIDE | Told.BEYOND:
            where = f"{load.told}; window {window}"
        case _:
            where = load.told.value
    whose = f"{load.title} in the {load.part.words}: {load.now_pct:.3g} % ({where})"
    if load.try_pct is None:
        return f"{whose}, {_left_as_it_is(load)}"
    return f"{whose}, try about {load_words(load.try_pct)}, {_step_words(load)}"


def _step_words(load: NextLoad) -> str:
    """Which way a load to try leads."""
    match load.told:
        case Told.INSIDE:
            return f"a first step towards its {_end(load)}"
        case Told.OUTSIDE:
            return "a first step into it"
        case _:
            return "a first step"


def _end(load: NextLoad) -> Near:
    return Near.DENSE if load.more else Near.THIN


def _left_as_it_is(load: NextLoad) -> str:
    """Why no load that way is offered."""
    if load.told is Told.BEYOND:
        return "leave it until those are right"
    comes = "the core hides" if load.more else "the shell hardly tints"
    return f"leave it: beyond its {_end(load)} {comes}. Look again in daylight, or try another core"


def change_at_a_look(each: NextTime, build: Build) -> str:
    """What to change, in as few words as a look leaves time for."""
    if each.opposite:
        named = " and ".join(map(_whose, each.opposite))
        hold = HOLD if {other.subject for other in each.opposite} == {each.subject} else f"{HOLD}; {ANOTHER_CORE}"
        return f"pulls against {named}: {hold}"
    loads = ", or ".join(_brief_load(load) for load in each.loads if load.try_pct is not None)
    left = ", ".join(f"{load.title} in the {load.part.words}: {_left_briefly(load)}" for load in each.loads)
    change = f"in the next melt try {loads}" if loads else left or advice(each.verdict, each.subject, build)
    return f"{_judged_otherwise(each)}; else {change}" if each.otherwise else change


def _left_briefly(load: NextLoad) -> str:
    if load.told is Told.BEYOND:
        return f"leave it at {load.now_pct:.3g} %, look at its doses and its swatch first"
    return f"leave it at {load.now_pct:.3g} %, near the {_end(load)} of its window; look again in daylight"


def brief_change(each: NextTime) -> str:
    """The same for a row or two of the smallest window; the part is named where loads of several may change. Empty
    where no load is meant."""
    if each.opposite:
        return "no load yet, look at both again in daylight"
    tried = [load for load in each.loads if load.try_pct is not None]
    parts = {load.part for load in tried}
    loads = " or ".join(
        f"{f'{load.part.words}, ' if len(parts) > 1 else ''}{load.title} about {load_words(load.try_pct)}"
        for load in tried
        if load.try_pct is not None
    )
    left = (
        "leave the load, look at doses and swatch"
        if _is_beyond(each)
        else "leave the load, look again in daylight"
    )
    change = loads or (left if each.loads else "")
    if not each.otherwise or not change:
        return change
    return f"look at {' and '.join(_rounds(other.rounds) for other in each.otherwise)} first; else {change}"


def _is_beyond(each: NextTime) -> bool:
    return any(load.told is Told.BEYOND for load in each.loads)


def _brief_load(load: NextLoad) -> str:
    assert load.try_pct is not None, "asked only for loads to try"
    return f"{load.title} in the {load.part.words} at about {load_words(load.try_pct)}, not {load.now_pct:.3g} %"
