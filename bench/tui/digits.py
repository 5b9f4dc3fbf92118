"""How large the pour screen draws its countdown in a window of some size."""

from __future__ import annotations

from bench.tui.pour.frame import frame
from bench.tui.pour.gauges import Gauge
from bench.tui.pour.hints import Hint
from bench.tui.pour.middle import Middle
from bench.tui.pour.picture import Picture
from bench.tui.widgets.blocks import Drawing, drawings
from bench.tui.widgets.font import TALL
from bench.tui.widgets.lines import Piece, Tone

TEST_DIGITS = "3:58"
"""Four characters, as most countdowns have; 3, 5 and 8 are the digits most easily taken for each other."""

DOTS_HIGH = TALL.height

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


def main_digits(columns: int, rows: int) -> Drawing | None:
    """The countdown of such a step as a window of that size shows it; None where it is no larger than text."""
    framed = frame(_SETTING, columns, rows)
    shown = tuple(piece.text for row in framed.rows for piece in row if _counts(piece))
    return next((drawing for drawing in drawings(TEST_DIGITS, columns) if drawing.lines == shown), None)


def _counts(piece: Piece) -> bool:
    # The margin takes the tone of what follows it.
    return piece.tone is Tone.COUNT and not piece.text.isspace()
