"""The cautions of the moment in rows, a reminder before all others: whole ones, in few words where there is little
room."""

from __future__ import annotations

from collections.abc import Sequence

from bench.tui.pour.picture import Picture
from bench.tui.pour.rows import Forms, growing, labelled
from bench.tui.text import wrap
from bench.tui.widgets.lines import Line, Tone, line


def caution_rows(picture: Picture, room: int) -> Forms:
    """Whole cautions only, beginning with the one whose turn it is."""
    reminder = _reminder(picture.reminder, room)
    full = _of_the_moment(picture.cautions, picture.turn, room)
    if not picture.is_brief:
        return (*growing(reminder, room), *_after(reminder, full))
    words = dict(picture.brief)
    short = _reminder(words.get(picture.reminder, picture.reminder), room)
    brief = _of_the_moment([words.get(each, each) for each in picture.cautions], picture.turn, room)
    forms = (*growing(short, room), *_after(short, brief))
    most = len(forms[-1]) if forms else 0
    fuller = (*((reminder,) if reminder else ()), *_after(reminder, full))
    return (*forms, *(form for form in fuller if len(form) > most))


def _reminder(said: str, room: int) -> tuple[Line, ...]:
    broken = wrap(said, max(1, room - 3))
    return tuple(line(f"{'   ' if place else '!  '}{row}", Tone.REMIND) for place, row in enumerate(broken))


def _after(reminder: tuple[Line, ...], forms: Forms) -> Forms:
    return tuple((*reminder, *form) for form in forms)


def _of_the_moment(cautions: Sequence[str], turn: int, room: int) -> Forms:
    count = len(cautions)
    wrapped = [labelled("!", cautions[(turn + place) % count], room, Tone.CAUTION) for place in range(count)]
    forms = [tuple(row for rows in wrapped[:number] for row in rows) for number in range(1, count)]
    # All of them together stand in their own order and do not turn.
    everything = tuple(row for words in cautions for row in labelled("!", words, room, Tone.CAUTION))
    return (*forms, everything) if count else ()
