"""The question whether to go on says which cup it is about, and which one a key heats."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session import drive
from bench.session.asking import Asked
from bench.session.events import ReheatWanted
from bench.session.view import view
from bench.session.warmth import anchored, with_cup
from bench.tui.pour.entry import Sure
from bench.tui.pour.heat_words import warning_words
from bench.tui.pour.keys import USUAL
from bench.tui.pour.question_words import sure_label, sure_why
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_step, session_of


def test_of_two_cups_it_is_said_which_are_cold_and_which_one_is_reheated() -> None:
    session, now = at_step("r1.shell.shot", session_of("ember-between-banks", "ribbon-leech-4"))
    session = placed(session, at(now), cup_c=163.0)
    session = with_cup(session, Part.SHELL_B, replace(anchored(session, at(now)).cups[Part.SHELL_B], temp_c=160.0))
    seen = view(session, at(now))
    entry = Sure(why=Asked.COLD, step=session.step.id, asked=at(now))
    why = sure_why(entry, seen, UnitSystem.METRIC)
    assert why == "The shell A and B cups are under their band."
    heats = drive.back(session, at(now))
    assert isinstance(heats, ReheatWanted)
    assert heats.part is Part.SHELL_B
    assert "B: reheat the shell B cup." in USUAL.words(sure_label(entry, seen))
    said = [USUAL.words(warning_words(each, UnitSystem.METRIC)) for each in seen.warnings[:2]]
    assert [each for each in said if "puts it back on the heat" in each] == [
        "The shell B cup is under its band, 160 °C. B puts it back on the heat, the shot follows."
    ]
