"""What marks say about cup, heater, mould and set time."""

from __future__ import annotations

import pytest

from bench.model.recipe import Part
from bench.physics.cup import Cup, temperature_after
from bench.physics.mould import Block, after_rest_c
from bench.physics.set_scale import Firmness, Opening
from bench.session.corrections import (
    LEAST_SPREAD,
    Corrected,
    Corrections,
    CupMark,
    Known,
    MouldMark,
    correct,
)
from bench.session.heater import Power, fed_w, heated_c

CUP = Cup(mass_g=200, c_j_kgk=1800, diameter_mm=80, height_mm=40, vessel_mass_g=180, vessel_c_j_kgk=830)
BLOCK = Block(mass_g=1500, area_m2=0.05)
FED_W = fed_w(CUP, kept_w=400.0, start_c=20.0, to_c=170.0, room_c=20.0)
KNOWN = Known(room_c=20.0, cup=CUP, block=BLOCK, absorbed_w=400.0, fed_w=FED_W, target_c=170.0)


def cooled(loss_factor: float, *, gaps_s: tuple[float, ...] = (150.0, 150.0, 150.0)) -> list[CupMark]:
    marks = [CupMark(part=Part.BODY, temp_c=175.0, cup=CUP)]
    for gap_s in gaps_s:
        temp_c = temperature_after(
            CUP, start_c=marks[-1].temp_c, seconds=gap_s, room_c=20.0, loss_factor=loss_factor
        )
        marks.append(CupMark(part=Part.BODY, temp_c=temp_c, cup=CUP, gone_s=gap_s, follows=True))
    return marks


def heated(watts: float, *, stir_s: float = 12.0) -> list[CupMark]:
    """From the room, three bursts with a stir after each and a reading after that; losses as reckoned."""
    power = Power(fed_w=watts, room_c=20.0)
    marks = [CupMark(part=Part.BODY, temp_c=20.0, cup=CUP, is_read=False)]
    for on_s in (80.0, 40.0, 20.0):
        hot_c = heated_c(CUP, power, start_c=marks[-1].temp_c, seconds=on_s)
        temp_c = temperature_after(CUP, start_c=hot_c, seconds=stir_s, room_c=20.0)
        marks.append(
            CupMark(
                part=Part.BODY,
                temp_c=temp_c,
                cup=CUP,
                gone_s=on_s + stir_s,
                on_s=on_s,
                stood_k=hot_c - temp_c,
                follows=True,
            )
        )
    return marks


def corrected(
    cups: list[CupMark] | None = None,
    moulds: list[MouldMark] | None = None,
    openings: list[Opening] | None = None,
    refused: frozenset[Corrected] = frozenset(),
) -> Corrections:
    return correct(KNOWN, cups=cups or [], moulds=moulds or [], openings=openings or [], refused=refused)


def test_nothing_read_is_nothing_corrected() -> None:
    assert corrected().all == ()
    assert corrected().cup_loss_factor == corrected().mould_loss_factor == corrected().set_factor == 1.0
    assert corrected().fed_w is None


class TestCup:
    @pytest.mark.parametrize("loss_factor", [0.8, 1.0, 1.3])
    def test_its_loss_is_found_from_readings_with_nothing_between_them(self, loss_factor: float) -> None:
        found = corrected(cooled(loss_factor)).cup_loss
        assert found is not None
        assert found.value == pytest.approx(loss_factor, rel=0.05)
        assert (found.profile, found.readings, found.refused) == (1.0, 4, False)
        assert found.spread < 0.2

    def test_more_readings_are_more_sure(self) -> None:
        few, many = (corrected(cooled(1.3, gaps_s=(120.0,) * number)).cup_loss for number in (1, 4))
        assert few is not None
        assert many is not None
        assert many.spread < few.spread

    def test_a_shot_in_between_says_nothing_of_it(self) -> None:
        before, after = cooled(1.3, gaps_s=(150.0,))
        shot = CupMark(part=Part.BODY, temp_c=after.temp_c, cup=CUP, gone_s=150.0, follows=False)
        assert corrected([before, shot]).cup_loss is None

    def test_two_cups_are_two_stories(self) -> None:
        first, second = cooled(1.3, gaps_s=(150.0,))
        other = CupMark(part=Part.SIDE_B, temp_c=second.temp_c, cup=CUP, gone_s=150.0, follows=True)
        assert corrected([first, other]).cup_loss is None


class TestHeater:
    @pytest.mark.parametrize("watts", [330.0, 420.0, 500.0])
    def test_what_it_feeds_is_found_stirs_and_all(self, watts: float) -> None:
        found = corrected(heated(watts))
        assert found.heater is not None
        assert found.heater_fed_w == pytest.approx(watts, rel=0.03)
        assert found.heater.profile == 400.0
        assert found.heater.readings == 3, "a cup just filled from the room was not read"

    def test_it_is_quoted_as_the_profile_quotes_it(self) -> None:
        found = corrected(heated(FED_W)).heater
        assert found is not None
        assert found.value == pytest.approx(400.0, rel=0.03)

    def test_a_cup_that_loses_more_was_fed_more(self) -> None:
        alone, losing = corrected(heated(330.0)), corrected([*cooled(1.4), *heated(330.0)])
        assert alone.heater_fed_w is not None
        assert losing.heater_fed_w is not None
        assert losing.heater_fed_w > alone.heater_fed_w


class TestMould:
    def test_its_loss_is_found_without_shots_between(self) -> None:
        true = Block(mass_g=1500, area_m2=0.05, loss_w_m2k=8 * 0.8)
        marks = [MouldMark(number=1, temp_c=60.0)]
        for _ in range(4):
            temp_c = after_rest_c(true, mould_c=marks[-1].temp_c, seconds=900.0, room_c=20.0)
            marks.append(MouldMark(number=1, temp_c=temp_c, gone_s=900.0, follows=True))
        found = corrected(moulds=marks).mould_loss
        assert found is not None
        assert found.value == pytest.approx(0.8, rel=0.07)
        assert found.readings == 5

    def test_a_shot_between_says_nothing_of_it(self) -> None:
        marks = [
            MouldMark(number=1, temp_c=60.0),
            MouldMark(number=1, temp_c=50.0, gone_s=900.0, follows=False),
            MouldMark(number=2, temp_c=40.0, gone_s=900.0, follows=True),
        ]
        assert corrected(moulds=marks).mould_loss is None


def test_soft_baits_ask_for_longer() -> None:
    soft = [Opening(opened_s=90.0, set_s=90.0, found=Firmness.SOFT)]
    once, twice = corrected(openings=soft), corrected(openings=soft * 2)
    assert 1.0 < once.set_factor < twice.set_factor <= 1.5


class TestRefused:
    def test_it_is_shown_and_not_used(self) -> None:
        found = corrected(cooled(1.3), refused=frozenset({Corrected.CUP_LOSS}))
        assert found.cup_loss is not None
        assert found.cup_loss.value > 1.1
        assert found.cup_loss.refused
        assert found.cup_loss_factor == 1.0
        assert found.cup_loss_spread == 0.3

    def test_nor_is_a_refused_heater(self) -> None:
        found = corrected(heated(330.0), refused=frozenset({Corrected.HEATER}))
        assert found.fed_w is None
        assert found.heater_fed_w == pytest.approx(330.0, rel=0.03)
        assert found.heater_spread == 0.4


def test_no_bench_is_known_better_than_it_repeats_itself() -> None:
    found = corrected(heated(330.0))
    assert found.heater is not None
    assert found.heater.spread < LEAST_SPREAD
    assert found.heater_spread == LEAST_SPREAD


@pytest.mark.parametrize(("watts", "told_w"), [(120.0, 200.0), (1500.0, 800.0)])
def test_no_session_makes_a_heater_more_than_twice_or_less_than_half_its_profile(
    watts: float, told_w: float
) -> None:
    """The bounds are starting values, common practice, no source."""
    found = corrected(heated(watts))
    assert found.heater is not None
    assert found.heater.capped
    assert found.heater.value == pytest.approx(told_w)
    assert found.fed_w is not None
    assert Power(fed_w=found.fed_w, room_c=20.0).kept_w(CUP, start_c=20.0, to_c=170.0) == pytest.approx(told_w)
    usual = corrected(heated(330.0))
    assert usual.heater is not None
    assert not usual.heater.capped
    assert usual.heater.known_spread == LEAST_SPREAD
