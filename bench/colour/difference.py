"""How different two colours look: CIEDE2000.

G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test
Data, and Mathematical Observations", Color Res. Appl. 30(1):21-30 (2005); ISO/CIE 11664-6. About 1 is just seen
by a trained eye with the two side by side. (50, 2.6772, -79.7751) against (50, 0, -82.7485): 2.0425.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from bench.colour.lab import Lab

_TURN = 2 * math.pi
_POW7 = 25.0**7


class Parts(NamedTuple):
    """A colour difference in its three directions, each in units of CIEDE2000 and signed: sample minus standard.

    ``rotation`` is the factor of the cross term of chroma and hue.
    """

    lightness: float
    chroma: float
    hue: float
    rotation: float


def parts(standard: Lab, sample: Lab) -> Parts:
    """The difference split into lightness, chroma and hue, for viewing at the formula's reference conditions."""
    l1, a1, b1 = standard
    l2, a2, b2 = sample
    c7 = ((math.hypot(a1, b1) + math.hypot(a2, b2)) / 2) ** 7
    stretch = 1.5 - 0.5 * math.sqrt(c7 / (c7 + _POW7))
    a1, a2 = a1 * stretch, a2 * stretch
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    h1, h2 = math.atan2(b1, a1) % _TURN, math.atan2(b2, a2) % _TURN
    turn, mean_hue = _hues(h1, h2, grey=c1 * c2 == 0)
    hue = 2 * math.sqrt(c1 * c2) * math.sin(turn / 2)

    mean_l, mean_c = (l1 + l2) / 2, (c1 + c2) / 2
    t = (
        1
        - 0.17 * math.cos(mean_hue - math.radians(30))
        + 0.24 * math.cos(2 * mean_hue)
        + 0.32 * math.cos(3 * mean_hue + math.radians(6))
        - 0.20 * math.cos(4 * mean_hue - math.radians(63))
    )
    off_50 = (mean_l - 50) ** 2
    s_l = 1 + 0.015 * off_50 / math.sqrt(20 + off_50)
    s_c = 1 + 0.045 * mean_c
    s_h = 1 + 0.015 * mean_c * t
    spread = math.radians(30) * math.exp(-(((math.degrees(mean_hue) - 275) / 25) ** 2))
    mean_c7 = mean_c**7
    rotation = -2 * math.sqrt(mean_c7 / (mean_c7 + _POW7)) * math.sin(2 * spread)
    return Parts((l2 - l1) / s_l, (c2 - c1) / s_c, hue / s_h, rotation)


def _hues(h1: float, h2: float, *, grey: bool) -> tuple[float, float]:
    """The turn from one hue to the other, the short way round, and the hue half-way; radians."""
    if grey:
        return 0.0, h1 + h2
    turn = h2 - h1
    if abs(turn) <= math.pi:
        return turn, (h1 + h2) / 2
    middle = (h1 + h2 + (_TURN if h1 + h2 < _TURN else -_TURN)) / 2
    return turn - math.copysign(_TURN, turn), middle


def de2000(standard: Lab, sample: Lab) -> float:
    """The CIEDE2000 difference of two colours; the same either way round."""
    lightness, chroma, hue, rotation = parts(standard, sample)
    return math.sqrt(max(0.0, lightness**2 + chroma**2 + hue**2 + rotation * chroma * hue))
