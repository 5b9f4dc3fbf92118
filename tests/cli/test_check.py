"""The verb check: a line for every fault, and how many files are fine."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.check import report
from bench.errors import Fault


def test_a_line_each_and_the_count_of_what_is_fine() -> None:
    files = [Path("/a.toml"), Path("/b.toml"), Path("/c.toml")]
    faults = [
        Fault(file="/a.toml", key="rods.diameter", found="3", wanted="a length"),
        Fault(file="/a.toml", key="", found="a line\nbroken in two", wanted="one"),
    ]
    assert list(report(files, faults)) == [
        "/a.toml: rods.diameter: found 3, wanted a length.",
        "/a.toml: found a line broken in two, wanted one.",
        "2 files are fine.",
    ]
    assert list(report(files[:2], faults))[-1] == "1 file is fine."


def test_the_shipped_profiles_are_fine(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--home", str(tmp_path), "check"]) == 0
    printed = capsys.readouterr().out
    assert printed.endswith(" files are fine.\n")
    assert int(printed.split()[0]) > 20


def test_a_broken_profile_is_named_with_its_key_and_the_exit_code_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipes = tmp_path / "profiles" / "recipes"
    recipes.mkdir(parents=True)
    broken = recipes / "half.toml"
    broken.write_text('format = 1\nname = "half"\ntitle = "Half"\nbuild = "plane"\nplastic = "x"\n')
    assert main(["--home", str(tmp_path), "check"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert any(line.startswith(f"{broken}: build:") and '"plain"' in line for line in lines)
    assert lines[-1].endswith("files are fine.")


def test_only_what_is_named_is_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "recipes" / "torn.toml"
    broken.parent.mkdir()
    broken.write_bytes(b"format = 1\nname = ")
    assert main(["--home", str(tmp_path), "check", str(broken)]) == 1
    *faults, last = capsys.readouterr().out.splitlines()
    assert len(faults) == 1
    assert faults[0].startswith(str(broken))
    assert last == "0 files are fine."


DENSE = """
format = 1
name = "tar"
title = "Tar"
kind = "pigment"

[[swatch]]
thickness = "1 mm"
load = "2 %"
over_white = "{white}"
over_black = "#281a12"
"""


def test_a_film_that_nothing_shines_through_is_told_with_what_to_pour(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    colourants = tmp_path / "profiles" / "colourants"
    colourants.mkdir(parents=True)
    tar = colourants / "tar.toml"
    tar.write_text(DENSE.format(white="#281a12"))
    for paths in ([], [str(tar)]):
        assert main(["--home", str(tmp_path), "check", *paths]) == 1
        told = capsys.readouterr().out.splitlines()[0]
        assert told.startswith(f"{tar}: swatch: found films that do not tell its look (")
        assert "nothing shines through 1 mm at 2 %" in told
        assert "tells the hue, but it cannot tell how much it scatters" in told
        assert "pour one of 0.25 mm, or with 0.5 %" in told
    tar.write_text(DENSE.format(white="#7a5038"))
    assert main(["--home", str(tmp_path), "check", str(tar)]) == 0


def test_a_look_with_such_a_film_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shelf = tmp_path / "profiles"
    (shelf / "colourants").mkdir(parents=True)
    (shelf / "recipes").mkdir()
    (shelf / "colourants" / "tar.toml").write_text(DENSE.format(white="#281a12"))
    (shelf / "recipes" / "tarred.toml").write_text(
        'format = 1\nname = "tarred"\ntitle = "Tarred"\nbuild = "core"\nplastic = "quillmere-soft"\n'
        '[parts.shell]\ndoses = [{ colourant = "tar", load = "0.2 %" }]\n'
        '[parts.core]\ndoses = [{ colourant = "chalk-white", load = "0.5 %" }]\n'
    )
    assert main(["--home", str(tmp_path), "look", "tarred", "--mould", "ribbon-leech-4"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "The look of Tar is unknown: over black: the film tells the hue" in told
    assert "because nothing shines through 1 mm at 2 %" in told
    assert "pour one of 0.25 mm, or with 0.5 %" in told
    assert "its look is unknown: no colour, no load window" in told
