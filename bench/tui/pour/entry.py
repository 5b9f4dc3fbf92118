"""What is half typed or half asked: one small value, changed key by key."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from bench.session.asking import Asked
from bench.session.events import CupRead, MouldRead
from bench.session.stamp import Stamp

LONGEST_FIGURE = 4
"""Digits of a figure before its point: no temperature and no number of tails has more."""

POINT = "."
TENTHS = 1
"""Digits after the point: no thermometer at a bench tells more."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Nothing:
    """Nothing is being entered: keys mean what the footer says. ``refused`` is the moment of a digit that means
    nothing, if that was the latest press: the advancing key after it may be meant to end the figure. ``chose`` is
    that of a digit that chose how many tails are cut, which were ``tails_before``: one right after it says that a
    figure is being typed."""

    refused: Stamp | None = None
    chose: Stamp | None = None
    tails_before: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """A temperature being typed, tenths included. ``about`` is the reading it will be, for the cup or mould of the
    moment at which typing began: the step may end meanwhile."""

    about: CupRead | MouldRead
    typed: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Tails:
    """The number of cut tails being typed, where a round has more than one digit can say."""

    typed: str = ""


class Why(StrEnum):
    """What a reason is asked for."""

    SKIP = "skip"
    STOP = "stop"


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """A reason is asked for: one digit gives it."""

    why: Why


@dataclass(frozen=True, kw_only=True, slots=True)
class Noting:
    """A note is being written, in its own line."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Leaving:
    """Leaving was asked for once."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Learnt:
    """What the session has learnt is shown: a digit refuses one of it, or takes it up again."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sure:
    """Going on was asked for once, where that could be a mistake; ``why`` says what speaks against it, ``step`` is
    the step that it was asked at, and ``asked`` the moment."""

    why: Asked
    step: str
    asked: Stamp


@dataclass(frozen=True, kw_only=True, slots=True)
class Mistyped:
    """It was said once, at the moment ``asked``, that a reading over the scorch limit was wrong."""

    read: CupRead
    asked: Stamp


Entry = Nothing | Figure | Tails | Reason | Noting | Leaving | Learnt | Sure | Mistyped
Typed = Figure | Tails


@dataclass(frozen=True, kw_only=True, slots=True)
class Unfinished:
    """What the maker is in the middle of: the entry, and the note as far as it is written."""

    entry: Entry = Nothing()
    note: str = ""


def asked_by(entry: Entry) -> Asked | None:
    """What the one key has asked, None where no such question stands."""
    return entry.why if isinstance(entry, Sure) else None


def without_step(entry: Entry) -> Entry:
    """What is left of an entry once its step has ended: a question about that step goes with it, and so does the
    reason to skip it, which would skip the next one."""
    of_the_step = isinstance(entry, Sure) or (isinstance(entry, Reason) and entry.why is Why.SKIP)
    return Nothing() if of_the_step else entry


def with_digit(entry: Typed, digit: int) -> Typed:
    """The figure with one digit more; as it is when it is full."""
    _, point, tenths = entry.typed.partition(POINT)
    is_full = len(tenths) >= TENTHS if point else len(entry.typed) >= LONGEST_FIGURE
    return entry if is_full else replace(entry, typed=f"{entry.typed}{digit}")


def with_point(entry: Figure) -> Figure:
    """The figure with a point after its digits; as it is when it has one."""
    return entry if POINT in entry.typed else replace(entry, typed=f"{entry.typed}{POINT}")


def rubbed_out(entry: Typed) -> Typed:
    """The figure with its last digit gone."""
    return replace(entry, typed=entry.typed[:-1])


def number(entry: Typed) -> float | None:
    """What is typed so far; None while it is nothing."""
    return float(entry.typed) if entry.typed.strip(POINT) else None
