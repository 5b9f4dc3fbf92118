"""Looking on at a session that another process writes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from bench.errors import Fault, FaultyFiles
from bench.store.lock import holder_of
from bench.store.sessions import Stored, read
from bench.units import Seconds


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """The session as its file tells it, who writes it, and when that file was last written. ``writer`` is empty
    where nobody does any more."""

    stored: Stored
    writer: str
    written: datetime

    def silent_s(self, now: datetime) -> Seconds:
        """How long nothing has been written."""
        return max(0.0, (now - self.written).total_seconds())

    def sentence(self, silent: str = "") -> str:
        """Why nothing can be done here, and what can. ``silent`` is for how long nothing has been written, in
        words, where that is longer than usual: the other window may hang."""
        if self.writer and silent:
            return (
                f"Another window has this session open; nothing was written there for {silent}. "
                f"If it hangs, close it ({self.writer}): once it is gone, Enter resumes here."
            )
        if self.writer:
            return "Another window has this session open. You look on: keys change nothing here."
        return "No window has this session open any more. It can be resumed here."


class Onlooker:
    """Reads one session again and again. It takes no lock and writes nothing, not even beside the file."""

    def __init__(self, path: Path) -> None:
        """``path`` is the session's file."""
        self.path = path
        self._version: tuple[int, int, int] | None = None
        self._stored: Stored | None = None

    def look(self) -> Seen:
        """What there is to see now; the file is read only where it has changed. Raises FaultyFiles.

        While somebody writes, an end that is not whole yet is no torn one.
        """
        writer = holder_of(self.path)
        version = self._now()
        if self._stored is None or version != self._version:
            self._stored, self._version = read(self.path), version
        written = datetime.fromtimestamp(version[2] / 1e9, UTC)
        stored = replace(self._stored, torn=None) if writer else self._stored
        return Seen(stored=stored, writer=writer, written=written)

    def _now(self) -> tuple[int, int, int]:
        """Which file it is, how long, and when it was last written."""
        try:
            status = self.path.stat()
        except OSError as error:
            found = f"a file that cannot be read ({(error.strerror or str(error)).lower()})"
            raise FaultyFiles([Fault(key="", found=found, wanted="a session", file=str(self.path))]) from error
        return status.st_ino, status.st_size, status.st_mtime_ns
