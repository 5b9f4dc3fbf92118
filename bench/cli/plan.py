"""``pourbench plan``: what to weigh, how the rounds go and how long it all takes."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from bench.cli.look import as_json as look_json
from bench.cli.look import footnotes, number_lines
from bench.cli.output import columns, duration, emit_json, emit_lines, hung, mass, temperature, volume, wrapped
from bench.cli.pour import add_job_options, moulds, requested
from bench.cli.timeline import as_json as timeline_json
from bench.cli.timeline import as_lines as timeline_lines
from bench.cli.timeline import chart_width, hands_lines, whole_lines
from bench.model.library import Library
from bench.model.recipe import Recipe
from bench.model.settings import UnitSystem
from bench.plan.jobs import PlannedJob, plan_job
from bench.plan.look import cups_g_of, look_at
from bench.plan.look_records import RecipeLook
from bench.plan.look_words import started
from bench.plan.records import DosePlan, Melt, PartPlan, Plan, RoundPlan, Shot

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

ESTIMATE = (
    "Times and temperatures are estimates from starting values until your own readings correct them: "
    "a thermometer and your own eyes decide."
)


def add_plan_parser(
    subparsers: Verbs,
    *,
    library: Callable[[argparse.Namespace], Library],
    last_time: Callable[[Recipe, str], tuple[str, ...]] = lambda _recipe, _mould: (),
) -> None:
    """Adds the verb ``plan``. ``library`` loads the profiles once the arguments are known, ``last_time`` says how
    a recipe in the mould of that title was judged before, a line each."""
    about = "amounts, rounds, times and warnings for a job"
    parser = subparsers.add_parser("plan", help=about, description=about, allow_abbrev=False)
    add_job_options(parser)
    parser.add_argument(
        "--moulds",
        type=moulds,
        metavar="N",
        help="use up to so many identical moulds in turn, 1 to 4, and draw the timeline",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")

    def run(args: argparse.Namespace) -> int:
        shelf = library(args)
        job = _job(args, shelf)
        look = _look(args, job.plan, shelf)
        if args.json:
            timeline = {} if args.moulds is None else {"timeline": timeline_json(job, moulds=args.moulds)}
            emit_json({**as_json(job.plan), "look": look_json(look), **timeline})
        else:
            wide = columns(sys.stdout)
            below = hands_lines(job) if args.moulds is None else timeline_lines(job, width=chart_width(wide))
            lines = [*as_lines(job.plan, look, whole=whole_lines(job), units=shelf.settings.units), *below]
            said = last_time(shelf.recipe(args.recipe), job.plan.mould_title)
            lines += ["", *(row for line in said for row in wrapped(started(line)))] if said else []
            emit_lines([*lines, *(_too_narrow(lines, wide) if sys.stdout.isatty() else ())])
        return 0

    parser.set_defaults(run=run)


def _too_narrow(lines: Iterable[str], wide: int) -> Iterator[str]:
    """What to do where tables or the chart are wider than the terminal, which has so many columns."""
    needed = max(len(row) for line in lines for row in hung(line, wide))
    if needed > wide:
        yield ""
        what = f"The tables need {needed} columns, and this window has {wide}"
        yield from wrapped(f"{what}: make it wider, or its font smaller, to read them.")


def _job(args: argparse.Namespace, library: Library) -> PlannedJob:
    request = requested(args)
    ask = request.ask if args.json else replace(request.ask, units=library.settings.units)
    recipe = library.recipe(request.recipe)
    return plan_job(
        recipe=recipe,
        mould=library.mould(request.mould),
        plastic=library.plastic(recipe.plastic),
        station=library.station(request.station),
        colourants=library.colourants,
        ask=ask if args.moulds is None else replace(ask, moulds=args.moulds),
    )


def _look(args: argparse.Namespace, plan: Plan, library: Library) -> RecipeLook:
    recipe = library.recipe(args.recipe)
    return look_at(
        recipe=recipe,
        mould=library.mould(args.mould),
        plastic=library.plastic(recipe.plastic),
        colourants=library.colourants,
        tail=plan.tail,
        cups_g=cups_g_of(plan),
    )


def as_json(plan: Plan) -> dict[str, object]:
    """The plan for programs: plain numbers, their unit in the key."""
    return {
        "recipe": plan.recipe,
        "mould": plan.mould,
        "plastic": plan.plastic,
        "station": plan.station,
        "build": plan.build.value,
        "tail": plan.tail.value if plan.build.has_core else None,
        "count": plan.count,
        "spares_pct": plan.spares_pct,
        "spares": plan.spares,
        "spare_rounds": plan.spare_rounds,
        "made": plan.made,
        "cavities": plan.cavities,
        "moulds": plan.moulds,
        "rounds": plan.rounds,
        "warm_up_shots": plan.warm_up_shots,
        "parts": [_part_json(part) for part in plan.parts],
        "melts_table": [_melt_json(melt) for part in plan.parts for melt in part.melts],
        "rounds_table": [_round_json(each) for each in plan.rounds_table],
        "warming": plan.warming.value,
        "warm_mould_s": plan.warm_mould_s,
        "warm_up_set_s": plan.warm_up_set_s,
        "purge_s": plan.purge_s,
        "cure_s": plan.cure_s,
        "total_s": plan.total_s,
        "warnings": list(plan.warnings),
        "estimate": ESTIMATE,
    }


def _part_json(part: PartPlan) -> dict[str, object]:
    return {
        "part": part.part.value,
        "per_round_ml": part.per_round_ml,
        "total_ml": part.total_ml,
        "total_g": part.total_g,
        "taken_ml": {
            "rounds": part.taken.rounds_ml,
            "top_off": part.taken.top_off_ml,
            "warm_up_shots": part.taken.warm_up_ml,
            "margin": part.taken.margin_ml,
            "left_in_cup_and_injector": part.taken.left_ml,
        },
        "melts": len(part.melts),
        "trimmed_g": part.trimmed_g,
        "doses": _doses_json(part.doses),
    }


def _melt_json(melt: Melt) -> dict[str, object]:
    return {
        "part": melt.part.value,
        "melt": melt.number,
        "g": melt.mass_g,
        "ml": melt.volume_ml,
        "base_g": melt.base_g,
        "first_round": melt.first_round,
        "last_round": melt.last_round,
        "heat_s": melt.heat_s,
        "reheat_s": melt.reheat_s,
        "doses": _doses_json(melt.doses),
    }


def _doses_json(doses: Sequence[DosePlan]) -> list[dict[str, object]]:
    return [
        {"colourant": dose.colourant, "load_pct": dose.load_pct, "g": dose.mass_g, "drops": dose.drops}
        for dose in doses
    ]


def _round_json(plan: RoundPlan) -> dict[str, object]:
    shots: dict[str, object] = {}
    for shot in plan.shots:
        shots[f"{shot.shot}_mould_c"] = shot.mould_c
        shots[f"{shot.shot}_hold_s"] = shot.hold_s
        shots[f"{shot.shot}_set_s"] = shot.set_s
        shots[f"{shot.shot}_top_off_ml"] = shot.top_off_ml
    return {"round": plan.round, "mould_c": plan.mould_c, "rest_s": plan.rest_s, **shots}


def as_lines(
    plan: Plan,
    look: RecipeLook | None = None,
    whole: Iterable[str] = (),
    *,
    units: UnitSystem = UnitSystem.METRIC,
) -> Iterator[str]:
    """The plan for people, 80 columns wide: what to weigh comes first. ``look`` adds what it will look like,
    ``whole`` what the time of the job is made of."""
    yield from wrapped(f"{plan.recipe_title} in {plan.mould_title}")
    tail = f", tail {plan.tail}" if plan.build.has_core else ""
    warm_up = _counted(plan.warm_up_shots, "warm-up shot") if plan.warm_up_shots else "no warm-up shots"
    if plan.warm_up_shots and plan.moulds > 1:
        warm_up = f"{warm_up} into each of {plan.moulds} moulds"
    yield from wrapped(
        f"{_counted(plan.count, 'bait')}, {plan.build}{tail}: {_counted(plan.rounds, 'round')} of "
        f"{plan.cavities}, {warm_up}."
    )
    yield from wrapped(_spares(plan))
    yield from ("", "Weigh")
    for part in plan.parts:
        for melt in part.melts:
            yield from _melt_lines(melt, len(part.melts), units)
    yield from ("", "Amounts")
    yield from _amount_lines(plan, units)
    yield from ("", "What they are made up of, hot")
    yield from _taken_lines(plan, units)
    yield from ("", "Rounds, in minutes and seconds; hold and set count from the end of each push")
    yield from _round_lines(plan, units)
    yield from wrapped(_first_good(plan, units), bullet="  ")
    yield from wrapped(_why_rest(plan), bullet="  ")
    yield ""
    moulds = "" if plan.moulds == 1 else f" with {plan.moulds} moulds in turn"
    yield f"Everything{moulds}: about {duration(plan.total_s)}. Then cure {plan.cure_s / 3600:.0f} h."
    yield from whole
    if look is not None:
        yield from ("", "Look, predicted from swatches")
        yield from _look_lines(look)
        if look.worst.window is not None and any(len(part.melts) > 1 for part in plan.parts):
            yield "  Grams and drops of the window are those of a part's first melt."
    if plan.warnings:
        yield from ("", "Look out")
        for warning in plan.warnings:
            yield from wrapped(warning, bullet="  - ")
    yield ""
    yield from wrapped(ESTIMATE)


def _spares(plan: Plan) -> str:
    """What is made beyond the count and why, and the way out where spares alone open a round."""
    pct = f"{plan.spares_pct:g} %"
    spare = f" and {plan.spares} spare ({pct})" if plan.spares else ""
    wanted = f"{plan.count} wanted{spare}, {plan.made} made in full rounds."
    if plan.spares_pct and plan.made == plan.count:
        return f"{wanted} The {pct} spare is less than one bait and opens no round."
    if not plan.spare_rounds:
        return wanted
    needed = f"{plan.count} need {_counted(plan.rounds - plan.spare_rounds, 'round')}"
    spares = "the spare one adds" if plan.spares == 1 else f"the {plan.spares} spare ones add"
    return f"{wanted} {needed}; {spares} {plan.spare_rounds} more: --spares 0 leaves that out."


def _look_lines(look: RecipeLook) -> Iterator[str]:
    for side in look.sides:
        if len(look.sides) > 1:
            yield f"  {side.side.words}"
        yield from number_lines(side)
    for advice in look.advices:
        yield from wrapped(started(advice), bullet="  ")
    yield from footnotes(look)


def _melt_lines(melt: Melt, melts: int, units: UnitSystem) -> Iterator[str]:
    rounds = _span(melt.first_round, melt.last_round)
    number = f", melt {melt.number} of {melts}" if melts > 1 else ""
    hot = volume(melt.volume_ml, units, digits=0)
    yield f"  {melt.part.words}{number}, for {rounds}: {mass(melt.mass_g, units)}, {hot} when hot"
    later = f", then {duration(melt.reheat_s)} a round" if melt.last_round > melt.first_round else ""
    yield f"{mass(melt.base_g, units):>14}  plastic, heated in about {duration(melt.heat_s)}{later}"
    for dose in melt.doses:
        drops = "" if dose.drops is None else f", about {_counted(round(dose.drops), 'drop')}"
        yield f"{dose.mass_g:12.2f} g  {dose.title}{drops}"


def _amount_lines(plan: Plan, units: UnitSystem) -> Iterator[str]:
    yield f"  {'part':<10}{'a round':>12}{'in all, hot':>14}{'in all':>12}{'trimmed off':>14}"
    for part in plan.parts:
        trimmed = mass(part.trimmed_g, units) if part.trimmed_g else "-"
        yield (
            f"  {part.part.words:<10}{volume(part.per_round_ml, units):>12}"
            f"{volume(part.total_ml, units, digits=0):>14}{mass(part.total_g, units):>12}{trimmed:>14}"
        )


def _taken_lines(plan: Plan, units: UnitSystem) -> Iterator[str]:
    """The amounts as sums: rounds, warm-up shots, what is spared and what stays behind."""
    yield f"  {'':<34}{''.join(f'{part.part.words:>12}' for part in plan.parts)}"
    taken = [part.taken for part in plan.parts]
    sums = (
        (f"{_counted(plan.rounds, 'round')}, cavities and runner", [each.rounds_ml for each in taken]),
        ("top-off while gates gel", [each.top_off_ml for each in taken]),
        (_warm_ups(plan), [each.warm_up_ml for each in taken]),
        ("margin of the recipe", [each.margin_ml for each in taken]),
        ("left in cup and injector", [each.left_ml for each in taken]),
        ("in all", [part.total_ml for part in plan.parts]),
    )
    for words, amounts_ml in sums:
        yield f"  {words:<34}{''.join(f'{volume(ml, units):>12}' for ml in amounts_ml)}"


def _warm_ups(plan: Plan) -> str:
    shots = _counted(plan.moulds * plan.warm_up_shots, "warm-up shot")
    return shots if plan.moulds == 1 else f"{shots}, {plan.warm_up_shots} a mould"


def _round_lines(plan: Plan, units: UnitSystem) -> Iterator[str]:
    shots = [shot.shot for shot in plan.rounds_table[0].shots]
    heads = "".join(f"{_head(shot) + 'hold':>13}{'set':>8}" for shot in shots)
    yield f"  {'round':<9}{'mould':>16}{'rest':>9}{heads}"
    for row, plans in groupby(plan.rounds_table, key=lambda each: _round_row(each, units)):
        same = list(plans)
        numbers = str(same[0].round) if len(same) == 1 else f"{same[0].round}-{same[-1].round}"
        yield f"  {numbers:<9}{row}"


def _first_good(plan: Plan, units: UnitSystem) -> str:
    """From which round on baits are kept, and which mould takes which."""
    first_c = plan.rounds_table[0].shots[0].mould_c
    kept = f"Round 1 is the first to keep, its mould at {temperature(first_c, units)}."
    before = f" Before it: {_warm_ups(plan)}, scrap." if plan.warm_up_shots else ""
    turns = "" if plan.moulds == 1 else f" Moulds take turns: round {plan.moulds + 1} is mould 1's again."
    return f"{kept}{before}{turns}"


def _why_rest(plan: Plan) -> str:
    """What a mould rests for; nothing where none does."""
    if not any(each.rest_s >= LEAST_REST_S for each in plan.rounds_table):
        return ""
    if plan.build.has_core:
        return (
            "A mould rests to begin cool: the shell's shot warms it, and for the core's it must not be over the "
            "top of its window."
        )
    return "A mould rests until it is no warmer than the top of its window."


LEAST_REST_S = 1.0
"""A shorter rest is not shown."""


def _head(shot: Shot) -> str:
    return "" if shot is Shot.WHOLE else f"{shot} "


def _round_row(plan: RoundPlan, units: UnitSystem) -> str:
    """A row without its number, so that rounds which read the same are shown once."""
    rest = _clock(plan.rest_s) if plan.rest_s >= LEAST_REST_S else "-"
    times = "".join(f"{_clock(shot.hold_s):>13}{_clock(shot.set_s):>8}" for shot in plan.shots)
    return f"{temperature(plan.mould_c, units):>16}{rest:>9}{times}"


def _clock(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02}"


def _span(first: int, last: int) -> str:
    return f"round {first}" if first == last else f"rounds {first} to {last}"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
