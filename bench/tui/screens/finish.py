"""The closing summary of a session."""

from __future__ import annotations

from collections.abc import Callable

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from bench.clock import Clock
from bench.model.settings import Settings
from bench.session import drive
from bench.session.events import Event
from bench.session.session import Session
from bench.tui.pour.closing import Closing, closing
from bench.tui.pour.entry import Unfinished
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.present_plan import fitting_keys, keys_line
from bench.tui.screens.once import LeftOnce
from bench.tui.text import wrap
from bench.tui.widgets.blocks import largest

LARGEST_ROWS = 8

KEYS = (("Enter", "back to the bench"), ("↑ ↓", "scroll"))
KEYS_WITH_MORE = (("Enter", "read on"), ("Esc", "back to the bench"), ("↑ ↓", "scroll"))


class FinishScreen(LeftOnce[Session]):
    """What was made and how it went. It is dismissed with the session, late verdicts included.

    ``keep`` hands a late verdict to whoever saves and returns at once; ``rehearsed`` says what it was.
    """

    def __init__(
        self,
        *,
        session: Session,
        settings: Settings,
        clock: Clock,
        keep: Callable[[Event], None],
        rehearsed: bool = False,
    ) -> None:
        super().__init__()
        self.session = session
        self._units = settings.units
        self._keyboard = Keyboard(settings.keys)
        self._clock = clock
        self._keep = keep
        self._rehearsed = rehearsed
        self._is_drawn = False
        # Held, not looked for: what waits for a refresh may come when the screen is closed and its rows are gone.
        self._reading = VerticalScroll()
        self._summary = Static(id="summary", markup=False)
        self._foot = Static(keys_line(KEYS), id="foot", markup=False)

    @property
    def begun(self) -> Unfinished:
        """Nothing: here one digit says all."""
        return Unfinished()

    def compose(self) -> ComposeResult:
        """The summary, which scrolls where the window is small, and the way back, which never does."""
        with self._reading:
            yield self._summary
        yield self._foot

    def on_mount(self) -> None:
        """Show it."""
        self._repaint()
        for what in ("scroll_y", "virtual_size"):
            self.watch(self._reading, what, self._show_keys)

    def on_resize(self) -> None:
        """Fit it into the new window."""
        self._repaint()

    @property
    def _has_more(self) -> bool:
        """Whether something stands below what is in sight."""
        return self._reading.scroll_offset.y < self._reading.max_scroll_y

    def _show_drawn(self) -> None:
        self._is_drawn = True
        self._show_keys()

    def _show_keys(self) -> None:
        keys = KEYS_WITH_MORE if self._has_more else KEYS
        self._foot.update(fitting_keys(keys, self.size.width - 4))

    def on_key(self, event: events.Key) -> None:
        """A digit judges the last round. The one key reads on and closes at the end, that for back reads back. One
        that was pressed before there was anything to read was meant for the screen before."""
        stroke = self._keyboard.stroke_of(event.key)
        if stroke is None:
            return
        if stroke.press is Press.DIGIT:
            self._judge(stroke.digit)
        elif stroke.press is Press.BACK:
            self._reading.scroll_page_up(animate=False)
        elif stroke.press is Press.FORWARD:
            self._read_on()
        elif stroke.press in (Press.ESCAPE, Press.LEAVE):
            self.dismiss(self.session)
        event.stop()
        event.prevent_default()

    def _read_on(self) -> None:
        if self._has_more:
            self._reading.scroll_page_down(animate=False)
        elif self._is_drawn:
            self.dismiss(self.session)

    def _judge(self, digit: int) -> None:
        verdict = drive.late_verdict(self.session, digit, self._clock.now())
        if verdict is not None and not drive.is_given(self.session, verdict):
            self.session = self.session.after(verdict)
            self._keep(verdict)
            self._repaint()

    def _repaint(self) -> None:
        said = closing(self.session, self._units, rehearsed=self._rehearsed)
        self._summary.update(_content(said, self.size.width - 6))
        self.call_after_refresh(self._show_drawn)


def _content(said: Closing, width: int) -> Content:
    drawing = largest(said.large, width, LARGEST_ROWS)
    large = drawing.lines if drawing else (said.large,)
    rows = [Content.styled(said.heading, "$bench-quiet"), Content("")]
    rows += [Content.styled(row, "bold $bench-title") for row in large]
    rows.append(Content(""))
    rows += [Content(row) for text in said.lines for row in wrap(text, width)]
    if said.choices:
        rows += [Content(""), *(Content.styled(row, "bold") for row in wrap(said.asks, width))]
        rows += [Content(f"  {choice}") for choice in said.choices]
    return Content("\n").join(rows)
