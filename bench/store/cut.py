"""A file of a session that ends before its first event, as a copy that broke off leaves it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from bench.errors import Fault, FaultyFiles
from bench.store.journal import END_OF_HEADER, MARK

_PLAN = b"\n[job"
"""What the plan of a session begins with."""

_REMEDY = (
    "What happened in this session stood below and is not in the file. Put a copy of it in its place if you have "
    "one; else move it out of this folder and plan the job anew."
)


@contextmanager
def told_if_cut(data: bytes, *, file: str) -> Iterator[None]:
    """Tells of such a file that it ends too early, in the place of what is wrong with the line that it ends in."""
    try:
        yield
    except FaultyFiles as error:
        if _PLAN not in data or END_OF_HEADER in data or b"\n" + MARK in data:
            raise
        last = data.rstrip().count(b"\n") + 1
        found, wanted = "the end of the file in the middle of its plan", "the rest of it"
        fault = Fault(key=f"line {last}", found=found, wanted=wanted, file=file, remedy=_REMEDY)
        raise FaultyFiles([fault]) from error
