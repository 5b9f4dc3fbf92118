"""What waits on the bench: the cursor is on it, it is told as it is now, nothing begins beside it unasked."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.clock import SystemClock
from bench.model.recipe import Part
from bench.session.events import Aborted, StopReason, VerdictGiven
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.verdicts import Given, Subject, Verdict
from bench.store.last_time import with_last_time
from bench.store.paths import Home
from bench.tui.app import BenchApp
from bench.tui.past import last_time, unfinished_again, what_waits
from bench.tui.pour.closing import OF_A_REHEARSAL, closing
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import picture
from bench.tui.screens.another import AnotherScreen
from bench.tui.screens.pour import PourScreen
from bench.tui.widgets.waits import Waits
from tests.session.bench_sessions import FakeClock, Maker, maker
from tests.store.on_disk import on_disk
from tests.tui.at_the_bench import at, session_of
from tests.tui.pour.pictures import METRIC
from tests.tui.pour.shown import whole_text
from tests.tui.running import press, running, screen_text, until
from tests.tui.test_app import app_in, left_at


def only_file(home: Path) -> Path:
    """The one session of that home."""
    (path,) = (home / "sessions").glob("*.toml")
    return path


def lock_of(path: Path) -> Path:
    """The file in which a copy of the program that works at a session leaves its number."""
    return path.with_name(f".{path.name}.lock")


def begun_as_real(app: BenchApp) -> bool:
    """Whether a pour is open that is not the one left."""
    return isinstance(app.screen, PourScreen) and app.screen.session.started is None


async def on_the_recipes(app: BenchApp) -> None:
    """Away from what waits."""
    await until(lambda: "Enter resume" in screen_text(app) and app.bench.planned)
    press(app, "right")
    await until(lambda: "Enter pour" in screen_text(app))


async def test_a_new_pour_beside_one_that_waits_is_asked_about(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    async with app_in(tmp_path) as app:
        for key in ("enter", "space", "pagedown", "escape"):
            await on_the_recipes(app)
            press(app, "enter")
            await until(lambda: isinstance(app.screen, AnotherScreen) and "Leech: last entry" in screen_text(app))
            press(app, key)
            await until(lambda: app.screen is app.bench)
            await until(lambda: "Enter resume" in screen_text(app))
            assert app.running is None, "keys that begin a pour begin none here"
        await on_the_recipes(app)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, AnotherScreen))
        press(app, "n")
        await until(lambda: begun_as_real(app))
        app.close_session()


async def test_the_one_that_waits_can_be_taken_up_instead(tmp_path: Path) -> None:
    left_at(tmp_path, "warm-mould")
    async with app_in(tmp_path) as app:
        await on_the_recipes(app)
        press(app, "enter")
        await until(lambda: isinstance(app.screen, AnotherScreen))
        press(app, "r")
        await until(lambda: isinstance(app.screen, PourScreen))
        assert isinstance(app.screen, PourScreen)
        assert app.screen.session.step.id == "warm-mould"
        app.close_session()


async def test_a_rehearsal_is_begun_unasked(tmp_path: Path) -> None:
    left_at(tmp_path, "ready")
    async with app_in(tmp_path) as app:
        await on_the_recipes(app)
        press(app, "r")
        await until(lambda: begun_as_real(app) and "REHEARSAL" in screen_text(app))
        app.close_session()


async def test_the_cursor_stands_on_a_rehearsal_left_lately(tmp_path: Path) -> None:
    now = SystemClock().now()
    played = maker(count=4)
    played.clock = FakeClock(elapsed_s=now.elapsed_s, wall=now.wall, boot=now.boot)
    played.walk_to("ready")
    on_disk(tmp_path, played, rehearsal=60)
    async with app_in(tmp_path) as app:
        await until(lambda: "Enter resume" in screen_text(app))
        press(app, "enter")
        await until(lambda: isinstance(app.screen, PourScreen) and "REHEARSAL" in screen_text(app))
        app.close_session()


async def test_nothing_begins_until_it_is_known_what_waits(tmp_path: Path) -> None:
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        app.bench._is_read = False
        press(app, "enter")
        press(app, "l")
        await until(lambda: app.screen is not app.bench)
        assert app.running is None


async def test_a_session_open_elsewhere_says_so_and_is_looked_on_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bench.tui.screens.bench_doors.LOOK_AGAIN_S", 3600)
    monkeypatch.setattr("bench.tui.screens.bench_doors.LOOK_SOON_S", 0.02)
    left_at(tmp_path, "ready")
    lock_of(only_file(tmp_path)).write_bytes(b"%d" % os.getppid())
    async with app_in(tmp_path, size=(80, 24)) as app:
        await until(lambda: "open in another window" in screen_text(app))
        assert "Enter look on" in screen_text(app)
        assert "set aside" not in screen_text(app)
        lock_of(only_file(tmp_path)).unlink()
        await until(lambda: "last entry" in screen_text(app) and "Enter resume" in screen_text(app))
        assert "another window" not in screen_text(app)


def test_this_window_is_not_another(tmp_path: Path) -> None:
    played = left_at(tmp_path, "ready")
    lock_of(only_file(tmp_path)).write_bytes(b"%d" % os.getpid())
    (unfinished,) = what_waits(Home(tmp_path), played.now().wall).unfinished
    assert not unfinished.elsewhere
    assert unfinished_again((unfinished,)) == (unfinished,)


def test_a_rehearsals_last_entry_is_told_in_real_time(tmp_path: Path) -> None:
    """Its own clock runs ahead of the maker's."""
    played = left_at(tmp_path, "r1.shell.set", rehearsal=60)
    (path,) = (tmp_path / "rehearsals").glob("*.toml")
    real = played.events[0].at.wall + timedelta(seconds=20)
    os.utime(path, (real.timestamp(), real.timestamp()))
    (unfinished,) = what_waits(Home(tmp_path), real).unfinished
    assert unfinished.last == real
    assert unfinished.last < played.events[-1].at.wall
    assert unfinished_again((unfinished,)) == (unfinished,)


@dataclass
class Later:
    """A clock that stands so long after somebody left."""

    left: Stamp
    seconds: float

    def now(self) -> Stamp:
        at = self.left.elapsed_s + self.seconds
        return Stamp(elapsed_s=at, wall=self.left.wall + timedelta(seconds=self.seconds), boot=self.left.boot)


async def test_how_long_ago_its_last_entry_was_goes_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bench.tui.screens.bench_doors.LOOK_AGAIN_S", 0.02)
    played = left_at(tmp_path, "ready")
    clock = Later(left=played.events[-1].at, seconds=0.0)
    app = BenchApp(home=Home(tmp_path), clock=clock)
    async with running(app, size=(80, 24)):
        await until(lambda: "last entry just now" in screen_text(app))
        clock.seconds = 240.0
        await until(lambda: "last entry 4 min ago" in screen_text(app))
        only_file(tmp_path).unlink()
        await until(lambda: "last entry" not in screen_text(app))
        assert app.bench.query_one(Waits).under_cursor() is None


def judged(home: Path, verdict: Verdict, *, day: int = 24, rehearsal: float | None = None) -> Session:
    """The demo, idle, and on disk a session of it that was stopped after that verdict."""
    idle = session_of()
    played = Maker(session=idle)
    played.press()
    played.happen(VerdictGiven(at=played.now(), round=1, subject=Subject.SHELLS, verdict=verdict))
    played.happen(Aborted(at=played.now(), reason=StopReason.DANGER))
    on_disk(home, played, created=datetime(2026, 11, day, 9, 0, tzinfo=UTC), rehearsal=rehearsal)
    return idle


def said_of(home: Path, planned: Session) -> str:
    return last_time(what_waits(Home(home), at(0).wall).judged, planned).words


def test_the_last_verdict_on_the_same_recipe_and_mould_is_told_while_its_loads_stand(tmp_path: Path) -> None:
    idle = judged(tmp_path, Verdict.RIGHT, day=3)
    judged(tmp_path, Verdict.TOO_FAINT, day=25, rehearsal=60)
    assert said_of(tmp_path, idle) == "last time, 3 Nov: shells right"
    judged(tmp_path, Verdict.TOO_DENSE)
    assert said_of(tmp_path, idle).startswith("last time, 24 Nov: shells too dense: try Peat brown about ")
    assert said_of(tmp_path, session_of(mould="marsh-minnow-2")) == ""
    shell = replace(idle.job.recipe.parts[Part.SHELL], doses=())
    recipe = replace(idle.job.recipe, parts={**idle.job.recipe.parts, Part.SHELL: shell})
    changed = replace(idle, job=replace(idle.job, recipe=recipe))
    assert said_of(tmp_path, changed) == "", "what was tried since is not told once more"


@pytest.mark.parametrize("size", [(40, 12), (60, 16), (79, 19), (80, 24), (99, 40)])
async def test_in_a_small_window_what_was_said_the_last_time_is_one_row_with_the_key_that_shows_it_whole(
    size: tuple[int, int], tmp_path: Path
) -> None:
    judged(tmp_path, Verdict.TOO_DENSE)
    async with app_in(tmp_path, size=size) as app:
        await until(lambda: "last time, 24 Nov: shells too dense" in screen_text(app))
        (row,) = (row for row in screen_text(app).split("\n") if "last time" in row)
        assert re.search(r"\bW last time, .*(…|0\.15 %)\s*\S?$", row)
        for kept in ("8 baits in 2 rounds", "about 1 h 18 min", "Enter pour"):
            assert kept in screen_text(app)
        if size == (80, 24):
            assert "Chalk white     0.09 g" in screen_text(app), "nothing to weigh is pushed out"
        press(app, "w")
        await until(lambda: "Shells too dense, round 1: less" in " ".join(screen_text(app).split()))
        assert "try about 0.15 %, a first step" in " ".join(screen_text(app).split()) or size == (40, 12)
        press(app, "escape")
        await until(lambda: app.screen is app.bench)


async def test_in_a_wide_window_it_stands_whole_with_the_plan(tmp_path: Path) -> None:
    judged(tmp_path, Verdict.TOO_DENSE)
    async with app_in(tmp_path, size=(120, 30)) as app:
        whole = "W last time, 24 Nov: shells too dense: try Peat brown about 0.15 %"
        await until(lambda: whole in " ".join(screen_text(app).split()))


async def test_where_nothing_was_said_the_last_time_its_key_does_nothing(tmp_path: Path) -> None:
    async with app_in(tmp_path, size=(80, 24)) as app:
        await until(lambda: "8 baits in 2 rounds" in screen_text(app))
        press(app, "w")
        press(app, "question_mark")
        await until(lambda: "any other key closes this" in screen_text(app))
        assert len(app.screen_stack) == 2


def test_a_session_begins_with_what_was_said_the_last_time_and_how_to_take_it(tmp_path: Path) -> None:
    idle = judged(tmp_path, Verdict.TOO_DENSE)
    begun = with_last_time(Home(tmp_path), idle)
    said, how = begun.job.last_time
    assert said == "last time, 24 Nov: shells too dense: try Peat brown about 0.15 %"
    assert "C on the bench opens the colour screen" in how
    shown = " ".join(whole_text(frame(picture(begun, at(0), METRIC), 80, 24).rows).split())
    assert "shells too dense: try Peat brown about 0.15 %" in shown
    assert "C on the bench opens the colour screen" in shown
    judged(tmp_path, Verdict.RIGHT, day=26)
    assert with_last_time(Home(tmp_path), idle).job.last_time == ("last time, 26 Nov: shells right",)


def test_a_rehearsals_verdict_is_told_nowhere_else(tmp_path: Path) -> None:
    idle = judged(tmp_path, Verdict.TOO_DENSE, rehearsal=60)
    assert with_last_time(Home(tmp_path), idle).job.last_time == ()
    said = replace(idle, verdicts=(Given(round=1, subject=Subject.SHELLS, verdict=Verdict.TOO_DENSE),))
    assert OF_A_REHEARSAL in closing(said, METRIC.units, rehearsed=True).lines
    assert OF_A_REHEARSAL not in closing(said, METRIC.units).lines


async def test_from_the_bench_it_stands_on_the_first_screen_of_the_session(tmp_path: Path) -> None:
    judged(tmp_path, Verdict.TOO_DENSE)
    async with app_in(tmp_path, size=(120, 30)) as app:
        await until(lambda: "last time, 24 Nov" in screen_text(app))
        press(app, "r")
        await until(lambda: "Space start" in screen_text(app))
        assert "shells too dense: try Peat brown about 0.15 %" in " ".join(screen_text(app).split())


def test_the_plan_ends_with_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["--home", str(tmp_path), "plan", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "8"]
    assert main(asked) == 0
    assert "ast time" not in capsys.readouterr().out
    judged(tmp_path, Verdict.TOO_DENSE)
    assert main(asked) == 0
    end = " ".join(capsys.readouterr().out.split("Last time, ")[1].split())
    assert end.startswith("24 Nov: shells too dense: try Peat brown about 0.15 % To take a load: C on the bench")
