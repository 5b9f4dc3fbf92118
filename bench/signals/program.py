"""A program that sounds: run quietly, cut off when told, and believed when it says that it failed."""

from __future__ import annotations

import os
import re
import signal
import subprocess
from collections.abc import Callable, Sequence

POLL_S = 0.05
"""How often a running program is looked at: so soon it is cut off."""

KILL_AFTER = 2
GIVE_UP_AFTER = 6
"""In polls from the cut: until the program is killed, and until it is left to itself."""

_TROUBLE = re.compile(rb"(?im)^(?:[\w./ -]+: )?(?:error|fatal|failed|failure|cannot|can't|could not|unable)\b.*$")
"""How programs begin the line in which they give up. Sound libraries grumble at length without meaning it."""


def run_program(argv: Sequence[str], *, given: bytes, most_s: float, cut: Callable[[], bool]) -> str:
    """Run it with ``given`` on its input until it ends, ``cut`` says to leave off or ``most_s`` seconds are over.

    Returns what went wrong, in a few words; empty when nothing did. Failure shows in the exit code or on the error
    output: a program may end well without having found a loudspeaker. Nothing it prints reaches the terminal.
    """
    try:
        process = subprocess.Popen(
            argv,
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=os.name == "posix",
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
    except (OSError, ValueError) as error:
        return f"{getattr(error, 'strerror', None) or error}"
    return _followed(process, given, most_s, cut)


def _followed(process: subprocess.Popen[bytes], given: bytes, most_s: float, cut: Callable[[], bool]) -> str:
    still: bytes | None = given
    polls, since_cut = 0, 0
    most_polls = most_s / POLL_S
    while True:
        try:
            _, said_wrong = process.communicate(still, timeout=POLL_S)
            break
        except subprocess.TimeoutExpired:
            still = None
        polls += 1
        if since_cut or polls >= most_polls or cut():
            since_cut += 1
            _end(process, since_cut)
        if since_cut > GIVE_UP_AFTER:
            break
    if polls >= most_polls:
        return "did not come to an end"
    return "" if since_cut else _trouble(process.returncode, said_wrong)


def _end(process: subprocess.Popen[bytes], since_cut: int) -> None:
    """End the program and what it started; kill it where it does not listen."""
    if os.name != "posix":
        process.kill()
        return
    try:
        os.killpg(process.pid, signal.SIGTERM if since_cut <= KILL_AFTER else signal.SIGKILL)
    except (ProcessLookupError, PermissionError):
        process.kill()


def _trouble(code: int, said_wrong: bytes) -> str:
    line = _TROUBLE.search(said_wrong)
    if line is not None:
        return line[0].decode(errors="replace").strip()
    return f"ended with exit code {code}" if code else ""
