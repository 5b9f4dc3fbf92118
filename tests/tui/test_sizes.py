"""Every screen in windows from 40 by 12 to 300 by 100, resized while it is shown: nothing breaks, and the next
action, and the countdown where there is one, are always in sight."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.screen import Screen

from bench.tui.app import BenchApp
from bench.tui.saved import SavedState, leaving_line
from bench.tui.screens.another import WORDS as ANOTHER
from bench.tui.screens.another import AnotherScreen
from bench.tui.screens.aside import HEAT as SET_ASIDE_HEAT
from bench.tui.screens.aside import REASONS as SET_ASIDE_REASONS
from bench.tui.screens.aside import SetAsideScreen
from bench.tui.screens.leave import HOT, LeaveScreen
from bench.tui.widgets.board import Board
from bench.tui.widgets.lines import Tone
from bench.tui.widgets.waits import Waits
from tests.tui.main_screens import SCREENS, opened
from tests.tui.running import screen_text, until

CORNERS = ((40, 12), (300, 100), (40, 100), (300, 12), (71, 19), (80, 24))
"""The smallest, the largest, the odd ones and the usual one, in every run."""

BETWEEN = ((60, 16), (100, 30), (120, 40), (72, 20), (200, 60), (240, 70), (130, 36))
"""In long runs."""

TINY = ((1, 1), (12, 3), (39, 11))
"""Nobody works in these; a window may be dragged through them."""

NEXT: Mapping[str, str] = {
    "bench": "Enter resume",
    "bench help": "any other key closes this",
    "colour help": "any other key closes this",
    "set aside": "1–5 set aside  Esc keep it",
    "reading": "Enter go on",
    "leave": "Y leave  Esc stay",
    "pedal": "Esc back, nothing kept",
    "past": "Enter read",
    "past session": "Esc back",
    "pour: start": "Space start",
    "pour: card": "A I have read it",
    "pour: heat": "0–9 reading",
    "pour: set": "Space done",
    "pour: shot": "Space done",
    "pour: alarm": "A I have read this",
    "help": "any other key closes this",
    "finish": "back to the bench",
}
"""The key that goes on, as each screen names it."""

COUNTING = {"pour: set": Tone.COUNT}
"""Where something counts, and the tone of its figures."""


def test_every_screen_is_looked_at() -> None:
    assert NEXT.keys() == SCREENS.keys()


def counts(app: BenchApp, tone: Tone) -> bool:
    rows = app.screen.query_one(Board)._rows
    return any(piece.tone is tone and piece.text.strip() for row in rows for piece in row)


def fits(app: BenchApp, name: str, window: tuple[int, int]) -> bool:
    """Whether the screen has taken the window's size and says what comes next."""
    lines = screen_text(app).split("\n")
    shown = len(lines) == window[1] and NEXT[name] in "\n".join(lines)
    return shown and (name not in COUNTING or counts(app, COUNTING[name]))


@pytest.mark.parametrize("windows", [CORNERS, pytest.param(BETWEEN, marks=pytest.mark.nightly)], ids=len)
@pytest.mark.parametrize("name", SCREENS)
async def test_the_next_action_is_in_sight_in_every_window(
    name: str, windows: Sequence[tuple[int, int]], tmp_path: Path
) -> None:
    async with opened(name, tmp_path, size=(80, 24), unfinished=7) as app:
        for window in (*windows, *TINY, windows[0]):
            await Pilot(app).resize_terminal(*window)
            if window in TINY:
                continue
            try:
                await until(partial(fits, app, name, window))
            except AssertionError:
                pytest.fail(f"{name} in {window}:\n{screen_text(app)}")
        assert app._exception is None


async def test_what_waits_leaves_room_for_the_choice(tmp_path: Path) -> None:
    async with opened("bench", tmp_path, size=(80, 24), unfinished=12) as app:
        await until(lambda: "and 9 more: ↓" in screen_text(app))
        assert screen_text(app).count("Resume  ") == 3
        for words in ("Ember under Peat", "Ribbon leech", "How many  8", "8 baits in 2 rounds"):
            await until(lambda words=words: words in screen_text(app))  # type: ignore[misc]


LONG_NAME = "Weathered copper halo over bog myrtle dusk, second try"


@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_a_question_about_a_session_that_waits_is_whole_with_the_longest_names(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with opened("bench", tmp_path, size=size) as app:
        waits = replace(app.bench.query_one(Waits).waiting.unfinished[0], recipe=LONG_NAME, mould=LONG_NAME)
        problem = SavedState(events_waiting=12, problem="the disk is full")
        asked: Mapping[Screen[Any], tuple[str, ...]] = {
            SetAsideScreen(waits): (SET_ASIDE_HEAT, *SET_ASIDE_REASONS, "1–5 set aside Esc keep it"),
            AnotherScreen(waits, waits.last): (ANOTHER, "R resume it N new pour Esc back"),
            LeaveScreen(problem): (leaving_line(problem), HOT, "Y leave Esc stay"),
        }
        for screen, said in asked.items():
            app.push_screen(screen)
            await until(lambda said=said: all(words in plain(screen_text(app)) for words in said))  # type: ignore[misc]
            screen.dismiss(None)
            await until(lambda: app.screen is app.bench)


def plain(text: str) -> str:
    """The words alone, without the frame around them."""
    return " ".join(text.replace("│", " ").split())
