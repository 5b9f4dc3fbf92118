"""The skin on the wall against the textbook's half-space and scipy's inverse error function."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import erfinv as scipy_erfinv

from bench.errors import BenchError
from bench.physics.filling import Filling, erfinv, skin_mm, will_fill
from bench.physics.substance import SOFT_PLASTISOL, STAINLESS, Substance


@given(share=st.floats(0.0, 0.999999))
def test_erfinv_is_that_of_the_library(share: float) -> None:
    # scipy.special.erfinv
    assert erfinv(share) == pytest.approx(float(scipy_erfinv(share)), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("share", [-0.1, 1.0])
def test_erfinv_outside_its_range_is_a_defect(share: float) -> None:
    with pytest.raises(ValueError, match="no inverse"):
        erfinv(share)


def test_depth_of_the_textbook() -> None:
    # Incropera 5.6, burial depth: 0.68 m [from memory], 0.6766 without rounding.
    soil = Substance(k_w_mk=0.52, rho_kg_m3=2050.0, c_j_kgk=1840.0)
    depth_m = 1e-3 * skin_mm(soil, seconds=60 * 86400.0, shot_c=20.0, wall_c=-15.0, gel_c=0.0)
    assert depth_m == pytest.approx(0.6766, abs=1e-4)
    assert depth_m == pytest.approx(0.68, abs=5e-3)


def test_depth_of_the_burial_of_pipes() -> None:
    # Cengel 4-6: 0.8009 m by the series; the book reads 0.78 off a chart.
    soil = Substance(k_w_mk=0.4, rho_kg_m3=1.0, c_j_kgk=0.4 / 0.15e-6)
    depth_m = 1e-3 * skin_mm(soil, seconds=90 * 86400.0, shot_c=15.0, wall_c=-10.0, gel_c=0.0)
    assert depth_m == pytest.approx(0.8009, abs=1e-4)
    assert depth_m == pytest.approx(0.78, rel=0.03)


def thin_tail(*, mould_c: float = 40.0, shot_c: float = 165.0, fill_s: float = 3.0) -> Filling:
    return will_fill(SOFT_PLASTISOL, passage_mm=1.5, fill_s=fill_s, shot_c=shot_c, mould_c=mould_c)


def test_the_coldest_mould_leaves_just_half() -> None:
    coldest_c = thin_tail().coldest_mould_c
    assert coldest_c is not None
    assert thin_tail(mould_c=coldest_c).open_fraction == pytest.approx(0.5, rel=1e-6)
    assert thin_tail(mould_c=coldest_c + 1).fills
    assert not thin_tail(mould_c=coldest_c - 1).fills


def test_the_coldest_shot_leaves_just_half() -> None:
    coldest_c = thin_tail().coldest_shot_c
    assert thin_tail(shot_c=coldest_c).open_fraction == pytest.approx(0.5, rel=1e-6)


def test_aluminium_takes_the_face_down_to_nearly_its_own_temperature() -> None:
    # Computed from handbook properties with the formula of Carslaw & Jaeger: 28.7 on 25 degC.
    assert thin_tail(mould_c=25.0).contact_c == pytest.approx(28.7, abs=0.06)


def test_a_wall_above_the_gel_point_grows_no_skin() -> None:
    filling = will_fill(SOFT_PLASTISOL, passage_mm=1.0, fill_s=5.0, shot_c=165.0, mould_c=75.0)
    assert (filling.skin_mm, filling.open_fraction) == (0.0, 1.0)
    assert filling.coldest_shot_c == 75.0


def test_a_wide_passage_fills_from_any_mould_and_an_instant_shot_too() -> None:
    wide = will_fill(SOFT_PLASTISOL, passage_mm=8.0, fill_s=1.0, shot_c=165.0, mould_c=20.0)
    assert wide.coldest_mould_c is None
    assert thin_tail(fill_s=0.0).open_fraction == 1.0
    assert thin_tail(fill_s=0.0).coldest_mould_c is None


def test_a_passage_that_freezes_shut_is_not_open_below_nothing() -> None:
    assert thin_tail(fill_s=60.0).open_fraction == 0.0


def test_a_poorer_conductor_keeps_the_passage_open() -> None:
    steel = will_fill(SOFT_PLASTISOL, passage_mm=1.5, fill_s=3.0, shot_c=165.0, mould_c=40.0, mould=STAINLESS)
    assert steel.open_fraction > thin_tail().open_fraction


def test_gelled_plastic_cannot_be_shot() -> None:
    with pytest.raises(BenchError, match="does not flow"):
        thin_tail(shot_c=75.0)


@given(mould_c=st.floats(0.0, 70.0), warmer_k=st.floats(0.5, 4.0), fill_s=st.floats(0.5, 8.0))
def test_a_warmer_mould_never_closes_the_passage(mould_c: float, warmer_k: float, fill_s: float) -> None:
    cold, warm = (thin_tail(mould_c=each, fill_s=fill_s).skin_mm for each in (mould_c, mould_c + warmer_k))
    assert warm < cold or warm == 0.0
