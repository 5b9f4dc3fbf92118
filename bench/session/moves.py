"""Which events are possible in which state: the table, and nothing else."""

from __future__ import annotations

from collections.abc import Mapping

from bench.session.events import (
    Aborted,
    CautionsAcknowledged,
    Completed,
    CoreChosen,
    CorrectionRefused,
    CorrectionRestored,
    CupRead,
    CupThrown,
    Event,
    FileHealed,
    HeatBegun,
    Held,
    Left,
    MouldRead,
    Noted,
    ReadingWithdrawn,
    ReheatWanted,
    Resumed,
    Started,
    StepDone,
    StepSkipped,
    StopRequested,
    TailsChosen,
    VerdictGiven,
    WentBack,
)
from bench.session.session import State

_LIVE = frozenset({State.RUNNING, State.HELD, State.STOPPING})
_MOVING = frozenset({State.RUNNING, State.STOPPING})
_BEGUN = frozenset(State) - {State.IDLE}

LEGAL: Mapping[type[Event], frozenset[State]] = {
    Started: frozenset({State.IDLE}),
    StepDone: _MOVING,
    StepSkipped: _MOVING,
    WentBack: _LIVE,
    ReheatWanted: frozenset({State.RUNNING}),
    HeatBegun: frozenset({State.RUNNING}),
    CupRead: _LIVE,
    ReadingWithdrawn: _LIVE,
    CupThrown: frozenset({State.RUNNING}),
    MouldRead: _LIVE,
    CautionsAcknowledged: _LIVE,
    Held: _MOVING,
    Resumed: frozenset({State.HELD}),
    VerdictGiven: _BEGUN,
    TailsChosen: _LIVE,
    CoreChosen: _LIVE,
    CorrectionRefused: _LIVE,
    CorrectionRestored: _LIVE,
    Noted: _BEGUN,
    FileHealed: _LIVE,
    Left: _LIVE,
    StopRequested: frozenset({State.RUNNING, State.HELD}),
    Aborted: _LIVE,
    Completed: _MOVING,
}
"""Every event there is, with the states in which it may happen. Verdicts and notes outlive the session: a bait
shows its faults after the bench is cold. What else an event needs (the right step, acknowledged cautions) is said
where its effect is."""
