"""The words for a reading that is asked for again."""

from __future__ import annotations

from bench.model.settings import UnitSystem
from bench.session.doubt import Doubt
from bench.session.events import CupRead
from bench.session.readings import HOTTEST_CUP_C
from bench.session.view import View
from bench.tui import present
from bench.tui.pour.keys import Press, key_for
from bench.tui.pour.reading_words import as_typed, reading_of


def doubt_words(view: View, units: UnitSystem) -> tuple[str, ...]:
    """What is asked about the doubted reading, a line each; empty where none is."""
    if view.doubt is None:
        return ()
    read = view.doubt.reading
    if view.doubt.did_not_rise:
        return (
            f"{as_typed(read, units)} was typed for the {reading_of(read)}. It did not rise: was the heater on?",
            f"{key_for(Press.YES)}: it was off. See that it is on for the next burst.",
            f"It was on: stir, {_AGAIN} {_TWICE}",
        )
    meant = view.doubt.suggestion
    yes = f"{key_for(Press.YES)}: yes."
    was_it = f"Was it {present.temperature(meant.value_c, units)}, {meant.why.value}? {yes}" if meant else ""
    return (
        *((_HEAT_OFF,) if view.doubt.heat_off else ()),
        *filter(None, (was_it,)),
        f"{as_typed(read, units)} was typed for the {_of(view)}; {_expected(view.doubt, units)}.",
        f"R{_AGAIN[1:]}" if view.doubt.cannot_be else f"R{_AGAIN[1:]} {_TWICE}",
    )


def _of(view: View) -> str:
    """What the doubted reading is of."""
    assert view.doubt is not None, "asked only of a reading that is doubted"
    read, old = view.doubt.reading, view.in_hand.old
    is_old = old is not None and isinstance(read, CupRead) and read.part is old.part
    return f"{'old ' if is_old else ''}{reading_of(read)}"


def brief_doubt(view: View, units: UnitSystem) -> tuple[str, ...]:
    """The same for the smallest window: above all what the key says that means yes."""
    doubt = view.doubt
    if doubt is None:
        return ()
    typed, yes = as_typed(doubt.reading, units), key_for(Press.YES)
    heat_off = (_HEAT_OFF,) if doubt.heat_off else ()
    if doubt.did_not_rise:
        return (*heat_off, f"{typed}: it did not rise.", f"{yes}: the heater was off. Or read again.")
    meant = doubt.suggestion
    if meant is None:
        again = f"{present.sentence(_CHECK)}." if doubt.cannot_be else "Read it again."
        return (*heat_off, f"{typed} for the {_of(view)}? {again}")
    return (
        *heat_off,
        f"{yes}: it was {present.temperature(meant.value_c, units)}, not {typed}.",
        "Or read it again.",
    )


def _expected(doubt: Doubt, units: UnitSystem) -> str:
    if doubt.expected is None or doubt.cannot_be:
        nothing = f"nothing here is that {'hot' if doubt.reading.temp_c > HOTTEST_CUP_C else 'cold'}"
        return f"{nothing}: {_CHECK}" if doubt.cannot_be else nothing
    temp = present.temperature(doubt.expected.temp_c, units)
    about = f"{temp} or more was expected" if doubt.expected.at_least else f"about {temp} was expected"
    if doubt.expected.range_c is None:
        return about
    low_c, high_c = doubt.expected.range_c
    return f"{about} ({present.degrees(low_c, units)} to {present.degrees(high_c, units)})"


_HEAT_OFF = "If it may be true: heat off now."
_AGAIN = "read it again and type what you see: digits, Enter."
_TWICE = "The same figure twice is believed."
_CHECK = "check the thermometer"
