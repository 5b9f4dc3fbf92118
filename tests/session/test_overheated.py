"""A cup over its scorch limit: no burst, no lesson, no shot; it is weighed anew, or the reading was wrong.

The words are common practice, no source; the limit is the tests' own plastic's, 190 degC, never a safe limit.
"""

from __future__ import annotations

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.choices import held_ml
from bench.session.events import CupRead, CupThrown, Noted, ReadingWithdrawn, StepDone, WentBack
from bench.session.step import Ending
from bench.session.story import story
from bench.session.summary import summarise
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker, placed


def scorched(at_c: float = 212.0) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(60)
    hands.read(120.0)
    hands.clock.advance(40)
    hands.read(at_c)
    return hands


def acknowledged(hands: Maker) -> Maker:
    event = drive.acknowledge(hands.session, hands.now())
    assert event is not None
    hands.happen(event)
    return hands


def bursts_left(hands: Maker) -> bool:
    seen = view(hands.session, hands.now())
    is_on = seen.burst is not None and (seen.burst.heating or seen.burst.next_burst_s is not None)
    return is_on or bool(seen.set_burst_s)


def test_the_heater_learns_nothing_from_it_nor_from_the_reading_after() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(60)
    hands.read(212.0)
    assert hands.session.corrections.heater is None
    acknowledged(hands)
    hands.clock.advance(30)
    hands.read(178.0)
    assert hands.session.corrections.cup_loss is None


def test_the_step_then_says_that_it_is_thrown_away() -> None:
    hands = acknowledged(scorched())
    seen = view(hands.session, hands.now())
    assert seen.step.id == "r1.heat.body"
    assert seen.step.do.startswith("Off the heat. Ventilate. This plastic is not heated on and not shot.")
    assert "throw it away as your local rules say" in seen.step.do
    assert seen.step.title == "Let the cup cool"
    assert not bursts_left(hands)
    assert seen.cups[0].shots_left == 0


@pytest.mark.parametrize("temp_c", [130.0, 150.0, 170.0])
def test_no_reading_after_it_puts_it_back_on_the_heat_nor_ends_the_step(temp_c: float) -> None:
    hands = acknowledged(scorched())
    hands.clock.advance(300)
    hands.read(temp_c)
    hands.read(temp_c)
    assert not bursts_left(hands)
    assert not view(hands.session, hands.now()).cups[0].heating
    assert not hands.tick()
    assert "not heated on" in view(hands.session, hands.now()).step.do


def thrown_away(hands: Maker) -> Maker:
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED
    event = drive.forward(hands.session, hands.now())
    assert isinstance(event, CupThrown)
    hands.happen(event)
    return hands


def test_it_is_never_thrown_away_before_the_card_is_read() -> None:
    hands = scorched()
    with pytest.raises(IllegalMove):
        hands.press()


def test_a_thrown_cup_is_heated_from_cold_and_filled_for_what_is_still_to_be_shot() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r2.heat.body")
    hands.clock.advance(60)
    hands.read(212.0)
    if hands.session.doubted is not None:
        hands.read(212.0)
    planned = hands.session.job.plan.melt(Part.BODY, 2)
    held = view(hands.session, hands.now()).cups[0].held_ml
    new = maker(Build.PLAIN, warm_up_shots=0).session
    clinging_ml = planned.volume_ml - held_ml(new, Part.BODY, planned)
    thrown_away(acknowledged(hands))
    seen = view(hands.session, hands.now())
    assert seen.step.id == "weigh.body"
    assert "throw it away as your local rules say. Weigh base and colour" in seen.step.do
    assert seen.weigh is not None
    assert (seen.weigh.melt.first_round, seen.weigh.melt.last_round) == (2, planned.last_round)
    assert seen.weigh.melt.volume_ml == pytest.approx(held + clinging_ml)
    part = seen.weigh.melt.volume_ml / planned.volume_ml
    assert 0.3 < part < 0.9
    assert seen.weigh.melt.base_g == pytest.approx(part * planned.base_g)
    assert [dose.mass_g for dose in seen.weigh.doses] == [
        pytest.approx(part * dose.mass_g) for dose in planned.doses
    ]
    assert seen.cups[0].temp_c is None
    assert seen.next_step is not None
    assert seen.next_step.title == "Heat the body cup"
    hands.clock.advance(300)
    hands.press()
    seen = view(hands.session, hands.now())
    assert seen.step.id == "r2.heat.body"
    assert seen.step.do.startswith("Not before the old cup is cold and out.")
    assert seen.cups[0].temp_c is None
    hands.press()
    seen = view(hands.session, hands.now())
    assert seen.step.do.startswith("Not before the old cup is cold and out.")
    assert seen.cups[0].temp_c == hands.session.job.station.room.temperature_c
    assert seen.cups[0].held_ml == pytest.approx(held)
    assert seen.cups[0].spent_pct == pytest.approx(0.0, abs=0.01)
    hands.finish_step()
    assert hands.session.step.id == "r2.shot.shot"


def at_a_scorched_core() -> Maker:
    hands = maker(Build.CORE)
    hands.walk_to("r1.heat.core")
    hands.clock.advance(200)
    hands.read(212.0)
    if hands.session.doubted is not None:
        hands.read(212.0)
    return acknowledged(hands)


def test_where_a_cup_has_a_weighing_it_is_weighed_there_and_then_heated() -> None:
    hands = at_a_scorched_core()
    then = view(hands.session, hands.now()).next_step
    assert then is not None
    assert then.id == "r1.weigh.core"
    thrown_away(hands)
    seen = view(hands.session, hands.now())
    assert seen.step.id == "r1.weigh.core"
    assert "throw it away as your local rules say" in seen.step.do
    assert seen.weigh is not None
    assert [step.id for step in hands.session.ahead[:3]] == ["r1.weigh.core", "r1.heat.core", "r1.core.shot"]
    hands.press()
    assert hands.session.step.id == "r1.heat.core"
    hands.press()
    assert bursts_left(hands)
    hands.finish_step()
    assert hands.session.step.id == "r1.core.shot"
    hands.walk_to_the_end()


def test_one_read_so_at_its_shot_comes_back_to_that_shot() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.core.shot")
    hands.read(212.0)
    if hands.session.doubted is not None:
        hands.read(212.0)
    thrown_away(acknowledged(hands))
    ids = [step.id for step in hands.session.ahead[:3]]
    assert ids == ["r1.weigh.core", "r1.heat.core", "r1.core.shot"]
    hands.press()
    assert hands.session.next_step is not None
    assert hands.session.next_step.id == "r1.core.shot"
    hands.finish_step()
    hands.press()
    assert hands.session.step.id == "r1.core.hold"


def test_going_back_takes_the_same_cup_up_again_and_it_is_still_not_heated() -> None:
    hands = thrown_away(at_a_scorched_core())
    hands.happen(WentBack(at=hands.now()))
    assert hands.session.step.id == "r1.heat.core"
    assert not bursts_left(hands)
    assert asks_first(hands.session, hands.now()) is Asked.SCORCHED
    hot_c = view(hands.session, hands.now()).cups[-1].temp_c
    assert hot_c is not None
    assert hot_c > 180


def test_a_session_kept_before_cups_were_thrown_away_still_goes_through() -> None:
    """What such a file holds: the cup cooled into its band, and the step ended by that reading."""
    hands = acknowledged(scorched())
    hands.clock.advance(120)
    hands.read(170.0)
    hands.happen(StepDone(at=hands.now(), step="r1.heat.body", by=Ending.READING))
    hands.clock.advance(5)
    hands.happen(StepDone(at=hands.now(), step="r1.shot.shot", by=Ending.HAND))
    assert hands.session.step.id == "r1.shot.hold"


class TestAReadingThatWasWrong:
    def mistyped(self) -> Maker:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.clock.advance(90)
        hands.read(400.0)
        hands.read(400.0)
        assert hands.session.alarm is not None
        return hands

    def withdrawn(self, hands: Maker) -> Maker:
        event = drive.back(hands.session, hands.now())
        assert event == ReadingWithdrawn(at=hands.now(), part=Part.BODY, temp_c=400.0)
        hands.happen(event)
        return hands

    def test_at_the_card_it_is_struck_and_the_cup_goes_back_on_the_heat(self) -> None:
        hands = self.withdrawn(self.mistyped())
        seen = view(hands.session, hands.now())
        assert hands.session.alarm is None
        assert hands.session.cup_readings == ()
        assert bursts_left(hands)
        assert seen.cups[0].temp_c is not None
        assert seen.cups[0].temp_c < 190
        assert seen.cups[0].spent_pct < 5
        assert "Off the heat" not in seen.step.do
        assert not isinstance(drive.back(hands.session, hands.now()), ReadingWithdrawn)

    def test_after_the_card_and_the_right_figure_too(self) -> None:
        hands = acknowledged(self.mistyped())
        hands.clock.advance(20)
        hands.read(130.0)
        hands.read(130.0)
        assert view(hands.session, hands.now()).cups[0].spent_pct > 100
        self.withdrawn(hands)
        seen = view(hands.session, hands.now())
        assert [read.temp_c for read in hands.session.cup_readings] == [130.0, 130.0]
        assert seen.cups[0].temp_c == pytest.approx(130.0, abs=5)
        assert seen.cups[0].spent_pct < 5
        assert summarise(hands.session).spent[0].share_pct < 5
        assert bursts_left(hands)
        assert hands.session.acknowledged.keys() >= {"scorched"}, "what was read was read"

    def test_nothing_is_learnt_from_it(self) -> None:
        hands = self.withdrawn(self.mistyped())
        assert not hands.session.corrections.all

    def noticed_late(self) -> Maker:
        """Typed while the shells set; three steps on, the cup is wanted."""
        hands = maker(Build.CORE)
        hands.walk_to("r1.shell.set")
        read = CupRead(at=hands.now(), part=Part.SHELL, temp_c=212.0)
        hands.happen(read)
        if hands.session.doubted is not None:
            hands.happen(read)
        acknowledged(hands)
        hands.happen(Noted(at=hands.now(), text="said while it set"))
        hands.clock.advance(drive.remaining_s(hands.session, hands.now()) + 1)
        assert hands.tick()
        hands.walk_to("r2.heat.shell")
        return hands

    def test_later_where_its_cup_would_be_thrown_away_and_the_key_back_goes_back_between(self) -> None:
        hands = self.noticed_late()
        assert asks_first(hands.session, hands.now()) is Asked.SCORCHED
        earlier = hands.session.after(WentBack(at=hands.now()))
        assert not isinstance(drive.back(earlier, hands.now()), ReadingWithdrawn)
        visits = len(hands.session.visits)
        struck = drive.back(hands.session, hands.now())
        assert struck == ReadingWithdrawn(at=hands.now(), part=Part.SHELL, temp_c=212.0)
        hands.happen(struck)
        assert hands.session.step.id == "r2.heat.shell"
        assert len(hands.session.visits) == visits
        assert hands.session.notes == ("said while it set",)
        assert bursts_left(hands)
        assert not hands.session.scorched
        hands.finish_step()
        assert hands.session.step.id == "r2.shell.shot"

    def test_it_was_not_on_the_heat_while_it_was_taken_for_scorched(self) -> None:
        hands = self.noticed_late()
        hands.clock.advance(300)
        before_c = view(hands.session, hands.now()).cups[0].temp_c
        hands.happen(ReadingWithdrawn(at=hands.now(), part=Part.SHELL, temp_c=212.0))
        after_c = view(hands.session, hands.now()).cups[0].temp_c
        assert before_c is not None
        assert after_c is not None
        assert after_c < before_c

    def test_not_once_its_cup_was_thrown_away(self) -> None:
        hands = thrown_away(acknowledged(self.mistyped()))
        with pytest.raises(IllegalMove, match="no longer"):
            hands.happen(ReadingWithdrawn(at=hands.now(), part=Part.BODY, temp_c=400.0))

    def test_a_true_one_is_not_touched_by_a_figure_that_was_never_read(self) -> None:
        hands = self.mistyped()
        with pytest.raises(IllegalMove, match="no longer"):
            hands.happen(ReadingWithdrawn(at=hands.now(), part=Part.BODY, temp_c=300.0))

    def test_one_of_two_leaves_the_other_standing(self) -> None:
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to("r1.heat.body")
        hands.read(212.0)
        hands.read(212.0)
        hands.happen(drive.back(hands.session, hands.now()))
        assert hands.session.scorched
        assert not view(hands.session, hands.now()).cups[0].heating
        hands.happen(drive.back(hands.session, hands.now()))
        assert not hands.session.scorched
        assert not hands.session.cup_readings

    def test_it_stays_in_the_story(self) -> None:
        hands = self.withdrawn(self.mistyped())
        told = [each.words for each in story(hands.session.job, hands.events)]
        assert "withdrawn: what was read of the body cup was wrong" in told


def test_one_that_a_timer_heats_is_put_on_only_once_the_old_one_is_out() -> None:
    hands = maker(Build.CORE, count=20)
    hands.walk_to("r2.heat.shell.on")
    for _ in range(2):
        hands.happen(CupRead(at=hands.now(), part=Part.SHELL, temp_c=212.0))
    acknowledged(hands)
    told = view(hands.session, hands.now()).step
    assert "Off the heat" in told.do
    thrown_away(hands)
    assert hands.session.step.id == "weigh.shell"
    hands.press()
    assert hands.session.step.id == "r2.heat.shell.on"
    told = view(hands.session, hands.now()).step
    assert told.title == "Shell cup on the heat"
    assert told.do.startswith("Not before the old cup is cold and out.")


def test_a_shot_from_a_solid_cup_says_not_to_shoot() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    assert view(hands.session, hands.now()).step.do.startswith("Push slowly")
    solid = view(placed(hands.session, hands.now(), cup_c=27.0), hands.now())
    assert solid.is_solid
    assert solid.step.title == "Do not shoot yet"
    assert "not liquid" in solid.step.do


def test_over_the_band_and_under_the_limit_it_only_cools() -> None:
    hands = scorched(180.0)
    assert hands.session.alarm is None
    told = view(hands.session, hands.now()).step
    assert "no more heat" in told.do
    assert "throw" not in told.do
