"""How large the pour screen draws its countdown in a window of some size."""

from __future__ import annotations

from dataclasses import replace

from bench.tui.pour.frame import frame
from bench.tui.pour.gauges import Gauge
from bench.tui.pour.hints import Hint
from bench.tui.pour.middle import Middle
from bench.tui.pour.picture import Picture
from bench.tui.widgets.blocks import Drawing, drawings
from bench.tui.widgets.lines import Piece, Tone

TEST_DIGITS = "3:58"
"""Four characters, as most countdowns have; 3, 5 and 8 are the digits most easily taken for each other."""

_KEYS = (
    *(("Space", "done"), ("T", "temperature"), ("B", "back"), ("P", "hold"), ("M", "mould"), ("S", "skip")),
    *(("X", "stop early"), ("N", "note"), ("?", "help"), ("Q", "leave")),
)

_SETTING = Picture(
    heading="Round 1 of 3",
    corner="18:42",
    title="LET IT SET",
    do="Leave the mould closed and upright.",
    middle=Middle(large=TEST_DIGITS, tone=Tone.COUNT, label="goes on by itself"),
    then="Open the mould",
    meanwhile="Empty the nozzle and stir what is still hot.",
    gauges=(
        Gauge(name="shell cup", value="168 °C", words="in band, 2:05 left · read 30 s ago · 3 shots left"),
        Gauge(name="mould", value="41 °C", words="ready · read 8 min ago"),
        Gauge(name="fan check", value="in 7:30"),
        Gauge(name="core cup", value="cold"),
    ),
    cautions=("Heatproof gloves, long sleeves, long trousers, closed shoes.",),
    hints=tuple(Hint(key=key, does=does) for key, does in _KEYS),
)
"""A step that a clock ends, the moment at which the countdown matters, with as much around it as there ever is."""


_SHORT_BURSTS = "Short bursts. Stir, then read. Shoot only from inside the band."
_HEATING = replace(
    _SETTING,
    title="REHEAT THE SHELL A CUP",
    do=_SHORT_BURSTS,
    middle=Middle(
        large=TEST_DIGITS,
        tone=Tone.COUNT,
        label="estimate: the thermometer decides",
        details=(
            "burst 1 of 2: heat for 0:58, then stir and read",
            "until it reads 329 to 347 °F: type the figure, Enter",
        ),
        leads=True,
        brief=("burst 1 of 2: heat 0:58, stir, read", "until 329 to 347 °F: digits, Enter"),
    ),
    then="Shell shot",
    meanwhile="Stay with it.",
    brief=(
        (
            "Short bursts. Stir, then read. Shoot only from inside the band.",
            "Short bursts; stir, read after each.",
        ),
        ("Heatproof gloves, long sleeves, long trousers, closed shoes.", "Gloves, long sleeves, closed shoes."),
    ),
    cups_first=1,
    cautions=(
        "Heatproof gloves, long sleeves, long trousers, closed shoes.",
        "Fan on, drawing outward, a door or window open, before any heat.",
        "Respirator on: organic vapour and acid gas with P100, yellow and magenta.",
        "Never leave the heat alone, not even for a moment.",
        "Do not overheat. Scorched vinyl gives off hydrogen chloride.",
        "No metallic flake, foil or metal tool in a microwave: it can arc.",
    ),
    later=("Let it set in 2 min",),
)
"""A step that a reading ends: its countdown stands among the most words."""


def main_digits(columns: int, rows: int) -> Drawing | None:
    """The smaller countdown of the two steps as a window of that size shows it; None where one is no larger than
    text."""
    drawn = [_drawn_in(each, columns, rows) for each in (_SETTING, _HEATING)]
    found = [each for each in drawn if each is not None]
    return min(found, key=lambda each: each.halves_high) if len(found) == len(drawn) else None


def _drawn_in(picture: Picture, columns: int, rows: int) -> Drawing | None:
    framed = frame(picture, columns, rows)
    shown = tuple(piece.text for row in framed.rows for piece in row if _counts(piece))
    return next((each for each in drawings(TEST_DIGITS, columns, small=True) if each.lines == shown), None)


def _counts(piece: Piece) -> bool:
    # The margin takes the tone of what follows it.
    return piece.tone is Tone.COUNT and not piece.text.isspace()
