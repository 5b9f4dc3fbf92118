"""Shrinkage and top-off."""

from __future__ import annotations

import pytest

from bench.physics.feeding import cavity_mass_g, density_kg_m3, shrink_left_share, top_off_ml

BETA = 6e-4


@pytest.mark.parametrize(("linear_um_mk", "share"), [(160.0, 0.07), (230.0, 0.10)])
def test_whole_shrink_from_shot_to_room(linear_um_mk: float, share: float) -> None:
    # Handbook range of linear expansion of flexible PVC; 7 to 10 % from 171 degC to room computed from it.
    whole = shrink_left_share(beta_per_k=3e-6 * linear_um_mk, mean_hold_c=171.0, room_c=22.0)
    assert whole == pytest.approx(share, abs=0.005)


def test_fed_and_left_add_up_to_the_whole_shrink() -> None:
    fed = top_off_ml(volume_ml=10.0, beta_per_k=BETA, shot_c=165.0, mean_hold_c=110.0) / 10.0
    left = shrink_left_share(beta_per_k=BETA, mean_hold_c=110.0, room_c=22.0)
    assert fed == pytest.approx(6e-4 * 55)
    assert fed + left == pytest.approx(shrink_left_share(beta_per_k=BETA, mean_hold_c=165.0, room_c=22.0))


def test_nothing_cooled_needs_no_feeding() -> None:
    assert top_off_ml(volume_ml=10.0, beta_per_k=BETA, shot_c=60.0, mean_hold_c=60.0) == 0.0
    assert top_off_ml(volume_ml=10.0, beta_per_k=BETA, shot_c=60.0, mean_hold_c=61.0) == 0.0


def test_density_keeps_the_mass_while_the_volume_grows() -> None:
    hot = density_kg_m3(rho_20_kg_m3=1050.0, beta_per_k=BETA, at_c=170.0)
    assert hot == pytest.approx(1050.0 / 1.09)
    assert density_kg_m3(rho_20_kg_m3=1050.0, beta_per_k=BETA, at_c=20.0) == 1050.0


def test_mass_in_the_cavity_is_its_volume_at_the_density_of_the_hold() -> None:
    mass = cavity_mass_g(volume_ml=10.0, rho_20_kg_m3=1050.0, beta_per_k=BETA, mean_hold_c=120.0)
    assert mass == pytest.approx(10.5 / 1.06)
