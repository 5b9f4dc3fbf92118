"""Cooling of shots: the trade's round figures, the awkward cases, and what must hold for any section."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.physics.cooling import SOFT_PLASTISOL, Cooling, Coolings, Section, cool_core, cool_shell, cool_solid

SECTION = Section(body_mm=10.0, rod_mm=3.2, tail_mm=3.0, gate_mm=4.0)


def solid(*, body_mm: float = 10.0, mould_c: float = 45.0, open_c: float = 60.0, shot_c: float = 165.0) -> Cooling:
    section = Section(body_mm=body_mm, gate_mm=4.0)
    return cool_solid(section, SOFT_PLASTISOL, shot_c=shot_c, mould_c=mould_c, open_c=open_c)


@pytest.mark.parametrize(("body_mm", "minutes"), [(6, 0.6), (8, 1.1), (10, 1.8), (12, 2.6), (15, 4.0), (20, 7.0)])
def test_a_plain_body_takes_about_what_the_trade_says(body_mm: float, minutes: float) -> None:
    # Common practice, no source: "a minute or two" to "a few minutes" at a mould of 45 to 60 degC, after which
    # minutes = (mm / 7.5) squared was fitted. Opened at 90 degC or at 60 degC brackets that fit.
    soft_s = solid(body_mm=body_mm, mould_c=50.0, open_c=90.0).set_s
    firm_s = solid(body_mm=body_mm, mould_c=50.0, open_c=60.0).set_s
    assert soft_s < 60 * minutes < firm_s


def test_every_time_and_mean_of_a_solid_body() -> None:
    cooling = cool_solid(SECTION, SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)
    assert cooling.tail_s is not None
    assert cooling.hold_s < cooling.tail_s < cooling.body_s == cooling.set_s
    assert 45.0 < cooling.mean_c < 60.0 < cooling.hold_mean_c < 165.0


def test_a_thick_tail_sets_last() -> None:
    section = Section(body_mm=6.0, tail_mm=9.0, gate_mm=3.0)
    cooling = cool_solid(section, SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)
    assert cooling.set_s == cooling.tail_s
    assert cooling.set_s > cooling.body_s


def test_a_section_without_tail_has_no_tail_time() -> None:
    cooling = solid()
    assert cooling.tail_s is None
    assert cooling.set_s == cooling.body_s


def test_a_rod_takes_heat_out_of_the_shell_and_sets_it_sooner() -> None:
    shell = cool_shell(SECTION, SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)
    whole = cool_solid(SECTION, SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)
    assert shell.body_s < whole.body_s
    assert shell.hold_s == whole.hold_s


def test_a_rod_that_warms_up_is_slower_than_a_wall_of_half_the_thickness() -> None:
    # A cold wall on both sides would set a shell of 3.4 mm like a slab of 3.4 mm.
    as_slab = Section(body_mm=10.0, rod_mm=3.2, tail_mm=3.4, gate_mm=4.0)
    shell = cool_shell(as_slab, SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)
    assert shell.tail_s is not None
    assert shell.body_s > 2 * shell.tail_s


def test_a_warmer_shell_keeps_its_core_hot_longer() -> None:
    cold, warm = (
        cool_core(SECTION, SOFT_PLASTISOL, shot_c=170.0, shell_c=shell_c, mould_c=45.0).body_s
        for shell_c in (25.0, 55.0)
    )
    assert cold < warm


def test_one_march_answers_for_every_mould_as_one_of_its_own_would() -> None:
    # To the last moment that anyone could tell apart: a tenth of a second.
    coolings = Coolings(SECTION, SOFT_PLASTISOL)
    for mould_c in (57.0, 20.0, 33.3, 49.9, 45.0):
        for shot_c in (160.0, 175.0):
            solid = coolings.solid(shot_c=shot_c, mould_c=mould_c)
            shell = coolings.shell(shot_c=shot_c, mould_c=mould_c)
            core = coolings.core(shot_c=shot_c, shell_c=40.0, mould_c=mould_c)
            at = {"shot_c": shot_c, "mould_c": mould_c}
            for found, expected in (
                (solid, cool_solid(SECTION, SOFT_PLASTISOL, **at)),
                (shell, cool_shell(SECTION, SOFT_PLASTISOL, **at)),
                (core, cool_core(SECTION, SOFT_PLASTISOL, shell_c=40.0, **at)),
            ):
                assert found.set_s == pytest.approx(expected.set_s, abs=0.1)
                assert found.hold_s == pytest.approx(expected.hold_s, abs=0.1)
                assert found.mean_c == pytest.approx(expected.mean_c, abs=0.02)


def test_plastic_already_firm_takes_no_time() -> None:
    assert solid(shot_c=55.0).set_s == 0.0


@pytest.mark.parametrize("mould_c", [60.0, 80.0])
def test_a_mould_too_hot_to_set_anything_is_refused(mould_c: float) -> None:
    with pytest.raises(BenchError, match=f"a mould at {mould_c:g} °C never lets the plastic fall to 60 °C"):
        solid(mould_c=mould_c)


def test_core_work_needs_a_rod() -> None:
    with pytest.raises(BenchError, match="diameter of the rod"):
        cool_shell(Section(body_mm=10.0, gate_mm=4.0), SOFT_PLASTISOL, shot_c=165.0, mould_c=45.0)


def test_a_rod_must_leave_a_wall() -> None:
    with pytest.raises(BenchError, match="leaves no wall"):
        Section(body_mm=5.0, rod_mm=5.0, gate_mm=4.0)


@settings(max_examples=20, deadline=None)
@given(body_mm=st.floats(3.0, 25.0), mould_c=st.floats(0.0, 57.0), warmer_k=st.floats(0.1, 2.0))
def test_a_hotter_mould_never_sets_faster(body_mm: float, mould_c: float, warmer_k: float) -> None:
    section = Section(body_mm=body_mm, rod_mm=body_mm / 3, gate_mm=3.0)
    for cool in (cool_solid, cool_shell):
        cold, hot = (
            cool(section, SOFT_PLASTISOL, shot_c=165.0, mould_c=each) for each in (mould_c, mould_c + warmer_k)
        )
        assert hot.set_s > cold.set_s
        assert hot.hold_s > cold.hold_s


@settings(max_examples=20, deadline=None)
@given(body_mm=st.floats(2.0, 25.0), thicker=st.floats(1.01, 2.0), mould_c=st.floats(0.0, 55.0))
def test_a_thicker_body_never_sets_sooner(body_mm: float, thicker: float, mould_c: float) -> None:
    thin, thick = (solid(body_mm=each, mould_c=mould_c).set_s for each in (body_mm, body_mm * thicker))
    assert thick > thin
