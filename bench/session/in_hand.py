"""Which cups a reading may be of: the one in question first, then whatever else is hot on the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.session.aside import OldCup, old_cup
from bench.session.asking import Asked, may_be_taken, solid_cups_c
from bench.session.events import CupRead
from bench.session.left_hot import HotCup, hot_cups
from bench.session.reheating import cold_cup, hot_cup, spoilt_cup
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.warmth import vessel_now


@dataclass(frozen=True, kw_only=True, slots=True)
class InHand:
    """The ``cups`` that can be read, the one in question first; ``is_solid`` says that one of them is to be shot
    but does not flow, ``solid_may_be_taken`` that nobody has read it so. ``old`` is a cup over its scorch limit
    that stands on the heater yet, ``cold`` the cup of the present shot that is furthest under its band, which goes
    back on the heat, ``hot`` the cups that cannot be cleaned yet where that is to be done."""

    cups: tuple[Part, ...]
    is_solid: bool
    solid_may_be_taken: bool
    old: OldCup | None
    cold: Part | None = None
    hot: tuple[HotCup, ...] = ()


def in_hand(session: Session, now: Stamp) -> InHand:
    """What can be read at this moment, and what would speak against a shot."""
    return InHand(
        cups=cups_in_hand(session, now),
        is_solid=bool(solid_cups_c(session, now)),
        solid_may_be_taken=may_be_taken(session, Asked.SOLID, now),
        old=old_cup(session, now),
        cold=cold_cup(session, now),
        hot=tuple(hot_cups(session, now)) if session.step.kind is StepKind.CLEAN else (),
    )


def cups_in_hand(session: Session, now: Stamp) -> tuple[Part, ...]:
    """The cups that can be read at this moment, the one in question first: those ahead, and any that was hot.
    Empty where there are none of either."""
    return tuple(dict.fromkeys(_in_hand(session, now)))


def other_than(part: Part, cups: Sequence[Part]) -> Part | None:
    """The cup in hand after that one, round and round; None where there is no other."""
    place = cups.index(part) if part in cups else -1
    following = cups[(place + 1) % len(cups)] if cups else part
    return None if following is part else following


def _in_hand(session: Session, now: Stamp) -> Iterator[Part]:
    own = next((step.parts for step in session.ahead if step.parts and step.kind is not StepKind.WEIGH), ())
    if own and session.step.parts == own:
        yield from (part for part in _in_question(session, now) if part in own)
    yield from own
    yield from (part for part in sorted(session.cups) if vessel_now(session, part, now) is not None)


def _in_question(session: Session, now: Stamp) -> Iterator[Part]:
    """Whose reading would answer what stands against the present step, the most pressing first."""
    if isinstance(session.doubted, CupRead):
        yield session.doubted.part
    solid = solid_cups_c(session, now)
    coldest = min(solid, key=lambda part: solid[part], default=None)
    for part in (spoilt_cup(session), coldest, cold_cup(session, now), hot_cup(session, now)):
        if part is not None:
            yield part
