"""A scorched cup at the keys: it stays until it is cool or the maker says so, and a new one is weighed first."""

from __future__ import annotations

from bench.model.recipe import Part
from bench.session.cooldown import cool_down
from bench.session.events import CupThrown, ReadingWithdrawn
from tests.tui.at_the_bench import at_step
from tests.tui.test_pour import Bench, at_work


async def scorch(work: Bench) -> None:
    """A cup read at 250 °C, and the card read."""
    work.tick(60.0)
    await work.press("2", "5", "0", "enter", "a")
    assert work.session.scorched


def thrown(work: Bench) -> bool:
    return any(isinstance(event, CupThrown) for event in work.kept)


async def test_the_one_key_does_not_pass_a_hot_cup_however_often_it_is_pressed() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await scorch(work)
        assert "cool to the touch in about" in work.text
        work.tick(5.0)
        await work.press(*["space"] * 5)
        assert not thrown(work)
        assert "still hot" in work.text
        assert "Space does not answer that" in work.text


async def test_the_makers_word_leaves_it_there_and_a_new_cup_is_weighed_before_any_clock() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await scorch(work)
        work.tick(5.0)
        await work.press("space", "a")
        assert not thrown(work), "a reminder is due, and is read first"
        await work.press("a")
        assert thrown(work)
        assert work.session.step.id == "weigh.shell"
        assert "The old cup stays where it is until it is cold" in work.text
        work.tick(90.0)
        assert "of plastic" in work.text
        assert Part.SHELL not in work.session.cups
        await work.press("space")
        assert work.session.step.id == "r1.heat.shell"
        assert Part.SHELL not in work.session.cups
        assert "the old cup is out, the new one on the heat" in work.text
        work.tick(5.0)
        await work.press("space")
        assert "too hot to be lifted out" in work.text
        work.tick(5.0)
        await work.press("space")
        assert work.session.step.id == "r1.heat.shell"
        assert work.session.cups[Part.SHELL].at == work.clock.now()


async def test_a_cool_reading_ends_the_wait() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await scorch(work)
        cooling = cool_down(work.session, work.clock.now())
        assert cooling is not None
        assert cooling.left_s is not None
        work.tick(0.8 * cooling.left_s)
        await work.press("a", "4", "0", "enter")
        assert "it was read cool" in work.text
        await work.press("space")
        assert thrown(work)


async def test_a_question_is_asked_anew_once_the_cup_is_cool_by_the_estimate() -> None:
    session, now = at_step("r1.heat.shell")
    async with at_work(session, now) as work:
        await scorch(work)
        cooling = cool_down(work.session, work.clock.now())
        assert cooling is not None
        assert cooling.left_s is not None
        await work.press("space")
        work.tick(cooling.left_s + 60)
        await work.press("space")
        assert "Nobody has read the cup cool." in work.text
        assert not thrown(work)
        work.tick(2.0)
        await work.press("space")
        assert thrown(work)


async def test_a_wrong_reading_is_struck_when_its_cup_is_wanted() -> None:
    session, now = at_step("r1.shell.shot")
    async with at_work(session, now) as work:
        await work.press("t", "2", "1", "2", "enter", "a")
        assert work.session.scorched
        visits = len(work.session.visits)
        await work.press("b")
        assert "WRONG?" in work.text or "was wrong and counts for nothing" in work.text
        work.tick(1.0)
        await work.press("b")
        assert any(isinstance(event, ReadingWithdrawn) for event in work.kept)
        assert (len(work.session.visits), dict(work.session.scorched)) == (visits, {})
