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
    assert found["visibility_factor"] == pytest.approx(math.exp(-eta), rel=1e-3)
    assert found.keys() == {"count_per_g", "eta", "covered", "grams", "load_pct", "visibility_factor"}


def test_the_size_of_the_flakes_does_not_change_what_they_cover(capsys: pytest.CaptureFixture[str]) -> None:
    small = data(FLAKE.replace("0.040 in", "0.015 in"), capsys)
    assert small["covered"] == pytest.approx(data(FLAKE, capsys)["covered"])
    assert small["count_per_g"] == pytest.approx(225_305, abs=1)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(FLAKE, capsys)
    assert printed[2].startswith("A core behind it shows by about 0.7")
    assert printed[0] == "About 31,684 flakes to the gram, 47,525 in this cup."
    assert "stir before each filling" in printed[-1]


def test_from_a_wanted_cover_to_grams_and_back(capsys: pytest.CaptureFixture[str]) -> None:
    wanted = FLAKE.replace('--grams "1.5 g"', '--cover "30 %"')
    found = data(wanted, capsys)
    # By hand: eta = -ln 0.7 = 0.3567 through 3 mm; a gram in 250 g / 1.03 g/ml is 0.5 x 28,324 mm2 / 242,718 mm3.
    assert found["grams"] == pytest.approx(0.35667 / (3 * 0.5 * 28_324 / 242_718), rel=2e-2)
    again = data(FLAKE.replace("1.5 g", f"{found['grams']} g"), capsys)
    assert again["covered"] == pytest.approx(0.3, rel=1e-9)
    assert lines(wanted, capsys)[0].endswith(" g of flake for the cup, 0.79 % of it.")


def test_from_wanted_sparkles_to_grams_a_cup_and_a_bait(capsys: pytest.CaptureFixture[str]) -> None:
    wanted = FLAKE.replace('--grams "1.5 g"', '--sparkles 200 --bait "12 g"')
    found = data(wanted, capsys)
    # 200 of 31,684 to the gram are 6.312 mg in 12 g: 0.0526 % of the cup.
    assert found["bait_count"] == pytest.approx(200)
    assert found["bait_g"] == pytest.approx(200 / 31_684, rel=1e-4)
    assert found["grams"] / (found["grams"] + 250) == pytest.approx(200 / 31_684 / 12, rel=1e-4)
    assert "In a bait of 12 g: 6.31 mg, about 200 flakes." in lines(wanted, capsys)


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        ("--sparkles 200", "say with --bait"),
        ('--sparkles 20000000 --bait "12 g"', "more than a bait"),
        ('--sparkles -1 --bait "12 g"', "less than none"),
        ('--cover "100 %"', "no wall|more than flake"),
    ],
)
def test_what_no_flake_brings_is_refused(wanted: str, words: str) -> None:
    with pytest.raises(BenchError, match=words):
        run(FLAKE.replace('--grams "1.5 g"', wanted))


def test_no_plastic_is_refused() -> None:
    with pytest.raises(BenchError, match="--plastic"):
        run(FLAKE.replace("250 g", "0 g"))


def test_figures_given_in_inches_and_ounces_are_told_as_a_ruler_and_a_scale_tell_them(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """0.125 in is 3.175 mm, 0.2 oz is 5.6699 g (NIST)."""
    printed = " ".join(lines(FLAKE.replace("3 mm", "0.125 in") + ' --bait "0.2 oz"', capsys))
    assert "behind 3.17 mm of wall" in printed
    assert "In a bait of 5.67 g:" in printed
