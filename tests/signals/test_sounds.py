"""Sounds through a player, the bell where there is none, and nothing that waits for either."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from bench.signals import player as playing
from bench.signals.bell import PATTERNS, Bell, Signal
from bench.signals.player import Player, find_player, sound_file
from bench.signals.sounds import Sounds
from tests.signals.talkers import HANG_S, OFTEN, WAIT_S, lines, wait_for

_PLAYS = "import sys; open(sys.argv[1], 'a').write(sys.argv[-1] + '\\n')"
_HANGS = _PLAYS + "; import time; time.sleep(600)"
_FAILS = _PLAYS + "; sys.exit(1)"


def player(code: str, record: Path) -> Player:
    """A player that writes down the file it was to play."""
    return Player(argv=(sys.executable, "-I", "-S", "-c", code, str(record)))


class Rung:
    """A bell that counts."""

    def __init__(self) -> None:
        self.count = 0
        self.bell = Bell(ring=self.ring, later=lambda _seconds, ring: ring())

    def ring(self) -> None:
        self.count += 1


@pytest.fixture
def rung() -> Rung:
    return Rung()


def sounds(rung: Rung, played_by: Player | None, folder: Path) -> Sounds:
    return Sounds(played_by, bell=rung.bell, folder=folder)


@pytest.mark.parametrize("signal", Signal)
def test_without_a_player_the_bell_rings_its_pattern(signal: Signal, rung: Rung, tmp_path: Path) -> None:
    sounds(rung, None, tmp_path).sound(signal)
    assert rung.count == PATTERNS[signal].rings


def test_each_signal_plays_its_own_file_and_danger_rings_too(rung: Rung, tmp_path: Path) -> None:
    record = tmp_path / "record"
    calls = sounds(rung, player(_PLAYS, record), tmp_path)
    for count, signal in enumerate(Signal, start=1):
        calls.sound(signal)
        wait_for(lambda count=count: len(lines(record)) == count)  # type: ignore[misc]
    calls.close()
    assert [Path(line).name.rsplit("-", 1)[0] for line in lines(record)] == ["step-over", "attention", "stop-now"]
    assert rung.count == PATTERNS[Signal.STOP_NOW].rings


def test_a_player_that_fails_is_heard_as_a_bell_and_not_asked_again(rung: Rung, tmp_path: Path) -> None:
    record = tmp_path / "record"
    calls = sounds(rung, player(_FAILS, record), tmp_path)
    calls.sound(Signal.ATTENTION)
    wait_for(lambda: rung.count == PATTERNS[Signal.ATTENTION].rings)
    calls.sound(Signal.STEP_OVER)
    assert rung.count == PATTERNS[Signal.ATTENTION].rings + PATTERNS[Signal.STEP_OVER].rings
    calls.close()
    assert len(lines(record)) == 1


def test_danger_cuts_off_what_plays_and_nothing_less_cuts_off_danger(
    rung: Rung, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(playing, "MOST_S", 600.0)
    record = tmp_path / "record"
    calls = sounds(rung, player(_HANGS, record), tmp_path)
    calls.sound(Signal.STEP_OVER)
    wait_for(lambda: len(lines(record)) == 1)
    calls.sound(Signal.STOP_NOW)
    wait_for(lambda: len(lines(record)) == 2)
    calls.sound(Signal.ATTENTION)
    began = time.monotonic()
    calls.close()
    assert time.monotonic() - began < HANG_S
    assert "stop-now" in lines(record)[1]
    assert len(lines(record)) == 2
    wait_for(lambda: not [thread for thread in threading.enumerate() if thread.name == "sounds"])


def test_a_player_that_hangs_is_given_up_and_the_bell_rings(
    rung: Rung, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(playing, "MOST_S", 0.2)
    calls = sounds(rung, player(_HANGS, tmp_path / "record"), tmp_path)
    calls.sound(Signal.STEP_OVER)
    wait_for(lambda: rung.count == 1)
    calls.close()


def test_nothing_waits_for_a_player_that_hangs(rung: Rung, tmp_path: Path) -> None:
    calls = sounds(rung, player(_HANGS, tmp_path / "record"), tmp_path)
    began = time.monotonic()
    for _ in range(OFTEN):
        calls.sound(Signal.STOP_NOW)
    assert time.monotonic() - began < HANG_S
    calls.close()


def test_words_wait_until_the_signal_has_sounded_and_no_longer(
    rung: Rung, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    record = tmp_path / "record"
    calls = sounds(rung, player(_PLAYS, record), tmp_path)
    calls.wait(0.0)
    calls.sound(Signal.STEP_OVER)
    calls.wait(WAIT_S)
    assert len(lines(record)) == 1
    calls.close()
    monkeypatch.setattr(playing, "MOST_S", 600.0)
    hanging = sounds(rung, player(_HANGS, tmp_path / "other"), tmp_path)
    hanging.sound(Signal.STEP_OVER)
    began = time.monotonic()
    hanging.wait(0.05)
    assert time.monotonic() - began < HANG_S
    hanging.close()


def test_files_are_made_once_and_anew_when_they_are_not_whole(tmp_path: Path) -> None:
    first = sound_file(Signal.STOP_NOW, tmp_path / "sounds")
    whole, made = first.read_bytes(), first.stat().st_mtime_ns
    assert sound_file(Signal.STOP_NOW, tmp_path / "sounds").stat().st_mtime_ns == made
    first.write_bytes(b"torn")
    assert sound_file(Signal.STOP_NOW, tmp_path / "sounds").read_bytes() == whole
    assert [path.name for path in (tmp_path / "sounds").iterdir()] == [first.name]


def test_the_bell_rings_where_sound_files_cannot_be_written_and_nothing_is_written_elsewhere(
    rung: Rung, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_bytes(b"")
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    calls = sounds(rung, player(_PLAYS, tmp_path / "record"), tmp_path / "file" / "sounds")
    calls.sound(Signal.ATTENTION)
    wait_for(lambda: rung.count == PATTERNS[Signal.ATTENTION].rings)
    calls.sound(Signal.STEP_OVER)
    wait_for(lambda: rung.count == PATTERNS[Signal.ATTENTION].rings + PATTERNS[Signal.STEP_OVER].rings)
    calls.close()
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["file", "temporary"]


def has(*programs: str) -> Callable[[str], str | None]:
    return lambda name: f"/usr/bin/{name}" if name in programs else None


@pytest.mark.parametrize(
    ("platform", "programs", "argv"),
    [
        ("linux", ("aplay", "paplay", "pw-play"), ("/usr/bin/pw-play",)),
        ("linux", ("aplay", "paplay"), ("/usr/bin/paplay",)),
        ("linux", ("aplay", "afplay"), ("/usr/bin/aplay", "-q")),
        ("darwin", ("afplay", "aplay"), ("/usr/bin/afplay",)),
        ("win32", (), ("winsound",)),
    ],
)
def test_the_player_is_what_the_machine_has(
    platform: str, programs: tuple[str, ...], argv: tuple[str, ...]
) -> None:
    assert find_player(platform=platform, which=has(*programs)) == Player(argv=argv)


def test_a_machine_without_a_player_has_none() -> None:
    assert find_player(platform="linux", which=has("afplay")) is None
    assert find_player(platform="darwin", which=has("aplay")) is None


def test_a_player_that_is_not_there_says_so(tmp_path: Path) -> None:
    problem = Player(argv=("/nowhere/at/all/play",)).play(tmp_path / "nothing.wav")
    assert problem.startswith("play: ")
