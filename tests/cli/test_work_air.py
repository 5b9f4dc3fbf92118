"""``work air`` gives what the physics gives, and never calls the air safe."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.errors import BenchError
from bench.plan.make import purge_s
from tests.cli.work_runs import data, lines, run
from tests.physics.figures import rows
from tests.tui.at_the_bench import shelf

README = Path(__file__).parents[2] / "README.md"


@pytest.mark.parametrize("row", rows("air_table.tsv"), ids=lambda row: f"ACH {row['ach']}")
def test_the_published_table(row: dict[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    # CDC, MMWR 43 (RR-13), 1994, table S3-1.
    for key, left in (("min_90", "10 %"), ("min_99", "1 %"), ("min_99_9", "0.1 %")):
        found = data(f'air --ach {row["ach"]} --left "{left}" --mixing 1', capsys)
        assert round(found["minutes"]) == int(row[key])


def test_air_changes_from_room_and_fan(capsys: pytest.CaptureFixture[str]) -> None:
    found = data('air --room "30 m3" --fan "300 m3/h" --mixing 3', capsys)
    assert found["ach"] == pytest.approx(10.0)
    assert found["minutes"] == pytest.approx(3 * 27.631, rel=1e-4)
    assert "not a claim that the air is safe" in found["note"]
    in_feet = data('air --room "1059.44 ft3" --fan "176.573 cfm" --mixing 3', capsys)
    assert in_feet["minutes"] == pytest.approx(found["minutes"], rel=1e-4)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines("air --ach 10 --mixing 1", capsys)
    assert printed[0] == "10.0 air changes an hour: 27 min 38 s until 1 % is left."
    assert "not a claim that the air is safe" in printed[-1]
    assert "--mixing" in printed[1]
    assert "perfect mixing" in printed[1]


def test_what_nobody_said_is_no_perfect_room(capsys: pytest.CaptureFixture[str]) -> None:
    # CDC, MMWR 43 (RR-13), 1994, table S3-1, is for perfect mixing: 28 min at 10 air changes; times 3 here.
    printed = " ".join(lines("air --ach 10", capsys))
    assert printed.startswith("10.0 air changes an hour: 1 h 23 min until 1 % is left.")
    assert "mixing factor of 3" in printed
    assert "27 min 38 s" in printed
    assert data("air --ach 10", capsys)["mixing"] == 3


def test_the_readme_counts_the_room_of_its_plan(capsys: pytest.CaptureFixture[str]) -> None:
    command = next(each for each in README.read_text().splitlines() if each.startswith("pourbench work air"))
    found = data(command.removeprefix("pourbench work "), capsys)
    assert found["minutes"] == pytest.approx(purge_s(shelf().station(None)) / 60)


@pytest.mark.parametrize(
    "flags",
    [
        "",
        '--room "30 m3"',
        '--fan "300 m3/h"',
        '--ach 10 --room "30 m3" --fan "300 m3/h"',
        "--ach 0",
        "--ach nan",
        '--ach 10 --left "0 %"',
        "--ach 10 --mixing 0.5",
    ],
)
def test_what_never_clears_is_refused(flags: str) -> None:
    with pytest.raises(BenchError):
        run(f"air {flags}")
