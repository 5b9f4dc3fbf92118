"""What is said of hot cups, filled moulds and air that was not cleared, when the work is over."""

from __future__ import annotations

from pathlib import Path

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.events import Aborted, StopReason
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


def test_who_closed_in_order_reads_nothing_of_it() -> None:
    hands = at_kind(StepKind.CLEAN)
    hands.walk_to_the_end()
    assert not [line for line in closing(hands.session, UnitSystem.METRIC).lines if "left hot" in line]
