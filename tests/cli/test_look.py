"""The verb ``look``, as programs and as people read it; and the same look in ``plan``."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from bench.cli.chips import chip_for
from bench.cli.look import NO_CORE, add_look_parser, as_json, as_lines, number_lines, window_json
from bench.cli.output import WIDTH
from bench.cli.plan import add_plan_parser
from bench.errors import BenchError
from bench.model.library import Library
from bench.model.recipe import Build, Dose, Part, Recipe, Tail
from bench.model.settings import Settings, UnitSystem
from bench.plan.look import look_at
from bench.plan.look_records import RecipeLook
from bench.plan.look_words import load_words, shown
from tests.plan.bench_records import MOULD, PLASTIC, STATION
from tests.plan.looks import COLOURANTS, look_of, recipe_of
from tests.tui.at_the_bench import shelf

RECIPES: Mapping[str, Recipe] = {
    **{build.value.replace(" ", "-"): recipe_of(build) for build in Build},
    "dense": recipe_of(Build.CORE, shell={"brown": 0.5, "pearl": 0.5}),
    "unread": recipe_of(Build.CORE, shell={"riddle": 0.5}),
}

LIBRARY = Library(
    plastics={"soft": PLASTIC},
    moulds={"leech": MOULD},
    colourants=COLOURANTS,
    recipes=RECIPES,
    stations={"bench": STATION},
    settings=Settings(station="bench"),
)

PLAIN_CHIP = chip_for({}, is_terminal=False)


def run(verb: str, *arguments: str) -> int:
    parser = argparse.ArgumentParser()
    verbs = parser.add_subparsers()
    add_look_parser(verbs, library=lambda _: LIBRARY)
    add_plan_parser(verbs, library=lambda _: LIBRARY)
    args = parser.parse_args([verb, *arguments])
    code: int = args.run(args)
    return code


def printed(capsys: pytest.CaptureFixture[str], verb: str, *arguments: str) -> dict[str, Any]:
    assert run(verb, *arguments, "--json") == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_programs_get_the_look_unrounded(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "look", "core", "--mould", "leech")
    look = look_of(Build.CORE)
    (side,) = look.sides
    assert data["views"] == [
        {
            "view": view.name.value,
            "side": view.side.value,
            "hex": view.hex,
            "lab": list(view.lab),
            "clipped": view.clipped,
        }
        for view in look.views
    ]
    keys = ("core_visibility", "shell_tint", "third_colour", "contrast_ratio")
    assert tuple(data[key] for key in keys) == tuple(getattr(side, key) for key in keys)
    window = side.window
    assert window is not None
    assert window.low is not None
    assert window.high is not None
    told = data["window"]
    assert (told["low_pct"], told["high_pct"], told["now_pct"], told["why_empty"]) == (
        window.low.load_pct,
        window.high.load_pct,
        window.now.load_pct,
        None,
    )
    assert (told["place"], told["colourant"], told["now_g"]) == ("inside", "brown", None)
    assert (data["body_mm"], data["rod_mm"], data["wall_mm"], data["tail_mm"]) == (10.0, 4.0, 3.0, 2.0)
    assert data["advice"] == look.advice
    assert {each["colourant"] for each in data["swatches"]} == {"brown", "pearl", "red", "white"}


def test_a_count_tells_grams_and_drops(capsys: pytest.CaptureFixture[str]) -> None:
    window = printed(capsys, "look", "core", "--mould", "leech", "--count", "20")["window"]
    plan = printed(capsys, "plan", "core", "--mould", "leech", "--count", "20")
    shell_g = next(melt["g"] for melt in plan["melts_table"] if melt["part"] == "shell")
    assert window["now_g"] == pytest.approx(shell_g * 0.1 / 100)
    assert window["high_g"] == pytest.approx(shell_g * window["high_pct"] / 100)
    assert window["high_drops"] == pytest.approx(window["high_g"] / 0.03)


def test_tails_are_kept_or_cut(capsys: pytest.CaptureFixture[str]) -> None:
    kept = printed(capsys, "look", "core", "--mould", "leech")
    cut = printed(capsys, "look", "core", "--mould", "leech", "--tail", "cut")
    assert [v["side"] for v in kept["views"] if v["view"] == "tail"] == ["shell"]
    assert [v["side"] for v in cut["views"] if v["view"] == "tail"] == ["core"]
    assert (kept["tail"], cut["tail"]) == ("kept", "cut")


def test_laminates_have_their_numbers_by_side_and_the_worst_on_top(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "look", "laminate-core", "--mould", "leech")
    assert [side["side"] for side in data["sides"]] == ["shell_a", "shell_b"]
    for side in data["sides"]:
        assert {
            "views",
            "core_visibility",
            "shell_tint",
            "third_colour",
            "contrast_ratio",
            "window",
        } <= side.keys()
    worst = next(side for side in data["sides"] if side["side"] == data["worst_side"])
    assert data["core_visibility"] == worst["core_visibility"]
    assert data["window"] == worst["window"]
    laminate = printed(capsys, "look", "laminate", "--mould", "leech")
    assert [side["side"] for side in laminate["sides"]] == ["side_a", "side_b"]
    assert "over the other side" in {view["view"] for view in laminate["sides"][0]["views"]}


def test_a_bait_without_a_core_has_every_key_and_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "look", "plain", "--mould", "leech")
    cored = printed(capsys, "look", "core", "--mould", "leech")
    assert data.keys() == cored.keys()
    assert data["window"].keys() == cored["window"].keys()
    assert data["window"]["why_empty"] == NO_CORE
    assert (data["window"]["now_pct"], data["core_visibility"], data["rod_mm"], data["wall_mm"]) == (None,) * 4
    assert data["tail"] is None


def test_what_nobody_has_read_is_said_and_ends_well(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "look", "unread", "--mould", "leech")
    assert data["unknown"][0].startswith("The look of Riddle is unknown")
    assert data["window"]["why_empty"] == data["unknown"][0]
    assert run("look", "unread", "--mould", "leech") == 0
    assert "The look of Riddle is unknown" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("tail", list(Tail))
def test_lines_fit_eighty_columns(build: Build, tail: Tail) -> None:
    look = look_of(build, tail if build.has_core else None, cups_g=dict.fromkeys(Part, 1234.5))
    assert max(len(line) for line in as_lines(look, PLAIN_CHIP)) <= WIDTH == 80
    assert max(len(line) for line in as_lines(look, lambda _: " " * 8)) <= WIDTH


def lines_of(look: RecipeLook) -> str:
    return " ".join(" ".join(as_lines(look, PLAIN_CHIP)).split())


def test_people_read_views_numbers_and_one_sentence() -> None:
    look = look_of(Build.CORE)
    text = lines_of(look)
    for view in look.views:
        assert f"{view.name} {view.hex}" in text
    assert f"core shows by {look.sides[0].core_visibility:.1f}" in text
    assert look.advice in text
    assert "Body 10 mm, rod 4 mm, wall 3 mm, tail 2 mm." in text


def test_what_each_side_needs_is_told_and_once_where_it_is_the_same() -> None:
    unlike = look_of(Build.LAMINATE, side_a={"brown": 0.02}, side_b={"white": 2.0})
    assert "Side A: Light passes through it" in lines_of(unlike)
    assert "Side B: It hides what lies behind it." in lines_of(unlike)
    alike = look_of(Build.LAMINATE, side_a={"white": 2.0}, side_b={"white": 2.0})
    assert "Both sides: It hides what lies behind it." in lines_of(alike)
    assert "Side A: " not in lines_of(alike)


def test_what_is_too_dark_to_tell_is_said_with_its_window_and_its_number() -> None:
    recipe = shelf().recipes["ember-under-peat"]
    dark = replace(recipe.parts[Part.SHELL], doses=(Dose(colourant="peat-brown", load_pct=2.2),))
    changed = replace(recipe, parts={**recipe.parts, Part.SHELL: dark})
    look = look_at(
        recipe=changed,
        mould=shelf().moulds["ribbon-leech-4"],
        plastic=shelf().plastics[recipe.plastic],
        colourants=shelf().colourants,
    )
    said = [each for each in as_lines(look, PLAIN_CHIP) if "too dark to tell at a bench" in each]
    assert any(each.startswith("  core shows by") for each in said)
    assert any("high end" in each for each in said)
    assert max(map(len, said)) <= WIDTH
    found = as_json(look)
    assert found["core_too_dark_to_tell"] is True
    assert window_json(look.worst)["high_too_dark"] is True
    bright = as_json(look_of(Build.CORE))
    assert bright["core_too_dark_to_tell"] is False


def test_a_side_keeps_its_letter() -> None:
    look = look_of(Build.LAMINATE, side_b={"white": 2.0})
    assert "Side A in the cup" in lines_of(look)
    assert lines_of(look).count("Side A: ") == 1


def test_swatches_that_agree_badly_are_told() -> None:
    look = look_of(Build.CORE)
    assert "agree badly" not in lines_of(look)
    worse = replace(look, fits=(replace(look.fits[0], agreement=4.24), *look.fits[1:]))
    assert "The swatches of Brown agree badly, 4.2 off: read them again." in lines_of(worse)


def test_mistakes_are_one_sentence() -> None:
    for arguments, words in (
        (("cor", "--mould", "leech"), 'did you mean "core"'),
        (("plain", "--mould", "leech", "--tail", "cut"), "only core work cuts"),
        (("core", "--mould", "leach"), 'did you mean "leech"'),
    ):
        with pytest.raises(BenchError) as caught:
            run("look", *arguments)
        assert words in str(caught.value)


def test_a_plan_tells_the_same_look(capsys: pytest.CaptureFixture[str]) -> None:
    look = printed(capsys, "look", "core", "--mould", "leech", "--count", "20")
    look.pop("estimate")
    assert printed(capsys, "plan", "core", "--mould", "leech", "--count", "20")["look"] == look


def test_a_plan_warns_of_a_load_outside_its_window(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "plan", "dense", "--mould", "leech", "--count", "20")
    (warning,) = [each for each in data["warnings"] if "core will hide" in each]
    assert warning.startswith(
        "The shell tints too much and the core will hide: Brown at 0.5 % is above its window"
    )
    assert f"{data['look']['window']['high_g']:.2f} g" in warning
    calm = printed(capsys, "plan", "core", "--mould", "leech", "--count", "20")
    assert not any("window, which" in each for each in calm["warnings"])
    unread = printed(capsys, "plan", "unread", "--mould", "leech", "--count", "20")
    assert not any("Riddle" in each for each in unread["warnings"])
    assert unread["look"]["unknown"]


def test_a_plan_shows_window_and_advice_to_people(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("plan", "dense", "--mould", "leech", "--count", "20") == 0
    out = capsys.readouterr().out
    assert max(len(line) for line in out.splitlines()) <= WIDTH
    text = " ".join(out.split())
    assert "load window Brown, now 0.5 %" in text
    assert "Too dense, the core will hide: bring Brown down from 0.5 %" in text


def test_json_is_plain_numbers() -> None:
    for build in Build:
        json.dumps(as_json(look_of(build)), allow_nan=False)


def words(capsys: pytest.CaptureFixture[str], verb: str, *arguments: str) -> str:
    assert run(verb, *arguments) == 0
    return " ".join(capsys.readouterr().out.split())


def test_the_window_can_be_asked_for_of_another_colour(capsys: pytest.CaptureFixture[str]) -> None:
    told = printed(capsys, "look", "core", "--mould", "leech", "--moving", "pearl")["window"]
    assert (told["colourant"], told["now_pct"]) == ("pearl", 0.05)
    assert "load window Pearl, now 0.05 %" in words(
        capsys, "look", "core", "--mould", "leech", "--moving", "pearl"
    )
    for name in ("red", "mauve", ""):
        with pytest.raises(
            BenchError, match=f'--moving: "{name}" is not outside the core of Ember; there are brown'
        ):
            run("look", "core", "--mould", "leech", "--moving", name)


def test_an_end_that_is_none_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    window = printed(capsys, "look", "core", "--mould", "leech")["window"]
    assert (window["low_bounded"], window["high_bounded"], window["near"]) == (False, True, None)
    assert "low end none: the other colours tint without it" in words(capsys, "look", "core", "--mould", "leech")


def test_loads_that_were_reckoned_have_two_digits_below_one_percent() -> None:
    assert [load_words(each) for each in (0.0813, 0.551, 0.00123, 1.434, 12.34)] == [
        "0.081 %",
        "0.55 %",
        "0.0012 %",
        "1.43 %",
        "12.3 %",
    ]


def test_what_no_screen_shows_is_explained_where_it_is_marked() -> None:
    look = look_of(Build.PLAIN, body={"green": 0.4})
    assert any(view.clipped for view in look.views)
    told = list(as_lines(look, PLAIN_CHIP))
    assert any(line.endswith("(nearest)*") for line in told)
    assert "* This hex is the nearest that a screen can show: the colour itself is stronger." in told
    pale = list(as_lines(look_of(Build.PLAIN, body={"white": 0.4}), PLAIN_CHIP))
    assert not any("nearest" in line for line in pale)


def test_a_plan_shows_the_colour_of_each_side_of_a_laminate(capsys: pytest.CaptureFixture[str]) -> None:
    look = look_of(Build.LAMINATE)
    assert run("plan", "laminate", "--mould", "leech", "--count", "4") == 0
    told = [line for line in capsys.readouterr().out.splitlines() if line.startswith("  colour ")]
    assert len(told) == 2
    for line, side in zip(told, look.sides, strict=True):
        assert side.seen is not None
        assert side.seen.hex in line
        assert line.endswith("over the other side")
        assert len(line) <= WIDTH


def test_a_number_is_never_rounded_across_its_threshold() -> None:
    assert [shown(each, 5.0) for each in (4.94, 4.96, 4.999, 5.0, 5.04)] == ["4.9", "4.9", "4.9", "5.0", "5.0"]


def test_lengths_are_in_inches_too_where_the_maker_has_inches() -> None:
    """An inch is 25.4 mm (NIST Handbook 44, appendix C)."""
    look = look_of(Build.CORE)
    us, metric = (
        " ".join(" ".join(as_lines(look, PLAIN_CHIP, units)).split())
        for units in (UnitSystem.US, UnitSystem.METRIC)
    )
    assert "Body 10 mm, rod 4 mm, wall 3 mm, tail 2 mm." in metric
    assert "Body 0.394 in (10 mm), rod 0.157 in (4 mm), wall 0.118 in (3 mm), tail 0.079 in (2 mm)." in us
    assert max(len(line) for line in as_lines(look, PLAIN_CHIP, UnitSystem.US)) <= WIDTH


def test_no_number_of_a_look_runs_past_the_page() -> None:
    """An end that is too dark to tell, in grams and drops of a large cup."""
    recipe = shelf().recipe("moon-between-banks")
    look = look_at(
        recipe=recipe,
        mould=shelf().mould("ribbon-leech-4"),
        plastic=shelf().plastic(recipe.plastic),
        colourants=shelf().colourants,
        cups_g=dict.fromkeys(recipe.parts, 125.0),
    )
    lines = [line for side in look.sides for line in number_lines(side)]
    assert any("too dark" in line for line in lines)
    assert max(map(len, lines)) <= WIDTH
