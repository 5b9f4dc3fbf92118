"""Weigh, heat, read on the screen: a key changes the desk, and the desk becomes the picture that is drawn.

The picture is the pour screen's own: words, figures, cautions and the alarm stand where they do in a session.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from bench.errors import BenchError
from bench.model.caution import Caution
from bench.model.settings import UnitSystem
from bench.physics.misreading import Misreading
from bench.session.calibration import At, Calibration, Measured, meant_end, meant_start, measured
from bench.session.stamp import Stamp
from bench.tui import present
from bench.tui.pour.hints import Hint
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.pour.middle import Middle
from bench.tui.pour.picture import Picture, Sheet, Words
from bench.tui.text import clean
from bench.tui.widgets.lines import Tone

LONGEST_FIGURE = 6
"""Characters of a figure: "1234.5"."""

NOT_ALL_READ = "Make the window larger first: the card is not all on screen."
HEAT_OFF_FIRST = "The cup is hot, the heat may be on: heat off first. Press the key again to leave."
NOT_SAVED = "What was measured is not saved. Press the key again to leave it."
FIELDS = frozenset({At.WEIGH, At.START, At.END})


class Wish(Enum):
    """What the desk cannot do itself."""

    SAVE = 1
    LEAVE = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """The calibration and what is half typed. ``line`` answers the latest key, ``meant`` is what the refused
    figure may have been, ``leaving`` says that leaving was asked for once, ``saved`` is the file that took the
    result."""

    calibration: Calibration
    units: UnitSystem
    in_sight: tuple[Caution, ...]
    alarm: tuple[Caution, ...]
    typed: str = ""
    line: str = ""
    meant: Misreading | None = None
    leaving: bool = False
    saved: Path | None = None

    @property
    def at(self) -> At:
        """Where the calibration stands."""
        return self.calibration.at

    @property
    def found(self) -> Measured | None:
        """What the runs say together; None before the first."""
        return measured(self.calibration.rig, self.calibration.runs) if self.calibration.runs else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Reply:
    """The desk after a key, and what it wishes."""

    desk: Desk
    wish: Wish | None = None


def pressed(desk: Desk, key: str, *, keyboard: Keyboard, now: Stamp, may_read: bool) -> Reply:
    """The desk after that key of Textual's name. ``may_read`` is False while a card is not all on screen."""
    typed = _typed(desk, key)
    if typed is not None:
        return Reply(desk=replace(desk, typed=typed, line="", leaving=False))
    if desk.at is At.DONE and key.lower() in _WHEN_DONE:
        return _WHEN_DONE[key.lower()](desk)
    stroke = keyboard.stroke_of(key)
    press = stroke.press if stroke else None
    if press in (Press.ESCAPE, Press.LEAVE):
        return _leave(desk)
    return Reply(desk=_moved_by(replace(desk, leaving=False), press, now, may_read=may_read))


def _moved_by(desk: Desk, press: Press | None, now: Stamp, *, may_read: bool) -> Desk:
    match press:
        case Press.FORWARD:
            return _forward(desk, now)
        case Press.ACKNOWLEDGE if desk.at in (At.CAUTIONS, At.ALARM):
            return _read(desk, may_read=may_read)
        case Press.YES if desk.meant is not None and desk.at in FIELDS:
            return _take(replace(desk, line=""), desk.meant.value_c)
        case Press.BACK if desk.at not in (At.CAUTIONS, At.ALARM, At.WEIGH):
            return _moved(desk, desk.calibration.back())
    return desk


def _save(desk: Desk) -> Reply:
    return Reply(desk=replace(desk, line="Saving …", leaving=False), wish=Wish.SAVE)


def _again(desk: Desk) -> Reply:
    return Reply(desk=replace(_moved(desk, desk.calibration.again()), saved=None))


_WHEN_DONE = {"s": _save, "r": _again}


def told(desk: Desk, line: str, saved: Path | None = None) -> Desk:
    """The desk once saving has ended: with the file, or with the reason why there is none."""
    return replace(desk, line=line, saved=saved)


def is_past_first_burst(desk: Desk, now: Stamp) -> bool:
    """Whether the cup has been on the heat for longer than one first burst."""
    return desk.at is At.HEATING and desk.calibration.heating_s(now) >= desk.calibration.first_burst_s()


def _typed(desk: Desk, key: str) -> str | None:
    """What is typed once this key was pressed; None for a key that types nothing here."""
    if desk.at not in FIELDS:
        return None
    if key == "backspace":
        return desk.typed[:-1] if desk.typed else None
    if key in ("full_stop", "comma", "decimal"):
        return desk.typed if "." in desk.typed else f"{desk.typed}."[:LONGEST_FIGURE]
    return f"{desk.typed}{key}"[:LONGEST_FIGURE] if len(key) == 1 and key in "0123456789" else None


def _moved(desk: Desk, calibration: Calibration) -> Desk:
    return replace(desk, calibration=calibration, typed="", line="", meant=None, leaving=False)


def _leave(desk: Desk) -> Reply:
    hot = desk.at in (At.HEATING, At.END, At.ALARM)
    unsaved = bool(desk.calibration.runs) and desk.saved is None
    if (hot or unsaved) and not desk.leaving:
        return Reply(desk=replace(desk, leaving=True, line=HEAT_OFF_FIRST if hot else NOT_SAVED))
    return Reply(desk=desk, wish=Wish.LEAVE)


def _read(desk: Desk, *, may_read: bool) -> Desk:
    if desk.at is At.CAUTIONS and not may_read:
        return replace(desk, line=NOT_ALL_READ)
    # The figure that raised the alarm is kept: it may have been a slip.
    return replace(desk, calibration=desk.calibration.acknowledged(), line="")


def _forward(desk: Desk, now: Stamp) -> Desk:
    calibration = desk.calibration
    match desk.at:
        case At.READY:
            return _moved(desk, calibration.heated(now))
        case At.HEATING:
            try:
                return _moved(desk, calibration.stopped(now))
            except BenchError as error:
                return replace(desk, line=f"{_said(error)} The clock runs on.")
        case At.WEIGH | At.START | At.END:
            figure = _number(desk.typed)
            if figure is None:
                return replace(desk, line="Type the figure first.")
            weighs = desk.at is At.WEIGH
            return _take(desk, (present.grams if weighs else present.celsius)(figure, desk.units))
        case _:
            return desk


def _number(typed: str) -> float | None:
    return float(typed) if typed.strip(".") else None


def _take(desk: Desk, value: float) -> Desk:
    """The figure taken, or kept in its field with what is wrong and what it may have been."""
    calibration = desk.calibration
    take = {At.WEIGH: calibration.weighed, At.START: calibration.start_read, At.END: calibration.end_read}[desk.at]
    meant = _meant(desk, value)
    try:
        changed = take(value)
    except BenchError as error:
        return replace(desk, line=_said(error), meant=meant)
    if changed.at is At.ALARM:
        return replace(desk, calibration=changed, line="", meant=meant)
    return _moved(desk, changed)


def _meant(desk: Desk, value: float) -> Misreading | None:
    calibration = desk.calibration
    if desk.at is At.START:
        return meant_start(value, desk.units)
    if desk.at is At.END and calibration.start_c is not None:
        return meant_end(calibration.rig, calibration.start_c, value, desk.units)
    return None


def _said(error: BenchError) -> str:
    return f"{present.sentence(clean(str(error), limit=400)).rstrip('.')}."


def picture(desk: Desk, now: Stamp, keyboard: Keyboard) -> Picture:
    """The desk at that moment, in words."""
    forward, back = keyboard.shown(Press.FORWARD), keyboard.shown(Press.BACK)
    scene = _scene(desk, now, forward, back)
    rig = desk.calibration.rig
    return Picture(
        heading=f"Heater power · {clean(rig.station.title)} · {clean(rig.plastic.title)}",
        corner=present.time_of_day(now.wall),
        title=scene.title,
        do=scene.do,
        middle=scene.middle,
        then=scene.then,
        notices=tuple(_notices(desk, now, keyboard)),
        cautions=_in_sight(desk),
        sheet=_sheet(desk, keyboard),
        hints=(*scene.hints, Hint(key="Esc", does="leave")),
    )


def _in_sight(desk: Desk) -> tuple[str, ...]:
    """The air and hot plastic on skin as one, so that neither gives way to the other where rows are few."""
    words = [clean(caution.words) for caution in desk.in_sight]
    return (" ".join(words[:2]), *words[2:])


@dataclass(frozen=True, kw_only=True, slots=True)
class _Scene:
    title: str
    do: str
    middle: Middle
    then: str
    hints: tuple[Hint, ...]


def _scene(desk: Desk, now: Stamp, forward: str, back: str) -> _Scene:
    goes_back = Hint(key=back, does="back")
    takes = Hint(key="Enter", does="take the figure")
    match desk.at:
        case At.CAUTIONS | At.ALARM:
            return _Scene(title="", do="", middle=Middle(large=""), then="", hints=())
        case At.WEIGH:
            most = present.mass(desk.calibration.rig.most_g, desk.units)
            return _Scene(
                title="WEIGH",
                do="Weigh into the cold cup what you usually heat. Type it, then Enter.",
                middle=_field(desk, f"{present.mass_sign(desk.units)} of plastic without the cup, {most} at most"),
                then="read the cold cup",
                hints=(takes,),
            )
        case At.START:
            return _Scene(
                title="READ THE START",
                do="Stir, then read the cold cup. Type it, then Enter.",
                middle=_field(desk, f"{present.degree_sign(desk.units)} before the heat"),
                then="heat, with the clock",
                hints=(takes, goes_back),
            )
        case At.READY:
            burst = present.countdown(desk.calibration.first_burst_s())
            return _Scene(
                title="READY TO HEAT",
                do=f"Cup on the heat. Press {forward} at the moment the heat goes on.",
                middle=Middle(
                    large=burst,
                    label="to heat: one first burst by the profile's power, and no more",
                    tone=Tone.COUNT,
                ),
                then="heat off, stir, read",
                hints=(Hint(key=forward, does="start the clock"), goes_back),
            )
        case At.HEATING:
            return _heating(desk, now, forward, back)
        case At.END:
            gone = present.gone(desk.calibration.seconds or 0.0)
            return _Scene(
                title="READ THE END",
                do="Heat off. Stir well, then read the cup. Type it, then Enter.",
                middle=_field(desk, f"{present.degree_sign(desk.units)} after {gone} on the heat"),
                then="the power",
                hints=(takes, goes_back),
            )
        case At.DONE:
            return _done(desk, back)


def _field(desk: Desk, label: str) -> Middle:
    return Middle(large=f"{desk.typed}_", tone=Tone.ENTRY, label=label, leads=True)


def _heating(desk: Desk, now: Stamp, forward: str, back: str) -> _Scene:
    late = is_past_first_burst(desk, now)
    burst = present.countdown(desk.calibration.first_burst_s())
    return _Scene(
        title="HEATING",
        do=f"Stay with it. Press {forward} at the moment the heat goes off.",
        middle=Middle(
            large=present.gone(desk.calibration.heating_s(now)),
            tone=Tone.LATE if late else Tone.COUNT,
            label=f"on the heat; stop at {burst}",
        ),
        then="stir, read",
        hints=(Hint(key=forward, does="stop the clock"), Hint(key=back, does="begin anew")),
    )


def _done(desk: Desk, back: str) -> _Scene:
    found = desk.found
    assert found is not None, "a calibration is done with a run"
    spread = present.power(found.power.spread_w)
    profile = present.power(found.profile_w)
    saves = Hint(key="S", does="save to your profile")
    return _Scene(
        title="SAVED" if desk.saved else "THE POWER",
        do="The cup stays hot: heat off, fan on.",
        middle=Middle(
            large=present.power(found.power.power_w),
            label=f"from the room into the band, give or take {spread}; the profile says {profile}",
            details=tuple(_details(desk, found)),
            leads=True,
        ),
        then="save it" if not desk.saved else "back to the bench, or one more run",
        hints=(saves, Hint(key="R", does="run again"), Hint(key=back, does="read the end again")),
    )


def _details(desk: Desk, found: Measured) -> Iterator[str]:
    before, after = present.left(found.before_s), present.left(found.after_s)
    mass = present.mass(found.runs[-1].cup.mass_g, desk.units)
    yield f"{mass} from the room into the band: {after} on the heat, {before} by the profile."
    for number, run in enumerate(found.runs[-3:], start=max(1, len(found.runs) - 2)):
        rise = f"{present.degrees(run.start_c, desk.units)} to {present.temperature(run.end_c, desk.units)}"
        yield (
            f"Run {number}: {present.mass(run.cup.mass_g, desk.units)}, {rise} in "
            f"{present.gone(run.seconds)}, {present.power(run.kept_w)} on the way."
        )
    yield from found.notes


def _notices(desk: Desk, now: Stamp, keyboard: Keyboard) -> Iterator[str]:
    if desk.at is At.HEATING and desk.calibration.heating_s(now) >= desk.calibration.band_s():
        yield "STOP: by the profile's power this cup is in its band. Heat off, stir, read."
    elif is_past_first_burst(desk, now):
        yield "That is the first burst. Heat off now, stir, read."
    if desk.line:
        yield desk.line
    if desk.meant is not None and desk.at in (At.START, At.END):
        value = present.temperature(desk.meant.value_c, desk.units)
        yield f"Was it {value}, {desk.meant.why.value}? {keyboard.shown(Press.YES)} takes it."


def _sheet(desk: Desk, keyboard: Keyboard) -> Sheet | None:
    key = keyboard.shown(Press.ACKNOWLEDGE)
    calibration = desk.calibration
    if desk.at is At.ALARM:
        read = present.temperature(calibration.over_c or 0.0, desk.units)
        scorch = present.temperature(calibration.rig.plastic.scorch_c, desk.units)
        return Sheet(
            heading="STOP",
            large="TOO HOT",
            says=(f"The cup reads {read}. Its plastic scorches above {scorch}. This run does not count.",),
            cautions=_words(desk.alarm),
            foot=f"{key}  I have read this",
            is_alarm=True,
        )
    if desk.at is At.CAUTIONS:
        left = present.counted(len(calibration.cards) - calibration.read, "card")
        group = clean(calibration.card[0].group)
        return Sheet(
            heading=f"READ THIS CARD: {group}",
            large=group.upper(),
            says=(f"{left} to read before any heat.",),
            cautions=_words(calibration.card),
            foot=f"{key}  I have read this card",
        )
    return None


def _words(cautions: tuple[Caution, ...]) -> tuple[Words, ...]:
    return tuple(
        Words(words=clean(caution.words), more=clean(caution.more, limit=400), source=clean(caution.source))
        for caution in cautions
    )
