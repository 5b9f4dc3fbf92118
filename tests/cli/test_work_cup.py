"""``work cup`` gives what the physics gives."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.cup import Cup, loss_w_m2k, seconds_until
from tests.cli.work_runs import data, lines, run

CUP = '--mass "200 g" --start "175 degC" --room "22 degC" --diameter "80 mm" --height "40 mm"'


def test_the_worked_cup(capsys: pytest.CaptureFixture[str]) -> None:
    # 115 s and 202 s computed with ht's correlations; within 5 %.
    for until, expected_s in (("160 degC", 115.0), ("150 degC", 202.0)):
        found = data(f'cup {CUP} --until "{until}"', capsys)
        assert set(found) == {"seconds", "loss_w_m2k"}
        assert found["seconds"] == pytest.approx(expected_s, rel=0.05)
        assert 19.0 < found["loss_w_m2k"] < 24.0


def test_a_vessel_and_another_plastic(capsys: pytest.CaptureFixture[str]) -> None:
    cup = Cup(
        mass_g=200.0,
        c_j_kgk=1600.0,
        diameter_mm=80.0,
        height_mm=40.0,
        vessel_mass_g=250.0,
        vessel_c_j_kgk=830.0,
    )
    flags = '--c "1600 J/kg/K" --vessel-mass "0.25 kg" --vessel-c "0.83 kJ/kg/K"'
    found = data(f'cup {CUP} --until "160 degC" {flags}', capsys)
    assert found["seconds"] == pytest.approx(seconds_until(cup, start_c=175.0, until_c=160.0, room_c=22.0))
    assert found["loss_w_m2k"] == pytest.approx(loss_w_m2k(cup, at_c=175.0, room_c=22.0))


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f'cup {CUP} --until "160 degC"', capsys)
    assert printed[0].startswith("From 175 °C (347 °F) to 160 °C (320 °F): 1 min 57 s")
    # By hand: 200 g at 1.03 and 1.0 g/ml over 50.3 cm2.
    assert "So much plastic stands 39 to 40 mm high in it, cold." in printed


@pytest.mark.parametrize(
    ("flags", "sentence"),
    [
        ('--until "22 degC"', "never cools to 22 °C"),
        ('--until "160 degC" --vessel-mass "200 g"', "--vessel-mass and --vessel-c go together"),
        # By hand: 250 g at 1.03 and 1.0 g/ml over a disc of 80 mm, 50.3 cm2.
        (
            '--until "160 degC" --mass "250 g" --height "5 mm"',
            "250 g of plastic stand 48 to 50 mm high in a cup of 80 mm, and --height says 5 mm",
        ),
    ],
)
def test_what_cannot_be_is_refused(flags: str, sentence: str) -> None:
    with pytest.raises(BenchError, match=sentence):
        run(f"cup {CUP} {flags}")


def test_a_height_that_is_one_whole_millimetre_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: 55 g at 1.03 and 1.0 g/ml over 50.3 cm2 stand 10.6 and 10.9 mm high."""
    printed = lines(f'cup {CUP} --until "160 degC" --mass "55 g"', capsys)
    assert "So much plastic stands 11 mm high in it, cold." in printed
