"""Whether the figures of one mould can belong together: what cannot be is a fault, what is unlikely a doubt.

Where nothing else is said, the bounds are common practice, no source: they catch a wrong unit or a slipped digit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from bench.errors import Fault
from bench.model.usual import Range, density_doubts, density_faults, doubts_of, with_other_unit
from bench.physics.substance import ALUMINIUM_6061
from bench.units import figure

if TYPE_CHECKING:
    from bench.model.mould import Mould, Rods, Weighed

_LONGEST_MM = 1000.0
_LONG_MM = 400.0
_LONG_IN_BODIES = 40.0
_LONG_IN_RODS = 4.0
_HEAVIEST_G = 200_000.0
_LEAST_FULL = 0.1
"""Of the cube of its diameter: a body as short as it is thick, and flat, still fills more; a ball fills 0.52."""

_DENSEST_KG_M3 = 8900.0
_LIGHTEST_KG_M3 = 1000.0
_THINNEST_M = 0.005
"""Copper, resin, and what each half's plate would be at least."""

_WEIGHING_G = 0.3

_RANGES = (
    Range(
        key="heat_capacity", field="heat_capacity_j_kgk", least=300, most=1200, unit="J/kg/K", words="of metals"
    ),
    Range(key="loss", field="loss_w_m2k", least=2, most=30, unit="W/m2/K", words="in still air"),
    Range(key="wall_conductance", field="wall_conductance_w_m2k", least=100, most=20000, unit="W/m2/K"),
)


def size_faults(mould: Mould) -> Iterator[Fault]:
    """Sizes and masses that contradict each other. Needs a mould whose volumes can be reckoned."""
    yield from _body_faults(mould)
    if mould.weighed is not None:
        yield from density_faults("weighed.density", mould.weighed.density_kg_m3)
        if mould.rods is not None:
            yield from _shell(mould.weighed, mould.rods, doubted=False)
    yield from _mass_faults(mould)


def mould_doubts(mould: Mould) -> Iterator[Fault]:
    """What is unlikely in a mould without faults."""
    yield from doubts_of(mould, _RANGES)
    yield from _length_doubts(mould)
    low_m2 = 6 * (mould.mass_g * 1e-3 / ALUMINIUM_6061.rho_kg_m3) ** (2 / 3)
    if not 0.8 * low_m2 <= mould.area_m2 <= 4 * low_m2:
        usual = f"{0.8 * low_m2:.2g} to {4 * low_m2:.2g} m2 for a block of {figure(mould.mass_g)} g of aluminium"
        yield Fault(key="area", found=f"{mould.area_m2:g} m2", wanted=usual, doubt=True)
    if mould.weighed is not None:
        yield from density_doubts("weighed.density", mould.weighed.density_kg_m3)
        if mould.rods is not None:
            yield from _shell(mould.weighed, mould.rods, doubted=True)


def _body_ml(mould: Mould) -> float:
    return mould.volumes.bait_ml - mould.volumes.tail_ml


def _length_mm(mould: Mould) -> float:
    """How long the body is, or would be as a cylinder of its diameter."""
    if mould.drawn is not None:
        return mould.drawn.body_length_mm
    return 1000 * _body_ml(mould) / (math.pi / 4 * mould.section.body_mm * mould.section.body_mm)


def _body_faults(mould: Mould) -> Iterator[Fault]:
    body_mm, length_mm = mould.section.body_mm, _length_mm(mould)
    drawn = mould.drawn
    if drawn is not None and body_mm > length_mm:
        yield Fault(
            key="section.body", found=f"{figure(body_mm)} mm", wanted=f"at most its length, {figure(length_mm)} mm"
        )
    if mould.weighed is not None and 1000 * _body_ml(mould) < _LEAST_FULL * body_mm * body_mm * body_mm:
        most_mm = (1000 * _body_ml(mould) / _LEAST_FULL) ** (1 / 3)
        wanted = f"at most {most_mm:.0f} mm for a bait of {figure(mould.weighed.bait_g)} g"
        yield Fault(key="section.body", found=f"{figure(body_mm)} mm", wanted=wanted)
    if length_mm > _LONGEST_MM:
        key = "weighed.bait" if drawn is None else "drawn.body_length"
        found = f"a body {length_mm / 1000:.3g} m long at {figure(body_mm)} mm of diameter"
        yield Fault(key=key, found=found, wanted="at most 1 m")
    if drawn is not None and mould.rods is not None:
        whole_mm = drawn.body_length_mm + (drawn.tail_length_mm or 0.0)
        if mould.rods.in_cavity_mm > whole_mm:
            found = f"{figure(mould.rods.in_cavity_mm)} mm"
            yield Fault(key="rods.in_cavity", found=found, wanted=f"at most the bait, {figure(whole_mm)} mm")


def _length_doubts(mould: Mould) -> Iterator[Fault]:
    body_mm, length_mm = mould.section.body_mm, _length_mm(mould)
    key = "weighed.bait" if mould.drawn is None else "drawn.body_length"
    most_mm = min(_LONG_MM, _LONG_IN_BODIES * body_mm)
    if mould.rods is not None:
        most_mm = min(most_mm, _LONG_IN_RODS * mould.rods.in_cavity_mm)
    if length_mm > most_mm:
        found = f"a body {length_mm:.0f} mm long at {figure(body_mm)} mm of diameter"
        yield Fault(key=key, found=found, wanted=f"at most {most_mm:.0f} mm", doubt=True)
    if 2 * body_mm > length_mm:
        found = f"{figure(body_mm)} mm for a body {length_mm:.0f} mm long"
        yield Fault(key="section.body", found=found, wanted="at most half its length", doubt=True)


def _mass_faults(mould: Mould) -> Iterator[Fault]:
    holds_g = mould.cavities * mould.volumes.bait_ml + mould.volumes.runner_ml
    mass_g = mould.mass_g
    if mass_g < holds_g:
        yield Fault(
            key="mass",
            found=f"{figure(mass_g)} g",
            wanted=f"more than the plastic that its cavities and runner hold, about {holds_g:.0f} g",
            hint=f'"{mass_g:g} kg"' if holds_g < 1000 * mass_g <= _HEAVIEST_G else "",
        )
    elif mass_g > _HEAVIEST_G:
        hint = f'"{mass_g / 1000:g} g"' if holds_g < mass_g / 1000 <= _HEAVIEST_G else ""
        yield Fault(key="mass", found=f"{mass_g / 1000:g} kg", wanted="at most 200 kg", hint=hint)
    else:
        yield from _area_faults(mould)


def _area_faults(mould: Mould) -> Iterator[Fault]:
    """A ball has the least surface of all bodies, a thin plate the most that a mould can have."""
    mass_kg = mould.mass_g / 1000
    least_m2 = (36 * math.pi) ** (1 / 3) * (mass_kg / _DENSEST_KG_M3) ** (2 / 3)
    most_m2 = 2 * mass_kg / (_LIGHTEST_KG_M3 * _THINNEST_M)
    if not least_m2 <= mould.area_m2 <= most_m2:
        yield Fault(
            key="area",
            found=f"{mould.area_m2:g} m2",
            wanted=f"{least_m2:.2g} to {most_m2:.2g} m2, as a mould of {figure(mould.mass_g)} g can have",
            hint=with_other_unit(mould.area_m2, {"cm2": 1e-4, "mm2": 1e-6}, least=least_m2, most=most_m2),
        )


def _shell(weighed: Weighed, rods: Rods, *, doubted: bool) -> Iterator[Fault]:
    """A shell weighs less than its bait by what the rod takes the room of; callipers tell that too."""
    if weighed.shell_g is None:
        return
    hole_g = rods.in_cavity_ml * weighed.density_kg_m3 / 1000 * (1 - weighed.shrink_pct / 100)
    less_g = weighed.bait_g - weighed.shell_g
    cannot_be = less_g > 2 * hole_g + _WEIGHING_G or less_g < hole_g / 2 - _WEIGHING_G
    unlikely = not cannot_be and abs(less_g - hole_g) > max(_WEIGHING_G / 2, hole_g / 4)
    if unlikely if doubted else cannot_be:
        yield Fault(
            key="weighed.shell",
            found=f"{figure(weighed.shell_g)} g beside a bait of {figure(weighed.bait_g)} g, {less_g:.1f} g less",
            wanted=f"about {hole_g:.1f} g less: what the rod takes the room of in one cavity",
            doubt=doubted,
        )
