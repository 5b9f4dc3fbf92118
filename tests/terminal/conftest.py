"""Terminals that are gone when the test is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.terminal.hop import Hops
from tests.terminal.term import Term

Start = Callable[..., Term]

QUIET = "format = 1\nkeep_awake = false\nsound.on = false\nspeech.on = false\n"
"""Nobody wants a machine that talks while its tests run."""


def quieten(home: Path) -> None:
    """Settings for a home that has none."""
    settings = home / "settings.toml"
    if not settings.exists():
        settings.parent.mkdir(parents=True, exist_ok=True)
        settings.write_text(QUIET, encoding="utf-8")


@pytest.fixture
def hops(tmp_path: Path) -> Hops:
    """How far the clock of a program that ``start`` began with ``HOPPING`` is ahead of the machine's."""
    return Hops(tmp_path / "home")


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    """Starts the program in a home of its own, as often as asked; every run is ended afterwards."""
    terms: list[Term] = []

    def begin(*argv: str, columns: int = 80, rows: int = 24, code: str = "") -> Term:
        quieten(tmp_path / "home")
        term = Term(tmp_path / "home", argv, columns=columns, rows=rows, code=code)
        terms.append(term)
        return term

    yield begin
    for term in terms:
        term.end()
