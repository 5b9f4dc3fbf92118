"""What is said of hot cups, filled moulds and air that was not cleared, when the work is over."""

from __future__ import annotations

from pathlib import Path

from bench.model.recipe import Build
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.events import Aborted, StopReason, StopRequested
from bench.session.left_hot import hot_cups
from bench.session.session import State
from bench.session.view import view
from bench.store.sessions import read
from bench.tui.pour.closing import closing
from bench.tui.pour.entry import Nothing
from bench.tui.pour.middle import middle
from bench.tui.present_past import past_content
from tests.session.test_left_hot import at_kind
from tests.store.on_disk import on_disk


def test_cleaning_up_waits_for_the_air_and_for_hot_cups() -> None:
    hands = at_kind(StepKind.PURGE_AIR)
    hands.clock.advance(40)
    hands.press()
    seen = view(hands.session, hands.now())
    air, cup = middle(hands.session, seen, Nothing(), UnitSystem.METRIC).details
    assert air.startswith("the air is not cleared, 40 s of ")
    assert air.endswith(": leave again, the fan on")
    assert cup.startswith("body cup about ")
    assert "°C: cool to the touch in about " in cup


def test_who_comes_back_reads_what_was_left_hot() -> None:
    hands = at_kind(StepKind.SET)
    hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
    said = closing(hands.session, UnitSystem.US).lines
    start = said.index("left hot, as it was then:")
    assert said[start + 1].startswith("body cup about ")
    assert said[start + 2].startswith("the mould stands filled, about ")
    assert said[start + 3].startswith("Nobody has watched it since.")


def test_the_past_session_still_says_it(tmp_path: Path) -> None:
    hands = at_kind(StepKind.SET)
    hands.happen(Aborted(at=hands.now(), reason=StopReason.DANGER))
    told = past_content(read(on_disk(tmp_path, hands)), UnitSystem.METRIC).plain
    assert "left hot, as it was then:\nbody cup about " in told


def test_who_stopped_early_reads_what_is_still_hot() -> None:
    hands = at_kind(StepKind.SHOT, Build.LAMINATE)
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    while not hands.session.state.over:
        hands.press()
    assert hands.session.state is State.STOPPED
    said = closing(hands.session, UnitSystem.US).lines
    start = said.index("still hot when the session ended:")
    for line, side in zip(said[start + 1 :], ("side A", "side B"), strict=False):
        assert line.startswith(f"{side} cup about ")
        assert "°F: cool to the touch in about " in line
        assert line.endswith("by the estimate, if nothing was poured out, its middle later")
    assert said[start + 3].startswith("Leave it where it is until it is cold.")


def test_every_end_with_a_hot_cup_names_it_and_one_without_does_not() -> None:
    hands, cool = at_kind(StepKind.PURGE_AIR), at_kind(StepKind.PURGE_AIR)
    (cup,) = hot_cups(hands.session, hands.now())
    cool.clock.advance((cup.left_s or 0.0) + 5)
    for each, is_told in ((hands, True), (cool, False)):
        while not each.session.state.over:
            each.press()
        assert each.session.state is State.COMPLETE
        said = closing(each.session, UnitSystem.METRIC).lines
        assert ("still hot when the session ended:" in said) is is_told
