"""The load window as a gauge."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from bench.tui.colour.cells import text_of, width_of
from bench.tui.colour.gauge import NARROWEST, Span, gauge_rows, gauge_words

LOADS = st.floats(0.001, 50.0)


def drawn(span: Span, width: int = 60) -> tuple[str, str]:
    """The arrow's row and the bar's."""
    arrow, bar, _ = (text_of(row) for row in gauge_rows(span, width))
    return arrow, bar


def test_the_arrow_stands_inside_its_window() -> None:
    arrow, bar = drawn(Span(name="Peat brown", now_pct=0.22, low_pct=0.08, high_pct=0.55))
    assert bar[arrow.index("▼")] == "█"
    assert bar.startswith("0.01 ")
    assert bar.endswith(" 1 %")


def test_the_arrow_stands_beside_a_window_that_it_missed() -> None:
    arrow, bar = drawn(Span(name="Peat brown", now_pct=0.9, low_pct=0.08, high_pct=0.2))
    assert bar[arrow.index("▼")] == "·"
    assert arrow.index("▼") > bar.rindex("█")
    arrow, bar = drawn(Span(name="Peat brown", now_pct=0.02, low_pct=0.08, high_pct=0.2))
    assert arrow.index("▼") < bar.index("█")


def test_a_decade_takes_half_of_a_scale_of_two() -> None:
    arrow, bar = drawn(Span(name="x", now_pct=0.1, low_pct=0.02, high_pct=0.6), 107)
    first, last = bar.index(" ") + 1, bar.rindex(" 1 %") - 1
    assert abs(arrow.index("▼") - (first + last + 1) / 2) <= 1, "0.1 % is half-way from 0.01 to 1 %"


def test_no_window_is_said_and_drawn_empty() -> None:
    span = Span(name="Soot black", now_pct=0.3, why_empty="the core never shows enough in this shell")
    assert "█" not in drawn(span)[1]
    assert gauge_words(span) == "No window for Soot black 0.3 %: the core never shows enough in this shell."


def test_the_words_say_where_the_load_stands() -> None:
    for now_pct, word in ((0.05, "below"), (0.1, "inside"), (0.5, "above")):
        assert word in gauge_words(Span(name="x", now_pct=now_pct, low_pct=0.08, high_pct=0.2))


@given(LOADS, LOADS, LOADS, st.integers(NARROWEST + 8, 240))
def test_every_gauge_fits_its_room(now_pct: float, one: float, other: float, width: int) -> None:
    arrow, bar, _ = gauge_rows(
        Span(name="x", now_pct=now_pct, low_pct=min(one, other), high_pct=max(one, other)), width
    )
    assert width_of(bar) == width
    assert width_of(arrow) <= width
    assert text_of(bar).count("█") >= 1


def test_a_window_without_an_end_reaches_to_the_end_of_the_scale_and_says_no_number_there() -> None:
    span = Span(name="x", now_pct=0.2, low_pct=0.0005, high_pct=0.8, bounded_low=False)
    bar = drawn(span)[1]
    assert bar.startswith("0.01 █")
    assert bar.endswith("· 1 %")
    assert gauge_words(span) == "x 0.2 % is inside the window, up to 0.8 %."
    wide = Span(name="x", now_pct=0.2, low_pct=0.0005, high_pct=50.0, bounded_low=False, bounded_high=False)
    assert set(drawn(wide)[1].split(" ")[1]) == {"█"}
    assert gauge_words(wide) == "x 0.2 % is inside the window, which is wide open."


def test_near_an_end_the_words_say_so() -> None:
    words = gauge_words(Span(name="x", now_pct=0.19, low_pct=0.0813, high_pct=0.2, near="dense end"))
    assert words == "x 0.19 % is inside the window, 0.081 to 0.2 %, but near the dense end."


def test_the_scale_stays_while_the_load_moves_through_a_window_with_one_end() -> None:
    scales = set()
    for now_pct in (0.15, 0.22, 1.2, 2.2, 7.0):
        bar = drawn(Span(name="x", now_pct=now_pct, low_pct=0.0005, high_pct=1.43, bounded_low=False))[1]
        scales.add((bar.split(" ")[0], bar.rsplit(" ", 2)[1], bar.count("█")))
    assert len(scales) == 1
