"""A hot cup that was over its scorch limit and was left where it stands, while another is weighed.

There is one heater: nothing else is heated, nor reckoned to be, before the maker says that the old cup is out and
the new one on. Until then what is read of that part is read of the old cup.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.physics.cup import temperature_after
from bench.physics.touch import BARE_C
from bench.session.bodies import cup_of
from bench.session.clocks import waited
from bench.session.cooldown import until_touched_s
from bench.session.events import CupRead
from bench.session.learning import as_read
from bench.session.session import Aside, Session, Warmth
from bench.session.stamp import Stamp, span
from bench.session.stepping import on_heat
from bench.session.warmth import cup_carried


@dataclass(frozen=True, kw_only=True, slots=True)
class OldCup:
    """The old cup of that part: what it is by the estimate, and about how long until it is cool to the touch (0
    once it is, None in a room too warm). ``is_read`` says that a thermometer has shown it cool, ``holds_up`` that
    the present heating has not begun for it."""

    part: Part
    temp_c: float
    left_s: float | None
    is_read: bool
    holds_up: bool


def set_aside(before: Session, after: Session, part: Part, at: Stamp) -> Session:
    """``after`` with that part's cup of ``before`` left hot where it stands."""
    known = cup_carried(before, part, at)
    cup = cup_of(before, part, known.melt)
    return replace(after, aside=Aside(part=part, cup=cup, known=known))


def old_cup(session: Session, now: Stamp) -> OldCup | None:
    """The old cup while it is in the way; None without one."""
    aside = session.aside
    if aside is None or not aside.in_the_way or session.state.over:
        return None
    return _seen(session, aside, now)


def cup_left(session: Session, now: Stamp) -> OldCup | None:
    """The old cup wherever it stands, also after the session, until it is read cool and out; None without one."""
    if session.aside is None or not is_left(session):
        return None
    return _seen(session, session.aside, now)


def _seen(session: Session, aside: Aside, now: Stamp) -> OldCup:
    temp_c = _carried(session, aside, now).temp_c
    return OldCup(
        part=aside.part,
        temp_c=temp_c,
        left_s=until_touched_s(session, aside.cup, temp_c),
        is_read=aside.is_read and aside.known.temp_c <= BARE_C,
        holds_up=session.waits_for_aside,
    )


def is_left(session: Session) -> bool:
    """Whether an old cup may still stand hot somewhere: until it was read cool and another took its place."""
    aside = session.aside
    if aside is None:
        return False
    return aside.in_the_way or not aside.is_read or aside.known.temp_c > BARE_C


def is_of_the_old(session: Session, part: Part) -> bool:
    """Whether a figure of that part's cup is one of the old cup: the new one is cold, and nobody reads it."""
    aside = session.aside
    return aside is not None and aside.in_the_way and aside.part is part and part not in session.cups


def with_the_old(session: Session, now: Stamp) -> Session:
    """The session as if the old cup were its part's cup still: for the questions that are asked of every reading.
    Unchanged where a figure of that part's cup is not one of the old cup."""
    aside = session.aside
    if aside is None or not is_of_the_old(session, aside.part):
        return session
    known = _carried(session, aside, now)
    scorched = {**session.scorched, aside.part: known.melt}
    return replace(session, cups={**session.cups, aside.part: known}, scorched=scorched)


def _carried(session: Session, aside: Aside, now: Stamp) -> Warmth:
    """What is known of it, carried on to now."""
    temp_c = temperature_after(
        aside.cup,
        start_c=aside.known.temp_c,
        seconds=span(aside.known.at, now).seconds,
        room_c=session.job.station.room.temperature_c,
        loss_factor=session.corrections.cup_loss_factor,
    )
    drift_k = aside.known.drift_k + session.corrections.cup_loss_spread * abs(aside.known.temp_c - temp_c)
    return replace(aside.known, temp_c=temp_c, at=now, drift_k=drift_k, follows=False)


def read(session: Session, event: CupRead) -> Session:
    """The old cup was read, and the figure is believed."""
    assert session.aside is not None, "only an old cup is read as one"
    doubted = session.doubted
    known = as_read(replace(session.aside.known, at=event.at), event, alone=True)
    is_answered = isinstance(doubted, CupRead) and doubted.part is event.part
    return replace(
        session,
        aside=replace(session.aside, known=known, is_read=True),
        doubted=None if is_answered else doubted,
    )


def out_of_the_way(session: Session) -> Session:
    """The maker has put another cup on the heater."""
    return session if session.aside is None else replace(session, aside=replace(session.aside, in_the_way=False))


def begun(session: Session, at: Stamp) -> Session:
    """The heating begins that waited for the old cup; its clock counts from here."""
    settled = replace(session, doubted=None) if isinstance(session.doubted, CupRead) else session
    heated = on_heat(out_of_the_way(settled), session.step, at)
    return waited(heated, at)
