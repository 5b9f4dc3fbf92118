"""The words for what to change after a verdict, with the loads to try."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bench.plan.look_words import load_words, span_words
from bench.session.next_loads import NextLoad, NextTime, Otherwise, Told, next_times
from bench.session.session import Session
from bench.session.verdicts import Verdict, all_standing

ADVICE: Mapping[Verdict, str] = {
    Verdict.TOO_DENSE: "less colour in the next melt",
    Verdict.TOO_FAINT: "more colour in the next melt",
    Verdict.CORE_HIDDEN: "less colour in the next melt of the shell, or more in the core's",
    Verdict.CORE_FAINT: "more colour in the next melt of the core",
    Verdict.CORE_STRONG: "less colour in the next melt of the core",
    Verdict.COLOUR_OFF: "stir the next cup to its bottom, and check its doses on the scale",
    Verdict.SHORT: "a warmer mould, the hot end of the band, a faster push",
    Verdict.DENTS: "keep the pressure on, and top off until the sprue stays full",
    Verdict.BUBBLES: "stir slowly, let the cup stand a moment, push steadily",
    Verdict.SOFT: "leave it closed longer",
    Verdict.SOONER: "open it sooner",
    Verdict.WRINKLED: "a warmer mould, and one steady push",
    Verdict.OFF_CENTRE: "seat the rods straight, and shoot gently",
    Verdict.PEELS: "wipe the oil out of the bores, be quick, shoot at the hot end of the band",
}
"""The one change that helps most (common practice, no source); nothing is to be changed after what is right."""

STARTING_POINT = "Loads to try are starting points (common practice, no source): try one bait first."


def next_lines(session: Session) -> Iterator[str]:
    """What to change another time, a line a verdict; nothing where all was right."""
    said = [_line(each) for each in next_times(session)]
    yield from said
    if any("try about" in line for line in said):
        yield STARTING_POINT


def _line(each: NextTime) -> str:
    whose = f"{each.subject} {each.verdict}, {_rounds(each.rounds)}"
    change = ". ".join((ADVICE[each.verdict], *map(load_line, each.loads)))
    if not each.otherwise:
        return f"{whose}: {change}."
    return f"{whose}: {_judged_otherwise(each)}. Else {change}."


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
    said = "; ".join(_briefly(each) for each in next_times(session))
    if said:
        return said
    return str(Verdict.RIGHT) if all_standing(session.verdicts) else ""


def _briefly(each: NextTime) -> str:
    if each.otherwise:
        others = ", ".join(f"{_rounds(other.rounds)} {other.verdict}" for other in each.otherwise)
        return f"{_rounds(each.rounds)} {each.verdict}, {others}; look at both"
    loads = " or ".join(f"{load.title} about {load_words(load.try_pct)}" for load in each.loads)
    return f"{each.verdict}; try {loads}" if loads else str(each.verdict)


def load_line(load: NextLoad) -> str:
    """One colourant: what it was, its window, what to try."""
    window = span_words(low_pct=load.low_pct, high_pct=load.high_pct)
    match load.told:
        case Told.INSIDE:
            where = f"its window {window}"
        case Told.OUTSIDE | Told.BEYOND:
            where = f"{load.told}; window {window}"
        case _:
            where = load.told.value
    whose = f"{load.title} in the {load.part.words}"
    return f"{whose}: {load.now_pct:.3g} % ({where}), try about {load_words(load.try_pct)}"


def change_at_a_look(each: NextTime) -> str:
    """What to change, in as few words as a look leaves time for."""
    loads = ", or ".join(map(_brief_load, each.loads))
    change = f"in the next melt try {loads}" if loads else ADVICE[each.verdict]
    return f"{_judged_otherwise(each)}; else {change}" if each.otherwise else change


def _brief_load(load: NextLoad) -> str:
    first = " (look at its doses and its swatch first)" if load.told is Told.BEYOND else ""
    whose = f"{load.title} in the {load.part.words}"
    return f"{whose} at about {load_words(load.try_pct)}, not {load.now_pct:.3g} %{first}"
