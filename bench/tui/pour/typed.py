"""What a key means while a figure is typed. No sign is dropped without a word: what is left is another figure."""

from __future__ import annotations

from dataclasses import replace

from bench.session import drive
from bench.tui import present
from bench.tui.pour.entry import POINT, Entry, Figure, Tails, number, rubbed_out, with_digit, with_point
from bench.tui.pour.keys import Press, Stroke, key_for
from bench.tui.pour.moment import Moment
from bench.tui.pour.reading_words import reading_said
from bench.tui.pour.reply import Answer

_FULL = f"No figure is longer: Enter takes it, {key_for(Press.BACK)} rubs its last digit out."
_TENTHS = f"Tenths are enough: Enter takes it, {key_for(Press.BACK)} rubs its last digit out."
_ONE_POINT = "A figure has one point. Go on with its tenths; Enter takes it."
_WHOLE = "Tails are counted whole, without a point."
_NO_FIGURE = "That is no part of a figure: digits, a point. Enter takes it, Esc leaves it."
_HOW_TO_END = "Enter takes the figure, Esc leaves it."


def typing(entry: Figure | Tails, stroke: Stroke, moment: Moment) -> Answer:
    """What that press makes of the figure."""
    match stroke.press:
        case Press.DIGIT:
            return _with_digit(entry, stroke.digit)
        case Press.POINT:
            return _with_point(entry)
        case Press.BACK:
            return Answer(entry=rubbed_out(entry))
        case Press.ESCAPE:
            return Answer()
        case Press.FORWARD:
            return _taken(entry, moment)
        case Press.TEMPERATURE if isinstance(entry, Figure):
            other = drive.other_reading(moment.session, entry.about, moment.now)
            return Answer(entry=replace(entry, about=other))
        case Press.OTHER:
            return Answer(entry=entry, line=_NO_FIGURE)
        case _:
            return Answer(entry=entry, line=_HOW_TO_END)


def cut(tails: int, moment: Moment, *, entry: Entry) -> Answer:
    """So many tails are cut; where a round has not so many that is said, and ``entry`` stays."""
    chosen = drive.tails(moment.session, tails, moment.now)
    if chosen is not None:
        return Answer(event=chosen)
    return Answer(entry=entry, line=f"A round has {present.counted(moment.session.job.plan.cavities, 'tail')}.")


def _with_digit(entry: Figure | Tails, digit: int) -> Answer:
    longer = with_digit(entry, digit)
    if longer != entry:
        return Answer(entry=longer)
    return Answer(entry=entry, line=_TENTHS if POINT in entry.typed else _FULL)


def _with_point(entry: Figure | Tails) -> Answer:
    if isinstance(entry, Tails):
        return Answer(entry=entry, line=_WHOLE)
    longer = with_point(entry)
    return Answer(entry=longer, line="" if longer != entry else _ONE_POINT)


def _taken(entry: Figure | Tails, moment: Moment) -> Answer:
    typed = number(entry)
    if typed is None:
        return Answer(entry=entry, line="Type the figure first; Esc leaves it.")
    if isinstance(entry, Tails):
        return cut(round(typed), moment, entry=entry)
    temp_c = present.celsius(typed, moment.units)
    reading = replace(entry.about, at=moment.now, temp_c=temp_c, typed_in=moment.units)
    return Answer(event=reading, line=reading_said(reading, moment))
