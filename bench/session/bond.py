"""Whether a core shot now would weld to its shell.

Heat is one of two causes of peeling; oil left in the bore is the other, and no figure here sees it.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.step_kind import StepKind
from bench.physics.bonding import joint_c, shell_in_air_c
from bench.physics.substance import Substance
from bench.plan.records import Shot
from bench.session.bodies import substance
from bench.session.fill import plastic_c
from bench.session.session import Session
from bench.session.shells import Shells, shells
from bench.session.stamp import Stamp, span
from bench.session.step import Step
from bench.session.warmth import mould_now

BOND_KINDS = frozenset({StepKind.SHELLS_BACK, StepKind.HEAT, StepKind.SHOT})
"""From the shells going back to their core shot."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BondView:
    """The temperature at which core meets shell if it were shot now, whether that is ``enough`` to bond, and the
    shell's own mean."""

    contact_c: float
    enough: bool
    shell_c: float


def bond_view(session: Session, now: Stamp) -> BondView | None:
    """The bond of the present round's core; None at a step that is not about it."""
    step = session.step
    waiting = next((each for each in shells(session) if each.round == step.round), None)
    core = _core_shot(session)
    if session.state.over or step.kind not in BOND_KINDS or waiting is None or core is None:
        return None
    plastic = substance(session.job)
    shell_c = _shell_c(session, plastic, waiting, now)
    contact_c = joint_c(plastic, core_c=plastic_c(session, core, now), shell_c=shell_c)
    return BondView(contact_c=contact_c, enough=contact_c >= session.job.plastic.bond_c, shell_c=shell_c)


def _core_shot(session: Session) -> Step | None:
    """The present round's core shot, while it is still to come."""
    return next(
        (
            step
            for step in session.ahead
            if step.kind is StepKind.SHOT and step.shot is Shot.CORE and step.round == session.step.round
        ),
        None,
    )


def _shell_c(session: Session, plastic: Substance, waiting: Shells, now: Stamp) -> float:
    """Cooled in the air of the room until it went back, then by the mould it lies in."""
    job = session.job
    rods = job.mould.rods
    assert rods is not None, "core work without rods is never planned"
    section = {"body_mm": job.mould.section.body_mm, "bore_mm": rods.diameter_mm}
    in_air_c = shell_in_air_c(
        plastic,
        **section,
        start_c=job.plan.rounds_table[waiting.round - 1].shot(Shot.SHELL).mean_open_c,
        seconds=span(waiting.opened, waiting.back or now).seconds,
        room_c=job.station.room.temperature_c,
    )
    mould = mould_now(session, now, waiting.mould)
    if waiting.back is None or mould is None:
        return in_air_c
    return shell_in_air_c(
        plastic,
        **section,
        start_c=in_air_c,
        seconds=span(waiting.back, now).seconds,
        room_c=mould.temp_c,
        film_w_m2k=job.mould.wall_conductance_w_m2k,
    )
