"""A predicted look in words: one sentence of advice, why a window is empty, and what a plan should warn of."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST, Cause, Opener
from bench.plan.look_records import LoadAt, LoadWindow, Near, Place, RecipeLook, SideLook
from bench.units import Percent

LEAST_WEIGHED_G = 0.01
"""What a fine bench scale still shows, g."""

HIDES = 0.98
"""Contrast ratio from which a layer is said to hide completely (ASTM D2805, from memory)."""

_CAUSES = {
    Cause.NO_COLOUR: "the shell has no colour that could tint",
    Cause.TOO_WEAK: "the shell never tints enough over this core",
    Cause.NO_CONTRAST: "the core never shows enough in this shell",
    Cause.TOO_DENSE: "by the load at which the shell tints, the core no longer shows",
}

_OPENERS = {
    Opener.THINNER_WALL: "a thinner wall",
    Opener.LESS_PEARL: "a quarter of what hazes the shell",
    Opener.LIGHTER_CORE: "a lighter core",
    Opener.DARKER_CORE: "a darker core",
}


TOO_DARK = "too dark to tell at a bench"
"""Said of a difference that both colours are too dark to show."""


def why_empty(cause: Cause | None) -> str | None:
    """Why there is no window, in words; None where there is one."""
    return None if cause is None else _CAUSES[cause]


def advice(
    *,
    window: LoadWindow | None,
    visibility: float | None,
    tint: float | None,
    contrast_ratio: float | None,
    unknown: tuple[str, ...],
) -> str:
    """One sentence: what to do about the load, or what a bait without a core lets through."""
    if unknown:
        return unknown[0]
    if window is not None and visibility is not None and tint is not None:
        return _load_advice(window, visibility, tint)
    if contrast_ratio is not None and contrast_ratio >= HIDES:
        return "It hides what lies behind it."
    return "Light passes through it: judge a finished piece over light and over dark ground."


def _load_advice(window: LoadWindow, visibility: float, tint: float) -> str:
    if window.place is Place.EMPTY or window.low is None or window.high is None:
        whose = f"{window.title} alone" if window.others else "this shell"
        return f"No load of {whose} will do{_held(window)}: {window.why_empty}; {_opened(window)}."
    now = _typed(window.now)
    if window.place is Place.INSIDE:
        inside = f"{window.title} at {now} is inside its window, {_span(window)}{_held(window)}{_but(window)}"
        return f"{inside}: {_do(window)}."
    brought = f"{_astray(window, visibility, tint)}: bring {window.title}"
    if window.place is Place.ABOVE:
        return f"{brought} down from {now} to {_amount(window.high)} or less{_or_all(window, 1, 'or less')}."
    return f"{brought} up from {now} to {_amount(window.low)} or more{_or_all(window, 0, 'or more')}."


def brief_advice(side: SideLook) -> str:
    """What to do about a side's load in as few words as say it, for where the whole advice has no room."""
    window, visibility, tint = side.window, side.core_visibility, side.shell_tint
    if window is None or visibility is None or tint is None or window.low is None or window.high is None:
        return side.advice
    brought = f"{_astray(window, visibility, tint)}: bring {window.title}"
    match window.place:
        case Place.INSIDE:
            where = f"near the {window.near} of" if window.near in (Near.THIN, Near.DENSE) else "inside"
            return f"{window.title} is {where} its window: {_do(window)}."
        case Place.ABOVE:
            return f"{brought} down to {_amount(window.high)} or less."
        case Place.BELOW:
            return f"{brought} up to {_amount(window.low)} or more."
        case _:
            return side.advice


def _astray(window: LoadWindow, visibility: float, tint: float) -> str:
    """On which side of its window a load is, and what comes of it."""
    return f"Too {'dense' if window.place is Place.ABOVE else 'thin'}, {_lacking(visibility, tint)}"


def _or_all(window: LoadWindow, end: int, bound: str) -> str:
    """What the colours that are held mean, and to what all of them together could be brought instead."""
    if window.together is None:
        return _held(window)
    factor = f"{window.together[end]:.2g}"
    return f"{_held(window)}, or all of them together to {factor} times their loads {bound}"


def _held(window: LoadWindow) -> str:
    """What the window takes for granted."""
    return " (the shell's other colours as they are)" if window.others else ""


def _but(window: LoadWindow) -> str:
    """What is to be said of a load that is inside its window and little more; empty in the open."""
    match window.near:
        case None:
            return ""
        case Near.BOTH:
            return ", which is narrow"
        case _:
            return f", but near the {window.near}"


def _do(window: LoadWindow) -> str:
    """What to do with a load inside its window."""
    match window.near:
        case None:
            return "weigh it so"
        case Near.BOTH:
            return "weigh it closely and try one bait first"
        case _:
            return f"weigh it closely, or take about {load_words(_middle(window))}"


def _middle(window: LoadWindow) -> Percent:
    """A load well inside: the geometric mean of both ends, or one and a half times away from the only one."""
    assert window.low is not None and window.high is not None, "an empty window has no middle"  # noqa: PT018
    if window.bounded_low and window.bounded_high:
        return math.sqrt(window.low.load_pct * window.high.load_pct)
    return window.high.load_pct / 1.5 if window.bounded_high else window.low.load_pct * 1.5


def _lacking(visibility: float, tint: float) -> str:
    """Which of the two falls short at the present load."""
    hides, pales = visibility < VISIBLE_AT_LEAST, tint < TINT_AT_LEAST
    if hides and pales:
        return "the core hardly shows and the shell hardly tints"
    return "the core will hide" if hides else "the shell hardly tints"


def _opened(window: LoadWindow) -> str:
    found = [] if window.together is None else [_scaled_together(*window.together)]
    found += [
        _wall_words(window, window.opening_wall_mm)
        if opener is Opener.THINNER_WALL and window.opening_wall_mm is not None
        else _OPENERS[opener]
        for opener in window.openers
    ]
    return f"{_either(found)} would do it" if found else "choose another shell or another core"


def _scaled_together(low: float, high: float) -> str:
    span = f"{low:.2g}" if f"{low:.2g}" == f"{high:.2g}" else f"{low:.2g} to {high:.2g}"
    return f"all of the shell's colours together at {span} times their loads"


def _wall_words(window: LoadWindow, wall_mm: float) -> str:
    """A wall, never rounded up to one that is too thick, and the load that it needs where that is another one."""
    wall = f"a wall of {math.floor(10 * wall_mm) / 10:.1f} mm or less"
    load_pct = window.opening_load_pct
    if load_pct is None or 1 / _SAME_LOAD <= load_pct / window.now.load_pct <= _SAME_LOAD:
        return wall
    return f"{wall} with {window.title} at about {load_words(load_pct)}"


_SAME_LOAD = 1.2
"""Times by which a load may differ and still be about the same."""


def _either(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _span(window: LoadWindow) -> str:
    """The window in words."""
    assert window.low is not None and window.high is not None, "an empty window has no span"  # noqa: PT018
    span = span_words(
        low_pct=window.low.load_pct if window.bounded_low else None,
        high_pct=window.high.load_pct if window.bounded_high else None,
    )
    return f"{span}, its dense end {TOO_DARK}" if window.high_too_dark else span


def span_words(*, low_pct: Percent | None, high_pct: Percent | None) -> str:
    """An open window in words; an end that is only that of the loads looked at is None and is not told."""
    if low_pct is not None and high_pct is not None:
        return f"{load_words(low_pct).removesuffix(' %')} to {load_words(high_pct)}"
    if high_pct is not None:
        return f"up to {load_words(high_pct)}"
    return f"from {load_words(low_pct)} up" if low_pct is not None else "which is wide open"


def load_words(load_pct: Percent) -> str:
    """A load that was reckoned: two digits below 1 %, which is more than a prediction knows."""
    return f"{load_pct:.2g} %" if load_pct < 1 else f"{load_pct:.3g} %"


NEAREST_ON_SCREEN = "{} is the nearest that a screen can show: the colour itself is stronger."


def shown(difference: float, threshold: float) -> str:
    """A difference to one decimal, never rounded up across its threshold: 4.97 is not "5.0" beside "5 or more"."""
    rounded = round(difference, 1)
    return f"{math.floor(10 * difference) / 10 if difference < threshold <= rounded else rounded:.1f}"


def _typed(load: LoadAt) -> str:
    """A load as the recipe has it."""
    return f"{load.load_pct:.3g} %"


def _amount(load: LoadAt) -> str:
    """A load, and its grams and drops where a cup is planned."""
    if load.mass_g is None:
        return load_words(load.load_pct)
    return f"{load_words(load.load_pct)} ({grams_words(load.mass_g)}{drops_words(load.drops)} in this cup)"


def grams_words(mass_g: float) -> str:
    """A mass of colour as a fine scale shows it."""
    return f"under {LEAST_WEIGHED_G:g} g" if 0 < mass_g < LEAST_WEIGHED_G else f"{mass_g:.2f} g"


def drops_words(drops: float | None) -> str:
    """Drops after a mass, as a hint; nothing for a powder, which has none."""
    if drops is None:
        return ""
    number = round(drops)
    if number < 1:
        return ", less than a drop" if drops > 0 else ""
    return f", about {number} {'drop' if number == 1 else 'drops'}"


def started(words: str) -> str:
    """Words as they begin a line, the rest as it was: "Side A"."""
    return words[:1].upper() + words[1:]


def look_warnings(look: RecipeLook) -> Iterator[str]:
    """What a plan should say aloud about its look: a load outside its window. Nothing where it is not known."""
    for side in look.sides:
        window = side.window
        if window is None or side.unknown or window.place is Place.INSIDE:
            continue
        yield _warning(side, window, "shell" if len(look.sides) == 1 else side.side.words)


def _warning(side: SideLook, window: LoadWindow, shell: str) -> str:
    if window.low is None or window.high is None:
        load = f"load of {window.title}" if window.others else "load"
        return f"At no {load} will the {shell} tint and the core show: {window.why_empty}; {_opened(window)}."
    if window.place is Place.ABOVE:
        hides = side.core_visibility is not None and side.core_visibility < VISIBLE_AT_LEAST
        found = "tints too much and the core will hide" if hides else "hardly tints any more"
        return (
            f"The {shell} {found}: {window.title} at {_typed(window.now)} is above "
            f"its window, which ends at {_amount(window.high)}."
        )
    return (
        f"The {shell} hardly tints over the core: {window.title} at {_typed(window.now)} is below its window, "
        f"which begins at {_amount(window.low)}."
    )
