"""What waits on the bench: sessions to go on with, and trays that cure; and what was said of those before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from bench.errors import Fault


@dataclass(frozen=True, kw_only=True, slots=True)
class Unfinished:
    """A session that was left before its end, or is worked at in another window: ``elsewhere``. ``last`` is its
    last event's moment."""

    path: Path
    recipe: str
    mould: str
    last: datetime
    rehearsal: bool
    elsewhere: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Curing:
    """Baits of one session that were laid out to cure, and from when they may be packed."""

    recipe: str
    baits: int
    ready: datetime


@dataclass(frozen=True, kw_only=True, slots=True)
class Judged:
    """A real session that is over and has a verdict."""

    path: Path
    recipe: str
    mould: str
    created: datetime


@dataclass(frozen=True, kw_only=True, slots=True)
class Waiting:
    """What waits, the latest first: real sessions before rehearsals. ``unread`` says why files of sessions cannot
    be read, ``judged`` is what may be learnt from."""

    unfinished: tuple[Unfinished, ...] = ()
    curing: tuple[Curing, ...] = ()
    unread: tuple[Fault, ...] = ()
    judged: tuple[Judged, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class WaitingRows:
    """How many of each are shown at once. ``says_more`` leaves a row to say how many are not."""

    unfinished: int
    curing: int
    says_more: bool = True


def rows_for(window_rows: int) -> WaitingRows:
    """What a window of so many rows can spare: choosing what to pour comes first."""
    if window_rows < 20:
        return WaitingRows(unfinished=1, curing=1, says_more=False)
    if window_rows < 36:
        return WaitingRows(unfinished=3, curing=2)
    return WaitingRows(unfinished=6, curing=4)
