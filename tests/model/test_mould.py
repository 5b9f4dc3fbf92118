"""Volumes against geometry done by hand, and the two ways of describing a mould against each other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.mould import Drawn, Mould, Rods, Section, Weighed

RODS = Rods(
    count=2,
    diameter_mm=4.0,
    in_cavity_mm=50.0,
    conductivity_w_mk=16.2,
    density_kg_m3=8000.0,
    heat_capacity_j_kgk=500.0,
)
DRAWN = Mould(
    name="x",
    title="X",
    cavities=4,
    mass_g=1500.0,
    heat_capacity_j_kgk=896.0,
    area_m2=0.05,
    loss_w_m2k=8.0,
    wall_conductance_w_m2k=1000.0,
    warm_c=(40.0, 50.0),
    section=Section(body_mm=10.0, gate_mm=4.0, tail_mm=2.5),
    rods=RODS,
    drawn=Drawn(body_length_mm=60.0, runner_ml=4.0, tail_length_mm=30.0, tail_width_mm=12.0),
)


def _weighed(**changes: float) -> Mould:
    given = {"bait_g": 5.7, "runner_g": 4.12, "density_kg_m3": 1030.0, **changes}
    return replace(DRAWN, drawn=None, weighed=Weighed(**given))


def test_a_drawn_mould_has_the_volumes_of_its_cylinders_and_its_flat_tail() -> None:
    """By hand: pi/4 1 cm2 x 6 cm = 4.712 ml, tail 0.25 x 3 x 1.2 cm = 0.9 ml, rod pi/4 x 0.16 x 5 = 0.628 ml."""
    volumes = DRAWN.volumes
    assert volumes.bait_ml == pytest.approx(4.712 + 0.9, abs=1e-3)
    assert volumes.tail_ml == pytest.approx(0.9)
    assert volumes.rod_ml == pytest.approx(0.628, abs=1e-3)
    assert volumes.runner_ml == 4.0


def test_fullness_shrinks_the_body_and_not_the_tail() -> None:
    drawn = replace(DRAWN, drawn=Drawn(body_length_mm=60.0, runner_ml=4.0, fullness_pct=90.0))
    tailless = replace(drawn, section=Section(body_mm=10.0, gate_mm=4.0))
    assert tailless.volumes.bait_ml == pytest.approx(0.9 * 4.712, abs=1e-3)
    assert tailless.volumes.tail_ml == 0


def test_weighing_what_was_drawn_gives_the_same_volumes() -> None:
    """A bait that filled a cavity of 5.612 ml and shrank by 6.5 % weighs 5.612 x 0.935 x 1.03 = 5.405 g."""
    drawn = DRAWN.volumes
    grams = 1.03 * 0.935
    weighed = _weighed(
        bait_g=drawn.bait_ml * grams,
        shell_g=(drawn.bait_ml - drawn.rod_ml) * grams,
        tail_g=drawn.tail_ml * grams,
        runner_g=drawn.runner_ml * grams,
    ).volumes
    assert weighed.bait_ml == pytest.approx(drawn.bait_ml)
    assert weighed.tail_ml == pytest.approx(drawn.tail_ml)
    assert weighed.rod_ml == pytest.approx(drawn.rod_ml)
    assert weighed.runner_ml == pytest.approx(drawn.runner_ml)


def test_without_a_weighed_shell_the_rod_is_reckoned_from_its_size() -> None:
    assert _weighed().volumes.rod_ml == pytest.approx(0.628, abs=1e-3)


def test_without_rods_there_is_no_rod_to_reckon() -> None:
    assert replace(DRAWN, rods=None).volumes.rod_ml == 0
    assert replace(_weighed(), rods=None).volumes.rod_ml == 0


def test_sound_moulds_have_no_faults() -> None:
    for mould in (DRAWN, _weighed(), _weighed(shell_g=5.0, tail_g=0.9), replace(DRAWN, rods=None)):
        assert list(mould.faults()) == []


def test_a_weighed_tail_asks_for_its_thickness() -> None:
    mould = replace(_weighed(tail_g=0.9), section=Section(body_mm=10.0, gate_mm=4.0))
    assert [fault.key for fault in mould.faults()] == ["section.tail"]


@pytest.mark.parametrize(
    ("rods", "tail", "passage_mm"),
    [(True, True, 2.5), (True, False, 3.0), (False, True, 2.5), (False, False, 4.0)],
)
def test_the_thinnest_way_is_tail_or_wall_and_else_the_gate(rods: bool, tail: bool, passage_mm: float) -> None:
    """A tail of 2.5 mm, a wall of (10 - 4) / 2 mm round the rods, a gate of 4 mm."""
    assert DRAWN.passage_mm(rods=rods, tail=tail) == passage_mm


def test_a_passage_that_the_maker_measured_is_the_thinnest_way() -> None:
    measured = replace(DRAWN, section=replace(DRAWN.section, passage_mm=1.2))
    assert measured.passage_mm(rods=True, tail=True) == 1.2
