"""Measuring the heater's power, step by step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events, work
from textual.app import ComposeResult
from textual.message import Message

from bench.clock import Clock
from bench.errors import BenchError
from bench.session.calibration import At, Rig, begin, heating_cautions, scorch_cautions
from bench.session.measured import source_words
from bench.session.stamp import span
from bench.store.paths import Home
from bench.store.stations import save_heater_power
from bench.tui.calibrating import Desk, Reply, Wish, is_past_first_burst, pressed, saved, told
from bench.tui.calibration_picture import picture
from bench.tui.pour.frame import frame
from bench.tui.pour.keys import QUIET_S, Counts, Keyboard, Latest, counts
from bench.tui.screens.once import LeftOnce
from bench.tui.widgets.board import Board

if TYPE_CHECKING:
    from bench.model.library import Library
    from bench.model.station import Station

LOOK_S = 0.2
"""How often the clock is looked at while a cup is on the heat."""


PROFILE_EVERY_S = 5.0
"""How often the profile is read anew while what was measured stands beside it."""


HELD_KEY = "A held key counts once. Let go, then press again."


@dataclass
class PowerSaved(Message):
    """The power stands in the user's own profile of the station."""

    path: Path
    power_w: float
    source: str


@dataclass
class ProfileRead(Message):
    """The station as its file has it: another window, or the command, may have saved a power meanwhile."""

    station: Station


@dataclass
class PowerRefused(Message):
    """The power was not saved, and why in one sentence."""

    why: str


class CalibrateScreen(LeftOnce[None]):
    """Turns keys into changes of the desk, and draws it. Saving is done by a worker.

    ``live`` False leaves the ticking to whoever tests it.
    """

    AUTO_FOCUS = ""

    def __init__(
        self, *, home: Home, library: Library, rig: Rig, clock: Clock, live: bool = True, quiet_s: float = QUIET_S
    ) -> None:
        super().__init__()
        self.desk = Desk(
            calibration=begin(rig, library.cautions),
            units=library.settings.units,
            in_sight=heating_cautions(library),
            alarm=scorch_cautions(library),
        )
        self._home = home
        self._clock = clock
        self._keyboard = Keyboard(library.settings.keys)
        self._live = live
        self._quiet_s = quiet_s
        self._latest: Latest | None = None
        self._may_read = False
        self._rang = False
        self._profile_at = clock.now()

    def compose(self) -> ComposeResult:
        yield Board()

    def on_mount(self) -> None:
        self.read_profile()
        if self._live:
            self.set_interval(LOOK_S, self.tick)

    def on_resize(self) -> None:
        """Fit the rows into the new window, once the board has its new size."""
        self.call_after_refresh(self._repaint)

    def tick(self) -> None:
        """Move the clock on the screen, ring once when the first burst is over, and keep up with the profile."""
        if self.desk.at is At.DONE and span(self._profile_at, self._clock.now()).seconds >= PROFILE_EVERY_S:
            self.read_profile()
        past = is_past_first_burst(self.desk, self._clock.now())
        if past and not self._rang:
            self.app.bell()
        self._rang = past
        self._repaint()

    def on_key(self, event: events.Key) -> None:
        """Every key of the screen, but for those with Ctrl that the app keeps."""
        if event.key.startswith("ctrl+"):
            return
        event.stop()
        event.prevent_default()
        if self._is_held(event):
            self._follow(Reply(desk=told(self.desk, HELD_KEY)))
            return
        reply = pressed(
            self.desk, event.key, keyboard=self._keyboard, now=self._clock.now(), may_read=self._may_read
        )
        self._follow(reply)

    def _is_held(self, event: events.Key) -> bool:
        """Whether the key is held down: that acknowledges nothing, and starts no clock by a figure's Enter."""
        stroke = self._keyboard.stroke_of(event.key)
        if stroke is None:
            return False
        counted = counts(self._latest, stroke.press, event.time, quiet_s=self._quiet_s)
        self._latest = Latest(press=stroke.press, at_s=event.time)
        if self.desk.at is At.READY or self.desk.asked_c is not None:
            return counted is Counts.NOT
        return self.desk.at in (At.CAUTIONS, At.ALARM) and counted is not Counts.NOW

    def _follow(self, reply: Reply) -> None:
        before, self.desk = self.desk.at, reply.desk
        if self.desk.at is not before:
            self.read_profile()
        self._repaint()
        if reply.wish is Wish.SAVE:
            self.save()
        elif reply.wish is Wish.LEAVE:
            self.dismiss(None)

    @work(thread=True, exclusive=True, group="save")
    def save(self) -> None:
        """Write the power into the user's profile, off the screen's thread."""
        found = self.desk.found
        if found is None:
            return
        source = source_words(found, self._clock.now().wall.date().isoformat())
        name = self.desk.calibration.rig.station.name
        try:
            path = save_heater_power(self._home, name, power_w=found.power.power_w, source=source)
        except BenchError as error:
            self.post_message(PowerRefused(str(error)))
        else:
            self.post_message(PowerSaved(path, found.power.power_w, source))

    def on_power_saved(self, message: PowerSaved) -> None:
        """Say where it stands."""
        self._follow(Reply(desk=saved(self.desk, message.path, message.power_w, message.source)))

    def read_profile(self) -> None:
        """Read the station's profile anew: another window may have saved a power meanwhile."""
        self._profile_at = self._clock.now()
        self._read_aside()

    @work(thread=True, group="profile")
    def _read_aside(self) -> None:
        from bench.store.shelf import load_library

        name = self.desk.calibration.rig.station.name
        station = load_library(self._home)[0].stations.get(name)
        if station is not None:
            self.post_message(ProfileRead(station))

    def on_profile_read(self, message: ProfileRead) -> None:
        """Compare with what the file says. A cup on the heat keeps the burst that it was begun with."""
        if self.desk.at is At.HEATING:
            return
        changed = self.desk.calibration.by_profile(message.station.heater, message.station.sources)
        self._follow(Reply(desk=replace(self.desk, calibration=changed)))

    def on_power_refused(self, message: PowerRefused) -> None:
        """Say why it does not."""
        self._follow(Reply(desk=told(self.desk, f"Not saved: {message.why}")))

    def _repaint(self) -> None:
        if self.is_left or not self.is_mounted:
            return
        board = self.query_one(Board)
        framed = frame(picture(self.desk, self._clock.now(), self._keyboard), *board.size)
        self._may_read = framed.is_whole
        board.show(framed.rows)

    def may_leave(self) -> bool:
        """Whether nothing hot is left alone and nothing measured is lost; asks once where it would be."""
        reply = pressed(self.desk, "escape", keyboard=self._keyboard, now=self._clock.now(), may_read=False)
        self.desk = reply.desk
        self._repaint()
        return reply.wish is Wish.LEAVE
