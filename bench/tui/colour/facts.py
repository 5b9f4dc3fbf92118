"""A prediction in words and numbers: what shows, what tints, what to do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bench.colour.doses import drops, grams
from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST
from bench.model.colourant import Colourant
from bench.model.recipe import Dose, Tail
from bench.plan.cores import Reads
from bench.plan.look_records import LoadWindow, RecipeLook, SideLook
from bench.tui import present
from bench.tui.colour.bait import Bait, Tint
from bench.tui.colour.gauge import Span
from bench.tui.colour.pictures import cross_section_words, side_view_words, tint_words
from bench.tui.colour.predict import CoreFound, DosesFound, Predicted
from bench.tui.text import clean

PER_CUP_G = 100.0
"""The cup that grams and drops are told for."""

_DEGREES = ((1.0, "not seen"), (2.5, "barely"), (5.0, "faintly"), (15.0, "plainly"))
"""Words for a difference below so much CIEDE2000; common practice, no source, but for the 1 that is just seen."""

CUP_MISLEADS = 5.0
"""CIEDE2000 from which a cup is said to mislead: the threshold of a colour that is plainly another one."""


def degree(difference: float) -> str:
    """How plainly a difference is seen."""
    return next((word for below, word in _DEGREES if difference < below), "strongly")


def numbers(predicted: Predicted) -> tuple[str, ...]:
    """The numbers of the side that stands worst, each with its word."""
    look = predicted.look
    if look is None or predicted.bait is None:
        return ()
    return tuple(_numbers(look.worst, predicted.bait))


def _numbers(side: SideLook, bait: Bait) -> Iterator[str]:
    if side.core_visibility is not None:
        yield f"core shows {side.core_visibility:.1f} {degree(side.core_visibility)}"
    if side.shell_tint is not None:
        yield f"shell tints {side.shell_tint:.1f} {degree(side.shell_tint)}"
    if side.third_colour is not None:
        yield f"third colour {side.third_colour:.1f} {degree(side.third_colour)}"
    if side.contrast_ratio is not None:
        where = "wall" if bait.core is not None else "body"
        yield f"{where} hides {100 * side.contrast_ratio:.0f} %"
    if bait.covered > 0:
        yield f"flake covers {100 * bait.covered:.0f} %"


def warnings(predicted: Predicted) -> tuple[str, ...]:
    """What else must be said: that the cup misleads, what a screen cannot show, what is not reckoned."""
    return tuple(_warnings(predicted))


def _warnings(predicted: Predicted) -> Iterator[str]:
    if predicted.look is None or predicted.bait is None:
        return
    if predicted.cup_off >= CUP_MISLEADS:
        how = "darker" if predicted.cup_darker else "lighter"
        yield f"Do not judge by the cup: it looks {how} than the bait will, by {predicted.cup_off:.0f}."
    if any(tint.clipped for _, tint in fields(predicted.bait)):
        yield "A colour marked * is stronger than a screen can show."
    yield from (clean(note) for note in predicted.look.notes)


def advice(predicted: Predicted) -> str:
    """The sentence of advice, or why there is nothing to see."""
    if predicted.look is None or predicted.bait is None:
        return _problem(predicted)
    return present.sentence(clean(predicted.look.advice, limit=400))


def _problem(predicted: Predicted) -> str:
    if not predicted.problem:
        return ""
    said = f"{present.sentence(clean(predicted.problem, limit=400)).rstrip('.')}."
    return said if predicted.look is not None else f"{said} M takes another mould, B another build."


def span_of(look: RecipeLook | None) -> Span | None:
    """The load window of the side that stands worst; None without a core."""
    window = look.worst.window if look is not None else None
    return None if window is None else _span(window)


def _span(window: LoadWindow) -> Span:
    return Span(
        name=clean(window.title),
        now_pct=window.now.load_pct,
        low_pct=window.low.load_pct if window.low is not None else None,
        high_pct=window.high.load_pct if window.high is not None else None,
        why_empty=window.why_empty or "",
    )


def thresholds() -> str:
    """What the window's two ends mean."""
    return f"The bar: shell tints {TINT_AT_LEAST:g} or more, core shows {VISIBLE_AT_LEAST:g} or more (CIEDE2000)."


def fields(bait: Bait) -> tuple[tuple[str, Tint], ...]:
    """Every colour of a bait with its label: the cup beside the bait, then over the core, then the tails."""
    return tuple(_fields(bait))


def _fields(bait: Bait) -> Iterator[tuple[str, Tint]]:
    for letter, side in zip(_letters(bait), bait.sides, strict=True):
        yield f"{letter}in cup", side.cup
        yield f"{letter}in bait", side.alone
        if side.over_core is not None:
            yield f"{letter}over core", side.over_core
        if side.tail is not None:
            yield (f"{letter}tail kept" if bait.core else f"{letter}tail"), side.tail
    if bait.core is not None:
        if bait.core.tail is not None and bait.has_tail:
            yield "tail cut", bait.core.tail
        yield "core cup", bait.core.cup
        yield "core alone", bait.core.alone


def _letters(bait: Bait) -> tuple[str, ...]:
    return ("",) if len(bait.sides) == 1 else ("A ", "B ")


def whole_words(bait: Bait) -> tuple[str, ...]:
    """Every picture of the screen in words."""
    cups = [f"{label}: {tint_words(tint)}" for label, tint in fields(bait) if label.endswith("cup")]
    tails = (Tail.KEPT, Tail.CUT) if bait.core is not None and bait.has_tail else (None,)
    seen = dict.fromkeys(line for tail in tails for line in side_view_words(bait, tail))
    return (*cups, "From the side:", *seen, "Cut across:", *cross_section_words(bait))


def dose_words(dose: Dose, colourant: Colourant | None) -> str:
    """A dose in a cup of 100 g: about how many drops, or what a powder weighs."""
    mass_g = grams(dose.load_pct, cup_g=PER_CUP_G)
    if colourant is None or colourant.drop_g is None:
        return present.small_mass(mass_g)
    return present.drops(drops(mass_g, one_drop_g=colourant.drop_g)).removeprefix("about ")


_READS = {Reads.HIDDEN: "hidden", Reads.OWN: "own", Reads.THIRD: "third"}


def core_words(core: CoreFound) -> str:
    """What a core would do: how far it shows, and whether in its own colour, as a third one, or not at all."""
    return f"{core.visibility:.0f} {_READS[core.reads]}"


def offer_words(found: DosesFound, titles: Mapping[str, str]) -> tuple[str, ...]:
    """Doses that were found, and by how much they miss."""
    doses = (
        f"{clean(titles.get(dose.colourant, dose.colourant))} {present.load(dose.load_pct)}"
        for dose in found.doses
    )
    misses = f": {', '.join(found.misses)}" if found.misses else ""
    return (
        f"Nearest to {found.wanted} for the {found.part.words}:",
        *doses,
        f"It misses by {found.off:.1f}, {degree(found.off)}{misses}.",
    )
