"""A disk that fails where a test says so: each call by which the store touches its files is a point to fail at."""

from __future__ import annotations

import errno
import io
import os
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from bench.store import journal

CALLS = ("open", "write", "ftruncate", "fsync", "mkdir", "chmod", "replace", "unlink")
"""Functions of ``os`` that the store's own writing goes through, by name or inside pathlib and tempfile."""


@dataclass(frozen=True, kw_only=True)
class Fault:
    """``number`` is what the system answers, ``times`` how often from that point on (None: for ever).

    A write that fails first takes ``taken`` bytes, as a disk does that fills up on the way.
    """

    number: int
    times: int | None
    taken: int = 0

    @property
    def error(self) -> OSError:
        """What the system says."""
        return OSError(self.number, os.strerror(self.number))


class FaultyDisk:
    """Counts the points it passes and fails from ``at`` on, as the fault says. Nothing is really flushed."""

    def __init__(self, *, at: int = -1, fault: Fault | None = None) -> None:
        self.at = at
        self.fault = fault
        self.passed = 0
        self.failed = 0
        self.names: list[str] = []
        self._counting = threading.Lock()

    def fails(self, name: str) -> bool:
        """Pass one point; whether it fails."""
        with self._counting:
            self.names.append(name)
            here, self.passed = self.passed, self.passed + 1
            if self.fault is None or here < self.at:
                return False
            if self.fault.times is not None and self.failed >= self.fault.times:
                return False
            self.failed += 1
            return True

    def pass_point(self, name: str) -> None:
        """Pass one point. Raises OSError where it fails."""
        if self.fails(name):
            assert self.fault is not None
            raise self.fault.error

    def write(self, real: Callable[[bytes], int], data: bytes, name: str) -> int:
        """Write, or take a part of it and then fail: what is taken in one call is short, the next one fails."""
        if not self.fails(name):
            return real(data)
        assert self.fault is not None
        part = data[: self.fault.taken]
        if part:
            real(part)
        raise self.fault.error

    def install(self, patch: pytest.MonkeyPatch) -> None:
        """Put itself between the store and the system."""
        for name in CALLS:
            patch.setattr(os, name, partial(self._call, name, getattr(os, name)))
        patch.setattr(os, "fdopen", self._fdopen)
        for function in (journal.Journal.__init__, journal.reopen):
            defaults = function.__kwdefaults__
            assert defaults is not None
            patch.setitem(defaults, "opener", self._open_for_writing)

    def _call(self, name: str, real: Callable[..., Any], *given: Any, **named: Any) -> Any:
        if name == "write":
            return self.write(partial(real, given[0]), given[1], name)
        self.pass_point(name)
        return None if name == "fsync" else real(*given, **named)

    def _open_for_writing(self, path: Path) -> BinaryIO:
        self.pass_point("open for writing")
        return _File(self, path, "r+b")

    def only_writes(self, path: Path) -> BinaryIO:
        """A file of which nothing fails but writes."""
        return _File(self, path, "r+b", only_writes=True)

    def _fdopen(self, descriptor: int, mode: str) -> BinaryIO:
        # Buffered in the program; here each write fails at once, as the flush after it would.
        return _File(self, descriptor, mode)


class _File(io.FileIO):
    """A file of that disk."""

    def __init__(self, disk: FaultyDisk, place: Path | int, mode: str, *, only_writes: bool = False) -> None:
        super().__init__(place, mode)
        self._disk = disk
        self._only_writes = only_writes

    def write(self, data: Any, /) -> int:
        return self._disk.write(super().write, bytes(data), "write")

    def truncate(self, size: int | None = None, /) -> int:
        if not self._only_writes:
            self._disk.pass_point("truncate")
        return super().truncate(size)

    def seek(self, place: int, whence: int = os.SEEK_SET, /) -> int:
        if not self._only_writes:
            self._disk.pass_point("seek")
        return super().seek(place, whence)


def every_fault(longest: int) -> list[Fault]:
    """What a disk may say, once, a few times, or until the power goes."""
    numbers = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.ENOENT, errno.EACCES)
    faults = [Fault(number=number, times=times) for number in numbers for times in (1, 3)]
    faults += [Fault(number=errno.ENOSPC, times=2, taken=taken) for taken in (longest // 2, longest)]
    dead = [Fault(number=errno.EIO, times=None, taken=taken) for taken in (0, longest // 2, longest - 1)]
    return faults + dead
