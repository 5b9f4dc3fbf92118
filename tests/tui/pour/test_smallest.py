"""In a window of 40 by 12 the words of the present action are whole at every moment of every build's session."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import CupRead, Held, MouldRead
from bench.session.reheating import SHOTS
from bench.session.session import Session, State
from bench.session.step import HEATING
from bench.session.verdicts import LOOKS
from bench.session.view import view
from bench.tui.pour.brief_words import in_brief
from bench.tui.pour.entry import Entry, Figure, Nothing, Reason, Tails, Why
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import Around, Picture, picture
from bench.tui.text import ELLIPSIS
from bench.tui.widgets.lines import Tone
from tests.tui.at_the_bench import at, at_step, session_of, shelf, walk
from tests.tui.pour.test_frame import text_of, words_of
from tests.tui.pour.test_reasons_whole import COLD_C, FIT_C, HOT_C, SMALLEST, with_cups

BUILDS = {
    "peat-plain": "ribbon-leech-4",
    "dusk-and-dawn": "long-reed-6",
    "ember-under-peat": "ribbon-leech-4",
    "ember-between-banks": "marsh-minnow-2",
}

MAY_BE_CUT = {
    "then": "the title of the step that follows, whose own screen says it whole",
    "predicted": "the number of a colour whose patch stands beside it",
    "core:": "the name of the chosen core, which the plan says whole",
}
"""How a row begins in which an ellipsis may stand, each with the reason; so may one in the top row, with the names
of recipe and mould, and in the strip, where a gauge has its figure from."""


def longest(titles: Iterator[str]) -> str:
    return max(titles, key=len)


def named(session: Session) -> Session:
    """The session with the longest names that are on the shelf."""
    job, library = session.job, shelf()
    plan = replace(
        job.plan,
        recipe_title=longest(each.title for each in library.recipes.values()),
        mould_title=longest(each.title for each in library.moulds.values()),
    )
    title = longest(each.title for each in library.colourants.values())
    colourants = {name: replace(each, title=title) for name, each in job.colourants.items()}
    return replace(session, job=replace(job, plan=plan, colourants=colourants))


def moments(recipe: str) -> Iterator[tuple[Session, float, Entry]]:
    """Every step with what may befall it: cups cold, fit and hot, cold moulds, verdicts, doubted readings, holds,
    reminders, figures being typed, the reasons to skip and to stop."""
    for session, now in walk(named(session_of(recipe, BUILDS[recipe]))):
        if session.state.over:
            continue
        for later_s in (0.5, 40.0, 700.0):
            yield session, now + later_s, Nothing()
        # Every round is like the first.
        if session.state is State.RUNNING and session.alarm is None and session.step.round <= 1:
            yield from befallen(session, now)
        for entry in entries(session, now):
            yield session, now + 1, entry


def befallen(session: Session, now: float) -> Iterator[tuple[Session, float, Entry]]:
    step = session.step
    if not session.unacknowledged:
        yield session.after(Held(at=at(now + 1))), now + 2, Nothing()
    if step.kind in SHOTS:
        for temps_c in product((20.0, COLD_C, FIT_C, HOT_C), repeat=len(step.parts)):
            yield with_cups(session, now, temps_c), now, Nothing()
            cold = session.after(MouldRead(at=at(now), mould=step.mould, temp_c=25.0))
            yield with_cups(cold, now, temps_c), now, Nothing()
    if step.kind in HEATING and step.parts and step.parts[0] in session.cups:
        for temp_c in (0.0, 30.0, HOT_C, 320.0):
            read = session.after(CupRead(at=at(now + 30), part=step.parts[0], temp_c=temp_c))
            yield read, now + 31, Nothing()
    yield from judged(session, now)


def judged(session: Session, now: float) -> Iterator[tuple[Session, float, Entry]]:
    """Every verdict, and every two that stand together."""
    offered = view(session, at(now), UnitSystem.US).verdicts_offered
    for one, other in product(offered, repeat=2):
        if one in LOOKS and (other not in LOOKS or other is one):
            digits = dict.fromkeys((offered.index(one) + 1, offered.index(other) + 1))
            said = session
            for digit in digits:
                given = drive.verdict(said, digit, at(now + 1))
                assert given is not None, "the digit is on offer"
                said = said.after(given)
            yield said, now + 2, Nothing()


def entries(session: Session, now: float) -> Iterator[Entry]:
    part = (session.step.parts or (Part.CORE if Part.CORE in session.job.recipe.parts else Part.BODY,))[0]
    if session.job.recipe.parts.get(part):
        yield Figure(about=CupRead(at=at(now), part=part, temp_c=0.0), typed="33")
    yield from (Reason(why=Why.STOP), Reason(why=Why.SKIP))
    if session.step.kind is StepKind.TRIM:
        yield Tails(typed="1")


def is_allowed(row: str, place: int, shown: Picture) -> bool:
    """Whether that row is one of those that may be cut."""
    names = [gauge.name for gauge in shown.gauges]
    words = row.strip()
    return place == 0 or words.startswith(tuple(MAY_BE_CUT)) or any(words.startswith(f"{name} ") for name in names)


def missing(shown: Picture) -> list[str]:
    """What of the present action does not stand there whole."""
    brief, framed = in_brief(shown), frame(shown, *SMALLEST)
    words = words_of(framed)
    drawn = shown.middle.tone is Tone.ENTRY
    wanted = [*brief.notices, *(() if drawn else (brief.do,))]
    if brief.middle.leads or brief.middle.is_title:
        wanted += brief.middle.details
    if drawn and not shown.middle.choices:
        wanted.append(brief.middle.label)
    return [each for each in wanted if " ".join(each.split()) not in words]


@pytest.mark.parametrize("recipe", BUILDS)
def test_nothing_of_the_present_action_is_cut(recipe: str) -> None:
    kinds, faults = set(), list[str]()
    for session, now, entry in moments(recipe):
        shown = picture(session, at(now), Around(units=UnitSystem.US, entry=entry))
        if shown.sheet is not None:
            continue
        kinds.add(session.step.kind)
        text = text_of(frame(shown, *SMALLEST))
        rows = [row for row in text.splitlines() if ELLIPSIS in row]
        cut = [row for row in rows if not is_allowed(row, text.splitlines().index(row), shown)]
        if cut or missing(shown):
            faults.append(f"{session.step.id} after {now}, {entry}: {missing(shown)}\n{text}")
    assert not faults, f"{len(faults)} moments, the first of them:\n{faults[0]}"
    assert {StepKind.READY, StepKind.HEAT, StepKind.LOOK_AT_BAITS, StepKind.CLEAN, StepKind.CURE} <= kinds


@pytest.mark.parametrize("window", [(40, 8), (24, 6)])
def test_a_burst_is_whole_in_smaller_windows_too(window: tuple[int, int]) -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    shown = picture(session, at(now + 1), Around(units=UnitSystem.US))
    assert in_brief(shown).middle.details[0] in words_of(frame(shown, *window))


def test_the_countdown_of_a_heating_is_drawn_large_beside_a_reminder_too() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    for later_s in (1.0, 700.0):
        shown = picture(session, at(now + later_s), Around(units=UnitSystem.US))
        assert bool(shown.reminder) == (later_s > 600)
        rows = frame(shown, *SMALLEST).rows
        assert sum(any("█" in piece.text or "▀" in piece.text for piece in row) for row in rows) >= 3
