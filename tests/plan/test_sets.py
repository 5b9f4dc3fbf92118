"""Set times read between solutions, against solutions of their own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.mould import Section
from bench.model.recipe import Build, Tail
from bench.plan.records import Ask, Shot
from bench.plan.scope import Scope, settle
from bench.plan.sets import SetTimes, coolings_of, solve
from tests.plan.bench_records import MOULD, PLASTIC, STATION, recipe

THICK = replace(MOULD, section=Section(body_mm=16.0, gate_mm=6.0, tail_mm=3.0))


def scope_of(tail: Tail = Tail.CUT, mould: object = MOULD) -> Scope:
    assert mould in (MOULD, THICK)
    return settle(
        recipe=recipe(Build.CORE, tail),
        mould=THICK if mould is THICK else MOULD,
        plastic=PLASTIC,
        station=STATION,
        ask=Ask(count=20),
    )


@pytest.mark.parametrize("mould", [MOULD, THICK])
@pytest.mark.parametrize("shot", list(Shot))
@pytest.mark.parametrize("mould_c", [25.0, 38.3, 46.9, 53.1, 57.7])
@pytest.mark.parametrize("shell_c", [31.3, 52.6])
def test_reading_between_nodes_is_within_a_third_of_a_percent(
    mould: object, shot: Shot, mould_c: float, shell_c: float
) -> None:
    scope = scope_of(mould=mould)
    read = SetTimes(scope).of(shot, mould_c=mould_c, shell_c=shell_c if shot is Shot.CORE else None)
    solved = solve(coolings_of(scope), scope, shot, mould_c=mould_c, shell_c=shell_c)
    assert read.set_s == pytest.approx(solved.set_s, rel=0.003)
    assert read.hold_s == pytest.approx(solved.hold_s, rel=0.003)
    assert read.tail_s == pytest.approx(solved.tail_s, rel=0.003)
    assert read.mean_c == pytest.approx(solved.mean_c, abs=0.2)
    assert read.hold_mean_c == pytest.approx(solved.hold_mean_c, abs=0.3)


@pytest.mark.parametrize("shot", list(Shot))
def test_a_hotter_mould_never_sets_sooner(shot: Shot) -> None:
    sets = SetTimes(scope_of())
    shell_c = 45.0 if shot is Shot.CORE else None
    times = [sets.of(shot, mould_c=20.0 + 0.5 * step, shell_c=shell_c).set_s for step in range(79)]
    assert times == sorted(times)


def test_a_warmer_shell_keeps_its_core_longer() -> None:
    sets = SetTimes(scope_of())
    times = [sets.of(Shot.CORE, mould_c=45.0, shell_c=20.0 + step).set_s for step in range(40)]
    assert times == sorted(times)
    assert times[-1] > times[0]


def test_the_core_fills_the_tail_only_where_it_was_cut() -> None:
    cut = SetTimes(scope_of(Tail.CUT)).of(Shot.CORE, mould_c=45.0, shell_c=45.0)
    kept = SetTimes(scope_of(Tail.KEPT)).of(Shot.CORE, mould_c=45.0, shell_c=45.0)
    assert cut.tail_s is not None
    assert kept.tail_s is None


def test_ten_millimetres_set_in_about_two_minutes() -> None:
    # Common practice, no source: 10 mm about 2 min, a body of 1 to 5 min in a mould of 45 to 60 degC.
    cooling = SetTimes(scope_of()).of(Shot.WHOLE, mould_c=45.0)
    assert 90.0 < cooling.set_s < 150.0


def test_a_mould_where_nothing_sets_is_refused() -> None:
    with pytest.raises(BenchError, match="Leech would come to 60 °C, and Soft leaves the mould at 60 °C"):
        SetTimes(scope_of()).of(Shot.WHOLE, mould_c=60.0)
