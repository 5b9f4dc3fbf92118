"""The joint of core and shell, and the shell lying out in air."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.bonding import AIR_FILM_W_M2K, bonds_for_s, coldest_shell_c, joint_c, shell_in_air_c
from bench.physics.conduction import Layer, Shape, Transient
from bench.physics.substance import SOFT_PLASTISOL

SHELL = {"body_mm": 10.0, "bore_mm": 3.2}


def test_the_joint_is_half_way_between_core_and_shell() -> None:
    # Equal effusivities: Carslaw & Jaeger.
    assert joint_c(SOFT_PLASTISOL, core_c=170.0, shell_c=40.0) == pytest.approx(105.0)
    assert joint_c(SOFT_PLASTISOL, core_c=160.0, shell_c=coldest_shell_c(core_c=160.0)) == pytest.approx(90.0)


def test_a_shell_in_air_cools_as_a_wall_insulated_on_one_face() -> None:
    # A wide thin tube is nearly a flat wall: the estimate against the conduction of that wall.
    body_mm, wall_mm = 200.0, 3.4
    wall = Transient(
        [Layer(thickness_mm=wall_mm, substance=SOFT_PLASTISOL, start_c=58.0)],
        shape=Shape.SLAB,
        around_c=22.0,
        film_w_m2k=AIR_FILM_W_M2K,
    )
    for seconds in (120.0, 300.0, 600.0):
        found_c = shell_in_air_c(
            SOFT_PLASTISOL,
            body_mm=body_mm,
            bore_mm=body_mm - 2 * wall_mm,
            start_c=58.0,
            seconds=seconds,
            room_c=22.0,
        )
        assert found_c == pytest.approx(wall.mean_c(seconds, layer=0), abs=0.6)


def test_the_clock_of_a_shell_ends_where_the_joint_is_just_warm_enough() -> None:
    seconds = bonds_for_s(SOFT_PLASTISOL, **SHELL, start_c=58.0, core_c=150.0, room_c=22.0)
    assert seconds is not None
    assert seconds > 0
    shell_c = shell_in_air_c(SOFT_PLASTISOL, **SHELL, start_c=58.0, seconds=seconds, room_c=22.0)
    assert joint_c(SOFT_PLASTISOL, core_c=150.0, shell_c=shell_c) == pytest.approx(90.0)


def test_a_core_hot_enough_bonds_to_a_shell_as_cold_as_the_room() -> None:
    assert bonds_for_s(SOFT_PLASTISOL, **SHELL, start_c=58.0, core_c=170.0, room_c=22.0) is None


def test_a_shell_too_cold_already_has_no_time() -> None:
    assert bonds_for_s(SOFT_PLASTISOL, **SHELL, start_c=30.0, core_c=140.0, room_c=22.0) == 0.0


def test_a_shell_has_a_wall() -> None:
    with pytest.raises(BenchError, match="leaves no wall"):
        shell_in_air_c(SOFT_PLASTISOL, body_mm=5.0, bore_mm=5.0, start_c=58.0, seconds=1.0, room_c=22.0)
