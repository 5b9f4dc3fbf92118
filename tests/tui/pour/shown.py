"""What stands on a painted screen, as text."""

from __future__ import annotations

from collections.abc import Iterable

from bench.tui.widgets.lines import Line


def texts_of(painted: Iterable[Line]) -> list[str]:
    """Each row as it reads."""
    return ["".join(piece.text for piece in row) for row in painted]


def whole_text(painted: Iterable[Line]) -> str:
    """All rows, one below the other."""
    return "\n".join(texts_of(painted))
