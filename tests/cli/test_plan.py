"""The verb ``plan``, as people and as programs read it."""

from __future__ import annotations

import argparse
import json
import math
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bench.__main__ import main
from bench.cli.output import WIDTH, duration
from bench.cli.plan import add_plan_parser, as_lines
from bench.cli.timeline import hands_lines
from bench.errors import BenchError
from bench.model.library import Library
from bench.model.recipe import Build, Tail
from bench.model.settings import Settings, UnitSystem
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, job_of, plan_of, recipe

LIBRARY = Library(
    plastics={"soft": PLASTIC},
    moulds={"leech": MOULD, "bare": replace(MOULD, name="bare", title="Bare", rods=None)},
    colourants=COLOURANTS,
    recipes={build.value.replace(" ", "-"): recipe(build) for build in Build},
    stations={"bench": STATION, "warm": replace(STATION, name="warm", warm_up_shots=2)},
    settings=Settings(station="bench"),
)

ROUNDS = "Rounds, in minutes and seconds; hold and set count from the end of each push"


def run(*arguments: str) -> int:
    parser = argparse.ArgumentParser()
    add_plan_parser(parser.add_subparsers(), library=lambda _: LIBRARY)
    args = parser.parse_args(["plan", *arguments])
    code: int = args.run(args)
    return code


def printed_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run(*arguments, "--json") == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_in_a_narrow_window_words_are_broken_and_tables_are_said_to_be_too_wide(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert run("core", "--mould", "leech", "--count", "24", "--moulds", "2") == 0
    shown = capsys.readouterr().out
    assert "The tables need 78 columns, and this window has 40" in " ".join(shown.split())
    # Two gaps at least between figures: a row of a table.
    told = [row for row in shown.splitlines() if len(re.findall(r"\s{2,}", row.strip())) < 2]
    assert max(map(len, told)) <= 40
    monkeypatch.setenv("COLUMNS", "80")
    assert run("core", "--mould", "leech", "--count", "24", "--moulds", "2") == 0
    shown = capsys.readouterr().out
    assert max(map(len, shown.splitlines())) <= 80
    assert "The tables need" not in shown


def test_what_is_no_window_is_not_said_to_be_too_narrow(capsys: pytest.CaptureFixture[str]) -> None:
    long = {name: replace(each, title=90 * "x") for name, each in LIBRARY.colourants.items()}
    parser = argparse.ArgumentParser()
    add_plan_parser(parser.add_subparsers(), library=lambda _: replace(LIBRARY, colourants=long))
    args = parser.parse_args(["plan", "core", "--mould", "leech", "--count", "24"])
    assert args.run(args) == 0
    shown = capsys.readouterr().out
    assert max(map(len, shown.splitlines())) > 80
    assert "this window has" not in shown


def test_programs_get_the_whole_plan(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed_json(capsys, "core", "--mould", "leech", "--count", "60", "--tail", "cut")
    plan = job_of(Build.CORE, count=60, tail=Tail.CUT).plan
    assert {key: data[key] for key in ("recipe", "mould", "build", "tail", "count", "rounds", "cavities")} == {
        "recipe": "ember",
        "mould": "leech",
        "build": "core",
        "tail": "cut",
        "count": 60,
        "rounds": 16,
        "cavities": 4,
    }
    assert data["total_s"] == plan.total_s
    assert data["warnings"] == list(plan.warnings)
    assert "estimates" in data["estimate"]
    for part, planned in zip(data["parts"], plan.parts, strict=True):
        assert (part["part"], part["per_round_ml"], part["total_ml"], part["total_g"], part["trimmed_g"]) == (
            planned.part.value,
            planned.per_round_ml,
            planned.total_ml,
            planned.total_g,
            planned.trimmed_g,
        )
        assert part["melts"] == len(planned.melts)
        assert [(dose["colourant"], dose["g"], dose["drops"]) for dose in part["doses"]] == [
            (dose.colourant, dose.mass_g, dose.drops) for dose in planned.doses
        ]
    melts = [melt for part in plan.parts for melt in part.melts]
    keys = ("part", "melt", "g", "ml", "base_g", "first_round", "last_round", "heat_s")
    assert [tuple(row[key] for key in keys) for row in data["melts_table"]] == [
        (
            melt.part.value,
            melt.number,
            melt.mass_g,
            melt.volume_ml,
            melt.base_g,
            melt.first_round,
            melt.last_round,
            melt.heat_s,
        )
        for melt in melts
    ]
    assert all(len(row["doses"]) == 2 for row in data["melts_table"])
    columns = ("round", "mould_c", "rest_s", "shell_hold_s", "shell_set_s", "core_hold_s", "core_set_s")
    assert [tuple(row[key] for key in columns) for row in data["rounds_table"]] == [
        (
            each.round,
            each.mould_c,
            each.rest_s,
            each.shots[0].hold_s,
            each.shots[0].set_s,
            each.shots[1].hold_s,
            each.shots[1].set_s,
        )
        for each in plan.rounds_table
    ]


@pytest.mark.parametrize("build", ["plain", "laminate"])
def test_one_shot_builds_have_one_pair_of_times_and_no_tail(
    capsys: pytest.CaptureFixture[str], build: str
) -> None:
    data = printed_json(capsys, build, "--mould", "leech", "--count", "4")
    assert data["tail"] is None
    assert {"shot_hold_s", "shot_set_s"} <= data["rounds_table"][0].keys()
    assert "core_set_s" not in data["rounds_table"][0]


def test_options_go_before_recipe_and_station(capsys: pytest.CaptureFixture[str]) -> None:
    base = ("core", "--mould", "leech", "--count", "40")
    assert printed_json(capsys, *base)["warm_up_shots"] == 1
    assert printed_json(capsys, *base, "--station", "warm")["warm_up_shots"] == 2
    asked = printed_json(capsys, *base, "--warm-up", "0", "--spares", "50 %", "--tail", "cut")
    assert (asked["warm_up_shots"], asked["rounds"], asked["tail"]) == (0, 15, "cut")


def test_people_read_first_what_to_weigh(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("core", "--mould", "leech", "--count", "20", "--tail", "cut") == 0
    lines = capsys.readouterr().out.splitlines()
    core = plan_of(Build.CORE, tail=Tail.CUT).parts[1]
    assert lines[0] == "Ember in Leech"
    assert lines[1] == "20 baits, core, tail cut: 6 rounds of 4, 1 warm-up shot."
    assert lines[2].startswith("20 wanted and 1 spare (5 %), 24 made in full rounds.")
    assert lines[5] == "Weigh"
    weigh = "\n".join(lines[6 : lines.index("Amounts")])
    assert f"{core.melts[0].base_g:.1f} g  plastic" in weigh
    assert f"{core.doses[0].mass_g:.2f} g  Red, about {core.doses[0].drops:.0f} drops" in weigh
    assert lines.index("Amounts") < lines.index(ROUNDS)
    assert any(line.startswith("Everything: about 2 h") for line in lines)
    assert any(line.endswith("your own eyes decide.") for line in lines)


@pytest.mark.parametrize(
    ("count", "spares", "told"),
    [
        (7, "5", "7 wanted, 8 made in full rounds."),
        (8, "0", "8 wanted, 8 made in full rounds."),
        (
            8,
            "5",
            "8 wanted, 8 made in full rounds. The 5 % spare is less than one bait and opens no round.",
        ),
        (
            20,
            "5",
            "20 wanted and 1 spare (5 %), 24 made in full rounds. 20 need 5 rounds; the spare one adds 1 more: "
            "--spares 0 leaves that out.",
        ),
        (23, "5", "23 wanted and 1 spare (5 %), 24 made in full rounds."),
        (
            24,
            "50",
            "24 wanted and 12 spare (50 %), 36 made in full rounds. 24 need 6 rounds; the 12 spare ones add "
            "3 more: --spares 0 leaves that out.",
        ),
    ],
)
def test_what_spares_add_is_said_with_the_way_out(
    capsys: pytest.CaptureFixture[str], count: int, spares: str, told: str
) -> None:
    assert run("core", "--mould", "leech", "--count", str(count), "--spares", spares) == 0
    above = capsys.readouterr().out.split("\n\n")[0]
    assert " ".join(above.split()).endswith(f"warm-up shot. {told}")


def test_moulds_are_told_in_the_units_of_settings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("plan", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "8")
    for units, shown, other in (("us", "°F", "°C"), ("metric", "°C", "°F")):
        (tmp_path / "settings.toml").write_text(f'format = 1\nunits = "{units}"\n')
        assert main(["--home", str(tmp_path), *asked]) == 0
        told = capsys.readouterr().out
        assert shown in told
        assert other not in told


@pytest.mark.parametrize(("count", "several"), [("8", False), ("60", True)])
def test_grams_of_the_window_are_said_to_be_the_first_melts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], count: str, several: bool
) -> None:
    asked = ("plan", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", count)
    assert main(["--home", str(tmp_path), *asked]) == 0
    assert ("those of a part's first melt" in capsys.readouterr().out) is several


@pytest.mark.parametrize("build", list(Build))
@pytest.mark.parametrize("count", [1, 20, 400])
def test_lines_fit_eighty_columns(build: Build, count: int) -> None:
    assert max(len(line) for line in as_lines(plan_of(build, count=count))) <= WIDTH == 80


@pytest.mark.parametrize("moulds", [1, 3])
def test_what_is_melted_is_itemised(moulds: int) -> None:
    """Every row of a part adds up to the last, and the warm-up shots are those of all moulds: a whole bait in each
    of four cavities and a runner of 5 ml a shot, on paper."""
    plan = plan_of(Build.PLAIN, count=40, moulds=moulds)
    lines = list(as_lines(plan))
    start = lines.index("What they are made up of, hot") + 2
    rows = lines[start : lines.index("", start)]
    *items, in_all = (float(row.removesuffix(" ml").split()[-1]) for row in rows)
    assert sum(items) == pytest.approx(in_all, abs=0.3)
    assert in_all == pytest.approx(plan.parts[0].total_ml, abs=0.06)
    bait_ml = math.pi / 4 * 10.0**2 * 80 / 1000 + 2 * 10 * 30 / 1000
    warm_ups = next(row for row in rows if "warm-up" in row)
    assert float(warm_ups.split()[-2]) == pytest.approx(moulds * (4 * bait_ml + 5.0), abs=0.06)
    assert warm_ups.split()[0] == str(moulds)


@pytest.mark.parametrize("build", list(Build))
def test_programs_get_the_items_and_the_spares(capsys: pytest.CaptureFixture[str], build: Build) -> None:
    data = printed_json(capsys, build.replace(" ", "-"), "--mould", "leech", "--count", "42", "--spares", "10 %")
    assert (data["count"], data["spares_pct"], data["made"]) == (42, 10.0, 48)
    for part in data["parts"]:
        taken = part["taken_ml"]
        assert sum(taken.values()) == pytest.approx(part["total_ml"])
        assert taken["rounds"] + taken["top_off"] == pytest.approx(12 * part["per_round_ml"])
        assert taken["left_in_cup_and_injector"] == pytest.approx(part["melts"] * (6.0 + 8.0))


def test_rounds_that_read_the_same_are_shown_once() -> None:
    lines = list(as_lines(plan_of(Build.PLAIN, count=60)))
    start = lines.index(ROUNDS) + 2
    told = next(place for place in range(start, len(lines)) if "Round 1 is the first" in lines[place])
    rows = lines[start:told]
    assert len(rows) < 16
    assert rows[-1].split()[0] == "13-16"


@pytest.mark.parametrize(
    ("station", "moulds", "before"),
    [
        ("bench", 1, "°C. Before it: 1 warm-up shot, scrap."),
        ("warm", 1, "°C. Before it: 2 warm-up shots, scrap."),
        ("warm", 2, "scrap. Moulds take turns: round 3 is mould 1's again."),
    ],
)
def test_the_first_good_round_and_the_turns_are_said(station: str, moulds: int, before: str) -> None:
    plan = job_of(Build.PLAIN, count=16, moulds=moulds, station=LIBRARY.stations[station]).plan
    told = " ".join(" ".join(as_lines(plan)).split())
    first_c = plan.rounds_table[0].shots[0].mould_c
    assert plan.moulds == moulds
    assert f"Round 1 is the first to keep, its mould at {first_c:.0f} °C" in told
    assert before in told


def test_warnings_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("plain", "--mould", "leech", "--count", "60") == 0
    out = " ".join(capsys.readouterr().out.split())
    for warning in job_of(Build.PLAIN, count=60).plan.warnings:
        assert warning in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("cor", "--mould", "leech", "--count", "4"), '"cor"; did you mean "core"'),
        (("core", "--mould", "leach", "--count", "4"), '"leach"; did you mean "leech"'),
        (("core", "--mould", "bare", "--count", "4"), "Bare has no core rods"),
        (("core", "--mould", "leech", "--count", "4", "--station", "x"), 'no station is called "x"'),
        (("plain", "--mould", "leech", "--count", "4", "--tail", "cut"), "only core work cuts"),
        (("core", "--mould", "leech", "--count", "99999"), "at most 10000"),
    ],
)
def test_mistakes_are_one_sentence(arguments: tuple[str, ...], words: str) -> None:
    with pytest.raises(BenchError) as caught:
        run(*arguments)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_without_moulds_the_wait_the_gain_and_the_parts_of_the_whole_are_said(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("core", "--mould", "leech", "--count", "24", "--tail", "cut") == 0
    printed = capsys.readouterr().out
    job = job_of(Build.CORE, count=24, tail=Tail.CUT)
    waits, at_moulds = duration(job.timeline.waiting_s), duration(job.timeline.end_s)
    assert f"your hands wait {waits} of the {at_moulds} at the moulds." in " ".join(printed.split())
    assert f"{at_moulds}  weighing, heating and rounds at the moulds" in printed
    assert "Another mould would" in printed
    assert f"{duration(job.plan.purge_s)}  clearing the air" in printed
    left_s = job.plan.total_s - job.plan.warm_mould_s - job.timeline.end_s - job.plan.purge_s
    assert f"{duration(left_s)}  readying the bench, cleaning up and laying out" in printed


@pytest.mark.parametrize(("gain_s", "says"), [(1200.0, False), (3600.0, True)])
def test_a_gain_beyond_the_wait_says_what_it_is_won_by(gain_s: float, says: bool) -> None:
    job = job_of(Build.CORE, count=24, tail=Tail.CUT)
    job = replace(job, timeline=replace(job.timeline, waiting_s=1800.0), reckon_gain_s=lambda: gain_s)
    told = " ".join(" ".join(hands_lines(job)).split())
    assert ("more than they wait: the cup cools less from shot to shot." in told) is says
    assert ("sooner." in told) is not says


@pytest.mark.parametrize("build", [Build.PLAIN, Build.CORE])
def test_a_rest_says_what_it_is_for(build: Build) -> None:
    job = job_of(build, count=24, tail=Tail.CUT if build.has_core else Tail.KEPT)
    reasons = {
        Build.PLAIN: "A mould rests until it is no warmer than the top of its window.",
        Build.CORE: "the shell's shot warms it",
    }
    for rest_s in (0.0, 500.0):
        rounds = tuple(replace(each, rest_s=rest_s) for each in job.plan.rounds_table)
        plan = replace(job.plan, rounds_table=rounds)
        told = " ".join(" ".join(as_lines(plan)).split())
        assert (reasons[build] in told) is (rest_s > 0)


def test_amounts_follow_the_units_of_the_settings_and_programs_get_grams(
    capsys: pytest.CaptureFixture[str],
) -> None:
    def printed(units: UnitSystem, *more: str) -> str:
        parser = argparse.ArgumentParser()
        library = replace(LIBRARY, settings=replace(LIBRARY.settings, units=units))
        add_plan_parser(parser.add_subparsers(), library=lambda _: library)
        args = parser.parse_args(["plan", "core", "--mould", "leech", "--count", "24", *more])
        assert args.run(args) == 0
        return capsys.readouterr().out

    us, metric = printed(UnitSystem.US), printed(UnitSystem.METRIC)
    melt = job_of(Build.CORE, count=24).plan.parts[0].melts[0]
    # NIST Handbook 44, appendix C: an ounce is 28.349523125 g, a US fluid ounce 29.5735295625 ml.
    assert f"{melt.base_g / 28.349523125:.2f} oz  plastic" in us
    assert f"{melt.volume_ml / 29.5735295625:.2f} fl oz when hot" in us
    assert f"{melt.base_g:.1f} g  plastic" in metric
    amounts = us.split("Amounts")[1].split("Rounds, in minutes")[0]
    assert " ml" not in amounts
    assert " g" not in amounts.replace(" gates gel", "")
    assert max(map(len, us.splitlines())) <= WIDTH
    assert printed(UnitSystem.US, "--json") == printed(UnitSystem.METRIC, "--json")


def test_what_to_look_out_for_follows_them_too(capsys: pytest.CaptureFixture[str]) -> None:
    parser = argparse.ArgumentParser()
    sticky = replace(PLASTIC, bond_c=160.0)
    library = replace(LIBRARY, plastics={"soft": sticky}, settings=replace(LIBRARY.settings, units=UnitSystem.US))
    add_plan_parser(parser.add_subparsers(), library=lambda _: library)
    for more in ([], ["--json"]):
        args = parser.parse_args(["plan", "core", "--mould", "leech", "--count", "4", *more])
        assert args.run(args) == 0
    said, data = capsys.readouterr().out.split("Look out")[1].rsplit("\n{", 1)
    assert "°F" in said.split("Times and temperatures")[0]
    assert "°C" not in said.split("Times and temperatures")[0]
    assert any("°C" in warning for warning in json.loads("{" + data)["warnings"])
