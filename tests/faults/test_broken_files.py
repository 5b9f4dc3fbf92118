"""Whatever lies in a file, the user is told in plain lines, soon; nothing is a defect of ours."""

from __future__ import annotations

import random
import resource
import tracemalloc
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet

from tests.faults.corpus import READ, Sample, load_library_once, samples
from tests.faults.mutate import mutated
from tests.faults.tally import DONE, worst
from tests.faults.telling import told

WITHIN_MB = 200.0
SEED = 20260131


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> list[Sample]:
    """Files as they ought to be, and those that are wrong already."""
    load_library_once()
    return samples(tmp_path_factory.mktemp("corpus"))


def break_files(whole: list[Sample], folder: Path, *, number: int, seed: int) -> None:
    """Break so many files and have each read."""
    chance = random.Random(seed)
    others = [sample.data for sample in whole]
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    for _ in range(number):
        sample = chance.choice(whole)
        data = mutated(chance, sample.data, others)
        sentences = told(sample.sort, data, folder / f"{sample.sort}.toml")
        DONE["broken files"] += 1
        DONE["sentences told of them"] += len(sentences)
        DONE["of them still sound"] += not sentences
    grown_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    worst("MB of memory more after all of them", grown_mb)
    assert grown_mb < WITHIN_MB


def test_some_hundred_broken_files_are_told_in_plain_lines(whole: list[Sample], tmp_path: Path) -> None:
    break_files(whole, tmp_path, number=400, seed=SEED)


@pytest.mark.nightly
@pytest.mark.parametrize("part", range(20))
def test_a_hundred_thousand_broken_files(part: int, whole: list[Sample], tmp_path: Path) -> None:
    break_files(whole, tmp_path, number=5_000, seed=part)


SIZE = 480_000
"""Bytes, just under what is read at all."""


def filled(line: str, size: int = SIZE) -> str:
    """Lines of that pattern with their number in it, up to that size."""
    text = [line.format(number) for number in range(size // len(line.format(10_000)))]
    return "format = 1\n" + "".join(text)


BOMBS = {
    "brackets": "a = " + "[" * 16_000,
    "braces": "a = " + "{a = " * 3_000,
    "brackets closed": "a = " + "[" * 300 + "]" * 300,
    "tables in tables": "doses = [" + "{a = " * 120 + "1" + "}" * 120 + "]",
    "sources in sources": "sources = " + "{a = " * 120 + "1" + "}" * 120,
    "a key of twenty thousand parts": ".".join("a" * 20_000) + " = 1",
    "keys of eight thousand parts": (".".join("a" * 8_000) + " = 1\n") * 30,
    "quoted keys": ('"\\"".' * 3_000 + "a = 1\n") * 30,
    "keys behind quotes": ('x = {y = """a"""", ' + "b." * 8_000 + 'b = "z"}\n') * 20,
    "unclosed texts": filled('\\"""\n'),
    "unclosed literal texts": filled("x'''\n"),
    "quotes": ('"' * 16_000 + "\n") * 30,
    "keys": filled("k{} = 1\n"),
    "tables": filled("[t{}]\n"),
    "tables in a list": filled("[[a]]\n"),
    "parts": filled("[parts.p{}]\n"),
    "cautions": filled("[[caution]]\n"),
    "cautions of one name": filled('[[caution]]\nname = "a"\n'),
    "dotted tables": filled("[a.b.c.d.e.f.g.h.i.j.k.l{}]\n"),
    "sources": filled('[sources]\nx = "y"\n', 30) + filled("k{} = ''\n"),
    "empty lists": "a = [\n" + ("[]," * 5_000 + "\n") * 31 + "]",
    "empty doses": "doses = [\n" + ("{}," * 5_000 + "\n") * 31 + "]",
    "empty parts": "parts = {shell = {doses = [\n" + ("{}," * 5_000 + "\n") * 31 + "]}}",
    "numbers": "swatches = [\n" + ("1," * 8_000 + "\n") * 29 + "]",
    "a huge integer": "cavities = " + "9" * 4_299,
    "a huger integer": "cavities = 0x" + "f" * 16_000,
    "a giant text": 'title = "' + "x" * 16_000 + '"',
    "a giant text of many lines": 'title = """\n' + ("x" * 16_000 + "\n") * 29 + '"""',
    "a giant escaped text": 'title = """\n' + ("\\t" * 8_000 + "\n") * 29 + '"""',
    "a giant name": 'name = "' + "../" * 5_000 + '"',
    "a giant key": '"' + "x" * 16_000 + '" = 1',
    "giant keys": filled('"' + "x" * 8_000 + '{}" = 1\n'),
    "comments": filled("#\n"),
    "empty lines": filled("\n"),
    "a giant line": "x" * SIZE,
}

LARGEST = (("recipes", "tables"),)
"""That which took most memory."""


WORST_BOMBS = (
    "brackets", "braces", "a key of twenty thousand parts", "keys behind quotes", "unclosed texts", "tables",
    "sources", "empty doses", "a huger integer", "a giant name", "a giant line",
)  # fmt: skip
"""One of each sort, in every run."""


def marked(bombs: Iterable[str], often: Sequence[str]) -> list[ParameterSet]:
    """These bombs, most of them for long runs only."""
    return [pytest.param(bomb, marks=[] if bomb in often else [pytest.mark.nightly]) for bomb in bombs]


@pytest.mark.parametrize("bomb", marked(BOMBS, WORST_BOMBS))
def test_a_file_made_to_choke_the_reader_is_refused_soon(bomb: str, whole: list[Sample], tmp_path: Path) -> None:
    assert told("recipes", BOMBS[bomb].encode(), tmp_path / "recipes.toml"), "a bomb is no sound file"
    DONE["files made to choke the reader"] += 1


@pytest.mark.nightly
@pytest.mark.parametrize("sort", READ)
@pytest.mark.parametrize("bomb", BOMBS)
def test_in_the_place_of_any_file(bomb: str, sort: str, whole: list[Sample], tmp_path: Path) -> None:
    for head in ("", "format = 1\n"):
        told(sort, (head + BOMBS[bomb].removeprefix("format = 1\n")).encode(), tmp_path / f"{sort}.toml")
        DONE["files made to choke the reader"] += 1


IN_SESSIONS = ("tables", "parts", "keys", "a key of twenty thousand parts", "brackets")


@pytest.mark.parametrize("bomb", marked(IN_SESSIONS, ["tables", "a key of twenty thousand parts"]))
def test_in_the_head_of_a_session_too(bomb: str, whole: list[Sample], tmp_path: Path) -> None:
    head = next(sample.data for sample in whole if sample.sort == "sessions")
    data = head.replace(
        b"\n[summary]", b"\n" + BOMBS[bomb].removeprefix("format = 1\n").encode() + b"\n[summary]", 1
    )
    assert told("sessions", data, tmp_path / "session.toml")
    DONE["files made to choke the reader"] += 1


IN_MEMORY = [
    pytest.param(sort, bomb, marks=[] if (sort, bomb) in LARGEST else [pytest.mark.nightly])
    for sort in READ
    for bomb in BOMBS
]


@pytest.mark.parametrize(("sort", "bomb"), IN_MEMORY)
def test_and_in_little_memory(sort: str, bomb: str, whole: list[Sample], tmp_path: Path) -> None:
    file = tmp_path / f"{sort}.toml"
    file.write_text("format = 1\n" + BOMBS[bomb].removeprefix("format = 1\n"), encoding="utf-8")
    tracemalloc.start()
    READ[sort](file)
    peak_mb = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    worst("MB for one file made to choke the reader", peak_mb)
    assert peak_mb < WITHIN_MB


def test_a_file_name_with_control_characters_reaches_no_terminal(tmp_path: Path) -> None:
    file = tmp_path / "a\n\x1b[2J\udcff.toml"
    file.write_bytes(b"format = 2\n")
    for sort, read in READ.items():
        for sentence in read(file):
            assert sentence.isprintable(), sort
