"""Contrast, after WCAG 2.2: the formula of relative luminance and of the contrast ratio [C]."""

from __future__ import annotations

import pytest

from bench.tui.theme import BENCH_THEME


def luminance(colour: str) -> float:
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: str, second: str) -> float:
    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_published_extremes() -> None:
    # WCAG 2.2, definition of contrast ratio: it ranges from 1 to 21 [C].
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)


TEXT = ("bench-quiet", "bench-title", "bench-count", "bench-late", "bench-entry", "bench-key", "bench-caution")


@pytest.mark.parametrize("name", TEXT)
@pytest.mark.parametrize("ground", [BENCH_THEME.background, BENCH_THEME.surface, BENCH_THEME.panel])
def test_text_stands_out_seven_to_one(name: str, ground: str) -> None:
    assert contrast(BENCH_THEME.variables[name], ground) >= 7


@pytest.mark.parametrize("block", ["block", "remind"])
def test_filled_blocks_stand_out_seven_to_one_inside_and_out(block: str) -> None:
    ground, text = BENCH_THEME.variables[f"bench-{block}-ground"], BENCH_THEME.variables[f"bench-{block}-text"]
    assert contrast(ground, text) >= 7
    assert contrast(ground, BENCH_THEME.background or "") >= 7
