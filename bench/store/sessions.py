"""Sessions on disk: started, resumed, read again and listed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import ExitStack, suppress
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any

from bench.errors import BenchError, Fault, FaultyFiles, quoted
from bench.model.library import nearest
from bench.session.events import Event
from bench.session.job import Job
from bench.session.session import Session
from bench.session.summary import Summary, summarise
from bench.store import journal
from bench.store.atomic import make_folder, replace_whole
from bench.store.cut import told_if_cut
from bench.store.decode import WANTED_NAME, encode, is_name, restore
from bench.store.event_tables import event_table
from bench.store.files import FORMAT, LARGEST_FILE, is_there, parse_table, read_bytes
from bench.store.journal import Journal
from bench.store.keys import found
from bench.store.lock import Lock
from bench.store.paths import Home
from bench.store.recorder import RETRY_S, Recorder
from bench.store.replay import changed_events, replayed
from bench.store.seal import broken_seal, seal
from bench.store.shelf import toml_files
from bench.store.torn import ENDINGS, holds_an_end, torn_fault

_SUMMARY = b"\n[summary]\n"
_SNAPSHOT = b"\n[job"
"""Where the snapshot begins: what stands above it is small and enough for a list."""

LONGEST_SNAPSHOT = journal.LONGEST_HEAD - 100_000
"""Bytes: the rest of the longest head that is read is left for the summary."""

ENDED = "over"
"""What is known of a session whose end cannot be read."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stored:
    """A session as its file tells it. ``rehearsal`` is its speed-up, None for a real pour; ``torn`` the sentence
    about an end that was lost, None when the file is whole. ``edited`` are the sentences about what somebody has
    changed since it was written. ``events`` is all that happened, ``aside`` the name of the file that keeps what
    once stood in this one and is no part of the session, empty where there is none. ``end_lost`` says that the
    session had ended, and that the end of its file does not count."""

    id: str
    session: Session
    created: datetime
    rehearsal: float | None
    torn: Fault | None
    edited: tuple[Fault, ...] = ()
    events: tuple[Event, ...] = ()
    aside: str = ""
    end_lost: bool = False

    @property
    def over(self) -> bool:
        """Whether nothing can happen any more."""
        return self.session.state.over or self.end_lost

    @property
    def state(self) -> str:
        """How it stands, in a word."""
        return ENDED if self.end_lost else self.session.state

    def sentences(self) -> Iterator[str]:
        """What has become of the file, for whoever reads the session."""
        yield from (fault.sentence() for fault in (*([self.torn] if self.torn else []), *self.edited))
        if self.aside:
            yield f"What once stood in its file and is no part of it is kept in {self.aside}."


class OpenSession:
    """A session that this process writes: it holds the lock and the recorder until ``close``."""

    def __init__(self, stored: Stored, *, lock: Lock, recorder: Recorder, path: Path) -> None:
        self.stored = stored
        self.path = path
        self.recorder = recorder
        self._lock = lock

    def record(self, event: Event) -> None:
        """Have the event saved; returns at once. ``recorder`` says what is on disk."""
        self.recorder.record(event_table(event))

    def close(self, session: Session, timeout_s: float) -> bool:
        """Save what waits, write the session's summary into the file's head, give the lock back.

        Whether every event is on disk. The summary is for lists only: events alone say what happened. While a disk
        that hangs may still write, the lock stays until the process ends.
        """
        try:
            saved = self.recorder.close(timeout_s)
            if saved:
                _write_summary(self.path, summarise(session))
        except (OSError, FaultyFiles):
            # The events are safe; a list shows an older summary.
            return saved
        finally:
            if self.recorder.has_ended:
                self._lock.release()
        return saved


def create(
    home: Home, session: Session, *, created: datetime, rehearsal: float | None = None, retry_s: float = RETRY_S
) -> OpenSession:
    """A new file for this idle session, open for its events. ``created`` is local time with its offset.

    Raises BenchError when it cannot be written.
    """
    if not is_name(session.job.recipe.name):
        # It becomes a part of the file's name, and a path would lead out of the folder.
        raise FaultyFiles([Fault(key="name", found=found(session.job.recipe.name), wanted=WANTED_NAME)])
    folder = home.sessions if rehearsal is None else home.rehearsals
    try:
        make_folder(folder)
        path = _free(folder, f"{created:%Y-%m-%dT%H%M}-{session.job.recipe.name}")
        with ExitStack() as undo:
            lock = Lock(path)
            undo.callback(lock.release)
            size = _write_new(path, _header(path.stem, session, created, rehearsal))
            appender = Journal(path, good=size, fits=partial(_can_be_read, path))
            undo.pop_all()
    except OSError as error:
        raise _cannot_write(folder, error) from error
    stored = Stored(id=path.stem, session=session, created=created, rehearsal=rehearsal, torn=None)
    return OpenSession(stored, lock=lock, recorder=Recorder(appender, retry_s=retry_s), path=path)


def _write_new(path: Path, header: Mapping[str, Any]) -> int:
    try:
        size = journal.create(path, header)
    except FileExistsError:
        raise
    except OSError:
        # The file may stand there though its folder could not be flushed: no empty session is left behind.
        path.unlink(missing_ok=True)
        raise
    if size > LONGEST_SNAPSHOT:
        path.unlink()
        raise BenchError(f"a session this long ({size / 1e6:.1f} MB) cannot be saved; plan fewer baits at a time")
    return size


def _free(folder: Path, stem: str) -> Path:
    """The first path of that name that nothing stands at."""
    names = (stem if number == 1 else f"{stem}-{number}" for number in count(1))
    return next(path for name in names if not (path := folder / f"{name}.toml").exists())


def _cannot_write(folder: Path, error: OSError) -> BenchError:
    return BenchError(f"a session cannot be saved in {folder}: {(error.strerror or str(error)).lower()}")


def _header(session_id: str, session: Session, created: datetime, rehearsal: float | None) -> dict[str, Any]:
    speed = {} if rehearsal is None else {"rehearsal": rehearsal}
    snapshot = encode(session.job)
    return {
        "format": FORMAT,
        "id": session_id,
        "created": created,
        **speed,
        "seal": seal(snapshot),
        "summary": _brief(summarise(session)),
        "job": snapshot,
    }


def open_for_resume(path: Path, *, retry_s: float = RETRY_S) -> OpenSession:
    """The session of this file with all that has happened, open for more.

    A torn end is set aside beside the file. Raises BenchError when another process has it, it cannot be read, or
    it had ended: of such a file nothing is set aside.
    """
    try:
        if not path.is_file():
            raise FaultyFiles([Fault(key="", found="nothing", wanted="a session", file=str(path))])
        with ExitStack() as undo:
            lock = Lock(path)
            undo.callback(lock.release)
            whole = read_bytes(path)
            undo.enter_context(told_if_cut(whole, file=str(path)))
            _refuse_one_that_ended(path, whole)
            content, appender = journal.reopen(path, fits=partial(_can_be_read, path))
            stored = _stored(path, content, whole=whole, kept=True)
            undo.pop_all()
    except OSError as error:
        raise _cannot_write(path.parent, error) from error
    return OpenSession(stored, lock=lock, recorder=Recorder(appender, retry_s=retry_s), path=path)


def _refuse_one_that_ended(path: Path, whole: bytes) -> None:
    content = journal.parse(whole, file=str(path))
    stored = _stored(path, content, whole=whole) if content.torn else None
    if stored is not None and stored.end_lost and stored.torn is not None:
        raise BenchError(f"{path.stem} is over and does not go on. {stored.torn.sentence()}")


def read(path: Path) -> Stored:
    """The session of this file with all that has happened; the file is left as it is. Raises FaultyFiles.

    A session that is over goes on for nobody: an event of it that was changed by hand counts as the file says it,
    and that is said. One that is not over ends before such an event.
    """
    whole = read_bytes(path)
    with told_if_cut(whole, file=str(path)):
        return _read(path, whole)


def _read(path: Path, whole: bytes) -> Stored:
    content = journal.parse(whole, file=str(path))
    changed = journal.parse(whole, file=str(path), changed_too=True) if content.torn else content
    if changed.events != content.events:
        try:
            stored = _stored(path, changed, whole=whole)
        except FaultyFiles:
            return _stored(path, content, whole=whole)
        if stored.session.state.over:
            return stored
    return _stored(path, content, whole=whole)


def _stored(path: Path, content: journal.Content, *, whole: bytes, kept: bool = False) -> Stored:
    """The session that this content of the ``whole`` file is; ``kept`` says that its torn end is set aside."""
    file = str(path)
    header = dict(content.header)
    top = _top_from(header, path)
    idle = Session(job=_job(header.get("job"), file))
    broken = broken_seal(header["job"], top.seal, file=file)
    is_sealed = bool(top.seal) and broken is None and not content.changed
    session, events = replayed(idle, content, file=file, is_sealed=is_sealed)
    had_ended = bool(content.torn) and (top.summary.state.over or holds_an_end(content.torn))
    over, torn = session.state.over or had_ended, None
    if content.torn:
        torn = torn_fault(path, content, before=whole[: content.good], over=over, kept=kept)
    return Stored(
        id=path.stem,
        session=session,
        created=top.created,
        rehearsal=top.rehearsal,
        torn=torn,
        edited=(*([broken] if broken else []), *changed_events(content, file=file)),
        events=events,
        aside=aside.name if is_there(aside := journal.torn_file(path)) else "",
        end_lost=had_ended and not session.state.over,
    )


def _can_be_read(path: Path, content: journal.Content) -> bool:
    """Whether this content is a session, all of whose events fit."""
    try:
        _stored(path, content, whole=b"")
    except FaultyFiles:
        return False
    return True


def _job(table: object, file: str) -> Job:
    try:
        return restore(Job, table if isinstance(table, Mapping) else {}, file=file)
    except FaultyFiles as error:
        raise FaultyFiles(replace(fault, key=f"job.{fault.key}") for fault in error.faults) from error


@dataclass(frozen=True, kw_only=True, slots=True)
class _Top:
    """What stands above the snapshot."""

    id: str
    created: datetime
    summary: Summary
    rehearsal: float | None = None
    seal: str = ""


def _top_from(header: Mapping[str, Any], path: Path) -> _Top:
    return restore(_Top, {key: value for key, value in header.items() if key != "job"}, file=str(path))


def _brief(summary: Summary) -> dict[str, Any]:
    """The summary as it stands in the head: without the notes, which may be of any length and stand in no list."""
    return encode(replace(summary, notes=()))


def _write_summary(path: Path, summary: Summary) -> None:
    """Put this summary in the place of the one that stands there; every other byte stays."""
    import tomli_w

    data = read_bytes(path)
    start, end = data.find(_SUMMARY), data.find(_SNAPSHOT)
    if 0 <= start < end:
        written = tomli_w.dumps({"summary": _brief(summary)}).encode("utf-8", "replace")
        changed = data[: start + 1] + written + data[end:]
        if len(changed) <= LARGEST_FILE:
            replace_whole(path, changed)


@dataclass(frozen=True, kw_only=True, slots=True)
class Listed:
    """A line of the list. ``fault`` says why there is no ``summary``. ``last`` is when anything last happened,
    ``over`` whether nothing can happen any more."""

    path: Path
    created: datetime | None = None
    rehearsal: float | None = None
    summary: Summary | None = None
    last: datetime | None = None
    over: bool = False
    fault: Fault | None = None

    @property
    def problem(self) -> str:
        """The sentence of ``fault``; empty where the file could be read."""
        return self.fault.sentence() if self.fault else ""

    @property
    def id(self) -> str:
        """What the session is called."""
        return self.path.stem

    @property
    def state(self) -> str:
        """How it stands, in a word; empty where the file could not be read."""
        if self.summary is None or not self.over:
            return "" if self.summary is None else "unfinished"
        return self.summary.state if self.summary.state.over else ENDED


def list_sessions(folder: Path, *, most: int | None = None, figures: bool = True) -> tuple[Listed, ...]:
    """The sessions of a folder, the newest first.

    Only the top of a file is decoded, except where the summary in it may be older than the events: a session that
    goes on, was not closed, or was changed by hand is read through. Without ``figures`` one that goes on is not:
    its summary is then as old as its last close.
    """
    try:
        files = toml_files(folder)
    except FaultyFiles as error:
        return (Listed(path=folder, fault=error.faults[0]),)
    return tuple(_listed(path, figures=figures) for path in files[::-1][:most])


def _listed(path: Path, *, figures: bool) -> Listed:
    try:
        data = read_bytes(path)
        top = _top_from(parse_table(_top_of(data, path), file=str(path)), path)
        line = Listed(path=path, created=top.created, rehearsal=top.rehearsal, summary=top.summary)
        blocks = journal.blocks_of(data)
        over = any(block.startswith(ENDINGS) for block in blocks)
        is_whole = journal.header_end(data) + sum(map(len, blocks)) == len(data)
        was_closed = top.summary.state.over == over
        if is_whole and was_closed and (over or not blocks or not figures):
            with suppress(FaultyFiles, UnicodeDecodeError):  # a last note that was broken by hand
                return replace(line, over=over, last=_moment_of(blocks, path))
        stored = read(path)
    except FaultyFiles as error:
        return Listed(path=path, fault=error.faults[0])
    last = stored.session.last
    summary = summarise(stored.session)
    return replace(line, summary=summary, last=last.wall if last else None, over=stored.over)


def _top_of(data: bytes, path: Path) -> bytes:
    end = data.find(_SNAPSHOT) if _SNAPSHOT in data else journal.header_end(data)
    journal.refuse_a_long_head(data[:end], file=str(path))
    return data[:end]


def _moment_of(blocks: list[bytes], path: Path) -> datetime | None:
    """When the last of these happened; None without one. Raises FaultyFiles, UnicodeDecodeError."""
    if not blocks:
        return None
    wall = journal.first_event(blocks[-1], file=str(path)).get("wall")
    return wall if isinstance(wall, datetime) else None


def find(home: Home, text: str) -> Path:
    """The file of the session that is called so, or begins so; or a path. Raises BenchError."""
    path = Path(text)
    if path.suffix == ".toml":
        return path
    files = [*toml_files(home.sessions)[::-1], *toml_files(home.rehearsals)[::-1]]
    exact = [file for file in files if file.stem == text]
    near = exact or [file for file in files if file.stem.startswith(text)]
    if len(near) == 1:
        return near[0]
    if near:
        raise BenchError(f"{len(near)} sessions begin with {quoted(text)}, the newest of them {near[0].stem}")
    hint = nearest(text, [file.stem for file in files])
    raise BenchError(f"no session is called {quoted(text)}" + (f"; did you mean {hint}?" if hint else ""))
