"""What goes into the cup."""

from __future__ import annotations

import pytest

from bench.colour.bands import flat
from bench.colour.mix import Loaded, added, mix, scaled
from bench.errors import BenchError
from tests.colour.media import BASE, BLUE, PEARL


def test_loads_add_up_band_by_band() -> None:
    doses = [Loaded(strength=BLUE, load_pct=0.5), Loaded(strength=PEARL, load_pct=0.2)]
    mixed = mix(BASE, doses)
    at = 23
    assert mixed.k_per_mm[at] == pytest.approx(BASE.k_per_mm[at] + 0.5 * BLUE.k_per_mm_pct[at] + 0.2 * 0.02)
    assert mixed.s_per_mm[at] == pytest.approx(BASE.s_per_mm[at] + 0.5 * BLUE.s_per_mm_pct[at] + 0.2 * 3.0)
    assert scaled(BASE, added(doses), 2.0).s_per_mm[at] == pytest.approx(
        2 * mixed.s_per_mm[at] - BASE.s_per_mm[at]
    )
    assert mix(BASE) == BASE
    assert added([]).k_per_mm == flat(0.0)


@pytest.mark.parametrize(("loads", "words"), [((-1.0,), "less than nothing"), ((60.0, 60.0), "120 % together")])
def test_impossible_loads_are_refused_by_name(loads: tuple[float, ...], words: str) -> None:
    with pytest.raises(BenchError, match=f"loads: .*{words}"):
        mix(BASE, [Loaded(strength=BLUE, load_pct=load) for load in loads])
