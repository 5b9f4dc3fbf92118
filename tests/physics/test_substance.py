"""Contact temperatures against textbook values."""

from __future__ import annotations

import pytest

from bench.physics.substance import ALUMINIUM_6061, SOFT_PLASTISOL, STAINLESS, Substance, contact_c

SILICONE = Substance(k_w_mk=0.24, rho_kg_m3=1150.0, c_j_kgk=1200.0)


def with_effusivity(value: float) -> Substance:
    return Substance(k_w_mk=value, rho_kg_m3=value, c_j_kgk=1.0)


def test_skin_on_aluminium() -> None:
    # Cengel & Ghajar, section 4-3: skin 1.1, aluminium 24 kJ/m2/degC/s^0.5; 15.9 degC [from memory], 15.876
    # by the formula.
    met_c = contact_c(one=with_effusivity(1100.0), one_c=35.0, other=with_effusivity(24000.0), other_c=15.0)
    assert met_c == pytest.approx(15.876, abs=1e-3)
    assert met_c == pytest.approx(15.9, abs=0.05)


@pytest.mark.parametrize(("mould", "expected_c"), [(ALUMINIUM_6061, 28.7), (STAINLESS, 34.0), (SILICONE, 93.4)])
def test_hot_plastisol_on_moulds_at_25(mould: Substance, expected_c: float) -> None:
    # Computed from handbook properties with the formula of Carslaw & Jaeger.
    met_c = contact_c(one=SOFT_PLASTISOL, one_c=165.0, other=mould, other_c=25.0)
    assert met_c == pytest.approx(expected_c, abs=0.06)


def test_equal_bodies_meet_half_way() -> None:
    assert contact_c(one=SILICONE, one_c=170.0, other=SILICONE, other_c=30.0) == pytest.approx(100.0)
