"""Weigh, heat, read on the screen: what a key makes of the desk with its calibration and its half-typed figure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from bench.errors import BenchError
from bench.model.caution import Caution
from bench.model.key_names import is_sign
from bench.model.settings import UnitSystem
from bench.physics.misreading import Misreading
from bench.session.calibration import At, Calibration, meant_end, meant_start
from bench.session.measured import Measured, measured
from bench.session.stamp import Stamp
from bench.tui import present
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.text import clean

LONGEST_FIGURE = 6
"""Characters of a figure: "1234.5"."""

FULL = "No figure is longer: Enter takes it, Backspace rubs its last digit out."
ONE_POINT = "A figure has one point: go on with what follows it."
NO_FIGURE = "That is no part of a figure: digits, a point."

NOT_ALL_READ = "Make the window larger first: the card is not all on screen."
HEAT_OFF_FIRST = "The cup is hot, the heat may be on: heat off first. Press the key again to leave."
RUNS_ON = "The clock runs on: leave the heat on. If it is off already, {back} begins the run again."
EVEN_SO = "e"
"""The key that saves a power far from the profile's: another than the one that asks for it."""

NOT_SAVED = "What was measured is not saved. Press the key again to leave it."
SAVED_ALREADY = "It is saved already."
FIELDS = frozenset({At.WEIGH, At.START, At.END})
_DO_SOMETHING = frozenset({Press.FORWARD, Press.BACK, Press.YES})
_POINTS = frozenset({"full_stop", "comma", "decimal"})


class Wish(Enum):
    """What the desk cannot do itself."""

    SAVE = 1
    LEAVE = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """The calibration and what is half typed.

    ``line`` answers the latest key. ``refusal`` says why a figure was not taken and stays while another is typed,
    ``meant`` is what it may have been, ``refused`` says that the next digit begins a new figure, ``asked_c`` is a
    reading over the scorch limit that is believed once it is given again. ``leaving`` says that leaving was asked
    for once, ``doubted`` that a power in doubt was to be saved; ``saved`` is the file that took the
    result.
    """

    calibration: Calibration
    units: UnitSystem
    in_sight: tuple[Caution, ...]
    alarm: tuple[Caution, ...]
    typed: str = ""
    line: str = ""
    refusal: str = ""
    meant: Misreading | None = None
    refused: bool = False
    asked_c: float | None = None
    doubted: bool = False
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
        why = _why_not_taken(desk, key, typed)
        return Reply(desk=replace(desk, typed=typed, line=why, refused=False, leaving=False))
    if desk.at is At.DONE and key.lower() in _WHEN_DONE:
        return _WHEN_DONE[key.lower()](desk)
    desk = replace(desk, doubted=False)
    stroke = keyboard.stroke_of(key)
    press = stroke.press if stroke else None
    if press in (Press.ESCAPE, Press.LEAVE):
        return _leave(desk)
    back = keyboard.shown(Press.BACK)
    if desk.at in FIELDS and desk.typed and is_sign(key) and press not in _DO_SOMETHING:
        return Reply(desk=told(replace(desk, leaving=False), NO_FIGURE))
    return Reply(desk=_moved_by(replace(desk, leaving=False), press, now, may_read=may_read, back=back))


def _moved_by(desk: Desk, press: Press | None, now: Stamp, *, may_read: bool, back: str) -> Desk:
    match press:
        case Press.FORWARD:
            return _forward(desk, now, back)
        case Press.ACKNOWLEDGE if desk.at in (At.CAUTIONS, At.ALARM):
            return _read(desk, may_read=may_read)
        case Press.YES if desk.meant is not None and desk.at in FIELDS:
            return _take(replace(desk, line=""), desk.meant.value_c)
        case Press.BACK if desk.at not in (At.CAUTIONS, At.ALARM, At.WEIGH):
            return _moved(desk, desk.calibration.back())
    return desk


def _save(desk: Desk) -> Reply:
    if desk.saved is not None:
        return Reply(desk=told(desk, SAVED_ALREADY))
    if desk.found is not None and desk.found.doubt:
        return Reply(desk=replace(desk, line="", doubted=True, leaving=False))
    return _saving(desk)


def _even_so(desk: Desk) -> Reply:
    return _saving(desk) if desk.doubted else Reply(desk=desk)


def _saving(desk: Desk) -> Reply:
    return Reply(desk=replace(desk, line="Saving …", doubted=False, leaving=False), wish=Wish.SAVE)


def _again(desk: Desk) -> Reply:
    return Reply(desk=_moved(desk, desk.calibration.again()))


_WHEN_DONE = {"s": _save, EVEN_SO: _even_so, "r": _again}


def told(desk: Desk, line: str) -> Desk:
    """The desk with that line in answer."""
    return replace(desk, line=line)


def saved(desk: Desk, path: Path, power_w: float, source: str) -> Desk:
    """The desk once that file has taken that power. What was measured since then is not in it."""
    desk = replace(desk, calibration=desk.calibration.saved(power_w, source), line=f"Saved in {path}")
    return replace(desk, saved=path) if desk.at is At.DONE else desk


def is_past_first_burst(desk: Desk, now: Stamp) -> bool:
    """Whether the cup has been on the heat for longer than one first burst."""
    return desk.at is At.HEATING and desk.calibration.heating_s(now) >= desk.calibration.first_burst_s()


def _typed(desk: Desk, key: str) -> str | None:
    """What is typed once this key was pressed; None for a key that types nothing here."""
    if desk.at not in FIELDS:
        return None
    if key == "backspace":
        return desk.typed[:-1] if desk.typed else None
    before = "" if desk.refused else desk.typed
    if key in _POINTS:
        return before if "." in before else f"{before}."[:LONGEST_FIGURE]
    return f"{before}{key}"[:LONGEST_FIGURE] if len(key) == 1 and key in "0123456789" else None


def _why_not_taken(desk: Desk, key: str, typed: str) -> str:
    """What is said of a sign that the figure has no room for."""
    if key == "backspace" or desk.refused or typed != desk.typed:
        return ""
    return ONE_POINT if "." in typed and key in _POINTS else FULL


def _moved(desk: Desk, calibration: Calibration) -> Desk:
    return Desk(
        calibration=calibration,
        units=desk.units,
        in_sight=desk.in_sight,
        alarm=desk.alarm,
    )


def _leave(desk: Desk) -> Reply:
    hot = desk.at in (At.HEATING, At.END, At.ALARM)
    unsaved = bool(desk.calibration.runs) and desk.saved is None
    if (hot or unsaved) and not desk.leaving:
        return Reply(desk=replace(desk, leaving=True, line=HEAT_OFF_FIRST if hot else NOT_SAVED))
    return Reply(desk=desk, wish=Wish.LEAVE)


def _read(desk: Desk, *, may_read: bool) -> Desk:
    if desk.at is At.CAUTIONS and not may_read:
        return replace(desk, line=NOT_ALL_READ)
    # The figure that raised the alarm is kept in sight: it may have been a slip.
    return replace(_moved(desk, desk.calibration.acknowledged()), typed=desk.typed, refused=bool(desk.typed))


def _forward(desk: Desk, now: Stamp, back: str) -> Desk:
    calibration = desk.calibration
    match desk.at:
        case At.READY:
            return _moved(desk, calibration.heated(now))
        case At.HEATING:
            try:
                return _moved(desk, calibration.stopped(now))
            except BenchError as error:
                return replace(desk, line=f"{_said(error)} {RUNS_ON.format(back=back)}")
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
    likelier = None if value == desk.asked_c else calibration.likelier(value, desk.units)
    if likelier is not None:
        # What to do at such a heat is said at once, the card for it comes when the figure is given again.
        return replace(desk, line="", refusal="", meant=likelier, asked_c=value, refused=True)
    take = {At.WEIGH: calibration.weighed, At.START: calibration.start_read, At.END: calibration.end_read}[desk.at]
    meant = _meant(desk, value)
    try:
        changed = take(value)
    except BenchError as error:
        why = _refusal(desk, error)
        return replace(desk, line="", refusal=why, meant=meant, asked_c=None, refused=True)
    moved = _moved(desk, changed)
    return replace(moved, typed=desk.typed) if moved.at is At.ALARM else moved


def _meant(desk: Desk, value: float) -> Misreading | None:
    calibration = desk.calibration
    if desk.at is At.START:
        return meant_start(value, desk.units)
    if desk.at is At.END and calibration.start_c is not None:
        return meant_end(calibration.rig, calibration.start_c, value, desk.units)
    return None


def _said(error: BenchError) -> str:
    return f"{present.sentence(clean(str(error), limit=400)).rstrip('.')}."


def _refusal(desk: Desk, error: BenchError) -> str:
    """What is wrong, with the figure as it was typed."""
    said = _said(error)
    if not desk.typed or f" {desk.typed} " in f" {said}":
        return said
    sign = (present.mass_sign if desk.at is At.WEIGH else present.degree_sign)(desk.units)
    return f"Not {desk.typed} {sign}: {said[0].lower()}{said[1:]}{_read_in_grams(desk)}"


def _read_in_grams(desk: Desk) -> str:
    """Ounces that no vessel holds may have been read from a scale that shows grams."""
    value = _number(desk.typed)
    if desk.at is not At.WEIGH or desk.units is not UnitSystem.US or value is None:
        return ""
    if not 0 < value <= desk.calibration.rig.most_g:
        return ""
    return f" Did you mean {desk.typed} g? That is {present.mass(value, desk.units)}."
