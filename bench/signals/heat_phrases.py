"""What is said of a heating: the burst to set and the press that begins it, and each later burst once its cup was
read."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.key_names import Action
from bench.session.view import View
from bench.signals import spoken, spoken_keys
from bench.signals.spoken_keys import Keys


@dataclass(frozen=True, kw_only=True, slots=True)
class HeatTold:
    """How the heating of a step stood when it was last looked at: whether it waits for the maker, and which burst
    the cup is put back for, 0 for none."""

    waits: bool
    back: int = 0


def heat_of(seen: View) -> HeatTold:
    """How it stands now."""
    back = seen.burst.number if seen.burst is not None and seen.burst.back else 0
    return HeatTold(waits=seen.is_to_begin, back=back)


def put_on(seen: View, keys: Keys) -> str:
    """What to do with a burst that a press begins."""
    seconds, key = spoken.duration(seen.set_burst_s or 0.0), spoken_keys.key_for(Action.FORWARD, keys)
    return f"Put the cup in, set the timer to {seconds}, start it, then press {key}"


def heat_words(before: HeatTold, seen: View, number: str, keys: Keys) -> str:
    """What is news of the heating within its step, ``number`` being what else matters there; empty for none."""
    now = heat_of(seen)
    if now.waits and not before.waits:
        return f"Not on the heat. {put_on(seen, keys)}."
    if before.waits and seen.burst is not None and seen.burst.heating:
        return f"On the heat. {number}."
    if now.back and now.back != before.back and seen.burst is not None:
        return f"Put it back, set the timer to {spoken.duration(seen.burst.next_burst_s or 0.0)}."
    return ""
