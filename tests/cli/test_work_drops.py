"""``work drops``: the drop weighed, and one dose in every measure."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run


def test_twenty_drops_weighed_together(capsys: pytest.CaptureFixture[str]) -> None:
    assert data('drops --weighed "0.72 g"', capsys) == {"drop_g": pytest.approx(0.036)}
    assert data('drops --weighed "0.72 g" --drops 24', capsys) == {"drop_g": pytest.approx(0.03)}


@pytest.mark.parametrize("dose", ['--load "0.3 %"', '--grams "0.75 g"', "--count 25"])
def test_a_dose_in_every_measure(dose: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = data(f'drops --drop "0.03 g" --cup "250 g" --rho "1.2 g/ml" {dose}', capsys)
    assert found["load_pct"] == pytest.approx(0.3)
    assert found["g"] == pytest.approx(0.75)
    assert found["drops"] == pytest.approx(25.0)
    # A US teaspoon is a sixth of a fluid ounce, a cup 8 of them, a gallon 231 cubic inches (NIST SP 811).
    teaspoon_ml = 231 * 2.54**3 / 128 / 6
    assert found["teaspoons"] == pytest.approx(0.75 / 1.2 / teaspoon_ml)
    assert found["tablespoons"] == pytest.approx(found["teaspoons"] / 3)
    assert found["cups"] == pytest.approx(found["fluid_ounces"] / 8)


def test_without_a_weighing_it_says_what_it_starts_from(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines('drops --cup "250 g" --load "0.1 %"', capsys)
    assert "starting value until you weigh twenty" in printed[0]
    assert printed[-1] == "Weigh first: drops and spoons are hints."


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        ('--weighed "0.7 g" --drop "0.03 g"', "give one of them"),
        ("--drops 20", "give --weighed with it"),
        ('--weighed "0.7 g" --drops 0', "weigh at least one"),
        ('--cup "250 g"', "give --cup with one of --load, --grams and --count"),
        ('--load "1 %"', "give --cup with one of"),
        ('--rho "1 g/ml"', "--rho tells spoons of a dose"),
        ('--cup "10 g" --grams "11 g"', "does not fit into a cup"),
        ('--cup "10 g" --count 0', "--count: found 0"),
    ],
)
def test_flags_that_do_not_go_together(flags: str, words: str) -> None:
    with pytest.raises(BenchError) as caught:
        run(f"drops {flags}")
    assert words in str(caught.value)
