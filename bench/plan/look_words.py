"""A predicted look in words: one sentence of advice, why a window is empty, and what a plan should warn of."""

from __future__ import annotations

from collections.abc import Iterator

from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST, Cause, Opener
from bench.plan.look_records import LoadAt, LoadWindow, Place, RecipeLook, SideLook

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
        return f"No load of this shell will do: {window.why_empty}; {_opened(window)}."
    if window.place is Place.INSIDE:
        return f"{window.title} at {_pct(window.now)} is inside its window, {_span(window)}: weigh it so."
    together = ", the shell's other colours alike" if window.others else ""
    if window.place is Place.ABOVE:
        return (
            f"Too dense, {_lacking(visibility, tint)}: bring {window.title} down from {_pct(window.now)} to "
            f"{_amount(window.high)} or less{together}."
        )
    return (
        f"Too thin, {_lacking(visibility, tint)}: bring {window.title} up from {_pct(window.now)} to "
        f"{_amount(window.low)} or more{together}."
    )


def _lacking(visibility: float, tint: float) -> str:
    """Which of the two falls short at the present load."""
    hides, pales = visibility < VISIBLE_AT_LEAST, tint < TINT_AT_LEAST
    if hides and pales:
        return "the core hardly shows and the shell hardly tints"
    return "the core will hide" if hides else "the shell hardly tints"


def _opened(window: LoadWindow) -> str:
    found = [
        f"a wall of {window.opening_wall_mm:.1f} mm or less"
        if opener is Opener.THINNER_WALL and window.opening_wall_mm is not None
        else _OPENERS[opener]
        for opener in window.openers
    ]
    return f"{_either(found)} would do it" if found else "choose another shell or another core"


def _either(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _span(window: LoadWindow) -> str:
    """The window; an end that is only that of the loads looked at is not told."""
    assert window.low is not None and window.high is not None, "an empty window has no span"  # noqa: PT018
    if window.bounded_low and window.bounded_high:
        return f"{window.low.load_pct:.3g} to {_pct(window.high)}"
    if window.bounded_high:
        return f"up to {_pct(window.high)}"
    return f"from {_pct(window.low)} up" if window.bounded_low else "which is wide open"


def _pct(load: LoadAt) -> str:
    return f"{load.load_pct:.3g} %"


def _amount(load: LoadAt) -> str:
    """A load, and its grams and drops where a cup is planned."""
    if load.mass_g is None:
        return _pct(load)
    drops = "" if load.drops is None else f", about {load.drops:.0f} drops"
    return f"{_pct(load)} ({load.mass_g:.2f} g{drops} in this cup)"


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
        return f"At no load will the {shell} tint and the core show: {window.why_empty}; {_opened(window)}."
    if window.place is Place.ABOVE:
        hides = side.core_visibility is not None and side.core_visibility < VISIBLE_AT_LEAST
        found = "tints too much and the core will hide" if hides else "hardly tints any more"
        return (
            f"The {shell} {found}: {window.title} at {_pct(window.now)} is above "
            f"its window, which ends at {_amount(window.high)}."
        )
    return (
        f"The {shell} hardly tints over the core: {window.title} at {_pct(window.now)} is below its window, "
        f"which begins at {_amount(window.low)}."
    )
