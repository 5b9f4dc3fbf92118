"""Whether a core would bond to its shell now."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.session.bond import BondView
from bench.session.events import CupRead
from bench.session.session import Session
from bench.session.view import view
from bench.session.warmth import cup_now
from tests.session.bench_sessions import Maker, job, maker


def at(step_id: str) -> Maker:
    hands = maker(Build.CORE, tail=Tail.CUT, warm_up_shots=0)
    hands.walk_to(step_id)
    return hands


def bond_of(hands: Maker) -> BondView:
    bond = view(hands.session, hands.now()).bond
    assert bond is not None
    return bond


def test_the_contact_is_the_mean_of_core_and_shell() -> None:
    """Equal effusivities meet half way (Carslaw & Jaeger)."""
    hands = at("r1.core.shot")
    cup = cup_now(hands.session, Part.CORE, hands.now())
    bond = bond_of(hands)
    assert cup is not None
    assert bond.contact_c == pytest.approx((cup.temp_c + bond.shell_c) / 2)
    assert bond.enough


def test_it_is_shown_from_the_shells_going_back_to_their_core_shot() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT, count=8)
    hands.press()
    shown = []
    while hands.session.next_step is not None:
        if view(hands.session, hands.now()).bond is not None:
            shown.append(hands.session.step.id)
        hands.finish_step()
    rounds = hands.session.job.plan.rounds
    assert shown == [
        f"r{number}.{step}"
        for number in range(1, rounds + 1)
        for step in ("shells-back", "heat.core", "core.shot")
    ]


def test_shells_cool_while_they_lie_out_and_never_below_the_room() -> None:
    hands = at("r1.shells-back")
    seen = []
    for _ in range(6):
        seen.append(bond_of(hands))
        hands.clock.advance(300)
    temps = [bond.shell_c for bond in seen]
    assert temps == sorted(temps, reverse=True)
    assert 20.0 < temps[-1] < temps[0] < 60.0
    contacts = [bond.contact_c for bond in seen]
    assert contacts == sorted(contacts, reverse=True)


def test_back_in_their_mould_they_come_to_its_temperature() -> None:
    hands = at("r1.shells-back")
    hands.clock.advance(600)
    hands.press()
    cold_c = bond_of(hands).shell_c
    hands.clock.advance(240)
    mould_c = view(hands.session, hands.now()).moulds[0].temp_c
    assert bond_of(hands).shell_c == pytest.approx(mould_c, abs=1.0)
    assert bond_of(hands).shell_c > cold_c


def test_it_is_not_enough_below_the_plastics_own_limit() -> None:
    made = job(Build.CORE, tail=Tail.CUT, count=8, warm_up_shots=0)
    hands = Maker(session=Session(job=replace(made, plastic=replace(made.plastic, bond_c=115.0))))
    hands.walk_to("r1.core.shot")
    assert not bond_of(hands).enough


def test_a_colder_core_meets_its_shell_colder() -> None:
    warm, cold = at("r1.core.shot"), at("r1.core.shot")
    cold.clock.advance(1e-3)
    for _ in range(2):
        cold.happen(CupRead(at=cold.now(), part=Part.CORE, temp_c=140.0))
    assert bond_of(cold).contact_c == pytest.approx(bond_of(warm).contact_c - 15.0, abs=1.0)
