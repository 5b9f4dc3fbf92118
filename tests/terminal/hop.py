"""The program with the machine's clock and as many seconds more as a test has hopped on: nobody waits for a step
to have stood, or to end, and however slow the machine is, little of the session's time passes meanwhile.

``python -c HOPPING`` runs it; the hops lie beside its home folder: a run that is killed goes on with them.
"""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from bench.clock import SystemClock
from bench.session.stamp import Stamp

HOPPING = "from tests.terminal.hop import run; run()"

_of_machine = SystemClock.now


class Hops:
    """How far the clock of the programs in that home folder is ahead of the machine's."""

    def __init__(self, home: Path) -> None:
        self._file = home.with_name(f"{home.name}.hops")

    @property
    def ahead_s(self) -> float:
        """All hops so far."""
        try:
            return float(self._file.read_text(encoding="ascii"))
        except FileNotFoundError:
            return 0.0

    def hop(self, seconds: float) -> None:
        """Let so much time be over."""
        written = self._file.with_suffix(".new")
        written.write_text(f"{self.ahead_s + seconds!r}", encoding="ascii")
        written.replace(self._file)

    def now(self) -> Stamp:
        """The moment that those programs read."""
        moment, ahead_s = _of_machine(SystemClock()), self.ahead_s
        return replace(moment, elapsed_s=moment.elapsed_s + ahead_s, wall=moment.wall + timedelta(seconds=ahead_s))


def run() -> None:
    """The program, in the home folder of its environment."""
    hops = Hops(Path(os.environ["POURBENCH_HOME"]))
    SystemClock.now = lambda _self: hops.now()  # type: ignore[method-assign,assignment]
    from bench.__main__ import main

    sys.exit(main())
