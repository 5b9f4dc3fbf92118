"""Run in a process of its own: a whole session on the screen, then every verb, with each file written told.

``python -m tests.faults.audited HOME REPORT`` appends to REPORT a line for each path that is opened for writing,
made, renamed, removed or changed, and for each program that is run (audit events: Python's library reference,
"Audit events table").
"""

from __future__ import annotations

import asyncio
import os
import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from textual import events

from bench.__main__ import main
from bench.cli.output import emit_lines
from bench.errors import BenchError
from bench.model.step_kind import StepKind
from bench.session.beginning import begins
from bench.store.paths import Home
from bench.store.recipes import save_recipe
from bench.store.sessions import create
from bench.store.shelf import load_library
from bench.tui.app import BenchApp
from bench.tui.going import Going
from bench.tui.screens.pour import PourScreen
from tests.tui.at_the_bench import HandClock, at, session_of
from tests.tui.running import press, screen_text, until

WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = (
    "os.chmod", "os.chown", "os.link", "os.mkdir", "os.remove", "os.rename", "os.rmdir", "os.symlink",
    "os.truncate", "os.utime", "os.setxattr", "os.removexattr", "os.mkfifo", "os.mknod", "sqlite3.connect",
)  # fmt: skip


def watch(report: Path) -> None:
    """Have every path that this process writes told from here on."""
    descriptor = os.open(report, os.O_WRONLY | os.O_CREAT | os.O_APPEND)

    def told(event: str, given: tuple[Any, ...]) -> None:
        if event == "open":
            path, _, flags = given
            paths = [path] if flags & WRITING else []
        elif event == "subprocess.Popen":
            paths = [given[0]]
        else:
            paths = [path for path in given[:2] if isinstance(path, str | bytes)] if event in CHANGES else []
        for path in paths:
            if not isinstance(path, int):
                os.write(descriptor, f"{event} {os.path.abspath(os.fsdecode(path))}\n".encode())  # noqa: PTH100

    sys.addaudithook(told)


LEADING_ELSEWHERE = (
    "../escape",
    "../../escape",
    "/tmp/escape",
    "..",
    "a/../../../escape",
    "..\\escape",
    "",
    "\0",
    "a" * 300,
)
PATIENCE_S = 60.0


class HeardApp(BenchApp):
    """Its sessions are heard, though nobody sits at it: no terminal, but the players of this machine."""

    opens_session = False

    @property
    def is_headless(self) -> bool:
        """Whether nobody is to hear or see it."""
        return not self.opens_session and super().is_headless

    def _run(self, going: Going) -> None:
        self.opens_session = True
        super()._run(going)
        self.opens_session = False


async def whole_session(home: Path) -> None:
    """Pour a small session to its end by keys on the real screens, by a clock that is moved."""
    clock = HandClock()
    app = HeardApp(home=Home(home), clock=clock)
    async with app.run_test(size=(100, 40)):
        await until(lambda: app.bench.planned, PATIENCE_S)
        for key in ("up", "down"):
            press(app, key)
        await until(lambda: app.bench.planned, PATIENCE_S)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen), PATIENCE_S)
        screen = app.screen
        assert isinstance(screen, PourScreen)
        while not screen.session.state.over:
            await one_step(app, screen, clock)
        await until(lambda: "Complete." in screen_text(app), PATIENCE_S)
        press(app, "escape")
        await until(lambda: app.screen is app.bench, PATIENCE_S)


async def one_step(app: BenchApp, screen: PourScreen, clock: HandClock) -> None:
    """Read a card, put a cup on the heat, read it there or finish a step, by a second press where the screen asks
    for one."""
    session = screen.session
    step = session.step
    if session.unacknowledged and session.visits:
        await struck(app, screen, clock, "a", after_s=2.0)
    elif begins(session, clock.now()) and session.visit.begun is None:
        await struck(app, screen, clock, "space", after_s=2.0)
    elif step.kind is StepKind.HEAT and step.band_c is not None:
        await struck(app, screen, clock, *f"{sum(step.band_c) / 2:.0f}", "enter", after_s=step.length_s + 2.0)
    else:
        await struck(app, screen, clock, "space", after_s=step.length_s + 2.0)


async def struck(app: BenchApp, screen: PourScreen, clock: HandClock, *keys: str, after_s: float) -> None:
    """Those keys after that time, the last of them again where the screen asks for it."""
    session = screen.session
    clock.advance(after_s)
    for key in keys:
        strike(app, key, clock)
    await until(lambda: screen.session != session or "Space again" in screen_text(app), PATIENCE_S)
    if screen.session == session:
        clock.advance(2.0)
        strike(app, keys[-1], clock)
        await until(lambda: screen.session != session, PATIENCE_S)


def strike(app: BenchApp, key: str, clock: HandClock) -> None:
    """One key, at that clock's moment: no two presses of a test are as close as a held key's."""
    event = events.Key(key, " " if key == "space" else key)
    event.time = clock.seconds
    driver = app._driver
    assert driver is not None
    driver.send_message(event)


def every_verb(home: Path) -> None:
    """Whatever reads and writes besides, with names that lead elsewhere among them."""
    (session,) = (home / "sessions").glob("[!.]*.toml")
    demo = ["--mould", "ribbon-leech-4", "--count", "8"]
    for argv in (
        ["check"], ["log"], ["log", "show", session.stem], ["log", "show", session.stem, "--json"],
        ["plan", "ember-under-peat", *demo], ["plan", "../../escape", *demo],
        ["log", "show", "../../escape"], ["log", "show", "../escape.toml"], ["check", "../escape.toml"],
        ["sound-check"],
    ):  # fmt: skip
        main(["--home", str(home), *argv])
    recipe = load_library(Home(home))[0].recipes["ember-under-peat"]
    save_recipe(Home(home), replace(recipe, name="of-my-own"))
    for name in LEADING_ELSEWHERE:
        with suppress(BenchError):
            save_recipe(Home(home), replace(recipe, name=name))
        idle = session_of()
        idle = replace(idle, job=replace(idle.job, recipe=replace(recipe, name=name)))
        with suppress(BenchError):
            create(Home(home), idle, created=at(0).wall).close(idle, PATIENCE_S)


if __name__ == "__main__":
    sys.dont_write_bytecode = True
    watch(Path(sys.argv[2]))
    asyncio.run(whole_session(Path(sys.argv[1])))
    every_verb(Path(sys.argv[1]))
    emit_lines(["all done"])
