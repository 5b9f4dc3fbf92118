"""``work flake`` against geometry."""

from __future__ import annotations

import math

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run

FLAKE = 'flake --grams "1.5 g" --size "0.040 in" --film "0.001 in" --plastic "250 g" --wall "3 mm"'


def test_count_and_coverage_by_hand(capsys: pytest.CaptureFixture[str]) -> None:
    found = data(f'{FLAKE} --rho "1.03 g/ml"', capsys)
    # Computed: regular hexagons of 1.016 mm across flats, 0.0254 mm thick, 1.39 g/ml: 31,684 to the gram.
    assert found["count_per_g"] == pytest.approx(31_684, abs=1)
    # Half the face in the mean (Cauchy): 1.5 g x 283.2 cm2/g / 2 in 250 g / 1.03 g/ml, through 3 mm.
    eta = 0.5 * 1.5 * 28_324 / (250 / 1.03 * 1000) * 3
    assert found["eta"] == pytest.approx(eta, rel=1e-3)
    assert found["covered"] == pytest.approx(1 - math.exp(-eta), rel=1e-3)
    assert found.keys() == {"count_per_g", "eta", "covered"}


def test_the_size_of_the_flakes_does_not_change_what_they_cover(capsys: pytest.CaptureFixture[str]) -> None:
    small = data(FLAKE.replace("0.040 in", "0.015 in"), capsys)
    assert small["covered"] == pytest.approx(data(FLAKE, capsys)["covered"])
    assert small["count_per_g"] == pytest.approx(225_305, abs=1)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(FLAKE, capsys)
    assert printed[0] == "About 31,684 flakes to the gram, 47,525 in this cup."
    assert "stir before each filling" in printed[-1]


def test_no_plastic_is_refused() -> None:
    with pytest.raises(BenchError, match="--plastic"):
        run(FLAKE.replace("250 g", "0 g"))
