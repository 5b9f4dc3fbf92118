"""What the user is told: foreign text in it can neither drive a terminal nor fill it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.errors import Fault, place_words, printable, quoted
from bench.model.swatch import colour_faults

MARK = "\N{REPLACEMENT CHARACTER}"
UNASSIGNED = "\U000e0fff"
"""No character of any edition of Unicode; a terminal may show it as anything, as wide as it likes."""


def test_what_a_terminal_would_obey_or_cannot_show_is_marked() -> None:
    assert printable(f"a\x1b[2Jb\u202ec\x9bd{UNASSIGNED}") == f"a{MARK}[2Jb{MARK}c{MARK}d{MARK}"


def test_foreign_text_is_shown_cut_and_without_control_characters() -> None:
    assert quoted("x" * 41) == '"' + "x" * 40 + '…"'
    assert quoted("a\x1b[31mb\nc") == f'"a{MARK}[31mb{MARK}c"'


@given(text=st.text())
def test_any_text_is_quoted_in_one_short_printable_line(text: str) -> None:
    assert quoted(text).isprintable()
    assert len(quoted(text)) <= 43
    assert Fault(key="k", found=quoted(text), wanted="x", file=text).sentence().isprintable()


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("warm[1]", "the second of warm"),
        ("parts.shell.doses[0].load", "load of the first of parts.shell.doses"),
        ("caution[10].steps[1]", "the second of steps of the 11th of caution"),
        ("event[21].kind", "kind of the 22nd of event"),
        ('sources."a[1]"', 'sources."a[1]"'),
        ("line 3", "line 3"),
        ("", ""),
    ],
)
def test_a_place_in_a_list_is_counted_as_people_count(key: str, words: str) -> None:
    assert place_words(key) == words


def test_a_colour_that_is_none_is_told_without_what_cannot_be_shown() -> None:
    (fault,) = colour_faults("swatch[0].over_black", f"S{UNASSIGNED}")
    assert fault.sentence() == (
        f'over_black of the first of swatch: found "S{MARK}", wanted a colour in six hex digits such as "#7a4b2c".'
    )
