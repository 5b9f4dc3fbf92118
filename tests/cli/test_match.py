"""The verb ``match``."""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from bench.cli.match import add_match_parser, as_lines, loads_from, named_in
from bench.errors import BenchError
from bench.model.settings import UnitSystem
from bench.plan.matching import match_colour
from bench.plan.strengths import part_colour
from tests.cli.test_look import LIBRARY
from tests.plan.bench_records import MOULD, PLASTIC
from tests.plan.looks import COLOURANTS, RED_CORE, cup

SOLID = ("#8a6a40", "--mould", "leech", "--with", "brown,white")


def parsed(*arguments: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    add_match_parser(parser.add_subparsers(), library=lambda _: LIBRARY)
    return parser.parse_args(["match", *arguments])


def run(*arguments: str) -> int:
    args = parsed(*arguments)
    code: int = args.run(args)
    return code


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run(*arguments, "--json") == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_a_solid_bait(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, *SOLID, "--cup", "250 g")
    found = match_colour(
        "#8a6a40", names=["brown", "white"], mould=MOULD, plastic=PLASTIC, colourants=COLOURANTS, cup_g=250.0
    )
    assert (data["de00"], data["hex"], data["lab"], data["misses"]) == (
        found.off,
        found.hex,
        list(found.lab),
        list(found.misses),
    )
    assert [(each["colourant"], each["load_pct"], each["g"], each["drops"]) for each in data["doses"]] == [
        (each.colourant, each.load_pct, each.mass_g, each.drops) for each in found.additions
    ]
    assert data["target"]["hex"] == "#8a6a40"
    assert data["plastic"] == "soft"


@pytest.mark.parametrize("core", ["core", "red=0.5 %,white=0.2%"])
def test_a_shell_over_a_core_by_recipe_or_by_loads(capsys: pytest.CaptureFixture[str], core: str) -> None:
    data = printed(capsys, *SOLID, "--over-core", core)
    found = match_colour(
        "#8a6a40",
        names=["brown", "white"],
        mould=MOULD,
        plastic=PLASTIC,
        colourants=COLOURANTS,
        core=part_colour(cup(RED_CORE), colourants=COLOURANTS, plastic=PLASTIC).medium,
    )
    assert data["de00"] == pytest.approx(found.off, rel=1e-9)
    assert data["over_core"] == core


def test_a_colourant_alone_may_be_the_core(capsys: pytest.CaptureFixture[str]) -> None:
    alone = printed(capsys, *SOLID, "--over-core", "red")
    assert alone["de00"] == pytest.approx(printed(capsys, *SOLID, "--over-core", "red=1 %")["de00"])


def test_additions_only(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, *SOLID, "--already", "brown=0.3 %", "--cup", "200 g")
    brown = data["doses"][0]
    assert brown["load_pct"] >= 0.3
    assert brown["added_pct"] == pytest.approx(brown["load_pct"] - 0.3)
    assert data["cup_g"] >= 200.0


def test_people_read_what_to_add(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("#2030c0", "--mould", "leech", "--with", "brown,white", "--cup", "250 g") == 0
    out = capsys.readouterr().out
    assert "Wanted   #2030c0" in out
    assert " off: too " in out
    assert "add " in out
    assert "Colour is added, never taken out" in " ".join(out.split())


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run(*arguments) == 0
    out = capsys.readouterr().out
    assert max(len(line) for line in out.splitlines()) <= 80
    return " ".join(out.split())


def test_a_cup_with_too_much_is_told_how_to_be_saved(capsys: pytest.CaptureFixture[str]) -> None:
    cup = ("#8a6a40", "--mould", "leech", "--with", "brown", "--already", "brown=1 %")
    out = said(capsys, *cup, "--cup", "50 g")
    assert "Nothing to add." in out
    assert "add 0.00 g" not in out
    assert "The cup holds too much colour already" in out
    assert " g of clear plastic" in out
    assert "Thinned #" in out
    assert "to each 100 g of it add about" in said(capsys, *cup)
    data = printed(capsys, *cup, "--cup", "2000 g")["thinned"]
    assert data["cup_g"] == pytest.approx(data["vessel_g"])
    assert data["part_g"] + data["clear_g"] == pytest.approx(data["cup_g"])
    assert "overfill the vessel" in said(capsys, *cup, "--cup", "2000 g")
    assert "which fits the vessel" in said(capsys, *cup, "--cup", "5 g")


def test_plastic_is_in_the_units_of_the_maker_and_colour_in_grams() -> None:
    """An ounce is 28.349523125 g (NIST Handbook 44, appendix C)."""

    def told(cup_g: float | None, already_pct: float, room_g: float | None = None) -> str:
        found = match_colour(
            "#8a6a40",
            names=["brown", "white"],
            mould=MOULD,
            plastic=PLASTIC,
            colourants=COLOURANTS,
            already_pct={"brown": already_pct},
            cup_g=cup_g,
            room_g=room_g,
        )
        return " ".join(" ".join(as_lines(found, lambda _: "", UnitSystem.US)).split())

    assert "The cup then holds 3.5" in told(100.0, 0.0)
    assert re.search(r"add \d\.\d\d g", told(100.0, 0.0))
    assert "to each 10 oz of it add about " in told(None, 4.0)
    overfull = told(100.0, 4.0, room_g=150.0)
    assert "the vessel, which takes 5.29 oz: pour" in overfull
    assert "and the new cup is 5.29 oz." in overfull
    fits = told(100.0, 4.0, room_g=15_000.0)
    assert "fits the vessel (it takes 529.11 oz)" in fits
    for said in (overfull, fits):
        assert not re.search(r"\d g", said.split("Thinned #")[0])


def test_what_thinning_leaves_to_add_is_named_with_a_cup_and_without_even_where_no_scale_shows_it() -> None:
    def told(cup_g: float | None, mass_g: float | None) -> list[str]:
        found = match_colour(
            "#8a6a40",
            names=["brown"],
            mould=MOULD,
            plastic=PLASTIC,
            colourants=COLOURANTS,
            already_pct={"brown": 1.0},
            cup_g=cup_g,
        )
        assert found.thinned is not None
        little = replace(found.additions[0], title="White", load_pct=0.0029, added_pct=0.0029, mass_g=mass_g)
        thinned = replace(found.thinned, additions=(little,))
        return list(as_lines(replace(found, thinned=thinned), lambda _: ""))

    for cup_g, mass_g, says in (
        (None, None, "no scale shows it in 100 g"),
        (100.0, 0.0029, "too little to weigh: leave it out"),
    ):
        lines = told(cup_g, mass_g)
        line = lines[lines.index("and then") + 1]
        assert "White" in line
        assert says in line


def test_too_little_to_weigh_is_said_and_not_weighed(capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, *SOLID, "--cup", "1 g")
    assert out.count("too little to weigh: leave it out") == 2
    assert " 0.00 g" not in out


def test_a_match_that_is_as_good_as_the_same_is_not_called_off(capsys: pytest.CaptureFixture[str]) -> None:
    near = printed(capsys, *SOLID)["hex"]
    out = said(capsys, near, *SOLID[1:])
    assert "as good as the same" in out
    assert " off" not in out


def test_without_names_the_best_of_the_shelf_are_used(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "#8a6a40", "--mould", "leech")
    assert 1 <= len(data["doses"]) <= 3
    assert data["de00"] <= printed(capsys, "#8a6a40", "--mould", "leech", "--with", "green")["de00"]


def test_a_cup_is_topped_up_with_what_it_holds(capsys: pytest.CaptureFixture[str]) -> None:
    wanted = printed(capsys, "#8a6a40", "--mould", "leech", "--with", "brown", "--cup", "100 g")
    half = wanted["doses"][0]["load_pct"] / 2
    topped = printed(capsys, wanted["hex"], "--mould", "leech", "--already", f"brown={half} %", "--cup", "100 g")
    assert topped["doses"][0]["colourant"] == "brown"
    assert topped["doses"][0]["load_pct"] == pytest.approx(2 * half, rel=0.02)
    assert topped["doses"][0]["added_pct"] == pytest.approx(half, rel=0.05)


def test_more_of_what_is_too_much_already_is_not_advised_and_the_better_way_comes_first(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("#8a6a40", "--mould", "leech", "--already", "brown=1 %", "--cup", "100 g") == 0
    told = capsys.readouterr().out
    assert "Brown" not in told
    assert run("#8a6a40", "--mould", "leech", "--with", "brown", "--already", "brown=1 %", "--cup", "50 g") == 0
    told = capsys.readouterr().out
    assert told.index("The cup holds too much") < told.index("Or, without clear plastic:") < told.index("Nearest")


def test_a_dose_that_no_scale_shows_is_said_to_be_one_without_a_cup() -> None:
    few = next(iter(as_lines_of(added_pct=0.0067)))
    assert "no scale shows it in 100 g" in few
    assert "no scale" not in next(iter(as_lines_of(added_pct=0.02)))


def as_lines_of(*, added_pct: float) -> Iterator[str]:
    """The line of one dose of a match without a cup."""
    one = match_colour("#8a6a40", names=["brown"], mould=MOULD, plastic=PLASTIC, colourants=COLOURANTS)
    few = replace(one.additions[0], load_pct=added_pct, added_pct=added_pct)
    lines = as_lines(replace(one, additions=(few,)), lambda _: "")
    return (line for line in lines if few.title in line)


def test_over_a_core_it_is_said_whether_that_shows(capsys: pytest.CaptureFixture[str]) -> None:
    shows = said(capsys, "#a08060", *SOLID[1:], "--over-core", "core")
    assert "The core " in shows
    assert "show" in shows


def test_spoons_are_told_where_a_spoon_can_measure(capsys: pytest.CaptureFixture[str]) -> None:
    assert " tsp" in said(capsys, *SOLID, "--cup", "2000 g")
    assert " tsp" not in said(capsys, *SOLID, "--cup", "20 g")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("#xyz", *SOLID[1:]), "is not a colour"),
        ((*SOLID, "--over-core", "cor"), '"cor" is no recipe with a core and no colourant; did you mean "core"'),
        ((*SOLID, "--over-core", "plain"), '"plain" is no recipe with a core'),
        ((*SOLID, "--over-core", "rde=1 %"), '"rde" is no recipe with a core and no colourant'),
        ((*SOLID, "--over-core", "riddle"), "The look of Riddle is unknown"),
        ((*SOLID, "--already", "brown"), '--already: found "brown", wanted a load such as "peat-brown=0.2 %"'),
        ((*SOLID, "--already", "brown=0.2"), '--already: brown: found the bare number "0.2"'),
        ((*SOLID, "--already", "mauve=0.2 %"), 'no colourant is called "mauve"'),
        ((*SOLID, "--plastic", "sfot"), 'no plastic is called "sfot"'),
        ((*SOLID[:-1], "brown,mauve"), 'no colourant is called "mauve"'),
        ((*SOLID, "--cup", "1e300 kg"), "--cup: found 1e+300 kg, wanted at most 100 kg"),
    ],
)
def test_mistakes_are_one_sentence(arguments: tuple[str, ...], words: str) -> None:
    with pytest.raises(BenchError) as caught:
        run(*arguments)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_no_colour_at_all_is_no_most(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        run(*SOLID, "--most", "0 %")
    assert 'found "0 %", wanted a share above 0 %' in capsys.readouterr().err


def test_every_name_on_the_line_is_looked_up() -> None:
    args = parsed(*SOLID, "--over-core", "red=1 %, blue=2 %", "--plastic", "soft")
    assert named_in(args) == ["leech", "brown", "white", "red", "blue", "soft"]


def test_loads_read_several() -> None:
    assert loads_from("a=0.2 %, b = 1 %,", "--already") == {"a": 0.2, "b": 1.0}
    assert loads_from(None, "--already") == {}


def test_the_plastic_that_nobody_named_is_told_where_there_are_others(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf = replace(LIBRARY, plastics={"soft": PLASTIC, "tough": replace(PLASTIC, name="tough")})
    monkeypatch.setattr("tests.cli.test_match.LIBRARY", shelf)
    said = "Reckoned in soft. It is the first plastic on the shelf; if yours is tough, say so with --plastic."
    assert run(*SOLID) == 0
    assert said in " ".join(capsys.readouterr().out.split())
    for chosen in (("--plastic", "soft"), ("--over-core", "core")):
        assert run(*SOLID, *chosen) == 0
        assert "Reckoned in" not in capsys.readouterr().out
    monkeypatch.undo()
    assert run(*SOLID) == 0
    assert "Reckoned in" not in capsys.readouterr().out, "there is no other"
