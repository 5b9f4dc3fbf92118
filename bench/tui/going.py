"""A session that goes on, whatever screen shows it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from bench.clock import Clock
from bench.model.settings import Settings
from bench.tui.pour.entry import Unfinished

if TYPE_CHECKING:
    from bench.session.session import Session
    from bench.signals.hearing import Hearing
    from bench.tui.saving import Saving
    from bench.tui.screens.finish import FinishScreen
    from bench.tui.screens.pour import PourScreen


@dataclass(frozen=True, kw_only=True, slots=True)
class Going:
    """A session that any screen can go on with: as it stands, what saves it, its clock. ``speed`` None is a real
    pour; ``news`` is a line for the maker to begin with, ``begun`` what was half typed."""

    session: Session
    saving: Saving
    settings: Settings
    speed: float | None
    clock: Clock
    news: str = ""
    begun: Unfinished = field(default_factory=Unfinished)


def with_leaving(going: Going, session: Session) -> Session:
    """The session with the moment at which it is left, which is kept: a rehearsal's clock goes on from there."""
    from bench.session.drive import left

    event = left(session, going.clock.now())
    if event is None:
        return session
    going.saving.keep(event)
    return session.after(event)


@dataclass(kw_only=True, slots=True)
class Running:
    """The session on screen: the screen that has it, how it was opened, and what calls the maker."""

    shown: PourScreen | FinishScreen
    opened: Going
    hearing: Hearing

    @property
    def clock(self) -> Clock:
        """The session's clock."""
        return self.opened.clock

    @property
    def going(self) -> Going:
        """The session as it stands now."""
        return replace(self.opened, session=self.shown.session, begun=self.shown.begun)

    @property
    def is_under_way(self) -> bool:
        """Whether it was started and is not over."""
        session = self.shown.session
        return session.started is not None and not session.state.over


def run(going: Going, *, real: Clock, sounds: Path, ring: Callable[[], None], silent: bool) -> Running:
    """A screen for it, not yet shown, and the watch that calls the maker, which begins at once.

    ``real`` is the maker's clock, ``sounds`` the folder of sound files, ``ring`` the bell where no terminal can be
    opened, ``silent`` for screens that nobody sits at.
    """
    # Not before the first frame: nothing of it is needed for the bench.
    from bench.signals.hearing import open_hearing
    from bench.tui.screens.pour import PourScreen

    pace = going.speed or 1.0
    hearing = open_hearing(
        going.settings, clock=going.clock, real=real, pace=pace, folder=sounds, ring=ring, silent=silent
    )
    screen = PourScreen(
        session=going.session,
        clock=going.clock,
        keep=going.saving.keep,
        saved=going.saving.saved,
        settings=going.settings,
        rehearsal_speed=going.speed,
        alarms=hearing.alarms,
        news=going.news,
        begun=going.begun,
    )
    return Running(shown=screen, opened=going, hearing=hearing)
