"""The verb log: the list, and one session read back from its file."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from datetime import timedelta
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.log import as_json, as_lines
from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.session import drive, shots_made
from bench.session.events import (
    CupRead,
    Event,
    Noted,
    SkipReason,
    StepSkipped,
    StopReason,
    StopRequested,
    VerdictGiven,
)
from bench.session.job import Job
from bench.session.left_hot import hot_cups
from bench.session.session import Session, Visit
from bench.session.shots_made import ShotMade
from bench.session.verdicts import Subject, Verdict
from bench.store.journal import torn_file
from bench.store.paths import Home
from bench.store.sessions import create, read
from bench.tui import present_past
from tests.faults.played import PATIENCE_S
from tests.session.bench_sessions import Maker, maker
from tests.store.on_disk import on_disk

SET = "r1.shell.set"


def _id(played: Maker, visit: Visit) -> str:
    return played.session.job.script[visit.index].id


def stored(
    home: Path, played: Maker, *, rehearsal: float | None = None, days: int = 0, closed: bool = True
) -> Path:
    """The file of a session that was played, made ``days`` after the first."""
    created = played.events[0].at.wall + timedelta(days=days)
    if closed:
        return on_disk(home, played, created=created, rehearsal=rehearsal)
    file = create(Home(home), Session(job=played.session.job), created=created, rehearsal=rehearsal)
    for event in played.events:
        file.record(event)
    assert file.recorder.flush(PATIENCE_S)
    file._lock.release()
    return file.path


@pytest.fixture(scope="module")
def whole() -> Maker:
    """A core session to its end, with a note."""
    played = maker(count=4)
    played.walk_to("r1.look")
    played.happen(Noted(at=played.now(), text="shells a little \x1b[2J pale"))
    played.walk_to_the_end()
    return played


@pytest.fixture(scope="module")
def broken_off() -> Maker:
    """A core session left while its first shells set."""
    played = maker(count=4)
    played.walk_to("r1.shell.set")
    return played


def log(home: Path, *argv: str) -> int:
    """The verb, in that home."""
    return main(["--home", str(home), "log", *argv])


def test_nothing_yet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert log(tmp_path) == 0
    assert capsys.readouterr().out == "No sessions yet.\n"
    assert log(tmp_path, "--json") == 0
    assert json.loads(capsys.readouterr().out) == {"sessions": []}


def test_nothing_yet_says_what_there_is_of_the_other_kind(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    assert log(tmp_path, "--rehearsals") == 0
    assert capsys.readouterr().out == "No rehearsals yet.\n"
    stored(tmp_path / "a", whole, rehearsal=60)
    assert log(tmp_path / "a") == 0
    assert capsys.readouterr().out == "No sessions yet. There is 1 rehearsal: pourbench log --rehearsals\n"
    stored(tmp_path / "a", whole, rehearsal=60, days=1)
    assert log(tmp_path / "a") == 0
    assert capsys.readouterr().out == "No sessions yet. There are 2 rehearsals: pourbench log --rehearsals\n"
    stored(tmp_path / "b", whole)
    assert log(tmp_path / "b", "--rehearsals") == 0
    assert capsys.readouterr().out == "No rehearsals yet. There is 1 session: pourbench log\n"


def test_the_newest_comes_first_and_rehearsals_are_kept_apart(
    tmp_path: Path, whole: Maker, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    old = stored(tmp_path, whole)
    new = stored(tmp_path, broken_off, days=1, closed=False)
    rehearsed = stored(tmp_path, whole, rehearsal=60, days=2)
    assert log(tmp_path) == 0
    head, first, second = capsys.readouterr().out.splitlines()
    assert head.split()[:2] == ["session", "state"]
    assert first.split()[:5] == [new.stem, "unfinished", "0", "of", "4"]
    assert second.split()[:2] == [old.stem, "complete"]
    assert log(tmp_path, "--rehearsals") == 0
    assert capsys.readouterr().out.splitlines()[1].startswith(rehearsed.stem)


def test_an_unfinished_session_is_listed_with_the_figures_of_its_last_event(
    tmp_path: Path, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    stored(tmp_path, broken_off, closed=False)
    assert log(tmp_path, "--json") == 0
    (line,) = json.loads(capsys.readouterr().out)["sessions"]
    began, last = broken_off.events[0].at, broken_off.events[-1].at
    assert line["taken_s"] == pytest.approx(last.elapsed_s - began.elapsed_s)
    assert (line["over"], line["state"], line["ready_at"]) == (False, "running", None)


def test_what_is_kept_beside_a_session_is_named(
    tmp_path: Path, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, broken_off)
    assert log(tmp_path, "show", path.stem, "--json") == 0
    assert json.loads(capsys.readouterr().out)["aside"] is None
    torn_file(path).write_bytes(b"mine")
    assert log(tmp_path, "show", path.stem) == 0
    assert f"is no part of it is kept in {path.name}.torn." in capsys.readouterr().out
    assert log(tmp_path, "show", path.stem, "--json") == 0
    assert json.loads(capsys.readouterr().out)["aside"] == f"{path.name}.torn"


def test_a_session_is_shown_with_steps_readings_verdicts_and_notes(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, whole)
    assert log(tmp_path, "show", path.stem) == 0
    shown = capsys.readouterr().out
    assert "\x1b" not in shown
    for words in ("complete", "What happened", "Notes", "170 °C", "of 4 baits made"):
        assert words in shown
    rows = [line for line in shown.splitlines() if "  Let it set, round 1  " in line]
    assert len(rows) == 2, "of the shells, then of the cores"
    began = next(visit.entered for visit in whole.session.visits if _id(whole, visit) == SET)
    assert rows[0].startswith(f"{began.wall:%H:%M:%S}  Let it set, round 1  ")
    assert rows[0].endswith("by clock")
    assert SET not in shown, "names of steps are for programs"


def test_the_columns_of_the_steps_stand_under_their_heads(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    assert log(tmp_path, "show", stored(tmp_path, whole).stem) == 0
    lines = capsys.readouterr().out.splitlines()
    head = next(place for place, line in enumerate(lines) if line.startswith("began "))
    rows = lines[head : head + 1 + len(whole.session.visits)]
    ended = rows[0].index("ended")
    assert all(row[ended - 2 : ended] == "  " and row[ended] != " " for row in rows)
    assert max(map(len, rows)) <= 90


def test_a_clock_that_was_over_when_it_was_reached_is_not_told_as_taken(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Left and killed while the plunger was held, resumed an hour later: the set is over with the hold."""
    played = maker(count=4)
    played.walk_to("r1.shell.hold")
    played.clock.advance(3600.0)
    due = drive.due(played.session, played.now())
    assert due is not None
    played.happen(due)
    path = stored(tmp_path, played, closed=False)
    assert log(tmp_path, "show", path.stem) == 0
    shown = capsys.readouterr().out
    (row,) = (line for line in shown.splitlines() if "Let it set, round 1" in line)
    assert row.endswith("  already over")
    assert " 0 s" not in row
    assert f"{due.at.wall:%H:%M:%S}  resumed at: Hold the plunger, over for 60 min by then" in shown
    assert log(tmp_path, "show", path.stem, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert [step["ended"] for step in told["steps"] if step["id"] == SET] == ["already over"]
    assert any(each["what"].startswith("resumed at") for each in told["story"])


def test_a_verdict_that_was_changed_leaves_one_answer_and_what_to_change(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    played = maker(count=4)
    played.walk_to("r1.look")
    for verdict in (Verdict.CORE_HIDDEN, Verdict.CORE_STRONG):
        given = VerdictGiven(at=played.now(), round=1, subject=Subject.BAITS, verdict=verdict)
        played.happen(given)
    path = stored(tmp_path, played, closed=False)
    assert log(tmp_path, "show", path.stem) == 0
    shown = capsys.readouterr().out
    before, after = shown.split("\nVerdicts\n")
    assert after.splitlines()[0] == "  round 1, baits: core too strong"
    assert "core hidden" not in after
    assert "round 1, baits: core too strong, before: core hidden" in before
    assert "try about 0.67 %" in " ".join(after.split("For the next round")[1].split())
    assert log(tmp_path, "show", path.stem, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["verdicts"] == [
        {"round": 1, "subject": "baits", "verdict": "core too strong", "likely_causes": []}
    ]
    assert told["next_round"][0]["loads"][0]["try_pct"] == pytest.approx(2 / 3)


def test_what_a_bait_is_made_again_from_is_shown(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, whole)
    assert log(tmp_path, "show", path.stem) == 0
    made = " ".join(capsys.readouterr().out.split("What it was made with")[1].split("began")[0].split())
    melt = whole.session.job.plan.parts[0].melts[0]
    assert f"plastic {melt.base_g:.1f} g, Red 1 % {0.01 * melt.mass_g:.2f} g, Pearl 0.2 %" in made
    assert "Soft, band 165 °C to 175 °C" in made
    assert "round 1, shell shot: shell cup about 1" in made
    assert "round 1: 4 of 4 tails cut" in made
    assert log(tmp_path, "show", path.stem, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["weighed"][0]["base_g"] == pytest.approx(melt.base_g)
    assert [(shot["round"], shot["shot"]) for shot in told["shots"]][:2] == [(1, "shell"), (1, "core")]
    assert all(shot["set_s"] > 0 for shot in told["shots"])


def test_temperatures_and_plastic_are_told_in_the_units_of_settings(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    """NIST SP 811, appendix B.8: 165 and 175 degC are 329 and 347 degF; an ounce is 28.3495 g."""
    path = stored(tmp_path, whole)
    (tmp_path / "settings.toml").write_text('format = 1\nunits = "us"\n')
    assert log(tmp_path, "show", path.stem) == 0
    told = " ".join(capsys.readouterr().out.split())
    melt = whole.session.job.plan.parts[0].melts[0]
    assert "Soft, band 329 °F to 347 °F" in told
    assert f"plastic {melt.base_g / 28.3495:.2f} oz, Red 1 % {0.01 * melt.mass_g:.2f} g" in told
    assert "°C" not in told
    (tmp_path / "settings.toml").write_text("units = \n")
    assert log(tmp_path, "show", path.stem) == 0
    assert "Soft, band 165 °C to 175 °C" in capsys.readouterr().out, "what is past is read all the same"


def test_what_is_hot_at_the_end_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hands = maker(Build.LAMINATE)
    hands.walk_to("r1.shot.hold")
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    while not hands.session.state.over:
        hands.press()
    assert log(tmp_path, "show", stored(tmp_path, hands).stem) == 0
    told = capsys.readouterr().out
    assert "still hot when the session ended:" in told
    hot = list(hot_cups(hands.session, hands.now()))
    assert hot
    for cup in hot:
        assert f"{cup.part.words} cup about {cup.temp_c:.0f} °C: cool to the touch in about " in told
        assert f" {math.ceil((cup.left_s or 0.0) / 60)} min by the estimate" in told


def test_planned_and_taken_times_are_told_exactly(
    tmp_path: Path, whole: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, whole, rehearsal=10)
    assert log(tmp_path, "show", path.stem, "--json") == 0
    shown = json.loads(capsys.readouterr().out)
    script = {step.id: step for step in whole.session.job.script}
    assert [step["id"] for step in shown["steps"]] == list(script)
    for step in shown["steps"]:
        assert step["planned_s"] == pytest.approx(script[step["id"]].length_s)
    holds = [step for step in shown["steps"] if step["id"] == "r1.shell.hold"]
    assert holds[0]["taken_s"] == pytest.approx(script["r1.shell.hold"].length_s, abs=0.1)
    assert sum(step["taken_s"] for step in shown["steps"]) == pytest.approx(shown["taken_s"])
    assert (shown["state"], shown["rehearsal"], shown["torn"]) == ("complete", 10, None)


def test_a_beginning_a_path_and_a_wrong_name(
    tmp_path: Path, whole: Maker, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, whole)
    assert log(tmp_path, "show", path.stem[:9]) == 0
    assert log(tmp_path, "show", str(path)) == 0
    capsys.readouterr()
    stored(tmp_path, broken_off, days=1)
    assert log(tmp_path, "show", path.stem[:5]) == 1
    assert "2 sessions begin with" in capsys.readouterr().err
    assert log(tmp_path, "show", "yesterday") == 1
    assert capsys.readouterr().err.startswith('no session is called "yesterday"')


def test_a_plan_that_was_changed_by_hand_is_said(
    tmp_path: Path, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, broken_off)
    assert log(tmp_path, "show", path.stem, "--json") == 0
    assert json.loads(capsys.readouterr().out)["edited"] == []
    whole = path.read_text(encoding="utf-8")
    path.write_text(whole.replace('title = "Soft"', 'title = "Softer"'), encoding="utf-8")
    assert log(tmp_path, "show", path.stem) == 0
    said = "found a plan that was changed after the session began"
    assert said in capsys.readouterr().out
    assert log(tmp_path, "show", path.stem, "--json") == 0
    (sentence,) = json.loads(capsys.readouterr().out)["edited"]
    assert said in sentence


def test_a_lost_end_and_a_broken_file_are_said(
    tmp_path: Path, broken_off: Maker, capsys: pytest.CaptureFixture[str]
) -> None:
    path = stored(tmp_path, broken_off)
    before = path.read_bytes() + b"[[event]]\nkind ="
    path.write_bytes(before)
    assert log(tmp_path, "show", path.stem) == 0
    assert "torn end of 16 bytes" in capsys.readouterr().out
    assert path.read_bytes() == before, "reading changes nothing"
    path.write_text("format = 1\nid = 3\n", encoding="utf-8")
    assert log(tmp_path) == 0
    assert "cannot be read: " in capsys.readouterr().out
    assert log(tmp_path, "show", path.stem) == 1


def test_steps_left_out_and_not_ended_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    played = maker(count=4)
    played.walk_to("ready")
    played.happen(StepSkipped(at=played.now(), step="ready", reason=SkipReason.ALREADY_DONE))
    played.happen(CupRead(at=played.now(), part=Part.SHELL, temp_c=20.0))
    path = stored(tmp_path, played, closed=False)
    assert log(tmp_path, "show", path.stem, "--json") == 0
    shown = json.loads(capsys.readouterr().out)
    assert [step["ended"] for step in shown["steps"]] == ["by hand", "left out", "not ended"]
    assert shown["steps"][-1]["taken_s"] is None
    assert shown["cup_readings"][0]["part"] == "shell"


@pytest.mark.parametrize("shown", ["lines", "json", "page"])
def test_its_shots_are_reckoned_once_for_all_that_is_told_of_them(
    tmp_path: Path, whole: Maker, shown: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of them is a walk through the whole session."""
    session = read(stored(tmp_path, whole))
    asked: list[Job] = []

    def counted(job: Job, events: Iterable[Event]) -> tuple[ShotMade, ...]:
        asked.append(job)
        return made(job, events)

    made = shots_made.shots_made
    monkeypatch.setattr(shots_made, "shots_made", counted)
    monkeypatch.setattr(present_past, "shots_made", counted)
    if shown == "page":
        present_past.past_content(session, UnitSystem.METRIC)
    else:
        list(as_lines(session, UnitSystem.METRIC) if shown == "lines" else as_json(session))
    assert len(asked) == 1
