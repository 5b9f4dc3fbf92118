"""An advisory lock on a session, so that two processes never write the same file."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from bench.errors import BenchError

try:
    import fcntl
except ImportError:  # Windows has none: there the user is trusted to open a session once.
    fcntl = None  # type: ignore[assignment]

_LONGEST_NUMBER = 20
"""Digits of the number of a process."""


class InUse(BenchError):
    """Another process writes this session; ``bench.store.onlooker`` shows it all the same."""

    def __init__(self, path: Path, holder: str) -> None:
        self.holder = holder
        super().__init__(
            f"{path.name} is open in another window on this machine ({holder}). Go on there, or close it first"
        )


def holder_of(path: Path) -> str:
    """Who writes this session, such as "process 4711"; empty where nobody does. Asks without touching the lock."""
    if fcntl is None:
        return ""
    try:
        number = _lock_file(path.resolve()).read_bytes()[:_LONGEST_NUMBER]
    except OSError:
        return ""
    if not number.isdigit() or not int(number):
        return ""
    try:
        os.kill(int(number), 0)
    except PermissionError:
        pass  # it is another user's
    except (OSError, OverflowError):
        return ""
    return f"process {int(number)}"


class Lock:
    """A session's lock, held until ``release`` or until the process ends, however it ends."""

    def __init__(self, path: Path) -> None:
        """Take the lock of this session file. Raises InUse naming the process that has it, OSError."""
        # One lock for one file, by whatever links it is reached.
        self._path = _lock_file(path.resolve())
        self._descriptor = self._take(path)

    def _take(self, path: Path) -> int:
        while True:
            descriptor = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o644)
            try:
                if fcntl is not None:
                    fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                holder = os.pread(descriptor, _LONGEST_NUMBER, 0).decode("ascii", "replace")
                os.close(descriptor)
                raise InUse(path, f"process {holder}" if holder.isdigit() else "another process") from error
            except OSError:
                os.close(descriptor)
                raise
            if self._is_still_there(descriptor):
                with suppress(OSError):  # a full disk: the lock holds without its holder's number
                    os.ftruncate(descriptor, 0)
                    os.write(descriptor, b"%d" % os.getpid())
                return descriptor
            os.close(descriptor)

    def _is_still_there(self, descriptor: int) -> bool:
        """Whether the locked file is the one of that name: its last holder may have removed it meanwhile."""
        try:
            return os.path.samestat(self._path.stat(), os.fstat(descriptor))
        except FileNotFoundError:
            return False

    def release(self) -> None:
        """Give the lock back."""
        try:
            with suppress(OSError):  # a folder that went away or takes no changes: the file is let go all the same
                self._path.unlink()
        finally:
            os.close(self._descriptor)


def _lock_file(path: Path) -> Path:
    return path.with_name(f".{path.name}.lock")
