"""The session file: a header written once and whole, then one block per event, each on disk before it counts.

The file is valid TOML after every event, and an event costs the same however long the file is. A block ends with
the CRC-32 of its text, so that a block cut by a power failure is known: it and whatever follows is a torn tail,
set aside in a file of its own, never trusted and never lost. Only a note may be put into other words by hand: it
decides nothing, so it counts whatever its checksum says. Whoever only reads may ask for other changed events too.
"""

from __future__ import annotations

import errno
import os
import re
import zlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from bench.errors import Fault, FaultyFiles
from bench.store.atomic import flush_folder, flush_to_disk, make_folder, replace_whole
from bench.store.files import LARGEST_FILE, parse_table, parse_text, read_bytes

MARK = b"[[event]]\n"
END_OF_HEADER = b"\n# Events, in their order. Each block ends with the checksum of its own text.\n\n"
LONGEST_HEAD = 1_000_000
"""Bytes before the first event: twice what a plan of fifty rounds takes, and read in less than a second."""

MOST_TABLES = 20_000
"""Of a head: seven times what the longest plan has that can be saved. A parser is slowest with these."""

_CHECKSUM = b'crc = "'
_CHECKSUM_LINE = len(_CHECKSUM) + 8 + len(b'"\n')
_SUM = re.compile(rb'crc = "[0-9a-f]{8}"\n')
_NOTE = b'kind = "noted"\n'
"""How the text of a note begins."""

Opener = Callable[[Path], BinaryIO]


@dataclass(frozen=True, kw_only=True, slots=True)
class Content:
    """What a session file holds. ``good`` is how many of its bytes are whole, ``torn`` what follows them.

    ``changed`` are the places of notes that somebody has put into other words since, and of other changed events
    where those were asked for.
    """

    header: Mapping[str, Any]
    events: tuple[Mapping[str, Any], ...]
    good: int
    torn: bytes
    changed: tuple[int, ...] = ()


def create(path: Path, header: Mapping[str, Any]) -> int:
    """Write a new session file that has no events yet; its size. Raises OSError, FileExistsError among them."""
    import tomli_w

    if "event" in header:
        raise ValueError("the header's own key cannot be called event")
    if path.exists():
        raise FileExistsError(17, "File exists", str(path))
    data = tomli_w.dumps(header).encode("utf-8", "replace") + END_OF_HEADER
    replace_whole(path, data)
    return len(data)


def block(event: Mapping[str, Any]) -> bytes:
    """The event as it stands in the file. Values are text, numbers, truths, moments and lists of them."""
    import tomli_w

    if "crc" in event or any(isinstance(value, Mapping) or value is None for value in event.values()):
        raise ValueError("an event is flat: no tables, no None, no key called crc")
    body = tomli_w.dumps(event).encode("utf-8", "replace")
    return MARK + body + _CHECKSUM + b'%08x"\n\n' % zlib.crc32(body)


def load(path: Path) -> Content:
    """What the file holds, without changing it. Raises FaultyFiles when the header cannot be read."""
    return parse(read_bytes(path), file=str(path))


def parse(data: bytes, *, file: str, changed_too: bool = False) -> Content:
    """What these bytes of a session file hold; ``changed_too`` with events that no longer fit their checksums.

    Raises FaultyFiles when the header cannot be read.
    """
    end = header_end(data)
    refuse_a_long_head(data[:end], file=file)
    header = parse_table(data[:end], file=file)
    events: list[Mapping[str, Any]] = []
    changed: list[int] = []
    good = end
    while (found := _event_at(data, good, file, changed_too=changed_too)) is not None:
        if not found.fits:
            changed.append(len(events))
        events.append(found.event)
        good = found.end
    return Content(header=header, events=tuple(events), good=good, torn=data[good:], changed=tuple(changed))


def refuse_a_long_head(head: bytes, *, file: str) -> None:
    """Raises FaultyFiles for a head of more bytes or tables than can be read in a moment."""
    if len(head) > LONGEST_HEAD:
        found, wanted = f"{len(head) / 1e6:.1f} MB before the first event", f"at most {LONGEST_HEAD / 1e6:g} MB"
    elif head.count(b"\n[") > MOST_TABLES:
        found, wanted = f"more than {MOST_TABLES} tables before the first event", "a plan of fewer"
    else:
        return
    raise FaultyFiles([Fault(key="", found=found, wanted=wanted, file=file)])


def header_end(data: bytes) -> int:
    """Where the header ends: after its last line, else before the first event, else before a part of one."""
    ending = data.find(END_OF_HEADER)
    if ending >= 0:
        return ending + len(END_OF_HEADER)
    first = data.find(b"\n" + MARK)
    if first >= 0:
        return first + 1
    last_line = data.rpartition(b"\n")[2]
    return len(data) - len(last_line) if MARK.startswith(last_line) else len(data)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Found:
    """One whole event and where its block ends; whether its checksum ``fits``."""

    event: Mapping[str, Any]
    end: int
    fits: bool


def _event_at(data: bytes, start: int, file: str, *, changed_too: bool) -> _Found | None:
    """The whole event that begins there; None where there is none or it is damaged."""
    found = _body_at(data, start, changed_too=changed_too)
    if found is None:
        return None
    body, end, fits = found
    try:
        return _Found(event=parse_text(body.decode("utf-8"), file=file), end=end, fits=fits)
    except (FaultyFiles, UnicodeDecodeError):
        return None


def _body_at(data: bytes, start: int, *, changed_too: bool = False) -> tuple[bytes, int, bool] | None:
    """The text of the block that begins there, where the block ends, and whether its checksum fits.

    None where there is no whole block; one whose checksum does not fit is none either, unless it is a note or
    ``changed_too``.
    """
    if not data.startswith(MARK, start):
        return None
    body_start = start + len(MARK)
    # A line of its own: inside texts a line break is always escaped, and items of lists are indented.
    body_end = data.find(b"\n" + _CHECKSUM, body_start) + 1
    body = data[body_start:body_end]
    end = body_end + _CHECKSUM_LINE
    if not body:
        return None
    fits = data[body_end:end] == _CHECKSUM + b'%08x"\n' % zlib.crc32(body)
    may_differ = changed_too or body.startswith(_NOTE)
    if not fits and not (may_differ and _SUM.fullmatch(data, body_end, end)):
        return None
    return body, end + 1 if data.startswith(b"\n", end) else end, fits


def blocks_of(data: bytes) -> list[bytes]:
    """The blocks of the file's whole events, one after another from the end of its head on."""
    blocks: list[bytes] = []
    place = header_end(data)
    while (found := _body_at(data, place)) is not None:
        blocks.append(data[place : found[1]])
        place = found[1]
    return blocks


def first_event(text: bytes, *, file: str) -> Mapping[str, Any]:
    """The event with which this text begins, as the file says it. Raises FaultyFiles, UnicodeDecodeError."""
    first: Mapping[str, Any] = parse_text(text.decode("utf-8"), file=file)["event"][0]
    return first


def open_for_writing(path: Path) -> BinaryIO:
    """The file, unbuffered, for writing anywhere in it."""
    return path.open("r+b", buffering=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Healed:
    """Another program had changed or removed the file, and it was made whole again. ``kept_in`` is the name of the
    file that keeps what the other one wrote; empty where it wrote nothing."""

    kept_in: str = ""


class Journal:
    """Appends to a session file. Not for two threads at once; ``bench.store.recorder`` owns one.

    The file is opened anew for every event: one that was removed is noticed, not written into nowhere. What it
    must hold is remembered: an editor that saves an older copy over it, or a figure of the past changed in it,
    takes no event away.
    """

    def __init__(
        self,
        path: Path,
        *,
        good: int,
        opener: Opener = open_for_writing,
        fits: Callable[[Content], bool] = lambda _content: True,
    ) -> None:
        """``good`` is where the next event goes: a new file's size, or ``Content.good``. ``fits`` says whether a
        head that somebody has changed still goes with its events. Raises FaultyFiles."""
        self._path = path
        self._good = good
        self._opener = opener
        self._fits = fits
        self._seen = _version(path.stat())
        data = read_bytes(path)[:good]
        self._head = data[: header_end(data)]
        self._blocks = blocks_of(data)
        self._failed = b""
        self._kept_aside = b""
        self._healed: Healed | None = None

    @property
    def path(self) -> Path:
        """The session file."""
        return self._path

    @property
    def healed(self) -> Healed | None:
        """What came of the first change that another program made; None where none did."""
        return self._healed

    def append(self, written: bytes) -> None:
        """Put a ``block`` on disk. Raises OSError; what of it reached the file is cut off before the next.

        A file that would grow too large to be read again takes nothing more.
        """
        self._restore()
        with self._opener(self._path) as file:
            self._mend(file)
            if self._good + len(written) > LARGEST_FILE:
                raise OSError(errno.EFBIG, "File too large")
            self._failed = written
            self._write(file, written)
            self._failed = b""
            self._blocks.append(written)

    def settle(self) -> None:
        """Put back what somebody has taken from the file since the last event. Raises OSError."""
        self._restore()
        with self._opener(self._path) as file:
            self._mend(file)

    def put_back_folder(self) -> None:
        """Make the file's folder anew where somebody has removed it. Raises OSError."""
        make_folder(self._path.parent)

    def _write(self, file: BinaryIO, data: bytes) -> None:
        file.seek(self._good)
        file.truncate()
        rest = memoryview(data)
        while rest:
            rest = rest[file.write(rest) :]
        flush_to_disk(file.fileno())
        self._good += len(data)
        self._seen = _version(os.fstat(file.fileno()))

    def _restore(self) -> None:
        """Write the whole file anew where it is gone, or where its head cannot be read or fits none of it."""
        try:
            status = self._path.stat()
        except FileNotFoundError:
            if not self._path.resolve().parent.is_dir():
                raise
            data = b""
        else:
            if status.st_size == self._good and self._seen == _version(status):
                return
            data = self._bytes()
            if self._is_sound(data[: header_end(data)]):
                return
        self._set_aside(data)
        whole = self._head + b"".join(self._blocks)
        replace_whole(self._path, whole)
        self._good, self._seen = len(whole), _version(self._path.stat())
        self._healed = self._healed or Healed()

    def _bytes(self) -> bytes:
        try:
            return read_bytes(self._path)
        except FaultyFiles as error:
            raise OSError(f"another program has changed it ({error})") from error

    def _is_sound(self, head: bytes) -> bool:
        """Whether the session can be read again from this head and the events that were written."""
        if head == self._head:
            return True
        try:
            return self._fits(parse(head + b"".join(self._blocks), file=str(self._path)))
        except FaultyFiles:
            return False

    def _mend(self, file: BinaryIO) -> None:
        """Find where the next event goes: the last good place, unless a write failed or somebody edited the file.

        Notes in other words stay so. Events that are missing are written again, after what there is of them; what
        else stands there is set aside.
        """
        status = os.fstat(file.fileno())
        if status.st_size == self._good and self._seen == _version(status):
            return
        data = self._bytes()
        kept = self._kept(data)
        good = header_end(data) + sum(map(len, kept))
        missing = self._blocks[len(kept) :]
        rest = data[good:]
        if not b"".join([*missing, self._failed]).startswith(rest):
            self._set_aside(rest)
        self._good = good
        self._head = data[: header_end(data)]
        self._blocks[: len(kept)] = kept
        if missing:
            self._healed = self._healed or Healed()
            self._write(file, b"".join(missing))
        else:
            self._seen = _version(status)

    def _set_aside(self, data: bytes) -> None:
        """Keep what another program wrote, once however often the disk then refuses. Empty lines are nothing."""
        if data.strip() and data != self._kept_aside:
            _set_aside(self._path, data)
            self._kept_aside = data
            self._healed = self._healed or Healed(kept_in=torn_file(self._path).name)

    def _kept(self, data: bytes) -> list[bytes]:
        """The first blocks of the file, as far as they are those that were written, or notes in other words."""
        kept: list[bytes] = []
        for found, written in zip(blocks_of(data), self._blocks, strict=False):
            notes = all(one.startswith(MARK + _NOTE) for one in (found, written))
            if not notes and found.rstrip(b"\n") != written.rstrip(b"\n"):
                break
            kept.append(found)
        return kept


def _version(status: os.stat_result) -> tuple[int, int]:
    """Which file it is and when it was last written: both change when somebody else saves it."""
    return status.st_ino, status.st_mtime_ns


def reopen(
    path: Path, *, opener: Opener = open_for_writing, fits: Callable[[Content], bool] = lambda _content: True
) -> tuple[Content, Journal]:
    """The file's content, and a journal that goes on after its last whole event.

    A torn tail is first added to ``NAME.torn`` beside it. Raises FaultyFiles, OSError; only whoever holds the
    session's lock may call this.
    """
    content = load(path)
    if content.torn:
        _set_aside(path, content.torn)
        with opener(path) as file:
            file.truncate(content.good)
            flush_to_disk(file.fileno())
    return content, Journal(path, good=content.good, opener=opener, fits=fits)


def torn_file(path: Path) -> Path:
    """Where the torn tails of a session file are kept."""
    return path.with_name(path.name + ".torn")


def _set_aside(path: Path, torn: bytes) -> None:
    aside = torn_file(path)
    with aside.open("ab") as file:
        file.write(torn)
        file.flush()
        flush_to_disk(file.fileno())
    flush_folder(aside.parent)
