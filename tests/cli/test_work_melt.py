"""``work melt`` gives what the physics gives."""

from __future__ import annotations

import pytest

from tests.cli.work_runs import data, lines

MELT = 'melt --mass "250 g" --power "400 W"'


def test_the_time_and_its_bursts(capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice, no source: 250 g about 66 kJ, 165 s at 400 W absorbed.
    found = data(f'{MELT} --start "22 degC" --to "169 degC"', capsys)
    assert set(found) == {"total_s", "bursts"}
    assert found["total_s"] == pytest.approx(165.0, rel=0.01)
    assert sum(found["bursts"]) == pytest.approx(found["total_s"])
    assert len(found["bursts"]) > 3


def test_the_vessel_and_the_plastic_count(capsys: pytest.CaptureFixture[str]) -> None:
    flags = '--c "2000 J/kg/K" --vessel-mass "300 g" --vessel-c "830 J/kg/K"'
    found = data(f'{MELT} --start "20 degC" --to "170 degC" {flags}', capsys)
    assert found["total_s"] == pytest.approx((0.25 * 2000 + 0.3 * 830) * 150 / 400)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f'{MELT} --start "22 degC" --to "169 degC"', capsys)
    assert printed[0].startswith("2 min 45 s of heating in all, in bursts of 1 min 39 s,")
    assert "Stir" in printed[1]
    assert lines(f'{MELT} --start "175 degC" --to "169 degC"', capsys) == ["The cup is hot enough."]
