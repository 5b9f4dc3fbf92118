"""A session stopped early: heat off first, and no filled mould is left closed or out of the count."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.plan.records import Shot
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.events import (
    Aborted,
    Held,
    Resumed,
    SkipReason,
    StepSkipped,
    StopReason,
    StopRequested,
    WentBack,
)
from bench.session.session import State
from bench.session.stopping import closing_places, moulds_to_open
from bench.session.summary import summarise
from bench.session.view import view
from bench.session.words import CLEAN_WHILE_HOT, SCORCHED_AT_THE_END, words_of
from bench.store.paths import shipped_profiles
from bench.store.shelf import read_cautions
from bench.tui.pour.gauges import gauges
from tests.session.bench_sessions import Maker, maker


def closing_steps(hands: Maker) -> list[Shot | None]:
    """The shots that a stop at this moment would have to open the moulds of."""
    steps = [hands.session.job.script[place] for place in closing_places(hands.session)]
    return [step.shot for step in steps if step.kind is StepKind.OPEN]


def stopped_with_two_filled() -> Maker:
    """Two moulds of cored baits stand closed."""
    hands = maker(Build.CORE, moulds=2, count=16)
    hands.press()
    while closing_steps(hands).count(Shot.CORE) < 2:
        hands.finish_step()
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    return hands


def test_leftovers_have_one_rule_in_every_word_about_them() -> None:
    """Poured out flat while liquid and where they stand, else left (common practice, no source)."""
    heat_off = words_of(StepKind.HEAT_OFF).do
    for told in (heat_off, SCORCHED_AT_THE_END.do):
        assert "our out flat on metal, beside its cup, what is still liquid" in told
        assert "What has set, or smokes, stays in its cup until that is cold" in told
    assert "pour nothing out any more" in CLEAN_WHILE_HOT.do
    cautions, _ = read_cautions(shipped_profiles() / "cautions.toml")
    about = next(each for each in cautions if each.name == "hot-waste")
    assert about.steps == (StepKind.HEAT_OFF,), "at the clean-up nothing is poured out any more"
    assert "while liquid" in about.words
    assert "Carry nothing hot" in about.more
    assert "Local rules come first" in about.more


def test_no_shot_is_reckoned_of_what_may_have_been_poured_out() -> None:
    hands = maker(Build.LAMINATE, count=16)
    hands.walk_to("r1.shot.hold")
    assert all(cup.shots_left for cup in view(hands.session, hands.now()).cups)
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    seen = view(hands.session, hands.now())
    assert seen.step.kind is StepKind.HEAT_OFF
    assert [cup.shots_left for cup in seen.cups] == [None, None]
    shown = gauges(hands.session, seen, hands.now(), UnitSystem.US)
    assert not [gauge for gauge in shown if "shot" in gauge.words]


def test_the_heat_goes_off_first_and_every_filled_mould_is_opened_once_it_has_set() -> None:
    hands = stopped_with_two_filled()
    assert hands.session.step.kind is StepKind.HEAT_OFF
    closed = moulds_to_open(hands.session)
    assert sorted(closed) == [1, 2]
    do = view(hands.session, hands.now()).step.do
    assert do.endswith(f"Then open moulds {closed[0]} and {closed[1]}, once they have set.")
    kinds = [step.kind for step in hands.session.ahead]
    opened = [step.mould for step in hands.session.ahead if step.kind is StepKind.OPEN]
    assert opened == [*closed]
    assert kinds[-4:] == [StepKind.PURGE_AIR, StepKind.CLEAN, StepKind.LAY_OUT, StepKind.CURE]
    assert view(hands.session, hands.now()).last_bait_s is not None


def test_what_comes_out_of_them_is_counted() -> None:
    hands = stopped_with_two_filled()
    before = summarise(hands.session).made
    hands.walk_to("lay-out")
    seen = view(hands.session, hands.now())
    assert seen.trays is not None
    assert seen.trays.baits == before + 2 * hands.session.job.plan.cavities
    hands.walk_to_the_end()
    assert hands.session.state is State.STOPPED
    assert summarise(hands.session).made == before + 2 * hands.session.job.plan.cavities


def test_one_that_has_not_set_is_waited_for() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.hold")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.SOMETHING_WRONG))
    assert view(hands.session, hands.now()).step.do.endswith("Then open the mould, once it has set.")
    hands.press()
    assert hands.session.step.id == "r1.shot.set"
    assert asks_first(hands.session, hands.now()) is Asked.EARLY
    hands.finish_step()
    assert hands.session.step.id == "r1.shot.open"
    hands.press()
    assert hands.session.step.id == "purge-air"
    hands.walk_to_the_end()


def test_without_a_filled_mould_nothing_is_opened() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.open")
    hands.finish_step()
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.ENOUGH_MADE))
    assert moulds_to_open(hands.session) == ()
    assert "open" not in view(hands.session, hands.now()).step.do
    hands.press()
    assert hands.session.step.id == "purge-air"


def test_one_that_was_about_to_be_opened_stands_filled() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.open")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.ENOUGH_MADE))
    assert moulds_to_open(hands.session) == (1,)
    hands.press()
    assert hands.session.step.id == "r1.shot.open", "it has set: nobody waits for it"


def test_a_danger_asks_for_nothing() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.set")
    hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
    assert hands.session.state is State.ABORTED
    assert hands.session.closing == ()


def test_it_is_stopped_once() -> None:
    hands = stopped_with_two_filled()
    hands.press()
    assert drive.is_closing(hands.session)
    hands.happen(Held(at=hands.now()))
    with pytest.raises(IllegalMove, match="closing steps"):
        hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    hands.happen(Resumed(at=hands.now()))
    hands.walk_to_the_end()


def test_taken_back_the_session_goes_on_as_it_was() -> None:
    hands = stopped_with_two_filled()
    hands.happen(WentBack(at=hands.now()))
    assert hands.session.state is State.RUNNING
    assert hands.session.closing == ()
    hands.walk_to_the_end()
    assert summarise(hands.session).state is State.COMPLETE


OF_BAITS = {"Lay out and label", "Let them cure"}
WITHOUT = {"Nothing to lay out", "Nothing to cure"}


def titles_told(hands: Maker) -> set[str]:
    """What is told of the present step, the next and those after it."""
    seen = view(hands.session, hands.now())
    then = {seen.next_step.title} if seen.next_step else set()
    return {seen.step.title, *then, *(each.title for each in seen.coming)}


def stopped_at_every_step(build: Build) -> Iterator[Maker]:
    hands = maker(build, count=4)
    hands.press()
    while hands.session.step.kind is not StepKind.HEAT_OFF:
        stop = StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME)
        if hands.session.step.kind is not StepKind.CAUTIONS:
            yield Maker(session=hands.session.after(stop), clock=replace(hands.clock))
        hands.finish_step()


@pytest.mark.parametrize("build", Build)
def test_baits_are_laid_out_and_cure_only_where_some_are_made(build: Build) -> None:
    made = set()
    for hands in stopped_at_every_step(build):
        told: set[str] = set()
        while not hands.session.state.over:
            told |= titles_told(hands)
            hands.finish_step()
        baits = summarise(hands.session).made
        # Before anything is hot a stop ends the session at once.
        if told:
            assert told & (OF_BAITS | WITHOUT) == (OF_BAITS if baits else WITHOUT)
        made.add(bool(baits))
    assert made == {True, False}


@pytest.mark.parametrize("build", Build)
def test_what_is_skipped_makes_no_baits(build: Build) -> None:
    hands = maker(build, count=4)
    hands.press()
    while hands.session.step.kind is not StepKind.HEAT_OFF:
        if hands.session.step.kind is StepKind.OPEN:
            hands.happen(
                StepSkipped(at=hands.now(), step=hands.session.step.id, reason=SkipReason.SOMETHING_BROKE)
            )
        else:
            hands.finish_step()
    while not hands.session.state.over:
        assert not titles_told(hands) & OF_BAITS
        hands.finish_step()
    assert summarise(hands.session).made == 0


def test_the_last_bait_is_not_awaited_where_only_shells_are_opened() -> None:
    hands = maker(Build.CORE, count=4)
    hands.walk_to("r1.shell.hold")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    assert [step.kind for step in hands.session.ahead].count(StepKind.OPEN) == 1
    assert view(hands.session, hands.now()).last_bait_s is None
