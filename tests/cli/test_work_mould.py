"""``work mould`` gives what the physics gives."""

from __future__ import annotations

import math

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run

MOULD = (
    'mould --mould-mass "1.5 kg" --shot-mass "60 g" --shot "165 degC" --mean-open "60 degC" --cycle "4 min" '
    '--start "25 degC" --room "22 degC" --area "600 cm2"'
)


def test_each_round_is_the_shot_then_the_loss(capsys: pytest.CaptureFixture[str]) -> None:
    found = data(f"{MOULD} --rounds 3", capsys)
    assert set(found) == {"rounds", "warning"}
    assert [each["round"] for each in found["rounds"]] == [1, 2, 3]
    # by hand: 60 g x 1800 x 105 K into 1500 g x 896, then exp(-U A t / C) with 8 W/m2/K over 0.06 m2
    rise_k, kept = 60 * 1800 * 105 / (1500 * 896), math.exp(-8 * 0.06 * 240 / 1344)
    expected_c = 25.0
    for each in found["rounds"]:
        assert each["mould_c"] == pytest.approx(expected_c)
        expected_c = 22 + (expected_c + rise_k - 22) * kept


def test_other_metal_loss_and_plastic(capsys: pytest.CaptureFixture[str]) -> None:
    flags = '--mould-c "900 J/kg/K" --loss "0.001 W/m2/K" --c "2000 J/kg/K"'
    found = data(f"{MOULD} --rounds 2 {flags}", capsys)
    assert found["rounds"][1]["mould_c"] == pytest.approx(25 + 60 * 2000 * 105 / (1500 * 900), abs=0.01)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f"{MOULD} --rounds 2", capsys)
    assert printed[0] == "Before shot   1: 25 °C (77 °F)"
    assert "settles at" in printed[2]


@pytest.mark.parametrize("rounds", ["0", "1000000"])
def test_a_count_out_of_bounds_is_refused(rounds: str) -> None:
    with pytest.raises(BenchError, match="wanted a count from 1 to 1000"):
        run(f"{MOULD} --rounds {rounds}")


def test_a_mould_in_which_baits_never_set_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    # By hand: 60 g x 1800 x 105 K every 60 s against 8 W/m2/K over 0.06 m2 settles far above the room.
    fast = MOULD.replace('"4 min"', '"1 min"')
    warning = data(f"{fast} --rounds 2", capsys)["warning"]
    # By hand, without what a shot itself loses: 60 x 1800 x 105 K / 1344 J/K, kept by exp(-0.48 x 60 / 1344).
    kept = math.exp(-8 * 0.06 * 60 / 1344)
    settles_c = 22 + 60 * 1800 * 105 / 1344e3 * kept / (1 - kept)
    assert warning.startswith(f"A mould at {settles_c:.0f} °C (")
    assert ") is not below 60 °C (140 °F), at which baits open: in it they never set." in warning
    printed = lines(f"{fast} --rounds 2", capsys)
    places = [printed.index(warning) - 1, printed.index(warning), printed.index(warning) + 1]
    assert [("settles" in printed[places[0]]), ("window" in printed[places[2]])] == [True, True]
    assert data(f'{fast} --rounds 2 --open "900 degC"', capsys)["warning"] is None


def test_the_shot_that_leaves_the_window_and_the_beat_that_stays_in_it(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f"{MOULD} --rounds 2", capsys)
    # by hand: a shot adds 60 x 1800 x 105 / 1344 J/K = 8.44 K, 240 s lose all but exp(-8 x 0.06 x 240 / 1344)
    rise_k, kept, at_c, shot = 60 * 1800 * 105 / 1344e3, math.exp(-8 * 0.06 * 240 / 1344), 25.0, 1
    while at_c <= 60:
        at_c, shot = 22 + (at_c + rise_k - 22) * kept, shot + 1
    said = next(each for each in printed if "upper end of its window" in each)
    assert said.startswith(f"Shot {shot} is the first to meet it over 60 °C (140 °F)")
    beat_min = 1344 / (8 * 0.06) * math.log(1 + rise_k / 38) / 60
    assert f"With {int(beat_min)} min" in said
    slow = MOULD.replace('"4 min"', f'"{beat_min + 0.01} min"')
    assert not any("window" in each for each in lines(f"{slow} --rounds 2", capsys))
    assert any("over 90 °C" in each for each in lines(f'{MOULD} --rounds 2 --warmest "90 degC"', capsys))
