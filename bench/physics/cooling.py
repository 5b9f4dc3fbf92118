"""How long a shot stays in its mould: conduction through the body, its rod or ring, its tail and its gate.

The body is taken as a long cylinder, the tail as a flat slab cooled from both faces, the gate as a cylinder. Ends
and runners are left out, so a short body sets sooner than reckoned here. The mould stays at one temperature, which
is right for aluminium (its contact temperature lies within 4 degC of its own) and wrong for silicone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from bench.errors import BenchError
from bench.physics.conduction import Layer, Relaxation, Response, Shape
from bench.physics.substance import ALUMINIUM_6061, SOFT_PLASTISOL, STAINLESS, Substance

__all__ = [
    "ALUMINIUM_6061",
    "SOFT_PLASTISOL",
    "STAINLESS",
    "Cooling",
    "Coolings",
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


class Coolings:
    """The coolings of one section in one plastic, from whatever temperatures and to whatever limits.

    What a body answers to a kelvin does not change with the temperatures, so each part of the section is marched
    once, however many moulds, shots and shells are asked about: a second answer costs a fraction of the first, and
    is as exact.
    """

    def __init__(
        self,
        section: Section,
        plastic: Substance,
        *,
        open_c: float = OPEN_C,
        gel_c: float = GEL_C,
        wall_conductance_w_m2k: float = WALL_CONDUCTANCE_W_M2K,
    ) -> None:
        self._section, self._plastic = section, plastic
        self._open_c, self._gel_c = open_c, gel_c
        self._film_w_m2k = wall_conductance_w_m2k

    def solid(self, *, shot_c: float, mould_c: float) -> Cooling:
        """Of a body shot in one piece (plain and laminate work); a rod in the section is ignored.

        Raises BenchError when the mould is too hot for the plastic ever to fall to where it opens or gels.
        """
        body = self._solid.from_start(shot_c, around_c=mould_c)
        return self._cooling(body, 0, shot_c=shot_c, mould_c=mould_c, fills_tail=True)

    def shell(self, *, shot_c: float, mould_c: float) -> Cooling:
        """Of a shell round its rod, which starts at the mould's temperature and warms up.

        Raises BenchError as ``solid`` does, and when the section has no rod.
        """
        body = self._shell.from_start(shot_c, around_c=mould_c)
        return self._cooling(body, 1, shot_c=shot_c, mould_c=mould_c, fills_tail=True)

    def core(self, *, shot_c: float, shell_c: float, mould_c: float, fills_tail: bool = True) -> Cooling:
        """Of a core in its shell, a ring of the same plastic that lies back in the mould at ``shell_c``.

        The core has the rod's diameter, and it does not fill the tail where the shell's was kept. Set is judged on
        the core alone, the part just shot; the ring round it is cooler. Raises BenchError as ``shell`` does.
        """
        body = self._core.from_start(shot_c, shell_c, around_c=mould_c)
        return self._cooling(body, 0, shot_c=shot_c, mould_c=mould_c, fills_tail=fills_tail)

    @cached_property
    def _solid(self) -> Response:
        return self._alone(self._section.body_mm, Shape.CYLINDER)

    @cached_property
    def _gate(self) -> Response:
        return self._alone(self._section.gate_mm, Shape.CYLINDER)

    @cached_property
    def _tail(self) -> Response | None:
        return None if self._section.tail_mm is None else self._alone(self._section.tail_mm, Shape.SLAB)

    @cached_property
    def _shell(self) -> Response:
        return self._round(self._section.rod, warm=[1])

    @cached_property
    def _core(self) -> Response:
        return self._round(self._plastic, warm=[0, 1])

    def _alone(self, thickness_mm: float, shape: Shape) -> Response:
        layer = Layer(thickness_mm=thickness_mm / 2, substance=self._plastic)
        return Response([layer], shape=shape, film_w_m2k=self._film_w_m2k, warm=[0])

    def _round(self, inside: Substance, *, warm: Sequence[int]) -> Response:
        bore_mm = self._section.bore_mm()
        layers = [
            Layer(thickness_mm=bore_mm / 2, substance=inside),
            Layer(thickness_mm=(self._section.body_mm - bore_mm) / 2, substance=self._plastic),
        ]
        return Response(layers, shape=Shape.CYLINDER, film_w_m2k=self._film_w_m2k, warm=warm)

    def _cooling(self, body: Relaxation, shot: int, *, shot_c: float, mould_c: float, fills_tail: bool) -> Cooling:
        """``shot`` is the number of the layer just shot."""
        self._check_mould(mould_c)
        hold_s = self._gate.from_start(shot_c, around_c=mould_c).seconds_to(self._gel_c, layer=0)
        body_s = body.seconds_to(self._open_c, layer=shot)
        tail_s = None
        if fills_tail and self._tail is not None:
            tail_s = self._tail.from_start(shot_c, around_c=mould_c).seconds_to(self._open_c, layer=0)
        return Cooling(
            hold_s=hold_s,
            hold_mean_c=body.mean_c(hold_s, layer=shot),
            body_s=body_s,
            tail_s=tail_s,
            set_s=max(body_s, tail_s or 0.0),
            mean_c=body.mean_c(body_s, layer=shot),
        )

    def _check_mould(self, mould_c: float) -> None:
        target_c = min(self._open_c, self._gel_c)
        if mould_c >= target_c:
            raise BenchError(
                f"a mould at {mould_c:g} °C never lets the plastic fall to {target_c:g} °C: "
                f"let the mould cool well below {target_c:g} °C first"
            )


def cool_solid(section: Section, plastic: Substance, *, shot_c: float, mould_c: float, **limits: float) -> Cooling:
    """One cooling as ``Coolings.solid`` has it; ``limits`` as ``Coolings`` takes them."""
    return Coolings(section, plastic, **limits).solid(shot_c=shot_c, mould_c=mould_c)


def cool_shell(section: Section, plastic: Substance, *, shot_c: float, mould_c: float, **limits: float) -> Cooling:
    """One cooling as ``Coolings.shell`` has it; ``limits`` as ``Coolings`` takes them."""
    return Coolings(section, plastic, **limits).shell(shot_c=shot_c, mould_c=mould_c)


def cool_core(
    section: Section, plastic: Substance, *, shot_c: float, shell_c: float, mould_c: float, **limits: float
) -> Cooling:
    """One cooling as ``Coolings.core`` has it; ``limits`` as ``Coolings`` takes them. The core fills the tail that
    the section has: leave ``tail_mm`` None where the shell's was kept."""
    return Coolings(section, plastic, **limits).core(shot_c=shot_c, shell_c=shell_c, mould_c=mould_c)
