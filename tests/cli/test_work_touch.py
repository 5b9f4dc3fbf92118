"""``work touch`` gives what the physics gives."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.substance import SOFT_PLASTISOL
from bench.physics.touch import time_to_touch
from tests.cli.work_runs import data, lines, run

TOUCH = 'touch --body "12 mm" --start "60 degC" --around "20 degC"'


@pytest.mark.parametrize(
    ("flags", "film_w_m2k"), [("--in air", 10.0), ("--in water", 500.0), ('--in water --film "250 W/m2/K"', 250.0)]
)
def test_both_times_in_air_and_water(flags: str, film_w_m2k: float, capsys: pytest.CaptureFixture[str]) -> None:
    expected = time_to_touch(SOFT_PLASTISOL, body_mm=12.0, start_c=60.0, around_c=20.0, film_w_m2k=film_w_m2k)
    assert data(f"{TOUCH} {flags}", capsys) == {
        "brief_s": pytest.approx(expected.brief_s),
        "bare_s": pytest.approx(expected.bare_s),
    }


def test_words_for_people_never_promise_safety(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f"{TOUCH} --in water", capsys)
    assert "not a safe limit" in printed[-1]
    assert "test before you trust" in printed[-1]


def test_water_too_warm_is_refused() -> None:
    with pytest.raises(BenchError, match="never let a bait fall to 43 °C"):
        run('touch --body "12 mm" --start "60 degC" --around "45 degC" --in water')
