"""What each step took, beside what was planned."""

from __future__ import annotations

from bench.session.events import SkipReason, StepSkipped, WentBack
from bench.session.taken import steps_taken
from tests.session.bench_sessions import maker


def test_the_stays_add_up_to_the_session() -> None:
    played = maker(count=4)
    played.walk_to_the_end()
    taken = list(steps_taken(played.session))
    assert [step.id for step in taken] == [step.id for step in played.session.job.script]
    whole_s = played.events[-1].at.elapsed_s - played.events[0].at.elapsed_s
    assert abs(sum(step.taken_s or 0.0 for step in taken) - whole_s) < 1e-6
    assert {step.ended for step in taken} == {"by hand", "by clock", "by reading"}


def test_a_step_left_out_one_taken_back_and_one_that_lasts() -> None:
    played = maker(count=4)
    played.walk_to("ready")
    played.happen(StepSkipped(at=played.now(), step="ready", reason=SkipReason.NO_TIME))
    assert [step.ended for step in steps_taken(played.session)] == ["by hand", "left out", "not ended"]
    played.happen(WentBack(at=played.now()))
    *_, last = steps_taken(played.session)
    assert (last.id, last.taken_s, last.ended) == ("ready", None, "not ended")
