"""What is said of cups: one outside its band before a shot, one whose burst is over, a question asked of one, a
reading of one that is doubted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from bench.model.key_names import Action
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session.asked_words import cups_words, why_words
from bench.session.asking import INSISTED, Asked
from bench.session.doubt import Doubt
from bench.session.view import View
from bench.session.warned import BenchWarning, WarningKind
from bench.signals import spoken, spoken_keys
from bench.signals.spoken_keys import Keys


class Trouble(NamedTuple):
    """What is said once of a cup, and once more when its shot is at hand."""

    kind: WarningKind
    part: Part
    at_shot: bool


_OF_A_CUP = frozenset({WarningKind.CUP_COLD, WarningKind.CUP_HOT, WarningKind.CUP_LATE})
_STOPS_A_SHOT = frozenset({WarningKind.CUP_COLD, WarningKind.CUP_HOT})


def troubles(seen: View) -> Mapping[Trouble, BenchWarning]:
    """The warnings that are of a cup, the most pressing first."""
    return {
        Trouble(each.kind, each.part, each.at_shot): each
        for each in seen.warnings
        if each.part is not None and each.kind in _OF_A_CUP
    }


def trouble_words(which: Sequence[BenchWarning], units: UnitSystem, keys: Keys) -> str:
    """Each of these warnings of cups as a sentence."""
    return " ".join(_trouble(each, units, keys) for each in which)


def _trouble(warning: BenchWarning, units: UnitSystem, keys: Keys) -> str:
    assert warning.part is not None, "only what is of a cup"
    cup = f"The {warning.part.words} cup"
    if warning.kind is WarningKind.CUP_LATE:
        back = spoken_keys.key_for(Action.BACK, keys)
        return f"{cup} leaves its band before its shot. Be quick, or reheat it there: press {back}."
    read = spoken.degrees_beyond(warning.value, warning.limit, units)
    if warning.kind is WarningKind.CUP_HOT:
        return f"{cup} is over its band, {read}. Let it cool first."
    cold = f"{cup} is under its band, {read}."
    if warning.is_second:
        return cold
    if not warning.at_shot:
        return f"{cold} Reheat it before its shot."
    reheats = Action.YES if warning.came_back else Action.BACK
    return f"{cold} Press {spoken_keys.key_for(reheats, keys)} to put it back on the heat."


def is_fit(seen: View) -> bool:
    """Whether no cup is outside its band whose shot is at hand or next."""
    return not any(each.kind in _STOPS_A_SHOT for each in seen.warnings)


def is_put_off(seen: View) -> bool:
    """Whether something else comes before the present shot: a cup has to be heated, or has to cool."""
    return any(each.kind in _STOPS_A_SHOT and not each.is_second for each in seen.warnings)


def bursts_over(seen: View) -> frozenset[Part]:
    """The cups whose burst ran by itself and is over, and that nobody has stirred and read yet."""
    own = seen.step.parts if seen.step.heats else ()
    return frozenset(cup.part for cup in seen.cups if cup.burst and cup.burst_over_s > 0 and cup.part not in own)


def bursts_words(parts: Sequence[Part]) -> str:
    """What is to be done once they are."""
    return f"Burst over: stir, read {cups_words(parts)}."


def question_words(why: Asked, seen: View, keys: Keys) -> str:
    """That the one key has asked, and what answers it."""
    again = f"Press {spoken_keys.key_for(Action.FORWARD, keys)} again to go on."
    answer = "Read the screen." if why in INSISTED else again
    reason = why_words(why, seen)
    return f"Go on? {reason[:1].upper()}{reason[1:]}. {answer}"


def doubt_words(doubt: Doubt, units: UnitSystem, keys: Keys) -> str:
    """That a reading is asked for again, and what it was probably meant to be."""
    first = "If it may be true, heat off now. " if doubt.heat_off else ""
    if doubt.did_not_rise:
        return f"{first}It did not rise. Was the heater on? Read again."
    about = spoken.degrees(doubt.expected.temp_c, units) if doubt.expected else ""
    at_least = doubt.expected is not None and doubt.expected.at_least
    expected = f", {f'{about} or more' if at_least else f'about {about}'} was expected" if about else ""
    meant = doubt.suggestion
    yes = f"Then press {spoken_keys.key_for(Action.YES, keys)}."
    was_it = f" Was it {spoken.degrees(meant.value_c, units)}, {meant.why.value}? {yes}" if meant else ""
    check = " Check the thermometer." if doubt.cannot_be else ""
    return f"{first}Read again. {spoken.degrees(doubt.reading.temp_c, units)} was typed{expected}.{was_it}{check}"
