"""What a key means now: the next entry, the event to apply, the line to say. All rules are the session's own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from bench.errors import IllegalMove
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import INSISTED, Asked, asks_first, may_be_taken
from bench.session.choices import cut_tails
from bench.session.events import (
    Aborted,
    Event,
    ReheatWanted,
    SkipReason,
    StepSkipped,
    StopReason,
    StopRequested,
)
from bench.session.session import Session, State
from bench.session.spoilt import strikable_here
from bench.session.stamp import Stamp
from bench.tui import present
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
    with_digit,
)
from bench.tui.pour.keys import Press, Stroke, key_for
from bench.tui.pour.moment import JUST_ASKED, Moment, is_just_asked, is_next_digit, is_of_the_figure, too_early
from bench.tui.pour.reading_words import reading_said
from bench.tui.pour.reply import Answer, Wish
from bench.tui.pour.typed import cut, typing

_ENDED_A_FIGURE = f"No figure is taken here, so nothing was done. {key_for(Press.FORWARD)} goes on."
_FIGURES_BEGIN = f"A figure begins with a digit, after {key_for(Press.TEMPERATURE)} or {key_for(Press.MOULD)}."
_NO_TAILS = (
    "More than one digit is no number of tails: those stay as they were. "
    f"{key_for(Press.TEMPERATURE)} takes a temperature."
)
_AIR_IS_NOT_SKIPPED = (
    f"No reason skips the air: {key_for(Press.FORWARD)} ends it early, {key_for(Press.BACK)} or Esc stays."
)
_START_FIRST = f"Start the session first: {key_for(Press.FORWARD)}."

SKIP_REASONS = tuple(SkipReason)
STOP_REASONS = tuple(StopReason)
"""The reasons on offer, the first under digit 1."""


def answer(entry: Entry, stroke: Stroke, moment: Moment) -> Answer:
    """What that press means at that moment."""
    if stroke.press is Press.ACKNOWLEDGE:
        return _acknowledged(entry, moment)
    if isinstance(entry, Figure | Tails):
        return typing(entry, stroke, moment)
    match entry:
        case Reason():
            return _reasoned(entry, stroke, moment)
        case Leaving() | Mistyped():
            return _asked_once(entry, stroke, moment)
        case Learnt():
            return _learnt(stroke, moment)
        case Noting():
            return Answer() if stroke.press is Press.ESCAPE else Answer(entry=entry)
        case Sure():
            return _sure(entry, stroke, moment)
        case Nothing():
            return _afresh(entry, stroke, moment)


def _afresh(entry: Nothing, stroke: Stroke, moment: Moment) -> Answer:
    if stroke.press is Press.FORWARD and entry.refused and is_of_the_figure(entry.refused, moment):
        return Answer(line=_ENDED_A_FIGURE)
    latest = entry.chose or entry.refused
    if stroke.press in (Press.DIGIT, Press.POINT) and latest and is_next_digit(latest, moment):
        # Where digits mean tails, none of a figure does: the first of them is taken back.
        kept = drive.tails(moment.session, entry.tails_before, moment.now)
        if kept is not None:
            event = kept if entry.chose else None
            return Answer(event=event, entry=Nothing(refused=moment.now), line=_NO_TAILS)
    return _plain(stroke, moment)


def _acknowledged(entry: Entry, moment: Moment) -> Answer:
    """What is to be read comes first; then the key answers a question that the one key never does."""
    reply = replace(_acknowledge(moment), entry=Nothing() if isinstance(entry, Mistyped) else entry)
    if reply.event is None and isinstance(entry, Sure) and entry.why in INSISTED:
        return _still_asked(entry, moment)
    return reply


def _still_asked(entry: Sure, moment: Moment) -> Answer:
    if entry.step != moment.session.step.id:
        return Answer()
    if not may_be_taken(moment.session, entry.why, moment.now):
        return Answer(entry=entry, line=f"Only a reading answers that: {key_for(Press.TEMPERATURE)} and digits.")
    return Answer(event=drive.insist(moment.session, moment.now))


def refusal(error: IllegalMove, session: Session) -> str:
    """Why the session does not do that, as a calm line that says what to do instead."""
    if session.state is State.IDLE:
        return _START_FIRST
    if session.alarm is not None:
        return f"Acknowledge the alarm first: press {key_for(Press.ACKNOWLEDGE)}."
    if session.unacknowledged and session.step.id == "cautions":
        return f"Acknowledge the card first: press {key_for(Press.ACKNOWLEDGE)}."
    if session.state is State.HELD:
        return f"Held. Go on first: press {key_for(Press.HOLD)}."
    return present.sentence(error.why or "that is not possible now") + "."


def _asked_once(entry: Leaving | Mistyped, stroke: Stroke, moment: Moment) -> Answer:
    if isinstance(entry, Leaving):
        return Answer(wish=Wish.LEAVE) if stroke.press is Press.LEAVE else Answer(line="You stay.")
    if stroke.press is not Press.BACK or strikable_here(moment.session) != entry.read:
        return Answer(line="The reading stands.")
    if is_just_asked(entry.asked, moment):
        return Answer(entry=entry, line=JUST_ASKED)
    return Answer(event=drive.back(moment.session, moment.now), line="Withdrawn: that reading counts for nothing.")


def _sure(entry: Sure, stroke: Stroke, moment: Moment) -> Answer:
    if stroke.press in (Press.ESCAPE, Press.BACK):
        return _stay(stroke, moment)
    if stroke.press is Press.FORWARD and entry.step == moment.session.step.id:
        why = asks_first(moment.session, moment.now)
        if why is not entry.why and (entry.why in INSISTED or why in INSISTED):
            # What stands against it by now is not what was asked, and the log tells what was.
            return _forward(stroke, moment)
        if entry.why in INSISTED:
            return Answer(entry=entry, line=f"{key_for(Press.FORWARD)} does not answer that.")
        if is_just_asked(entry.asked, moment):
            return Answer(entry=entry, line=JUST_ASKED)
        return Answer(event=drive.forward(moment.session, moment.now), line=_PASSED.get(entry.why, ""))
    return _plain(stroke, moment)


def _stay(stroke: Stroke, moment: Moment) -> Answer:
    """The key back means what the warning over the question says."""
    meant = drive.back(moment.session, moment.now)
    if stroke.press is Press.BACK and isinstance(meant, ReheatWanted):
        return Answer(event=meant)
    return Answer(line="You stay at this step.")


_PASSED: Mapping[Asked, str] = {
    Asked.NO_VERDICT: f"Passed without a verdict. {key_for(Press.BACK)} goes back to give one."
}
"""What is said of a step that was gone on from all the same, where nothing else on the screen shows it."""


def _plain(stroke: Stroke, moment: Moment) -> Answer:
    if moment.session.state is State.IDLE and stroke.press not in _BEFORE_THE_START:
        return Answer(line=_START_FIRST)
    return _PLAIN[stroke.press](stroke, moment)


def _forward(_stroke: Stroke, moment: Moment) -> Answer:
    early = too_early(moment)
    if early:
        return Answer(line=early)
    why = asks_first(moment.session, moment.now)
    if why is not None:
        return Answer(entry=Sure(why=why, step=moment.session.step.id, asked=moment.now))
    return Answer(event=drive.forward(moment.session, moment.now))


def _back(_stroke: Stroke, moment: Moment) -> Answer:
    read = strikable_here(moment.session)
    if read is not None:
        return Answer(entry=Mistyped(read=read, asked=moment.now))
    return Answer(event=drive.back(moment.session, moment.now))


def _hold(_stroke: Stroke, moment: Moment) -> Answer:
    return Answer(event=drive.hold_or_resume(moment.session, moment.now))


def _acknowledge(moment: Moment) -> Answer:
    event = drive.acknowledge(moment.session, moment.now)
    return Answer(event=event) if event else Answer(line="There is no caution to acknowledge now.")


def _temperature(_stroke: Stroke, moment: Moment) -> Answer:
    return Answer(entry=Figure(about=drive.reading(moment.session, 0.0, moment.now)))


def _mould(_stroke: Stroke, moment: Moment) -> Answer:
    return Answer(entry=Figure(about=drive.mould_reading(moment.session, 0.0, moment.now)))


def _core(_stroke: Stroke, moment: Moment) -> Answer:
    event = drive.next_core(moment.session, moment.now)
    return Answer(event=event) if event else Answer(line=_core_settled(moment.session))


def _core_settled(session: Session) -> str:
    if not session.job.recipe.build.has_core:
        return "This bait has no core colour to choose."
    if len(session.job.cores) < 2:
        return "There is no other core colour to choose."
    return "The core colour is settled: its cup is on the heat, or was."


def _yes(_stroke: Stroke, moment: Moment) -> Answer:
    meant = drive.accept_suggestion(moment.session, moment.now, moment.units)
    cold = drive.reheat_after_coming_back(moment.session, moment.now)
    if meant is None and cold is not None:
        return Answer(event=cold)
    if meant is None:
        return Answer(line=f"Nothing was asked that {key_for(Press.YES)} answers.")
    return Answer(event=meant, line=reading_said(meant, moment))


def _show_learnt(_stroke: Stroke, moment: Moment) -> Answer:
    if not moment.session.corrections.all:
        return Answer(line="Nothing is learnt yet: readings and verdicts teach it.")
    return Answer(entry=Learnt())


def _learnt(stroke: Stroke, moment: Moment) -> Answer:
    corrections = moment.session.corrections.all
    if stroke.press in (Press.ESCAPE, Press.BACK, Press.LEARNT):
        return Answer()
    if stroke.press is not Press.DIGIT or not 1 <= stroke.digit <= len(corrections):
        return Answer(entry=Learnt(), line=_pick(len(corrections)))
    of = corrections[stroke.digit - 1].of
    return Answer(entry=Learnt(), event=drive.refuse_or_restore(moment.session, of, moment.now))


def _pick(choices: int) -> str:
    which = f"a digit from 1 to {choices}" if choices > 1 else "1"
    return f"Press {which}; Esc goes back."


def _skip(_stroke: Stroke, moment: Moment) -> Answer:
    """The air is not left uncleared for a reason: it is asked about as it is when the one key ends it early."""
    step, why = moment.session.step, asks_first(moment.session, moment.now)
    if step.kind is StepKind.PURGE_AIR and why is not None:
        return Answer(entry=Sure(why=why, step=step.id, asked=moment.now), line=_AIR_IS_NOT_SKIPPED)
    return Answer(entry=Reason(why=Why.SKIP))


def _stop(_stroke: Stroke, moment: Moment) -> Answer:
    if drive.is_closing(moment.session):
        return Answer(
            line="The closing steps are under way already. "
            f"In danger leave the room at once; {key_for(Press.LEAVE)} leaves the screen."
        )
    return Answer(entry=Reason(why=Why.STOP))


def _note(_stroke: Stroke, _moment: Moment) -> Answer:
    return Answer(entry=Noting())


def _help(_stroke: Stroke, _moment: Moment) -> Answer:
    return Answer(wish=Wish.HELP)


def _leave(_stroke: Stroke, moment: Moment) -> Answer:
    return Answer(wish=Wish.LEAVE) if moment.session.state is State.IDLE else Answer(entry=Leaving())


def _escape(_stroke: Stroke, _moment: Moment) -> Answer:
    return Answer()


def _point(_stroke: Stroke, _moment: Moment) -> Answer:
    return Answer(line=_FIGURES_BEGIN)


def _digit(stroke: Stroke, moment: Moment) -> Answer:
    session, now = moment.session, moment.now
    about = drive.begun_by_digits(session, now)
    if about is not None:
        return Answer(entry=with_digit(Figure(about=about), stroke.digit))
    if drive.looked_at(session):
        return _judged(stroke, moment)
    if drive.tails(session, 0, now) is None:
        return _means_nothing(
            f"A digit means nothing here. {key_for(Press.TEMPERATURE)} takes a temperature.", now
        )
    if session.job.plan.cavities > 9:
        return Answer(entry=with_digit(Tails(), stroke.digit))
    reply = cut(stroke.digit, moment, entry=Nothing(refused=now))
    if reply.event is None:
        return reply
    return replace(reply, entry=Nothing(chose=now, tails_before=cut_tails(session, session.step.round)))


def _judged(stroke: Stroke, moment: Moment) -> Answer:
    verdict = drive.verdict(moment.session, stroke.digit, moment.now)
    if verdict is None:
        return _means_nothing(f"No verdict stands under {stroke.digit}.", moment.now)
    if drive.is_given(moment.session, verdict):
        return Answer(line=f"{present.sentence(verdict.verdict.words)}: noted already.")
    return Answer(event=verdict)


def _means_nothing(line: str, now: Stamp) -> Answer:
    return Answer(entry=Nothing(refused=now), line=line)


_PLAIN: Mapping[Press, Callable[[Stroke, Moment], Answer]] = {
    Press.FORWARD: _forward,
    Press.BACK: _back,
    Press.HOLD: _hold,
    Press.TEMPERATURE: _temperature,
    Press.MOULD: _mould,
    Press.CORE: _core,
    Press.YES: _yes,
    Press.LEARNT: _show_learnt,
    Press.SKIP: _skip,
    Press.STOP: _stop,
    Press.NOTE: _note,
    Press.HELP: _help,
    Press.LEAVE: _leave,
    Press.ESCAPE: _escape,
    Press.DIGIT: _digit,
    Press.POINT: _point,
    Press.OTHER: _escape,
}
_BEFORE_THE_START = frozenset({Press.FORWARD, Press.HELP, Press.LEAVE, Press.ESCAPE})


def _reasoned(entry: Reason, stroke: Stroke, moment: Moment) -> Answer:
    if stroke.press is Press.ESCAPE:
        return Answer()
    reasons = SKIP_REASONS if entry.why is Why.SKIP else STOP_REASONS
    if stroke.press is not Press.DIGIT or not 1 <= stroke.digit <= len(reasons):
        return Answer(entry=entry, line=_pick(len(reasons)))
    return Answer(event=_with_reason(entry, stroke.digit - 1, moment))


def _with_reason(entry: Reason, place: int, moment: Moment) -> Event:
    if entry.why is Why.SKIP:
        return StepSkipped(at=moment.now, step=moment.session.step.id, reason=SKIP_REASONS[place])
    reason = STOP_REASONS[place]
    if reason is StopReason.DANGER:
        return Aborted(at=moment.now, reason=reason)
    return StopRequested(at=moment.now, reason=reason)
