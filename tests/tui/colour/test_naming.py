"""Colours in words, against names of the open standard: the named colours of W3C CSS Color 4."""

from __future__ import annotations

import pytest

from bench.tui.colour.naming import colour_words

# [C] W3C CSS Color Module Level 4, section 6.1, named colours.
CSS = (
    ("black", "#000000", "black"),
    ("white", "#ffffff", "white"),
    ("grey", "#808080", "grey"),
    ("darkslategrey", "#2f4f4f", "blue-green"),
    ("red", "#ff0000", "red"),
    ("darkred", "#8b0000", "red"),
    ("orange", "#ffa500", "orange"),
    ("yellow", "#ffff00", "yellow"),
    ("olive", "#808000", "olive"),
    ("green", "#008000", "green"),
    ("darkgreen", "#006400", "dark"),
    ("lightgreen", "#90ee90", "pale"),
    ("teal", "#008080", "blue-green"),
    ("blue", "#0000ff", "blue"),
    ("navy", "#000080", "very dark"),
    ("saddlebrown", "#8b4513", "brown"),
    ("tan", "#d2b48c", "tan"),
    ("burlywood", "#deb887", "tan"),
    ("hotpink", "#ff69b4", "pink"),
    ("violet", "#ee82ee", "violet"),
)


@pytest.mark.parametrize(("name", "hex_colour", "word"), CSS)
def test_a_named_colour_gets_its_word(name: str, hex_colour: str, word: str) -> None:
    assert word in colour_words(hex_colour), name
