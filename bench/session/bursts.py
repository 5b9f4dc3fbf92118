"""Heat in bursts: the schedule of a heating step from its last anchor on, with a stir and a reading after each.

A schedule is a row of legs, on the heat and off it in turns. What of it has run by now and what is left follow
from the seconds gone, so that nothing ticks.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

from bench.physics.cup import Cup, temperature_after
from bench.physics.melting import LONGEST_HEATING_S, bursts_s, heat_j
from bench.session.heater import Power, heated_c

_PASSES = 2
"""Of adding what the stirs cost: after the first the aim is within half a kelvin."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Leg:
    """A burst, or the stir after it. ``number`` is that of the burst, counted from the step's first. One that
    ``waits`` stands before a burst until the maker says that the cup is on: no clock ends it, and nobody knows how
    long it will be."""

    heating: bool
    seconds: float
    number: int
    waits: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class BurstView:
    """Burst ``number`` of so many as are planned by now. ``left_s`` is what is left of it, or of the stir after it
    where ``heating`` is False; 0 once the last stir is over and only a reading is wanted. ``next_burst_s`` is how
    long the burst after this one is to last; None where none is planned. ``waits`` says that it begins only once
    the maker says so."""

    number: int
    of: int
    heating: bool
    left_s: float
    next_burst_s: float | None
    waits: bool = False


def schedule(
    cup: Cup, power: Power, *, start_c: float, target_c: float, top_c: float, stir_s: float, done: int = 0
) -> tuple[Leg, ...]:
    """The bursts from ``start_c`` to ``target_c``, numbered on from those already done; no leg when it is there.

    What the cup loses while it is stirred is added, but no burst is planned to end above ``top_c``.
    """
    if start_c >= target_c:
        return ()
    aim_c = target_c
    legs: tuple[Leg, ...] = ()
    for _ in range(1 + _PASSES):
        legs = tuple(_legs(cup, power, start_c=start_c, aim_c=aim_c, stir_s=stir_s, done=done))
        ends_c = _ends_c(cup, power, start_c, legs)
        aim_c += min(target_c - ends_c[-1], top_c - max(ends_c))
    return legs


def bounded(legs: tuple[Leg, ...], usual: tuple[Leg, ...], *, factor: float) -> tuple[Leg, ...]:
    """The legs, none of their bursts more than ``factor`` times as long as the ``usual`` one in its place. What is
    more than they have is no longer than the last of them."""
    if not legs or not usual:
        return legs
    most_s = [factor * leg.seconds for leg in usual if leg.heating]
    heats = iter(range(len(legs)))
    return tuple(
        replace(leg, seconds=min(leg.seconds, most_s[min(next(heats), len(most_s) - 1)])) if leg.heating else leg
        for leg in legs
    )


def run(legs: tuple[Leg, ...], seconds: float) -> Iterator[Leg]:
    """What has run of a schedule after so many seconds; time past its end stands as one leg off the heat."""
    for leg in legs:
        if seconds <= 0:
            return
        if leg.waits:
            break
        yield replace(leg, seconds=min(leg.seconds, seconds))
        seconds -= leg.seconds
    if seconds > 0:
        yield Leg(heating=False, seconds=seconds, number=legs[-1].number if legs else 0)


def left(legs: tuple[Leg, ...], seconds: float) -> tuple[Leg, ...]:
    """What is left of a schedule: nothing passes a leg that waits. The last leg stays, with no time, so that it is
    known how far it came."""
    for place, leg in enumerate(legs):
        if leg.waits:
            return legs[place:]
        if seconds < leg.seconds:
            return (replace(leg, seconds=leg.seconds - seconds), *legs[place + 1 :])
        seconds -= leg.seconds
    return (replace(legs[-1], heating=False, seconds=0.0),) if legs else ()


def each_said(legs: tuple[Leg, ...]) -> tuple[Leg, ...]:
    """The legs with a wait before every burst, in which the hands put the cup back, set the timer and say so."""
    waits = (
        (Leg(heating=False, seconds=0.0, number=leg.number - 1, waits=True), leg) if leg.heating else (leg,)
        for leg in legs
    )
    return tuple(chain.from_iterable(waits))


def done(legs: tuple[Leg, ...]) -> int:
    """How many bursts of a schedule are over when this is left of it."""
    if not legs:
        return 0
    return legs[0].number - 1 if legs[0].heating else legs[0].number


def burst_view(legs: tuple[Leg, ...]) -> BurstView:
    """What is left of a schedule, for the screen."""
    if not legs:
        return BurstView(number=0, of=0, heating=False, left_s=0.0, next_burst_s=None)
    now, *later = legs
    following = next((leg.seconds for leg in later if leg.heating), None)
    return BurstView(
        number=now.number,
        of=legs[-1].number,
        heating=now.heating,
        left_s=0.0 if now.waits else now.seconds,
        next_burst_s=following,
        waits=not now.heating and any(leg.waits for leg in legs),
    )


def _legs(cup: Cup, power: Power, *, start_c: float, aim_c: float, stir_s: float, done: int) -> Iterator[Leg]:
    least_w = heat_j(cup, start_c=start_c, to_c=aim_c) / LONGEST_HEATING_S
    kept_w = max(power.kept_w(cup, start_c=start_c, to_c=aim_c), least_w)
    for number, burst_s in enumerate(bursts_s(cup, start_c=start_c, to_c=aim_c, power_w=kept_w), start=done + 1):
        yield Leg(heating=True, seconds=burst_s, number=number)
        yield Leg(heating=False, seconds=stir_s, number=number)


def _ends_c(cup: Cup, power: Power, start_c: float, legs: tuple[Leg, ...]) -> list[float]:
    """The temperature at the end of each leg."""
    ends_c = [start_c]
    for leg in legs:
        if leg.heating:
            ends_c.append(heated_c(cup, power, start_c=ends_c[-1], seconds=leg.seconds))
            continue
        ends_c.append(
            temperature_after(
                cup,
                start_c=ends_c[-1],
                seconds=leg.seconds,
                room_c=power.room_c,
                loss_factor=power.loss_factor,
            )
        )
    return ends_c
