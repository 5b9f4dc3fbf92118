"""Shells between their opening and their core."""

from __future__ import annotations

from bench.model.recipe import Build, Tail
from bench.session.shells import shells
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker, placed


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


def ready(hands: Maker) -> bool:
    (out,) = view(hands.session, hands.now()).shells_out
    return out.core_ready


def test_they_are_filled_at_once_only_from_a_cup_that_is_read_and_liquid() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT)
    hands.walk_to("r1.heat.core")
    assert not ready(hands), "cold, and about to be heated"
    hands.clock.advance(100)
    hands.read(120.0)
    assert not ready(hands), "read, and still on the heat"
    hands.clock.advance(60)
    hands.finish_step()
    assert hands.session.step.id == "r1.core.shot"
    assert ready(hands)
    hands.session = placed(hands.session, hands.now(), cup_c=27.0)
    assert not ready(hands), "solid again"


def test_nor_from_one_that_nobody_read() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT)
    hands.walk_to("r1.heat.core")
    hands.press()
    assert hands.session.step.id == "r1.core.shot"
    assert not ready(hands)


def test_nor_from_a_scorched_one() -> None:
    hands = maker(Build.CORE, tail=Tail.CUT)
    hands.walk_to("r1.core.shot")
    hands.read(212.0)
    if hands.session.doubted is not None:
        hands.read(212.0)
    assert not ready(hands)
