"""What to load another time."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from bench.model.recipe import Build, Part
from bench.plan.look import look_at
from bench.plan.look_records import LoadAt, LoadWindow, Place
from bench.plan.records import Ask
from bench.session.events import VerdictGiven
from bench.session.next_loads import Otherwise, Told, next_load, next_loads, next_times
from bench.session.next_words import STARTING_POINT, last_time_words, next_lines
from bench.session.prepare import prepare
from bench.session.session import Session
from bench.session.verdicts import Given, Subject, Verdict
from bench.store.paths import Home
from bench.store.shelf import load_library
from tests.session.bench_sessions import Maker, maker

WINDOW = LoadWindow(
    place=Place.INSIDE,
    colourant="brown",
    title="Brown",
    others=False,
    now=LoadAt(load_pct=2.0),
    low=LoadAt(load_pct=1.0),
    high=LoadAt(load_pct=6.0),
    bounded_low=True,
    bounded_high=True,
)


def expect(found: tuple[Told, float], told: Told, try_pct: float) -> None:
    assert found[0] is told
    assert found[1] == pytest.approx(try_pct)


@pytest.mark.parametrize(
    ("now_pct", "more", "told", "try_pct"),
    [
        (2.0, True, Told.INSIDE, 4.0),
        (2.0, False, Told.INSIDE, 1.5),
        (8.0, False, Told.OUTSIDE, 3.5),
        (0.5, True, Told.OUTSIDE, 3.5),
        (9.0, True, Told.BEYOND, 13.5),
        (0.6, False, Told.BEYOND, 0.4),
    ],
)
def test_half_the_distance_from_inside_and_the_middle_from_outside(
    now_pct: float, more: bool, told: Told, try_pct: float
) -> None:
    expect(next_load(now_pct, WINDOW, more=more), told, try_pct)


def test_an_end_that_is_none_of_tint_or_visibility_is_not_gone_towards() -> None:
    wide = replace(WINDOW, bounded_high=False)
    expect(next_load(2.0, wide, more=True), Told.INSIDE, 3.0)
    expect(next_load(2.0, wide, more=False), Told.INSIDE, 1.5)
    expect(next_load(0.5, wide, more=True), Told.OUTSIDE, 0.75)


def test_without_a_window_it_is_a_step() -> None:
    shut = replace(WINDOW, low=None, high=None, place=Place.EMPTY)
    expect(next_load(3.0, shut, more=False), Told.NO_WINDOW, 2.0)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Session:
    """The demo's core bait, whose colours have swatches."""
    library, _ = load_library(Home(Path(tmp_path_factory.mktemp("home"))))
    return prepare(library, recipe="ember-under-peat", mould="ribbon-leech-4", ask=Ask(count=4))


def test_a_shells_window_is_that_of_its_look(demo: Session) -> None:
    job = demo.job
    look = look_at(recipe=job.recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants)
    window = look.sides[0].window
    assert window is not None
    assert window.high is not None
    (shell,) = next_loads(job, job.recipe.name, Verdict.TOO_FAINT)
    assert (shell.part, shell.title, shell.now_pct) == (Part.SHELL, "Peat brown", window.now.load_pct)
    assert shell.high_pct == window.high.load_pct
    assert shell.now_pct < shell.try_pct < window.high.load_pct
    (less,) = next_loads(job, job.recipe.name, Verdict.TOO_DENSE)
    assert less.try_pct < less.now_pct


def test_a_hidden_core_offers_less_shell_or_more_core(demo: Session) -> None:
    shell, core = next_loads(demo.job, demo.job.recipe.name, Verdict.CORE_HIDDEN)
    assert (shell.part, core.part, core.told) == (Part.SHELL, Part.CORE, Told.OF_CORE)
    assert shell.try_pct < shell.now_pct
    assert core.try_pct == pytest.approx(1.5 * core.now_pct)


def test_the_core_that_was_in_is_the_one_that_is_changed(demo: Session) -> None:
    other = next(name for name in demo.job.cores if name != demo.job.recipe.name)
    (load,) = next_loads(demo.job, other, Verdict.CORE_STRONG)
    loads = {each.colourant: each.load_pct for each in demo.job.cores[other].doses}
    titles = {demo.job.colourants[name].title for name in loads}
    assert load.title in titles
    assert load.now_pct == max(loads.values())


def test_without_a_swatch_that_is_said() -> None:
    """The tests' own colours have none."""
    job = maker(count=4).session.job
    (load,) = next_loads(job, job.recipe.name, Verdict.TOO_DENSE)
    assert (load.told, load.low_pct, load.high_pct) == (Told.UNKNOWN, None, None)
    assert load.try_pct == pytest.approx(load.now_pct / 1.5)
    plain = maker(Build.PLAIN, count=4).session.job
    (load,) = next_loads(plain, "", Verdict.TOO_FAINT)
    assert load.told is Told.NO_CORE


def judged(*said: tuple[int, Verdict]) -> Maker:
    hands = maker(count=8)
    hands.walk_to_the_end()
    for number, verdict in said:
        hands.happen(VerdictGiven(at=hands.now(), round=number, subject=Subject.BAITS, verdict=verdict))
    return hands


def test_only_what_stands_and_is_not_right_asks_for_a_change_and_rounds_go_together() -> None:
    hands = judged(
        (1, Verdict.CORE_HIDDEN), (1, Verdict.CORE_STRONG), (2, Verdict.CORE_STRONG), (3, Verdict.RIGHT)
    )
    (only,) = next_times(hands.session)
    assert (only.verdict, only.rounds) == (Verdict.CORE_STRONG, (1, 2))


def test_the_lines_name_load_and_starting_point() -> None:
    first, last = next_lines(judged((1, Verdict.CORE_STRONG)).session)
    assert first == (
        "baits core too strong, round 1: less colour in the next melt of the core. "
        "Red in the core: 1 % (a core's own load has no window), try about 0.67 %."
    )
    assert last == STARTING_POINT
    assert list(next_lines(judged((1, Verdict.DENTS)).session)) == [
        "baits dents, round 1: keep the pressure on, and top off until the sprue stays full."
    ]
    assert list(next_lines(judged((1, Verdict.RIGHT)).session)) == []


def test_rounds_of_the_same_load_judged_otherwise_are_named_before_the_change() -> None:
    hands = judged((1, Verdict.CORE_STRONG), (2, Verdict.RIGHT), (2, Verdict.DENTS))
    strong, dents = next_times(hands.session)
    assert strong.otherwise == (Otherwise(verdict=Verdict.RIGHT, rounds=(2,)),)
    assert dents.otherwise == (), "the make is no matter of loads"
    first = next(next_lines(hands.session))
    assert first.startswith(
        "baits core too strong, round 1: round 2 was right with the same load, so look at both before changing. "
        "Else less colour in the next melt of the core. Red in the core: 1 % ("
    )


def test_a_round_with_another_core_says_nothing_of_this_ones_load_but_shells_have_none_yet() -> None:
    session = maker(count=8).session
    plan = session.job.plan
    (melt,) = plan.part(Part.CORE).melts
    melts = (replace(melt, last_round=1), replace(melt, number=2, first_round=2))
    parts = tuple(replace(each, melts=melts) if each.part is Part.CORE else each for each in plan.parts)
    session = replace(
        session, job=replace(session.job, plan=replace(plan, parts=parts)), core_weighed={2: "other"}
    )
    for subject, verdict, others in (
        (Subject.BAITS, Verdict.CORE_STRONG, 0),
        (Subject.SHELLS, Verdict.TOO_DENSE, 1),
    ):
        given = (
            Given(round=1, subject=subject, verdict=verdict),
            Given(round=2, subject=subject, verdict=Verdict.RIGHT),
        )
        (each,) = next_times(replace(session, verdicts=given))
        assert len(each.otherwise) == others


def test_the_last_time_in_as_few_words_as_a_plan_leaves_room_for() -> None:
    assert last_time_words(judged((1, Verdict.CORE_STRONG)).session) == "core too strong; try Red about 0.67 %"
    assert last_time_words(judged((1, Verdict.RIGHT)).session) == "right"
    assert last_time_words(judged().session) == ""
    assert last_time_words(judged((1, Verdict.RIGHT), (2, Verdict.SHORT)).session) == "short"
    both = judged((1, Verdict.CORE_STRONG), (2, Verdict.RIGHT)).session
    assert last_time_words(both) == "round 1 core too strong, round 2 right; look at both"
