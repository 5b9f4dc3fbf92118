"""The surface between the inside of the plastic and the eye.

J. L. Saunderson, "Calculation of the color of pigmented plastics", J. Opt. Soc. Am. 32:727 (1942), as given by
E. Allen (1980): R_m = k1 + (1 - k1)(1 - k2) R / (1 - k2 R). The eye and the camera look past the gloss, so the
reflection at the surface itself, the added k1, is left out here (specular excluded).
"""

from __future__ import annotations

from bench.colour.bands import Spectrum

K1 = 0.04
"""Reflected on the way in: ((n - 1) / (n + 1))^2 for n = 1.5; PVC, n = 1.54, has 0.045."""

K2 = 0.6
"""Reflected back inside: the diffuse value in theory, 0.596 for n = 1.5; measured ones run from 0.4 to 0.6."""


def outside(internal: Spectrum, *, k1: float = K1, k2: float = K2) -> Spectrum:
    """What is seen of an internal reflectance. 0.5 inside is 0.274286 outside; 1 inside is 1 - k1."""
    through = (1 - k1) * (1 - k2)
    return tuple(through * r / (1 - k2 * r) for r in internal)


def inside(seen: Spectrum, *, k1: float = K1, k2: float = K2) -> Spectrum:
    """The internal reflectance behind what is seen; the inverse of ``outside``, at most 1."""
    through = (1 - k1) * (1 - k2)
    return tuple(min(1.0, r / (through + k2 * r)) for r in seen)
