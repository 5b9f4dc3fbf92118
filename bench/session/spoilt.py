"""A cup read over its scorch limit: its melt is thrown away and weighed anew, or the reading was wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from bench.errors import IllegalMove
from bench.model.recipe import Part
from bench.session import aside, learning, stepping, warmth
from bench.session.events import CupRead, CupThrown
from bench.session.reheating import SHOTS, heating_before, spoilt_cup
from bench.session.session import Session, Strikable, Visit
from bench.session.stamp import Stamp

_Value = TypeVar("_Value")


def scorched(before: Session, read: Session, event: CupRead) -> Session:
    """The session once that reading was believed: an alarm, and a cup that is heated no more. It is kept how the
    session was before it, with the cup off the heat, as the alarm asks."""
    known = replace(warmth.taken_off(before, event.part, event.at), doubted=None)
    return replace(
        read,
        alarm=event,
        scorched={**read.scorched, event.part: read.cups[event.part].melt},
        strikable=Strikable(read=event, before=known),
    )


def strikable_here(session: Session) -> CupRead | None:
    """The reading over the scorch limit that the maker may call wrong at the present step: the one at which it was
    given, and any that would have its cup thrown away. Elsewhere the key back goes back."""
    struck = session.strikable
    if struck is None:
        return None
    is_its_step = len(session.visits) == len(struck.before.visits)
    return struck.read if is_its_step or spoilt_cup(session) is struck.read.part else None


def struck(session: Session, wrong: Strikable, at: Stamp) -> Session:
    """The session as if that reading had never been. What was done since took the cup for one that is not heated:
    it is on the heat from now on only, where it belongs there. A reading over the limit before it still stands."""
    part = wrong.read.part
    as_taken = replace(wrong.before, scorched={**wrong.before.scorched, part: session.scorched[part]})
    since = as_taken.after_all(wrong.since)
    if part in wrong.before.scorched:
        return since
    return learning.heated_on(replace(since, scorched=_without(since.scorched, part)), part, at)


def thrown(session: Session, event: CupThrown) -> Session:
    """The cup is thrown away: its melt is weighed anew, where it has a step for that, heated, and used as it was
    to be."""
    part, here = event.part, session.visit
    is_shot = session.step.kind in SHOTS
    heating = heating_before(session, part) if is_shot else here.index
    if heating is None:
        why = f"the {part.words} cup was not heated before"
        raise IllegalMove(state=session.state, event=type(event).__name__, why=why)
    after_heating = here.index if is_shot else here.then
    melt = session.cups[part].melt
    weighing = session.weighing(part, melt)
    visit = Visit(index=heating, entered=event.at, then=after_heating)
    if weighing is not None:
        visit = replace(visit, index=weighing, then=heating, afterwards=after_heating)
    gone = replace(session, cups=_without(session.cups, part), scorched=_without(session.scorched, part))
    left = (*gone.visits[:-1], replace(here, left=event.at, by=None))
    entered = replace(
        gone,
        visits=(*left, visit),
        anew_from={**gone.anew_from, (part, melt): len(left)},
        doubted=None,
        strikable=None,
        thrown=replace(session, thrown=None, strikable=None),
    )
    if event.stays:
        entered = aside.set_aside(session, entered, part, event.at)
    return stepping.moved(gone, entered, event.at, by=None)


def taken_back(session: Session) -> Session:
    """The session with the cup back that was thrown away last, where that led to the present step."""
    before = session.thrown
    if before is None or len(session.visits) != len(before.visits) + 1:
        return session
    part = next(part for part in before.scorched if part not in session.scorched)
    return replace(
        session,
        cups={**session.cups, part: before.cups[part]},
        scorched=before.scorched,
        anew_from=before.anew_from,
        aside=before.aside,
        thrown=None,
    )


def _without(known: Mapping[Part, _Value], part: Part) -> Mapping[Part, _Value]:
    return {each: value for each, value in known.items() if each is not part}
