"""The options that say which job, and the requests they make."""

from __future__ import annotations

import argparse

import pytest

from bench.cli.pour import PourRequest, add_pour_parser
from bench.cli.rehearse import add_rehearse_parser
from bench.model.recipe import Tail
from bench.plan.records import Ask
from bench.tui.app import REHEARSAL_SPEED


def request(*argv: str) -> PourRequest:
    """What that command line asks for."""
    parser = argparse.ArgumentParser()
    verbs = parser.add_subparsers()
    add_pour_parser(verbs)
    add_rehearse_parser(verbs)
    arguments = parser.parse_args(argv)
    asked: PourRequest = arguments.request(arguments)
    return asked


def test_what_is_not_said_is_left_to_recipe_station_and_settings() -> None:
    assert request("pour", "plain", "--mould", "reed", "--count", "12") == PourRequest(
        recipe="plain", mould="reed", ask=Ask(count=12), station=None, speed=None
    )


def test_everything_that_can_be_said() -> None:
    job = ["core", "--mould", "leech", "--count", "8"]
    rest = ["--tail", "cut", "--warm-up", "0", "--spares", "12.5%", "--station", "shed", "--moulds", "2"]
    assert request("pour", *job, *rest) == PourRequest(
        recipe="core",
        mould="leech",
        ask=Ask(count=8, tail=Tail.CUT, spares_pct=12.5, warm_up_shots=0, moulds=2),
        station="shed",
    )


def test_a_rehearsal_is_a_pour_with_a_speed() -> None:
    assert request("rehearse", "plain", "--mould", "reed", "--count", "1").speed == 20
    assert request("rehearse", "plain", "--mould", "reed", "--count", "1", "--speed", "600").speed == 600
    assert request("rehearse", "plain", "--mould", "reed", "--count", "1").speed == REHEARSAL_SPEED, (
        "as on the bench"
    )


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("pour p --mould m --count 0", 'found "0", wanted a count of 1 or more'),
        ("pour p --mould m --count 1_0", 'found "1_0", wanted a count of 1 or more'),
        ("pour p --mould m --count 99999999999999999999", '"99999999999999999999", more than anyone pours'),
        ("pour p --mould m --count many", 'found "many", wanted a count of 1 or more'),
        ("pour p --mould m --count 1 --warm-up -1", 'found "-1", wanted a number of shots, 0 or more'),
        ("pour p --mould m --count 1 --spares 101", 'found "101", wanted a share from 0 to 100 %'),
        ("pour p --mould m --count 1 --spares nan", 'found "nan", wanted a share from 0 to 100 %'),
        ("rehearse p --mould m --count 1 --speed 0.5", 'found "0.5", wanted a speed from 1 to 600 times as fast'),
        ("rehearse p --mould m --count 1 --speed 601", 'found "601", wanted a speed from 1 to 600 times as fast'),
        ("rehearse p --mould m --count 1 --speed nan", 'found "nan", wanted a speed from 1 to 600 times as fast'),
    ],
)
def test_figures_out_of_bounds_are_refused_with_what_would_be_right(
    words: str, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        request(*words.split())
    assert stopped.value.code == 2
    assert sentence in capsys.readouterr().err
