"""Ranking cores for a third colour."""

from __future__ import annotations

from bench.colour.cores import ranked_cores
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
    ranked = ranked_cores(shell=shell, base=BASE, cores=cores, section=Section(body_mm=9.5, core_mm=3.5))
    thirds = [each.views.third_colour for each in ranked]
    assert thirds == sorted(thirds, reverse=True)
    assert {each.name for each in ranked} == set(cores)
    assert ranked[0].name == "blue"
    assert ranked[-1].name == "shell"
    assert ranked[-1].views.third_colour < 0.1
