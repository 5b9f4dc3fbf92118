"""The verb distance: what it reckons, shows and advises."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.distance import Digits, Sight, better_columns


def run(home: Path, capsys: pytest.CaptureFixture[str], *argv: str) -> str:
    assert main(["--home", str(home), "distance", *argv]) == 0
    return capsys.readouterr().out


def test_the_angle_of_the_real_figures(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """80 by 24 on a panel 310 mm wide: cells 3.875 mm wide, seven dots of two cells are 54.25 mm. From 3 m that is
    62.2 minutes of arc: 54.25 / 3000 radians of 3437.75 minutes each, small angles."""
    size = ("--columns", "80", "--rows", "24", "--screen", "310 mm")
    data = json.loads(run(tmp_path, capsys, *size, "--distance", "3 m", "--json"))
    assert data["digit_height_mm"] == pytest.approx(54.25)
    assert data["digit_arcmin"] == pytest.approx(54.25 / 3000 * 3437.75, rel=1e-3)
    assert (data["least_arcmin"], data["preferred_arcmin"]) == (16, [20, 22])
    assert data["better_columns"] is None


def test_it_shows_the_figures_and_says_that_they_are_large_enough(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = run(tmp_path, capsys, "--columns", "80", "--rows", "24", "--screen", "31 cm", "--distance", "6.5 ft")
    assert "██████████" in shown
    assert "From 2.0 m they look 94 minutes of arc high." in shown
    assert "Large enough." in shown
    assert "starting value" not in shown
    assert "Minutes of arc tell how large a figure looks: 20 to 22 read well, 16 is the least" in " ".join(
        shown.split()
    )
    assert max(map(len, shown.splitlines())) <= 80


def test_the_help_gives_distances_of_the_right_size_and_tells_what_a_minute_of_arc_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["--home", str(tmp_path), "distance", "--help"])
    shown = " ".join(capsys.readouterr().out.split())
    assert '--distance "2 m"' in shown
    assert '--screen "310 mm"' in shown
    assert "minutes of arc, sixtieths of a degree: 20 is easy to read, 16 the least" in shown


@pytest.mark.parametrize(
    ("distance", "verdict"),
    [("3 m", "Large enough."), ("10 m", "Readable, but not at ease."), ("13 m", "Too small from there.")],
)
def test_the_verdict_follows_the_standard(
    distance: str, verdict: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = run(tmp_path, capsys, "--columns", "80", "--rows", "24", "--screen", "310 mm", "--distance", distance)
    assert verdict in shown


def test_what_is_not_given_comes_from_the_settings_and_else_is_said_to_be_a_starting_value(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, capsys, "--columns", "80").count("starting value") == 2
    (tmp_path / "settings.toml").write_text('format = 1\nviewing_distance = "4 m"\nscreen_width = "50 cm"\n')
    data = json.loads(run(tmp_path, capsys, "--json", "--columns", "80"))
    assert (data["distance_mm"], data["screen_mm"]) == (4000, 500)
    assert "starting value" not in run(tmp_path, capsys, "--columns", "80")


def test_a_larger_font_is_advised_where_one_helps(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    seen_from = ("--screen", "310 mm", "--distance", "7.8 m")
    asked = ("--columns", "100", "--rows", "30", *seen_from)
    data = json.loads(run(tmp_path, capsys, *asked, "--json"))
    assert data["digit_arcmin"] < 20
    columns = data["better_columns"]
    assert f"until the window has about {columns} columns" in run(tmp_path, capsys, *asked)
    enlarged = ("--columns", str(columns), "--rows", str(30 * columns // 100), *seen_from)
    assert json.loads(run(tmp_path, capsys, *enlarged, "--json"))["digit_arcmin"] >= 20


def test_the_advice_is_the_smallest_change_that_is_enough() -> None:
    def draw(columns: int, rows: int) -> Digits:
        return Digits(lines=("x",), widths_high=7)

    sight = Sight(columns=160, rows=40, screen_mm=320, distance_mm=3000, digits=draw(160, 40))
    # 20 minutes of arc at 3 m are 17.45 mm (ISO 9241-3's angle, computed): seven widths of 320 / 128 = 2.5 mm are
    # 17.5 mm, seven of 320 / 129 mm are 17.36 mm.
    assert better_columns(sight, draw) == 128


def test_where_no_font_helps_it_says_how_near_to_come(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown = run(tmp_path, capsys, "--columns", "60", "--rows", "20", "--screen", "60 mm", "--distance", "10 m")
    assert "Too small from there." in shown
    assert "Bring the screen within" in shown


def test_a_window_without_room_is_said_to_be_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown = run(tmp_path, capsys, "--columns", "20", "--rows", "4")
    assert "has no room for large figures" in shown
    assert "Make the window larger." in shown


@pytest.mark.parametrize(
    ("argv", "code", "words"),
    [
        (("--distance", "2"), 1, "--distance: found"),
        (("--distance", "3 km"), 1, "viewing_distance: found 3e+06 mm, wanted 200 mm to 20000 mm"),
        (("--screen", "1 mm"), 1, "screen_width: found 1 mm"),
    ],
)
def test_what_cannot_be_meant_is_refused(
    argv: tuple[str, ...], code: int, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--home", str(tmp_path), "distance", *argv]) == code
    assert words in capsys.readouterr().err


@pytest.mark.parametrize("columns", ["0", "-3", "1001", "many", "9" * 5000])
def test_a_window_that_is_none_is_wrong_usage(
    columns: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as refused:
        main(["--home", str(tmp_path), "distance", "--columns", columns])
    assert refused.value.code == 2
    assert "wanted a whole number from 1 to 1000" in capsys.readouterr().err
