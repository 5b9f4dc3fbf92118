"""The pour screen in words: what to say at this moment, before it is known how much room there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bench.model.caution import Caution
from bench.model.settings import UnitSystem
from bench.session.readings import HOTTEST_CUP_C
from bench.session.retime import Coming
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.view import View, view
from bench.tui import present
from bench.tui.pour.astray_words import astray_words
from bench.tui.pour.brief_sentences import briefly
from bench.tui.pour.brief_warnings import brief_warning
from bench.tui.pour.entry import Entry, Leaving, Nothing
from bench.tui.pour.gauges import Gauge, cups_first, gauges
from bench.tui.pour.heat_words import warning_words
from bench.tui.pour.hints import IDLE, MAY_RESUME, ONLOOKING, Hint, hints
from bench.tui.pour.keys import USUAL, Keyboard, Press, key_for
from bench.tui.pour.middle import Middle, middle
from bench.tui.pour.reading_words import reading_of
from bench.tui.saved import SavedState, leaving_line, unsaved_line
from bench.tui.text import clean, join

LOOKING_ON = "LOOKING ON"
NOT_STARTED = "The session has not been started yet."
READ_THERE = "It is acknowledged where the session is written."
READ_ONCE_RESUMED = "It can be acknowledged once the session is resumed."


THE_KEY = "the key"
"""What a step's own words call the one key: which it is only the screen knows."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Onlooking:
    """Only looked at here: ``sentence`` says who writes the session, ``may_resume`` that it can be here."""

    sentence: str
    may_resume: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Around:
    """What the screen itself knows. ``line`` answers the latest key; ``speed`` is that of a rehearsal;
    ``has_keys`` is False while the keyboard belongs to another window, ``keyboard`` says which key is which;
    ``onlooking`` is None where the session is worked at."""

    units: UnitSystem
    entry: Entry = Nothing()  # noqa: RUF009 - frozen
    line: str = ""
    saved: SavedState = SavedState()  # noqa: RUF009 - frozen
    speed: float | None = None
    has_keys: bool = True
    keyboard: Keyboard = USUAL
    onlooking: Onlooking | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Words:
    """One caution: its line, the sentence behind it and who says so."""

    words: str
    more: str = ""
    source: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """Cautions that fill the middle until they are acknowledged. ``asks`` and ``choices`` are what is typed or
    asked meanwhile, whose place it covers. ``is_alarm`` draws it as a filled block."""

    heading: str
    cautions: tuple[Words, ...]
    foot: str = ""
    large: str = ""
    says: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    is_alarm: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Picture:
    """Everything the screen says now, as strings. ``then`` is the next step, ``later`` those after it. ``turn`` is
    which caution comes first where not all fit. ``wide_hints`` are the hints with a key of the maker's own named
    too, for where there is room. ``keeps_do`` says that ``do`` is cut for nothing else, ``cups_first`` how many
    of the first gauges are of cups that are heated or shot now, ``is_held`` that the guidance is held. ``brief``
    pairs what to do, notices and cautions with the fewer words that say them where there is little room,
    ``is_brief`` says that there is."""

    heading: str
    corner: str
    title: str
    do: str
    middle: Middle
    notices: tuple[str, ...] = ()
    then: str = ""
    later: tuple[str, ...] = ()
    meanwhile: str = ""
    gauges: tuple[Gauge, ...] = ()
    cautions: tuple[str, ...] = ()
    turn: int = 0
    reminder: str = ""
    sheet: Sheet | None = None
    hints: tuple[Hint, ...] = ()
    wide_hints: tuple[Hint, ...] = ()
    is_held: bool = False
    keeps_do: bool = False
    cups_first: int = 0
    brief: tuple[tuple[str, str], ...] = ()
    is_brief: bool = False


def picture(session: Session, now: Stamp, around: Around) -> Picture:
    """The session at that moment, in words."""
    marked = _idle(session, now, around) if session.state is State.IDLE else _under_way(session, now, around)
    return _with_keys(marked, around.keyboard)


def _with_keys(picture: Picture, keyboard: Keyboard) -> Picture:
    """The picture with keys in the places marked for them."""
    words, middle, sheet = keyboard.words, picture.middle, picture.sheet
    return replace(
        picture,
        do=words(picture.do),
        middle=replace(
            middle,
            label=words(middle.label),
            details=tuple(map(words, middle.details)),
            brief=tuple(map(words, middle.brief)),
        ),
        gauges=tuple(
            replace(gauge, words=words(gauge.words), brief=tuple(map(words, gauge.brief)))
            for gauge in picture.gauges
        ),
        notices=tuple(map(words, picture.notices)),
        reminder=words(picture.reminder),
        brief=tuple((words(long), words(short)) for long, short in picture.brief),
        sheet=sheet
        and replace(
            sheet, says=tuple(map(words, sheet.says)), asks=tuple(map(words, sheet.asks)), foot=words(sheet.foot)
        ),
        hints=tuple(replace(hint, key=words(hint.key)) for hint in picture.hints),
        wide_hints=tuple(replace(hint, key=_wide_key(hint, keyboard)) for hint in picture.hints),
    )


def _wide_key(hint: Hint, keyboard: Keyboard) -> str:
    if hint.key == key_for(Press.FORWARD):
        return keyboard.shown_with_own(Press.FORWARD)
    return keyboard.words(hint.key)


def _under_way(session: Session, now: Stamp, around: Around) -> Picture:
    seen = view(session, now, around.units)
    reminding = seen.reminders and not seen.alarm
    return Picture(
        heading=join((_where(seen), clean(session.job.plan.recipe_title), clean(session.job.plan.mould_title))),
        corner=_corner(now, around),
        title=clean(seen.step.title).upper(),
        do=_do(seen)[0],
        middle=_knowing(middle(session, seen, around.entry, around.units), around),
        notices=tuple(_notices(seen, around)),
        then=clean(seen.next_step.title) if seen.next_step else "the session is complete",
        later=tuple(_later(seen)),
        meanwhile=_meanwhile(seen),
        gauges=gauges(session, seen, now, around.units),
        cups_first=0 if seen.is_spoilt else cups_first(seen),
        cautions=tuple(clean(caution.words) for caution in seen.cautions),
        turn=present.turn(seen.elapsed_s, pace=around.speed or 1.0),
        reminder=_reminder(seen.reminders[0], around) if reminding else "",
        sheet=_sheet(session, seen, around),
        brief=tuple(_brief(seen, around)),
        is_held=seen.state is State.HELD,
        hints=_onlooking_hints(around.onlooking) if around.onlooking else hints(session, seen, around.entry),
    )


def _do(seen: View) -> tuple[str, str]:
    """What to do, and the same in brief."""
    do = clean(seen.step.do)
    return do.replace(THE_KEY, key_for(Press.FORWARD)), briefly(do).replace(THE_KEY, key_for(Press.FORWARD))


def _brief(seen: View, around: Around) -> Iterator[tuple[str, str]]:
    yield _do(seen)
    for warning in seen.warnings[:MOST_WARNINGS]:
        yield warning_words(warning, around.units), brief_warning(warning, around.units)
    for caution in seen.cautions:
        yield clean(caution.words), clean(caution.brief or caution.words)
    for caution in seen.reminders[:1]:
        yield _reminder(caution, around), clean(caution.brief or caution.words)


def _knowing(shown: Middle, around: Around) -> Middle:
    """The question whether to leave, with what becomes of the session."""
    if not isinstance(around.entry, Leaving):
        return shown
    line = leaving_line(around.saved)
    if around.saved.problem is None:
        return replace(shown, label=f"{shown.label} {line}")
    return replace(shown, details=(line, *shown.details))


def _onlooking_hints(onlooking: Onlooking) -> tuple[Hint, ...]:
    return MAY_RESUME if onlooking.may_resume else ONLOOKING


def _reminder(caution: Caution, around: Around) -> str:
    mark = "" if around.onlooking else f" ({key_for(Press.ACKNOWLEDGE)}: I have read it)"
    return f"{clean(caution.words)}{mark}"


def _later(seen: View) -> Iterator[str]:
    """What follows the next step, with when each is expected."""
    for each in seen.coming:
        if seen.next_step is None or each.step.id != seen.next_step.id:
            late = "," if each.late_s >= LATE_FROM_S else ""
            yield join((f"{clean(each.title)}{late}", _when(each)), " ")


LATE_FROM_S = 60.0
"""What waits for a clock that was over for less than this is not called late."""


def _when(coming: Coming) -> str:
    """In how long; nothing of what follows the next step at once."""
    if coming.late_s >= LATE_FROM_S:
        return f"{present.long_time(coming.late_s)} late"
    return f"in {present.long_time(coming.in_s)}" if coming.in_s >= 1 else ""


def _meanwhile(seen: View) -> str:
    """What the hands can do while a clock runs: a later step that can be begun, then the step's own words."""
    if seen.start_now is None or seen.revisited:
        return clean(seen.step.meanwhile)
    return join((f"{clean(seen.start_now.title)}.", clean(seen.step.meanwhile)), " ")


def _idle(session: Session, now: Stamp, around: Around) -> Picture:
    plan = session.job.plan
    baits = f"{present.counted(plan.count, 'bait')} in {present.counted(plan.rounds, 'round')}"
    return Picture(
        heading=join((clean(plan.recipe_title), clean(plan.mould_title))),
        corner=_corner(now, around),
        title="READY TO START",
        do=NOT_STARTED
        if around.onlooking
        else f"{key_for(Press.FORWARD)} starts the session. The cautions come first, and no heat before them.",
        middle=Middle(
            large="READY TO START",
            is_title=True,
            details=(f"{baits}, about {present.long_time(plan.total_s)} from now",),
        ),
        notices=(
            *_screen_notices(around),
            *(clean(each, limit=300) for each in (*session.job.look_warnings[:1], *session.job.last_time)),
        ),
        then=clean(session.step.title),
        hints=_onlooking_hints(around.onlooking) if around.onlooking else IDLE,
    )


def _where(seen: View) -> str:
    return f"Round {seen.round} of {seen.rounds}" if seen.step.round else ""


def _corner(now: Stamp, around: Around) -> str:
    looking_on = LOOKING_ON if around.onlooking else ""
    mark = f"REHEARSAL {present.speed(around.speed)}" if around.speed else ""
    # Why the disk refuses is told in a line of its own.
    waiting = "not saved yet" if around.saved.is_late and around.saved.problem is None else ""
    return join((looking_on, mark, waiting, present.time_of_day(now.wall)), "  ")


_THERMOMETER_TOO = "Nothing here gets that hot without smoke: once the heat is off, check the thermometer."

MOST_WARNINGS = 2
"""More than the most pressing would hide what to do."""


def _notices(seen: View, around: Around) -> Iterator[str]:
    yield from _screen_notices(around)
    if seen.estimated:
        yield "After a restart times go by the wall clock: estimates, off by as much as it was set meanwhile."
    if seen.clock_jump_s:
        yield "The wall clock was moved. Times on this screen go by the steady clock."
    if seen.weigh is not None and seen.weigh.astray is not None:
        yield astray_words(seen.weigh.astray, seen.weigh.limit_g)
    for warning in seen.warnings[:MOST_WARNINGS]:
        yield warning_words(warning, around.units)


def _screen_notices(around: Around) -> Iterator[str]:
    if not around.has_keys:
        yield "KEYS GO TO ANOTHER WINDOW. Click on this one."
    if around.saved.problem is not None:
        yield unsaved_line(around.saved)
    if around.onlooking:
        yield clean(around.onlooking.sentence, limit=400)
    if around.line:
        yield around.line


def _sheet(session: Session, seen: View, around: Around) -> Sheet | None:
    if seen.alarm is not None:
        scorch = present.temperature(session.job.plastic.scorch_c, around.units)
        read = present.temperature(seen.alarm.temp_c, around.units)
        covered = _covered(session, seen, around)
        said = f"The {reading_of(seen.alarm)} reads {read}. Its plastic scorches above {scorch}."
        is_doubtful = seen.alarm.temp_c > HOTTEST_CUP_C
        return Sheet(
            heading="STOP",
            large="TOO HOT",
            says=(said, *((_THERMOMETER_TOO,) if is_doubtful else ())),
            asks=(f"{covered.large}  {covered.label}",) if covered else (),
            choices=covered.choices if covered else (),
            cautions=_words(seen.alarm_cautions),
            foot=_foot(around),
            is_alarm=True,
        )
    if seen.card and isinstance(around.entry, Nothing) and seen.state is not State.HELD:
        return Sheet(
            heading=f"READ THIS CARD: {clean(seen.card[0].group)}",
            large=clean(seen.card[0].group).upper(),
            says=(f"{present.counted(seen.cards_left, 'card')} to read before any heat.",),
            cautions=_words(seen.card),
            foot=_foot(around),
        )
    return None


def _foot(around: Around) -> str:
    """Why no key acknowledges it here; where one does, the keys at the foot of the screen say so."""
    if around.onlooking is None:
        return ""
    return READ_ONCE_RESUMED if around.onlooking.may_resume else READ_THERE


def _covered(session: Session, seen: View, around: Around) -> Middle | None:
    """What is being typed or asked while the alarm covers its place."""
    if isinstance(around.entry, Nothing):
        return None
    return middle(session, seen, around.entry, around.units)


def _words(cautions: tuple[Caution, ...]) -> tuple[Words, ...]:
    return tuple(
        Words(words=clean(caution.words), more=clean(caution.more, limit=400), source=clean(caution.source))
        for caution in cautions
    )
