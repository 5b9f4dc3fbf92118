"""No cup is heated, nor reckoned to be, before the maker says that it is weighed."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part, Tail
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.events import CoreChosen
from bench.session.session import State
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker
from tests.session.test_script import ALL_BUILDS


@pytest.mark.parametrize(("build", "tail"), ALL_BUILDS)
@pytest.mark.parametrize("moulds", [1, 2])
def test_every_melt_has_a_weighing_before_its_first_heat(build: Build, tail: Tail, moulds: int) -> None:
    weighed: set[tuple[Part, int]] = set()
    for step in maker(build, tail=tail, count=20, moulds=moulds).session.job.script:
        if step.kind is StepKind.WEIGH:
            assert (step.parts[0], step.melt) not in weighed, "no melt is weighed twice"
            weighed.add((step.parts[0], step.melt))
        elif step.kind in (StepKind.HEAT_ON, StepKind.HEAT):
            assert (step.parts[0], step.melt) in weighed
            assert "Weigh" not in step.do


def weighing(step_id: str, hands: Maker) -> Maker:
    """There for ten minutes: the cup is not known, no clock has begun and there is something to weigh."""
    assert hands.session.step.id == step_id
    part = hands.session.step.parts[0]
    hands.clock.advance(600)
    seen = view(hands.session, hands.now())
    assert next(cup.temp_c for cup in seen.cups if cup.part is part) is None
    assert (seen.burst, seen.set_burst_s) == (None, None)
    assert seen.weigh is not None
    assert seen.step.do.endswith("Then press the key.")
    return hands


def heated_from_cold(hands: Maker) -> None:
    """The press begins the heat: its clock and its estimate count from here."""
    part, pressed = hands.session.step.parts[0], hands.now()
    hands.press()
    while hands.session.step.kind is StepKind.WEIGH:
        hands.press()
    assert view(hands.session, hands.now()).weigh is None
    assert hands.session.step.kind in (StepKind.HEAT_ON, StepKind.HEAT)
    if hands.session.step.kind is StepKind.HEAT_ON:
        hands.press()
    assert hands.session.cups[part].temp_c == hands.session.job.station.room.temperature_c
    assert hands.session.cups[part].at == pressed


def test_the_first_cup() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("weigh.body")
    heated_from_cold(weighing("weigh.body", hands))


def test_both_sides_of_a_laminate() -> None:
    hands = maker(Build.LAMINATE, warm_up_shots=0)
    hands.walk_to("weigh.side_a")
    hands.press()
    weighing("weigh.side_b", hands)


def test_a_core_cup() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.weigh.core")
    weighing("r1.weigh.core", hands)


def test_a_cup_set_aside_for_another_core_colour() -> None:
    hands = maker(Build.CORE)
    hands.walk_to("r1.trim")
    hands.happen(CoreChosen(at=hands.now(), recipe="other", weigh_anew=True))
    hands.press()
    heated_from_cold(weighing("r1.weigh.core", hands))


def test_one_in_the_place_of_a_scorched_one() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(100)
    hands.read(212.0)
    event = drive.acknowledge(hands.session, hands.now())
    assert event is not None
    hands.happen(event)
    hands.press()
    heated_from_cold(weighing("weigh.body", hands))
    hands.walk_to_the_end()
    assert hands.session.state is State.COMPLETE


def test_it_takes_no_time_of_the_plan_while_the_mould_warms() -> None:
    hands = maker(Build.PLAIN)
    (first,) = [step for step in hands.session.job.script if step.id == "weigh.body"]
    assert first.length_s == 0
