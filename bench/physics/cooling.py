"""How long a shot stays in its mould: conduction through the body, its rod or ring, its tail and its gate.

The body is taken as a long cylinder, the tail as a flat slab cooled from both faces, the gate as a cylinder. Ends
and runners are left out, so a short body sets sooner than reckoned here. The mould stays at one temperature, which
is right for aluminium (its contact temperature lies within 4 degC of its own) and wrong for silicone.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.errors import BenchError
from bench.physics.conduction import Layer, Shape, Transient
from bench.physics.substance import ALUMINIUM_6061, SOFT_PLASTISOL, STAINLESS, Substance

__all__ = [
    "ALUMINIUM_6061",
    "SOFT_PLASTISOL",
    "STAINLESS",
    "Cooling",
    "Section",
    "Substance",
    "cool_core",
    "cool_shell",
    "cool_solid",
]

OPEN_C = 60.0
"""Starting value: firm enough to open the mould. To be corrected at the bench."""

GEL_C = 75.0
"""Gel point of plastisols, where tack is lost: Nakajima et al., on the gelation of PVC plastisols."""

WALL_CONDUCTANCE_W_M2K = 1000.0
"""Starting value for plastic pressed against bare metal. To be corrected at the bench."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """The thickest cross-section of a cavity, as diameters; the tail's thickness counts from face to face.

    ``tail_mm`` is None when nothing but the body is shot. Raises BenchError for a rod as thick as the body.
    """

    body_mm: float
    rod_mm: float | None = None
    rod: Substance = STAINLESS
    tail_mm: float | None = None
    gate_mm: float

    def __post_init__(self) -> None:
        if self.rod_mm is not None and self.rod_mm >= self.body_mm:
            raise BenchError(f"a rod of {self.rod_mm:g} mm leaves no wall in a body of {self.body_mm:g} mm")

    def bore_mm(self) -> float:
        """Diameter of the rod. Raises BenchError when the section has none."""
        if self.rod_mm is None:
            raise BenchError("shell and core need the diameter of the rod, and this section has none")
        return self.rod_mm


@dataclass(frozen=True, kw_only=True, slots=True)
class Cooling:
    """Times from the end of the shot, and mean temperatures of the part of the body just shot.

    ``hold_s``: the axis of the gate has fallen to the gel point, and nothing more can be fed; ``hold_mean_c`` is
    the mean at that moment. ``body_s`` and ``tail_s``: their hottest point has fallen to where the mould may be
    opened; ``tail_s`` is None without a tail. ``set_s`` is the longer of the two and ``mean_c`` the mean at
    ``body_s``.
    """

    hold_s: float
    hold_mean_c: float
    body_s: float
    tail_s: float | None
    set_s: float
    mean_c: float


def cool_solid(
    section: Section,
    plastic: Substance,
    *,
    shot_c: float,
    mould_c: float,
    open_c: float = OPEN_C,
    gel_c: float = GEL_C,
    wall_conductance_w_m2k: float = WALL_CONDUCTANCE_W_M2K,
) -> Cooling:
    """Cooling of a body shot in one piece (plain and laminate work); a rod in the section is ignored.

    Raises BenchError when the mould is too hot for the plastic ever to fall to ``open_c`` or ``gel_c``.
    """
    layers = [Layer(thickness_mm=section.body_mm / 2, substance=plastic, start_c=shot_c)]
    wall = _Wall(mould_c=mould_c, film_w_m2k=wall_conductance_w_m2k)
    return _cooling(section, layers, 0, wall, open_c=open_c, gel_c=gel_c)


def cool_shell(
    section: Section,
    plastic: Substance,
    *,
    shot_c: float,
    mould_c: float,
    open_c: float = OPEN_C,
    gel_c: float = GEL_C,
    wall_conductance_w_m2k: float = WALL_CONDUCTANCE_W_M2K,
) -> Cooling:
    """Cooling of a shell round its rod, which starts at the mould's temperature and warms up.

    Raises BenchError as ``cool_solid`` does, and when the section has no rod.
    """
    bore_mm = section.bore_mm()
    layers = [
        Layer(thickness_mm=bore_mm / 2, substance=section.rod, start_c=mould_c),
        Layer(thickness_mm=(section.body_mm - bore_mm) / 2, substance=plastic, start_c=shot_c),
    ]
    wall = _Wall(mould_c=mould_c, film_w_m2k=wall_conductance_w_m2k)
    return _cooling(section, layers, 1, wall, open_c=open_c, gel_c=gel_c)


def cool_core(
    section: Section,
    plastic: Substance,
    *,
    shot_c: float,
    shell_c: float,
    mould_c: float,
    open_c: float = OPEN_C,
    gel_c: float = GEL_C,
    wall_conductance_w_m2k: float = WALL_CONDUCTANCE_W_M2K,
) -> Cooling:
    """Cooling of a core in its shell, a ring of the same plastic that lies back in the mould at ``shell_c``.

    The core has the rod's diameter and a tail only when the section says so: leave ``tail_mm`` None where the
    shell's tail was kept. Set is judged on the core alone, the part just shot; the ring round it is cooler.
    Raises BenchError as ``cool_shell`` does.
    """
    bore_mm = section.bore_mm()
    layers = [
        Layer(thickness_mm=bore_mm / 2, substance=plastic, start_c=shot_c),
        Layer(thickness_mm=(section.body_mm - bore_mm) / 2, substance=plastic, start_c=shell_c),
    ]
    wall = _Wall(mould_c=mould_c, film_w_m2k=wall_conductance_w_m2k)
    return _cooling(section, layers, 0, wall, open_c=open_c, gel_c=gel_c)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Wall:
    mould_c: float
    film_w_m2k: float

    def must_be_below(self, target_c: float) -> None:
        if self.mould_c >= target_c:
            raise BenchError(
                f"a mould at {self.mould_c:g} °C never lets the plastic fall to {target_c:g} °C: "
                f"let the mould cool well below {target_c:g} °C first"
            )

    def around(self, layers: list[Layer], shape: Shape) -> Transient:
        return Transient(layers, shape=shape, around_c=self.mould_c, film_w_m2k=self.film_w_m2k)


def _cooling(
    section: Section, layers: list[Layer], shot: int, wall: _Wall, *, open_c: float, gel_c: float
) -> Cooling:
    """``shot`` is the number of the layer just shot."""
    wall.must_be_below(min(open_c, gel_c))
    fresh = layers[shot]

    def alone(thickness_mm: float, shape: Shape) -> Transient:
        layer = Layer(thickness_mm=thickness_mm / 2, substance=fresh.substance, start_c=fresh.start_c)
        return wall.around([layer], shape)

    body = wall.around(layers, Shape.CYLINDER)
    hold_s = alone(section.gate_mm, Shape.CYLINDER).seconds_to(gel_c, layer=0)
    body_s = body.seconds_to(open_c, layer=shot)
    tail_s = None if section.tail_mm is None else alone(section.tail_mm, Shape.SLAB).seconds_to(open_c, layer=0)
    return Cooling(
        hold_s=hold_s,
        hold_mean_c=body.mean_c(hold_s, layer=shot),
        body_s=body_s,
        tail_s=tail_s,
        set_s=max(body_s, tail_s or 0.0),
        mean_c=body.mean_c(body_s, layer=shot),
    )
