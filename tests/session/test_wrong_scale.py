"""Readings on the wrong scale are asked about, honest ones hardly ever: over benches as they may be.

The course of a cup is integrated apart from the session's own (``true_bench``). Loss, power and noise are spread
as far as benches are (common practice, no source); degrees are turned by NIST SP 811, appendix B.8.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache

import pytest

from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.physics.misreading import Slip
from bench.session import drive
from bench.session.bodies import profile_fed_w
from bench.session.events import CupRead, MouldRead
from bench.session.misreadings import suggestion
from bench.session.readings import believed
from bench.session.rises import teaches
from bench.session.stamp import Stamp
from bench.session.view import view
from bench.session.warmth import mould_now
from tests.session.bench_sessions import Maker, maker
from tests.session.true_bench import NOISE_K, TrueBench

BENCHES = 24
UNITS = list(UnitSystem)


def typed_rightly_c(true_c: float, units: UnitSystem) -> float:
    """What a maker types of it: whole degrees of his own scale."""
    return (round(true_c * 1.8 + 32) - 32) / 1.8 if units is UnitSystem.US else float(round(true_c))


def typed_wrongly_c(true_c: float, units: UnitSystem) -> float:
    """What the program takes it for when the thermometer shows the other scale."""
    return (round(true_c) - 32) / 1.8 if units is UnitSystem.US else float(round(true_c * 1.8 + 32))


@dataclass
class Watched(TrueBench):
    """A bench on which every reading is tried on the wrong scale first, and then typed rightly."""

    units: UnitSystem = UnitSystem.METRIC
    honest: list[bool] = field(default_factory=list)
    wrong: list[bool] = field(default_factory=list)

    def read(self) -> None:
        read_c, now = self.temp_c + self._noise.gauss(0.0, NOISE_K), self.hands.now()
        right = CupRead(at=now, part=Part.BODY, temp_c=typed_rightly_c(read_c, self.units), typed_in=self.units)
        if 20 <= read_c <= 190:
            mistaken = replace(right, temp_c=typed_wrongly_c(read_c, self.units))
            # What is over the scorch limit stops everything: that is told at once, and not asked.
            is_alarm = mistaken.temp_c > self.hands.session.job.plastic.scorch_c
            self.wrong.append(is_alarm or not believed(self.hands.session, mistaken))
        self.honest.append(not believed(self.hands.session, right))
        self.hands.happen(right)
        if self.hands.session.doubted is not None:
            self.hands.happen(right)


@lru_cache(maxsize=2)
def watched(units: UnitSystem) -> tuple[Watched, ...]:
    dice = random.Random(7)
    benches = []
    for seed in range(BENCHES):
        fed_w = dice.uniform(0.7, 1.3) * profile_fed_w(maker(Build.PLAIN).session.job)
        bench = Watched(seed=seed, loss_factor=dice.uniform(0.7, 1.4), fed_w=fed_w, units=units)
        bench.work_until_read(8)
        benches.append(bench)
    return tuple(benches)


@pytest.mark.parametrize("units", UNITS)
def test_an_honest_reading_of_a_cup_is_hardly_ever_asked_about(units: UnitSystem) -> None:
    asked = [each for bench in watched(units) for each in bench.honest]
    assert len(asked) > 200
    assert sum(asked) <= 0.03 * len(asked)


@pytest.mark.parametrize("units", UNITS)
def test_a_cup_read_on_the_wrong_scale_is_nearly_always_asked_about(units: UnitSystem) -> None:
    asked = [each for bench in watched(units) for each in bench.wrong]
    assert len(asked) > 200
    assert sum(asked) >= 0.97 * len(asked)


def moments() -> Iterator[tuple[Maker, Stamp, random.Random]]:
    """The mould of a session, in the course of warming, of its shots and of standing."""
    dice = random.Random(11)
    for wait_s in (20.0, 60.0, 120.0, 180.0):
        hands = maker(Build.PLAIN, warm_up_shots=1, count=40)
        hands.walk_to("warm-mould")
        hands.clock.advance(wait_s)
        yield hands, hands.now(), dice
    hands = maker(Build.PLAIN, warm_up_shots=1, count=40)
    for step in ("r1.shot.shot", "r1.shot.set", "r2.shot.set", "r4.shot.set"):
        hands.walk_to(step)
        for _ in range(3):
            hands.clock.advance(dice.uniform(0, 120))
            yield hands, hands.now(), dice


def tried_moulds(units: UnitSystem) -> Iterator[tuple[bool, bool]]:
    """Whether each reading is asked about typed rightly, and typed on the wrong scale."""
    for hands, now, dice in moments():
        estimate = mould_now(hands.session, now)
        assert estimate is not None
        for _ in range(20):
            true_c = dice.gauss(estimate.temp_c, estimate.spread_k)
            read_c = max(20.0, true_c) + dice.gauss(0.0, NOISE_K)
            right, wrong = (
                not believed(hands.session, MouldRead(at=now, temp_c=typed(read_c, units), typed_in=units))
                for typed in (typed_rightly_c, typed_wrongly_c)
            )
            yield right, wrong


@pytest.mark.parametrize("units", UNITS)
def test_so_of_a_mould(units: UnitSystem) -> None:
    tried = list(tried_moulds(units))
    assert len(tried) > 200
    assert sum(right for right, _ in tried) <= 0.03 * len(tried)
    assert sum(wrong for _, wrong in tried) >= 0.97 * len(tried)


def after_the_first_burst() -> Maker:
    """A plain cup, fresh on the heat, about 115 °C by its estimate."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    wait_for_the_burst(hands)
    return hands


def wait_for_the_burst(hands: Maker) -> None:
    """Until it is over; a cup that was read is put back first."""
    hands.put_on()
    burst = view(hands.session, hands.now()).burst
    assert burst is not None
    hands.clock.advance(burst.left_s + 5.0)


def typed(hands: Maker, figure: float, units: UnitSystem) -> CupRead | MouldRead:
    temp_c = (figure - 32) / 1.8 if units is UnitSystem.US else figure
    return replace(drive.reading(hands.session, temp_c, hands.now()), typed_in=units)


def test_a_celsius_figure_that_fits_is_asked_about_with_what_it_was_meant_as() -> None:
    hands = after_the_first_burst()
    before = view(hands.session, hands.now()).burst
    hands.happen(typed(hands, 118, UnitSystem.US))
    meant = suggestion(hands.session, hands.now(), UnitSystem.US)
    assert meant is not None
    assert (meant.value_c, meant.why) == (118.0, Slip.CELSIUS)
    seen = view(hands.session, hands.now())
    assert seen.burst == before
    assert seen.corrections.heater is None
    accepted = drive.accept_suggestion(hands.session, hands.now(), UnitSystem.US)
    assert accepted is not None
    hands.happen(accepted)
    assert hands.session.doubted is None
    assert [each.temp_c for each in hands.session.cup_readings] == [118.0]
    heater = hands.session.corrections.heater
    assert heater is not None
    assert heater.value == pytest.approx(heater.profile, rel=0.1)


def test_a_fahrenheit_figure_that_fits_is_asked_about_with_what_it_was_meant_as() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(20)
    estimate_c = view(hands.session, hands.now()).cups[0].temp_c
    assert estimate_c is not None
    hands.happen(typed(hands, round(estimate_c * 1.8 + 32), UnitSystem.METRIC))
    meant = suggestion(hands.session, hands.now(), UnitSystem.METRIC)
    assert meant is not None
    assert meant.why is Slip.FAHRENHEIT
    assert meant.value_c == pytest.approx(estimate_c, abs=0.5)


def test_the_same_figure_twice_is_believed_and_teaches_nothing() -> None:
    hands = after_the_first_burst()
    for _ in range(2):
        hands.happen(typed(hands, 118, UnitSystem.US))
    assert hands.session.doubted is None
    assert hands.session.cup_readings[-1].temp_c == pytest.approx(47.8, abs=0.05)
    assert hands.session.corrections.heater is None


def test_a_figure_of_the_band_is_asked_about_far_from_the_estimate() -> None:
    """165 in a field for degF is 73.9 °C, and 165 °C is where the heating ends."""
    hands = after_the_first_burst()
    hands.read(115.0)
    wait_for_the_burst(hands)
    hands.happen(typed(hands, 165, UnitSystem.US))
    meant = suggestion(hands.session, hands.now(), UnitSystem.US)
    assert meant is not None
    assert meant.value_c == 165.0


def test_a_room_warm_figure_far_under_the_estimate_is_asked_about_though_the_other_is_high() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    while (view(hands.session, hands.now()).cups[0].temp_c or 0.0) < 48.0:
        hands.clock.advance(1)
    hands.happen(typed(hands, 72, UnitSystem.US))
    assert hands.session.doubted is not None


def test_a_figure_over_the_scorch_limit_is_told_at_once_whatever_the_other_scale_makes_of_it() -> None:
    hands = after_the_first_burst()
    hands.happen(typed(hands, 230, UnitSystem.METRIC))
    assert hands.session.doubted is None
    assert hands.session.alarm is not None


def test_a_mould_under_the_room_is_asked_about() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("warm-mould")
    hands.clock.advance(150)
    hands.happen(typed(hands, 44, UnitSystem.US))
    meant = suggestion(hands.session, hands.now(), UnitSystem.US)
    assert meant is not None
    assert meant.value_c == 44.0


@pytest.mark.parametrize(("under_k", "asked"), [(3.0, False), (6.0, True)])
def test_what_is_colder_than_its_room_is_asked_about_beyond_what_a_thermometer_leaves_open(
    under_k: float, asked: bool
) -> None:
    room_c = maker(Build.PLAIN).session.job.station.room.temperature_c
    for step in ("warm-mould", "r1.heat.body"):
        hands = maker(Build.PLAIN, warm_up_shots=0)
        hands.walk_to(step)
        reading = drive.reading(hands.session, room_c - under_k, hands.now())
        assert believed(hands.session, reading) is not asked


def test_a_rise_that_no_heater_makes_is_asked_about() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(30)
    hands.read(70.0)
    hands.clock.advance(25)
    hands.read(176.0)
    assert hands.session.doubted is not None
    assert hands.session.cup_readings[-1].temp_c == 70.0


def test_what_no_heater_gives_is_taken_and_not_learnt_from() -> None:
    hands = after_the_first_burst()
    reading = drive.reading(hands.session, 38.0, hands.now())
    assert believed(hands.session, reading)
    assert not teaches(hands.session, reading)
    hands.happen(reading)
    assert hands.session.corrections.heater is None
    assert hands.session.cup_readings[-1].temp_c == 38.0


def test_what_a_weak_heater_gives_is_learnt_from() -> None:
    hands = after_the_first_burst()
    reading = drive.reading(hands.session, 75.0, hands.now())
    assert teaches(hands.session, reading)
    hands.happen(reading)
    assert hands.session.corrections.heater is not None
