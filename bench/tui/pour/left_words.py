"""The words for what is left hot, and for air that was not cleared, when the work is over."""

from __future__ import annotations

from collections.abc import Iterator

from bench.model.settings import UnitSystem
from bench.session.aired import aired_short
from bench.session.left_hot import FilledMould, HotCup, hot_cups, moulds_left_filled
from bench.session.session import Session, State
from bench.session.view import View
from bench.tui import present


def clean_words(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """What speaks against cleaning up at once: air that was not cleared, cups that are hot."""
    cups = tuple(_cup(cup, units) for cup in view.in_hand.hot)
    return (*_air(session), *cups)


def left_words(session: Session, units: UnitSystem) -> Iterator[str]:
    """What was hot when the bench was left at once, for whoever comes back to it."""
    if session.state is not State.ABORTED or session.last is None:
        return
    left = [_cup(cup, units) for cup in hot_cups(session, session.last)]
    left += [_mould(mould, units) for mould in moulds_left_filled(session, session.last)]
    if left:
        yield "left hot, as it was then:"
        yield from left
        yield "Nobody has watched it since. Test before you trust, and air the room first."


def _air(session: Session) -> tuple[str, ...]:
    aired = aired_short(session)
    if aired is None:
        return ()
    cleared, planned = present.long_time(aired.cleared_s), present.long_time(aired.planned_s)
    return (f"the air is not cleared, {cleared} of {planned}: leave again, the fan on",)


def _cup(cup: HotCup, units: UnitSystem) -> str:
    name = f"{'old ' if cup.is_old else ''}{cup.part.words} cup"
    hot = f"{name} about {present.temperature(cup.temp_c, units)}"
    if cup.left_s is None:
        return f"{hot}: the room is too warm to say when it is cool"
    return f"{hot}: cool to the touch in about {present.wait(cup.left_s)} by the estimate, its middle later"


def _mould(mould: FilledMould, units: UnitSystem) -> str:
    name = f"mould {mould.number}" if mould.number else "the mould"
    return f"{name} stands filled, about {present.temperature(mould.temp_c, units)}: open it once it is cold"
