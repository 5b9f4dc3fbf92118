"""From the shelf to a session that is ready to start."""

from __future__ import annotations

from dataclasses import replace

from bench.errors import reckonable
from bench.model.library import Library
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.model.recipe import Part, PartRecipe, Recipe
from bench.model.station import Station
from bench.plan.jobs import PlannedJob, plan_job
from bench.plan.look import cups_g_of, look_at
from bench.plan.look_words import look_warnings
from bench.plan.records import Ask, Plan
from bench.session.astray import astray_in
from bench.session.job import Job, PredictedView
from bench.session.script import script_length_s, write_script
from bench.session.session import Session
from bench.session.step import Step


def prepare(library: Library, *, recipe: str, mould: str, ask: Ask, station: str | None = None) -> Session:
    """The session that pours that recipe into that mould, idle. Raises BenchError for an unknown name or a job
    that cannot be done. Its plan's sentences are in the units of the settings."""
    with reckonable():
        return _prepared(library, recipe=recipe, mould=mould, ask=ask, station=station)


def _prepared(library: Library, *, recipe: str, mould: str, ask: Ask, station: str | None) -> Session:
    chosen, the_mould, the_station = library.recipe(recipe), library.mould(mould), library.station(station)
    plastic = library.plastic(chosen.plastic)
    planned = plan_job(
        recipe=chosen,
        mould=the_mould,
        plastic=plastic,
        station=the_station,
        colourants=library.colourants,
        ask=replace(ask, units=library.settings.units),
    )
    look = look_at(
        recipe=chosen,
        mould=the_mould,
        plastic=plastic,
        colourants=library.colourants,
        tail=planned.plan.tail,
        cups_g=cups_g_of(planned.plan),
    )
    plan, script = followed(planned, mould=the_mould, plastic=plastic, station=the_station)
    cores = _cores(library, chosen)
    used = {dose.colourant for part in (*chosen.parts.values(), *cores.values()) for dose in part.doses}
    return Session(
        job=Job(
            recipe=chosen,
            mould=the_mould,
            plastic=plastic,
            station=the_station,
            plan=plan,
            script=script,
            cautions=library.cautions,
            colourants={name: library.colourants[name] for name in sorted(used)},
            cores=cores,
            core_titles={name: library.recipes[name].title for name in cores},
            looks=tuple(PredictedView(view=view.name, side=view.side, hex=view.hex) for view in look.views),
            advice=look.advice,
            look_warnings=tuple(look_warnings(look)),
            astray=tuple(astray_in(look)),
        )
    )


def followed(
    planned: PlannedJob, *, mould: Mould, plastic: Plastic, station: Station
) -> tuple[Plan, tuple[Step, ...]]:
    """The plan and its script; the plan's total is what the script takes from end to end."""
    script = write_script(
        plan=planned.plan, timeline=planned.timeline, mould=mould, plastic=plastic, station=station
    )
    return replace(planned.plan, total_s=script_length_s(script)), script


def _cores(library: Library, chosen: Recipe) -> dict[str, PartRecipe]:
    """The core colours that may go into these shells: those of every recipe on the same plastic."""
    if not chosen.build.has_core:
        return {}
    return {
        name: recipe.parts[Part.CORE]
        for name, recipe in sorted(library.recipes.items())
        if Part.CORE in recipe.parts and recipe.plastic == chosen.plastic
    }
