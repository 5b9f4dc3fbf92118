"""The words for what is hot when the work is over. Estimates, never safe limits."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bench.session.left_hot import FilledMould, HotCup, hot_cups, moulds_left_filled
from bench.session.session import Session, State

Degrees = Callable[[float], str]
"""How whoever shows it writes a temperature."""
Wait = Callable[[float], str]
"""How it writes a time to wait."""


def left_words(session: Session, degrees: Degrees, wait: Wait) -> Iterator[str]:
    """What was hot when the session ended, in whichever way, for whoever is at the bench or comes back to it."""
    if not session.state.over or session.last is None:
        return
    left = [cup_words(cup, degrees, wait) for cup in hot_cups(session, session.last)]
    left += [_mould_words(mould, degrees) for mould in moulds_left_filled(session, session.last)]
    if not left:
        return
    is_left_at_once = session.state is State.ABORTED
    yield "left hot, as it was then:" if is_left_at_once else "still hot when the session ended:"
    yield from left
    if is_left_at_once:
        yield "Nobody has watched it since. Test before you trust, and air the room first."
    else:
        yield "Leave it where it is until it is cold. Test before you trust; your local rules come first."


def cup_words(cup: HotCup, degrees: Degrees, wait: Wait) -> str:
    """One cup, and about how long it takes. One that held something is reckoned as full as it was."""
    name = f"{'old ' if cup.is_old else ''}{cup.part.words} cup"
    hot = f"{name} about {degrees(cup.temp_c)}"
    if cup.left_s is None:
        return f"{hot}: the room is too warm to say when it is cool"
    full = ", if nothing was poured out" if cup.may_be_poured else ""
    return f"{hot}: cool to the touch in about {wait(cup.left_s)} by the estimate{full}, its middle later"


def _mould_words(mould: FilledMould, degrees: Degrees) -> str:
    name = f"mould {mould.number}" if mould.number else "the mould"
    return f"{name} stands filled, about {degrees(mould.temp_c)}: open it once it is cold"
