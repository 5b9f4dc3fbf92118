"""What is said: worked out from what has been said, the session, and the moment. Each thing is said once.

A step's title with the one number that matters, what to do meanwhile, the seconds that matter, alarms and
reminders. While the session is held or an alarm stands, nothing but the alarm is said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.asking import Asked
from bench.session.choices import shot_each_ml
from bench.session.events import CupRead, MouldRead
from bench.session.reheating import SHOTS
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.step import Ending
from bench.session.view import View, view
from bench.session.warned import BenchWarning, WarningKind
from bench.signals import cup_phrases, mould_phrases, spoken, spoken_keys
from bench.signals.bell import Signal
from bench.signals.heat_phrases import HeatTold, heat_of, heat_words, put_on

MARKS: Mapping[int, float] = {60: 30.0, 30: 20.0, 10: 5.0, 5: 1.0, 4: 1.0, 3: 1.0, 2: 1.0, 1: 1.0}
"""The seconds before a step's end that are said, and how many seconds there are until the next of them."""

SHORTEST_GAP_S = 0.9
"""Nothing shorter can be said between two marks: a fast rehearsal leaves them out."""

LATE_S = 0.5
"""A mark that was missed by more than this is not said any more: it would be untrue."""

LEAD_S = 4.0
"""A mark so near a step's beginning says what the step's own words have just said."""

ALARM_AGAIN_S = 12.0
"""Between the spoken repeats of an alarm, which the bell repeats more often (common practice, no source)."""

_READ_NOW = 0
"""Among the marks: the estimate of a step that a reading ends has run out."""


class Urgency(IntEnum):
    """Which phrase goes before which, the most urgent first."""

    ALARM = 0
    ATTENTION = 1
    STEP = 2
    TIME = 3
    ASIDE = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class Phrase:
    """Words for an ear. After ``fresh_s`` they are no longer worth saying; ``instead`` is what the bell sounds
    where they cannot be said."""

    text: str
    urgency: Urgency
    fresh_s: float
    instead: Signal | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where a session stands: how many steps it has visited, and at which it is."""

    visits: int
    step: str
    revisited: bool


def place_of(session: Session) -> Place | None:
    """The session's place; None before the start."""
    if not session.visits:
        return None
    return Place(visits=len(session.visits), step=session.step.id, revisited=session.visit.revisited)


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """What has been said. ``marks`` belong to the present place, ``aside`` is the place whose work meanwhile was
    named, ``shells`` are rounds, ``cold`` the shots before which a mould was called cold, ``bursts`` the cups that
    were called over, ``heat`` is how a heating stood, ``asked`` is the question that stands, ``alarm_at`` when the
    alarm was last said."""

    place: Place | None = None
    card: str = ""
    aside: Place | None = None
    marks: frozenset[int] = frozenset()
    reminders: frozenset[str] = frozenset()
    shells: frozenset[int] = frozenset()
    cold: frozenset[str] = frozenset()
    doubted: CupRead | MouldRead | None = None
    bursts: frozenset[Part] = frozenset()
    troubles: frozenset[cup_phrases.Trouble] = frozenset()
    heat: tuple[Place | None, HeatTold] | None = None
    asked: tuple[Place | None, Asked] | None = None
    alarm: CupRead | None = None
    alarm_at: Stamp | None = None
    end: State | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class _Moment:
    """What there is to speak of. ``pace`` is how many seconds of the session pass in one of the maker's, ``asked``
    what the one key has asked, ``keys`` what is pressed for what."""

    session: Session
    seen: View
    now: Stamp
    units: UnitSystem
    pace: float
    asked: Asked | None
    keys: spoken_keys.Keys


_Step = tuple[Told, Phrase | None]


def tell(
    told: Told,
    session: Session,
    now: Stamp,
    *,
    units: UnitSystem,
    pace: float = 1.0,
    asked: Asked | None = None,
    keys: spoken_keys.Keys = spoken_keys.USUAL,
) -> tuple[Told, tuple[Phrase, ...]]:
    """What has been said after this moment, and what to say now, the most urgent first. ``asked`` is the question
    that stands on the screen."""
    if session.state is State.IDLE:
        return told, ()
    if session.state.over:
        told, end = _end(told, session)
        return told, (end,) if end else ()
    seen = view(session, now, units)
    moment = _Moment(session=session, seen=seen, now=now, units=units, pace=pace, asked=asked, keys=keys)
    quiet = session.state is State.HELD or session.alarm is not None
    phrases = []
    for teller in (_alarm,) if quiet else _TELLERS:
        told, phrase = teller(told, moment)
        if phrase is not None:
            phrases.append(phrase)
    return told, tuple(phrases)


_ENDS = {State.COMPLETE: "The session is complete.", State.STOPPED: "Stopped.", State.ABORTED: "Broken off."}


def _end(told: Told, session: Session) -> _Step:
    if told.end is session.state:
        return told, None
    return Told(end=session.state), _phrase(_ENDS[session.state], Urgency.STEP)


def _alarm(told: Told, moment: _Moment) -> _Step:
    alarm = moment.seen.alarm
    if alarm is None:
        return replace(told, alarm=None, alarm_at=None), None
    if alarm != told.alarm or told.alarm_at is None:
        read = f"The {alarm.part.words} cup reads {spoken.degrees(alarm.temp_c, moment.units)}"
        advice = moment.seen.alarm_cautions[0].words if moment.seen.alarm_cautions else ""
        text = f"Stop. Too hot. {read}. {advice}"
    elif span(told.alarm_at, moment.now).seconds >= ALARM_AGAIN_S * moment.pace:
        text = f"Too hot. The {alarm.part.words} cup. Read the screen."
    else:
        return told, None
    return replace(told, alarm=alarm, alarm_at=moment.now), _phrase(text, Urgency.ALARM, fresh_s=ALARM_AGAIN_S)


def _reminders(told: Told, moment: _Moment) -> _Step:
    """Everything that wants attention at once is one phrase, so that none of it takes the other's place."""
    due = {caution.name: caution.words for caution in moment.seen.reminders}
    words = [text for name, text in due.items() if name not in told.reminders]
    late = {each.round: each for each in moment.seen.warnings if each.kind is WarningKind.SHELLS_OUT}
    words += [_late(each) for number, each in late.items() if number not in told.shells]
    cold = {each.shot: each for each in moment.seen.warnings if mould_phrases.is_to_be_warmed(each)}
    words += [mould_phrases.cold_words(each, moment.units) for shot, each in cold.items() if shot not in told.cold]
    is_news = bool(cold.keys() - told.cold)
    doubt = moment.seen.doubt
    doubted = doubt.reading if doubt else None
    if doubt is not None and doubted != told.doubted:
        words.append(cup_phrases.doubt_words(doubt, moment.units, moment.keys))
    told = replace(
        told,
        reminders=frozenset(due),
        shells=told.shells | late.keys(),
        cold=told.cold | cold.keys(),
        doubted=doubted,
    )
    return told, _called(words, instead=Signal.ATTENTION if is_news else None)


def _called(words: Sequence[str], *, instead: Signal | None) -> Phrase | None:
    return _phrase(" ".join(words), Urgency.ATTENTION, fresh_s=20.0, instead=instead) if words else None


def _cups(told: Told, moment: _Moment) -> _Step:
    """A cup whose burst is over meanwhile, and one that is outside its band: said once, and again at its shot."""
    over, now = cup_phrases.bursts_over(moment.seen), cup_phrases.troubles(moment.seen)
    is_here = told.place == place_of(moment.session)
    said = {each for each in told.troubles if is_here or not each.at_shot}
    words = []
    if over - told.bursts:
        words.append(cup_phrases.bursts_words(tuple(over - told.bursts)))
    fresh = [each for key, each in now.items() if key not in said]
    if fresh:
        words.append(cup_phrases.trouble_words(fresh, moment.units, moment.keys))
    told = replace(told, bursts=over, troubles=frozenset(now))
    return told, _called(words, instead=Signal.ATTENTION if fresh else None)


def _question(told: Told, moment: _Moment) -> _Step:
    """That the one key asks before it goes on."""
    asked = None if moment.asked is None else (place_of(moment.session), moment.asked)
    if asked is None or asked == told.asked:
        return replace(told, asked=asked), None
    words = cup_phrases.question_words(asked[1], moment.seen, moment.keys)
    return replace(told, asked=asked), _called((words,), instead=Signal.ATTENTION)


def _late(warning: BenchWarning) -> str:
    out = "The shells have been out too long."
    if not warning.is_second:
        return f"{out} Fill them now."
    if warning.mould:
        return f"{out} First their core. Leave mould {spoken.whole(warning.mould)} closed."
    return f"{out} They may peel{', be quick' if warning.away_s is not None else ''}."


def _step(told: Told, moment: _Moment) -> _Step:
    """The step, when another has begun; a new card of cautions within the first one."""
    seen = moment.seen
    place, card = place_of(moment.session), seen.card[0].group if seen.card else ""
    if place != told.place:
        entered = replace(told, place=place, card=card, marks=_marks_not_said(moment))
        number = f"Read the card: {card}" if card else _number(moment)
        came = _how_it_came(moment) if told.place is not None else ""
        text = ". ".join(part for part in (came, seen.step.title, number) if part)
        return entered, _phrase(f"{text}.", Urgency.STEP)
    if card != told.card and seen.step.kind is StepKind.CAUTIONS:
        text = f"Next card: {card}." if card else "Every card is read. Go on."
        return replace(told, card=card), _phrase(text, Urgency.STEP)
    return told, None


def _marks_not_said(moment: _Moment) -> frozenset[int]:
    """Marks that lie behind, right after the step's beginning, or too close together at this pace."""
    left_s = moment.seen.remaining_s or 0.0
    return frozenset(
        mark
        for mark, gap_s in MARKS.items()
        if mark > left_s - LEAD_S * moment.pace or gap_s < SHORTEST_GAP_S * moment.pace
    )


def _how_it_came(moment: _Moment) -> str:
    """What ended the step before; a reading in the band is not praised while another cup is outside it."""
    session = moment.session
    if session.visit.revisited:
        return "Back"
    stood = [visit for visit in session.visits[:-1] if not visit.passed]
    by = stood[-1].by if stood else None
    if by is Ending.READING:
        return "In the band" if cup_phrases.is_fit(moment.seen) else ""
    return "Time" if by is Ending.CLOCK else ""


def _heat(told: Told, moment: _Moment) -> _Step:
    """What becomes of a heating within its step; how it begins is said with the step."""
    now, before = (told.place, heat_of(moment.seen)), told.heat
    words = ""
    if before and before[0] == now[0]:
        words = heat_words(before[1], moment.seen, _number(moment), moment.keys)
    return replace(told, heat=now), _phrase(words, Urgency.STEP) if words else None


def _time(told: Told, moment: _Moment) -> _Step:
    seen = moment.seen
    left_s = seen.remaining_s
    if left_s is None or not seen.counts or seen.revisited:
        return told, None
    if seen.step.ending is Ending.READING:
        return _time_to_read(told, moment, left_s)
    reached = {mark for mark in MARKS if left_s <= mark} - told.marks
    if not reached:
        return told, None
    told = replace(told, marks=told.marks | reached)
    mark = min(reached)
    if mark - left_s > LATE_S * moment.pace:
        return told, None
    text = spoken.duration(mark) if mark > 5 else spoken.whole(mark)
    return told, Phrase(
        text=text, urgency=Urgency.TIME, fresh_s=SHORTEST_GAP_S, instead=Signal.ATTENTION if mark == 10 else None
    )


def _time_to_read(told: Told, moment: _Moment, left_s: float) -> _Step:
    if left_s > 0 or moment.seen.step.band_c is None:
        return told, None
    if _READ_NOW in told.marks:
        return _mould_again(told, moment, left_s)
    wanted = spoken.degrees_between(*moment.seen.step.band_c, moment.units)
    phrase = _phrase(f"Read the thermometer. Wanted: {wanted}.", Urgency.STEP, instead=Signal.ATTENTION)
    return replace(told, marks=told.marks | {_READ_NOW}), phrase


def _mould_again(told: Told, moment: _Moment, left_s: float) -> _Step:
    """A mould that is left where it may get too hot is called for again and again; its marks lie below 0."""
    mark = mould_phrases.late_mark(moment.seen, left_s, pace=moment.pace)
    if mark == _READ_NOW or mark in told.marks:
        return told, None
    phrase = _phrase(mould_phrases.MAY_BE_HOT, Urgency.STEP, instead=Signal.ATTENTION)
    return replace(told, marks=told.marks | {mark}), phrase


def _aside(told: Told, moment: _Moment) -> _Step:
    """What to start meanwhile, after the step's own words."""
    if told.aside == told.place:
        return told, None
    meanwhile = "" if moment.seen.revisited else moment.seen.step.meanwhile
    phrase = _phrase(f"Meanwhile: {meanwhile}", Urgency.ASIDE, fresh_s=15.0) if meanwhile else None
    return replace(told, aside=told.place), phrase


def _number(moment: _Moment) -> str:
    """The one number that matters at that step; none where its cup is not to be heated or shot."""
    seen, units = moment.seen, moment.units
    if seen.is_spoilt or seen.is_solid or (seen.step.kind in SHOTS and cup_phrases.is_put_off(seen)):
        return ""
    own = _NUMBERS.get(seen.step.kind)
    if own is not None:
        return own(moment)
    if seen.step.ending is Ending.CLOCK and seen.remaining_s is not None and seen.remaining_s > 0:
        return spoken.duration(seen.remaining_s)
    if seen.step.ending is Ending.READING and seen.step.band_c is not None:
        return spoken.degrees_between(*seen.step.band_c, units)
    return ""


def _weigh_or_band(moment: _Moment) -> str:
    seen = moment.seen
    if seen.weigh is not None:
        doses = (f"{spoken.small_mass(dose.mass_g)} {dose.title}" for dose in seen.weigh.doses)
        plastic = f"Weigh {spoken.mass(seen.weigh.melt.base_g, moment.units)} of plastic"
        return ", ".join((plastic, *doses))
    if seen.is_to_begin:
        return put_on(seen, moment.keys)
    if seen.step.band_c is None:
        return ""
    band = spoken.degrees_between(*seen.step.band_c, moment.units)
    return f"{band}. Aim at {spoken.degrees_up(seen.aim.temp_c, moment.units)} or more" if seen.aim else band


def _burst(moment: _Moment) -> str:
    return put_on(moment.seen, moment.keys) if moment.seen.set_burst_s else "No burst: it is hot enough"


def _shot(moment: _Moment) -> str:
    each = {part: spoken.volume(ml, moment.units) for part, ml in shot_each_ml(moment.session).items()}
    if len(each) == 1:
        return f"About {next(iter(each.values()))}"
    if len(set(each.values())) == 1:
        return f"About {next(iter(each.values()))} from each cup"
    return f"About {', '.join(f'{ml} from {part.words}' for part, ml in each.items())}"


def _tails(moment: _Moment) -> str:
    return spoken.counted(moment.session.job.plan.cavities, "tail")


def _baits(moment: _Moment) -> str:
    return spoken.counted(moment.seen.trays.baits, "bait") if moment.seen.trays else ""


_NUMBERS: Mapping[StepKind, Callable[[_Moment], str]] = {
    StepKind.WEIGH: _weigh_or_band,
    StepKind.HEAT_ON: _burst,
    StepKind.HEAT: _weigh_or_band,
    StepKind.SHOT: _shot,
    StepKind.WARM_UP_SHOT: _shot,
    StepKind.TRIM: _tails,
    StepKind.LAY_OUT: _baits,
}
"""Kinds of step whose number is neither a time nor a band."""

_TELLERS = (_alarm, _reminders, _cups, _question, _step, _heat, _time, _aside)
"""In the order in which their phrases go out."""


def _phrase(text: str, urgency: Urgency, *, fresh_s: float = 10.0, instead: Signal | None = None) -> Phrase:
    """A phrase that begins with a capital, so that a voice begins a sentence."""
    return Phrase(text=text[:1].upper() + text[1:], urgency=urgency, fresh_s=fresh_s, instead=instead)
