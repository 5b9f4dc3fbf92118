"""A set in a mould that is hotter than planned."""

from __future__ import annotations

import math

import pytest

from bench.model.recipe import Build
from bench.physics.cooling import Section, Substance, cool_solid
from bench.session import drive
from bench.session.events import MouldRead
from bench.session.setting import NEVER, set_factor
from bench.session.view import view
from tests.plan.bench_records import MOULD, PLASTIC
from tests.session.bench_sessions import Maker, maker


def setting(mould_c: float | None = None) -> Maker:
    """A plain shot that sets, in a mould read at that temperature."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.set")
    for _ in range(2 if mould_c is not None else 0):
        hands.happen(MouldRead(at=hands.now(), temp_c=mould_c or 0.0))
    return hands


def test_a_mould_as_planned_changes_nothing() -> None:
    hands = setting()
    assert set_factor(hands.session, hands.session.step, hands.now()) == 1.0


def test_a_cooler_mould_shortens_nothing() -> None:
    hands = setting(30.0)
    assert set_factor(hands.session, hands.session.step, hands.now()) == 1.0


def test_a_hotter_mould_takes_as_much_longer_as_the_conduction_solution_says() -> None:
    """Against two solutions of the section itself, at the planned mould and at the hotter one."""
    hands = setting(58.0)
    factor = set_factor(hands.session, hands.session.step, hands.now())
    shot = hands.session.job.plan.rounds_table[0].shots[0]
    temps = [reading.temp_c for reading in view(hands.session, hands.now()).moulds]
    assert factor > 1.1
    section = Section(body_mm=MOULD.section.body_mm, gate_mm=MOULD.section.gate_mm)
    substance = Substance(
        k_w_mk=PLASTIC.conductivity_w_mk, rho_kg_m3=PLASTIC.density_kg_m3, c_j_kgk=PLASTIC.heat_capacity_j_kgk
    )
    bump = temps[0] - 58.0
    assert abs(bump) < 15
    hot_c = PLASTIC.open_c - (PLASTIC.open_c - shot.mould_c) * 0.6
    planned, hot = (
        cool_solid(section, substance, shot_c=PLASTIC.shot_c, mould_c=mould_c, open_c=PLASTIC.open_c).body_s
        for mould_c in (shot.mould_c, hot_c)
    )
    reach = math.log((PLASTIC.shot_c - hot_c) / (PLASTIC.open_c - hot_c)) / math.log(
        (PLASTIC.shot_c - shot.mould_c) / (PLASTIC.open_c - shot.mould_c)
    )
    assert reach == pytest.approx(hot / planned, rel=0.05)


def test_a_mould_too_hot_to_set_is_never_opened_by_the_clock() -> None:
    hands = setting(120.0)
    assert set_factor(hands.session, hands.session.step, hands.now()) == NEVER
    hands.clock.advance(200)
    assert drive.due(hands.session, hands.now()) is None
    assert drive.remaining_s(hands.session, hands.now()) > 0


def test_it_is_opened_once_the_mould_has_cooled() -> None:
    hands = setting(120.0)
    hands.clock.advance(3600)
    assert hands.tick()
    assert hands.session.step.id == "r1.shot.open"


def test_back_at_a_heating_step_a_new_reading_ends_it_again() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.clock.advance(5)
    from bench.session.events import WentBack

    hands.happen(WentBack(at=hands.now()))
    assert hands.session.step.id == "r1.heat.body"
    assert not hands.tick(), "not by the reading from before"
    hands.clock.advance(5)
    hands.read(170)
    assert hands.tick()
