"""The timeline under a plan, as people and as programs read it."""

from __future__ import annotations

import io
import sys
from itertools import groupby

import pytest

from bench.cli.output import duration
from bench.cli.timeline import as_lines, whole_lines
from bench.errors import BenchError
from bench.model.recipe import Build, Tail
from tests.cli.test_plan import printed_json, run
from tests.plan.bench_records import job_of

CORE = ("core", "--mould", "leech", "--count", "24", "--tail", "cut")


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_programs_get_every_task_with_its_times(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed_json(capsys, *CORE, "--moulds", "2")["timeline"]
    made = job_of(Build.CORE, count=24, tail=Tail.CUT, moulds=2).timeline
    assert data["makespan_s"] == made.makespan_s
    assert data["fewer"] == ""
    assert data["hands_busy_s"] + data["waiting_s"] == pytest.approx(data["makespan_s"])
    assert len(data["tasks"]) == len(made.rows)
    assert any(task["by_hand"] for task in data["tasks"])


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("moulds", [1, 2])
def test_the_time_at_the_moulds_is_one_figure(build: Build, moulds: int) -> None:
    """It ends with the last look, after the last bait is out, and what the hands do not work of it they wait."""
    job = job_of(build, count=24, moulds=moulds, tail=Tail.CUT if build.has_core else Tail.KEPT)
    made, told = job.timeline, duration(job.timeline.end_s)
    assert made.end_s > made.makespan_s
    assert made.end_s - sum(row.end_s - row.start_s for row in made.by_hand) == pytest.approx(made.waiting_s)
    printed = "\n".join((*whole_lines(job), *as_lines(job)))
    assert printed.count(told) == 2
    bait_out = duration(made.makespan_s)
    assert bait_out == told or bait_out not in printed


def test_a_mark_stands_beside_what_it_means() -> None:
    told = "\n".join(chart_lines(70)).split("w weigh")[1]
    assert not [line for line in told.splitlines() if line.split()[-1:] and len(line.split()[-1]) == 1]


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


def chart_lines(width: int, *, count: int = 24, moulds: int = 2, build: Build = Build.CORE) -> list[str]:
    tail = Tail.CUT if build.has_core else Tail.KEPT
    return list(as_lines(job_of(build, count=count, tail=tail, moulds=moulds), width=width))


def test_a_wide_terminal_gets_a_wide_chart(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "140")
    terminal = _Terminal()
    monkeypatch.setattr(sys, "stdout", terminal)
    assert run(*CORE, "--moulds", "2") == 0
    lines = terminal.getvalue().splitlines()
    assert 120 < max(len(line) for line in lines if line.startswith("  hands")) <= 140
    assert max(map(len, lines)) <= 140


def test_what_is_piped_is_eighty_columns_wide(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "140")
    assert run(*CORE, "--moulds", "2") == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


@pytest.mark.parametrize(("width", "column"), [(70, "13 s"), (130, "14 s")])
def test_the_chart_says_what_a_column_is(width: int, column: str) -> None:
    """15 min in 70 columns, half an hour in 130."""
    assert any(f"one column is {column}." in line for line in chart_lines(width))


def test_the_longest_that_shells_lie_out_stands_beside_the_limit(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed_json(capsys, *CORE, "--moulds", "2")["timeline"]
    assert data["shells_limit_s"] == 600.0
    tasks = {task["task"]: task for task in data["tasks"]}
    out_s = [tasks[f"r{each}.core.shot"]["start_s"] - tasks[f"r{each}.shell.open"]["start_s"] for each in (1, 2)]
    assert [each["out_s"] for each in data["shells_out"][:2]] == pytest.approx(out_s)
    worst = max(data["shells_out"], key=lambda each: each["out_s"])
    told = " ".join(" ".join(chart_lines(70)).split())
    assert (
        f"Shells lie out {duration(worst['out_s'])} at most, in round {worst['round']}; "
        "this bench allows 10 min 00 s."
    ) in told
    assert "Shells lie out" not in " ".join(chart_lines(70, build=Build.PLAIN))


def test_people_read_why_fewer_moulds_are_used() -> None:
    job = job_of(Build.PLAIN, count=3, moulds=4)
    told = "\n".join(as_lines(job))
    assert "1 of 4 moulds is used: there is one round only." in told
    assert "Another mould" not in told


@pytest.mark.parametrize("width", [30, 70, 130])
@pytest.mark.parametrize(("count", "moulds"), [(24, 2), (400, 4)])
def test_however_long_a_job_its_chart_is_readable(width: int, count: int, moulds: int) -> None:
    """No line is wider than the lanes, no stretch is higher than a terminal, and a hundred rounds are no more than
    a few screens."""
    lines = chart_lines(width, count=count, moulds=moulds, build=Build.PLAIN)
    assert max(len(line) for line in lines if line.startswith(("  minute", "  hands", "  mould"))) <= width + 10
    assert max(len(list(block)) for blank, block in groupby(lines, key=lambda line: line == "") if not blank) < 24
    assert len(lines) < 80
    if count == 400:
        rounds = "\n".join(lines).split("All rounds")[1].split("The first")[0]
        assert {"10", "50", "100"} & set(rounds.split())


def test_without_the_option_there_is_no_timeline(capsys: pytest.CaptureFixture[str]) -> None:
    assert "timeline" not in printed_json(capsys, *CORE)


def test_more_moulds_than_can_be_planned_are_refused() -> None:
    with pytest.raises(BenchError, match="1 to 4"):
        run(*CORE, "--moulds", "5")


@pytest.mark.parametrize("moulds", ["0", "-1", "x", "", "1.5", "nan", "1_0"])
def test_what_is_no_number_of_moulds_is_refused(moulds: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        run(*CORE, "--moulds", moulds)
    assert f'found "{moulds}", wanted a number of moulds, 1 or more' in capsys.readouterr().err
