"""The timeline under a plan, as people and as programs read it."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.model.recipe import Build, Tail
from tests.cli.test_plan import printed_json, run
from tests.plan.bench_records import job_of

CORE = ("core", "--mould", "leech", "--count", "24", "--tail", "cut")


def test_programs_get_every_task_with_its_times(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed_json(capsys, *CORE, "--moulds", "2")["timeline"]
    made = job_of(Build.CORE, count=24, tail=Tail.CUT, moulds=2).timeline
    assert data["makespan_s"] == made.makespan_s
    assert data["hands_busy_s"] + data["waiting_s"] == pytest.approx(data["makespan_s"])
    assert len(data["tasks"]) == len(made.rows)
    assert any(task["by_hand"] for task in data["tasks"])


def test_another_mould_gains_what_the_shorter_timeline_says(capsys: pytest.CaptureFixture[str]) -> None:
    one = printed_json(capsys, *CORE, "--moulds", "1")["timeline"]
    two = printed_json(capsys, *CORE, "--moulds", "2")["timeline"]
    assert one["another_mould_gains_s"] == pytest.approx(one["makespan_s"] - two["makespan_s"])


def test_people_get_a_chart_that_fits_their_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(*CORE, "--moulds", "2") == 0
    lines = capsys.readouterr().out.splitlines()
    assert all(len(line) <= 80 for line in lines)
    lanes = [line.split()[0] for line in lines if line.startswith(("  hands", "  heater", "  mould"))]
    assert {"hands", "heater", "mould"} <= set(lanes)
    assert any("sooner" in line or "gain nothing" in line for line in lines)


def test_without_the_option_there_is_no_timeline(capsys: pytest.CaptureFixture[str]) -> None:
    assert "timeline" not in printed_json(capsys, *CORE)


@pytest.mark.parametrize("moulds", ["0", "5", "-1"])
def test_other_numbers_of_moulds_are_refused(moulds: str) -> None:
    with pytest.raises(BenchError, match="1 to 4"):
        run(*CORE, "--moulds", moulds)
