"""The exact answers: series for a slab and a cylinder, and a fine method of lines for layers."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.sparse import diags
from scipy.special import j0, j1, jn_zeros

from bench.physics.conduction import Layer, Shape

TERMS = 60


def slab_series(biot: float) -> list[tuple[float, float]]:
    """(lambda, A) with lambda tan lambda = Bi: Carslaw & Jaeger 3.11; Cengel & Ghajar, table 4-1."""
    pairs = []
    for number in range(TERMS):
        low = number * math.pi
        root = brentq(lambda z: z * math.sin(z) - biot * math.cos(z), low, low + math.pi / 2, xtol=1e-14)
        pairs.append((root, 4 * math.sin(root) / (2 * root + math.sin(2 * root))))
    return pairs


def cylinder_series(biot: float) -> list[tuple[float, float]]:
    """(lambda, A) with lambda J1 / J0 = Bi: Carslaw & Jaeger 7.6; Cengel & Ghajar, table 4-1."""
    lows, highs = [0.0, *jn_zeros(1, TERMS)], jn_zeros(0, TERMS)
    pairs = []
    for low, high in zip(lows, highs, strict=False):
        root = brentq(lambda z: z * j1(z) - biot * j0(z), low, high, xtol=1e-14)
        pairs.append((root, 2 / root * j1(root) / (j0(root) ** 2 + j1(root) ** 2)))
    return pairs


SERIES: dict[Shape, Callable[[float], list[tuple[float, float]]]] = {
    Shape.SLAB: slab_series,
    Shape.CYLINDER: cylinder_series,
}


def fourier_at(pairs: Sequence[tuple[float, float]], share: float) -> float:
    """The Fourier number at which the excess at the axis or mid-plane has fallen to a share of the first."""

    def over(fourier: float) -> float:
        return sum(a * math.exp(-root * root * fourier) for root, a in pairs) - share

    return float(brentq(over, 5e-3, 200.0, xtol=1e-12))


def lines_seconds_to(
    layers: Sequence[Layer], *, around_c: float, film_w_m2k: float, target_c: float, watched: int, cells: int = 300
) -> float:
    """Time for the hottest cell of a layer of a cylinder to fall to a target, by a fine method of lines.

    Its own grid (many cells, conductances by logarithms of radii) and scipy's BDF at 1e-8.
    """
    radii = np.concatenate(
        [
            [0.0],
            *(
                1e-3 * np.linspace(inner, inner + layer.thickness_mm, cells + 1)[1:]
                for layer, inner in zip(
                    layers, np.cumsum([0.0, *(each.thickness_mm for each in layers)]), strict=False
                )
            ),
        ]
    )
    middle = np.sqrt((radii[1:] ** 2 + radii[:-1] ** 2) / 2)
    k = np.repeat([layer.substance.k_w_mk for layer in layers], cells)
    heat = np.repeat([layer.substance.rho_kg_m3 * layer.substance.c_j_kgk for layer in layers], cells)
    capacity = heat * np.pi * (radii[1:] ** 2 - radii[:-1] ** 2)
    outer_half = np.log(radii[1:] / middle) / (2 * np.pi * k)
    inner_half = np.log(middle[1:] / radii[1:-1]) / (2 * np.pi * k[1:])
    between = 1 / (outer_half[:-1] + inner_half)
    wall = 1 / (outer_half[-1] + 1 / (film_w_m2k * 2 * np.pi * radii[-1]))
    out = np.append(between, wall)
    into = np.append(0.0, between)
    matrix = diags(
        [-(out + into) / capacity, between / capacity[:-1], between / capacity[1:]], [0, 1, -1], format="csc"
    )
    start = np.repeat([layer.start_c - around_c for layer in layers], cells)
    part = slice(watched * cells, (watched + 1) * cells)

    def reached(_: float, excess: np.ndarray) -> float:
        return float(excess[part].max() - (target_c - around_c))

    reached.terminal = True  # type: ignore[attr-defined]
    solution = solve_ivp(
        lambda _, excess: matrix @ excess,
        (0.0, 5000.0),
        start,
        method="BDF",
        jac=matrix,
        events=reached,
        rtol=1e-7,
        atol=1e-6,
    )
    return float(solution.t_events[0][0])
