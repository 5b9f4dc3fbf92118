"""Writing a file whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
import tempfile
from pathlib import Path


def replace_whole(path: Path, data: bytes) -> None:
    """Put ``data`` in the file's place: after a power cut the old or the new content is there, never a mix.

    A symbolic link keeps pointing where it points: what it points to is replaced. Folders that are missing are
    made. Raises OSError, with the old content untouched unless the folder alone could not be flushed.
    """
    target = path.resolve()
    make_folder(target.parent)
    handle, name = tempfile.mkstemp(prefix=".", suffix=".tmp", dir=target.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            flush_to_disk(file.fileno())
        temporary.chmod(_mode_of(target))
        temporary.replace(target)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    flush_folder(target.parent)


def make_folder(folder: Path) -> None:
    """Make the folder and those above it that are missing, each on disk under its name. Raises OSError."""
    missing = [place for place in (folder, *folder.parents) if not place.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    for made in missing:
        flush_folder(made.parent)


def _mode_of(target: Path) -> int:
    """The mode the file had, or the one that a new file gets: temporary files are made for their owner only."""
    try:
        return target.stat().st_mode & 0o7777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def flush_to_disk(descriptor: int) -> None:
    """fsync that means it: on macOS plain fsync leaves the data in the drive's cache."""
    if sys.platform == "darwin":
        import fcntl

        try:
            fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
        except OSError:
            # Network and foreign file systems do not know it.
            os.fsync(descriptor)
    else:
        os.fsync(descriptor)


_NO_SUCH_THING = frozenset({errno.EINVAL, errno.EACCES, errno.ENOTSUP, errno.EBADF})
"""What a folder answers that cannot be flushed or only written into: no reason to refuse what it took."""


def flush_folder(folder: Path) -> None:
    """fsync of the folder, so that a new name in it survives a power cut.

    Windows has no such thing, nor have some network and foreign file systems.
    """
    if os.name != "posix":
        return
    try:
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno not in _NO_SUCH_THING:
            raise
