"""The predicted colours at a look."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Tail
from bench.model.step_kind import StepKind
from bench.plan.look import look_at
from bench.plan.look_records import ViewName
from bench.session import drive
from bench.session.looks import looks_now
from bench.session.view import view
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import picture
from bench.tui.pour.samples import samples
from tests.tui.at_the_bench import at, at_kind, session_of
from tests.tui.pour.pictures import METRIC
from tests.tui.pour.shown import whole_text


def test_both_sides_are_seen_at_eighty_by_twenty_four() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS, session_of("ember-between-banks"))
    shown = picture(session, at(now), METRIC)
    assert [each.side for each in shown.middle.samples] == ["shell A", "shell A", "shell B", "shell B"]
    text = whole_text(frame(shown, 80, 24).rows)
    for each in shown.middle.samples:
        assert f"{each.words} {each.hex}" in text
    assert "shell A  █" in text
    assert "shell B  █" in text


def test_the_colour_over_the_core_follows_the_core_that_is_chosen() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    planned = {each.words: each.hex for each in samples(session, view(session, at(now)))}
    assert looks_now(session) == session.job.looks
    chosen = session
    while chosen.core != "lantern-under-soot":
        event = drive.next_core(chosen, at(now))
        assert event is not None
        chosen = chosen.after(event)
    after = {each.words: each.hex for each in samples(chosen, view(chosen, at(now)))}
    assert after["shell alone"] == planned["shell alone"]
    assert after["over the core"] != planned["over the core"]


def tails_of(cut: int, recipe: str = "ember-under-peat") -> list[str]:
    """What is said of the tails of a round that has so many of its four cut, and the colours."""
    session, now = at_kind(StepKind.LOOK_AT_BAITS, session_of(recipe))
    session = replace(session, tails={1: cut})
    shown = [each for each in samples(session, view(session, at(now))) if each.words.startswith("tail")]
    return [f"{each.words} {each.hex}" for each in shown]


def test_a_round_shows_the_tails_that_it_has() -> None:
    """The colours are those that the recipe itself predicts with its tails kept, and with them cut."""
    session, _ = at_kind(StepKind.LOOK_AT_BAITS)
    job = session.job
    hexes = {
        tail: view.hex
        for tail in Tail
        for view in look_at(
            recipe=job.recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants, tail=tail
        ).views
        if view.name is ViewName.TAIL
    }
    assert hexes[Tail.KEPT] != hexes[Tail.CUT]
    kept, cut = f"tail kept {hexes[Tail.KEPT]}", f"tail cut {hexes[Tail.CUT]}"
    assert tails_of(0) == [kept]
    assert tails_of(4) == [cut]
    assert tails_of(2) == [kept, cut]


def test_a_kept_tail_of_two_colours_is_shown_side_by_side() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS, session_of("ember-between-banks"))
    session = replace(session, tails={1: 1})
    shown = [each for each in samples(session, view(session, at(now))) if each.words.startswith("tail")]
    assert [(each.side, each.words) for each in shown] == [
        ("shell A", "tail kept"),
        ("shell B", "tail kept"),
        ("", "tail cut"),
    ]
    text = whole_text(frame(picture(session, at(now), METRIC), 80, 24).rows)
    assert all(f"{each.words} {each.hex}" in text for each in shown)
