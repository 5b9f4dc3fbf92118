"""The verb check: a line for every fault, and how many files are fine."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.check import report
from bench.errors import Fault
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import load_library


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


@pytest.mark.parametrize(
    ("place", "was", "slip", "told"),
    [
        (
            "moulds/long-reed-6.toml",
            "0.054 m2",
            "0.3 m2",
            "area: found 0.3 m2, usual is 0.035 to 0.18 m2 for a block of 1700 g of aluminium.",
        ),
        (
            "moulds/long-reed-6.toml",
            '"40 degC", "50 degC"',
            '"50 degC", "65 degC"',
            "warm: found 50 to 65 degC, usual is below the 60 degC at which Quillmere soft opens.",
        ),
        (
            "moulds/long-reed-6.toml",
            "8 W/m2/K",
            "800 W/m2/K",
            "loss: found 800 W/m2/K, usual is 2 to 30 W/m2/K in still air.",
        ),
        (
            "moulds/long-reed-6.toml",
            "95 mm",
            "380 mm",
            "drawn.body_length: found a body 380 mm long at 8 mm of diameter, usual is at most 320 mm.",
        ),
        (
            "moulds/ribbon-leech-4.toml",
            'body = "10 mm"',
            'body = "40 mm"',
            "section.body: found 40 mm for a body 70 mm long, usual is at most half its length.",
        ),
        (
            "moulds/marsh-minnow-2.toml",
            "12.4 g",
            "11.8 g",
            "weighed.shell: found 11.8 g beside a bait of 14.6 g, 2.8 g less, usual is about 2.2 g less: what the "
            "rod takes the room of in one cavity.",
        ),
        (
            "moulds/marsh-minnow-2.toml",
            'density = "1030 kg/m3"',
            'density = "0.85 g/ml"',
            "weighed.density: found 0.85 g/ml, usual is 0.9 to 1.4 g/ml, as plastisols have (common practice, no "
            "source).",
        ),
        (
            "plastics/quillmere-soft.toml",
            "240 min",
            "240 s",
            "heat_limit: found 4 min, usual is 10 to 1440 min.",
        ),
    ],
)
def test_what_is_unlikely_is_worth_a_look_and_refuses_nothing(
    place: str, was: str, slip: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (shipped_profiles() / place).read_text(encoding="utf-8")
    assert was in text
    own = tmp_path / "profiles" / place
    own.parent.mkdir(parents=True)
    own.write_text(text.replace(was, slip, 1), encoding="utf-8")
    assert main(["--home", str(tmp_path), "check"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert f"look at: {own}: {told}" in lines
    assert main(["--home", str(tmp_path), "check", str(own)]) == 0
    first, last = capsys.readouterr().out.splitlines()
    assert first == f"look at: {own}: {told}"
    assert last == "1 file is fine."
    _, faults = load_library(Home(tmp_path))
    assert not faults, "it lies on the shelf and can be planned with"


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
