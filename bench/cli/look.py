"""``pourbench look``: how a recipe will look in a mould, and whether its load lets the core show."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.chips import Chip, chip_here
from bench.cli.output import emit_json, emit_lines, length, wrapped
from bench.cli.pour import count
from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST
from bench.errors import BenchError, quoted
from bench.model.library import Library
from bench.model.recipe import PARTS, Part, Tail
from bench.model.settings import UnitSystem
from bench.plan.look import NO_CUPS, look_at
from bench.plan.look_records import LoadAt, LoadWindow, RecipeLook, SideLook, View
from bench.plan.look_words import NEAREST_ON_SCREEN, TOO_DARK, drops_words, grams_words, load_words, shown, started

if TYPE_CHECKING:
    Verbs = argparse._SubParsersAction[argparse.ArgumentParser]

PREDICTION = (
    "A prediction from swatches, as good as they are: judge a finished, cooled piece at bait thickness. "
    f"Differences are CIEDE2000; about 1 is just seen side by side, {VISIBLE_AT_LEAST:g} is plain at arm's length."
)
NO_CORE = "a bait without a core has no load window"


def add_look_parser(subparsers: Verbs, *, library: Callable[[argparse.Namespace], Library]) -> None:
    """Adds the verb ``look``. ``library`` loads the profiles once the arguments are known."""
    about = "the colours of a recipe in a mould, and the loads at which its core shows"
    parser = subparsers.add_parser("look", help=about, description=about, allow_abbrev=False)
    parser.add_argument("recipe", metavar="RECIPE", help="name of a recipe, such as ember-under-peat")
    parser.add_argument("--mould", required=True, metavar="M", help="name of a mould, such as ribbon-leech-4")
    parser.add_argument(
        "--tail", choices=[tail.value for tail in Tail], help="core work: keep the shell's tail or cut it"
    )
    parser.add_argument(
        "--count", type=count, metavar="N", help="how many baits: tells the window in grams and drops"
    )
    parser.add_argument(
        "--moving", metavar="C", help="the colourant whose load window to tell; the greatest load else"
    )
    parser.add_argument("--station", metavar="S", help="name of a station, where not the one of your settings")
    parser.add_argument("--json", action="store_true", help="print one JSON object, for programs")

    def run(args: argparse.Namespace) -> int:
        shelf = library(args)
        look = _look(args, shelf)
        if args.json:
            emit_json({**as_json(look), "estimate": PREDICTION})
        else:
            emit_lines(as_lines(look, chip_here(), shelf.settings.units))
        return 0

    parser.set_defaults(run=run)


def _look(args: argparse.Namespace, library: Library) -> RecipeLook:
    recipe, mould = library.recipe(args.recipe), library.mould(args.mould)
    shells = [part for part in PARTS[recipe.build] if part is not Part.CORE]
    held = {dose.colourant for part in shells for dose in recipe.parts[part].doses}
    if args.moving is not None and args.moving not in held:
        there = ", ".join(sorted(held)) or "none"
        where = f"outside the core of {recipe.title}; there are {there}"
        raise BenchError(f"--moving: {quoted(args.moving)} is not {where}")
    tail = Tail(args.tail) if args.tail else None
    return look_at(
        recipe=recipe,
        mould=mould,
        plastic=library.plastic(recipe.plastic),
        colourants=library.colourants,
        tail=tail,
        cups_g=NO_CUPS if args.count is None else _cups_g(args, library, tail),
        moving=args.moving or "",
    )


def _cups_g(args: argparse.Namespace, library: Library, tail: Tail | None) -> Mapping[Part, float]:
    """What each cup of the job holds, g. Planning is loaded here: most looks go without."""
    from bench.plan.look import cups_g_of
    from bench.plan.make import make_plan
    from bench.plan.records import Ask

    recipe = library.recipe(args.recipe)
    plan = make_plan(
        recipe=recipe,
        mould=library.mould(args.mould),
        plastic=library.plastic(recipe.plastic),
        station=library.station(args.station),
        colourants=library.colourants,
        ask=Ask(count=args.count, tail=tail),
    )
    return cups_g_of(plan)


def as_json(look: RecipeLook) -> dict[str, object]:
    """The look for programs. What holds for the bait as a whole is that of its worst side, ``worst_side``."""
    worst = look.worst
    return {
        "recipe": look.recipe,
        "mould": look.mould,
        "build": look.build.value,
        "tail": None if look.tail is None else look.tail.value,
        "body_mm": look.section.body_mm,
        "rod_mm": look.section.core_mm or None,
        "wall_mm": look.section.wall_mm if look.section.core_mm else None,
        "tail_mm": look.section.tail_mm or None,
        "views": [_view_json(view) for view in look.views],
        **_numbers_json(worst),
        "worst_side": worst.side.value,
        "sides": [_side_json(side) for side in look.sides],
        "unknown": list(look.unknown),
        "notes": list(look.notes),
        "swatches": [
            {"colourant": fit.colourant, "films": fit.films, "agreement": fit.agreement} for fit in look.fits
        ],
        "advice": look.advice,
    }


def _side_json(side: SideLook) -> dict[str, object]:
    return {
        "side": side.side.value,
        "views": [_view_json(view) for view in side.views],
        **_numbers_json(side),
        "unknown": list(side.unknown),
        "advice": side.advice,
    }


def _numbers_json(side: SideLook) -> dict[str, object]:
    return {
        "core_visibility": side.core_visibility,
        "core_too_dark_to_tell": side.is_too_dark,
        "shell_tint": side.shell_tint,
        "third_colour": side.third_colour,
        "contrast_ratio": side.contrast_ratio,
        "window": window_json(side),
    }


def _view_json(view: View) -> dict[str, object]:
    return {
        "view": view.name.value,
        "side": view.side.value,
        "hex": view.hex,
        "lab": list(view.lab),
        "clipped": view.clipped,
    }


def window_json(side: SideLook) -> dict[str, object]:
    """The load window for programs: every key always there, null where it does not apply."""
    window = side.window
    if window is None:
        none = dict.fromkeys(("place", "colourant", *_loads_json("low", None), *_loads_json("high", None)))
        why = side.unknown[0] if side.unknown else NO_CORE
        bounds = {"low_bounded": False, "high_bounded": False, "high_too_dark": False, "near": None}
        now = _loads_json("now", None)
        return {**none, **now, **bounds, "why_empty": why, "openers": [], "opening_wall_mm": None}
    return {
        "place": window.place.value,
        "colourant": window.colourant or None,
        **_loads_json("low", window.low),
        **_loads_json("high", window.high),
        **_loads_json("now", window.now),
        "low_bounded": window.bounded_low,
        "high_bounded": window.bounded_high,
        "high_too_dark": window.high_too_dark,
        "near": None if window.near is None else window.near.value,
        "why_empty": window.why_empty,
        "openers": [opener.value for opener in window.openers],
        "opening_wall_mm": window.opening_wall_mm,
    }


def _loads_json(name: str, load: LoadAt | None) -> dict[str, object]:
    return {
        f"{name}_pct": None if load is None else load.load_pct,
        f"{name}_g": None if load is None else load.mass_g,
        f"{name}_drops": None if load is None else load.drops,
    }


def as_lines(look: RecipeLook, chip: Chip, units: UnitSystem = UnitSystem.METRIC) -> Iterator[str]:
    """The look for people, 80 columns wide. Colour is in grams, as the fine scale shows it."""
    tail = f", tail {look.tail}" if look.tail is not None else ""
    yield from wrapped(f"{look.recipe_title} in {look.mould_title}: {look.build}{tail}")
    yield from wrapped(_section_line(look, units))
    for view in look.views:
        if view is next(each for each in look.views if each.side is view.side):
            yield from ("", started(view.side.words))
        yield f"  {view.name:<22}{chip(view.hex)}{view.hex}  {_lab_words(view)}"
    if any(view.clipped for view in look.views):
        yield from ("", *wrapped(NEAREST_ON_SCREEN.format("* This hex")))
    for side in look.sides:
        yield from ("", "What it does" if len(look.sides) == 1 else f"What {side.side.words} does")
        yield from number_lines(side, with_colour=False)
    yield ""
    for advice in look.advices:
        yield from wrapped(started(advice))
    yield from footnotes(look)
    yield ""
    yield from wrapped(PREDICTION)


def _section_line(look: RecipeLook, units: UnitSystem) -> str:
    section, size = look.section, partial(length, units=units)
    rod = f", rod {size(section.core_mm)}, wall {size(section.wall_mm)}" if section.core_mm else ""
    tail = f", tail {size(section.tail_mm)}" if section.tail_mm else ""
    return f"Body {size(section.body_mm)}{rod}{tail}."


def _lab_words(view: View, mark: str = "  (nearest)*") -> str:
    clipped = mark if view.clipped else ""
    return f"L* {view.lab.lightness:.0f}  a* {view.lab.a:.0f}  b* {view.lab.b:.0f}{clipped}"


def number_lines(side: SideLook, *, with_colour: bool = True) -> Iterator[str]:
    """The numbers of one side, a line each, after the colour that one will see of it."""
    if with_colour and side.seen is not None:
        yield f"  colour             {side.seen.hex}  {_lab_words(side.seen, '')}, {side.seen.name}"
        if side.seen.clipped:
            yield from wrapped(NEAREST_ON_SCREEN.format("that hex"), bullet=" " * 21)
    if side.core_visibility is not None and side.shell_tint is not None and side.third_colour is not None:
        shows, tints = shown(side.core_visibility, VISIBLE_AT_LEAST), shown(side.shell_tint, TINT_AT_LEAST)
        says = TOO_DARK if side.is_too_dark else f"{VISIBLE_AT_LEAST:g} or more shows"
        yield f"  core shows by   {shows:>5}   ({says})"
        yield f"  shell tints by  {tints:>5}   ({TINT_AT_LEAST:g} or more tints)"
        yield f"  third colour    {side.third_colour:5.1f}   (unlike both: the shell's and the core's own)"
    if side.contrast_ratio is not None:
        yield f"  hides           {100 * side.contrast_ratio:5.0f} %  (contrast ratio over black and white)"
    if side.window is not None:
        yield from _window_lines(side.window)
    if side.unknown:
        yield "  its look is unknown: no colour, no load window"


def _window_lines(window: LoadWindow) -> Iterator[str]:
    now = f"now {_now_words(window.now)}"
    if window.low is None or window.high is None:
        yield from wrapped(f"none: {window.why_empty}", bullet="  load window      ")
        yield f"                   {window.title} {now}" if window.title else "                   no colour"
        return
    yield f"  load window      {window.title}, {now}"
    if window.others:
        yield "                   (the shell's other colours as they are)"
    tints = "the other colours tint without it" if window.others else "it tints at any load"
    low = _end_words(window.low, tints, bounded=window.bounded_low)
    high = _end_words(window.high, "the core shows at any load", bounded=window.bounded_high)
    high += f", {TOO_DARK}" if window.high_too_dark else ""
    yield f"                   low end  {low}"
    yield from wrapped(high, bullet="                   high end ")


def _end_words(load: LoadAt, holds: str, *, bounded: bool) -> str:
    return _load_words(load) if bounded else f"none: {holds}"


def _load_words(load: LoadAt) -> str:
    grams = "" if load.mass_g is None else f", {grams_words(load.mass_g)}"
    return f"{load_words(load.load_pct)}{grams}{drops_words(load.drops)}"


def _now_words(load: LoadAt) -> str:
    """The present load as the recipe has it, the rest as of any."""
    return _load_words(load).replace(load_words(load.load_pct), f"{load.load_pct:.3g} %", 1)


def footnotes(look: RecipeLook) -> Iterator[str]:
    """What is not known, what is left out, and which swatches agree badly."""
    said = [*(sentence for sentence in look.unknown if sentence not in " ".join(look.advices)), *look.notes]
    for sentence in said:
        yield from wrapped(sentence, bullet="  - ")
    for fit in look.fits:
        if fit.agreement is not None and fit.agreement > BAD_FIT:
            sentence = f"The swatches of {fit.title} agree badly, {fit.agreement:.1f} off: read them again."
            yield from wrapped(sentence, bullet="  - ")


BAD_FIT = 3.0
"""CIEDE2000 by which a fit may miss its swatches before people are told; starting value."""
