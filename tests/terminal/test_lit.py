"""The desktop is asked to leave the screen lit while a session runs, and at no other time."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.signals.talkers import lines
from tests.terminal.conftest import QUIET, Start
from tests.terminal.term import WITHIN_S, Term

_FAKE = """
import contextlib, os, sys, types
def note(word):
    with open({record!r}, "a", encoding="utf-8") as record:
        record.write(word + "\\n")
class Keep:
    @staticmethod
    @contextlib.contextmanager
    def presenting(on_fail):
        note("lit")
        yield types.SimpleNamespace(active=True)
        note("dark")
sys.modules["wakepy"] = types.ModuleType("wakepy")
sys.modules["wakepy"].keep = Keep
from bench.__main__ import main
sys.exit(main())
"""
"""The program with a desktop that only notes what it is asked."""

REHEARSE = ("rehearse", "peat-plain", "--mould", "long-reed-6", "--count", "6", "--speed", "1")


@pytest.fixture
def record(tmp_path: Path) -> Path:
    """Where the desktop notes; the user's settings leave it to be asked."""
    (tmp_path / "home").mkdir()
    awake = QUIET.replace("keep_awake = false", "keep_awake = true")
    (tmp_path / "home" / "settings.toml").write_text(awake, encoding="utf-8")
    return tmp_path / "record"


def noted(record: Path, term: Term, count: int) -> list[str]:
    """What was noted, once there is so much of it."""
    end = time.monotonic() + WITHIN_S
    while len(lines(record)) < count and time.monotonic() < end:
        term.pump()
    return lines(record)


def test_from_the_opening_of_a_session_to_its_leaving(start: Start, record: Path) -> None:
    term = start(*REHEARSE, code=_FAKE.format(record=str(record)))
    term.see("Space start")
    assert noted(record, term, 1) == ["lit"]
    term.press_for("space", "READ THIS CARD")
    term.press("q", "q")
    term.see("Recipe")
    assert noted(record, term, 2) == ["lit", "dark"]


def test_not_for_a_plan_or_a_colour(start: Start, record: Path) -> None:
    term = start(code=_FAKE.format(record=str(record)))
    term.see("baits in")
    term.press("c")
    term.see("variants")
    term.rest(0.3)
    assert lines(record) == []


def test_not_where_settings_say_no(start: Start, record: Path, tmp_path: Path) -> None:
    (tmp_path / "home" / "settings.toml").write_text(QUIET, encoding="utf-8")
    term = start(*REHEARSE, code=_FAKE.format(record=str(record)))
    term.see("Space start")
    term.rest(0.3)
    assert lines(record) == []
