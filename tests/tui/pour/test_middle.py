"""The middle at moments that ask something of the maker."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.choices import shot_each_ml
from bench.session.cooldown import CoolDown
from bench.session.doubt import Doubt
from bench.session.events import MouldRead
from bench.session.handling import TouchView
from bench.session.misreadings import suggestion
from bench.session.readings import expected
from bench.session.view import view
from bench.session.warned import BenchWarning, WarningKind
from bench.tui import present
from bench.tui.pour.entry import Figure, Mistyped, Nothing, Sure
from bench.tui.pour.gauges import gauges
from bench.tui.pour.heat_words import cooling_words, warning_words
from bench.tui.pour.keys import USUAL
from bench.tui.pour.middle import middle
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of

C = UnitSystem.METRIC


def test_a_cup_that_did_not_rise_is_asked_about_with_both_answers() -> None:
    session, now = at_step("r1.heat.shell")
    read = drive.reading(session, 100.0, at(now))
    seen = replace(
        view(session, at(now)),
        doubt=Doubt(reading=read, expected=expected(session, read), suggestion=None, did_not_rise=True),
    )
    shown = middle(session, seen, Nothing(), C)
    first, off, on = map(USUAL.words, shown.details)
    assert first.endswith("It did not rise: was the heater on?")
    assert off.startswith("Y: it was off.")
    assert on.startswith("It was on: stir, read it again")


def test_a_doubted_reading_over_the_scorch_limit_says_heat_off() -> None:
    session, now = at_step("r1.heat.shell")
    hot = session.after(drive.reading(session, 400.0, at(now)))
    shown = middle(hot, view(hot, at(now)), Nothing(), C)
    assert "If it may be true: heat off now." in shown.details
    cold = session.after(drive.reading(session, -90.0, at(now)))
    shown = middle(cold, view(cold, at(now)), Nothing(), C)
    assert not any("heat off now" in row for row in shown.details)


def test_a_doubted_reading_says_that_twice_the_same_is_believed() -> None:
    session, now = at_step("r1.heat.shell")
    doubted = session.after(MouldRead(at=at(now), temp_c=300.0))
    assert suggestion(doubted, at(now), C) is None
    shown = middle(doubted, view(doubted, at(now)), Nothing(), C)
    assert shown.details[-1].endswith("The same figure twice is believed.")


def test_the_bench_is_readied_with_what_the_first_cups_take() -> None:
    session, now = at_kind(StepKind.READY)
    lines = middle(session, view(session, at(now)), Nothing(), C).details
    assert len(lines) == len(session.job.plan.parts)
    for line, plan in zip(lines, session.job.plan.parts, strict=True):
        melt = plan.melts[0]
        assert line.startswith(f"{plan.part.words} cup: {melt.base_g:.1f} g")
        assert all(dose.title in line for dose in melt.doses)


def test_the_first_cups_are_on_the_screen_while_the_mould_warms_and_at_their_own_weighing() -> None:
    session, now = at_kind(StepKind.WARM_MOULD)
    lines = middle(session, view(session, at(now)), Nothing(), C).details
    first = session.job.plan.parts[0].melts[0]
    assert any(f"{first.base_g:.1f} g" in line and first.doses[0].title in line for line in lines)
    weighing = next(step for step in session.job.script if step.kind is StepKind.WEIGH)
    session, now = at_step(weighing.id)
    lines = middle(session, view(session, at(now)), Nothing(), C).details
    assert any(line.startswith(f"weigh {first.base_g:.1f} g of plastic") for line in lines)
    assert any(first.doses[0].title in line for line in lines)
    assert weighing.do.startswith("Weigh base and colour into it and stir, if that is still to do.")
    assert weighing.do.endswith("Then press the key.")


def test_scrap_says_from_when_the_mould_is_good() -> None:
    session, now = at_kind(StepKind.WARM_UP_SHOT)
    scrap, good = middle(session, view(session, at(now)), Nothing(), C).details
    assert scrap.startswith("about ")
    assert good == f"the mould is warm enough once it reads {session.job.mould.warm_c[0]:.0f} °C"


def test_the_mould_that_is_read_is_numbered_where_there_are_several() -> None:
    session, now = at_step("r1.heat.shell")
    seen = view(session, at(now))
    entry = Figure(about=MouldRead(at=at(now), temp_c=0.0, mould=1))
    assert middle(session, seen, entry, C).label.startswith("Mould, in")
    several = replace(seen, moulds=(*seen.moulds, replace(seen.moulds[0], number=2)))
    assert middle(session, several, entry, C).label.startswith("Mould 1, in")


def test_what_is_hot_inside_is_not_called_cool_beside_it() -> None:
    session, now = at_kind(StepKind.OPEN)
    seen = view(session, at(now))
    touch = TouchView(brief_s=0.0, bare_s=0.0, mould_brief_s=None, mould_bare_s=None)
    assert middle(session, replace(seen, touch=touch), Nothing(), C).details == ()
    later = middle(session, replace(seen, touch=replace(touch, bare_s=200.0)), Nothing(), C).details
    assert later[0].startswith("gloves on: ")


def test_two_rounds_of_shells_are_told_apart() -> None:
    session, now = at_step("r1.rods-out")
    seen = view(session, at(now))
    (one,) = seen.shells_out
    both = replace(seen, shells_out=(one, replace(one, round=2)))
    names = [each.name for each in gauges(session, both, at(now), C)]
    assert [each for each in names if each.startswith("shells out")] == ["shells out, 1", "shells out, 2"]


def test_a_shot_of_what_is_not_liquid_names_how_cold_it_is() -> None:
    session, now = at_step("r1.core.shot")
    session = placed(session, at(now), cup_c=27.0)
    entry = Sure(why=Asked.SOLID, step=session.step.id, asked=at(now))
    shown = middle(session, view(session, at(now)), entry, C)
    assert shown.details[0] == "27 °C: it is not liquid, it cannot be shot."
    assert USUAL.words(shown.label) == "Read it: T and digits. B: reheat. S: skip. Esc: stay."
    never_read = {part: replace(known, measured=None) for part, known in session.cups.items()}
    unread = replace(session, cups=never_read)
    assert "A: I take it as it is." in USUAL.words(middle(unread, view(unread, at(now)), entry, C).label)
    shown = middle(session, view(session, at(now)), replace(entry, why=Asked.DOUBT), C)
    assert "again goes on" in shown.label


def test_the_question_about_a_look_shows_what_the_digits_mean() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    entry = Sure(why=Asked.NO_VERDICT, step=session.step.id, asked=at(now))
    shown = middle(session, view(session, at(now)), entry, C)
    assert shown.large == "GO ON?"
    assert shown.details[0].startswith("No verdict yet: one digit says what you see")
    assert len(shown.choices) == 8


def test_a_cup_over_its_scorch_limit_leaves_two_ways_on() -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(drive.reading(session, 400.0, at(now)))
    event = drive.acknowledge(session, at(now))
    assert event is not None
    session = session.after(event)
    shown = middle(session, view(session, at(now)), Nothing(), C)
    cooling, reading, thrown, hot, wrong = map(USUAL.words, shown.details)
    assert re.fullmatch(r"cool to the touch in about .+ by the estimate, its middle later", cooling)
    assert reading == "a cool reading counts for more: T and digits"
    assert thrown == "Space: the cold cup is thrown away, weigh a new one"
    assert hot == "Space, then A while it is hot: it stays, weigh anew"
    assert wrong == "B: that reading was wrong"
    asked = middle(session, view(session, at(now)), Mistyped(read=session.cup_readings[-1], asked=at(now)), C)
    assert asked.large == "WRONG?"
    assert asked.details == ("400 °C was wrong and counts for nothing?",)
    assert shown.large == "NO MORE HEAT"
    strip = {gauge.name: gauge.words for gauge in gauges(session, view(session, at(now)), at(now), C)}
    assert strip["shell cup"].startswith("scorched, do not use")
    later = view(session, at(now + 600))
    assert later.cups[0].spent_pct > 1000
    strip = {gauge.name: gauge.words for gauge in gauges(session, later, at(now + 600), C)}
    assert "over 100 % of its heat life used" in strip["shell cup"]
    assert WarningKind.HEAT_SPENT not in [each.kind for each in later.warnings], "it is thrown away, not used up"
    worn = BenchWarning(kind=WarningKind.HEAT_SPENT, value=3860032.0, limit=100.0, part=Part.SHELL)
    assert warning_words(worn, C).endswith(
        "has used up over 100 % of the heat it stands: use it up or throw it away."
    )


def test_another_core_colour_says_what_becomes_of_the_mixed_cup() -> None:
    session, now = at_kind(StepKind.TRIM)
    assert not any("set aside" in line for line in middle(session, view(session, at(now)), Nothing(), C).details)
    chosen = drive.next_core(session, at(now))
    assert chosen is not None
    session = session.after(chosen)
    lines = middle(session, view(session, at(now)), Nothing(), C).details
    assert "the mixed core cup is set aside and a new one weighed: about 1 min" in lines


def test_a_hot_scorched_cup_is_answered_by_keys_of_its_own() -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(drive.reading(session, 250.0, at(now)))
    entry = Sure(why=Asked.SCORCHED, step=session.step.id, asked=at(now))
    asked = middle(session, view(session, at(now)), entry, C)
    assert "A: it stays, weigh anew." in USUAL.words(asked.label)
    assert asked.details[0].startswith("The cup was over its scorch limit and is still hot")
    assert "by the estimate" in asked.details[1]


def test_a_cool_scorched_cup_says_how_that_is_known() -> None:
    cooling = CoolDown(part=Part.SHELL, left_s=0.0, is_read=False)
    assert cooling_words(cooling) == ("cool by the estimate; its middle may not be: test before you trust it",)
    assert cooling_words(replace(cooling, is_read=True)) == ("it was read cool",)
    assert cooling_words(replace(cooling, left_s=None))[0] == "the room is too warm to say when it is cool"


def test_shells_too_long_out_are_called_for_where_they_are_to_be_filled_now() -> None:
    session, now = at_step("r1.core.shot")
    seen = view(session, at(now + 700))
    (out,) = seen.shells_out
    late = BenchWarning(kind=WarningKind.SHELLS_OUT, value=700.0, limit=600.0, round=1)
    for is_now, words in ((True, "too long: fill them now"), (False, "too long: they may peel")):
        warnings = (replace(late, is_second=not is_now),)
        told = replace(seen, shells_out=(replace(out, out_s=700.0),), warnings=warnings)
        strip = {each.name: each.words for each in gauges(session, told, at(now + 700), C)}
        assert strip["shells out"] == words


def test_a_shot_of_what_is_not_liquid_shows_nothing_to_shoot() -> None:
    session, now = at_step("r1.core.shot")
    session = placed(session, at(now), cup_c=27.0)
    shown = middle(session, view(session, at(now)), Nothing(), C)
    assert shown.large == "DO NOT SHOOT YET"
    assert shown.details == ("27 °C: it is not liquid, it cannot be shot",)


def test_a_heat_that_waits_for_the_old_cup_says_what_begins_it() -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(drive.reading(session, 400.0, at(now)))
    event = drive.acknowledge(session, at(now))
    assert event is not None
    session = session.after(event)
    session = session.after(drive.insist(session, at(now)))
    session = session.after(drive.forward(session, at(now + 60)))
    seen = view(session, at(now + 60))
    shown = middle(session, seen, Nothing(), C)
    assert shown.large == "OLD CUP FIRST"
    about, _reading, begins = map(USUAL.words, shown.details)
    assert about.startswith("cool to the touch in about ")
    assert begins == "Space: the old cup is out, the new one on the heat"
    strip = {gauge.name: gauge.words for gauge in gauges(session, seen, at(now + 60), C)}
    assert re.fullmatch(r"cool in about .+, estimate", strip["old cup"])
    figure = Figure(about=drive.reading(session, 0.0, at(now + 60)))
    assert middle(session, seen, figure, C).label.startswith("Old shell cup, in °C.")


def test_a_shot_from_two_cups_says_how_much_from_each_and_that_both_are_pushed_together() -> None:
    session, now = at_step("r1.shot.shot", session_of("dusk-and-dawn"))
    first, second = shot_each_ml(session).values()
    assert first == pytest.approx(second)
    said = middle(session, view(session, at(now)), Nothing(), C).details[0]
    assert said == f"about {present.volume(first, C)} from each of the side A and side B cups, top-off included"
    assert session.step.do.startswith("Push both together, slowly and evenly, ")
    session, now = at_step("r1.shell.shot", session_of("ember-between-banks"))
    side_a, side_b = (present.volume(ml, C) for ml in shot_each_ml(session).values())
    said = middle(session, view(session, at(now)), Nothing(), C).details[0]
    assert said == f"about {side_a} from the shell A cup, {side_b} from the shell B cup, top-off included"
    assert at_step("r1.shell.shot")[0].step.do.startswith("Push slowly and steadily ")


@pytest.mark.parametrize(("gone_s", "said"), [(1.0, ""), (900.0, " Its time is over.")])
def test_what_is_said_of_time_after_coming_back_is_a_sentence_and_true(gone_s: float, said: str) -> None:
    session, now = at_step("r1.shell.set")
    again = replace(view(session, at(now + gone_s)), revisited=True)
    assert USUAL.words(middle(session, again, Nothing(), C).label) == f"You came back: Space goes on.{said}"


def test_a_question_about_a_doubted_reading_shows_what_it_may_have_been() -> None:
    session, now = at_step("r1.heat.shell")
    session = session.after(drive.reading(session, 304.0, at(now)))
    entry = Sure(why=Asked.DOUBT, step=session.step.id, asked=at(now))
    details = middle(session, view(session, at(now)), entry, C).details
    assert any(row.startswith("Was it 151 °C, a Fahrenheit figure?") for row in details)


def test_nobody_is_told_to_be_quick_with_a_cup_that_is_reheated_first() -> None:
    session, now = at_step("r1.core.shot")
    cold = placed(session, at(now + 700), cup_c=110.0)
    details = middle(cold, view(cold, at(now + 700)), Nothing(), C).details
    assert any("reheat it into its band" in row for row in details)
    assert [row.endswith(": it may peel") for row in details if row.startswith("core meets shell")] == [True]
