"""The footer: the keys that do something now, the most useful first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from bench.model.step_kind import StepKind
from bench.session.asking import INSISTED
from bench.session.effects import NEVER_SKIPPED
from bench.session.session import Session, State
from bench.session.view import View
from bench.tui.pour.answer import SKIP_REASONS, STOP_REASONS
from bench.tui.pour.entry import (
    Entry,
    Figure,
    Learnt,
    Leaving,
    Mistyped,
    Nothing,
    Noting,
    Reason,
    Sure,
    Tails,
    Why,
)
from bench.tui.pour.keys import Press, key_for
from bench.tui.pour.question_words import acknowledging, is_taken, reheated, reheating, staying_key
from bench.tui.text import join


class Rank(IntEnum):
    """Which keys are shown before others."""

    STEP = 0
    """What this step waits for."""
    ALWAYS = 1
    """Stopping, help and leaving."""
    OTHER = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Hint:
    """A key, or the mark for one, and what it does now. ``rank`` says what goes first where there is no room,
    ``brief`` what it does in fewer letters where that makes room; empty where nothing does."""

    key: str
    does: str
    rank: Rank = Rank.OTHER
    brief: str = ""


_HELP = Hint(key=key_for(Press.HELP), does="help", rank=Rank.ALWAYS)
_STOP = Hint(key=key_for(Press.STOP), does="stop early", brief="stop", rank=Rank.ALWAYS)
_LEAVE = Hint(key=key_for(Press.LEAVE), does="leave", rank=Rank.ALWAYS)

IDLE = (Hint(key=key_for(Press.FORWARD), does="start"), _HELP, _LEAVE)
"""Before the start."""


ONLOOKING = (_HELP, _LEAVE)
"""While another copy of the program writes the session."""

MAY_RESUME = (Hint(key="Enter", does="resume here"), *ONLOOKING)
"""Once none does any more."""


def hints(session: Session, view: View, entry: Entry) -> tuple[Hint, ...]:
    """The keys of that moment."""
    match entry:
        case Figure() | Tails():
            return (
                Hint(key="Enter", does="take it"),
                Hint(key=key_for(Press.BACK), does="rub out"),
                Hint(key="Esc", does="leave it", brief="leave"),
            )
        case Reason():
            last = len(SKIP_REASONS if entry.why is Why.SKIP else STOP_REASONS)
            return (Hint(key=_up_to(last), does="why"), Hint(key="Esc", does="go back"))
        case Learnt():
            return (
                Hint(key=_up_to(len(view.corrections.all)), does="refuse, or take up again", brief="refuse"),
                Hint(key="Esc", does="go back"),
            )
        case Leaving() | Mistyped():
            return _asked_once(entry)
        case Sure() if entry.why in INSISTED:
            return tuple(_insisted(entry, view))
        case Sure():
            return (
                Hint(key=key_for(Press.FORWARD), does="go on all the same"),
                *_verdicts(view),
                *_stay(view),
            )
        case Noting():
            return (Hint(key="Enter", does="keep it"), Hint(key="Esc", does="go back"))
        case Nothing():
            return tuple(_plain(session, view))


def _insisted(entry: Sure, view: View) -> Iterator[Hint]:
    yield Hint(key=key_for(Press.TEMPERATURE), does="reading", rank=Rank.STEP)
    if view.reminders or is_taken(entry.why, view):
        yield Hint(key=key_for(Press.ACKNOWLEDGE), does=acknowledging(entry.why, view), rank=Rank.STEP)
    yield from _stay(view)
    yield Hint(key=key_for(Press.SKIP), does="skip")
    yield _STOP


def _up_to(last: int) -> str:
    """The digits from 1 on: of a single choice, that one alone."""
    return "1" if last == 1 else f"1–{last}"


def _asked_once(entry: Leaving | Mistyped) -> tuple[Hint, ...]:
    if isinstance(entry, Leaving):
        return (Hint(key=key_for(Press.LEAVE), does="leave"), Hint(key="Esc", does="stay"))
    return (Hint(key=key_for(Press.BACK), does="it was wrong"), Hint(key="Esc", does="it was right"))


def _plain(session: Session, view: View) -> Iterator[Hint]:
    if view.alarm is not None:
        yield Hint(key=key_for(Press.ACKNOWLEDGE), does="I have read this", rank=Rank.STEP)
    elif view.reminders or view.card:
        says = "I have read it" if view.card else "read it"
        yield Hint(key=key_for(Press.ACKNOWLEDGE), does=says, rank=Rank.STEP)
    if view.card:
        yield from (_HELP, _LEAVE)
    if view.alarm is None and not view.card:
        yield Hint(key=key_for(Press.FORWARD), does=_forward(session, view), rank=Rank.STEP)
    yield from _digits(view)
    yield Hint(key=key_for(Press.TEMPERATURE), does="temperature")
    if len(session.visits) > 1:
        yield _back(view)
    yield from _reheat(view)
    is_held = view.state is State.HELD
    yield Hint(
        key=key_for(Press.HOLD),
        does="go on" if is_held else "hold",
        rank=Rank.STEP if is_held else Rank.OTHER,
    )
    if view.step.kind is not StepKind.WARM_MOULD:
        yield Hint(key=key_for(Press.MOULD), does="mould")
    if view.alarm is None and view.step.kind not in NEVER_SKIPPED and view.state is not State.HELD:
        yield Hint(key=key_for(Press.SKIP), does="skip")
    yield _STOP
    yield Hint(key=key_for(Press.NOTE), does="note")
    if view.corrections.all:
        yield Hint(key=key_for(Press.LEARNT), does="learnt")
    if not view.card:
        yield from (_HELP, _LEAVE)


def _back(view: View) -> Hint:
    if view.strikable is not None:
        return Hint(key=key_for(Press.BACK), does="reading was wrong", rank=Rank.STEP)
    if reheating(view) is Press.BACK:
        return _reheating(Press.BACK, view)
    return Hint(key=key_for(Press.BACK), does="back")


def _reheating(press: Press, view: View) -> Hint:
    does = join(("reheat", reheated(view)), " ")
    return Hint(key=key_for(press), does=does, brief="reheat", rank=Rank.STEP)


def _reheat(view: View) -> Iterator[Hint]:
    """Where the key back is no such key."""
    if reheating(view) is Press.YES:
        yield _reheating(Press.YES, view)


def _stay(view: View) -> Iterator[Hint]:
    press = reheating(view)
    if press is not None:
        yield _reheating(press, view)
    yield Hint(key=staying_key(view), does="stay")


def _forward(session: Session, view: View) -> str:
    if view.state is State.HELD:
        return "go on"
    if view.is_spoilt:
        return "new cup"
    if view.is_held_up:
        return "new cup is on"
    if view.begins:
        return "it is on"
    return "finish" if session.next_step is None else "done"


def _verdicts(view: View) -> Iterator[Hint]:
    if view.verdicts_offered:
        yield Hint(key=_up_to(len(view.verdicts_offered)), does="verdict", rank=Rank.STEP)


def _digits(view: View) -> Iterator[Hint]:
    if view.doubt is not None and view.doubt.did_not_rise:
        yield Hint(key=key_for(Press.YES), does="heater was off", rank=Rank.STEP)
    elif view.doubt is not None and view.doubt.suggestion is not None:
        yield Hint(key=key_for(Press.YES), does="yes, that", rank=Rank.STEP)
    if view.begun_by_digits is not None:
        yield Hint(key="0–9", does="reading", rank=Rank.STEP)
    elif view.verdicts_offered:
        yield from _verdicts(view)
    elif view.trim is not None and view.step.kind is StepKind.TRIM and view.trim.effect.of:
        yield Hint(key=f"0–{view.trim.effect.of}", does="tails cut", rank=Rank.STEP)
    if view.trim is not None and view.trim.core_open:
        yield Hint(key=key_for(Press.CORE), does="core colour")
