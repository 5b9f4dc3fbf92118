"""Words for colours, so that nothing on the screen depends on seeing them.

Plain words of English, chosen by lightness, chroma and hue angle in CIE L*a*b*; where one ends and the next begins
is common practice, no source.
"""

from __future__ import annotations

import math

from bench.colour.lab import lab_from_hex

_GREY_CHROMA = 7.0
_DULL_CHROMA = 22.0
_STRONG_CHROMA = 60.0
_HUES = (
    (20.0, "red"),
    (45.0, "red"),
    (80.0, "orange"),
    (100.0, "yellow"),
    (125.0, "yellow-green"),
    (175.0, "green"),
    (220.0, "blue-green"),
    (308.0, "blue"),
    (340.0, "violet"),
    (355.0, "pink"),
    (361.0, "red"),
)
"""Each hue up to its angle, degrees."""

_BROWN_BELOW = 55.0
_BROWN_BELOW_HUE, _OLIVE_BELOW_HUE = 85.0, 112.0
_PINK_ABOVE = 60.0
_TAN_CHROMA = 45.0


def colour_words(hex_colour: str) -> str:
    """A colour as people say it: "dark dull green", "light grey", "strong red"."""
    lightness, a, b = lab_from_hex(hex_colour)
    chroma, hue = math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360
    if chroma < _GREY_CHROMA:
        return _neutral(lightness)
    return " ".join(word for word in (_depth(lightness), _strength(chroma), _hue(lightness, hue, chroma)) if word)


def _neutral(lightness: float) -> str:
    if lightness < 12:
        return "black"
    if lightness > 93:
        return "white"
    return f"{_depth(lightness)} grey".strip()


def _depth(lightness: float) -> str:
    if lightness < 22:
        return "very dark"
    if lightness < 40:
        return "dark"
    if lightness > 85:
        return "pale"
    return "light" if lightness > 68 else ""


def _strength(chroma: float) -> str:
    if chroma < _DULL_CHROMA:
        return "dull"
    return "strong" if chroma > _STRONG_CHROMA else ""


def _hue(lightness: float, hue: float, chroma: float) -> str:
    word = next(name for most, name in _HUES if hue < most)
    if word in ("orange", "yellow", "yellow-green") and lightness < _BROWN_BELOW and hue < _OLIVE_BELOW_HUE:
        return "brown" if hue < _BROWN_BELOW_HUE else "olive"
    if word in ("orange", "yellow") and hue < _BROWN_BELOW_HUE and chroma < _TAN_CHROMA:
        return "tan"
    if word == "red" and lightness < 45 and chroma < 35:
        return "red-brown"
    if word == "red" and lightness > _PINK_ABOVE:
        return "pink"
    return word
