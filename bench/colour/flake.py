"""Flake: thin platelets strewn at random through the plastic, and how much of what lies behind they cover."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.colour.bands import Spectrum
from bench.errors import BenchError

POLYESTER_G_ML = 1.39
"""Density of polyester (PET) film: 1.38 to 1.40, 1.39 typical; from memory."""

FILM_MM = 0.0254
"""Starting value for the thickness of the film flake is cut from: one thousandth of an inch; from memory."""

RANDOM_TILT = 0.5
"""A flake turned at random shows half of its face in the mean (Cauchy: a quarter of a convex body's surface)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Coverage:
    """Flake in a wall. ``eta`` is the area of all its shadows per area of wall, ``covered`` the share hidden."""

    count_per_g: float
    eta: float
    covered: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Flaked:
    """Flake in a medium, for views: shadow area per mm of depth, and the flake's own internal reflectance."""

    eta_per_mm: float
    reflectance: Spectrum


def hexagon_mm2(across_flats_mm: float) -> float:
    """Area of a regular hexagon by its size across flats: (sqrt 3 / 2) d^2."""
    return math.sqrt(3) / 2 * across_flats_mm**2


def count_per_g(
    *, across_flats_mm: float, film_mm: float = FILM_MM, density_g_ml: float = POLYESTER_G_ML
) -> float:
    """Hexagonal flakes to the gram: 31,684 at 0.040 in (1.016 mm) across flats cut from 0.001 in film.

    Raises BenchError for a size, a film or a density that is not more than 0.
    """
    for field, value in (("size", across_flats_mm), ("film", film_mm), ("density", density_g_ml)):
        if not value > 0:
            raise BenchError(f"{field}: {value:g} is nothing to cut flake from; give more than 0")
    return 1e3 / (density_g_ml * hexagon_mm2(across_flats_mm) * film_mm)


def eta_per_mm(
    *,
    flake_g: float,
    plastic_ml: float,
    film_mm: float = FILM_MM,
    density_g_ml: float = POLYESTER_G_ML,
    tilt: float = RANDOM_TILT,
) -> float:
    """Area of flake shadows per area and per mm of depth; the size of the flakes does not matter.

    ``tilt`` is the mean share of a face that shows: 0.5 turned at random, 1 all lying flat.
    Raises BenchError for no plastic or less than no flake.
    """
    if not plastic_ml > 0:
        raise BenchError(f"plastic: {plastic_ml:g} ml holds no flake; give more than 0")
    if not flake_g >= 0:
        raise BenchError(f"grams: {flake_g:g} g of flake is less than nothing; give 0 or more")
    if not (film_mm > 0 and density_g_ml > 0):
        raise BenchError(f"film: {film_mm:g} mm of {density_g_ml:g} g/ml is no film; give more than 0 of both")
    face_mm2 = 1e3 * flake_g / (density_g_ml * film_mm)
    return tilt * face_mm2 / (1e3 * plastic_ml)


def covered(eta: float) -> float:
    """Share of the area hidden by grains strewn at random: 1 - exp(-eta), whatever their shape.

    P. Hall, Introduction to the Theory of Coverage Processes, Wiley (1988), pp. 24-25. 0.5 covers 39.3 %.
    """
    return -math.expm1(-eta)


def coverage(
    *,
    flake_g: float,
    across_flats_mm: float,
    plastic_ml: float,
    wall_mm: float,
    film_mm: float = FILM_MM,
    density_g_ml: float = POLYESTER_G_ML,
    tilt: float = RANDOM_TILT,
) -> Coverage:
    """Flakes to the gram, and what so many grams in so much plastic hide of whatever lies behind a wall."""
    _check_wall(wall_mm)
    count = count_per_g(across_flats_mm=across_flats_mm, film_mm=film_mm, density_g_ml=density_g_ml)
    eta = wall_mm * eta_per_mm(
        flake_g=flake_g, plastic_ml=plastic_ml, film_mm=film_mm, density_g_ml=density_g_ml, tilt=tilt
    )
    return Coverage(count_per_g=count, eta=eta, covered=covered(eta))


def flake_g_for_cover(
    share: float,
    *,
    plastic_ml: float,
    wall_mm: float,
    film_mm: float = FILM_MM,
    density_g_ml: float = POLYESTER_G_ML,
    tilt: float = RANDOM_TILT,
) -> float:
    """The flake, g, that covers a share of what lies behind a wall: eta = -ln(1 - share), and back from there.

    Raises BenchError for a share that no flake covers, and for no wall.
    """
    if not 0 <= share < 1:
        raise BenchError(f"cover: {100 * share:g} % is more than flake strewn at random covers; give 0 to 99 %")
    _check_wall(wall_mm)
    a_gram = eta_per_mm(flake_g=1.0, plastic_ml=plastic_ml, film_mm=film_mm, density_g_ml=density_g_ml, tilt=tilt)
    return -math.log1p(-share) / (wall_mm * a_gram)


def flake_g_for_count(
    count: float,
    *,
    bait_g: float,
    plastic_g: float,
    across_flats_mm: float,
    film_mm: float = FILM_MM,
    density_g_ml: float = POLYESTER_G_ML,
) -> float:
    """The flake, g, to stir into so much plastic that a bait of ``bait_g`` holds so many flakes in the mean.

    Raises BenchError for a count below 0, and for more flake than the bait weighs.
    """
    if not count >= 0:
        raise BenchError(f"sparkles: {count:g} is less than none; give 0 or more")
    if not bait_g > 0:
        raise BenchError(f"bait: {bait_g:g} g is no bait; give more than 0")
    flake_g = count / count_per_g(across_flats_mm=across_flats_mm, film_mm=film_mm, density_g_ml=density_g_ml)
    if not flake_g < bait_g:
        raise BenchError(f"sparkles: {count:g} of them weigh {flake_g:.3g} g, more than a bait of {bait_g:g} g")
    return plastic_g * flake_g / (bait_g - flake_g)


def mean_depth_mm(eta_per_mm: float, thickness_mm: float) -> float:
    """How deep the flakes lie that are seen from outside, in the mean, mm: shallow ones hide deeper ones.

    The mean of depth over the density exp(-eta depth), cut off at the thickness; half of that for few flakes.
    """
    eta = eta_per_mm * thickness_mm
    if eta < 1e-4:
        return thickness_mm / 2
    return 1 / eta_per_mm - thickness_mm * math.exp(-eta) / -math.expm1(-eta)


def strewn(plain: Spectrum, over_flake: Spectrum, share_covered: float) -> Spectrum:
    """What is seen where flake covers a share of the area: the two reflectances mixed by area."""
    left = 1 - share_covered
    return tuple(left * bare + share_covered * flaked for bare, flaked in zip(plain, over_flake, strict=True))


def _check_wall(wall_mm: float) -> None:
    if not wall_mm > 0:
        raise BenchError(f"wall: {wall_mm:g} mm is no wall; give more than 0")
