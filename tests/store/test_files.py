"""Reading files: what is there, what is not, and what only looks like a file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from bench.errors import FaultyFiles
from bench.store.files import LARGEST_FILE, LARGEST_TABLE, parse_text, read_bytes, read_table


def _sentence(path: Path) -> str:
    with pytest.raises(FaultyFiles) as caught:
        read_table(path)
    return str(caught.value).removeprefix(f"{path}: ")


def test_the_table_comes_without_its_format(tmp_path: Path) -> None:
    file = tmp_path / "a.toml"
    file.write_text('format = 1\nname = "é"\n', encoding="utf-8")
    assert read_table(file) == {"name": "é"}


def test_a_mark_of_byte_order_and_windows_lines_are_fine(tmp_path: Path) -> None:
    file = tmp_path / "a.toml"
    file.write_bytes(b'\xef\xbb\xbfformat = 1\r\nname = "a"\r\n')
    assert read_table(file) == {"name": "a"}


def test_the_largest_size_is_still_read(tmp_path: Path) -> None:
    file = tmp_path / "a.toml"
    text = b"format = 1\n"
    file.write_bytes(text + b"\n" * (LARGEST_TABLE - len(text)))
    assert read_table(file) == {}
    file.write_bytes(text + b"\n" * (LARGEST_TABLE - len(text) + 1))
    assert _sentence(file) == "found 0.5 MB, wanted at most 0.5 MB."


def test_nothing_a_folder_and_a_loop_are_named_for_what_they_are(tmp_path: Path) -> None:
    loop = tmp_path / "loop.toml"
    loop.symlink_to(loop)
    assert _sentence(tmp_path / "none.toml") == "found nothing, wanted a file."
    assert _sentence(tmp_path) == "found a folder, wanted a file."
    assert _sentence(loop).startswith("found a file that cannot be read (")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    assert _sentence(pipe) == "found something that is not a file, wanted a file."


def test_a_file_that_may_not_be_read_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "a.toml"
    file.write_bytes(b"format = 1\n")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert _sentence(file) == "found a file that cannot be read (permission denied), wanted a file."


def test_a_file_that_grew_after_it_was_looked_at_is_still_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    small, large = tmp_path / "small.toml", tmp_path / "large.toml"
    small.write_bytes(b"format = 1\n")
    with large.open("wb") as handle:
        handle.truncate(LARGEST_FILE + 10)
    status = small.stat()
    monkeypatch.setattr(Path, "stat", lambda *_, **__: status)
    with pytest.raises(FaultyFiles, match=r"found 5\.0 MB, wanted at most 5 MB"):
        read_bytes(large)


DOTS = ".".join("abcdefghijklmnop")


@pytest.mark.parametrize(
    "text",
    [
        f'a = "{DOTS}"',
        f"a = '{DOTS}'",
        f'a = "\\"{DOTS}"',
        f'a = """\n\\"""{DOTS}\n{DOTS}""""\nb = 1',
        f"a = '''\n{DOTS}\n''{DOTS}'''",
        f"a = 1 # {DOTS}",
        f"a = [{', '.join(['0.5'] * 40)}]",
    ],
)
def test_dots_in_texts_and_comments_are_no_long_key(text: str) -> None:
    assert "a" in parse_text(text, file="x")


@pytest.mark.parametrize(
    "key",
    [
        DOTS,
        " . ".join(DOTS.split(".")),
        ".".join(['"\\""'] * 16),
        ".".join(["'#'"] * 16),
        f'x = """a"""" # "\n{DOTS}',
        f'x = {{y = """a"""", {DOTS} = "',
    ],
)
def test_a_long_key_is_known_however_it_is_written(key: str) -> None:
    with pytest.raises(FaultyFiles, match="a key of more than 12 parts"):
        parse_text(f"{key} = 1", file="x")
