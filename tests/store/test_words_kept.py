"""Whatever somebody types is saved as it is and comes back as it was, whatever a terminal would make of it."""

from __future__ import annotations

import sys
import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest

from bench.model.recipe import Recipe
from bench.session.events import Noted
from bench.session.session import Session
from bench.store.journal import torn_file
from bench.store.paths import Home
from bench.store.recipes import save_recipe
from bench.store.sessions import create, list_sessions, open_for_resume, read
from bench.store.shelf import load_library
from tests.faults.played import CREATED, PATIENCE_S, kept, played

EVERY_CHARACTER = "".join(
    chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) not in ("Cs", "Cn", "Co")
)
"""All that Unicode has assigned (Unicode Standard, general categories), but halves of pairs and private use."""

WORDS = {
    "control characters": "".join(map(chr, (*range(32), *range(127, 160)))),
    "what clears a screen": "\x1b[2J\x1b[H\x1b]0;mine\x07\x9b31m\x1bc",
    "line breaks of every sort": "one\ntwo\rthree\r\nfour\x0bfive\x0csix\x85seven\u2028eight\u2029nine",
    "right to left": "דג, 12.5 גרם\u202e gnorw \u2066سمك\u2069 \u200f",
    "combining marks": "Ko\u0308der e\u0301 é Z͑ͫ̓ͪ̂ͫ̽͏̴̙̤̞͉͚̯̞̠͍A̴̵̜̰͔ͫ͗͢L̠ͨͧͩ͘G̴̻͈͍͔̹̑͗̎̅͛́Ǫ̵̹̻̝̳͂̌̌͘!͖̬̰̙̗̿̋ͥͥ̂ͣ̐́́͜͞",
    "families of pictures": "👩‍👩‍👧‍👦🎣🏴󠁧󠁢󠁳󠁣󠁴󠁿❤️",
    "no width": "a\u200bb\u200cc\u200dd\ufeffe\u00adf",
    "TOML": '"""\n[job]\nformat = 2\n\'\'\' # \\u0041 \\ \\" [[event]]\ncrc = "00000000"\n',
    "an event of its own": '"\n\n[[event]]\nkind = "completed"\ncrc = "00000000"\n\n[[event]]\n',
    "paths": "../../../etc/passwd C:\\Users\\ ~/x /dev/null CON",
    "spaces at both ends": "  \t two  spaces \t ",
    "nothing": "",
    "ten thousand letters": "Köder " * 1_667,
    "ten thousand control characters": "\x01" * 10_000,
    "ten thousand dots": "a." * 5_000,
    "ten thousand quotes": '"' * 10_000,
    "ten thousand lines": "\n" * 10_000,
    "half of them": EVERY_CHARACTER[::2],
    "the other half": EVERY_CHARACTER[1::2],
}


def noted(session: Session, text: str, second: float) -> Noted:
    """That note, so long after the latest event."""
    assert session.last is not None
    return Noted(at=replace(session.last, elapsed_s=session.last.elapsed_s + second), text=text)


@pytest.mark.parametrize("words", WORDS)
def test_a_note_comes_back_as_it_was_typed(words: str, tmp_path: Path) -> None:
    opened = kept(Home(tmp_path), played(), most=3)
    session = played().after[3]
    for second in (1.0, 2.0):
        event = noted(session, WORDS[words], second)
        session = session.after(event)
        opened.record(event)
    assert opened.close(session, PATIENCE_S)
    stored = read(opened.path)
    assert stored.session.notes == (WORDS[words],) * 2
    assert (stored.session, stored.torn, stored.edited) == (session, None, ())
    resumed = open_for_resume(opened.path)
    assert resumed.stored.session == session
    assert resumed.close(session, PATIENCE_S)
    assert read(opened.path).session == session
    assert not torn_file(opened.path).exists()
    assert [line.problem for line in list_sessions(opened.path.parent)] == [""]


def titled(session: Session, words: str) -> Session:
    """The session with these words as every title that is somebody's own."""
    job = session.job
    return replace(
        session,
        job=replace(
            job,
            recipe=replace(job.recipe, title=words, note=words, sources={"tail": words}),
            mould=replace(job.mould, title=words),
            plan=replace(job.plan, recipe_title=words, mould_title=words),
        ),
    )


@pytest.mark.parametrize("words", [name for name in WORDS if "half" not in name])
def test_titles_in_a_session_come_back_as_they_were(words: str, tmp_path: Path) -> None:
    """Up to two thousand characters: a profile with a longer one does not load."""
    session = titled(played().idle, WORDS[words][:2_000])
    opened = create(Home(tmp_path), session, created=CREATED)
    assert opened.close(session, PATIENCE_S)
    stored = read(opened.path)
    assert (stored.session, stored.torn, stored.edited) == (session, None, ())
    (listed,) = list_sessions(opened.path.parent)
    assert listed.problem == ""
    assert listed.summary is not None
    assert listed.summary.recipe == WORDS[words][:2_000]


@pytest.mark.parametrize("words", ["combining marks", "families of pictures", "TOML", "paths"])
def test_the_note_of_a_recipe_comes_back_as_it_was_typed(words: str, tmp_path: Path) -> None:
    home = Home(tmp_path)
    recipe = load_library(home)[0].recipes["ember-under-peat"]
    text = WORDS[words].replace("\u200d", "")
    mine: Recipe = replace(recipe, name="mine", note=text, title=text)
    save_recipe(home, mine)
    library, faults = load_library(home)
    assert faults == ()
    assert library.recipes["mine"] == mine
