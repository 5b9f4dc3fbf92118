"""What is still hot when the work is over, for whoever cleans up or comes back. Estimates, never safe limits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.model.recipe import Part
from bench.physics.touch import BARE_C
from bench.session.aside import cup_left
from bench.session.bodies import EMPTY_ML, cup_of, held_of_melt_ml
from bench.session.cooldown import until_touched_s
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.stopping import filled_moulds
from bench.session.warmth import mould_now, vessel_now
from bench.units import Celsius


@dataclass(frozen=True, kw_only=True, slots=True)
class HotCup:
    """A cup that bare hands do not bear, full or empty: about how long until they do, None in a room too warm.
    ``is_old`` says that it was over its scorch limit and another took its place, ``may_be_poured`` that it held
    plastic which may have been poured out since: the time is that of the cup as full as it was."""

    part: Part
    temp_c: Celsius
    left_s: float | None
    is_old: bool = False
    may_be_poured: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class FilledMould:
    """A mould that nobody has opened since its shot; ``number`` is 0 where there is only one."""

    number: int
    temp_c: Celsius


def hot_cups(session: Session, now: Stamp) -> Iterator[HotCup]:
    """Every cup that is hot, by the estimate."""
    for part in sorted(session.cups):
        known = vessel_now(session, part, now)
        if known is not None and known.temp_c > BARE_C:
            melt = session.cups[part].melt
            yield HotCup(
                part=part,
                temp_c=known.temp_c,
                left_s=until_touched_s(session, cup_of(session, part, melt), known.temp_c),
                may_be_poured=not session.is_scorched(part, melt)
                and held_of_melt_ml(session, part, melt) >= EMPTY_ML,
            )
    old = cup_left(session, now)
    if old is not None and old.temp_c > BARE_C:
        yield HotCup(part=old.part, temp_c=old.temp_c, left_s=old.left_s, is_old=True)


def moulds_left_filled(session: Session, now: Stamp) -> Iterator[FilledMould]:
    """Every mould that stands filled."""
    for number in filled_moulds(session):
        known = mould_now(session, now, number)
        if known is not None:
            yield FilledMould(number=number if len(session.moulds) > 1 else 0, temp_c=known.temp_c)
