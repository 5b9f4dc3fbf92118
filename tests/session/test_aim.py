"""What a cup should read where its shot is not next."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build
from bench.model.step_kind import StepKind
from bench.physics.cup import temperature_after
from bench.session.aim import Aim
from bench.session.bodies import cup_of
from bench.session.view import View, view
from tests.session.bench_sessions import Maker, maker


def heatings(build: Build) -> list[tuple[Maker, View]]:
    """A maker at each heating of a cup in the first round, and what is seen there."""
    hands = maker(build)
    hands.walk_to("r1.rods-in" if build.has_core else "m1.warm-up1.open")
    seen = []
    while hands.session.step.kind is not StepKind.SHOT:
        if hands.session.step.kind is StepKind.HEAT:
            seen.append((Maker(session=hands.session, clock=hands.clock), view(hands.session, hands.now())))
        hands.finish_step()
    return seen


def test_the_last_cup_before_a_shot_may_read_anything_in_its_band() -> None:
    assert heatings(Build.PLAIN)[-1][1].aim is None
    assert heatings(Build.LAMINATE)[-1][1].aim is None


def test_a_cup_that_waits_for_the_other_one_is_to_be_hotter_by_what_it_loses() -> None:
    *_, (hands, seen), _last = heatings(Build.LAMINATE)
    aimed = seen.aim
    assert isinstance(aimed, Aim)
    session = hands.session
    part, (low_c, high_c) = session.step.parts[0], session.job.plastic.band_c
    assert low_c < aimed.temp_c < high_c
    cup = cup_of(session, part, session.cups[part].melt)
    room_c = session.job.station.room.temperature_c
    # Carried forward to the shot it is in its band still, and one that is read much colder is not.
    for start_c, is_in in ((aimed.temp_c, True), (low_c + 0.2, False)):
        then_c = temperature_after(cup, start_c=start_c, seconds=aimed.waits_s, room_c=room_c)
        assert (then_c >= low_c) == is_in
    assert aimed.waits_s == pytest.approx(seen.coming[1].in_s - seen.coming[0].in_s, abs=1.0)
