"""``pourbench pour``: straight into a session."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from typing import TYPE_CHECKING

from bench.errors import quoted
from bench.model.recipe import Tail

if TYPE_CHECKING:
    from bench.plan.records import Ask


@dataclass(frozen=True, kw_only=True, slots=True)
class PourRequest:
    """What a session is asked for. ``station`` None leaves it to the settings; ``speed`` is how many seconds pass
    in each real one of a rehearsal, None for a real pour."""

    recipe: str
    mould: str
    ask: Ask
    station: str | None = None
    speed: float | None = None


MOST_DIGITS = 12
"""A longer number is not read: it would take its time, and no plan is that large."""


def count(text: str) -> int:
    """The number of baits, one or more; argparse shows the sentence otherwise."""
    return _whole(text, least=1, what="a count of 1 or more")


def shots(text: str) -> int:
    """A number of warm-up shots, none or more."""
    return _whole(text, least=0, what="a number of shots, 0 or more")


def moulds(text: str) -> int:
    """A number of moulds, one or more; how many a job can use the plan says."""
    return _whole(text, least=1, what="a number of moulds, 1 or more")


def percent(text: str) -> float:
    """A share in percent, 0 to 100, with or without its sign."""
    try:
        value = float(text.strip().removesuffix("%"))
    except ValueError:
        value = -1.0
    if not 0 <= value <= 100:
        raise argparse.ArgumentTypeError(f"found {quoted(text)}, wanted a share from 0 to 100 %")
    return value


def _whole(text: str, *, least: int, what: str) -> int:
    plain = text.strip()
    try:
        value = int(plain[:MOST_DIGITS]) if "_" not in plain else least - 1
    except ValueError:
        value = least - 1
    if value < least:
        raise argparse.ArgumentTypeError(f"found {quoted(text)}, wanted {what}")
    if len(plain) > MOST_DIGITS:
        raise argparse.ArgumentTypeError(f"found {quoted(text)}, more than anyone pours")
    return value


def add_job_options(parser: argparse.ArgumentParser) -> None:
    """The options that say which job: recipe, mould, count and what the recipe or station would choose."""
    parser.add_argument("recipe", metavar="RECIPE", help="name of a recipe, such as ember-under-peat")
    parser.add_argument("--mould", required=True, metavar="M", help="name of a mould, such as ribbon-leech-4")
    parser.add_argument("--count", required=True, type=count, metavar="N", help="how many baits you want")
    parser.add_argument(
        "--tail", choices=[tail.value for tail in Tail], help="core work: keep the shell's tail or cut it"
    )
    parser.add_argument("--warm-up", type=shots, metavar="N", help="scrap shots that warm a cold mould")
    parser.add_argument(
        "--spares", type=percent, metavar="PERCENT", help="whole baits made beyond the count, in percent of it"
    )
    parser.add_argument("--station", metavar="S", help="name of a station, where not the one of your settings")


def add_moulds_option(parser: argparse.ArgumentParser) -> None:
    """How many moulds there are, for the verbs that open a session."""
    parser.add_argument(
        "--moulds", type=moulds, metavar="N", default=1, help="use up to so many identical moulds in turn, 1 to 4"
    )


def requested(arguments: argparse.Namespace, *, speed: float | None = None) -> PourRequest:
    """The request that those options make."""
    from bench.plan.records import Ask

    return PourRequest(
        recipe=arguments.recipe,
        mould=arguments.mould,
        ask=Ask(
            count=arguments.count,
            tail=Tail(arguments.tail) if arguments.tail else None,
            spares_pct=arguments.spares,
            warm_up_shots=arguments.warm_up,
            moulds=arguments.moulds or 1,
        ),
        station=arguments.station,
        speed=speed,
    )


def add_pour_parser(verbs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The verb ``pour``."""
    parser = verbs.add_parser(
        "pour",
        help="walk through a pour, step by step",
        description="Plans the job and opens its session on this terminal. Nothing starts before you press a key.",
    )
    add_job_options(parser)
    add_moulds_option(parser)
    parser.set_defaults(request=requested)
