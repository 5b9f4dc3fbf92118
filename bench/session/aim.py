"""How hot a cup is to be at its last reading before its shot, where other work stands between the two."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.step_kind import StepKind
from bench.physics.fitting import READING_NOISE_C
from bench.session.reheating import left_in_band_s
from bench.session.retime import Retimed
from bench.session.session import Session
from bench.session.warned import SLACK_S
from bench.units import Celsius, Seconds

_HALVINGS = 10
"""Of the band, some ten degrees: to a hundredth of one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Aim:
    """The least that the cup should read for its shot, ``waits_s`` after that, to find it in its band."""

    temp_c: Celsius
    waits_s: Seconds


def aim(session: Session, rest: Retimed) -> Aim | None:
    """At a heating whose cup would leave its band before its shot if it were read at the lower end; None where any
    reading in the band will do. No more than the band's upper end, which may be too little."""
    step = session.step
    if step.kind is not StepKind.HEAT or step.band_c is None or step.parts[0] not in session.cups:
        return None
    part, (low_c, high_c) = step.parts[0], step.band_c
    shot_s = rest.shot_in_s(part)
    waits_s = shot_s - rest.begin_s[0] if shot_s is not None else 0.0
    if left_in_band_s(session, part, low_c + READING_NOISE_C) >= waits_s:
        return None
    least_c, most_c = low_c, high_c
    for _ in range(_HALVINGS):
        middle_c = (least_c + most_c) / 2
        if left_in_band_s(session, part, middle_c) >= waits_s + SLACK_S:
            most_c = middle_c
        else:
            least_c = middle_c
    return Aim(temp_c=most_c, waits_s=waits_s)
