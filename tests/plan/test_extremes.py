"""Figures of any size, as a forgotten or mistaken unit makes them: a plan, or a sentence on why there is none."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.errors import BenchError
from bench.model.library import Library
from bench.model.recipe import Build
from bench.model.station import Heater, Warming
from bench.plan.make import make_plan
from bench.plan.records import Ask
from bench.session.prepare import prepare
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, recipe

_SIZES = st.sampled_from([1e-300, 1e-30, 1e-6, 1e-2, 1.0, 1e2, 1e4, 1e8, 1e30, 1e150, 1e300])
_OF_MOULD = ("mass_g", "area_m2", "loss_w_m2k", "heat_capacity_j_kgk", "wall_conductance_w_m2k")
_OF_PLASTIC = ("density_kg_m3", "conductivity_w_mk", "heat_capacity_j_kgk", "expansion_per_k")
_RECIPE = recipe(Build.CORE)


@st.composite
def _benches(draw: st.DrawFn) -> Library:
    """The usual bench with one to three of its figures of another size, as far as it has no faults then."""
    mould, plastic, station = MOULD, PLASTIC, STATION
    for _ in range(draw(st.integers(1, 3))):
        size = draw(_SIZES)
        match draw(st.integers(0, 4)):
            case 0:
                changed: Any = {draw(st.sampled_from(_OF_MOULD)): size}
                mould = replace(mould, **changed)
            case 1:
                changed = {draw(st.sampled_from(_OF_PLASTIC)): size}
                plastic = replace(plastic, **changed)
            case 2:
                station = replace(station, heater=Heater(absorbed_w=size))
            case 3:
                station = replace(station, warming=Warming(absorbed_w=size))
            case _:
                station = replace(station, pace=replace(station.pace, shot_s=size))
    assume(not [*mould.faults(), *plastic.faults(), *station.faults()])
    return Library(
        moulds={"leech": mould},
        plastics={"soft": plastic},
        stations={"quillmere-bench": station},
        recipes={_RECIPE.name: _RECIPE},
        colourants=COLOURANTS,
    )


@settings(max_examples=25, deadline=None)
@given(bench=_benches())
def test_a_session_is_made_or_refused_in_a_sentence_whatever_the_size_of_a_figure(bench: Library) -> None:
    try:
        session = prepare(bench, recipe=_RECIPE.name, mould="leech", ask=Ask(count=4))
    except BenchError:
        return
    assert math.isfinite(session.job.plan.total_s)


@settings(max_examples=25, deadline=None)
@given(bench=_benches())
def test_a_plan_is_made_or_refused_in_a_sentence_whatever_the_size_of_a_figure(bench: Library) -> None:
    try:
        plan = make_plan(
            recipe=_RECIPE,
            mould=bench.mould("leech"),
            plastic=bench.plastic("soft"),
            station=bench.station(),
            colourants=COLOURANTS,
            ask=Ask(count=4),
        )
    except BenchError:
        return
    assert math.isfinite(plan.total_s)
