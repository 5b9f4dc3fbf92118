"""The bench looks back: what was said of a choice the last time stands with its plan."""

from __future__ import annotations

from textual import work

from bench.clock import Clock
from bench.errors import BenchError
from bench.model.settings import ThemeName
from bench.tui.messages import LastTimeRead, PlanMade
from bench.tui.screens.bench_doors import BenchDoors
from bench.tui.waiting import Judged


class LookingBack(BenchDoors):
    """The part of the bench screen that reads past sessions for a plan."""

    def __init__(self, clock: Clock, theme_asked: ThemeName) -> None:
        super().__init__(clock, theme_asked)
        self.last_time: LastTimeRead | None = None

    @work(thread=True, exclusive=True, group="last time")
    def look_back(self, planned: PlanMade, judged: tuple[Judged, ...]) -> None:
        """Read off the screen's thread what was said of it before; what cannot be read is told elsewhere."""
        from bench.tui.past import last_time

        try:
            words = last_time(judged, planned.session)
        except BenchError:
            return
        self.post_message(LastTimeRead(planned.choice, words))

    def on_last_time_read(self, message: LastTimeRead) -> None:
        """Show it with the plan."""
        self.last_time = message
        self.show_plan()

    def said_of(self, planned: PlanMade) -> str:
        """The line for that plan; empty where there is none, or none yet."""
        before = self.last_time
        return before.words if before is not None and before.choice == planned.choice else ""

    def show_plan(self) -> None:
        """The plan of what is chosen."""
        raise NotImplementedError
