"""How large a character looks from where one stands."""

from __future__ import annotations

import math

LEAST_ARCMIN = 16.0
PREFERRED_ARCMIN = (20.0, 22.0)
"""Heights of characters for reading, in minutes of arc: ISO 9241-3, carried into ISO 9241-303."""

_ARCMIN_IN_A_RADIAN = 60 * 180 / math.pi


def arc_arcmin(*, height_mm: float, distance_mm: float) -> float:
    """The angle, in minutes of arc, under which a height is seen straight on: 2 atan(h / 2d)."""
    return 2 * math.atan(height_mm / (2 * distance_mm)) * _ARCMIN_IN_A_RADIAN


def height_for_mm(*, arcmin: float, distance_mm: float) -> float:
    """The height that is seen under that angle from that distance: 2 d tan(angle / 2)."""
    return 2 * distance_mm * math.tan(arcmin / _ARCMIN_IN_A_RADIAN / 2)


def distance_for_mm(*, height_mm: float, arcmin: float) -> float:
    """From how far that height is seen under that angle: h / (2 tan(angle / 2))."""
    return height_mm / (2 * math.tan(arcmin / _ARCMIN_IN_A_RADIAN / 2))
