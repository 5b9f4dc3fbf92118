"""What is left hot, and air that was not cleared, in the maker's units."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from bench.model.settings import UnitSystem
from bench.session import left_words as words
from bench.session.aired import aired_short
from bench.session.session import Session
from bench.session.view import View
from bench.tui import present


def clean_words(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """What speaks against cleaning up at once: air that was not cleared, cups that are hot."""
    degrees = partial(present.temperature, units=units)
    cups = tuple(words.cup_words(cup, degrees, present.wait) for cup in view.in_hand.hot)
    return (*_air(session), *cups)


def left_words(session: Session, units: UnitSystem) -> Iterator[str]:
    """What was hot when the session ended."""
    return words.left_words(session, partial(present.temperature, units=units), present.wait)


def _air(session: Session) -> tuple[str, ...]:
    aired = aired_short(session)
    if aired is None:
        return ()
    cleared, planned = present.long_time(aired.cleared_s), present.long_time(aired.planned_s)
    return (f"the air is not cleared, {cleared} of {planned}: leave again, the fan on",)
