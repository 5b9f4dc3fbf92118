"""A heating on the screen: what to set stands there until the one key says that the cup is on."""

from __future__ import annotations

from bench.session.events import HeatBegun, StepDone
from bench.tui.pour.moment import ASKED_S, JUST_BEGUN, SETTLE_HOT_S
from tests.tui.at_the_bench import at_step
from tests.tui.test_pour import at_work

SETTLED_S = SETTLE_HOT_S + 0.1


async def test_the_key_begins_the_heat_and_the_next_press_asks_for_a_reading() -> None:
    session, now = at_step("r1.heat.shell", waits=True)
    async with at_work(session, now) as work:
        work.tick(30.0)
        assert "Then press Space." in work.text
        assert "start it, then Space" in work.text
        assert "Space it is on" in work.text
        await work.press("space")
        assert [type(event) for event in work.kept] == [HeatBegun]
        assert "burst 1 of" in work.text
        work.tick(ASKED_S)
        await work.press("space")
        assert JUST_BEGUN in work.text
        work.tick(SETTLED_S)
        await work.press("space")
        assert "A I take it as it is" in work.text
        assert [type(event) for event in work.kept] == [HeatBegun]


async def test_a_press_that_bounces_from_the_step_before_begins_nothing() -> None:
    session, now = at_step("r1.heat.shell", waits=True)
    async with at_work(session, now) as work:
        await work.press("space")
        assert JUST_BEGUN in work.text
        assert work.kept == []


async def test_back_takes_that_press_back() -> None:
    session, now = at_step("r1.heat.shell", waits=True)
    async with at_work(session, now) as work:
        work.tick(SETTLED_S)
        await work.press("space")
        work.tick(SETTLED_S)
        await work.press("b")
        assert work.session.waits_to_begin
        assert "Space it is on" in work.text


async def test_a_figure_typed_before_sets_the_burst_or_ends_the_step() -> None:
    session, now = at_step("r1.heat.shell", waits=True)
    async with at_work(session, now) as work:
        work.tick(SETTLED_S)
        await work.press("1", "4", "8", "enter")
        assert work.session.waits_to_begin
        assert "start it, then Space" in work.text
        await work.press("1", "6", "9", "enter")
        assert isinstance(work.kept[-1], StepDone)


async def test_after_a_figure_the_next_burst_stands_there_until_the_key_says_that_it_is_on() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    async with at_work(session, now) as work:
        work.tick(30.0)
        await work.press("1", "2", "5", "enter")
        assert "start it, then Space" in work.text
        work.tick(60.0)
        assert "start it, then Space" in work.text
        await work.press("space")
        assert "burst 2 of" in work.text
        assert "left of this burst" in work.text
