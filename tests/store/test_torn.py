"""A session's file that was changed or broken while it was closed: what is said of it, and what counts."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from bench.__main__ import main
from bench.errors import BenchError, place_words
from bench.model.settings import UnitSystem
from bench.session.events import CupRead, Noted
from bench.session.session import State
from bench.session.summary import summarise
from bench.store.check import check
from bench.store.journal import MARK, torn_file
from bench.store.paths import Home
from bench.store.sessions import list_sessions, open_for_resume, read
from bench.tui.past import first_unfinished, what_waits
from bench.tui.present_past import past_content
from tests.faults.played import CREATED, PATIENCE_S, kept, played

READING = next(place for place, event in enumerate(played().events) if isinstance(event, CupRead))
"""The place of the first reading of a cup."""

PLACE = place_words(f"event[{READING}]")


def whole(home: Home, *, most: int | None = None) -> Path:
    """The file of a session, finished unless only so many of its events happened."""
    opened = kept(home, played(), most=most)
    assert opened.close(played().after[-1 if most is None else most], PATIENCE_S)
    return opened.path


def edit(path: Path, old: str, new: str) -> int:
    """Put ``new`` for ``old`` into the first reading of a cup; the line where its event begins, from 1."""
    text = path.read_text("utf-8")
    start = [found.start() for found in re.finditer(r"^\[\[event\]\]$", text, re.MULTILINE)][READING]
    after = text[start:]
    assert re.search(old, after)
    path.write_text(text[:start] + re.sub(old, new, after, count=1), "utf-8")
    return text[:start].count("\n") + 1


def said(path: Path) -> list[str]:
    """What ``check`` says of it, without the name of the file."""
    sentences = [fault.sentence().removeprefix(f"{path}: ") for fault in check(Home(path.parent.parent))]
    shown = [each.removeprefix(f"{path}: ") for each in read(path).sentences()]
    assert sentences == [each for each in shown if not each.startswith("What once stood")]
    return sentences


@pytest.mark.parametrize("temp", ["70", "100", "169.07"])
def test_one_figure_of_a_finished_session_costs_nothing_of_it_and_is_said(
    tmp_path: Path, temp: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = whole(Home(tmp_path))
    edit(path, r'temp = "[\d.]+ degC"', f'temp = "{temp} degC"')
    before = path.read_bytes()
    (sentence,) = said(path)
    assert re.fullmatch(
        rf'{PLACE}: found an event "cup read" at \d\d:\d\d:\d\d that was changed after it was written, '
        r"wanted the one that was written \(what is shown follows from the changed one\)\.",
        sentence,
    )
    stored = read(path)
    assert (stored.session.state, len(stored.events)) == (State.COMPLETE, len(played().events))
    (line,) = list_sessions(path.parent)
    assert (line.over, line.summary) == (True, summarise(stored.session))
    for arguments in (["log"], ["log", "show", path.stem]):
        assert main(["--home", str(tmp_path), *arguments]) == 0
        out = capsys.readouterr().out
        assert "complete" in out
        assert "8 of 4" in out
    assert path.read_bytes() == before
    assert not torn_file(path).exists(), "reading writes nothing"


def test_an_unfinished_one_ends_before_the_changed_event_everywhere_and_keeps_the_rest_when_it_goes_on(
    tmp_path: Path,
) -> None:
    home = Home(tmp_path)
    path = whole(home, most=READING + 4)
    line = edit(path, r'temp = "[\d.]+ degC"', 'temp = "100 degC"')
    (sentence,) = said(path)
    assert re.fullmatch(
        rf'{PLACE}: found an event "cup read" at \d\d:\d\d:\d\d that was changed after it was written '
        rf"\(line {line}\), wanted the one that was written; it and the 3 events after it do not count, and will "
        rf"be kept in {re.escape(torn_file(path).name)} when the session goes on\.",
        sentence,
    )
    stored = read(path)
    assert stored.session == played().after[READING]
    (listed,) = list_sessions(path.parent)
    assert (listed.over, listed.summary) == (False, summarise(stored.session))
    rest = path.read_bytes()[-len(torn_bytes(path)) :]
    resumed = open_for_resume(path)
    assert torn_file(path).read_bytes() == rest
    assert resumed.stored.torn is not None
    assert "it and the 3 events after it are kept in" in resumed.stored.torn.sentence()
    resumed.close(resumed.stored.session, PATIENCE_S)
    assert said(path) == []


def torn_bytes(path: Path) -> bytes:
    """From the first reading on."""
    data = path.read_bytes()
    return data[[found.start() for found in re.finditer(rb"^\[\[event\]\]$", data, re.MULTILINE)][READING] :]


@pytest.mark.parametrize("most", [READING + 4, None])
def test_an_event_that_is_no_toml_is_named_by_its_line(tmp_path: Path, most: int | None) -> None:
    path = whole(Home(tmp_path), most=most)
    first = edit(path, 'kind = "cup read"', 'kind = "cup read')
    (sentence,) = said(path)
    assert sentence.startswith(f'line {first + 1}: found ‘kind = "cup read’, which is not TOML (')
    assert "wanted the line as the program wrote it; it and the " in sentence
    stored = read(path)
    assert stored.session == played().after[READING]
    (listed,) = list_sessions(path.parent)
    assert (listed.over, listed.summary) == (most is None, summarise(stored.session))


def test_a_byte_that_is_no_text_is_named_by_its_line(tmp_path: Path) -> None:
    path = whole(Home(tmp_path), most=READING + 1)
    first = edit(path, "cup read", "cup X")
    path.write_bytes(path.read_bytes().replace(b"cup X", b"cup \xff"))
    (sentence,) = said(path)
    assert sentence.startswith(f"line {first + 1}: found a byte that is not UTF-8, wanted the line as")


def test_what_follows_a_finished_session_stays_in_its_file(tmp_path: Path) -> None:
    path = whole(Home(tmp_path))
    with path.open("ab") as file:
        file.write(b"mine")
    line = path.read_bytes().count(b"\n") + 1
    assert said(path) == [
        f"found a torn end of 4 bytes from line {line} on, wanted whole events; "
        "it does not count and stays in the file."
    ]


@pytest.mark.parametrize("most", [*range(1, len(played().events), 7), None])
def test_the_list_the_reading_and_both_for_programs_agree_though_the_window_was_killed(
    tmp_path: Path, most: int | None, capsys: pytest.CaptureFixture[str]
) -> None:
    opened = kept(Home(tmp_path), played(), most=most)
    assert opened.recorder.close(PATIENCE_S)
    session = played().after[-1 if most is None else most]
    (line,) = list_sessions(opened.path.parent)
    assert line.summary == summarise(session)
    told: list[dict[str, Any]] = []
    for arguments in (["log", "--json"], ["log", "show", opened.path.stem, "--json"]):
        assert main(["--home", str(tmp_path), *arguments]) == 0
        told.append(json.loads(capsys.readouterr().out))
    listed, shown = told[0]["sessions"][0], told[1]
    for key in ("state", "made", "wanted", "taken_s", "ready_at"):
        assert listed[key] == shown[key], key
    assert listed["over"] == session.state.over


def with_two_notes(home: Home) -> Path:
    """An unfinished session's file that ends with two notes."""
    opened = kept(home, played(), most=READING)
    at = played().events[READING].at
    for words in ("first", "second"):
        opened.record(Noted(at=at, text=words))
    assert opened.close(played().after[READING], PATIENCE_S)
    return opened.path


def test_a_note_that_lost_its_checksum_line_hides_no_session(tmp_path: Path) -> None:
    """It then runs on to the checksum of the next one."""
    path = with_two_notes(Home(tmp_path))
    before, note, after = path.read_text("utf-8").partition('text = "first"\n')
    path.write_text(before + note + after.split("\n", 1)[1], "utf-8")
    (listed,) = list_sessions(path.parent)
    assert listed.summary == summarise(read(path).session)


@pytest.mark.parametrize("broken", [b'text = "second', b'text = "\xff"'])
def test_a_last_note_that_cannot_be_read_hides_no_session(tmp_path: Path, broken: bytes) -> None:
    path = with_two_notes(Home(tmp_path))
    path.write_bytes(path.read_bytes().replace(b'text = "second"', broken))
    for figures in (True, False):
        (listed,) = list_sessions(path.parent, figures=figures)
        assert listed.summary == summarise(read(path).session)


def test_a_second_event_inside_a_changed_one_is_told_as_a_change(tmp_path: Path) -> None:
    path = whole(Home(tmp_path), most=READING + 1)
    edit(path, r"\ncrc = ", '\n [[event]]\nkind = "more"\ncrc = ')
    (sentence,) = said(path)
    assert sentence.startswith(f'{PLACE}: found an event "cup read" at ')


ENDS = {
    "its kind is no text": (b'kind = "completed"', b'kind = "completed'),
    "it is of another kind": (b'kind = "completed"', b'kind = "complete"'),
    "a byte of it is none": (b'kind = "completed"', b'kind = "completed"\nx = "\xff"'),
    "its checksum is gone": (b"\ncrc = ", b"\nsum = "),
    "it is cut off": (b"wall = ", None),
    "all of it is gone but its mark": (b'kind = "completed"', None),
}
"""What may become of the last event of a finished session, in the text of which one stands for the other."""


def with_a_broken_end(home: Home, how: str, *, closed: bool = True) -> Path:
    """The file of a session that was finished, and whose window was closed unless it was killed."""
    opened = kept(home, played())
    assert opened.close(played().after[-1], PATIENCE_S) if closed else opened.recorder.close(PATIENCE_S)
    data = opened.path.read_bytes()
    start = data.rindex(MARK)
    old, new = ENDS[how]
    assert b'kind = "completed"' in data[start:]
    end = data[start:]
    broken = end[: end.index(old)] if new is None else end.replace(old, new)
    opened.path.write_bytes(data[:start] + broken)
    return opened.path


@pytest.mark.parametrize("how", ENDS)
def test_a_session_that_ended_waits_for_nobody_whatever_became_of_its_last_event(
    tmp_path: Path, how: str, capsys: pytest.CaptureFixture[str]
) -> None:
    home = Home(tmp_path)
    path = with_a_broken_end(home, how)
    before = path.read_bytes()
    (sentence,) = said(path)
    assert sentence.endswith("it does not count and stays in the file.")
    stored = read(path)
    assert (stored.over, stored.end_lost, stored.state) == (True, True, "over")
    assert stored.session == played().after[-2], "all that counts is there"
    for figures in (True, False):
        (listed,) = list_sessions(path.parent, figures=figures)
        assert (listed.over, listed.state, listed.summary) == (True, "over", summarise(stored.session))
    assert first_unfinished(home) is None
    assert what_waits(home, CREATED).unfinished == ()
    with pytest.raises(BenchError, match="is over and does not go on"):
        open_for_resume(path)
    told: dict[str, Any] = {}
    for arguments in (["log"], ["log", "show", path.stem], ["log", "show", path.stem, "--json"]):
        assert main(["--home", str(tmp_path), *arguments]) == 0
        out = capsys.readouterr().out
        assert "over" in out
        assert "unfinished" not in out
    told = json.loads(out)
    assert told["over"] is True
    assert told["torn"].endswith("stays in the file.")
    assert path.read_bytes() == before
    assert not torn_file(path).exists(), "nothing is set aside, and nothing lost"


@pytest.mark.parametrize(("how", "had_ended"), [("a byte of it is none", True), ("it is cut off", False)])
def test_where_the_window_was_killed_an_end_counts_that_was_written_whole(
    tmp_path: Path, how: str, had_ended: bool
) -> None:
    """One that the power cut in two was never saved: that session goes on at its last step."""
    home = Home(tmp_path)
    path = with_a_broken_end(home, how, closed=False)
    assert read(path).over is had_ended
    assert (first_unfinished(home) is None) is had_ended


def test_its_broken_end_is_read_on_its_page_with_what_is_wrong(tmp_path: Path) -> None:
    path = with_a_broken_end(Home(tmp_path), "its kind is no text")
    shown = past_content(read(path), UnitSystem.METRIC).plain
    assert f"{CREATED:%Y-%m-%d %H:%M}, over\n" in shown
    assert "which is not TOML" in shown
