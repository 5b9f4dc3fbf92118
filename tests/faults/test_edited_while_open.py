"""Somebody edits the file of a session that is being written: no event is lost, whatever the editor saved."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from bench.session.session import Session
from bench.store import journal
from bench.store.event_tables import event_table
from bench.store.paths import Home
from bench.store.sessions import read
from tests.faults.played import NOTES, PATIENCE_S, Played, kept, of, played
from tests.faults.tally import DONE

BEFORE, BETWEEN, AFTER = 8, 3, 2
"""Events when the editor opened the file, until it saved it, and afterwards."""


def beginning() -> Played:
    """The beginning of a session, with a note in it that the editor sees."""
    whole = played()
    return of(whole.idle, whole.events[: BEFORE + BETWEEN + AFTER])


def by_replacing(path: Path, data: bytes) -> None:
    """Save as most editors do: a new file in the place of the old one."""
    other = path.with_name("~")
    other.write_bytes(data)
    other.replace(path)


def into_the_file(path: Path, data: bytes) -> None:
    """Save into the file that stands there."""
    path.write_bytes(data)


def block(session: Played, place: int) -> bytes:
    """That event as it stands in the file."""
    return journal.block(event_table(session.events[place]))


EDITS: dict[str, Callable[[bytes, Played], bytes]] = {
    "nothing": lambda data, _: data,
    "a comment in the head": lambda data, _: data.replace(b"\n[summary]", b"\n# mine\n\n[summary]", 1),
    "a title": lambda data, _: data.replace(b'title = "Ember"', b'title = "Glut"', 1),
    "a moment of an event": lambda data, session: data.replace(
        block(session, 4), block(session, 4).replace(b"elapsed = ", b"elapsed =  ").replace(b"\n\n", b"\n")
    ),
    "an event is gone": lambda data, session: data.replace(block(session, 4), b""),
    "the last event is gone": lambda data, session: data.replace(block(session, BEFORE - 1), b""),
    "every event is gone": lambda data, _: data[: journal.header_end(data)],
    "two events stand the other way round": lambda data, session: data.replace(
        block(session, 4) + block(session, 5), block(session, 5) + block(session, 4)
    ),
    "an event stands twice": lambda data, session: data.replace(block(session, 4), block(session, 4) * 2),
    "words at the end": lambda data, _: data + b"so much for today\n",
    "half an event at the end": lambda data, session: data + block(session, BEFORE)[:30],
    "no line break at the end": lambda data, _: data.rstrip(b"\n"),
    "lines at the end": lambda data, _: data + b"\n\n\n",
    "every byte is gone": lambda _data, _: b"",
    "the plan is gone": lambda data, _: data[: data.index(b"\n[job")] + data[data.index(journal.END_OF_HEADER) :],
    "a bracket is gone from the head": lambda data, _: data.replace(b"[job.plan]", b"[job.plan", 1),
    "another plan": lambda data, _: (
        data[: journal.header_end(data)].replace(b"count = ", b"count = 1", 1) + data[journal.header_end(data) :]
    ),
    "another program's words": lambda _data, _: b"\xff\xfe\0 something else\n",
}

NOT_HEALED = {"a comment in the head", "a title", "another plan"}
"""Which of them the editor may have saved without an event missing."""


@pytest.mark.parametrize("saved", [by_replacing, pytest.param(into_the_file, marks=pytest.mark.nightly)])
@pytest.mark.parametrize("edit", EDITS)
def test_an_older_copy_saved_over_the_file_takes_no_event_away(
    edit: str, saved: Callable[[Path, bytes], None], tmp_path: Path
) -> None:
    session = beginning()
    for more in (0, AFTER):
        opened = kept(Home(tmp_path / str(more)), session, most=BEFORE)
        seen = opened.path.read_bytes()
        for event in session.events[BEFORE : BEFORE + BETWEEN]:
            opened.record(event)
        assert opened.recorder.flush(PATIENCE_S)
        edited = EDITS[edit](seen, session)
        assert edited != seen or edit == "nothing"
        saved(opened.path, edited)
        for event in session.events[BEFORE + BETWEEN : BEFORE + BETWEEN + more]:
            opened.record(event)
        come_to = session.after[BEFORE + BETWEEN + more]
        assert opened.close(come_to, PATIENCE_S)
        assert same_but_for_the_title(read(opened.path).session, come_to)
        assert read(opened.path).torn is None
        assert opened.recorder.healed is not None or edit in NOT_HEALED
        DONE["edits of a file that was being written"] += 1
        for line in set(edited.splitlines()) - set(seen.splitlines()):
            if line.strip():
                assert is_somewhere(line, opened.path), "what somebody typed is lost"


@pytest.mark.parametrize("more", [0, 1])
def test_a_file_or_folder_removed_during_the_session_is_there_again_after_it(more: int, tmp_path: Path) -> None:
    session = beginning()
    for remove in (lambda path: path.unlink(), lambda path: shutil.rmtree(path.parent)):
        opened = kept(Home(tmp_path / "home"), session, most=BEFORE)
        remove(opened.path)
        for event in session.events[BEFORE : BEFORE + more]:
            opened.record(event)
        assert opened.close(session.after[BEFORE + more], PATIENCE_S)
        assert read(opened.path).session == session.after[BEFORE + more]
        DONE["files and folders removed during a session"] += 1


def same_but_for_the_title(session: Session, other: Session) -> bool:
    """Whether the same has happened in both."""
    return (session.visits, session.notes, session.last) == (other.visits, other.notes, other.last)


def is_somewhere(line: bytes, path: Path) -> bool:
    """Whether the line stands in the file or in what was set aside."""
    aside = journal.torn_file(path)
    return line in path.read_bytes() + (aside.read_bytes() if aside.exists() else b"")


def test_a_figure_changed_in_place_is_noticed_though_the_file_is_as_long_as_before(tmp_path: Path) -> None:
    session = beginning()
    opened = kept(Home(tmp_path), session, most=BEFORE)
    data = opened.path.read_bytes()
    written = block(session, 4)
    changed = written.replace(b"boot-1", b"boot-2")
    opened.path.write_bytes(data.replace(written, changed))
    opened.record(session.events[BEFORE])
    assert opened.close(session.after[BEFORE + 1], PATIENCE_S)
    assert read(opened.path).session == session.after[BEFORE + 1]
    assert is_somewhere(changed.splitlines()[4], opened.path)


def test_a_note_put_into_other_words_meanwhile_stays_so_and_nothing_after_it_is_lost(tmp_path: Path) -> None:
    session = beginning()
    opened = kept(Home(tmp_path), session, most=BEFORE)
    seen = opened.path.read_bytes()
    for event in session.events[BEFORE : BEFORE + BETWEEN]:
        opened.record(event)
    assert opened.recorder.flush(PATIENCE_S)
    events = seen.index(journal.END_OF_HEADER)
    assert b'text = "Gut so.' in seen[events:]
    by_replacing(opened.path, seen[:events] + seen[events:].replace(b"Gut so.", b"Very good."))
    for event in session.events[BEFORE + BETWEEN :]:
        opened.record(event)
    assert opened.close(session.after[-1], PATIENCE_S)
    stored = read(opened.path)
    assert stored.session.notes == (NOTES[0].replace("Gut so.", "Very good."), *session.after[-1].notes[1:])
    assert (stored.session.visits, stored.torn) == (session.after[-1].visits, None)
