"""What a heating step says while its cup is over the band: no burst, but let it cool."""

from __future__ import annotations

from dataclasses import replace

from bench.model.step_kind import StepKind
from bench.session.session import Session
from bench.session.step import Step
from bench.session.words import OVER_BAND, OVER_SCORCH


def step_as_told(session: Session) -> Step:
    """The present step, with the words for a cup that was read over its band and not in or under it since."""
    step = session.step
    if step.kind is not StepKind.HEAT or session.state.over:
        return step
    hottest_c = _hottest_since_in_band_c(session, step)
    if hottest_c is None:
        return step
    words = OVER_SCORCH if hottest_c > session.job.plastic.scorch_c else OVER_BAND
    return replace(step, do=words.do, meanwhile=words.meanwhile)


def _hottest_since_in_band_c(session: Session, step: Step) -> float | None:
    """The hottest of the cup's latest readings that are all over the band; None where its last one is not."""
    known = session.cups.get(step.parts[0])
    if known is None or known.melt != step.melt or known.read_c is None:
        return None
    hottest_c: float | None = None
    for reading in reversed(session.cup_readings):
        if reading.part is not step.parts[0]:
            continue
        if reading.temp_c <= session.job.plastic.band_c[1]:
            break
        hottest_c = max(hottest_c or reading.temp_c, reading.temp_c)
    return hottest_c
