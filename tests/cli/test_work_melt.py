"""``work melt`` gives what the physics gives."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run

MELT = 'melt --mass "250 g" --power "400 W"'


def test_the_time_and_its_bursts(capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice, no source: 250 g about 66 kJ, 165 s at 400 W absorbed.
    found = data(f'{MELT} --start "22 degC" --to "169 degC"', capsys)
    assert set(found) == {"total_s", "bursts", "warning"}
    assert found["warning"] is None
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


def test_over_the_scorch_limit_comes_a_warning(capsys: pytest.CaptureFixture[str]) -> None:
    warning = (
        "STOP: 340 °C (644 °F) is over the scorch limit, 190 °C (374 °F). Do not heat plastic there: "
        "it breaks down, smokes and gives off hydrogen chloride."
    )
    said = lines(f'{MELT} --start "22 degC" --to "340 degC"', capsys)
    assert said == [warning, "No bursts are told for that."]
    assert data(f'{MELT} --start "22 degC" --to "340 degC"', capsys)["warning"] == warning
    assert data(f'{MELT} --start "22 degC" --to "189 degC"', capsys)["warning"] is None
    own = data(f'{MELT} --start "22 degC" --to "195 degC" --scorch "195 degC"', capsys)["warning"]
    assert own.startswith("STOP: 195 °C (383 °F) is at the scorch limit, 195 °C")
    hot = data(f'{MELT} --start "200 degC" --to "170 degC"', capsys)["warning"]
    assert hot.startswith("STOP: 200 °C"), "what is too hot already"


def test_a_plastic_of_the_shelf_has_its_own_limit_and_heat(capsys: pytest.CaptureFixture[str]) -> None:
    found = data(f'{MELT} --start "20 degC" --to "187 degC" --plastic firm', capsys)
    assert "over the scorch limit, 185 °C" in found["warning"]
    assert found["total_s"] == pytest.approx(0.25 * 1700 * 167 / 400)
    told = data(f'{MELT} --start "20 degC" --to "187 degC" --plastic firm --scorch "190 degC"', capsys)
    assert told["warning"] is None


def test_heating_for_over_an_hour_is_refused() -> None:
    # By hand: 250 g x 1800 J/kg/K x 147 K are 66 150 J: 16 538 s at 4 W and 3482 s at 19 W.
    with pytest.raises(BenchError, match="4 W would take 4 h 36 min, and no cup is heated for over an hour"):
        run('melt --mass "250 g" --power "4 W" --start "22 degC" --to "169 degC"')
    assert run('melt --mass "250 g" --power "19 W" --start "22 degC" --to "169 degC"') == 0
