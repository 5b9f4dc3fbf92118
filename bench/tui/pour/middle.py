"""What fills the middle of the pour screen: the countdown, the action, or what is being typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session.asking import Asked
from bench.session.choices import shot_each_ml
from bench.session.session import Session, State
from bench.session.step import Ending
from bench.session.view import View
from bench.session.warned import WarningKind
from bench.tui import present
from bench.tui.pour.answer import SKIP_REASONS, STOP_REASONS
from bench.tui.pour.brief_details import brief_details
from bench.tui.pour.brief_sentences import HELD_ON
from bench.tui.pour.cup_words import first_cups, is_over_band
from bench.tui.pour.doubt_words import brief_doubt, doubt_words
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
from bench.tui.pour.heat_words import (
    aim_words,
    bond_words,
    burst_label,
    cooling_words,
    fill_words,
    heating_words,
    left_in_all_s,
    thrown_words,
    top_off_words,
    touch_words,
    waiting_words,
    weigh_words,
)
from bench.tui.pour.keys import Press, key_for
from bench.tui.pour.learnt_words import correction_lines, verdict_lines
from bench.tui.pour.left_words import clean_words
from bench.tui.pour.question_words import coldest, figure_label, sure_label, sure_why
from bench.tui.pour.samples import Sample, samples
from bench.tui.pour.trim_words import trim_words
from bench.tui.text import clean, join
from bench.tui.widgets.lines import MARK, Tone


@dataclass(frozen=True, kw_only=True, slots=True)
class Middle:
    """``large`` is drawn as large as there is room; ``is_title`` says that it is the step's own title, which then
    stands nowhere else. ``label`` says what it is, ``details`` what goes with it, ``choices`` what the digits
    mean, ``samples`` the colours that were predicted. ``leads`` says that details and choices matter more than
    the size of what is large, ``doubts`` that a reading is asked for again. ``brief`` stands in the smallest
    window in place of the details; empty where they do."""

    large: str
    tone: Tone = Tone.TITLE
    is_title: bool = False
    label: str = ""
    details: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    samples: tuple[Sample, ...] = ()
    leads: bool = False
    doubts: bool = False
    brief: tuple[str, ...] = ()

    @property
    def is_clock(self) -> bool:
        """Whether it counts down, or up from an end."""
        return self.tone in (Tone.COUNT, Tone.LATE) and self.large.lstrip("+")[:1].isdigit()


def middle(session: Session, view: View, entry: Entry, units: UnitSystem) -> Middle:
    """The middle for that moment."""
    match entry:
        case Figure():
            return _figure(entry, view, units)
        case Tails():
            return Middle(
                large=f"{entry.typed}_",
                tone=Tone.ENTRY,
                label=f"tails cut, of {session.job.plan.cavities}. Enter takes it, Esc leaves it.",
                leads=True,
            )
        case Reason():
            return _reason(entry)
        case Leaving() | Mistyped():
            return _asked_once(entry, units)
        case Sure():
            return _sure(entry, session, view, units)
        case Learnt():
            return _learnt(view)
        case Noting():
            return Middle(large="NOTE", tone=Tone.ENTRY, label="Type it below. Enter keeps it, Esc goes back.")
        case Nothing():
            return _step(session, view, units)


def _figure(entry: Figure, view: View, units: UnitSystem) -> Middle:
    return Middle(
        large=f"{entry.typed}_",
        tone=Tone.ENTRY,
        label=figure_label(entry, view, units),
        details=doubt_words(view, units),
        brief=brief_doubt(view, units),
        leads=True,
    )


def _sure(entry: Sure, session: Session, view: View, units: UnitSystem) -> Middle:
    details = () if entry.why is Asked.SOLID else (*doubt_words(view, units), *_details(session, view, units))
    if view.cool_down is not None:
        details = cooling_words(view.cool_down)
    return Middle(
        large="GO ON?",
        tone=Tone.LATE,
        label=sure_label(entry, view),
        details=(sure_why(entry, view, units), *details),
        choices=_choices(view),
        leads=True,
    )


def _asked_once(entry: Leaving | Mistyped, units: UnitSystem) -> Middle:
    if isinstance(entry, Leaving):
        return Middle(
            large="LEAVE?",
            tone=Tone.ENTRY,
            label=f"{key_for(Press.LEAVE)} again leaves, any other key stays.",
            details=("Leave nothing hot alone: heat off first.",),
            leads=True,
        )
    read = present.temperature(entry.read.temp_c, units)
    return Middle(
        large="WRONG?",
        tone=Tone.ENTRY,
        label=f"{key_for(Press.BACK)} again: it was wrong. Esc: it was right.",
        details=(f"{read} was wrong and counts for nothing?",),
        leads=True,
    )


def _learnt(view: View) -> Middle:
    return Middle(
        large="LEARNT",
        tone=Tone.ENTRY,
        label="from readings and verdicts of this session. A digit refuses one, or takes it up again.",
        choices=correction_lines(view),
        leads=True,
    )


def _reason(entry: Reason) -> Middle:
    reasons = SKIP_REASONS if entry.why is Why.SKIP else STOP_REASONS
    return Middle(
        large="SKIP?" if entry.why is Why.SKIP else "STOP?",
        tone=Tone.ENTRY,
        label="Say why with a digit; Esc goes back.",
        choices=tuple(f"{digit}  {reason}" for digit, reason in enumerate(reasons, start=1)),
        leads=True,
    )


def _step(session: Session, view: View, units: UnitSystem) -> Middle:
    if view.doubt is not None:
        doubt, brief = doubt_words(view, units), brief_doubt(view, units)
        return Middle(large="READ AGAIN", tone=Tone.LATE, details=doubt, brief=brief, leads=True, doubts=True)
    details, choices = _details(session, view, units), _choices(view)
    brief = brief_details(session, view, units)
    leads = bool(choices) or view.step.ending is Ending.READING or view.step.kind in _LEADING
    if view.state is State.HELD:
        return Middle(
            large="HELD",
            tone=Tone.LATE,
            label=join((_left(view), HELD_ON), " "),
            details=details,
            choices=choices,
            brief=brief,
        )
    if view.is_spoilt or view.is_held_up:
        large = "NO MORE HEAT" if view.is_spoilt else "OLD CUP FIRST"
        return Middle(large=large, tone=Tone.LATE, details=details, leads=True, brief=brief)
    if view.is_to_begin:
        in_all = f"{present.countdown(left_in_all_s(view))} in all by the estimate, from then on"
        large = f"SET {present.countdown(view.set_burst_s or 0.0)}"
        return Middle(large=large, label=_said_of_time(view, in_all), details=details, leads=True, brief=brief)
    if not view.counts or view.remaining_s is None or view.set_burst_s is not None:
        return Middle(
            large=clean(view.step.title).upper(),
            is_title=True,
            label=_said_of_time(view, "" if view.counts else _pace(view)),
            details=details,
            choices=choices,
            samples=tuple(samples(session, view)),
            leads=leads,
            brief=brief,
        )
    in_burst = burst_label(view)
    return Middle(
        large=present.countdown(view.burst.left_s if in_burst and view.burst else view.remaining_s),
        tone=Tone.LATE if present.is_late(view.remaining_s) else Tone.COUNT,
        label=_said_of_time(view, in_burst or _ends(view)),
        details=details,
        leads=leads,
        brief=brief,
    )


def _left(view: View) -> str:
    if view.remaining_s is None or not view.counts:
        return ""
    over = " over" if present.is_late(view.remaining_s) else " left"
    return f"{present.countdown(view.remaining_s)}{over}."


def _ends(view: View) -> str:
    late = view.remaining_s is not None and present.is_late(view.remaining_s)
    if view.step.ending is Ending.READING and late:
        may_be_hot = any(each.number == view.step.mould and each.warmed_s is not None for each in view.moulds)
        return f"over the estimate: {'read it, it may be too hot' if may_be_hot else 'keep reading'}"
    if view.step.ending is Ending.READING:
        return "estimate: the thermometer decides"
    if view.revisited:
        return "its time is over" if late else ""
    return "over" if late else "goes on by itself"


def _said_of_time(view: View, said: str) -> str:
    """What a clock means; after coming back only the key goes on, and that is said first."""
    if not view.revisited:
        return said
    came = f"You came back: {key_for(Press.FORWARD)} goes on."
    return f"{came} {present.sentence(said)}." if said else came


def _pace(view: View) -> str:
    if view.remaining_s is None:
        return ""
    late = present.is_late(view.remaining_s)
    running = f"{present.countdown(view.remaining_s)} {'over' if late else 'left'}"
    return f"about {present.long_time(view.step.length_s)} of work, {running}"


def _choices(view: View) -> tuple[str, ...]:
    return tuple(
        f"{digit} {MARK if verdict in view.verdicts_given else ' '} {verdict.words}"
        for digit, verdict in enumerate(view.verdicts_offered, start=1)
    )


def _details(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if view.is_spoilt:
        return thrown_words(view)
    if view.in_hand.old is not None and view.is_held_up:
        return waiting_words(view.in_hand.old)
    own = _DETAILS.get(view.step.kind)
    return (*verdict_lines(session, view), *(own(session, view, units) if own else ()))


def _heat(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if is_over_band(view):
        return ("over the band: no more heat, let it cool", *_band(session, view, units))
    weigh = weigh_words(view.weigh, units) if view.weigh else ()
    return (*heating_words(view), *weigh, *_band(session, view, units), *aim_words(view.aim, units))


def _heat_on(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """The burst to set, and what to weigh where that was not done before."""
    seconds = view.set_burst_s or 0.0
    burst = f"set the timer to {present.countdown(seconds)}" if seconds else "hot enough: no burst, go on"
    return (burst, *_weighing(session, view, units))


def _weighing(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    return weigh_words(view.weigh, units) if view.weigh else ()


def _ready(session: Session, _view: View, units: UnitSystem) -> tuple[str, ...]:
    """The first cups: they are weighed out before anything is hot."""
    return first_cups(session, units)


def _warm_mould(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """The first cups too: the hands are free to weigh them while the mould warms."""
    return (*_band(session, view, units), *_ready(session, view, units))


def _band(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    if view.step.band_c is None:
        return ()
    wanted = present.temperatures(*view.step.band_c, units)
    return (f"until it reads {wanted}: type the figure, Enter",)


def _shot(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    step = view.step
    if view.is_solid:
        return (f"{coldest(view, units)}: {Asked.SOLID.value}",)
    if step.shot is None:
        good = present.temperature(session.job.mould.warm_c[0], units)
        return (*_taken(session, view, units), f"the mould is warm enough once it reads {good}")
    fill = (fill_words(view.fill, units),) if view.fill else ()
    return (*_taken(session, view, units), *fill, *_bond(session, view, units))


def _taken(session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    """How much comes from which cup."""
    top_off = "" if view.step.shot is None else ", top-off included"
    each = [(part.words, present.volume(ml, units)) for part, ml in shot_each_ml(session).items()]
    if len(each) > 1 and len({ml for _, ml in each}) == 1:
        cups = " and ".join(words for words, _ in each)
        return (f"about {each[0][1]} from each of the {cups} cups{top_off}",)
    return (f"about {', '.join(f'{ml} from the {words} cup' for words, ml in each)}{top_off}",)


def _bond(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    waits = any(each.kind is WarningKind.CUP_COLD and not each.is_second for each in view.warnings)
    return (bond_words(view.bond, units, may_hurry=not waits),) if view.bond else ()


def _open(_session: Session, view: View, _units: UnitSystem) -> tuple[str, ...]:
    return (touch_words(view.touch),) if view.touch and view.touch.bare_s > 0 else ()


def _hold(_session: Session, view: View, units: UnitSystem) -> tuple[str, ...]:
    return (top_off_words(view.top_off, units),) if view.top_off else ()


def _lay_out(_session: Session, view: View, _units: UnitSystem) -> tuple[str, ...]:
    if view.trays is None:
        return ()
    ready = present.day_and_time(view.trays.last_ready)
    return (f"{present.counted(view.trays.baits, 'bait')}; on the label: ready {ready}",)


def _cure(_session: Session, view: View, _units: UnitSystem) -> tuple[str, ...]:
    if view.trays is None:
        return ()
    return (f"do not pack before {present.day_and_time(view.trays.last_ready)}",)


def _cards(_session: Session, view: View, _units: UnitSystem) -> tuple[str, ...]:
    return () if view.cards_left else (f"every card is read: {key_for(Press.FORWARD)} goes on",)


_LEADING = frozenset(
    {
        StepKind.WEIGH,
        StepKind.HEAT_ON,
        StepKind.SHOT,
        StepKind.WARM_UP_SHOT,
        StepKind.TRIM,
        StepKind.SHELLS_BACK,
    }
)
"""Steps by hand whose details a maker needs before the large words grow."""

_DETAILS: Mapping[StepKind, Callable[[Session, View, UnitSystem], tuple[str, ...]]] = {
    StepKind.CAUTIONS: _cards,
    StepKind.READY: _ready,
    StepKind.WEIGH: _weighing,
    StepKind.HEAT_ON: _heat_on,
    StepKind.HEAT: _heat,
    StepKind.WARM_MOULD: _warm_mould,
    StepKind.REST_MOULD: _band,
    StepKind.SHOT: _shot,
    StepKind.WARM_UP_SHOT: _shot,
    StepKind.HOLD: _hold,
    StepKind.OPEN: _open,
    StepKind.SHELLS_BACK: _bond,
    StepKind.LOOK_AT_SHELLS: trim_words,
    StepKind.TRIM: trim_words,
    StepKind.SHELLS_BACK: trim_words,
    StepKind.CLEAN: clean_words,
    StepKind.LAY_OUT: _lay_out,
    StepKind.CURE: _cure,
}
"""What each kind of step says beyond its words; the others say nothing more."""
