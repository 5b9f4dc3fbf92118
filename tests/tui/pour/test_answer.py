from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import IllegalMove
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked, asks_first
from bench.session.choices import cut_tails
from bench.session.events import (
    Aborted,
    CautionsAcknowledged,
    CoreChosen,
    CorrectionRefused,
    CorrectionRestored,
    CupRead,
    Held,
    MouldRead,
    ReadingWithdrawn,
    ReheatWanted,
    SkipReason,
    Started,
    StepDone,
    StepSkipped,
    StopReason,
    StopRequested,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.session import Session
from bench.session.step import Ending
from bench.session.view import view
from bench.tui.pour.answer import answer, refusal
from bench.tui.pour.entry import (
    Entry,
    Figure,
    Learnt,
    Leaving,
    Mistyped,
    Nothing,
    Noting,
    Reason,
    Sure,
    Tails,
    Why,
)
from bench.tui.pour.hints import hints
from bench.tui.pour.keys import USUAL, Press, Stroke
from bench.tui.pour.moment import ASKED_S, FIGURE_S, NEXT_DIGIT_S, Moment
from bench.tui.pour.question_words import figure_label
from bench.tui.pour.reply import Answer, Wish
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, reach, session_of

LATER_S = ASKED_S + 0.01
"""A question asked so long ago can be answered."""


def digit(number: int) -> Stroke:
    return Stroke(press=Press.DIGIT, digit=number)


def pressed(
    session: Session, now: float, *strokes: Press | Stroke, units: UnitSystem = UnitSystem.METRIC
) -> Answer:
    """The answer to the last of these, with the entries that the ones before it made, each of which came long
    enough before the next."""
    entry: Entry = Nothing()
    reply = Answer()
    for ago, stroke in zip(range(len(strokes) - 1, -1, -1), strokes, strict=True):
        moment = Moment(session=session, now=at(now - ago * LATER_S), units=units)
        reply = answer(entry, stroke if isinstance(stroke, Stroke) else Stroke(press=stroke), moment)
        entry = reply.entry
    return replace(reply, line=USUAL.words(reply.line))


def test_space_starts() -> None:
    assert pressed(session_of(), 0, Press.FORWARD).event == Started(at=at(0))


@pytest.mark.parametrize("press", [Press.TEMPERATURE, Press.MOULD, Press.SKIP, Press.STOP, Press.BACK, Press.NOTE])
def test_before_the_start_nothing_else_happens(press: Press) -> None:
    assert pressed(session_of(), 0, press).line == "Start the session first: Space."


def test_space_never_acknowledges() -> None:
    session, now = at_kind(StepKind.CAUTIONS)
    event = pressed(session, now, Press.FORWARD).event
    assert isinstance(event, StepDone)
    with pytest.raises(IllegalMove) as refused:
        session.after(event)
    assert USUAL.words(refusal(refused.value, session)) == "Acknowledge the card first: press A."


def test_a_acknowledges_one_card() -> None:
    session, now = at_kind(StepKind.CAUTIONS)
    event = pressed(session, now, Press.ACKNOWLEDGE).event
    assert isinstance(event, CautionsAcknowledged)
    assert 0 < len(event.cautions) < len(session.job.opening_cautions)


def test_with_nothing_to_acknowledge_a_says_so() -> None:
    session, now = at_kind(StepKind.READY)
    assert pressed(session, now, Press.ACKNOWLEDGE).line == "There is no caution to acknowledge now."


def test_back_and_hold() -> None:
    session, now = at_kind(StepKind.READY)
    assert pressed(session, now, Press.BACK).event == WentBack(at=at(now))
    assert pressed(session, now, Press.HOLD).event == Held(at=at(now))


def test_a_heating_steps_digits_are_a_reading_of_its_cup() -> None:
    session, now = at_step("r1.heat.shell")
    reply = pressed(session, now, digit(1), digit(7), digit(0), Press.FORWARD)
    assert reply.event == CupRead(at=at(now), part=Part.SHELL, temp_c=170.0, typed_in=UnitSystem.METRIC)
    assert reply.entry == Nothing()
    assert reply.line == "Shell cup: 170 °C."


def test_figures_are_typed_in_the_makers_unit() -> None:
    session, now = at_step("r1.heat.shell")
    event = pressed(session, now, digit(3), digit(3), digit(8), Press.FORWARD, units=UnitSystem.US).event
    assert isinstance(event, CupRead)
    assert event.temp_c == pytest.approx(170.0)


def test_a_figure_belongs_to_the_cup_it_was_begun_for() -> None:
    session, now = at_step("r1.heat.shell")
    entry = pressed(session, now, digit(1)).entry
    later, then = at_step("r1.heat.core")
    moment = Moment(session=later, now=at(then), units=UnitSystem.METRIC)
    event = answer(entry, Stroke(press=Press.FORWARD), moment).event
    assert isinstance(event, CupRead)
    assert event.part is Part.SHELL


def test_a_figure_can_be_mended_and_left() -> None:
    session, now = at_step("r1.heat.shell")
    typed = pressed(session, now, digit(1), digit(8), Press.BACK, digit(7))
    assert isinstance(typed.entry, Figure)
    assert typed.entry.typed == "17"
    assert pressed(session, now, digit(1), Press.ESCAPE) == Answer()
    assert pressed(session, now, Press.TEMPERATURE, Press.FORWARD).line == "Type the figure first; Esc leaves it."


def test_letters_do_nothing_while_a_figure_is_typed() -> None:
    session, now = at_step("r1.heat.shell")
    for press in (Press.SKIP, Press.STOP, Press.LEAVE, Press.MOULD, Press.NOTE, Press.HOLD, Press.OTHER):
        reply = pressed(session, now, digit(1), press)
        assert (reply.event, reply.wish) == (None, None)
        assert isinstance(reply.entry, Figure)
        assert reply.line


@pytest.mark.parametrize(
    ("typed", "units", "temp_c", "said"),
    [
        (("3", "3", ".", "5"), UnitSystem.METRIC, 33.5, "Mould: 33.5 °C."),
        (("9", "3", ".", "2"), UnitSystem.US, 34.0, "Mould: 93.2 °F."),
        (("3", "4", "."), UnitSystem.METRIC, 34.0, "Mould: 34 °C."),
    ],
)
def test_a_figure_with_a_point_is_the_figure_that_was_read(
    typed: tuple[str, ...], units: UnitSystem, temp_c: float, said: str
) -> None:
    """NIST SP 811, appendix B.8: 93.2 degF are 34 degC."""
    session, now = at_kind(StepKind.WARM_MOULD)
    strokes = [Stroke(press=Press.POINT) if sign == "." else digit(int(sign)) for sign in typed]
    reply = pressed(session, now, *strokes, Press.FORWARD, units=units)
    assert isinstance(reply.event, MouldRead)
    assert reply.event.temp_c == pytest.approx(temp_c)
    assert reply.line == said


def test_no_sign_of_a_figure_is_dropped_without_a_word() -> None:
    session, now = at_step("r1.heat.shell")
    for strokes in (
        (digit(3), Press.POINT, digit(5), Press.POINT),
        (digit(3), Press.POINT, digit(5), digit(5)),
        (digit(3),) * 5,
        (digit(3), Press.OTHER),
    ):
        *before, last = strokes
        reply = pressed(session, now, *before, last)
        assert reply.line
        kept = pressed(session, now, *before).entry
        assert isinstance(reply.entry, Figure)
        assert isinstance(kept, Figure)
        assert reply.entry.typed == kept.typed
    assert pressed(session, now, Press.POINT).line == "A figure begins with a digit, after T or M."


def test_a_point_after_a_digit_that_chose_tails_says_that_a_figure_is_typed() -> None:
    session, now = at_kind(StepKind.TRIM)
    before = cut_tails(session, session.step.round)
    entry = Nothing(chose=at(now), tails_before=before)
    reply = answer(entry, Stroke(press=Press.POINT), Moment(session=session, now=at(now), units=UnitSystem.METRIC))
    assert isinstance(reply.event, TailsChosen)
    assert reply.event.cut == before


def test_m_reads_the_mould_anywhere() -> None:
    session, now = at_step("r1.heat.shell")
    assert pressed(session, now, Press.MOULD, digit(4), digit(4), Press.FORWARD).event == MouldRead(
        at=at(now), temp_c=44.0, typed_in=UnitSystem.METRIC
    )


def test_after_a_doubted_reading_digits_read_the_same_thing_again() -> None:
    session, now = at_step("r1.heat.shell")
    doubted = session.after(MouldRead(at=at(now), temp_c=-90.0))
    assert doubted.doubted is not None
    event = pressed(doubted, now, digit(4), digit(4), Press.FORWARD).event
    assert event == MouldRead(at=at(now), temp_c=44.0, typed_in=UnitSystem.METRIC)


def test_a_looking_steps_digit_is_a_verdict() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    reply = pressed(session, now, digit(1))
    assert isinstance(reply.event, VerdictGiven)
    assert reply.event.verdict == "right"
    assert pressed(session, now, digit(0)).line == "No verdict stands under 0."


def test_a_verdict_pressed_again_is_no_second_one() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    for said in (digit(2), digit(6)):
        first = pressed(session, now, said).event
        assert isinstance(first, VerdictGiven)
        session = session.after(first)
        again = pressed(session, now + 3, said)
        assert again == Answer(line=f"{first.verdict.capitalize()}: noted already.")
    other = pressed(session, now + 6, digit(3))
    assert isinstance(other.event, VerdictGiven), "another one takes its place"
    back = pressed(session.after(other.event), now + 9, digit(2)).event
    assert isinstance(back, VerdictGiven), "and then the first one is news again"


def test_a_look_without_a_verdict_is_asked_about_once_and_a_digit_answers() -> None:
    session, now = at_kind(StepKind.LOOK_AT_SHELLS)
    now += 5
    asked = pressed(session, now, Press.FORWARD)
    assert asked == Answer(entry=Sure(why=Asked.NO_VERDICT, step=session.step.id, asked=at(now)))
    judged = pressed(session, now, Press.FORWARD, digit(2))
    assert judged.event == drive.verdict(session, 2, at(now))
    assert judged.entry == Nothing()
    passed = pressed(session, now, Press.FORWARD, Press.FORWARD)
    assert passed.event == drive.forward(session, at(now))
    assert passed.line == "Passed without a verdict. B goes back to give one."
    assert judged.event is not None
    assert pressed(session.after(judged.event), now, Press.FORWARD).event == drive.forward(session, at(now))


def test_baits_without_a_verdict_are_asked_about_once_too() -> None:
    session, now = at_kind(StepKind.LOOK_AT_BAITS)
    now += 5
    asked = pressed(session, now, Press.FORWARD)
    assert asked == Answer(entry=Sure(why=Asked.NO_VERDICT, step=session.step.id, asked=at(now)))
    assert pressed(session, now, Press.FORWARD, Press.FORWARD).event == drive.forward(session, at(now))


def test_a_question_that_has_become_a_graver_one_is_asked_anew() -> None:
    """So that the log, which tells what stood against a step at its end, tells what the screen asked."""
    session, now = at_step("r1.heat.shell")
    assert asks_first(session, at(now)) is Asked.UNREAD
    stale = Sure(why=Asked.NO_READING, step=session.step.id, asked=at(now - LATER_S))
    moment = Moment(session=session, now=at(now), units=UnitSystem.METRIC)
    reply = answer(stale, Stroke(press=Press.FORWARD), moment)
    assert reply.event is None
    if not reply.line:
        assert reply.entry == Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now))


def test_one_choice_alone_is_no_range_of_digits() -> None:
    session, now = reach(lambda there: len(there.corrections.all) == 1)
    assert pressed(session, now, Press.LEARNT, digit(9)).line == "Press 1; Esc goes back."


def test_at_the_tails_a_digit_is_how_many_are_cut() -> None:
    session, now = at_kind(StepKind.TRIM)
    assert pressed(session, now, digit(2)).event == TailsChosen(at=at(now), round=1, cut=2)
    assert pressed(session, now, digit(0)).event == TailsChosen(at=at(now), round=1, cut=0)
    assert pressed(session, now, digit(5)).line == "A round has 4 tails."


def test_a_figure_at_the_tails_changes_none_of_them_and_its_enter_ends_nothing() -> None:
    session, now = at_kind(StepKind.TRIM)
    before = cut_tails(session, 1)
    entry: Entry = Nothing()
    for seconds, stroke in ((0.0, digit(1)), (0.3, digit(3)), (0.6, digit(0))):
        reply = answer(entry, stroke, Moment(session=session, now=at(now + seconds), units=UnitSystem.METRIC))
        session = session.after(reply.event) if reply.event else session
        entry = reply.entry
        assert cut_tails(session, 1) == (1 if seconds == 0 else before)
    assert USUAL.words(reply.line).startswith("More than one digit is no number of tails")
    ended = answer(
        entry, Stroke(press=Press.FORWARD), Moment(session=session, now=at(now + 1), units=UnitSystem.METRIC)
    )
    assert ended.event is None
    assert "nothing was done" in ended.line


def test_a_second_thought_about_the_tails_is_taken() -> None:
    session, now = at_kind(StepKind.TRIM)
    changed = stroked(session, (now, digit(1)), (now + NEXT_DIGIT_S + 0.1, digit(2)))
    assert changed.event == TailsChosen(at=at(now + NEXT_DIGIT_S + 0.1), round=1, cut=2)


def test_where_a_round_has_many_tails_their_number_is_typed() -> None:
    session, now = at_kind(StepKind.TRIM)
    many = replace(session, job=replace(session.job, plan=replace(session.job.plan, cavities=12)))
    assert pressed(many, now, digit(1)).entry == Tails(typed="1")
    assert pressed(many, now, digit(1), digit(1), Press.FORWARD).event == TailsChosen(at=at(now), round=1, cut=11)
    refused = pressed(many, now, digit(1), digit(3), Press.FORWARD)
    assert refused.line == "A round has 12 tails."
    assert refused.entry == Tails(typed="13")


def stroked(session: Session, *timed: tuple[float, Press | Stroke], pace: float = 1.0) -> Answer:
    """The answer to the last of these presses, each at its own moment of the session."""
    entry: Entry = Nothing()
    reply = Answer()
    for now, stroke in timed:
        moment = Moment(session=session, now=at(now), units=UnitSystem.METRIC, pace=pace)
        reply = answer(entry, stroke if isinstance(stroke, Stroke) else Stroke(press=stroke), moment)
        entry = reply.entry
    return replace(reply, line=USUAL.words(reply.line))


@pytest.mark.parametrize("core_burst", [True, False])
def test_once_the_shells_go_back_digits_never_change_the_tails(core_burst: bool) -> None:
    session, now = at_kind(StepKind.SHELLS_BACK)
    if not core_burst:
        session = replace(session, cups={})
    reply = pressed(session, now + 60, digit(1), digit(3), digit(0), Press.FORWARD)
    if core_burst:
        assert reply.event == CupRead(at=at(now + 60), part=Part.CORE, temp_c=130.0, typed_in=UnitSystem.METRIC)
    else:
        assert reply.event is None


def test_from_the_core_shot_the_tails_can_still_be_mended() -> None:
    session, now = at_step("r1.core.shot")
    while session.step.kind is not StepKind.TRIM:
        now += 5
        session = session.after(WentBack(at=at(now)))
    assert pressed(session, now + 5, digit(2)).event == TailsChosen(at=at(now + 5), round=1, cut=2)


@pytest.mark.parametrize(
    ("kind", "figure"), [(StepKind.HEAT_ON, (3, 4, 0)), (StepKind.WEIGH, (4, 5)), (StepKind.LOOK_AT_SHELLS, (9,))]
)
def test_the_key_after_digits_that_mean_nothing_ends_the_figure_and_not_the_step(
    kind: StepKind, figure: tuple[int, ...]
) -> None:
    session, now = at_kind(kind)
    now += 60
    typed = [(now + 0.3 * place, digit(each)) for place, each in enumerate(figure)]
    ended = stroked(session, *typed, (now + 2, Press.FORWARD))
    assert ended.event is None
    assert ended.line.startswith("No figure is taken here")
    again = stroked(session, *typed, (now + 2, Press.FORWARD), (now + 3, Press.FORWARD))
    assert again.event is not None or isinstance(again.entry, Sure)


def test_a_press_long_after_a_refused_digit_or_after_another_key_goes_on() -> None:
    session, now = at_kind(StepKind.HEAT_ON)
    now += 60
    waited = stroked(session, (now, digit(3)), (now + FIGURE_S, Press.FORWARD))
    left = stroked(session, (now, digit(3)), (now + 1, Press.ESCAPE), (now + 2, Press.FORWARD))
    assert isinstance(waited.event, StepDone)
    assert isinstance(left.event, StepDone)


def test_in_a_rehearsal_a_figure_is_ended_within_the_makers_seconds() -> None:
    session, now = at_kind(StepKind.HEAT_ON)
    now += 600
    assert stroked(session, (now, digit(3)), (now + 40, Press.FORWARD), pace=20.0).event is None


def test_c_takes_the_next_core_while_its_cup_is_cold() -> None:
    session, now = at_kind(StepKind.TRIM)
    assert isinstance(pressed(session, now, Press.CORE).event, CoreChosen)
    session, now = at_step("r1.core.shot")
    assert pressed(session, now, Press.CORE).line == "The core colour is settled: its cup is on the heat, or was."


def test_a_digit_that_means_nothing_says_so() -> None:
    session, now = at_kind(StepKind.READY)
    assert pressed(session, now, digit(4)).line == "A digit means nothing here. T takes a temperature."


def test_skipping_takes_a_reason() -> None:
    session, now = at_kind(StepKind.READY)
    assert pressed(session, now, Press.SKIP).entry == Reason(why=Why.SKIP)
    event = pressed(session, now, Press.SKIP, digit(1)).event
    assert event == StepSkipped(at=at(now), step="ready", reason=SkipReason.ALREADY_DONE)
    wrong = pressed(session, now, Press.SKIP, digit(9))
    assert (wrong.event, wrong.entry) == (None, Reason(why=Why.SKIP))
    assert pressed(session, now, Press.SKIP, Press.FORWARD).event is None
    assert pressed(session, now, Press.SKIP, Press.ESCAPE) == Answer()


def test_stopping_takes_a_reason_and_danger_leaves_at_once() -> None:
    session, now = at_step("r1.heat.shell")
    assert pressed(session, now, Press.STOP, digit(1)).event == StopRequested(
        at=at(now), reason=StopReason.ENOUGH_MADE
    )
    assert pressed(session, now, Press.STOP, digit(5)).event == Aborted(at=at(now), reason=StopReason.DANGER)


def test_leaving_takes_two_presses() -> None:
    session, now = at_step("r1.heat.shell")
    asked = pressed(session, now, Press.LEAVE)
    assert (asked.wish, asked.entry) == (None, Leaving())
    assert pressed(session, now, Press.LEAVE, Press.LEAVE).wish is Wish.LEAVE
    stayed = pressed(session, now, Press.LEAVE, Press.FORWARD)
    assert (stayed.wish, stayed.event, stayed.entry) == (None, None, Nothing())


def test_no_single_press_does_what_cannot_be_taken_back() -> None:
    final = (Aborted, StopRequested, StepSkipped)
    for session, now in (at_kind(kind) for kind in (StepKind.READY, StepKind.HEAT, StepKind.SHOT, StepKind.TRIM)):
        for stroke in [*(Stroke(press=press) for press in Press), *map(digit, range(10))]:
            reply = pressed(session, now + 2, stroke)
            assert not isinstance(reply.event, final)
            assert reply.wish in (None, Wish.HELP)


def test_while_a_note_is_written_only_escape_counts() -> None:
    session, now = at_kind(StepKind.READY)
    for press in Press:
        reply = pressed(session, now, Press.NOTE, press)
        assert reply.wish is None
        if press not in (Press.ESCAPE, Press.ACKNOWLEDGE):
            assert reply == Answer(entry=Noting())
    assert pressed(session, now, Press.NOTE, Press.ESCAPE) == Answer()


def alarmed() -> tuple[Session, float]:
    session, now = at_step("r1.heat.shell")
    too_hot_c = session.job.plastic.scorch_c + 10
    return session.after(CupRead(at=at(now), part=Part.SHELL, temp_c=too_hot_c)), now + 2


def test_the_advancing_key_does_not_pass_an_alarm() -> None:
    session, now = alarmed()
    event = pressed(session, now, Press.FORWARD).event
    assert event is not None
    with pytest.raises(IllegalMove) as refused:
        session.after(event)
    assert USUAL.words(refusal(refused.value, session)) == "Acknowledge the alarm first: press A."


def test_the_key_that_holds_does_not_clear_an_alarm() -> None:
    session, now = alarmed()
    event = pressed(session, now, Press.HOLD).event
    assert event is not None
    assert session.after(event).alarm is not None


def test_a_clears_an_alarm_even_while_a_figure_is_typed() -> None:
    session, now = alarmed()
    reply = pressed(session, now, digit(1), Press.ACKNOWLEDGE)
    assert reply.event is not None
    assert session.after(reply.event).alarm is None
    assert isinstance(reply.entry, Figure)


def test_refusals_are_sentences_for_people() -> None:
    session, now = reach(lambda there: there.step.kind is StepKind.HEAT_OFF)
    with pytest.raises(IllegalMove) as refused:
        session.after(StepSkipped(at=at(now), step="heat-off", reason=SkipReason.NO_TIME))
    assert USUAL.words(refusal(refused.value, session)) == "Heat off is never left out."
    held = session.after(Held(at=at(now)))
    with pytest.raises(IllegalMove) as refused:
        held.after(StepDone(at=at(now), step="heat-off", by=session.step.ending))
    assert USUAL.words(refusal(refused.value, held)) == "Held. Go on first: press P."


def in_fahrenheit_by_mistake() -> tuple[Session, float]:
    """340 was typed at a metric bench: 171 degC, the thermometer said (NIST SP 811, B.8)."""
    session, now = at_kind(StepKind.HEAT)
    now += 0.9 * session.step.length_s
    return session.after(CupRead(at=at(now), part=session.step.parts[0], temp_c=340.0)), now + 2


def test_y_takes_a_doubted_reading_as_the_screen_asked_it() -> None:
    session, now = in_fahrenheit_by_mistake()
    reply = pressed(session, now, Press.YES)
    assert isinstance(reply.event, CupRead)
    assert reply.event.temp_c == pytest.approx(171.1, abs=0.05)
    assert reply.line.endswith("cup: 171 °C.")
    assert session.after(reply.event).doubted is None


@pytest.mark.parametrize(
    ("figures", "line"),
    [
        ((3, 4, 0), "Shell cup: 340 °C is not taken yet."),
        ((1, 7, 0), "Shell cup: 170 °C."),
        ((2, 1, 2), "Shell cup: 212 °C."),
    ],
)
def test_a_figure_that_is_doubted_is_not_called_taken(figures: tuple[int, ...], line: str) -> None:
    session, now = at_step("r1.heat.shell")
    reply = pressed(session, now, *map(digit, figures), Press.FORWARD)
    assert reply.line == line
    assert reply.event is not None
    assert (session.after(reply.event).doubted is not None) == ("not taken" in line)


def test_a_doubted_mould_is_not_called_taken_before_it_is_read_again() -> None:
    session, now = at_step("r1.heat.shell")
    typed = (Press.MOULD, digit(3), digit(4), digit(0), Press.FORWARD)
    first = pressed(session, now, *typed)
    assert first.line == "Mould: 340 °C is not taken yet."
    assert first.event is not None
    assert pressed(session.after(first.event), now, *typed).line == "Mould: 340 °C."


def test_what_no_heater_gives_is_said_not_to_be_learnt_from() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    for figure in (105, 108):
        if view(session, at(now)).begins:
            session = session.after(drive.forward(session, at(now)))
        burst = view(session, at(now)).burst
        assert burst is not None
        now += burst.left_s + 3.0
        reply = pressed(session, now, *map(digit, map(int, str(figure))), Press.FORWARD)
        assert isinstance(reply.event, CupRead)
        known = session.corrections.heater
        session = session.after(reply.event)
    assert reply.line == "Shell cup: 108 °C. Too far from what the heater gives: nothing is learnt from it."
    assert session.corrections.heater == known
    assert session.cup_readings[-1].temp_c == 108.0


def test_y_alone_answers_nothing() -> None:
    session, now = at_kind(StepKind.HEAT)
    assert pressed(session, now, Press.YES) == Answer(line="Nothing was asked that Y answers.")


def taught() -> tuple[Session, float]:
    """A session whose readings have taught something of cup or heater."""
    return reach(lambda there: len(there.corrections.all) > 0)


def test_l_shows_what_was_learnt_and_a_digit_refuses_it_and_takes_it_up_again() -> None:
    session, now = taught()
    first = session.corrections.all[0].of
    refused = pressed(session, now, Press.LEARNT, digit(1))
    assert refused == Answer(entry=Learnt(), event=CorrectionRefused(at=at(now), of=first))
    assert refused.event is not None
    restored = pressed(session.after(refused.event), now, Press.LEARNT, digit(1))
    assert restored.event == CorrectionRestored(at=at(now), of=first)


def test_what_was_learnt_stays_until_esc_and_only_digits_change_it() -> None:
    session, now = taught()
    assert pressed(session, now, Press.LEARNT, digit(9)).entry == Learnt()
    assert pressed(session, now, Press.LEARNT, Press.FORWARD).event is None
    assert pressed(session, now, Press.LEARNT, Press.ESCAPE) == Answer()


def test_before_any_reading_there_is_nothing_learnt() -> None:
    session, now = at_kind(StepKind.READY)
    assert pressed(session, now, Press.LEARNT).line.startswith("Nothing is learnt yet")


def test_a_cold_cup_at_its_shot_goes_back_on_the_heat_with_the_key_back() -> None:
    session, now = at_step("r1.core.shot")
    late = now + 1200
    assert pressed(session, late, Press.BACK).event == ReheatWanted(at=at(late), part=Part.CORE)
    assert pressed(session, late, Press.FORWARD).entry == Sure(why=Asked.COLD, step="r1.core.shot", asked=at(late))
    assert pressed(session, late, Press.FORWARD, Press.FORWARD).event == drive.forward(session, at(late))


def test_asked_about_a_cold_cup_the_key_back_heats_it_and_escape_stays() -> None:
    session, now = at_a_cold_shot()
    entry = Sure(why=Asked.COLD, step=session.step.id, asked=at(now))
    moment = Moment(session=session, now=at(now), units=UnitSystem.METRIC)
    event = answer(entry, Stroke(press=Press.BACK), moment).event
    assert event == ReheatWanted(at=at(now), part=session.step.parts[0])
    assert answer(entry, Stroke(press=Press.ESCAPE), moment) == Answer(line="You stay at this step.")


def test_at_a_cold_shot_that_was_come_back_to_yes_heats_and_the_key_back_goes_back() -> None:
    session, now = at_a_cold_shot()
    assert "answers" in pressed(session, now, Press.YES).line, "it is not a second key for the same"
    for _ in range(2):
        session = session.after(drive.back(session, at(now)))
    assert session.visit.revisited
    assert pressed(session, now, Press.BACK).event == WentBack(at=at(now))
    event = pressed(session, now, Press.YES).event
    assert event == ReheatWanted(at=at(now), part=session.step.parts[0])
    assert event is not None
    assert session.after(event).step.kind is StepKind.HEAT


def at_a_cold_shot() -> tuple[Session, float]:
    session, now = at_step("r1.core.shot")
    return placed(session, at(now), cup_c=150.0), now


def test_the_air_is_asked_about_before_it_is_left_uncleared() -> None:
    session, now = at_kind(StepKind.PURGE_AIR)
    asked = pressed(session, now, Press.SKIP)
    assert (asked.event, asked.entry) == (None, Sure(why=Asked.EARLY, step=session.step.id, asked=at(now)))
    assert asked.line == "No reason skips the air: Space ends it early, B or Esc stays."


def test_a_stop_in_the_closing_says_at_once_that_it_is_under_way() -> None:
    for kind in (StepKind.HEAT_OFF, StepKind.CLEAN):
        session, now = at_kind(kind)
        reply = pressed(session, now, Press.STOP)
        assert reply.entry == Nothing()
        assert reply.line.startswith("The closing steps are under way already.")


def test_no_foot_on_a_pedal_leaves_a_heating_whose_cup_nobody_read() -> None:
    session, now = at_step("r1.heat.shell")
    asked = pressed(session, now + 5, Press.FORWARD)
    assert asked.entry == Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now + 5))
    again = pressed(session, now + 5, *[Press.FORWARD] * 4)
    assert again.event is None
    assert isinstance(again.entry, Sure)
    taken = pressed(session, now + 5, Press.FORWARD, Press.ACKNOWLEDGE)
    assert taken.event == StepDone(at=at(now + 5), step=session.step.id, by=Ending.HAND, as_it_is=True)
    assert isinstance(pressed(session, now + 5, Press.FORWARD, digit(1)).entry, Figure)
    assert isinstance(pressed(session, now + 5, Press.FORWARD, Press.SKIP).entry, Reason)
    assert pressed(session, now + 5, Press.FORWARD, Press.BACK).entry == Nothing()


def test_what_is_to_be_read_is_acknowledged_before_a_cup_is_taken_as_it_is() -> None:
    session, now = at_step("r1.heat.shell")
    late = now + 4000
    assert drive.acknowledge(session, at(late)) is not None
    session = session.after(CupRead(at=at(now), part=Part.SHELL, temp_c=30.0))
    entry = Sure(why=Asked.UNREAD, step=session.step.id, asked=at(now))
    reply = answer(
        entry, Stroke(press=Press.ACKNOWLEDGE), Moment(session=session, now=at(late), units=UnitSystem.METRIC)
    )
    assert isinstance(reply.event, CautionsAcknowledged)
    assert reply.entry == entry


def test_a_reading_over_the_scorch_limit_is_struck_by_the_key_back_pressed_twice() -> None:
    session, now = at_step("r1.heat.shell")
    for _ in range(2):
        session = session.after(CupRead(at=at(now), part=Part.SHELL, temp_c=400.0))
    assert session.alarm is not None
    asked = pressed(session, now, Press.BACK)
    assert asked.event is None
    assert asked.entry == Mistyped(read=session.cup_readings[-1], asked=at(now))
    assert pressed(session, now, Press.BACK, Press.ESCAPE).line == "The reading stands."
    assert pressed(session, now, Press.BACK, Press.FORWARD).event is None
    read = pressed(session, now, Press.BACK, Press.ACKNOWLEDGE)
    assert isinstance(read.event, CautionsAcknowledged)
    assert read.entry == Nothing()
    struck = pressed(session, now, Press.BACK, Press.BACK).event
    assert struck == ReadingWithdrawn(at=at(now), part=Part.SHELL, temp_c=400.0)
    assert session.after(struck).alarm is None


def test_what_was_read_solid_is_only_read_reheated_skipped_or_stopped() -> None:
    session, now = at_step("r1.core.shot")
    session = placed(session, at(now), cup_c=41.0)
    asked = pressed(session, now + 5, Press.FORWARD).entry
    assert isinstance(asked, Sure)
    assert asked.why is Asked.SOLID
    insisted = pressed(session, now + 5, Press.FORWARD, Press.ACKNOWLEDGE)
    assert insisted.event is None
    assert isinstance(insisted.entry, Sure)
    assert insisted.line == "Only a reading answers that: T and digits."
    shown = hints(session, view(session, at(now + 5)), asked)
    assert [USUAL.words(hint.key) for hint in shown] == ["T", "B", "Esc", "S", "X"]
    assert pressed(session, now + 5, Press.FORWARD, Press.BACK).event == ReheatWanted(
        at=at(now + 5), part=Part.CORE
    )
    assert pressed(session, now + 5, Press.FORWARD, Press.ESCAPE).event is None
    assert isinstance(pressed(session, now + 5, Press.FORWARD, Press.SKIP).entry, Reason)
    assert isinstance(pressed(session, now + 5, Press.FORWARD, Press.STOP).entry, Reason)


def test_the_key_for_a_figure_changes_the_cup_that_it_is_of() -> None:
    session, now = at_step("r1.core.shot")
    first = pressed(session, now, Press.TEMPERATURE, digit(9)).entry
    assert isinstance(first, Figure)
    other = pressed(session, now, Press.TEMPERATURE, digit(9), Press.TEMPERATURE).entry
    assert isinstance(other, Figure)
    assert (first.about, first.typed) == (CupRead(at=at(now - LATER_S), part=Part.CORE, temp_c=0.0), "9")
    assert isinstance(other.about, CupRead)
    assert (other.about.part, other.typed) == (Part.SHELL, "9")
    label = USUAL.words(figure_label(other, view(session, at(now)), UnitSystem.METRIC))
    assert label == "Shell cup, in °C. Enter takes it, Esc leaves it. T: the core cup instead."
    reply = answer(
        other, Stroke(press=Press.FORWARD), Moment(session=session, now=at(now), units=UnitSystem.METRIC)
    )
    assert reply.line.startswith("Shell cup: 9 °C")
