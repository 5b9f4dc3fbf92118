"""The session file survives being cut or damaged anywhere: whole events are kept, the rest is set aside."""

from __future__ import annotations

import io
import tomllib
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import FaultyFiles
from bench.store import journal
from bench.store.journal import (
    END_OF_HEADER,
    Content,
    Healed,
    Journal,
    block,
    create,
    load,
    open_for_writing,
    parse,
    reopen,
    torn_file,
)

HEADER: Mapping[str, Any] = {"format": 1, "id": "a", "summary": {"count": 8}, "list": [{"a": 1}, {"a": 2}]}
READ_HEADER = {key: value for key, value in HEADER.items() if key != "format"}
EVENTS: list[Mapping[str, Any]] = [
    {"kind": "started", "at": datetime(2026, 1, 31, 9, 5, tzinfo=UTC), "elapsed": 1.5},
    {"kind": "noted", "text": 'crc = "00000000"\n[[event]]\n"é\u2028'},
    {"kind": "cautions acknowledged", "cautions": ["fan-on", 'crc = "'], "count": 2},
]

NOTE = 1
"""The place of the note among them."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "2026-01-31T0905-a.toml"
    create(path, HEADER)
    appender = Journal(path, good=path.stat().st_size)
    for event in EVENTS:
        appender.append(block(event))
    return path


def test_the_file_is_plain_toml_after_every_event(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    create(path, HEADER)
    assert tomllib.loads(path.read_text("utf-8")) == HEADER
    appender = Journal(path, good=path.stat().st_size)
    for count, event in enumerate(EVENTS, 1):
        appender.append(block(event))
        table = tomllib.loads(path.read_text("utf-8"))
        assert [{**entry, "crc": ""} for entry in table["event"]] == [{**e, "crc": ""} for e in EVENTS[:count]]


def test_what_was_written_is_what_is_loaded(file: Path) -> None:
    content = load(file)
    assert content == Content(header=READ_HEADER, events=tuple(EVENTS), good=len(file.read_bytes()), torn=b"")


def test_a_file_cut_anywhere_keeps_its_whole_events_and_the_rest_is_torn(file: Path) -> None:
    data = file.read_bytes()
    start = data.index(END_OF_HEADER)
    for cut in range(start + 1, len(data)):
        content = parse(data[:cut], file="x")
        assert content.header == READ_HEADER
        assert list(content.events) == EVENTS[: len(content.events)]
        assert data[: content.good] + content.torn == data[:cut]
    whole_ends = {len(parse(data[:cut], file="x").events): cut for cut in range(len(data), start, -1)}
    assert set(whole_ends) == {0, 1, 2, 3}


def test_an_event_counts_from_the_end_of_its_checksum_line_on(file: Path) -> None:
    data = file.read_bytes()
    assert len(parse(data[:-1], file="x").events) == 3, "only the empty line is missing"
    assert len(parse(data[:-2], file="x").events) == 2


def test_one_flipped_bit_anywhere_never_changes_an_event_nor_loses_a_byte(file: Path) -> None:
    data = file.read_bytes()
    start = len(data) - sum(len(block(event)) for event in EVENTS)
    for place in range(len(data)):
        for bit in range(8):
            damaged = bytearray(data)
            damaged[place] ^= 1 << bit
            try:
                content = parse(bytes(damaged), file="x")
            except FaultyFiles:
                assert place < start, "a damaged event must not make the header unreadable"
                continue
            same = [place for place in range(len(content.events)) if place not in content.changed]
            assert [content.events[place] for place in same] == [EVENTS[place] for place in same]
            assert set(content.changed) <= {NOTE}, "only a note counts in other words, and that is said"
            assert damaged[: content.good] + content.torn == damaged
            if place < start - len(END_OF_HEADER):
                assert len(content.events) == 3


def test_a_note_in_other_words_counts_and_so_does_what_follows_it(file: Path) -> None:
    file.write_bytes(file.read_bytes().replace("é".encode(), "Großer Köder, ".encode()))
    content, appender = reopen(file)
    assert [event["kind"] for event in content.events] == [event["kind"] for event in EVENTS]
    assert "Großer Köder" in content.events[NOTE]["text"]
    assert (content.changed, content.torn) == ((NOTE,), b"")
    appender.append(block({"kind": "noted", "text": "more"}))
    assert len(load(file).events) == 4
    assert len(journal.blocks_of(file.read_bytes())) == 4


def test_nothing_but_a_note_counts_in_other_words(file: Path) -> None:
    file.write_bytes(file.read_bytes().replace(b"elapsed = 1.5", b"elapsed = 9.5"))
    content = load(file)
    assert (content.events, content.changed) == ((), ())
    assert content.torn.startswith(journal.MARK + b'kind = "started"')


@settings(deadline=None)
@given(st.binary(max_size=200))
def test_rubbish_after_the_header_is_torn_not_trusted(rubbish: bytes) -> None:
    head = b"format = 1\n" + END_OF_HEADER
    content = parse(head + rubbish, file="x")
    assert content.events == ()
    assert content.torn == rubbish


_VALUES = st.text(max_size=20) | st.integers(-(2**60), 2**60) | st.floats(allow_nan=False) | st.booleans()


@settings(deadline=None)
@given(
    st.dictionaries(st.text(max_size=8).filter(lambda key: key != "crc"), _VALUES | st.lists(_VALUES, max_size=3))
)
def test_any_flat_event_comes_back(event: dict[str, Any]) -> None:
    data = b"format = 1\n" + END_OF_HEADER + block(event) * 2
    assert list(parse(data, file="x").events) == ([event, event] if event else [])


@pytest.mark.parametrize("event", [{"a": {"b": 1}}, {"a": None}, {"crc": "x"}])
def test_what_is_not_flat_is_no_event(event: Mapping[str, Any]) -> None:
    with pytest.raises(ValueError, match="an event is flat"):
        block(event)


def test_a_lone_surrogate_does_not_stop_a_save(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    create(path, {"format": 1, "note": "a\ud800b"})
    Journal(path, good=path.stat().st_size).append(block({"text": "a\ud800b"}))
    assert load(path).events == ({"text": "a?b"},)


def test_an_existing_file_is_never_overwritten(file: Path) -> None:
    before = file.read_bytes()
    with pytest.raises(FileExistsError):
        create(file, HEADER)
    assert file.read_bytes() == before


def test_a_header_without_the_closing_comment_still_reads(file: Path) -> None:
    """Whoever tidies a file by hand may remove it."""
    data = file.read_bytes().replace(END_OF_HEADER, b"\n")
    assert list(parse(data, file="x").events) == EVENTS


def test_reopening_sets_the_torn_tail_aside_and_goes_on_after_the_last_whole_event(file: Path) -> None:
    whole = file.read_bytes()
    torn = block({"kind": "held"})[:-6]
    file.write_bytes(whole + torn)
    content, appender = reopen(file)
    assert content.torn == torn
    assert torn_file(file).read_bytes() == torn
    assert file.read_bytes() == whole
    appender.append(block({"kind": "resumed"}))
    assert load(file).events == (*EVENTS, {"kind": "resumed"})


def test_torn_tails_of_several_mishaps_are_all_kept(file: Path) -> None:
    for rubbish in (b"[[event]]\nkind = ", b"\0\0\0\0"):
        with file.open("ab") as handle:
            handle.write(rubbish)
        reopen(file)
    assert torn_file(file).read_bytes() == b"[[event]]\nkind = \0\0\0\0"


def test_reopening_a_whole_file_changes_nothing(file: Path) -> None:
    before = file.read_bytes()
    reopen(file)
    assert file.read_bytes() == before
    assert not torn_file(file).exists()


class ShortWrites(io.FileIO):
    """A disk that takes so many bytes and then is full."""

    room = 10**9

    def write(self, data: Any, /) -> int:
        taken = bytes(data)[: ShortWrites.room]
        if not taken and len(bytes(data)) > 0:
            raise OSError(28, "No space left on device")
        ShortWrites.room -= len(taken)
        return super().write(taken)


@pytest.mark.parametrize("room", range(len(block({"kind": "held"})) - 1))
def test_an_event_after_a_failed_write_is_not_glued_to_its_torn_half(
    file: Path, room: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    appender = Journal(file, good=file.stat().st_size, opener=lambda path: ShortWrites(path, "r+b"))
    monkeypatch.setattr(ShortWrites, "room", room)
    with pytest.raises(OSError, match="No space left"):
        appender.append(block({"kind": "held"}))
    assert list(load(file).events) == EVENTS, "what did not reach the disk whole is not an event"
    monkeypatch.setattr(ShortWrites, "room", 10**9)
    appender.append(block({"kind": "held"}))
    content = load(file)
    assert content.events == (*EVENTS, {"kind": "held"})
    assert content.torn == b""


def test_a_failed_flush_is_a_failed_save(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    appender = Journal(file, good=file.stat().st_size)

    def fail(_: int) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as broken:
        broken.setattr(journal, "flush_to_disk", fail)
        with pytest.raises(OSError, match="Input/output"):
            appender.append(block({"kind": "held"}))
    appender.append(block({"kind": "held"}))
    assert load(file).events == (*EVENTS, {"kind": "held"})


def test_every_event_is_flushed_before_it_counts(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[int] = []
    monkeypatch.setattr(journal, "flush_to_disk", lambda _: seen.append(len(load(file).events)))
    Journal(file, good=file.stat().st_size).append(block({"kind": "held"}))
    assert seen == [4]


def test_a_header_edited_by_hand_during_the_session_keeps_every_event(file: Path) -> None:
    appender = Journal(file, good=file.stat().st_size)
    file.write_bytes(file.read_bytes().replace(b'id = "a"', b'id = "a"\nnote = "added"'))
    appender.append(block({"kind": "held"}))
    file.write_bytes(file.read_bytes().replace(b'\nnote = "added"', b""))
    appender.append(block({"kind": "resumed"}))
    assert load(file).events == (*EVENTS, {"kind": "held"}, {"kind": "resumed"})
    assert not torn_file(file).exists()


def test_a_file_that_was_taken_away_is_written_anew(file: Path) -> None:
    appender = Journal(file, good=file.stat().st_size)
    file.rename(file.with_name("elsewhere.toml"))
    appender.append(block({"kind": "held"}))
    assert load(file).events == (*EVENTS, {"kind": "held"})
    assert appender.healed == Healed()


def test_a_folder_that_was_taken_away_is_not_made_anew_unasked(file: Path) -> None:
    """It may be a stick that was pulled and comes back."""
    appender = Journal(file, good=file.stat().st_size)
    whole = file.read_bytes()
    elsewhere = file.parent.rename(file.parent.with_name("elsewhere"))
    with pytest.raises(FileNotFoundError):
        appender.append(block({"kind": "held"}))
    assert not file.parent.exists()
    appender.put_back_folder()
    appender.append(block({"kind": "held"}))
    assert load(file).events == (*EVENTS, {"kind": "held"})
    assert (elsewhere / file.name).read_bytes() == whole


@pytest.mark.parametrize("data", [b"something else", b"\xff", b"format = 1\nbad =\n" + END_OF_HEADER])
def test_a_file_that_another_program_broke_is_written_anew_and_what_stood_there_kept(
    data: bytes, file: Path
) -> None:
    appender = Journal(file, good=file.stat().st_size)
    file.write_bytes(data)
    appender.append(block({"kind": "held"}))
    assert load(file).events == (*EVENTS, {"kind": "held"})
    assert load(file).header == READ_HEADER
    assert torn_file(file).read_bytes() == data
    assert appender.healed == Healed(kept_in=torn_file(file).name)


def test_a_file_that_was_emptied_is_written_anew_and_nothing_kept(file: Path) -> None:
    appender = Journal(file, good=file.stat().st_size)
    file.write_bytes(b"")
    appender.append(block({"kind": "held"}))
    assert load(file).events == (*EVENTS, {"kind": "held"})
    assert (appender.healed, torn_file(file).exists()) == (Healed(), False)


def test_a_head_that_does_not_go_with_its_events_is_put_back(file: Path) -> None:
    appender = Journal(file, good=file.stat().st_size, fits=lambda content: content.header["id"] == "a")
    other = file.read_bytes().replace(b'id = "a"', b'id = "b"')
    file.write_bytes(other)
    appender.append(block({"kind": "held"}))
    assert load(file).header == READ_HEADER
    assert load(file).events == (*EVENTS, {"kind": "held"})
    assert torn_file(file).read_bytes() == other


def test_what_is_set_aside_is_kept_once_however_often_the_disk_refuses(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    appender = Journal(file, good=file.stat().st_size)
    file.write_bytes(b"something else")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as full:
        full.setattr(journal, "replace_whole", fail)
        for _ in range(3):
            with pytest.raises(OSError, match="No space"):
                appender.append(block({"kind": "held"}))
    appender.append(block({"kind": "held"}))
    assert torn_file(file).read_bytes() == b"something else"
    assert load(file).events == (*EVENTS, {"kind": "held"})


def test_what_changes_no_event_is_not_called_healed(file: Path) -> None:
    appender = Journal(file, good=file.stat().st_size)
    appender.append(block({"kind": "held"}))
    for fewer, more in ((1, b""), (0, b"\n\n")):
        data = file.read_bytes()
        file.write_bytes(data[: len(data) - fewer] + more)
        appender.append(block({"kind": "noted", "text": "more"}))
    assert (appender.healed, torn_file(file).exists()) == (None, False)
    assert len(load(file).events) == len(EVENTS) + 3


def test_the_writing_opener_never_makes_a_file(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        open_for_writing(tmp_path / "none.toml")
