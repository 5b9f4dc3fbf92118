"""The pour screen: a key becomes an event, and the session's new state becomes rows. It decides nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from textual import events
from textual.app import ComposeResult
from textual.widgets import Input

from bench.clock import Clock
from bench.errors import IllegalMove
from bench.model.settings import Settings
from bench.session import drive
from bench.session.events import Event, FileHealed, Noted, Resumed
from bench.session.session import Session
from bench.session.stamp import Stamp, span
from bench.signals.alarms import Alarms
from bench.tui.pour.answer import answer, refusal
from bench.tui.pour.beat import meanwhile_line, overdue_s, waking_line
from bench.tui.pour.entry import Entry, Figure, Nothing, Noting, Tails, Unfinished, asked_by, without_step
from bench.tui.pour.keys import QUIET_S, REPEAT_S, Counts, Keyboard, Latest, Press, Stroke, counts
from bench.tui.pour.moment import Moment
from bench.tui.pour.picture import Around
from bench.tui.pour.reply import Answer, Wish
from bench.tui.saved import SavedState, Waiting, healed_line
from bench.tui.screens.help import HelpScreen
from bench.tui.screens.session_board import SessionBoard
from bench.tui.widgets.note_input import NoteInput

LINE_S = 8.0
"""How long the line that answers a key stays."""

NEWS_S = 60.0
"""How long a line stays that no key has asked for: the maker may look up late."""

HELD_KEY = "A held key counts once. Let go, then press again."
NOT_ALL_READ = "Make the window larger first: the card is not all on screen."


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """A line, when it was said and how many of the maker's seconds it stays."""

    line: str
    at: Stamp
    stays_s: float = LINE_S

    def seen(self, now: Stamp, *, pace: float) -> str:
        """The line as long as it stays, then nothing."""
        return self.line if span(self.at, now).seconds < self.stays_s * pace else ""


class PourScreen(SessionBoard[Session]):
    """A session being poured. It is dismissed with the session: over, or left to be resumed.
    ``keep`` hands an applied event to whoever saves and returns at once; ``saved`` says how that goes.
    ``rehearsal_speed`` marks a rehearsal. ``alarms`` call the maker, and end with the screen; None means the
    terminal's bell and no words. ``quiet_s`` is how long a held key must rest before it counts again. ``news`` is
    a line to begin with, ``begun`` what was half typed.
    """

    def __init__(
        self,
        *,
        session: Session,
        clock: Clock,
        keep: Callable[[Event], None],
        saved: Callable[[], SavedState],
        settings: Settings,
        rehearsal_speed: float | None = None,
        alarms: Alarms | None = None,
        quiet_s: float = QUIET_S,
        live: bool = True,
        news: str = "",
        begun: Unfinished = Unfinished(),  # noqa: B008 - frozen
    ) -> None:
        super().__init__(clock=clock, live=live)
        self.session = session
        self._keep = keep
        self._saved, self._waiting = saved, Waiting()
        self._units = settings.units
        self._keyboard = Keyboard(settings.keys)
        self._speed, self._pace = rehearsal_speed, rehearsal_speed or 1.0
        self._alarms = alarms or Alarms(clock=clock, bell=self._bell(), units=settings.units, pace=self._pace)
        self._quiet_s = quiet_s
        self._note = NoteInput()
        self._note.value = begun.note
        self._entry: Entry = begun.entry
        self._said = Said(line=news, at=clock.now(), stays_s=NEWS_S)
        self._looked: Stamp | None = None
        self._latest: Latest | None = None
        self._resumed: Stamp | None = None
        self._has_told_of_healing = False

    def compose(self) -> ComposeResult:
        """The board, and the line for notes, which shows while one is written."""
        yield from super().compose()
        yield self._note

    def on_mount(self) -> None:
        """What ended while the session was closed is called first."""
        self._alarms.see(self.session)
        self._enter(self._entry)

    @property
    def begun(self) -> Unfinished:
        """What is half typed, for the screen that is opened after a defect."""
        return Unfinished(entry=self._entry, note=self._note.value)

    def tick(self) -> None:
        """Let happen what time has brought about, call the maker, and show it."""
        self._catch_up(self._clock.now())
        self._repaint()

    def _catch_up(self, now: Stamp) -> None:
        self._let_happen(now)
        self._tell_of_healing(now)
        self._look(now)
        self._call(self.session, now, asked_by(self._entry))

    def _let_happen(self, now: Stamp) -> None:
        ended, late_s = "", 0.0
        while (event := drive.due(self.session, now)) is not None:
            over_s = overdue_s(self.session, now)
            if over_s > late_s:
                ended, late_s = self.session.step.title, over_s
            if not self._apply(event):
                break
        if not self._live:
            return
        line = waking_line(self._looked, now, pace=self._pace, ended=ended, late_s=late_s, told=self._said.line)
        self._looked = now
        if line:
            self._said = Said(line=line, at=now, stays_s=NEWS_S)

    def _tell_of_healing(self, now: Stamp) -> None:
        """Say once, and in the session too, that another program changed its file."""
        healed = None if self._has_told_of_healing else self._saved().healed
        if healed is not None and self._apply(FileHealed(at=now, kept_in=healed.kept_in)):
            self._has_told_of_healing = True
            self._said = Said(line=healed_line(healed), at=now, stays_s=NEWS_S)

    def on_key(self, event: events.Key) -> None:
        """Every key of the screen, except what a note takes for itself."""
        is_sign = event.is_printable and isinstance(self._entry, Figure | Tails)
        stroke = self._keyboard.stroke_of(event.key, is_sign=is_sign)
        if stroke is None or (isinstance(self._entry, Noting) and stroke.press is not Press.ESCAPE):
            return
        event.stop()
        event.prevent_default()
        if not self._has_waited(stroke, event.time):
            self._press(stroke, event.time)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Keep the note that was typed."""
        event.stop()
        if self._note.note:
            self._apply(Noted(at=self._clock.now(), text=self._note.note))
            self._note.clear()
        self._enter(Nothing())
        self._repaint()

    def _has_waited(self, stroke: Stroke, at_s: float) -> bool:
        """Whether the key was pressed while the screen stood still: it does not count, and that is said. Leaving
        does: it asks first."""
        if not self._live or stroke.press is Press.LEAVE:
            return False
        self._note_beat()
        blocked_s = self._beats.blocked_s(at_s)
        if blocked_s:
            now = self._clock.now()
            self._catch_up(now)
            self._said = Said(line=meanwhile_line(self._said.line, blocked_s), at=now, stays_s=NEWS_S)
            self._repaint()
        return blocked_s > 0

    def _press(self, stroke: Stroke, at_s: float) -> None:
        now = self._clock.now()
        counted = counts(self._latest, stroke.press, at_s, quiet_s=self._quiet_s)
        self._latest = Latest(press=stroke.press, at_s=at_s)
        if counted is Counts.NOW:
            self._take(stroke, now)
        elif counted is Counts.IF_ALONE:
            self.set_timer(REPEAT_S, partial(self._take_if_alone, stroke, self._latest, now))
        else:
            self._said = Said(line=HELD_KEY, at=now)
        self._repaint()

    def _take_if_alone(self, stroke: Stroke, latest: Latest, down: Stamp) -> None:
        if self._latest is latest and not self.is_left:
            self._take(stroke, self._clock.now(), down=down)
            self._repaint()

    def _take(self, stroke: Stroke, now: Stamp, down: Stamp | None = None) -> None:
        if stroke.press is Press.ACKNOWLEDGE and not self._may_acknowledge:
            self._said = Said(line=NOT_ALL_READ, at=now)
        else:
            moment = Moment(
                session=self.session, now=now, units=self._units, pace=self._pace, resumed=self._resumed, down=down
            )
            self._follow(answer(self._entry, stroke, moment), now)

    def _follow(self, reply: Answer, now: Stamp) -> None:
        if reply.line or self._said.stays_s < NEWS_S:
            self._said = Said(line=reply.line, at=now)
        self._enter(reply.entry)
        if reply.event is not None:
            self._apply(reply.event)
            self._catch_up(now)
        if reply.wish is Wish.HELP:
            self.app.push_screen(HelpScreen(self._keyboard))
        elif reply.wish is Wish.LEAVE or self.session.state.over:
            self.dismiss(self.session)

    def _enter(self, entry: Entry) -> None:
        self._entry = entry
        writes = isinstance(entry, Noting)
        if writes != self._note.display:
            self._note.display = writes
        if writes:
            self._note.focus()
        elif self._note.has_focus:
            self.set_focus(None)

    def _apply(self, event: Event) -> bool:
        """Hand the event on and change the session; whether it could. If not, that is answered."""
        try:
            changed = self.session.after(event)
        except IllegalMove as error:
            self._said = Said(line=refusal(error, self.session), at=event.at)
            return False
        # In this order: what the screen shows never runs ahead of what can be read again.
        self._keep(event)
        if changed.step.id != self.session.step.id:
            self._enter(without_step(self._entry))
        self.session = changed
        if isinstance(event, Resumed):
            self._resumed = event.at
        return True

    def _session_at(self, _now: Stamp, /) -> Session:
        return self.session

    def _around(self, now: Stamp, /) -> Around:
        return Around(
            units=self._units,
            entry=self._entry,
            line=self._said.seen(now, pace=self._pace),
            saved=self._waiting.seen(self._saved(), now, pace=self._pace),
            speed=self._speed,
            has_keys=self.app.app_focus,
            keyboard=self._keyboard,
        )
