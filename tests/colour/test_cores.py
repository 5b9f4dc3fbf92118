"""Ranking cores for a third colour."""

from __future__ import annotations

import pytest

from bench.colour.cores import Ranking, Reads, hue_off_degrees, ranked_cores
from bench.colour.lab import Lab
from bench.colour.mix import Loaded, mix
from bench.colour.views import Section
from tests.colour.media import ALL, BASE, OLIVE_DYE


def test_the_strongest_third_colour_comes_first() -> None:
    shell = mix(BASE, [Loaded(strength=OLIVE_DYE, load_pct=0.08)])
    cores = {
        name: mix(BASE, [Loaded(strength=ALL[name], load_pct=0.5), Loaded(strength=ALL["white"], load_pct=0.1)])
        for name in ("blue", "red", "yellow")
    }
    cores["shell"] = shell
    section = Section(body_mm=9.5, core_mm=3.5)
    ranked = ranked_cores(shell=shell, base=BASE, cores=cores, section=section, by=Ranking.THIRD)
    order = [(each.reads is not Reads.THIRD, -each.views.third_colour) for each in ranked]
    assert order == sorted(order)
    assert {each.name for each in ranked} == set(cores)
    assert ranked[0].name == "blue"
    assert ranked[-1].name == "shell"
    assert ranked[-1].views.third_colour < 0.1


@pytest.mark.parametrize(
    ("one", "other", "degrees"),
    [
        ((50, 30, 0), (50, 0, 30), 90.0),
        ((50, 30, 1), (60, 30, -1), 3.8),
        ((50, 30, 0), (50, -30, 0), 180.0),
        ((50, 1, 1), (90, -2, 2), 0.0),
        ((50, 1, 1), (90, 40, 2), 180.0),
    ],
)
def test_hues_are_told_apart_by_their_angle_and_greys_have_none(
    one: tuple[float, float, float], other: tuple[float, float, float], degrees: float
) -> None:
    assert hue_off_degrees(Lab(*one), Lab(*other)) == pytest.approx(degrees, abs=0.05)
    assert hue_off_degrees(Lab(*other), Lab(*one)) == pytest.approx(degrees, abs=0.05)


def test_the_one_that_shows_best_comes_first_unless_asked_otherwise() -> None:
    shell = mix(BASE, [Loaded(strength=OLIVE_DYE, load_pct=0.08)])
    cores = {name: mix(BASE, [Loaded(strength=ALL[name], load_pct=0.5)]) for name in ("blue", "red", "white")}
    ranked = ranked_cores(shell=shell, base=BASE, cores=cores, section=Section(body_mm=9.5, core_mm=3.5))
    shows = [each.views.visibility for each in ranked]
    assert shows == sorted(shows, reverse=True)
