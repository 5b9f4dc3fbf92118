"""The bench looks back: what was said of a choice the last time stands with its plan."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.content import Content

from bench.clock import Clock
from bench.errors import BenchError
from bench.model.settings import ThemeName, UnitSystem
from bench.tui.choice import Choice
from bench.tui.messages import LastTimeRead, PlanMade
from bench.tui.present import sentence
from bench.tui.present_plan import plan_content, short_plan
from bench.tui.screens.bench_doors import BenchDoors
from bench.tui.waiting import Judged
from bench.tui.widgets.choosing import Choosing

if TYPE_CHECKING:
    from bench.session.session import Session

ROOMY = 100
"""Columns from which on what was said the last time may stand in more rows than one beside its plan."""


class LookingBack(BenchDoors):
    """The part of the bench screen that reads past sessions for a plan."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("w,W", "last_time", "Last time", priority=True)]

    def __init__(self, clock: Clock, theme_asked: ThemeName) -> None:
        super().__init__(clock, theme_asked)
        self.last_time: LastTimeRead | None = None
        self._read: tuple[str, str] | None = None

    def read_from_its_heading(self, choice: Choice) -> None:
        """Another job's plan begins at its heading; with another count it stays where it is read."""
        job = (choice.recipe, choice.mould)
        if job != self._read:
            self._read = job
            self.query_one("#beside").scroll_home(animate=False)

    @work(thread=True, exclusive=True, group="last time")
    def look_back(self, planned: PlanMade, judged: tuple[Judged, ...]) -> None:
        """Read off the screen's thread what was said of it before; what cannot be read is told elsewhere."""
        from bench.tui.past import last_time

        try:
            before = last_time(judged, planned.session)
        except BenchError:
            return
        self.post_message(LastTimeRead(planned.choice, before.words, before.whole, before.lines))

    def on_last_time_read(self, message: LastTimeRead) -> None:
        """Show it with the plan."""
        self.last_time = message
        self.show_plan()

    def beginning_with_it(self, planned: PlanMade) -> Session:
        """That plan's session, with what was said before as far as it is read by now."""
        before, job = self.last_time, planned.session.job
        lines = before.lines if before is not None and before.choice == planned.choice else ()
        return replace(planned.session, job=replace(job, last_time=lines))

    def action_last_time(self) -> None:
        """Read the whole of it."""
        from bench.tui.screens.reading import ReadingScreen

        before = self.last_time
        if before is not None and before.words and before.choice == self.query_one(Choosing).choice:
            self.app.push_screen(ReadingScreen(sentence(before.words.partition(":")[0]), before.whole))

    def plan_with(self, planned: PlanMade, units: UnitSystem) -> Content:
        """That plan, and what was said of it the last time: in a small window both in the fewest rows."""
        before, plan = self.last_time, planned.session.job.plan
        said = before.words if before is not None and before.choice == planned.choice else ""
        columns = self.query_one("#plan").size.width
        if self.has_class("-narrow") or self.has_class("-short"):
            return short_plan(plan, said, columns)
        return plan_content(plan, units, said, None if self.size.width >= ROOMY else columns)

    def show_plan(self) -> None:
        """The plan of what is chosen."""
        raise NotImplementedError
