"""What a step's sentences become in the smallest windows."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from bench.session.words import (
    CLEAN_WHILE_HOT,
    FROM_TWO_CUPS,
    OLD_CUP_AT_THE_END,
    OLD_CUP_FIRST,
    OLD_CUP_WAITS,
    OVER_BAND,
    OVER_SCORCH,
    POUR_OUT,
    PRESS,
    PUT_IN,
    STAYS,
    THROWN,
)

HELD_ON = "The plastic does not wait: every clock runs on."

_PAIRS: Iterable[tuple[str, str]] = (
    (POUR_OUT, "Pour out flat on metal what is still liquid."),
    (f"Of the others: {POUR_OUT[0].lower()}{POUR_OUT[1:]}", "Of others, pour out flat what is liquid."),
    (STAYS, "What has set or smokes stays."),
    ("in all by the estimate, from then on", "in all, by the estimate"),
    (HELD_ON, "The plastic does not wait."),
    (
        OVER_SCORCH.do,
        "Off the heat. Ventilate. Leave the cup where it is until it is cold, then throw it away.",
    ),
    (
        OVER_BAND.do,
        "No more heat: let it cool into the band, stir, then read.",
    ),
    (
        OLD_CUP_WAITS.do,
        "Heater off: leave the old cup. Once it can be lifted out, throw it away, put the new one on, press "
        "the key.",
    ),
    (
        "Leave the scorched cup where it is until it is cold, then throw it away as your local rules say. Of",
        "Leave the scorched cup until it is cold. Of",
    ),
    (
        CLEAN_WHILE_HOT.do,
        "Leave hot cups, and what is in them, until cold. Clean the rest once cold, wipe it dry.",
    ),
    (
        OLD_CUP_AT_THE_END,
        "The old scorched cup: throw it away once it is cold.",
    ),
    (
        THROWN,
        "Leave the old cup until it is cold.",
    ),
    (
        OLD_CUP_FIRST,
        "The old cup first: cold and out.",
    ),
    (
        FROM_TWO_CUPS,
        "Push both evenly until plastic stands in the sprue, then press the key.",
    ),
    (
        "Put the closed mould on the warm plate. Read it on a dark patch: bare metal reads too low.",
        "Closed, on the warm plate. Read it on a dark patch, not bare metal.",
    ),
    (
        "Set the closed mould in the warm air and turn it now and then. Read it on a dark patch of metal.",
        "Closed, in the warm air; turn it now and then. Read it on a dark patch.",
    ),
    (
        "Put all moulds on the warm plate, closed.",
        "All moulds closed on the warm plate.",
    ),
    (
        "Put all moulds in the warm air, closed.",
        "All moulds closed in the warm air.",
    ),
    (
        "Read the mould on a dark patch: bare metal reads too low. Take it off when it is warm.",
        "Read the mould on a dark patch; take it off when warm.",
    ),
    (
        "A thin film of oil on each rod, no drips. Seat them straight and close the mould.",
        "A thin film of oil on each rod. Seat them straight, close the mould.",
    ),
    (
        "Open it flat on the bench and lift the scrap out: it goes to the trimmings.",
        "Open it flat, lift the scrap out to the trimmings.",
    ),
    (
        "Turn to break the seal, pull straight and slowly.",
        "Turn, then pull straight and slowly.",
    ),
    (
        "Hold it against the light. Press the digit of what you see.",
        "Against the light: what do you see?",
    ),
    (
        "Lay them flat and straight on a tray. Press the digit of what you see.",
        "Flat on a tray. What do you see?",
    ),
    ("Lay them flat and straight on a tray.", "Flat on a tray."),
    ("Hold to the light.", "To the light."),
    (
        "Bores dry, no flash in the way. Lay each shell in without a wrinkle and close the mould.",
        "Bores dry. Lay each shell in without a wrinkle, close the mould.",
    ),
    (
        "Push slowly and steadily until plastic stands in the sprue. Then press the key.",
        "Push slowly until plastic stands in the sprue, then press the key.",
    ),
    (
        "Shoot at the hot end of the band, gently: do not overpack the shells. Then press the key.",
        "Gently, at the hot end of the band: do not overpack. Then press the key.",
    ),
    (
        "Fill the mould once, without rods, to warm it. This one is scrap: keep it for a dark remelt.",
        "Fill the mould once, without rods. Scrap: for a dark remelt.",
    ),
    (
        "Fill the mould once, both together, without rods, to warm it. This one is scrap: keep it for a dark "
        "remelt.",
        "Fill the mould once, both together, no rods. Scrap: for a dark remelt.",
    ),
    (
        "Scrap, to warm the cold mould: read it, then fill the mould without rods",
        "Scrap, to warm it: read the mould, then fill it without rods",
    ),
    (
        "Keep it for a dark remelt.",
        "For a dark remelt.",
    ),
    (PUT_IN, "Cup in, set timer, start it."),
    ("It ends without you: stay in sight of it.", "Stay in sight."),
    (
        f"Weigh base and colour into it and stir, if that is still to do. Close the base. {PRESS}",
        "Weigh it and stir, if still to do. Close the base, then press the key.",
    ),
    (
        f"Weigh base and colour into it and stir. Close the base. {PRESS}",
        "Weigh base and colour into it, stir. Close the base, then press the key.",
    ),
    (
        f"Weigh base and colour into a new cup and stir. Close the base. {PRESS}",
        "Weigh a new one, stir. Close the base, then press the key.",
    ),
    (
        f"Set the mixed cup aside. Weigh base and the new colour into another and stir. Close the base. {PRESS}",
        "Set the mixed cup aside. Weigh another, stir. Close the base, then press the key.",
    ),
    (
        "Weigh base and colour into it. ",
        "Weigh base and colour in. ",
    ),
    (
        "Heat in bursts. Never all the way without a stir and a reading.",
        "Bursts; stir and read after each.",
    ),
    (
        "Stir, then read. More bursts until it is in the band, a stir and a reading after each.",
        "Stir, read; again after each burst.",
    ),
    (
        "Short bursts. Stir, then read. Shoot only from inside the band.",
        "Short bursts; stir, read after each.",
    ),
)
"""What each sentence becomes; the longer before those that are part of them. "The mould" stands for its number
too."""


@lru_cache(maxsize=16)
def briefly(said: str) -> str:
    """The same in fewer words, sentence by sentence, wherever there are some."""
    for pattern, brief in _PATTERNS:
        said = pattern.sub(brief, said)
    return said


def _patterns() -> Iterator[tuple[re.Pattern[str], str]]:
    for words, brief in _PAIRS:
        escaped = re.escape(words)
        named = escaped.replace(re.escape("the mould"), r"(the mould|mould \d+)", 1)
        is_named = named != escaped and "the mould" in brief
        yield re.compile(named), brief.replace("the mould", r"\1", 1) if is_named else brief


_PATTERNS = tuple(_patterns())
