"""The program's own dark theme.

Everything that matters stands at 7:1 or more against its ground (WCAG 2.2, success criterion 1.4.6), because it is
read through a face shield from two metres away. No colour means anything alone.
"""

from __future__ import annotations

from textual.theme import Theme

BENCH_THEME = Theme(
    name="bench",
    primary="#7fd4ff",
    secondary="#a8c7d6",
    warning="#ffc94d",
    error="#ff7f70",
    success="#8ce0a0",
    accent="#ffc94d",
    foreground="#f4f1ea",
    background="#0d0f10",
    surface="#15181a",
    panel="#1c2023",
    dark=True,
    text_alpha=1.0,
    variables={
        "bench-quiet": "#b9b6ae",
        "bench-title": "#ffffff",
        "bench-count": "#ffffff",
        "bench-late": "#ffc94d",
        "bench-entry": "#7fd4ff",
        "bench-key": "#7fd4ff",
        "bench-caution": "#ffc94d",
        "bench-block-ground": "#ff7f70",
        "bench-block-text": "#0d0f10",
        "bench-remind-ground": "#ffc94d",
        "bench-remind-text": "#0d0f10",
    },
)
"""Register it with ``App.register_theme`` and choose it by its name, "bench"."""
