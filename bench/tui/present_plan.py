"""The bench screen in words: lists, what waits, and the plan beside the choice."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import datetime, timedelta
from pathlib import PurePath
from typing import TYPE_CHECKING

from textual.content import Content

from bench.errors import Fault
from bench.model.settings import UnitSystem
from bench.tui.present import (
    ago,
    counted,
    day_and_time,
    drops,
    lasted,
    long_time,
    mass,
    sentence,
    small_mass,
    temperature,
    volume,
    volume_sign,
)
from bench.tui.text import clean, columns_of, cut, join
from bench.tui.waiting import Curing, Unfinished

if TYPE_CHECKING:
    # The first frame uses this module and none of these; each of them takes time to load.
    from bench.model.mould import Mould
    from bench.model.recipe import Recipe
    from bench.plan.records import DosePlan, Melt, PartPlan, Plan, RoundPlan

READING = "Reading the shelf …"
NO_COUNT = "How many baits? Type a number, or press + and -."
EMPTY_SHELF = "There is no recipe or no mould on the shelf. pourbench check says why."
ESTIMATE = ("All of it estimates: your thermometer", "and your eyes decide.")
LONG_AWAY = timedelta(days=2)
"""From then on a session was left so many days ago."""

LONGEST_NAME = 34
"""Columns of a title within a question: as many as a row of the smallest window has in its frame."""

KEYS = (
    ("Enter", "pour"),
    ("?", "help"),
    ("Q", "leave"),
    ("+ -", "count"),
    ("M", "moulds"),
    ("R", "rehearse"),
    ("← →", "lists"),
    ("C", "colour"),
    ("L", "past"),
    ("T", "tails"),
    ("V", "bright or dark"),
    ("H", "heater"),
    ("K", "pedal"),
)
"""The first of them stand at the bottom as far as there is room; help names them all."""

LAST_TIME_KEY = "W"
"""Stands with what it shows: where nothing was said the last time it means nothing."""

RESUME_KEYS = (
    ("Enter", "resume"),
    ("→", "new pour"),
    ("?", "help"),
    ("Q", "leave"),
    ("X", "set aside"),
    ("L", "past"),
)


ELSEWHERE_KEYS = (("Enter", "look on"), *(each for each in RESUME_KEYS[1:] if each[0] != "X"))


def go_on_keys(session: Unfinished) -> tuple[tuple[str, str], ...]:
    """The keys while the cursor is on that session."""
    return ELSEWHERE_KEYS if session.elsewhere else RESUME_KEYS


def recipe_label(recipe: Recipe) -> Content:
    """A recipe as a line of a list."""
    return Content.assemble(clean(recipe.title), (f"  {recipe.build}", "$bench-quiet"))


def mould_label(mould: Mould) -> Content:
    """A mould as a line of a list."""
    return Content(clean(mould.title))


def broken_names(faults: Iterable[Fault], kind: str) -> tuple[str, ...]:
    """The names of the files of that kind of profile that are not on the shelf, each once."""
    files = (PurePath(fault.file) for fault in faults)
    return tuple(dict.fromkeys(file.stem for file in files if file.parent.name == kind))


def broken_label(name: str) -> Content:
    """What is not on the shelf as a line of a list."""
    return Content.assemble(clean(name), ("  did not load: F", "$bench-caution"))


def unfinished_label(session: Unfinished, now: datetime, *, place: int = 1, of: int = 0) -> Content:
    """A session to go on with as a line of a list, with its place among ``of`` where others are out of sight."""
    kind = "Rehearsal" if session.rehearsal else "Resume"
    kind += f" {place} of {of}" if of > 1 else ""
    when = left_when(session, now)
    return Content.assemble(
        (f"{kind}  ", "bold"), clean(session.recipe), (f"  {when}  {clean(session.mould)}", "$bench-quiet")
    )


def titles_of(session: Unfinished) -> tuple[str, str]:
    """What is poured and in which mould, each short enough for a row of a question."""
    return cut(clean(session.recipe), LONGEST_NAME), cut(clean(session.mould), LONGEST_NAME)


def left_when(session: Unfinished, now: datetime) -> str:
    """When something was last entered into the session, or that somebody has it open. Nothing tells since when
    nobody has: a screen that is killed writes nothing any more."""
    if session.elsewhere:
        return "open in another window"
    away = max(timedelta(0), now - session.last)
    long_ago = f"{counted(away.days, 'day')} ago"
    return f"last entry {ago(away.total_seconds()) if away < LONG_AWAY else long_ago}"


def more_waiting(more: int) -> Content:
    """That more sessions wait than the list shows at once; nothing where none do."""
    return Content.styled(f"  and {more} more: ↓", "$bench-quiet") if more > 0 else Content("")


def curing_lines(curing: tuple[Curing, ...], now: datetime, *, most: int) -> Content:
    """What cures, a line each, at most so many: the soonest to be packed first, and how many there are besides."""
    soonest = sorted(curing, key=lambda each: each.ready)
    lines = [_curing(trays, now) for trays in soonest[:most]]
    if len(curing) > most:
        lines[-1] = Content.assemble(lines[-1], (f"  and {len(curing) - most} more", "$bench-quiet"))
    return Content("\n").join(lines)


def _curing(trays: Curing, now: datetime) -> Content:
    ready = trays.ready <= now
    when = "may be packed" if ready else f"cure until {day_and_time(trays.ready)}"
    return Content.assemble(
        ("Trays  ", "bold"), f"{counted(trays.baits, 'bait')} {clean(trays.recipe)}  ", (when, "$bench-quiet")
    )


def count_line(count: int | None, moulds: int = 1) -> Content:
    """The count as it stands while it is typed, and how many moulds there are for it."""
    return Content.assemble(
        ("How many  ", "$bench-quiet"),
        ("–" if count is None else str(count), "bold"),
        ("   Moulds  ", "$bench-quiet"),
        (str(moulds), "bold"),
    )


def faults_line(faults: Collection[Fault], width: int) -> Content:
    """Which files did not load, as far as so many columns tell, and where to read why. One with a remedy is missed
    by everything on the bench, so it comes first."""
    held = {fault.file for fault in faults if fault.remedy}
    files = sorted(dict.fromkeys(fault.file for fault in faults), key=lambda file: file not in held)
    names = [clean(PurePath(file).name) for file in files]
    more = f" and {len(names) - 1} more" if len(names) > 1 else ""
    told = [f"! {counted(len(names), 'file')} did not load", f"! {names[0]}{more} did not load"]
    told += [f"! {join(names, ', ')} did not load"]
    if held:
        told += [f"{words}, the usual settings hold" for words in told[1:]]
    lines = [f"{words}: press F" for words in (told[0], f"! {names[0]}{more}", *told[1:])]
    return Content(next((words for words in reversed(lines) if len(words) <= width), lines[0]))


def keys_line(keys: tuple[tuple[str, str], ...]) -> Content:
    """The keys and what they do."""
    return Content("  ").join(Content.assemble((key, "bold $bench-key"), f" {does}") for key, does in keys)


def fitting_keys(keys: tuple[tuple[str, str], ...], width: int) -> Content:
    """As many of the keys as fit into so many columns, the first of them first."""
    kept = len(keys)
    while kept > 1 and keys_line(keys[:kept]).cell_length > width:
        kept -= 1
    return keys_line(keys[:kept])


def plan_content(plan: Plan, units: UnitSystem, last_time: str = "", columns: int | None = None) -> Content:
    """The plan as it stands beside the choice: how much, how long, what to look out for, what to weigh, and then
    cup by cup and round by round for whoever reads on. What was said the last time is cut to so many columns."""
    parts = [
        _head(plan, _last_time(last_time, columns)),
        _warned(plan),
        _weigh(plan, units),
        _times(plan, units),
        _cups(plan, units),
        _rounds(plan, units),
    ]
    return Content("\n\n").join(Content("\n").join(part) for part in parts if part)


def short_plan(plan: Plan, last_time: str = "", columns: int = 0) -> Content:
    """The plan in two lines of so many columns, for a small window; in three where they do not hold both it and
    what was said the last time."""
    warned = f"  ! {len(plan.warnings)}" if plan.warnings else ""
    long = f"about {long_time(plan.total_s)}"
    if not last_time:
        return Content(f"{_made(plan)}\n{long}, an estimate{warned}")
    in_one = f"{_made(plan)}, {long}{warned}"
    lines = [in_one] if columns_of(in_one) <= columns else [_made(plan), f"{long}, an estimate{warned}"]
    return Content("\n").join((*map(Content, lines), *_last_time(last_time, columns)))


def _last_time(words: str, columns: int | None) -> list[Content]:
    """The key that shows the whole, and as much of the line as fits into so many columns; all of it where None."""
    if not words:
        return []
    said = clean(words)
    shown = said if columns is None else cut(said, max(1, columns - len(LAST_TIME_KEY) - 1))
    return [Content.assemble((LAST_TIME_KEY, "bold $bench-key"), (f" {shown}", "bold"))]


def refused(why: str) -> Content:
    """Why there is no plan."""
    return Content.assemble(("! ", "bold $warning"), sentence(clean(why, limit=400)))


def _head(plan: Plan, last_time: list[Content]) -> list[Content]:
    tails = f", tails {plan.tail}" if plan.build.has_core and plan.volumes.tail_ml > 0 else ""
    return [
        Content.assemble((clean(plan.recipe_title), "bold $bench-title"), f"  {plan.build}{tails}"),
        *last_time,
        Content(_made(plan)),
        *([Content(_without_spares(plan))] if plan.spare_rounds else []),
        Content(f"about {long_time(plan.total_s)} in all"),
        Content(f"of it {long_time(plan.purge_s)} clearing the air"),
        Content(f"then {long_time(plan.cure_s)} of cure before packing"),
        *(Content.assemble((line, "$bench-quiet")) for line in ESTIMATE),
    ]


def _made(plan: Plan) -> str:
    made = plan.rounds * plan.cavities
    spare = f", {made - plan.count} to spare" if made > plan.count else ""
    moulds = f", {plan.moulds} moulds" if plan.moulds > 1 else ""
    return f"{counted(plan.count, 'bait')} in {counted(plan.rounds, 'round')}{moulds}{spare}"


def _without_spares(plan: Plan) -> str:
    rounds = counted(plan.rounds - plan.spare_rounds, "round")
    return f"{rounds} without the {plan.spares_pct:g} % spare"


def _weigh(plan: Plan, units: UnitSystem) -> list[Content]:
    lines = [Content.assemble(("Weigh", "bold $bench-title"))]
    for part in plan.parts:
        lines.append(
            Content(f"{part.part.words + ' cup':<15}{mass(_base_g(part), units):>9}  plastic{_melts(part)}")
        )
        lines.extend(
            Content(f"  {clean(dose.title, limit=30):<13}{small_mass(dose.mass_g):>9}  {_drops(dose)}".rstrip())
            for dose in part.doses
        )
    return lines


def _drops(dose: DosePlan) -> str:
    """Shorter than on the pour screen: that all of it is estimated stands above."""
    return drops(dose.drops).removeprefix("about ")


def _base_g(part: PartPlan) -> float:
    return sum(melt.base_g for melt in part.melts)


def _melts(part: PartPlan) -> str:
    return f", in {len(part.melts)} melts" if len(part.melts) > 1 else ""


def _times(plan: Plan, units: UnitSystem) -> list[Content]:
    sign = volume_sign(units) if units is UnitSystem.US else ""
    head = f"{'Each round':<10}{sign:>8}  {'hold':<6}open after"
    return [Content.assemble((head, "bold $bench-title")), *_shot_lines(plan, units)]


def _shot_lines(plan: Plan, units: UnitSystem) -> Iterator[Content]:
    for place, shot in enumerate(plan.rounds_table[0].shots):
        name = f"{shot.shot} shot".removeprefix("shot ")
        held = lasted(max(each.shots[place].hold_s for each in plan.rounds_table))
        opened = _range([each.shots[place].set_s for each in plan.rounds_table])
        # Beside every figure the longer sign would leave no room for the times: it stands in the head.
        amount = volume(plan.per_round_ml(shot.shot), units).removesuffix(f" {volume_sign(UnitSystem.US)}")
        yield Content(f"{name:<10}{amount:>8}  {held:<6}{opened}")


def _cups(plan: Plan, units: UnitSystem) -> list[Content]:
    """Every cup, where one does not hold the whole of a part."""
    lines = [
        Content(f"{melt.part.words + ' ' + str(melt.number):<12}{mass(melt.mass_g, units):>9}  {_served(melt)}")
        for part in plan.parts
        if len(part.melts) > 1
        for melt in part.melts
    ]
    return [Content.assemble(("Cups, colour included", "bold $bench-title")), *lines] if lines else []


def _served(melt: Melt) -> str:
    first, last = melt.first_round, melt.last_round
    return f"round {first}" if first == last else f"rounds {first} to {last}"


def _rounds(plan: Plan, units: UnitSystem) -> list[Content]:
    heads = "".join(f"{'hold':>7}{'open':>6}" for _ in plan.rounds_table[0].shots)
    return [
        Content.assemble((f"{'Round':<5}{'mould':>7}{heads}", "bold $bench-title")),
        *(Content(_round(each, units)) for each in plan.rounds_table),
    ]


def _round(plan: RoundPlan, units: UnitSystem) -> str:
    times = "".join(f"{lasted(shot.hold_s):>7}{lasted(shot.set_s):>6}" for shot in plan.shots)
    return f"{plan.round:<5}{temperature(plan.mould_c, units):>7}{times}"


def _range(seconds: list[float]) -> str:
    low, high = lasted(min(seconds)), lasted(max(seconds))
    return low if low == high else f"{low} to {high}"


def _warned(plan: Plan) -> list[Content]:
    return [Content.assemble(("! ", "bold $warning"), clean(warning, limit=400)) for warning in plan.warnings]
