"""Whole sessions on a bench that warms its moulds with nothing but scrap shots."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Build, Tail
from bench.model.station import WarmedBy, Warming
from bench.model.step_kind import StepKind
from bench.plan.jobs import PlannedJob
from bench.session.choices import drawn_ml
from bench.session.events import MouldRead
from bench.session.prepare import followed
from bench.session.session import Session, State
from bench.session.spent import parts_spent
from bench.session.step import Step
from bench.session.view import view
from bench.session.warned import WarningKind
from tests.plan.bench_records import MOULD, PLASTIC, STATION, job_of
from tests.session.bench_sessions import Maker, job

SHOTS = replace(STATION, warming=Warming(by=WarmedBy.SHOTS))
BUILDS = [(Build.PLAIN, Tail.KEPT), (Build.LAMINATE, Tail.KEPT), (Build.CORE, Tail.CUT)]


def planned(build: Build, tail: Tail = Tail.KEPT) -> PlannedJob:
    return job_of(build, tail=tail, station=SHOTS, count=8)


def maker(build: Build, tail: Tail = Tail.KEPT) -> Maker:
    plan, script = followed(planned(build, tail), mould=MOULD, plastic=PLASTIC, station=SHOTS)
    usual = job(build, tail=tail)
    return Maker(session=Session(job=replace(usual, station=SHOTS, plan=plan, script=script)))


def scrap_of(hands: Maker) -> list[Step]:
    return [step for step in hands.session.job.script if step.kind is StepKind.WARM_UP_SHOT]


def kinds_of_warnings(hands: Maker) -> set[WarningKind]:
    return {warning.kind for warning in view(hands.session, hands.now()).warnings}


@pytest.mark.parametrize(("build", "tail"), BUILDS)
def test_it_runs_from_the_first_caution_to_the_cure(build: Build, tail: Tail) -> None:
    hands = maker(build, tail)
    hands.walk_to_the_end()
    assert hands.session.state is State.COMPLETE
    assert len(scrap_of(hands)) == hands.session.job.plan.warm_up_shots > 1


def test_the_maker_is_told_that_it_is_scrap_and_how_much_before_anything_is_weighed() -> None:
    hands = maker(Build.PLAIN)
    shots = hands.session.job.plan.warm_up_shots
    ready = next(step for step in hands.session.job.script if step.kind is StepKind.READY)
    assert ready.do.endswith(f"{shots} scrap shots warm the cold mould: the first cup holds their plastic too.")
    assert [step.title for step in scrap_of(hands)] == [
        f"Warm-up shot {number} of {shots}" for number in range(1, shots + 1)
    ]
    assert all(step.do.startswith("Scrap, to warm the cold mould") for step in scrap_of(hands))
    opened = [step for step in hands.session.job.script if step.kind is StepKind.OPEN]
    assert ["trimmings" in step.do for step in opened] == [True] * shots + [False] * hands.session.job.plan.rounds


def test_what_two_cups_fill_is_pushed_together() -> None:
    """Common practice, no source: a side that comes first fills both."""
    for build, is_together in ((Build.PLAIN, False), (Build.LAMINATE, True)):
        assert all((" both together" in step.do) is is_together for step in scrap_of(maker(build)))


def test_their_plastic_is_weighed_into_the_first_cup() -> None:
    """Cavities and runner of the mould on paper, once for every shot; margin and residues come on top."""
    plan = planned(Build.PLAIN).plan
    part = plan.parts[0]
    scrap_ml = plan.warm_up_shots * (plan.cavities * plan.volumes.bait_ml + plan.volumes.runner_ml)
    assert part.taken.warm_up_ml == pytest.approx(scrap_ml)
    assert part.melts[0].volume_ml > scrap_ml
    hands = maker(Build.PLAIN)
    hands.walk_to("r1.heat.body")
    assert drawn_ml(hands.session, part.part, part.melts[0]) == pytest.approx(scrap_ml)


def test_heat_is_counted_on_what_becomes_trimmings() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("m1.warm-up2.open")
    (spent,) = parts_spent(hands.session)
    assert spent.share_pct > 0.0


def test_the_mould_is_reckoned_from_cold_into_its_window() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to(scrap_of(hands)[0].id)
    met_c = [view(hands.session, hands.now()).moulds[0].temp_c]
    assert met_c[0] == pytest.approx(SHOTS.room.temperature_c, abs=1.0)
    for step in scrap_of(hands)[1:]:
        hands.walk_to(step.id)
        met_c.append(view(hands.session, hands.now()).moulds[0].temp_c)
    assert met_c == sorted(met_c)
    hands.walk_to("r1.shot.shot")
    low_c, high_c = MOULD.warm_c
    assert low_c - 2.0 <= view(hands.session, hands.now()).moulds[0].temp_c <= high_c


def test_a_cold_mould_is_no_fault_before_its_scrap_and_one_before_a_bait() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to(scrap_of(hands)[0].id)
    assert WarningKind.MOULD_COLD not in kinds_of_warnings(hands)
    hands.walk_to("r1.shot.shot")
    hands.happen(MouldRead(at=hands.now(), mould=1, temp_c=30.0))
    cold = [each for each in view(hands.session, hands.now()).warnings if each.kind is WarningKind.MOULD_COLD]
    assert [each.by for each in cold] == [WarmedBy.SHOTS]
    assert cold[0].value < MOULD.warm_c[0]


def test_a_reading_of_the_mould_corrects_what_is_reckoned_of_it() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to(scrap_of(hands)[2].id)
    before_c = view(hands.session, hands.now()).moulds[0].temp_c
    hands.happen(MouldRead(at=hands.now(), mould=1, temp_c=before_c - 6.0))
    read_c = view(hands.session, hands.now()).moulds[0].temp_c
    assert before_c - 6.5 < read_c < before_c - 1.0
    hands.walk_to("r1.shot.shot")
    alone = maker(Build.PLAIN)
    alone.walk_to("r1.shot.shot")
    found_c, reckoned_c = (view(each.session, each.now()).moulds[0].temp_c for each in (hands, alone))
    assert found_c < reckoned_c - 0.5
