"""The verb ``cores``."""

from __future__ import annotations

import argparse
import json
from typing import Any

import pytest

from bench.cli.cores import add_cores_parser, as_lines
from bench.plan.cores import ALONE_PCT, find_cores
from tests.cli.test_look import LIBRARY, RECIPES
from tests.plan.bench_records import MOULD, PLASTIC
from tests.plan.looks import COLOURANTS


def run(*arguments: str) -> int:
    parser = argparse.ArgumentParser()
    add_cores_parser(parser.add_subparsers(), library=lambda _: LIBRARY)
    args = parser.parse_args(["cores", *arguments])
    code: int = args.run(args)
    return code


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run(*arguments, "--json") == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_programs_get_every_core_of_every_side(capsys: pytest.CaptureFixture[str]) -> None:
    data = printed(capsys, "laminate-core", "--mould", "leech")
    found = find_cores(
        recipe=RECIPES["laminate-core"], mould=MOULD, plastic=PLASTIC, recipes=RECIPES, colourants=COLOURANTS
    )
    assert [side["side"] for side in data["sides"]] == ["shell_a", "shell_b"]
    assert data["cores"] == data["sides"][0]["cores"]
    for told, side in zip(data["sides"], found.sides, strict=True):
        assert [
            (each["core"], each["core_visibility"], each["third_colour"], each["reads"]) for each in told["cores"]
        ] == [(each.core, each.core_visibility, each.third_colour, each.reads.value) for each in side.cores]
        assert side.shows_best is not None
        assert told["shows_best"] == side.shows_best.core
    alone = {each["core"]: each["alone_pct"] for each in data["cores"]}
    assert alone["blue"] == ALONE_PCT
    assert alone["core"] is None


def test_cores_are_ranked_as_asked(capsys: pytest.CaptureFixture[str]) -> None:
    shows = printed(capsys, "core", "--mould", "leech")
    third = printed(capsys, "core", "--mould", "leech", "--by", "third")
    assert (shows["by"], third["by"]) == ("shows", "third")
    seen = [each["core_visibility"] for each in shows["cores"]]
    assert seen == sorted(seen, reverse=True)
    assert [each["core"] for each in third["cores"]][: len(third["third"])] == third["third"]


def test_no_core_is_hidden_beside_a_number_that_shows(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("core", "--mould", "leech") == 0
    rows = [line for line in capsys.readouterr().out.splitlines() if " #" in line]
    assert rows
    for row in rows:
        number = float(row.split("#")[1].split()[1])
        assert (number < 5.0) == row.endswith("hidden")


def test_people_get_a_table_and_the_best(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("core", "--mould", "leech") == 0
    out = capsys.readouterr().out
    assert max(len(line) for line in out.splitlines()) <= 80
    assert "Shows best: " in out
    assert "Strongest third colour: " in out
    assert "Shell over" in out


def test_the_table_keeps_its_columns_beside_swatches_of_colour() -> None:
    found = find_cores(
        recipe=RECIPES["core"], mould=MOULD, plastic=PLASTIC, recipes=RECIPES, colourants=COLOURANTS
    )
    rows = [line for line in as_lines(found, lambda _: " " * 8) if "#" in line]
    assert max(map(len, rows)) <= 80
    assert len({line.index("#") for line in rows}) == 1
    head = next(line for line in as_lines(found, lambda _: " " * 8) if line.startswith("Shell over"))
    assert head.index("seen") == rows[0].index("#")


def test_an_unread_shell_is_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("unread", "--mould", "leech") == 0
    assert "Shell: The look of Riddle is unknown" in " ".join(capsys.readouterr().out.split())
