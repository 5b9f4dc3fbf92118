"""Names and notes that a terminal would obey, through the real program: shown as text, and as nothing else."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
import tomli_w

from bench.__main__ import main
from bench.clock import SystemClock
from bench.plan.records import Ask
from bench.session.events import Noted, Started
from bench.session.prepare import prepare
from bench.store.paths import Home
from bench.store.sessions import create
from bench.store.shelf import load_library
from tests.faults.played import PATIENCE_S
from tests.terminal.conftest import Start
from tests.terminal.term import Term

OBEYED = ("\x1b[38;5;199m", "\x1b]0;owned\x07", "\x9b38;5;199m", "\u202e", "\u2066", "\x1b[6n")
"""A colour, a window title, a colour by one 8-bit character (ECMA-48), reading directions, a question that the
terminal answers by typing."""

TITLE = "Odd [@click=app.quit]bait[/] [/] שלום e" + "\u0301" * 40 + " \U0001f9ff" + " long" * 380
"""Markup, a script that reads from the right, a pile of accents, nearly as long as a title may be."""

NOTE = "Odd [@click=app.quit]note[/] [/] " + "".join(OBEYED) + TITLE + " long" * 2000

RECIPE = {
    "format": 1,
    "name": "odd",
    "title": TITLE,
    "build": "plain",
    "plastic": "quillmere-firm",
    "parts": {"body": {"margin": "5 %", "doses": [{"colourant": "peat-brown", "load": "0.6 %"}]}},
    "sources": {"parts.body.margin": "starting value", "parts.body.doses": "starting value"},
}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A home with that recipe, and a session of it in which somebody wrote that note."""
    folder = tmp_path / "home"
    (folder / "profiles" / "recipes").mkdir(parents=True)
    (folder / "profiles" / "recipes" / "odd.toml").write_text(tomli_w.dumps(RECIPE), encoding="utf-8")
    library, faults = load_library(Home(folder))
    assert not faults
    session = prepare(library, recipe="odd", mould="long-reed-6", ask=Ask(count=6))
    clock = SystemClock()
    file = create(Home(folder), session, created=clock.now().wall)
    for event in (Started(at=clock.now()), Noted(at=clock.now(), text=NOTE)):
        session = session.after(event)
        file.record(event)
    assert file.close(session, PATIENCE_S)
    return folder


def is_harmless(text: str) -> bool:
    """Whether the text holds nothing that a terminal obeys."""
    return not any(piece in text for piece in OBEYED) and not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", text)


@pytest.mark.parametrize(
    "verb",
    [
        ("plan", "odd", "--mould", "long-reed-6", "--count", "6"),
        ("look", "odd", "--mould", "long-reed-6"),
        ("log",),
        ("log", "show", "2"),
    ],
    ids=lambda verb: " ".join(verb[:2]),
)
def test_verbs_print_text_only(verb: tuple[str, ...], home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["--home", str(home), *verb])
    out, err = capsys.readouterr()
    assert code == 0, err
    assert is_harmless(out + err)
    assert "[@click=app.quit]" in out
    assert verb[:2] == ("log", "show") or len(out) < 20_000, "cut with a mark, but for a note in its own log"


def test_a_profile_that_a_terminal_would_obey_is_refused_in_words_that_it_does_not(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = home / "profiles" / "recipes" / "bad.toml"
    bad.write_text(tomli_w.dumps({**RECIPE, "name": "bad", "title": NOTE[:1000]}), encoding="utf-8")
    assert main(["--home", str(home), "check"]) == 1
    out, err = capsys.readouterr()
    assert "U+001B" in out + err
    assert is_harmless(out + err)


def seen(term: Term) -> None:
    """Nothing of it reached the terminal as anything but text."""
    term.rest(0.3)
    for piece in OBEYED:
        assert piece.encode() not in term.sent, repr(piece)
    assert term.code is None


def test_screens_show_text_only(home: Path, start: Start) -> None:
    term = start("pour", "odd", "--mould", "long-reed-6", "--count", "6", columns=160, rows=45)
    term.see("Odd [@click=app.quit]bait[/]", "N new pour")
    term.press_for("n", "Space start")
    term.press_for("space", "READ THIS CARD")
    seen(term)
    term.press_for("n", "Enter keeps it")
    os.write(term.fd, b"\x1b[200~" + NOTE.replace("\x1b", "")[:3000].encode() + b"\x1b[201~")
    term.see("[@click=app.quit]")
    term.press("enter")
    seen(term)


def test_the_bench_shows_text_only(home: Path, start: Start) -> None:
    term = start(columns=160, rows=45)
    term.see("Odd [@click=app.quit]bait[/]", "Enter resume")
    seen(term)
    term.press("enter")
    term.see("READ THIS CARD", "Odd [@click=app.quit]bait[/]")
    seen(term)
