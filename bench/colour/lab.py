"""CIE L*a*b* and the hex colours that screens and cameras speak."""

from __future__ import annotations

import re
from typing import NamedTuple

from bench.colour.bands import Spectrum
from bench.colour.observer import xyz
from bench.errors import BenchError, quoted

WHITE = (0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290)
"""Tristimulus values of the white of sRGB, from its chromaticity x 0.3127, y 0.3290 (IEC 61966-2-1)."""

_EPSILON = 216 / 24389
_KAPPA = 24389 / 27
_HEX = re.compile(r"#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")

_TO_XYZ = (
    (0.41239079926595934, 0.357584339383878, 0.1804807884018343),
    (0.21263900587151027, 0.715168678767756, 0.07219231536073371),
    (0.01933081871559182, 0.11919477979462598, 0.9505321522496607),
)
"""Linear sRGB to tristimulus values, from the primaries and the white of IEC 61966-2-1 (as in W3C CSS Color 4)."""

_FROM_XYZ = (
    (3.2409699419045226, -1.537383177570094, -0.4986107602930034),
    (-0.9692436362808796, 1.8759675015077202, 0.04155505740717559),
    (0.05563007969699366, -0.20397695888897652, 1.0569715142428786),
)

GAMUT_SLACK = 5e-4
"""How far a linear channel may stand outside 0 to 1 before the colour counts as clipped: less than is seen."""


class Lab(NamedTuple):
    """CIE 1976 L*a*b* for D65 and the 2 degree observer (ISO/CIE 11664-4)."""

    lightness: float
    a: float
    b: float


class Shown(NamedTuple):
    """The nearest colour a screen can show. ``clipped`` when the true one lies outside what sRGB holds."""

    hex: str
    clipped: bool


def lab_from_xyz(tristimulus: tuple[float, float, float]) -> Lab:
    """L*a*b* of tristimulus values with Y = 1 for white; ISO/CIE 11664-4."""
    x, y, z = (
        ratio ** (1 / 3) if ratio > _EPSILON else (_KAPPA * ratio + 16) / 116
        for ratio in (value / white for value, white in zip(tristimulus, WHITE, strict=True))
    )
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def xyz_from_lab(lab: Lab) -> tuple[float, float, float]:
    """Tristimulus values of an L*a*b* colour; the inverse of ``lab_from_xyz``."""
    y = (lab.lightness + 16) / 116
    x, z = y + lab.a / 500, y - lab.b / 200
    ratios = (root**3 if root**3 > _EPSILON else (116 * root - 16) / _KAPPA for root in (x, y, z))
    ours = tuple(ratio * white for ratio, white in zip(ratios, WHITE, strict=True))
    return ours[0], ours[1], ours[2]


def lab_of(reflectance: Spectrum) -> Lab:
    """L*a*b* of a reflectance under D65."""
    return lab_from_xyz(xyz(reflectance))


def shown_from_xyz(tristimulus: tuple[float, float, float]) -> Shown:
    """The hex colour of tristimulus values, each channel brought into range where need be (IEC 61966-2-1)."""
    linear = [sum(m * value for m, value in zip(row, tristimulus, strict=True)) for row in _FROM_XYZ]
    clipped = any(not -GAMUT_SLACK <= channel <= 1 + GAMUT_SLACK for channel in linear)
    codes = (round(255 * _encoded(min(1.0, max(0.0, channel)))) for channel in linear)
    return Shown("#" + "".join(f"{code:02x}" for code in codes), clipped)


def shown(reflectance: Spectrum) -> Shown:
    """The hex colour of a reflectance under D65."""
    return shown_from_xyz(xyz(reflectance))


def shown_lab(lab: Lab) -> Shown:
    """The hex colour of an L*a*b* colour."""
    return shown_from_xyz(xyz_from_lab(lab))


def xyz_from_hex(text: str, *, field: str = "colour") -> tuple[float, float, float]:
    """Tristimulus values of "#rrggbb" or "#rgb", the # optional.

    ``field`` names the entry in the refusal. Raises BenchError for anything else.
    """
    match = _HEX.fullmatch(text.strip())
    if match is None:
        raise BenchError(
            f'{field}: {quoted(text, 20)} is not a colour; give three or six hex digits such as "#7a4b2c"'
        )
    digits = match[1] if len(match[1]) == 6 else "".join(2 * digit for digit in match[1])
    linear = [_decoded(int(digits[at : at + 2], 16) / 255) for at in (0, 2, 4)]
    ours = tuple(sum(m * channel for m, channel in zip(row, linear, strict=True)) for row in _TO_XYZ)
    return ours[0], ours[1], ours[2]


def lab_from_hex(text: str, *, field: str = "colour") -> Lab:
    """L*a*b* of a hex colour. Raises BenchError for what is not one."""
    return lab_from_xyz(xyz_from_hex(text, field=field))


def _encoded(linear: float) -> float:
    return 12.92 * linear if linear <= 0.0031308 else float(1.055 * linear ** (1 / 2.4) - 0.055)


def _decoded(code: float) -> float:
    return code / 12.92 if code <= 0.04045 else float(((code + 0.055) / 1.055) ** 2.4)
