"""Folders that take nothing, and files too large to be read: said in a sentence, with what is there still seen."""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from bench.errors import BenchError
from bench.model.recipe import Recipe
from bench.store.onlooker import Onlooker
from bench.store.paths import Home
from bench.store.recipes import save_recipe
from bench.store.sessions import create, list_sessions, open_for_resume, read
from bench.store.shelf import load_library
from tests.faults.corpus import READ
from tests.faults.played import CREATED, PATIENCE_S, kept, played
from tests.faults.tally import DONE
from tests.faults.telling import soon, told

NOBODY = 65_534
"""The user that owns nothing (common practice of Unix systems, no source)."""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="modes and users of POSIX")


@contextmanager
def without_rights() -> Iterator[None]:
    """As a user to whom modes apply: they hold nobody up who is root."""
    if os.geteuid() != 0:
        yield
        return
    os.setegid(NOBODY)
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)
        os.setegid(0)


@pytest.fixture
def home() -> Iterator[Home]:
    """A home whose parents everybody may enter."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield Home(folder / "home")
    for path in [folder, *folder.rglob("*")]:
        with suppress(OSError):
            path.chmod(0o755)
    shutil.rmtree(folder)


def closed_to_writing(home: Home) -> None:
    """Take the right to write from every folder and file."""
    for path in [home.root, *home.root.rglob("*")]:
        path.chmod(0o555 if path.is_dir() else 0o444)


def everything_is_imported(session: Path, recipe: Recipe, elsewhere: Home) -> None:
    """Do it all once while everything may be read: the program's own files too are closed to nobody."""
    read(session)
    save_recipe(elsewhere, recipe, over=True)
    load_library(elsewhere)
    with pytest.raises(BenchError):
        read(session.with_name("none.toml"))


def test_in_a_folder_that_takes_nothing_everything_is_read_and_nothing_is_called_saved(
    home: Home, tmp_path: Path
) -> None:
    session = played()
    opened = kept(home, session, most=6)
    opened.close(session.after[6], PATIENCE_S)
    recipe = load_library(home)[0].recipes["ember-under-peat"]
    everything_is_imported(opened.path, recipe, Home(tmp_path))
    closed_to_writing(home)
    with without_rights():
        for attempt in (
            lambda: create(home, session.idle, created=CREATED),
            lambda: open_for_resume(opened.path),
            lambda: save_recipe(home, recipe, over=True),
        ):
            with pytest.raises(BenchError, match=r"(permission denied|read-only file system)$") as caught:
                attempt()
            assert len(str(caught.value).splitlines()) == 1
        assert read(opened.path).session == session.after[6]
        assert Onlooker(opened.path).look().stored.session == session.after[6]
        assert [line.problem for line in list_sessions(home.sessions)] == [""]
    assert sorted(path.name for path in home.root.rglob("*")) == ["2026-01-31T0900-ember.toml", "sessions"]


def test_a_folder_that_is_closed_in_mid_session_and_opened_again_loses_nothing(home: Home) -> None:
    session = played()
    opened = kept(home, session, most=6)
    read(opened.path)
    closed_to_writing(home)
    with without_rights():
        opened.record(session.events[6])
        end = time.monotonic() + PATIENCE_S
        while (problem := opened.recorder.problem) is None and time.monotonic() < end:
            assert not opened.recorder.flush(0.01), "the folder was closed"
        assert problem is not None
        assert problem.endswith("cannot be written: permission denied")
    opened.path.chmod(0o644)
    opened.path.parent.chmod(0o755)
    opened.record(session.events[7])
    assert opened.close(session.after[8], PATIENCE_S)
    assert read(opened.path).session == session.after[8]


def test_a_folder_that_cannot_even_be_looked_into_is_told(home: Home) -> None:
    session = played()
    opened = kept(home, session, most=6)
    opened.close(session.after[6], PATIENCE_S)
    read(opened.path)
    home.sessions.chmod(0o000)
    with without_rights():
        (listed,) = list_sessions(home.sessions)
        assert "permission denied" in listed.problem
        for attempt in (lambda: open_for_resume(opened.path), lambda: read(opened.path)):
            with pytest.raises(BenchError, match="permission denied"):
                attempt()


@pytest.mark.parametrize("sort", READ)
def test_a_file_of_a_terabyte_is_refused_at_once(sort: str, tmp_path: Path) -> None:
    """A file with a hole in it: the system says its size and gives zeros (POSIX.1-2017, ftruncate)."""
    file = tmp_path / f"{sort}.toml"
    file.touch()
    try:
        os.truncate(file, 2**40)
    except OSError:
        os.truncate(file, 2**33)
    (sentence,) = soon(sort, file)
    assert "MB, wanted at most" in sentence
    DONE["giant files refused"] += 1


HEADS = (
    "[t{}]\n",
    "k{} = 1\n",
    "[[a]]\n",
    "[a.b.c.d.e.f.g.h.i.j.k.l{}]\n",
    '\\"""\n',
    "#\n",
    '[[event]]\nkind = "noted"\n',
)


@pytest.mark.parametrize("size", [pytest.param(950_000, marks=pytest.mark.nightly), 4_900_000])
@pytest.mark.parametrize(
    "line", [pytest.param(line, marks=[pytest.mark.nightly] * (line != HEADS[0])) for line in HEADS]
)
def test_a_giant_head_of_a_session_is_read_or_refused_soon(line: str, size: int, tmp_path: Path) -> None:
    opened = kept(Home(tmp_path), played(), most=3)
    opened.close(played().after[3], PATIENCE_S)
    head, summary, rest = opened.path.read_bytes().partition(b"\n[summary]")
    number = (size - len(head) - len(rest)) // len(line.format(10_000))
    filling = "".join(line.format(place) for place in range(number)).encode()
    told("sessions", head + b"\n" + filling + summary + rest, opened.path)
    DONE["giant files refused"] += size > 1_000_000


def test_what_is_no_file_is_never_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    endless = tmp_path / "endless.toml"
    endless.symlink_to("/dev/zero")
    around = tmp_path / "around.toml"
    around.symlink_to(around)
    for sort, read_one in READ.items():
        for file in (pipe, endless, around):
            (sentence,) = read_one(file)
            assert sentence.startswith(f"{file}: found "), sort
