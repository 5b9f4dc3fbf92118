"""``work heat-spent`` adds up a history."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import data, lines, run


def test_pairs_add_up(capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice, no source: doubling every ten degrees from 160 degC; limit 240 min.
    found = data('heat-spent --at "170 degC" --for "10 min" --at "160 degC" --for "1 h"', capsys)
    assert found == {
        "minutes_at_160": pytest.approx(80.0),
        "spent_pct": pytest.approx(100 * 80 / 240),
        "warning": None,
    }


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines('heat-spent --at "170 degC" --for "60 min"', capsys)
    assert printed[0] == "As much as 120 min at 160 °C (320 °F): 50 % of what is counted on."


def test_a_temperature_without_its_time_is_refused() -> None:
    with pytest.raises(BenchError, match="found 2 temperatures and 1 times"):
        run('heat-spent --at "170 degC" --for "10 min" --at "160 degC"')


def test_over_the_scorch_limit_comes_a_warning(capsys: pytest.CaptureFixture[str]) -> None:
    line = 'heat-spent --at "160 degC" --for "1 h" --at "340 degC" --for "1 min"'
    warning = (
        "STOP: 340 °C (644 °F) is over the scorch limit, 190 °C (374 °F). Do not heat plastic there: "
        "it breaks down, smokes and gives off hydrogen chloride."
    )
    said = lines(line, capsys)
    assert said[0] == warning
    assert said[-1].startswith("That share does not make it sound")
    assert data(line, capsys)["warning"] == warning
    own = data('heat-spent --at "188 degC" --for "1 min" --plastic firm', capsys)["warning"]
    assert "over the scorch limit, 185 °C" in own
    assert data('heat-spent --at "188 degC" --for "1 min"', capsys)["warning"] is None
