"""Hold and set times of every sort of shot at whatever temperature the mould happens to have.

A plan asks for hundreds of them that differ by a degree or two. One conduction solution for each sort of section
answers for every mould, as ``bench.physics.cooling`` has it; to find the moments in it still takes a while, so
they are found at nodes only and the rest is read between: a cooling time is very nearly a straight line in
ln((T_shot - T_mould) / (T_open - T_mould)), exactly so once the first term of the series is all that is left, and
a line in the temperature of the shell. Against solutions of its own the reading is within 0.3 %.
"""

from __future__ import annotations

import math

from bench.errors import BenchError
from bench.model.mould import Mould
from bench.physics.cooling import Cooling, Coolings, Section, Substance
from bench.plan.records import Shot
from bench.plan.scope import Scope

_MOULD_STEP = 0.2
"""Between nodes, in the logarithm above: 1.5 to 6 degC for a mould at 58 to 30 degC."""

_SHELL_STEP_C = 2.0


class SetTimes:
    """The coolings of one job's shots; nodes are solved when first needed and kept."""

    def __init__(self, scope: Scope) -> None:
        self._scope = scope
        self._coolings = coolings_of(scope)
        self._nodes: dict[tuple[Shot, int, int], Cooling] = {}
        self._solved: dict[tuple[Shot, float, float | None], Cooling] = {}

    def of(self, shot: Shot, *, mould_c: float, shell_c: float | None = None) -> Cooling:
        """Cooling of that shot in a mould at ``mould_c``; a core needs the temperature of its shell.

        Raises BenchError when the mould is too hot for the shot ever to set.
        """
        self._check_mould(mould_c)
        plastic = self._scope.plastic
        place = math.log((plastic.shot_c - mould_c) / (plastic.open_c - mould_c)) / _MOULD_STEP
        node = math.floor(place)
        if shell_c is None:
            return _between(self._node(shot, node, 0), self._node(shot, node + 1, 0), place - node)
        shell_place = shell_c / _SHELL_STEP_C
        shell_node = math.floor(shell_place)
        cold, hot = (
            _between(self._node(shot, node, each), self._node(shot, node + 1, each), place - node)
            for each in (shell_node, shell_node + 1)
        )
        return _between(cold, hot, shell_place - shell_node)

    def solved(self, shot: Shot, *, mould_c: float, shell_c: float | None = None) -> Cooling:
        """The same by a solution of its own: cheaper than the nodes around it where only one is wanted."""
        self._check_mould(mould_c)
        key = (shot, mould_c, shell_c)
        if key not in self._solved:
            self._solved[key] = solve(self._coolings, self._scope, shot, mould_c=mould_c, shell_c=shell_c or 0.0)
        return self._solved[key]

    def _check_mould(self, mould_c: float) -> None:
        scope = self._scope
        if mould_c >= scope.plastic.open_c:
            raise BenchError(
                f"{scope.mould.title} would come to {scope.temperature(mould_c)}, and "
                f"{scope.plastic.title} leaves the mould at {scope.temperature(scope.plastic.open_c)}, "
                "so a shot would never set: plan fewer warm-up shots, a cooler window or a heavier mould"
            )

    def _node(self, shot: Shot, node: int, shell_node: int) -> Cooling:
        key = (shot, node, shell_node)
        if key not in self._nodes:
            plastic = self._scope.plastic
            ratio = math.exp(node * _MOULD_STEP)
            mould_c = (ratio * plastic.open_c - plastic.shot_c) / (ratio - 1)
            self._nodes[key] = solve(
                self._coolings, self._scope, shot, mould_c=mould_c, shell_c=shell_node * _SHELL_STEP_C
            )
        return self._nodes[key]


def coolings_of(scope: Scope) -> Coolings:
    """The coolings of that scope's mould and plastic."""
    plastic, mould = scope.plastic, scope.mould
    return Coolings(
        section_of(mould),
        Substance(
            k_w_mk=plastic.conductivity_w_mk, rho_kg_m3=plastic.density_kg_m3, c_j_kgk=plastic.heat_capacity_j_kgk
        ),
        open_c=plastic.open_c,
        gel_c=plastic.gel_c,
        wall_conductance_w_m2k=mould.wall_conductance_w_m2k,
    )


def solve(coolings: Coolings, scope: Scope, shot: Shot, *, mould_c: float, shell_c: float) -> Cooling:
    """That shot's cooling; ``shell_c`` matters to a core only."""
    shot_c = scope.plastic.shot_c
    match shot:
        case Shot.WHOLE:
            return coolings.solid(shot_c=shot_c, mould_c=mould_c)
        case Shot.SHELL:
            return coolings.shell(shot_c=shot_c, mould_c=mould_c)
        case Shot.CORE:
            return coolings.core(shot_c=shot_c, shell_c=shell_c, mould_c=mould_c, fills_tail=scope.cuts_tails)


def section_of(mould: Mould) -> Section:
    """The mould's section with its rods, if it has any."""
    section, rods = mould.section, mould.rods
    if rods is None:
        return Section(body_mm=section.body_mm, gate_mm=section.gate_mm, tail_mm=section.tail_mm)
    return Section(
        body_mm=section.body_mm,
        gate_mm=section.gate_mm,
        tail_mm=section.tail_mm,
        rod_mm=rods.diameter_mm,
        rod=Substance(
            k_w_mk=rods.conductivity_w_mk, rho_kg_m3=rods.density_kg_m3, c_j_kgk=rods.heat_capacity_j_kgk
        ),
    )


def _between(near: Cooling, far: Cooling, share: float) -> Cooling:
    def blend(one: float, other: float) -> float:
        return one + share * (other - one)

    body_s = blend(near.body_s, far.body_s)
    tail_s = None if near.tail_s is None or far.tail_s is None else blend(near.tail_s, far.tail_s)
    return Cooling(
        hold_s=blend(near.hold_s, far.hold_s),
        hold_mean_c=blend(near.hold_mean_c, far.hold_mean_c),
        body_s=body_s,
        tail_s=tail_s,
        set_s=max(body_s, tail_s or 0.0),
        mean_c=blend(near.mean_c, far.mean_c),
    )
