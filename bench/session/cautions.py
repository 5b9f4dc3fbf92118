"""Which caution belongs on the screen, and what one acknowledgement covers."""

from __future__ import annotations

from bench.model.caution import Caution
from bench.model.step_kind import StepKind
from bench.session.session import Session, State
from bench.session.stamp import Stamp, span
from bench.session.warmth import cup_carried


def opening_groups(session: Session) -> tuple[tuple[Caution, ...], ...]:
    """The opening cautions as cards, in the order of their file: one acknowledgement takes one card."""
    cards: dict[str, list[Caution]] = {}
    for caution in session.job.cautions:
        if caution.at_start:
            cards.setdefault(caution.group, []).append(caution)
    return tuple(tuple(card) for card in cards.values())


def opening_card(session: Session) -> tuple[Caution, ...]:
    """The card to read now; empty once all are acknowledged."""
    for card in opening_groups(session):
        if any(caution.name in session.unacknowledged for caution in card):
            return card
    return ()


def of_the_moment(session: Session, now: Stamp) -> tuple[Caution, ...]:
    """The cautions that go with the present step, in the order of their file; then those of the heat, while a cup
    is on it by itself."""
    own = tuple(caution for caution in session.job.cautions if session.step.kind in caution.steps)
    if not any(cup_carried(session, part, now).bursting for part in session.cups):
        return own
    beside = (caution for caution in session.job.cautions if StepKind.HEAT_ON in caution.steps)
    return (*own, *(caution for caution in beside if caution not in own))


def over_scorch(session: Session) -> tuple[Caution, ...]:
    """What to say while a cup's alarm stands."""
    return tuple(caution for caution in session.job.cautions if caution.above_scorch)


def reminder_in_s(session: Session, caution: Caution, now: Stamp) -> float | None:
    """Seconds until the caution comes back, negative once it is due; None while nothing is hot.

    It counts from its last acknowledgement, or from the first heat.
    """
    since = _first_heat(session)
    if caution.every_s is None or since is None or session.state.over or session.step.kind in _COLD:
        return None
    acknowledged = session.acknowledged.get(caution.name)
    if acknowledged is not None and span(acknowledged, now).seconds < span(since, now).seconds:
        since = acknowledged
    return caution.every_s - span(since, now).seconds


def reminders_due(session: Session, now: Stamp) -> tuple[Caution, ...]:
    """Cautions whose time has come round again."""
    return tuple(caution for caution in session.job.cautions if (reminder_in_s(session, caution, now) or 1.0) <= 0)


def next_reminder(session: Session, now: Stamp) -> tuple[Caution, float] | None:
    """The caution that comes back first, and in how many seconds; None while nothing is hot."""
    waits = [(caution, reminder_in_s(session, caution, now)) for caution in session.job.cautions]
    return min(
        ((caution, wait) for caution, wait in waits if wait is not None), key=lambda each: each[1], default=None
    )


def covered_by_acknowledgement(session: Session, now: Stamp) -> tuple[str, ...]:
    """What an acknowledgement now would cover: the alarm, else the reminders due, else the opening card."""
    if session.state in (State.IDLE, State.STOPPED, State.ABORTED, State.COMPLETE):
        return ()
    cautions = (
        (over_scorch(session) if session.alarm else ()) or reminders_due(session, now) or opening_card(session)
    )
    return tuple(caution.name for caution in cautions)


_COLD = frozenset({StepKind.CLEAN, StepKind.LAY_OUT, StepKind.CURE})


def _first_heat(session: Session) -> Stamp | None:
    return next((visit.entered for visit in session.visits if session.job.script[visit.index].heats), None)
