"""The screen on this terminal: opened, and opened again on the same session when a defect has ended it.

Hot plastic does not wait for somebody who reads an error. A session goes on by itself where it stood, with its
clocks and its calls; what went wrong is written down and told. A screen that keeps ending stays closed: the
session is on disk, and the next start offers to resume it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from bench.clock import SystemClock
from bench.errors import BenchError
from bench.store.paths import Home
from bench.tui.app import Asked, BenchApp
from bench.tui.guarded import ready_the_terminal

MOST_AGAIN = 2
WITHIN_S = 60.0
"""A screen that was opened again so often within this time is not opened once more."""


@dataclass(kw_only=True, slots=True)
class Patience:
    """How often a screen may be opened again."""

    most: int = MOST_AGAIN
    within_s: float = WITHIN_S
    _again_s: list[float] = field(default_factory=list)

    def allows(self, now_s: float) -> bool:
        """Whether it may be at this moment, which then counts."""
        self._again_s = [at_s for at_s in self._again_s if now_s - at_s < self.within_s]
        if len(self._again_s) >= self.most:
            return False
        self._again_s.append(now_s)
        return True


def open_bench(home: Home, report: Callable[[Exception], str], asked: Asked | None = None) -> int:
    """Run the screen on this terminal and return the exit code.

    ``report`` writes down a defect after which the session goes on, and returns the sentence that says so. The one
    that ends the program is raised.
    """
    ready_the_terminal()
    clock, patience = SystemClock(), Patience()
    app = BenchApp(home=home, clock=clock, asked=asked)
    result = app.run()
    while (crash := _crash_of(app, result)) is not None:
        going = app.going
        if going is None or app.stop_code is not None or not patience.allows(clock.now().elapsed_s):
            break
        app.hush()
        app = BenchApp(home=home, clock=clock, going=replace(going, news=report(crash)))
        result = app.run()
    unsaved = app.close_session()
    if crash is not None:
        raise crash
    if unsaved is not None:
        raise BenchError(f"Not everything was saved: {unsaved}")
    return app.stop_code if app.stop_code is not None else result or 0


def _crash_of(app: BenchApp, result: int | None) -> Exception | None:
    """What ended the screen, if nobody meant it to end."""
    if app.crash is not None:
        return app.crash
    if result is None and app.stop_code is None:
        return RuntimeError("the screen ended by itself")
    return None
