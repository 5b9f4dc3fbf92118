"""What to load another time."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.model.recipe import Build, Part
from bench.plan.look import look_at
from bench.plan.look_records import LoadAt, LoadWindow, Place
from bench.plan.records import Ask
from bench.session.events import VerdictGiven
from bench.session.next_loads import Otherwise, Told, next_load, next_loads, next_times
from bench.session.next_words import STARTING_POINT, last_time_words, load_line, next_lines
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


def expect(found: tuple[Told, float | None], told: Told, try_pct: float | None) -> None:
    assert found[0] is told
    assert found[1] == (None if try_pct is None else pytest.approx(try_pct))


@pytest.mark.parametrize(
    ("now_pct", "more", "told", "try_pct"),
    [
        (3.0, True, Told.INSIDE, 18**0.5),
        (1.5, False, Told.INSIDE, 1.5**0.5),
        (2.0, True, Told.INSIDE, 3.0),
        (4.0, False, Told.INSIDE, 4 / 1.5),
        (5.5, True, Told.AT_END, None),
        (1.1, False, Told.AT_END, None),
        (8.0, False, Told.OUTSIDE, 8 / 1.5),
        (30.0, False, Told.OUTSIDE, 6.0),
        (0.9, True, Told.OUTSIDE, 1.35),
        (0.2, True, Told.OUTSIDE, 1.0),
        (9.0, True, Told.BEYOND, None),
        (0.6, False, Told.BEYOND, None),
    ],
)
def test_half_the_way_to_an_end_and_one_step_at_most(
    now_pct: float, more: bool, told: Told, try_pct: float | None
) -> None:
    expect(next_load(now_pct, WINDOW, more=more), told, try_pct)


def test_an_end_that_is_none_of_tint_or_visibility_is_not_gone_towards() -> None:
    wide = replace(WINDOW, bounded_high=False)
    expect(next_load(3.0, wide, more=True), Told.INSIDE, 4.5)
    expect(next_load(4.8, wide, more=True), Told.INSIDE, 6.0)
    expect(next_load(4.0, wide, more=False), Told.INSIDE, 4 / 1.5)


LOADS = st.floats(min_value=1e-3, max_value=50)


@given(now_pct=LOADS, ends=st.tuples(LOADS, LOADS), bounded=st.tuples(st.booleans(), st.booleans()))
def test_a_load_to_try_is_inside_the_window_and_on_the_side_that_was_asked_for(
    now_pct: float, ends: tuple[float, float], bounded: tuple[bool, bool]
) -> None:
    low_pct, high_pct = sorted(ends)
    window = replace(
        WINDOW,
        low=LoadAt(load_pct=low_pct),
        high=LoadAt(load_pct=high_pct),
        bounded_low=bounded[0],
        bounded_high=bounded[1],
    )
    for more in (True, False):
        _, try_pct = next_load(now_pct, window, more=more)
        if try_pct is not None:
            assert low_pct * (1 - 1e-9) <= try_pct <= high_pct * (1 + 1e-9)
            assert (try_pct > now_pct) is more
            assert try_pct != now_pct


@given(now_pct=LOADS, reach=st.floats(min_value=1.2, max_value=20))
def test_more_and_less_are_steps_of_the_same_size_in_the_middle_of_a_window(now_pct: float, reach: float) -> None:
    window = replace(WINDOW, low=LoadAt(load_pct=now_pct / reach), high=LoadAt(load_pct=now_pct * reach))
    more, less = (next_load(now_pct, window, more=more)[1] for more in (True, False))
    assert more is not None
    assert less is not None
    assert more / now_pct == pytest.approx(now_pct / less)


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
    assert shell.try_pct is not None
    assert shell.now_pct < shell.try_pct < window.high.load_pct
    (less,) = next_loads(job, job.recipe.name, Verdict.TOO_DENSE)
    assert less.try_pct is not None
    assert less.try_pct < less.now_pct


def test_a_hidden_core_offers_less_shell_or_more_core(demo: Session) -> None:
    shell, core = next_loads(demo.job, demo.job.recipe.name, Verdict.CORE_HIDDEN)
    assert (shell.part, core.part, core.told) == (Part.SHELL, Part.CORE, Told.OF_CORE)
    assert shell.try_pct is not None
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
        "Red in the core: 1 % (a core's own load has no window), try about 0.67 %, a first step."
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
        both = (
            Given(round=1, subject=subject, verdict=verdict),
            Given(round=2, subject=subject, verdict=Verdict.RIGHT),
        )
        (each,) = next_times(replace(session, verdicts=both))
        assert len(each.otherwise) == others


def test_the_last_time_in_as_few_words_as_a_plan_leaves_room_for() -> None:
    strong = judged((1, Verdict.CORE_STRONG)).session
    assert last_time_words(strong) == "baits core too strong: try Red about 0.67 %"
    assert last_time_words(judged((1, Verdict.RIGHT)).session) == "baits right"
    assert last_time_words(judged().session) == ""
    assert last_time_words(judged((1, Verdict.RIGHT), (2, Verdict.SHORT)).session) == "baits short"
    both = judged((1, Verdict.CORE_STRONG), (2, Verdict.RIGHT)).session
    assert last_time_words(both) == "baits core too strong in round 1, round 2 right: look at both"


def test_the_last_time_names_whose_look_each_verdict_was_of(demo: Session) -> None:
    session = said(demo, (Subject.SHELLS, Verdict.TOO_DENSE), (Subject.BAITS, Verdict.DENTS))
    assert re.fullmatch(r"shells too dense: try Peat brown about \S+ %; baits dents", last_time_words(session))
    right = said(demo, (Subject.SHELLS, Verdict.RIGHT), (Subject.BAITS, Verdict.RIGHT))
    assert last_time_words(right) == "shells right, baits right"


def said(session: Session, *verdicts: tuple[Subject, Verdict]) -> Session:
    """A round that is judged so."""
    stand = tuple(Given(round=1, subject=subject, verdict=verdict) for subject, verdict in verdicts)
    return replace(session, verdicts=stand)


@pytest.mark.parametrize(
    ("shells", "baits"),
    [
        (Verdict.TOO_FAINT, Verdict.CORE_HIDDEN),
        (Verdict.TOO_FAINT, Verdict.CORE_FAINT),
        (Verdict.TOO_DENSE, Verdict.CORE_STRONG),
    ],
)
def test_verdicts_that_pull_opposite_ways_are_said_to_once_and_give_no_load(
    demo: Session, shells: Verdict, baits: Verdict
) -> None:
    session = said(demo, (Subject.SHELLS, shells), (Subject.BAITS, baits))
    assert [each.loads for each in next_times(session)] == [(), ()]
    (line,) = next_lines(session)
    assert line == (
        f"shells {shells}, round 1 and baits {baits}, round 1 pull opposite ways, as more colour in the shell "
        "shows the core less: change no load yet, look at both again in daylight; if both stay so, try another "
        "core."
    )
    assert last_time_words(session) == (f"shells {shells}, round 1 but baits {baits}, round 1: look at both again")


def test_verdicts_that_pull_the_same_way_keep_their_loads(demo: Session) -> None:
    session = said(demo, (Subject.SHELLS, Verdict.TOO_DENSE), (Subject.BAITS, Verdict.CORE_HIDDEN))
    dense, hidden = next_times(session)
    assert dense.opposite == hidden.opposite == ()
    assert dense.loads[0] == hidden.loads[0]


def test_the_same_load_judged_both_ways_says_so() -> None:
    session = judged((1, Verdict.CORE_STRONG), (2, Verdict.CORE_FAINT)).session
    (line,) = next_lines(session)
    assert line.startswith(
        "baits core too strong, round 1 and baits core faint, round 2 pull opposite ways at the "
    )
    assert "another core" not in line


def test_at_an_end_of_its_window_a_load_is_left(demo: Session) -> None:
    (load,) = next_loads(demo.job, demo.job.recipe.name, Verdict.TOO_FAINT)
    assert load_line(replace(load, told=Told.AT_END, try_pct=None)).endswith(
        ", leave it: beyond its dense end the core hides. Look again in daylight, or try another core"
    )
    assert load_line(load).endswith(", a first step towards its dense end")
