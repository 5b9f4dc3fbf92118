"""What is left hot, and air that was not cleared, in the maker's units."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from bench.model.settings import UnitSystem
from bench.session import left_words as words
from bench.session.aired import aired_short
from bench.session.left_hot import HotCup
from bench.session.session import Session
from bench.session.view import View
from bench.tui import present


def clean_words(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """What speaks against cleaning up at once: air that was not cleared, cups that are hot."""
    degrees = partial(present.temperature, units=units)
    cups = tuple(words.cup_words(cup, degrees, present.wait) for cup in view.in_hand.hot)
    return (*_air(session), *cups)


def brief_clean(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """The same for the smallest window: every hot cup by its name, a row each."""
    air = () if aired_short(session) is None else ("air not cleared: leave again, fan on",)
    return (*air, *(_brief_cup(cup, units) for cup in view.in_hand.hot))


def _brief_cup(cup: HotCup, units: UnitSystem) -> str:
    name = f"{_name(cup)} {present.temperature(cup.temp_c, units)}"
    return f"{name}: hot" if cup.left_s is None else f"{name}: hot {present.wait(cup.left_s)} or more"


def _name(cup: HotCup) -> str:
    return f"{'old ' if cup.is_old else ''}{cup.part.words} cup"


def left_words(session: Session, units: UnitSystem) -> Iterator[str]:
    """What was hot when the session ended."""
    return words.left_words(session, partial(present.temperature, units=units), present.wait)


def _air(session: Session) -> tuple[str, ...]:
    aired = aired_short(session)
    if aired is None:
        return ()
    cleared, planned = present.long_time(aired.cleared_s), present.long_time(aired.planned_s)
    return (f"the air is not cleared, {cleared} of {planned}: leave again, the fan on",)
