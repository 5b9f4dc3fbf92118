"""Who gets rows first in the smallest window: what to do and what can burn whole, then how long, and what is worth
looking up elsewhere last."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bench.tui.pour.choice_rows import lowest_whole
from bench.tui.pour.picture import Picture
from bench.tui.pour.rows import Forms, Wanted
from bench.tui.text import wrap
from bench.tui.widgets.lines import Line, Tone, line, spread, width_of

ALL = 99
"""More rows than any window of these has."""


def order_in_brief(picture: Picture, sections: Mapping[str, Forms], room: int) -> Iterator[Wanted]:
    """The claims on the rows of a small window, for a step that asks nothing."""
    middle, reminders = picture.middle, 1 if picture.reminder else 0
    least = _rows(sections["cautions"], 0)
    yield from (Wanted(name, 1) for name in ("keys", "title", "large"))
    yield Wanted("choices", len(lowest_whole(middle.choices, room)))
    if middle.tone is Tone.ENTRY:
        # What is typed or asked does not stand without its name.
        yield Wanted("label", 3)
    if middle.doubts or (middle.is_clock and middle.leads):
        # The burst is what the maker sets.
        yield Wanted("details", ALL if middle.doubts else len(wrap("".join(middle.details[:1]), room)))
    yield from (Wanted("do", ALL), Wanted("cautions", reminders), Wanted("notices", ALL))
    if not middle.choices:
        # At a look the answer to a verdict comes first.
        yield Wanted("then", 1)
    yield Wanted("details", ALL if middle.leads or middle.is_title else 0)
    # A hold is shown with the key that stops.
    yield from (Wanted("then", 1), Wanted("cautions", least), Wanted("keys", 2 if picture.is_held else 1))
    yield from (Wanted("strip", picture.cups_first), Wanted("details", ALL))
    if picture.is_held:
        yield Wanted("label", 3)
    if middle.is_clock or (middle.large[-1:].isdigit() and not middle.is_title):
        yield Wanted("large", 4)
    yield Wanted("cautions", _rows(sections["cautions"], reminders))
    yield from (Wanted("top", 1), Wanted("large", 4), Wanted("title", 3), Wanted("label", 3), Wanted("samples", 2))
    yield from (Wanted("keys", 2), Wanted("meanwhile", 2), Wanted("strip", 3), Wanted("cautions", ALL))


def _rows(forms: Forms, place: int) -> int:
    """The rows of that form, or of the last where there is none there."""
    return len(forms[min(place, len(forms) - 1)]) if forms else 0


def with_corner(shown: dict[str, tuple[Line, ...]], picture: Picture, room: int) -> dict[str, tuple[Line, ...]]:
    """The sections with the corner of the top row beside the title, where that row is not shown."""
    name = "large" if picture.middle.is_title else "title"
    corner = line(picture.corner)
    if shown["top"] or len(shown[name]) != 1 or width_of(shown[name][0]) + width_of(corner) >= room:
        return shown
    return {**shown, name: (spread(shown[name][0], corner, room),)}
