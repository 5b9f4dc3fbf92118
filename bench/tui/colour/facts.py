"""A prediction in words and numbers: what shows, what tints, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from bench.colour.cores import Reads
from bench.colour.doses import drops, grams
from bench.colour.target import MOST_TOTAL_PCT
from bench.colour.window import TINT_AT_LEAST, VISIBLE_AT_LEAST
from bench.model.colourant import Colourant
from bench.model.recipe import Dose, Part, Tail
from bench.plan.look_records import NEAR, LoadWindow, RecipeLook, SideLook
from bench.plan.look_words import TOO_DARK, brief_advice, load_words, shown
from bench.plan.thinning import SAME_BELOW
from bench.tui import present
from bench.tui.colour.bait import IN_BAIT, IN_CUP, OVER_CORE, OVER_OTHER, Bait, Tint, letters
from bench.tui.colour.gauge import Span
from bench.tui.colour.goal import PER_CUP_G, DosesFound
from bench.tui.colour.pictures import cross_section_words, side_view_words, tint_words
from bench.tui.colour.predict import CoreFound, Predicted
from bench.tui.text import clean

_DEGREES = ((1.0, "not seen"), (2.5, "barely"), (5.0, "faintly"), (15.0, "plainly"))
"""Words for a difference below so much CIEDE2000; common practice, no source, but for the 1 that is just seen."""

CUP_MISLEADS = 5.0
"""CIEDE2000 from which a cup is said to mislead: the threshold of a colour that is plainly another one."""


def degree(difference: float) -> str:
    """How plainly a difference is seen."""
    return next((word for below, word in _DEGREES if difference < below), "strongly")


def passed(difference: float, threshold: float) -> str:
    """A difference that has a threshold, with its word: one that just passes is not called plain."""
    just = threshold <= difference < threshold * (1 + NEAR)
    return f"{shown(difference, threshold)} {'just enough' if just else degree(difference)}"


def side_of(look: RecipeLook, part: Part | None) -> SideLook:
    """The side under the cursor; while it is on the core, the one that stands worst."""
    return next((side for side in look.sides if side.side is part), look.worst)


def numbers(predicted: Predicted, part: Part | None = None) -> tuple[str, ...]:
    """The numbers of the side under the cursor, or of the one that stands worst, each with its word."""
    look = predicted.look
    if look is None or predicted.bait is None:
        return ()
    side = side_of(look, part)
    found = tuple(_numbers(side, predicted.bait))
    return found if len(look.sides) == 1 or not found else (f"{side.side.words}: {found[0]}", *found[1:])


def _numbers(side: SideLook, bait: Bait) -> Iterator[str]:
    if side.core_visibility is not None:
        dark = side.is_too_dark and side.core_visibility >= VISIBLE_AT_LEAST
        told = f"{shown(side.core_visibility, VISIBLE_AT_LEAST)}, {TOO_DARK}"
        yield f"core shows {told if dark else passed(side.core_visibility, VISIBLE_AT_LEAST)}"
    if side.shell_tint is not None:
        yield f"shell tints {passed(side.shell_tint, TINT_AT_LEAST)}"
    if side.third_colour is not None:
        yield f"unlike both {passed(side.third_colour, VISIBLE_AT_LEAST)}"
    if side.contrast_ratio is not None:
        where = "wall" if bait.core is not None else "body"
        yield f"{where} hides {100 * side.contrast_ratio:.0f} %"
    if bait.covered > 0:
        yield f"flake covers {100 * bait.covered:.0f} %"
    if side.core_visibility is not None or side.shell_tint is not None:
        yield "in steps of which 1 is just seen"


def warnings(predicted: Predicted, *, marked: bool = True) -> tuple[str, ...]:
    """What else must be said: what a screen cannot show where colours are marked with it,
    what is not reckoned."""
    return tuple(_warnings(predicted, marked=marked))


def _warnings(predicted: Predicted, *, marked: bool) -> Iterator[str]:
    if predicted.look is None or predicted.bait is None:
        return
    if marked and any(tint.clipped for _, tint in fields(predicted.bait)):
        yield "A colour marked * is stronger than a screen can show."
    yield from (clean(note) for note in predicted.look.notes)


def cup_warning(predicted: Predicted) -> str:
    """That the cup misleads, and how; empty where it does not."""
    if predicted.bait is None or predicted.cup_off < CUP_MISLEADS:
        return ""
    how = _COMPARED.get(predicted.cup_misses, "other")
    cup, bait = predicted.cup_fields
    return f'Do not judge by the cup: "{cup}" looks {degree(predicted.cup_off)} {how} than "{bait}".'


_COMPARED = {
    "too dark": "darker",
    "too light": "lighter",
    "too strong": "stronger",
    "too dull": "duller",
    "too red": "redder",
    "too yellow": "yellower",
    "too green": "greener",
    "too blue": "bluer",
}


def advice(predicted: Predicted, part: Part | None = None) -> str:
    """The advice of the side under the cursor, as its gauge has it, then that of another side that needs something
    done; or why there is nothing to see."""
    look = predicted.look
    if look is None or predicted.bait is None:
        return _problem(predicted)
    if len(look.sides) == 1 or all(side.side is not part for side in look.sides):
        return _sentences(look.advices)
    return _sentences(f"{side.side.words}: {side.advice}" for side in _advised(look, part))


def short_advice(predicted: Predicted, part: Part | None = None) -> str:
    """The same in as few words as say it."""
    look = predicted.look
    if look is None or predicted.bait is None:
        return _problem(predicted)
    if len(look.sides) == 1:
        return _sentences([brief_advice(look.sides[0])])
    return _sentences(f"{side.side.words}: {brief_advice(side)}" for side in _advised(look, part))


def _sentences(said: Iterable[str]) -> str:
    return " ".join(present.sentence(clean(each, limit=400)) for each in said)


def _advised(look: RecipeLook, part: Part | None) -> list[SideLook]:
    """The side under the cursor, and another that needs something done."""
    said = [side_of(look, part)]
    if look.worst is not said[0] and look.worst.margin is not None and look.worst.margin < 0:
        said.append(look.worst)
    return said


def _problem(predicted: Predicted) -> str:
    if not predicted.problem:
        return ""
    said = f"{present.sentence(clean(predicted.problem, limit=400)).rstrip('.')}."
    return said if predicted.look is not None else f"{said} M takes another mould, B another build."


def span_of(look: RecipeLook | None, part: Part | None = None) -> Span | None:
    """The load window of the side under the cursor, or of the one that stands worst; None without a core."""
    if look is None:
        return None
    side = side_of(look, part)
    name = "" if len(look.sides) == 1 else f"{side.side.words}: "
    return None if side.window is None else _span(side.window, name)


def _span(window: LoadWindow, side: str) -> Span:
    return Span(
        name=f"{side}{clean(window.title)}",
        now_pct=window.now.load_pct,
        low_pct=window.low.load_pct if window.low is not None else None,
        high_pct=window.high.load_pct if window.high is not None else None,
        why_empty=window.why_empty or "",
        bounded_low=window.bounded_low,
        bounded_high=window.bounded_high,
        near="" if window.near is None else window.near.value,
    )


def thresholds() -> str:
    """What the window's two ends mean."""
    return f"The bar: shell tints {TINT_AT_LEAST:g} or more, core shows {VISIBLE_AT_LEAST:g} or more (CIEDE2000)."


def fields(bait: Bait) -> tuple[tuple[str, Tint], ...]:
    """Every colour of a bait with its label: the cup beside the bait, then over the core, then the tails."""
    return tuple(_fields(bait))


def _fields(bait: Bait) -> Iterator[tuple[str, Tint]]:
    for letter, side in zip(letters(len(bait.sides)), bait.sides, strict=True):
        yield f"{letter}{IN_CUP}", side.cup
        yield f"{letter}{IN_BAIT}", side.alone
        if side.over_core is not None:
            yield f"{letter}{OVER_CORE}", side.over_core
        if side.over_other is not None:
            yield f"{letter}{OVER_OTHER}", side.over_other
        if side.tail is not None:
            yield (f"{letter}tail kept" if bait.core else f"{letter}tail"), side.tail
    if bait.core is not None:
        if bait.core.tail is not None and bait.has_tail:
            yield "tail cut", bait.core.tail
        yield "core cup", bait.core.cup
        yield "core alone", bait.core.alone


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


_READS = {
    Reads.HIDDEN: "hidden",
    Reads.LIGHTER: "lighter",
    Reads.DARKER: "darker",
    Reads.OWN: "own",
    Reads.THIRD: "third",
}


def core_words(core: CoreFound) -> str:
    """What a core would do: how far it shows, and as what: its own colour, a third one, the shell's lighter."""
    return f"{shown(core.core_visibility, VISIBLE_AT_LEAST):>4} {_READS[core.reads]:<7}"


def offer_words(found: DosesFound, titles: Mapping[str, str]) -> tuple[str, ...]:
    """Doses that were found in the cup's own colours, and by how much they miss."""
    return (
        f"Nearest to {found.wanted} for {the(found.part)}, from this cup's colours:",
        *filling_words(found, titles),
        "pourbench match --already reckons with a cup that holds colour.",
    )


def filling_words(found: DosesFound, titles: Mapping[str, str]) -> tuple[str, ...]:
    """What goes into a part, by how much it misses, and what must be known before it is taken."""
    misses = f": {', '.join(found.misses)}" if found.misses else ""
    return (
        *(
            f"{clean(titles.get(each.colourant, each.colourant))} {load_words(each.load_pct)}"
            for each in found.doses
        ),
        "As good as the same."
        if found.off < SAME_BELOW
        else f"It misses by {found.off:.1f}, {degree(found.off)}{misses}.",
        *_offer_cautions(found),
    )


def filling_line(found: DosesFound, titles: Mapping[str, str]) -> str:
    """One answer from the shelf in a row: how far off, in which way most, and of what it is made."""
    off = "same" if found.off < SAME_BELOW else f"{found.off:.1f} {next(iter(found.misses), 'off')}"
    hidden = found.core_visibility is not None and not found.shows_core
    made = ", ".join(clean(titles.get(each.colourant, each.colourant)) for each in found.doses)
    return f"{off}{', hides' if hidden else ''} · {made}"


def _offer_cautions(found: DosesFound) -> Iterator[str]:
    """What must be known before they are taken."""
    if found.core_visibility is not None and not found.shows_core:
        shows = shown(found.core_visibility, VISIBLE_AT_LEAST)
        yield f"The core would no longer show: {shows}, {VISIBLE_AT_LEAST:g} or more shows."
    if found.is_capped and found.off >= SAME_BELOW:
        yield f"It stops at {MOST_TOTAL_PCT:g} % colour together."


def the(part: Part) -> str:
    """A part in a sentence: "the shell", but "side B", which needs no article."""
    return part.words if part.words.endswith((" A", " B")) else f"the {part.words}"
