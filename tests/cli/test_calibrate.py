"""``calibrate`` says what it would set, and sets it when asked."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

import pytest

from bench.__main__ import main
from bench.store.paths import Home
from bench.store.shelf import load_library

GOOD = '--mass "230 g" --start "22 degC" --seconds 120 --end "118 degC" --plastic quillmere-soft'


def run(home: Path, line: str) -> int:
    return main(["--home", str(home), "calibrate", *shlex.split(line)])


def data(home: Path, line: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert run(home, f"{line} --json") == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_it_says_what_it_would_set_and_changes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path, GOOD) == 0
    printed = capsys.readouterr().out
    assert "Run 1: 230 g from 22 °C (72 °F) to 118 °C (244 °F) in 2 min 00 s: 451 W" in printed
    assert "Reckoned for quillmere-soft, 1800 J/kg/K." in printed
    assert "says 400 W" in printed
    assert "add --save" in printed
    assert "Loads smaller than 230 g absorb less" in printed
    assert "Never leave the heat alone" in printed
    assert all(len(line) <= 80 for line in printed.splitlines())
    assert not (tmp_path / "profiles").exists()


def test_the_plastic_that_nobody_chose_is_named_with_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, GOOD.replace("--plastic quillmere-soft", "")) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "Reckoned for quillmere-firm, 1700 J/kg/K. It is the first plastic on the shelf" in printed
    assert "if yours is quillmere-soft, say so with --plastic" in printed
    assert run(tmp_path, GOOD) == 0
    assert "first plastic on the shelf" not in capsys.readouterr().out


def test_the_power_to_go_by_is_the_one_that_is_saved_and_says_what_it_warms(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, f"{GOOD} --save") == 0
    printed = " ".join(capsys.readouterr().out.split())
    saved_w = load_library(Home(tmp_path))[0].stations["quillmere-bench"].heater.absorbed_w
    assert f"The power to go by: {saved_w:.0f} W" in printed
    assert "plastic and cup together, here with a cup of 180 g" in printed


def test_the_vessel_is_heated_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = data(tmp_path, GOOD, capsys)
    # By hand: m c dT / t, plastic and the station's 180 g of glass.
    assert found["runs"][0]["kept_w"] == pytest.approx((0.230 * 1800 + 0.180 * 830) * 96 / 120)
    light = data(tmp_path, f'{GOOD} --vessel-mass "20 g"', capsys)
    assert light["runs"][0]["kept_w"] == pytest.approx((0.230 * 1800 + 0.020 * 830) * 96 / 120)
    assert found["saved"] is None
    assert found["profile_w"] == 400.0


def test_runs_are_combined_and_saved(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    more = '--seconds "2 min" --end "121 degC"'
    alone = data(tmp_path, GOOD, capsys)
    both = data(tmp_path, f"{GOOD} {more} --save", capsys)
    assert len(both["runs"]) == 2
    assert both["spread_w"] < alone["spread_w"]
    assert both["absorbed_w"] > alone["absorbed_w"]
    library, faults = load_library(Home(tmp_path))
    assert not faults
    station = library.stations["quillmere-bench"]
    assert station.heater.absorbed_w == round(both["absorbed_w"])
    assert station.sources["heater.absorbed"].startswith("measured at this bench: 2")
    assert both["saved"] == str(tmp_path / "profiles" / "stations" / "quillmere-bench.toml")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (GOOD.replace("118 degC", "22 degC"), "did not get warmer"),
        (GOOD.replace("118 degC", "30 degC"), "is too small a rise to tell"),
        (GOOD.replace("120", "5"), "5 s is too short"),
        (GOOD.replace("120", "11").replace("118", "185"), "took up 8349 W, more than 2000 W"),
        (GOOD.replace("120", "1200"), "less than 50 W, which no kitchen heater does"),
        (GOOD.replace("230 g", "300 g"), "more than this vessel may hold"),
        (GOOD.replace("22 degC", "72 degC"), "as cold as the room, and 72 °C (162 °F) is not"),
        (GOOD.replace("22 degC", "22 degF"), "as cold as the room, and -6 °C (22 °F) is not"),
        (GOOD.replace("118 degC", "20 degC"), "the end must be above the start"),
        (GOOD.replace("118 degC", "401 degC"), "no cup of plastic reads 401 °C"),
        (GOOD.replace("118 degC", "118"), "bare number"),
        (f'{GOOD} --end "120 degC"', "--seconds: found 1 for 2 runs, wanted one for each run"),
        (f"{GOOD} --station nowhere", 'no station is called "nowhere"'),
    ],
)
def test_what_cannot_be_meant_is_one_sentence(
    line: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, f"{line} --save") == 1
    said = capsys.readouterr().err
    assert words in said
    assert "Traceback" not in said
    assert said.count("\n") == 1
    assert "meant to be" not in said
    assert not (tmp_path / "profiles").exists()


def test_a_scorched_cup_comes_with_what_to_do(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path, GOOD.replace("118 degC", "205 degC")) == 1
    said = capsys.readouterr().err
    assert "scorches above 190 °C" in said
    assert "Off the heat. Ventilate." in said
    assert "Do not carry a smoking cup" in said


FAR = GOOD.replace("118 degC", "50 degC")


def test_a_power_far_from_the_profiles_is_saved_only_when_confirmed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, f"{FAR} --save") == 1
    said = capsys.readouterr().err
    # By hand: (230 g x 1800 + 180 g x 830 J/kg/K) x 28 K / 120 s is 131 W before what is lost up to the band.
    for words in ("111 W", "400 W of the profile", "heater off", "seconds wrong", "other scale", "--even-so"):
        assert words in said
    assert said.count("\n") == 1
    assert not (tmp_path / "profiles").exists()
    assert run(tmp_path, FAR) == 0
    assert "add --save --even-so" in capsys.readouterr().out
    found = data(tmp_path, f"{FAR} --save --even-so", capsys)
    assert found["doubt"] in found["notes"]
    assert load_library(Home(tmp_path))[0].stations["quillmere-bench"].heater.absorbed_w == 111.0


@pytest.mark.parametrize(("seconds", "is_saved"), [(101, True), (75, False)])
def test_a_power_near_the_profiles_needs_no_more_than_save(tmp_path: Path, seconds: int, is_saved: bool) -> None:
    # On either side of one and a half times 400 W: by hand 553 W and 745 W kept on the way to 118 degC.
    line = f"{GOOD.replace('120', str(seconds))} --save"
    assert run(tmp_path, line) == (0 if is_saved else 1)
    assert (tmp_path / "profiles").exists() is is_saved


def test_what_was_saved_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path, f"{GOOD} --save") == 0
    assert "The profile quillmere-bench said 400 W. Your own copy now says 442 W" in capsys.readouterr().out
