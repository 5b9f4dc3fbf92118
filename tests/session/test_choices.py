"""What stays open until the shells are seen, and what each choice does to the amounts."""

from __future__ import annotations

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Build, Part, Tail
from bench.session import drive
from bench.session.choices import core_is_open, cut_tails, held_ml, melt_doses, mixed_core, tail_effect
from bench.session.events import CoreChosen, SkipReason, StepSkipped, TailsChosen, VerdictGiven
from bench.session.verdicts import Subject, Verdict, standing
from bench.session.view import view
from tests.plan.bench_records import MOULD
from tests.session.bench_sessions import OTHER_CORE, Maker, maker


def at_the_trim(tail: Tail = Tail.CUT) -> Maker:
    hands = maker(Build.CORE, tail=tail)
    hands.walk_to("r1.trim")
    return hands


class TestTails:
    def test_the_recipes_own_choice_stands_until_another_is_made(self) -> None:
        assert cut_tails(at_the_trim(Tail.CUT).session, 1) == 4
        assert cut_tails(at_the_trim(Tail.KEPT).session, 1) == 0

    def test_some_or_all_may_be_cut_or_kept(self) -> None:
        hands = at_the_trim()
        for cut in (0, 3, 4):
            event = drive.tails(hands.session, cut, hands.now())
            assert event is not None
            hands.happen(event)
            assert cut_tails(hands.session, 1) == cut

    def test_each_cut_tail_takes_its_volume_of_core_and_gives_it_as_trimmings(self) -> None:
        """Tail 30 x 10 x 2 mm = 0.6 ml, on paper; the core's top-off comes on top of it."""
        hands = at_the_trim()
        effects = {}
        for cut in (0, 4):
            hands.happen(TailsChosen(at=hands.now(), round=1, cut=cut))
            effects[cut] = tail_effect(hands.session, 1)
        assert MOULD.volumes.tail_ml == pytest.approx(0.6)
        assert effects[4].trimmed_ml == pytest.approx(2.4)
        assert effects[0].trimmed_ml == 0
        assert effects[4].needs_ml - effects[0].needs_ml == pytest.approx(2.4, rel=0.06)
        assert effects[4].needs_ml > effects[0].needs_ml

    def test_a_cup_melted_for_kept_tails_says_when_cut_ones_need_more(self) -> None:
        hands = at_the_trim(Tail.KEPT)
        hands.happen(TailsChosen(at=hands.now(), round=1, cut=4))
        effect = tail_effect(hands.session, 1)
        assert effect.enough, "one round more than planned"
        assert not effect.enough_for_all, "but not the later rounds too"

    def test_the_choice_shows_in_what_the_shot_takes(self) -> None:
        left = {}
        for cut in (0, 4):
            hands = at_the_trim()
            hands.happen(TailsChosen(at=hands.now(), round=1, cut=cut))
            hands.walk_to("r1.core.hold")
            left[cut] = held_ml(hands.session, Part.CORE, hands.session.job.plan.melt(Part.CORE, 1))
        assert left[0] - left[4] == pytest.approx(2.4, rel=0.06)

    def test_it_is_closed_once_the_shells_are_back(self) -> None:
        hands = at_the_trim()
        hands.walk_to("r1.heat.core")
        assert drive.tails(hands.session, 2, hands.now()) is None
        with pytest.raises(IllegalMove, match="not open"):
            hands.happen(TailsChosen(at=hands.now(), round=1, cut=2))

    def test_there_are_no_more_tails_than_cavities(self) -> None:
        hands = at_the_trim()
        assert drive.tails(hands.session, 5, hands.now()) is None
        with pytest.raises(IllegalMove, match="4 tails"):
            hands.happen(TailsChosen(at=hands.now(), round=1, cut=5))


class TestAnotherCore:
    def test_it_may_be_chosen_while_the_cup_is_cold(self) -> None:
        hands = at_the_trim()
        event = drive.next_core(hands.session, hands.now())
        assert isinstance(event, CoreChosen)
        assert event.recipe == "other"
        hands.happen(event)
        trim = view(hands.session, hands.now()).trim
        assert trim is not None
        assert trim.core == "other"

    def test_its_doses_are_what_is_weighed(self) -> None:
        hands = at_the_trim()
        hands.happen(CoreChosen(at=hands.now(), recipe="other"))
        hands.walk_to("r1.heat.core.on")
        weigh = view(hands.session, hands.now()).weigh
        assert weigh is not None
        assert [(dose.colourant, dose.load_pct) for dose in weigh.doses] == [("pearl", 3.0)]
        assert weigh.doses[0].mass_g == pytest.approx(weigh.melt.mass_g * OTHER_CORE.doses[0].load_pct / 100)

    def test_the_planned_core_keeps_its_planned_doses(self) -> None:
        hands = at_the_trim()
        melt = hands.session.job.plan.melt(Part.CORE, 1)
        assert melt_doses(hands.session, melt) == melt.doses

    def test_it_is_settled_once_the_cup_is_on_the_heat(self) -> None:
        hands = at_the_trim()
        hands.walk_to("r1.heat.core")
        assert not core_is_open(hands.session)
        with pytest.raises(IllegalMove, match="on the heat"):
            hands.happen(CoreChosen(at=hands.now(), recipe="other"))

    def test_plain_work_has_none_to_choose(self) -> None:
        hands = maker(Build.PLAIN)
        hands.walk_to("r1.look")
        assert drive.next_core(hands.session, hands.now()) is None


class TestVerdicts:
    def test_a_digit_is_a_verdict_on_what_is_looked_at(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.look-at-shells")
        event = drive.verdict(hands.session, 2, hands.now())
        assert event == VerdictGiven(at=hands.now(), round=1, subject=Subject.SHELLS, verdict=Verdict.TOO_DENSE)

    def test_looks_and_make_are_judged_apart_and_the_latest_of_each_stands(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.look")
        for digit in (2, 3, 6):
            event = drive.verdict(hands.session, digit, hands.now())
            assert event is not None
            hands.happen(event)
        assert standing(hands.session.verdicts, 1, Subject.BAITS) == (Verdict.CORE_FAINT, Verdict.DENTS)

    @pytest.mark.parametrize("digit", [0, -1, 10])
    def test_other_digits_mean_nothing(self, digit: int) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.look")
        assert drive.verdict(hands.session, digit, hands.now()) is None

    def test_where_nothing_is_looked_at_no_digit_is_a_verdict(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.shell.set")
        assert drive.verdict(hands.session, 1, hands.now()) is None


def test_shells_are_counted_out_of_the_mould_until_their_core_is_in() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.shell.open")
    assert view(hands.session, hands.now()).shells_out == ()
    hands.walk_to("r1.trim")
    (out,) = view(hands.session, hands.now()).shells_out
    assert (out.round, out.limit_s) == (1, 600)
    assert out.out_s > 0
    hands.walk_to("r1.core.hold")
    assert view(hands.session, hands.now()).shells_out == ()


class TestAnotherCoreOnceOneIsMixed:
    def chosen(self, *, weigh_anew: bool = True) -> Maker:
        hands = maker(Build.CORE)
        hands.walk_to("r1.trim")
        assert mixed_core(hands.session) == hands.session.core
        hands.happen(CoreChosen(at=hands.now(), recipe="other", weigh_anew=weigh_anew))
        return hands

    def test_the_key_weighs_anew(self) -> None:
        hands = maker(Build.CORE)
        hands.walk_to("r1.trim")
        event = drive.next_core(hands.session, hands.now())
        assert event is not None
        assert event.weigh_anew

    def test_a_new_cup_is_weighed_before_it_is_heated(self) -> None:
        hands = self.chosen()
        ahead = [step.id for step in hands.session.ahead]
        assert ahead[:3] == ["r1.trim", "r1.weigh.core", "r1.heat.core.on"]
        assert ahead.count("r1.weigh.core") == 1
        assert hands.session.next_step is not None
        assert hands.session.next_step.id == "r1.weigh.core"
        hands.press()
        seen = view(hands.session, hands.now())
        assert seen.step.do.startswith("Set the mixed cup aside.")
        assert seen.weigh is not None
        assert [dose.colourant for dose in seen.weigh.doses] == ["pearl"]
        assert [step.id for step in hands.session.ahead[:2]] == ["r1.weigh.core", "r1.heat.core.on"]
        hands.press()
        assert hands.session.step.id == "r1.heat.core.on"
        assert view(hands.session, hands.now()).weigh is None
        hands.walk_to_the_end()

    def test_skipped_it_goes_on_to_the_heating(self) -> None:
        hands = self.chosen()
        hands.press()
        hands.happen(StepSkipped(at=hands.now(), step="r1.weigh.core", reason=SkipReason.ALREADY_DONE))
        assert hands.session.step.id == "r1.heat.core.on"

    def test_the_colour_that_is_mixed_needs_no_other_cup(self) -> None:
        hands = self.chosen()
        hands.happen(CoreChosen(at=hands.now(), recipe=hands.session.job.recipe.name, weigh_anew=True))
        assert hands.session.next_step is not None
        assert hands.session.next_step.id == "r1.heat.core.on"

    def test_a_session_kept_before_there_was_such_a_step_goes_on_as_it_did(self) -> None:
        hands = self.chosen(weigh_anew=False)
        hands.press()
        assert hands.session.step.id == "r1.heat.core.on"
        assert view(hands.session, hands.now()).weigh is not None
