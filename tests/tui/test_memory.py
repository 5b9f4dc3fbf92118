"""What a countdown leaves in memory: nothing, however long it counts."""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import RenderableType
from textual._compositor import CompositorUpdate
from textual.screen import Screen

from tests.tui.at_the_bench import at_step
from tests.tui.running import until
from tests.tui.test_pour import Bench, Harness, at_work

FILLING = 360
"""Seconds after which whatever is kept of a few rows and texts is full."""

COUNTED = 100


class Painted(Harness):
    """Makes what a terminal would be sent. Textual leaves that out where there is none."""

    painted = 0

    def _display(self, screen: Screen[object], renderable: RenderableType | None) -> None:
        if isinstance(renderable, CompositorUpdate):
            self.painted += bool(renderable.render_segments(self.console))


@contextmanager
def no_collection() -> Iterator[None]:
    """Python does not look for circles in the meantime, so that they are counted after it."""
    gc.collect()
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def held() -> tuple[int, int]:
    """How many objects, and blocks of memory for them and for texts, the interpreter keeps."""
    return len(gc.get_objects()), sys.getallocatedblocks()


async def count(work: Bench, seconds: int) -> None:
    """Each second another text stands on the screen."""
    app = work.app
    assert isinstance(app, Painted)
    for _ in range(seconds):
        shown, painted = work.text, app.painted
        work.tick(1.0)
        assert work.text != shown
        await until(lambda painted=painted: app.painted > painted)  # type: ignore[misc]


async def test_a_countdown_leaves_nothing_behind() -> None:
    session, now = at_step("purge-air")
    async with at_work(session, now, harness=Painted) as work:
        await count(work, FILLING)
        with no_collection():
            objects, blocks = held()
            await count(work, COUNTED)
            assert gc.collect() == 0, "what is in a circle stays until Python looks for it"
            objects_after, blocks_after = held()
    assert objects_after - objects < COUNTED, "not one a second"
    assert blocks_after - blocks < 2 * COUNTED
