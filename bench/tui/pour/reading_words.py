"""A reading in words: what it is of, and what becomes of it."""

from __future__ import annotations

from bench.model.settings import UnitSystem
from bench.session.aside import is_of_the_old, with_the_old
from bench.session.events import CupRead, MouldRead
from bench.session.readings import believed
from bench.session.rises import teaches
from bench.tui import present
from bench.tui.pour.moment import Moment


def reading_said(reading: CupRead | MouldRead, moment: Moment) -> str:
    """What becomes of a figure: one that is doubted is not taken before it is read again."""
    is_old = isinstance(reading, CupRead) and is_of_the_old(moment.session, reading.part)
    of = present.sentence(f"{'old ' if is_old else ''}{reading_of(reading)}")
    read = as_typed(reading, moment.units)
    if not believed(with_the_old(moment.session, reading.at), reading):
        return f"{of}: {read} is not taken yet."
    if is_old or teaches(moment.session, reading):
        return f"{of}: {read}."
    return f"{of}: {read}. Too far from what the heater gives: nothing is learnt from it."


def as_typed(reading: CupRead | MouldRead, units: UnitSystem) -> str:
    """The figure as it was typed, with its tenths; one that was typed in another unit in whole degrees."""
    shown = present.as_typed if reading.typed_in is units else present.temperature
    return shown(reading.temp_c, units)


def reading_of(about: CupRead | MouldRead) -> str:
    """What a reading is of, as words: "core cup", "mould"."""
    return f"{about.part.words} cup" if isinstance(about, CupRead) else "mould"
