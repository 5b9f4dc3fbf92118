"""What flake in a part comes to, and the load that a wanted cover or number takes."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import pytest

from bench.errors import BenchError
from bench.model.recipe import Part, Tail
from bench.model.swatch import FlakeCut
from bench.plan.flakes import FlakePlace, flake_place
from bench.plan.look import section_of
from tests.tui.at_the_bench import shelf

CUT = FlakeCut(size_mm=1.016, colour="#c0c0c0")
PLACE = FlakePlace(cut=CUT, depth_mm=3.0, bait_g=10.0, density_kg_m3=1000.0)


def test_the_number_in_a_bait_is_that_of_its_flake_by_weight() -> None:
    # 31,684 flakes to the gram at 0.040 in across flats and 0.001 in film of 1.39 g/ml, computed; 0.1 % of 10 g.
    assert PLACE.count(0.1) == pytest.approx(316.84, rel=1e-4)
    assert PLACE.load_for_count(200) == pytest.approx(0.1 * 200 / 316.84, rel=1e-4)


def test_the_cover_of_a_wall_follows_the_law_of_coverage_both_ways() -> None:
    # Boolean model (Hall 1988): 1 - exp(-eta); 1 g of film shows 14,160 mm2 at random, in 100 ml, through 3 mm.
    assert PLACE.covers(1.0) == pytest.approx(1 - math.exp(-14160 / 100e3 * 3.0), rel=1e-3)
    for load_pct in (0.01, 0.3, 4.0):
        assert PLACE.load_for_cover(PLACE.covers(load_pct)) == pytest.approx(load_pct)


def test_what_no_cup_can_hold_is_refused() -> None:
    for load in (
        partial(PLACE.load_for_cover, 1.0),
        partial(PLACE.load_for_cover, -0.1),
        partial(PLACE.load_for_count, 1e9),
        partial(PLACE.load_for_count, math.nan),
    ):
        with pytest.raises(BenchError):
            load()


def test_a_bait_holds_of_a_shell_neither_the_rod_nor_a_tail_that_is_cut() -> None:
    recipe, mould = shelf().recipes["ember-under-peat"], shelf().moulds["ribbon-leech-4"]
    plastic, volumes = shelf().plastic(recipe.plastic), mould.volumes

    def bait_g(part: Part, tail: Tail) -> float:
        place = flake_place(
            replace(recipe, tail=tail),
            part,
            CUT,
            mould=mould,
            section=section_of(mould, with_core=True),
            plastic=plastic,
        )
        assert place.depth_mm == 3.0, "the wall of a body of 10 mm over a rod of 4 mm"
        return place.bait_g

    g_per_ml = plastic.density_kg_m3 / 1000
    assert bait_g(Part.SHELL, Tail.KEPT) == pytest.approx((volumes.bait_ml - volumes.rod_ml) * g_per_ml)
    whole = volumes.bait_ml * g_per_ml
    for tail in Tail:
        assert bait_g(Part.SHELL, tail) + bait_g(Part.CORE, tail) == pytest.approx(whole)
    assert bait_g(Part.SHELL, Tail.CUT) < bait_g(Part.SHELL, Tail.KEPT)
