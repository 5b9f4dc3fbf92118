"""Shells between their opening and their core."""

from __future__ import annotations

from bench.model.recipe import Build, Tail
from bench.session.shells import shells
from bench.session.view import view
from tests.session.bench_sessions import maker


def test_they_are_out_from_the_opening_to_the_core_shot() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT)
    hands.walk_to("r1.shell.open")
    assert shells(hands.session) == ()
    hands.finish_step()
    (out,) = shells(hands.session)
    assert (out.round, out.mould, out.back) == (1, 1, None)
    hands.walk_to("r1.heat.core")
    (back,) = shells(hands.session)
    assert back.back == hands.session.ended("r1.shells-back")
    hands.walk_to("r1.core.hold")
    assert shells(hands.session) == ()


def test_their_clock_runs_until_the_core_is_in() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT)
    hands.walk_to("r1.rods-out")
    hands.clock.advance(100)
    (out,) = view(hands.session, hands.now()).shells_out
    assert (round(out.out_s), out.limit_s) == (100, 600.0)
