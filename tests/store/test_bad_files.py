"""One broken file per mistake in tests/bad, each saying on its first lines exactly what the user is told.

``# expect: `` is followed by the sentence without the file's name; FILE stands for that name.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from bench.model.settings import Settings
from bench.store.check import SETTINGS, check
from bench.store.decode import decode
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import CAUTIONS, RECORD_TYPES

BAD = Path(__file__).parent.parent / "bad"
FILES = sorted(BAD.rglob("*.toml"))
EXPECT = "# expect: "


def _told(tmp_path: Path, file: Path) -> list[str]:
    sentences = [fault.sentence() for fault in check(Home(tmp_path / "none"), [file])]
    assert all(sentence.startswith(f"{file}: ") for sentence in sentences)
    return [sentence.removeprefix(f"{file}: ").replace(str(file), "FILE") for sentence in sentences]


@pytest.mark.parametrize("file", FILES, ids=lambda file: "/".join(file.parts[-2:]))
def test_the_user_is_told_exactly_this(tmp_path: Path, file: Path) -> None:
    lines = file.read_text(encoding="utf-8").splitlines()
    expected = [line.removeprefix(EXPECT) for line in lines if line.startswith(EXPECT)]
    assert expected, "a broken file says what is expected of it"
    assert _told(tmp_path, file) == expected


def test_every_kind_of_profile_has_its_broken_files() -> None:
    assert set(RECORD_TYPES) <= {file.parent.name for file in FILES}
    for kind in RECORD_TYPES:
        assert len(list((BAD / kind).glob("*.toml"))) >= 5, kind


def test_all_mistakes_of_one_file_are_told_at_once(tmp_path: Path) -> None:
    """Five mistakes; the misspelt key counts twice, as the right one is missing too."""
    assert len(_told(tmp_path, BAD / "plastics" / "five-mistakes.toml")) == 6


BYTES = {
    "empty": (b"", "found an empty file, wanted format = 1 at the top."),
    "only a comment": (b"# later\n", "found an empty file, wanted format = 1 at the top."),
    "only a mark of byte order": (b"\xef\xbb\xbf", "found an empty file, wanted format = 1 at the top."),
    "Latin 1": (b'format = 1\ntitle = "caf\xe9"\n', "line 2: found a byte that is not UTF-8, wanted UTF-8 text."),
    "UTF-16": ("format = 1\n".encode("utf-16"), "line 1: found a byte that is not UTF-8, wanted UTF-8 text."),
    "nul bytes": (
        b"\0" * 64,
        'line 1: found text that is not TOML (invalid statement), wanted TOML such as plastic = "quillmere-soft".',
    ),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "line 1: found a byte that is not UTF-8, wanted UTF-8 text."),
    "deep nesting": (b"a = " + b"[" * 8000, "found brackets nested too deeply, wanted TOML such as"),
    "deep tables": (b"a = " + b"{a = " * 3000, "found brackets nested too deeply, wanted TOML such as"),
    "endless number": (
        b"format = " + b"1" * 5000,
        "found a number or date out of all bounds, wanted TOML such as",
    ),
    "no such day": (
        b"a = 2026-02-31\n",
        "line 1: found ‘a = 2026-02-31’, which is not TOML (invalid date or datetime), wanted",
    ),
    "a long line": (
        b'format = 1\na = "' + b"x" * 20_000 + b'"',
        "line 2: found 20006 characters, wanted at most 16",
    ),
    "a long key": (
        b"format = 1\n" + b"a." * 8000 + b"a = 1",
        "line 2: found a key of more than 12 parts, wanted a",
    ),
    "a long quoted key": (
        b"'a b' . " * 100 + b"a = 1",
        "line 1: found a key of more than 12 parts, wanted a shorter",
    ),
    "a file of long words": (
        (b"x" * 16_000 + b"\n") * 30,
        f"line 1: found ‘{'x' * 40}…’, which is not TOML (expected '=' after",
    ),
    "a file of quotes": (
        (b'"' * 16_000 + b"\n") * 30,
        "line 1: found ‘" + '"' * 40 + "…’, which is not TOML (expected '=' after a",
    ),
    "many long lines": ((b"a." * 5000 + b"a = 1\n") * 40, "line 1: found a key of more than 12 parts, wanted a"),
}


@pytest.mark.parametrize("case", BYTES)
def test_whatever_lies_in_a_file_the_answer_is_one_sentence(tmp_path: Path, case: str) -> None:
    data, expected = BYTES[case]
    file = tmp_path / "recipes" / "broken.toml"
    file.parent.mkdir()
    file.write_bytes(data)
    (sentence,) = _told(tmp_path, file)
    assert sentence.startswith(expected)
    assert "\n" not in sentence


def test_fifty_megabytes_are_refused_by_size(tmp_path: Path) -> None:
    file = tmp_path / "recipes" / "huge.toml"
    file.parent.mkdir()
    with file.open("wb") as handle:
        handle.truncate(50_000_000)
    assert _told(tmp_path, file) == ["found 50.0 MB, wanted at most 0.5 MB."]


@pytest.mark.parametrize("place", [*(f"{kind}/own.toml" for kind in RECORD_TYPES), CAUTIONS, SETTINGS])
def test_the_line_shown_as_an_example_is_one_of_that_kind_of_file(tmp_path: Path, place: str) -> None:
    """Each of them stands in that kind of file as it ships, but for settings, of which none ships."""
    file = tmp_path / place
    file.parent.mkdir(exist_ok=True)
    file.write_text("format = 1\nname: own\n", encoding="utf-8")
    (sentence,) = _told(tmp_path, file)
    start = "line 2: found ‘name: own’, which is not TOML (expected '=' after a key in a key/value pair), wanted"
    example = sentence.removeprefix(f"{start} TOML such as ").removesuffix(".")
    folder = shipped_profiles() / place
    shipped = folder.parent.glob("*.toml") if place.endswith("own.toml") else [folder]
    if place == SETTINGS:
        assert decode(Settings, tomllib.loads(example), file="x").units == "us"
    else:
        key = example.partition(" =")[0]
        assert any(f"\n{key} = " in each.read_text(encoding="utf-8") for each in shipped)


@pytest.mark.parametrize("folder", ["sessions", "rehearsals"])
def test_a_line_that_the_program_wrote_is_not_shown_another_kind_of_file(tmp_path: Path, folder: str) -> None:
    file = tmp_path / folder / "a.toml"
    file.parent.mkdir()
    file.write_text("format: 1\n", encoding="utf-8")
    (sentence,) = _told(tmp_path, file)
    assert sentence.endswith("wanted the line as the program wrote it.")
