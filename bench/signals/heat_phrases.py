"""What is said of a heating: each burst to set and the press that begins it."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.key_names import Action
from bench.session.view import View
from bench.signals import spoken, spoken_keys
from bench.signals.spoken_keys import Keys

NEWS_S = 3.0
"""Starting value: seconds on the heater's timer that are worth another word."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatTold:
    """How the heating of a step stood when it was last looked at: the burst that the maker is to begin, in whole
    seconds, None where none waits, and whether one was on."""

    waits_s: int | None
    on: bool = False


def heat_of(seen: View) -> HeatTold:
    """How it stands now."""
    is_on = seen.burst is not None and seen.burst.heating
    return HeatTold(waits_s=round(seen.set_burst_s or 0.0) if seen.is_to_begin else None, on=is_on)


def put_on(seen: View, keys: Keys) -> str:
    """What to do with a burst that a press begins."""
    seconds, key = spoken.duration(seen.set_burst_s or 0.0), spoken_keys.key_for(Action.FORWARD, keys)
    return f"Put the cup in, set the timer to {seconds}, start it, then press {key}"


def heat_words(before: HeatTold, seen: View, number: str, keys: Keys) -> str:
    """What is news of the heating within its step, ``number`` being what else matters there; empty for none. A
    burst that only grows while its cup cools is said once, one that a reading changed is said again."""
    now = heat_of(seen)
    if now.waits_s is not None:
        is_news = before.waits_s is None or abs(now.waits_s - before.waits_s) >= NEWS_S
        off = "Not on the heat. " if before.on else ""
        return f"{off}{put_on(seen, keys)}." if is_news else ""
    if now.on and not before.on:
        return f"On the heat. {number}."
    is_stirred = before.on and seen.burst is not None and seen.doubt is None
    return "Heater off. Stir, then read." if is_stirred and not now.on else ""
