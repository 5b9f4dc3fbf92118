"""A pedal learnt: the stages, the screen, the settings it ends in, and the session that it then goes on in."""

from __future__ import annotations

import threading
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

import pytest
from textual import events

from bench.errors import BenchError
from bench.model.key_names import USUAL_KEYS, Action, keys_for
from bench.model.settings import Settings, ThemeName
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.store.decode import decode
from bench.store.files import read_table
from bench.store.paths import Home
from bench.store.settings_file import add_forward_key
from bench.tui.pedal import Learning, Stage, large_words, pressed, pressed_with, saved, words
from bench.tui.pedal_app import PedalApp
from bench.tui.screens.keys import HELD, KeysScreen
from tests.tui.at_the_bench import at_kind, at_step, session_of
from tests.tui.running import press, running, screen_text, until
from tests.tui.test_app import app_in
from tests.tui.test_pour import at_work

EVERY = keys_for({})
TAUGHT = Settings(keys={Action.FORWARD: (*USUAL_KEYS[Action.FORWARD], "f9")})


def after(*keys: str) -> Learning:
    learning = Learning()
    for key in keys:
        learning = pressed(learning, key, EVERY)
    return learning


@pytest.mark.parametrize(
    ("keys", "stage"),
    [
        ((), Stage.WAITING),
        (("f9",), Stage.SEEN),
        (("f9", "f9"), Stage.SAVING),
        (("f9", "f9", "f9"), Stage.SAVING),
        (("f9", "f8"), Stage.SEEN),
        (("f9", "f8", "f9"), Stage.SEEN),
        (("f9", "f8", "f8"), Stage.SAVING),
        (("pagedown",), Stage.KNOWN),
        (("pagedown", "f9"), Stage.SEEN),
        (("b",), Stage.REFUSED),
        (("b", "f9", "f9"), Stage.SAVING),
        (("a",), Stage.REFUSED),
        (("5",), Stage.REFUSED),
        (("\x19",), Stage.REFUSED),
    ],
)
def test_a_key_is_kept_after_a_second_press_of_the_same(keys: tuple[str, ...], stage: Stage) -> None:
    assert after(*keys).stage is stage


def test_what_cannot_be_learnt_says_why_and_what_would_do() -> None:
    assert words(after("b"), EVERY)[0] == (
        'B means "go back" here. Have the pedal send Page Down, Space or F5 to F12.'
    )
    assert words(after("a"), EVERY)[0].startswith('A means "I have read this" here. ')
    assert words(after("5"), EVERY)[0].startswith("5 types a figure here. ")
    assert "terminals do not tell apart" in words(after("\x19"), EVERY)[0]
    full = saved(after("f9", "f9"), "the disk is full")
    assert large_words(full) == "NOT KEPT", "the key itself would do"
    assert words(full, EVERY)[1] == "the disk is full"


def test_every_stage_has_its_words() -> None:
    stages = [after(), after("f9"), after("f9", "f9"), after("space"), after("b"), saved(after("f9", "f9"), "")]
    stages += [pressed_with(after("k"), "k", "z"), saved(after("f9", "f9"), "the disk is full")]
    assert {each.stage for each in stages} == set(Stage)
    for learning in stages:
        assert large_words(learning)
        assert all(words(learning, EVERY))


class Pedal:
    """An app with nothing but the pedal's screen, and a clock of the keyboard."""

    def __init__(self, app: PedalApp) -> None:
        self.app = app
        self.keyboard_s = 100.0

    @property
    def screen(self) -> KeysScreen:
        assert isinstance(self.app.screen, KeysScreen)
        return self.app.screen

    async def press(self, key: str, *, apart_s: float = 2.0) -> None:
        self.keyboard_s += apart_s
        event = events.Key(key, key if len(key) == 1 else None)
        event.time = self.keyboard_s
        self.app.post_message(event)
        done: list[bool] = []
        self.app.call_later(lambda: self.app.screen.call_later(lambda: done.append(True)))
        await until(lambda: done)


@asynccontextmanager
async def teaching(save: Callable[[str], None], size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pedal]:
    app = PedalApp(chosen={}, save=save, theme=ThemeName.DARK)
    async with running(app, size=size):
        await until(lambda: isinstance(app.screen, KeysScreen))
        yield Pedal(app)


@pytest.mark.parametrize("size", [(80, 24), (40, 12), (100, 30)])
async def test_two_presses_teach_it_and_enter_ends(size: tuple[int, int]) -> None:
    kept: list[str] = []
    async with teaching(kept.append, size) as pedal:
        await pedal.press("f9")
        assert "Here it is F9" in screen_text(pedal.app)
        assert kept == []
        await pedal.press("f9")
        await until(lambda: pedal.screen.learning.stage is Stage.SAVED)
        assert kept == ["f9"]
        assert "F9 goes on from the next session" in screen_text(pedal.app)
        await pedal.press("f9")
        assert kept == ["f9"]
        await pedal.press("enter")
        await until(lambda: pedal.app.return_value == 0)


async def test_a_held_or_bouncing_pedal_is_one_press() -> None:
    """A first repeat after half a second, then thirty a second (usual settings of keyboards)."""
    kept: list[str] = []
    async with teaching(kept.append) as pedal:
        await pedal.press("f9")
        await pedal.press("f9", apart_s=0.02)
        await pedal.press("f9", apart_s=0.5)
        for _ in range(30):
            await pedal.press("f9", apart_s=0.033)
        assert pedal.screen.learning.stage is Stage.SEEN
        assert HELD in " ".join(screen_text(pedal.app).split())
        await pedal.press("f9")
        await until(lambda: pedal.screen.learning.stage is Stage.SAVED)
    assert kept == ["f9"]


async def test_a_pedal_that_sends_two_keys_is_told_so_each_time() -> None:
    kept: list[str] = []
    async with teaching(kept.append) as pedal:
        for _ in range(3):
            await pedal.press("k")
            await pedal.press("z", apart_s=0.02)
            assert pedal.screen.learning.stage is Stage.SEVERAL
            shown = " ".join(screen_text(pedal.app).split())
            assert "Your pedal sends two keys, K and Z. Set it to send one, then try again." in shown
        await pedal.press("f9")
        await pedal.press("f9")
        await until(lambda: pedal.screen.learning.stage is Stage.SAVED)
    assert kept == ["f9"]


async def test_a_second_key_is_no_press_of_its_own() -> None:
    """A pedal that types a word and Enter: neither its letters nor its Enter mean what they mean elsewhere."""
    async with teaching(lambda _key: None) as pedal:
        await pedal.press("pagedown")
        assert pedal.screen.learning.stage is Stage.KNOWN
        await pedal.press("enter", apart_s=0.01)
        assert "two keys, Page Down and Enter" in " ".join(screen_text(pedal.app).split())
        await pedal.press("a")
        for key in ("b", "a", "b", "enter"):
            await pedal.press(key, apart_s=0.03)
        assert "3 keys, A, B and Enter" in " ".join(screen_text(pedal.app).split())
        assert pedal.app.return_value is None


async def test_escape_leaves_and_keeps_nothing() -> None:
    kept: list[str] = []
    async with teaching(kept.append) as pedal:
        await pedal.press("f9")
        await pedal.press("escape")
        await until(lambda: pedal.app.return_value == 0)
    assert kept == []


async def test_a_disk_that_does_not_take_it_is_said() -> None:
    def full(_key: str) -> None:
        raise BenchError("settings.toml cannot be written: no space left on device")

    async with teaching(full) as pedal:
        await pedal.press("f9")
        await pedal.press("f9")
        await until(lambda: pedal.screen.learning.stage is Stage.NOT_KEPT)
        await until(lambda: "no space left on device" in screen_text(pedal.app))


@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_settings_that_do_not_load_are_told_and_stay_as_they_are(
    size: tuple[int, int], tmp_path: Path
) -> None:
    written = 'format = 1\nspeech.rate = "fast"  # mine\n'
    (tmp_path / "settings.toml").write_text(written, encoding="utf-8")
    async with teaching(partial(add_forward_key, Home(tmp_path)), size) as pedal:
        await pedal.press("f9")
        await pedal.press("f9")
        await until(lambda: pedal.screen.learning.stage is Stage.NOT_KEPT)
        why = pedal.screen.learning.why
        assert why.endswith('settings.toml: speech.rate: found "fast", wanted a whole number.')
        if size == (80, 24):
            await until(lambda: "The file is as it was." in screen_text(pedal.app))
    assert (tmp_path / "settings.toml").read_text(encoding="utf-8") == written


async def test_a_slow_disk_holds_no_key_up() -> None:
    written = threading.Event()

    def slow(_key: str) -> None:
        written.wait(60.0)

    async with teaching(slow) as pedal:
        await pedal.press("f9")
        await pedal.press("f9")
        await pedal.press("f9")
        assert pedal.screen.learning.stage is Stage.SAVING
        written.set()
        await until(lambda: pedal.screen.learning.stage is Stage.SAVED)


async def test_from_the_bench_to_the_settings_and_back(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('# mine\nformat = 1\nunits = "us"  # ounces\n', encoding="utf-8")
    async with app_in(tmp_path) as app:
        await until(lambda: app.bench.planned)
        press(app, "k")
        await until(lambda: isinstance(app.screen, KeysScreen))
        for at_s in (100.0, 102.0):
            event = events.Key("f9", None)
            event.time = at_s
            app.post_message(event)
        await until(lambda: isinstance(app.screen, KeysScreen) and app.screen.learning.stage is Stage.SAVED)
        press(app, "escape")
        await until(lambda: "f9" in app.bench.settings.keys.get(Action.FORWARD, ()))
    text = (tmp_path / "settings.toml").read_text(encoding="utf-8")
    put_in = 'keys.forward = ["space", "enter", "pagedown", "f9"]\n'
    assert text.replace(put_in, "").startswith('# mine\nformat = 1\nunits = "us"  # ounces\n')


async def test_a_learnt_pedal_goes_on_and_never_acknowledges() -> None:
    async with at_work(session_of(), settings=TAUGHT) as work:
        await work.press("f9")
        assert work.session.step.kind is StepKind.CAUTIONS
        before = work.session
        await work.press("f9", "f9")
        assert work.session is before
        assert "READ THIS CARD" in work.text


async def test_a_learnt_pedal_that_is_held_or_bounces_advances_one_step() -> None:
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5, settings=TAUGHT) as work:
        await work.press("f9")
        await work.press("f9", "f9", apart_s=0.02)
        await work.press("f9", apart_s=0.4)
        await work.press(*["f9"] * 40, apart_s=0.033)
        assert work.session.step.kind is StepKind.WARM_MOULD
        assert "A held key counts once" in work.text


async def test_a_pedal_and_its_space_key_together_are_one_press() -> None:
    """Some pedals send two keys at once: both go on, and the filter is one for all of them."""
    session, now = at_kind(StepKind.READY)
    async with at_work(session, now + 5, settings=TAUGHT) as work:
        await work.press("f9")
        await work.press("space", apart_s=0.01)
        assert work.session.step.kind is StepKind.WARM_MOULD


async def test_a_learnt_pedal_right_after_a_step_that_ended_by_itself_skips_nothing() -> None:
    session, now = at_step("r1.shell.set")
    async with at_work(session, now, settings=TAUGHT) as work:
        work.tick(drive.remaining_s(session, work.clock.now()) + 0.1)
        here = work.session.step.id
        assert here != session.step.id
        await work.press("f9")
        assert work.session.step.id == here
        assert "has just ended by itself" in work.text


async def test_chosen_keys_stand_in_the_footer_and_in_the_help() -> None:
    chosen = Settings(keys={Action.FORWARD: ("f9", "space"), Action.HELP: ("f1",)})
    async with at_work(session_of(), settings=chosen) as work:
        assert "F9 start" in work.text
        assert "F1 help" in work.text
        assert "F9 starts the session." in work.text
        await work.press("question_mark")
        assert work.app.screen is work.screen, "the usual key means nothing then"
        await work.press("f1")
        await until(lambda: work.app.screen is not work.screen)
        await until(lambda: "F9, Space, Enter" in screen_text(work.app))


def test_the_verb_opens_on_the_users_own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from bench.__main__ import main

    opened: list[tuple[Home, object]] = []

    def open_pedal(home: Home, chosen: object) -> int:
        opened.append((home, chosen))
        return 0

    add_forward_key(Home(tmp_path), "f9")
    monkeypatch.setattr("bench.__main__.unfit_terminal", lambda: "")
    monkeypatch.setattr("bench.tui.pedal_app.open_pedal", open_pedal)
    assert main(["--home", str(tmp_path), "pedal"]) == 0
    keys = decode(Settings, read_table(tmp_path / "settings.toml"), file="").keys
    assert opened == [(Home(tmp_path), keys)]
