"""Words and figures for people."""

from __future__ import annotations

import json
import math

import pytest

from bench.cli.output import WIDTH, celsius, duration, emit_json, emit_lines, hung, wrapped


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0.0, "0 s"),
        (59.4, "59 s"),
        (59.6, "1 min 00 s"),
        (125.0, "2 min 05 s"),
        (3599.7, "1 h 00 min"),
        (4800.0, "1 h 20 min"),
    ],
)
def test_times_in_words(seconds: float, words: str) -> None:
    assert duration(seconds) == words


def test_a_time_without_end_has_no_words() -> None:
    with pytest.raises(ArithmeticError):
        duration(math.inf)


def test_temperatures_on_both_scales() -> None:
    assert celsius(60.0) == "60 °C (140 °F)"


def test_the_object_keeps_full_precision(capsys: pytest.CaptureFixture[str]) -> None:
    emit_json({"seconds": 1 / 3, "tail": None})
    assert json.loads(capsys.readouterr().out) == {"seconds": 1 / 3, "tail": None}


def test_lines_stand_alone(capsys: pytest.CaptureFixture[str]) -> None:
    emit_lines(["one", "two"])
    assert capsys.readouterr().out == "one\ntwo\n"


@pytest.mark.parametrize("before", range(60, 76))
def test_no_line_ends_between_a_figure_and_its_unit(before: int) -> None:
    lines = wrapped(f"{'x' * before} 46 °C (115 °F) and 1 warm-up shot", bullet="  - ")
    assert all(line[-1] not in "0123456789" for line in lines)
    assert max(map(len, lines)) <= WIDTH
    assert " ".join(" ".join(lines).split()) == f"- {'x' * before} 46 °C (115 °F) and 1 warm-up shot"
    assert all(line.startswith("    ") for line in lines[1:])


def test_a_path_is_not_broken() -> None:
    path = "/" + "a-folder/" * 12
    assert wrapped(f"saved in {path}") == ["saved in", path]


def test_a_line_too_long_for_its_window_is_broken_between_words_under_its_label() -> None:
    line = "    sound  not played (no loudspeaker answered): the bell rings in its place"
    assert hung(line, 80) == [line]
    rows = hung(line, 40)
    assert rows == [
        "    sound  not played (no loudspeaker",
        "           answered): the bell rings in",
        "           its place",
    ]
    assert hung("  words that have no label but an indent", 20) == [
        "  words that have no",
        "  label but an",
        "  indent",
    ]


def test_a_label_too_far_to_the_right_for_its_window_moves_left() -> None:
    assert hung("                   low end  none: it tints at any load", 40) == [
        "          low end  none: it tints at any",
        "          load",
    ]


def test_a_row_of_a_table_is_not_broken() -> None:
    row = "  shell           12.3 ml        45 ml      43.2 g             -"
    assert hung(row, 40) == [row]


@pytest.mark.parametrize("wide", [40, 60, 200])
def test_on_a_terminal_words_are_as_wide_as_it_is_and_never_wider_than_a_page(
    wide: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(wide))
    text = "A thermometer and your own eyes decide. " * 6
    piped = max(map(len, wrapped(text)))
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert max(map(len, wrapped(text))) <= min(WIDTH, wide)
    assert min(WIDTH, wide) - 12 < max(map(len, wrapped(text)))
    assert piped > 60
    emit_lines([text])
    assert max(map(len, capsys.readouterr().out.splitlines())) <= wide
