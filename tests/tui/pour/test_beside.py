from __future__ import annotations

from dataclasses import replace

import pytest

from bench.tui.pour.beside import GAP, LEAST_WORDS, beside, larger_beside
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import Picture, picture
from bench.tui.widgets.blocks import drawings
from bench.tui.widgets.lines import BLANK, Line, Tone, line, lines, width_of
from tests.tui.at_the_bench import at, session_of, walk
from tests.tui.pour.pictures import METRIC, SCENES
from tests.tui.pour.shown import texts_of, whole_text

SMALLEST, *_, LARGEST = drawings("3:58", 300)
LOW = ((300, 9), (300, 11), (300, 12), (220, 15), (240, 16), (160, 12), (120, 12), (160, 19))


def test_the_words_keep_their_columns() -> None:
    wide = LEAST_WORDS + GAP + 40
    found = larger_beside("3:58", (), wide, 20)
    assert found is not None
    assert found.scale == 2
    assert larger_beside("3:58", (), wide - 1, 20) == SMALLEST
    assert larger_beside("3:58", (), LEAST_WORDS + GAP + 19, 20) is None


def test_a_figure_keeps_its_place_and_size_while_it_is_typed() -> None:
    for room in range(76, 297, 10):
        scales = {
            found and found.scale
            for typed in ("_", "1_", "16_", "168_")
            for found in [larger_beside(typed, (), room, 20)]
        }
        assert len(scales) == 1, room


def test_what_is_as_large_between_the_words_stays_there() -> None:
    wide = LEAST_WORDS + GAP + 40
    as_large = drawings("3:58", wide)[1]
    assert larger_beside("3:58", lines(SMALLEST.lines), wide, 20) is not None
    assert larger_beside("3:58", lines(as_large.lines), wide, 20) is None
    assert larger_beside("3:58", (line("3:58"),), wide, 3) is None, "no room for any drawing"


def test_a_drawing_stands_at_its_row_or_as_low_as_it_fits() -> None:
    words: tuple[Line, ...] = (line("first"), BLANK, *(line("more"),) * 4)
    for at_row, top in ((0, 0), (1, 1), (5, 2)):
        rows = beside(words, SMALLEST, Tone.COUNT, at=at_row, columns=10)
        assert len(rows) == len(words)
        assert [place for place, row in enumerate(rows) if row and row[-1].tone is Tone.COUNT] == [
            *range(top, top + 4)
        ]
        assert {width_of(row) for row in rows[top : top + 4]} == {10 + GAP + 20}


def test_a_filled_row_stays_a_block_up_to_the_gap() -> None:
    (row,) = beside(
        (line("!  look", Tone.REMIND),), replace(SMALLEST, lines=("██",)), Tone.COUNT, at=0, columns=20
    )
    filled = [piece.text for piece in row if piece.tone is Tone.REMIND]
    assert len("".join(filled)) == 20
    (row,) = beside((line("STOP", Tone.ALARM),), replace(SMALLEST, lines=("██",)), Tone.ALARM, at=0, columns=20)
    assert all(piece.tone is Tone.ALARM for piece in row)


@pytest.mark.parametrize("recipe", ["peat-plain", "ember-under-peat", "ember-between-banks"])
def test_beside_large_figures_every_word_that_says_what_to_do_is_in_sight(recipe: str) -> None:
    seen = 0
    for session, now in walk(session_of(recipe)):
        shown = None if session.state.over else picture(session, at(now), METRIC)
        if shown is None or shown.sheet is not None:
            continue
        leading = (*shown.middle.details[:1], *shown.middle.choices) if shown.middle.leads else ()
        for size in LOW:
            rows = texts_of(frame(shown, *size).rows)
            words = " ".join(" ".join(row.rstrip("█▀▄ ").strip() for row in rows).split())
            assert shown.do in words, (session.step.id, size)
            assert f"then {shown.then}" in words, (session.step.id, size)
            assert all(" ".join(text.split()) in words for text in leading), (session.step.id, size)
            assert f"{shown.hints[0].key} {shown.hints[0].does}" in rows[-1] + rows[-2]
            assert shown.corner in rows[0]
        seen += 1
    assert seen > 10


def test_a_warning_and_a_reminder_stand_beside_large_figures_too() -> None:
    shown = replace(_scene("set"), notices=("The mould is hot.",), reminder="Look at the fan.")
    rows = frame(shown, 300, 12).rows
    text = whole_text(rows)
    assert "» The mould is hot." in text
    assert "!  Look at the fan." in text
    assert sum(any(piece.tone is Tone.COUNT and piece.text.strip() for piece in row) for row in rows) == 11


@pytest.mark.parametrize(("size", "high"), [((300, 11), 11), ((300, 12), 11), ((220, 15), 14), ((160, 12), 7)])
def test_where_all_keys_find_room_beside_them_figures_take_every_row(size: tuple[int, int], high: int) -> None:
    """At 160 columns they would not, and the figures stay between the top row and the keys."""
    shown = _scene("set")
    rows = frame(shown, *size).rows
    assert len(rows) == size[1]
    drawn = tuple(piece.text for row in rows for piece in row if piece.tone is Tone.COUNT and piece.text.strip())
    assert drawn in {drawing.lines for drawing in drawings(shown.middle.large, 300)}
    assert len(drawn) == high
    first, *_, last = texts_of(rows)
    assert all(f"{hint.key} {hint.does}" in last for hint in shown.hints)
    assert shown.corner in first


def test_the_large_word_of_the_alarm_stands_beside_its_cautions_whole() -> None:
    framed = frame(_scene("alarm"), 300, 12)
    text = " ".join(text.rstrip("█ ") for text in texts_of(framed.rows))
    assert framed.is_whole
    assert "Off the heat." in text
    assert "Do not carry a smoking cup." in text
    drawn = [piece.text for row in framed.rows for piece in row if "█" in piece.text]
    assert tuple(drawn) in {drawing.lines for drawing in drawings("TOO HOT", 300)}
    assert len(drawn) == 7


def _scene(name: str) -> Picture:
    session, now, around = SCENES[name]()
    return picture(session, at(now), around)
