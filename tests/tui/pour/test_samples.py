"""The predicted colours at a look."""

from __future__ import annotations

from bench.model.step_kind import StepKind
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
