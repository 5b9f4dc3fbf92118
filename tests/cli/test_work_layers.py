"""``work layers`` against published and independently solved numbers."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run


@pytest.mark.parametrize(
    ("k", "s", "backing", "r"),
    [
        # The unit test of a public painterly-rendering library (T. Lindemeier), d = 0.5: confirmed there.
        ("0.2", "0.124", "0.65", 0.541596),
        ("0.1", "0.658", "0.20", 0.343822),
        ("0.22", "0.123", "0.2146", 0.206651),
        ("0.2", "0", "0.65", 0.532175),
    ],
)
def test_published_reflectances(
    k: str, s: str, backing: str, r: float, capsys: pytest.CaptureFixture[str]
) -> None:
    found = data(f'layers --k {k} --s {s} --thickness "0.5 mm" --backing {backing}', capsys)
    assert found["r"] == pytest.approx(r, abs=1e-6)
    assert found.keys() == {"r", "r_infinite", "transmitted"}


def test_an_independent_solution_of_the_two_fluxes(capsys: pytest.CaptureFixture[str]) -> None:
    # Computed with scipy's boundary-value solver: K 0.1, S 1, d 2 over 0.8.
    found = data('layers --k 0.1 --s 1 --thickness "2 mm" --backing 0.8', capsys)
    assert found["r"] == pytest.approx(0.671347, abs=1e-6)
    assert found["r_infinite"] == pytest.approx(0.641742, abs=1e-6)
    assert found["transmitted"] == pytest.approx(0.251798, abs=1e-6)


def test_units_and_percent_say_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    plain = data('layers --k 0.2 --s 0.1 --thickness "0.5 mm" --backing 0.65', capsys)
    united = data('layers --k "0.2/mm" --s "1 1/cm" --thickness "0.05 cm" --backing "65 %"', capsys)
    assert united == {key: pytest.approx(value) for key, value in plain.items()}


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    assert lines('layers --k 0.2 --s 0.124 --thickness "0.5 mm" --backing 0.65', capsys)[0] == (
        "Over that backing it reflects 54.2 %."
    )


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        ("--k -1 --s 1 --backing 0.5", "--k: found"),
        ("--k nan --s 1 --backing 0.5", "--k: found"),
        ("--k 1 --s '1 mm' --backing 0.5", '--s: found "1 mm", a length'),
        ("--k 1 --s 1 --backing 1.5", '--backing: found "1.5", wanted a reflectance from 0 to 1'),
        ("--k 1 --s 1 --backing white", '--backing: found "white"'),
    ],
)
def test_what_cannot_be_is_refused_by_flag(flags: str, words: str) -> None:
    with pytest.raises(BenchError) as caught:
        run(f'layers {flags} --thickness "1 mm"')
    assert words in str(caught.value)
