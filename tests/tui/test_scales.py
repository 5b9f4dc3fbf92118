"""A figure typed on the other temperature scale, at the keys."""

from __future__ import annotations

import pytest

from bench.model.settings import Settings, UnitSystem
from bench.session.events import CupRead, MouldRead
from bench.session.view import view
from tests.tui.at_the_bench import at_step
from tests.tui.test_pour import at_work


async def test_a_celsius_figure_for_a_cup_is_asked_about_and_y_takes_it() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    async with at_work(session, now, settings=Settings(units=UnitSystem.US)) as work:
        work.tick(30.0)
        before = view(work.session, work.clock.now())
        await work.press("1", "1", "8", "enter")
        assert "118 °F is not taken yet" in work.text
        assert "Was it 244 °F, a Celsius figure? Y: yes." in work.text
        asked = view(work.session, work.clock.now())
        assert asked.corrections == before.corrections
        assert asked.burst == before.burst
        await work.press("y")
        assert work.session.doubted is None
        assert isinstance(work.kept[-1], CupRead)
        assert work.kept[-1].temp_c == pytest.approx(118.0)


async def test_a_celsius_figure_for_a_mould_is_asked_about_and_typed_again_alike_is_believed() -> None:
    session, now = at_step("m1.warm-up1.heat.shell")
    async with at_work(session, now, settings=Settings(units=UnitSystem.US)) as work:
        await work.press("m", "4", "4", "enter")
        assert work.session.doubted is not None
        await work.press("m", "4", "4", "enter")
        assert work.session.doubted is None
        assert isinstance(work.kept[-1], MouldRead)
        assert work.kept[-1].temp_c == pytest.approx((44 - 32) / 1.8)
