"""The words for what goes into the first cup of each part, at the steps that leave time to weigh it out."""

from __future__ import annotations

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.plan.records import PartPlan
from bench.session.choices import melt_doses
from bench.session.session import Session
from bench.session.view import View
from bench.tui import present
from bench.tui.text import clean


def first_cups(session: Session, units: UnitSystem) -> tuple[str, ...]:
    """A line a cup: its base and its colours."""
    lines = []
    for plan in session.job.plan.parts:
        melt = plan.melts[0]
        colours = (f"{present.small_mass(dose.mass_g)} {clean(dose.title)}" for dose in melt_doses(session, melt))
        lines.append(f"{plan.part.words} cup: {', '.join((present.mass(melt.base_g, units), *colours))}")
    return tuple(lines)


def brief_cups(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """Their figures alone, for the smallest window, after what a mould is warmed to: a row a cup, three in one
    text. Each cup is told in full where it is weighed."""
    warmed = view.step.band_c if view.step.kind is StepKind.WARM_MOULD else None
    until = (f"until it reads {present.temperatures(*warmed, units)}",) if warmed else ()
    plans = session.job.plan.parts
    if len(plans) < 3:
        return (*until, *(f"{plan.part.words} {_figures(session, plan, units)}" for plan in plans))
    names = ("B" if plan.part is Part.SHELL_B else plan.part.words for plan in plans)
    cups = (f"{name} {_figures(session, plan, units)}" for name, plan in zip(names, plans, strict=True))
    return (*until, "; ".join(cups))


def _figures(session: Session, plan: PartPlan, units: UnitSystem) -> str:
    """ "121.6 + 0.27 + 0.04 g", "4.29 oz + 0.27 + 0.04 g"."""
    melt = plan.melts[0]
    colours = [present.small_mass(dose.mass_g) for dose in melt_doses(session, melt)]
    masses = [present.mass(melt.base_g, units), *colours]
    last = masses[-1]
    sign = last.rpartition(" ")[2]
    return " + ".join((*(mass.removesuffix(f" {sign}") for mass in masses[:-1]), last))


def is_over_band(view: View) -> bool:
    """Whether the cup on the heat is hotter than its band."""
    hottest = max((cup.temp_c or 0.0 for cup in view.cups if cup.part in view.step.parts), default=0.0)
    return view.step.band_c is not None and hottest > view.step.band_c[1]
