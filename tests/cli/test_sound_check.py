"""The verb sound-check: every signal played, rung and said, and an honest word on what is lacking or failed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.sound_check import WORDS, Check
from bench.signals.bell import PATTERNS, Signal
from bench.signals.player import Player
from bench.signals.voice import Voice, speakable
from tests.signals.talkers import failure, lines, nowhere, recorder


def checked(
    *, rings: bool = True, problem: str | None = "", silence: str | None = ""
) -> tuple[list[str], list[float], list[str], Check]:
    """The lines, what was rung and waited for (0 is a ring, 100 a sound), what was said."""
    heard: list[float] = []
    said: list[str] = []

    def play(_signal: Signal) -> str:
        heard.append(100.0)
        return silence or ""

    def say(text: str) -> str:
        said.append(text)
        return problem or ""

    check = Check(
        ring=(lambda: heard.append(0.0)) if rings else None,
        play=None if silence is None else play,
        say=None if problem is None else say,
        wait=lambda seconds: heard.append(seconds) if seconds else None,
    )
    return list(check.lines()), heard, said, check


def test_each_signal_is_rung_as_in_a_session_and_said() -> None:
    shown, heard, said, check = checked()
    assert heard.count(0.0) == sum(pattern.rings for pattern in PATTERNS.values())
    assert heard.count(100.0) == len(Signal)
    assert sum("sound  played" in line for line in shown) == len(Signal)
    assert said == [WORDS[signal] for signal in Signal]
    assert check.problems == check.silences == []
    for signal in Signal:
        assert any(str(signal) in line for line in shown)
        assert any(WORDS[signal] in line for line in shown), "the words stand on the screen too"


def test_what_failed_is_said_with_its_reason() -> None:
    shown, _, _, check = checked(problem="voice: no card")
    assert sum("not said (voice: no card)" in line for line in shown) == len(Signal)
    assert check.problems


def test_a_player_that_fails_is_named_and_the_bell_rings_all_the_same() -> None:
    shown, heard, _, check = checked(silence="aplay: no card")
    assert sum("not played (no loudspeaker answered)" in line for line in shown) == len(Signal)
    assert heard.count(0.0) == sum(pattern.rings for pattern in PATTERNS.values())
    assert check.silences


def test_without_a_player_no_sound_is_promised() -> None:
    shown, heard, _, _ = checked(silence=None)
    assert 100.0 not in heard
    assert not any("sound  " in line for line in shown)


def test_speech_that_is_off_and_a_bell_without_terminal_are_named() -> None:
    shown, heard, said, check = checked(rings=False, problem=None)
    assert sum("not said, speech is off" in line for line in shown) == len(Signal)
    assert sum("not rung: this is no terminal" in line for line in shown) == len(Signal)
    assert 0.0 not in heard
    assert (said, check.problems) == ([], [])


def with_voice(home: Path, voice: Voice | None) -> None:
    command = f"command = {json.dumps(list(voice.argv))}" if voice else "on = false"
    (home / "settings.toml").write_text(f"format = 1\n[speech]\n{command}\n", encoding="utf-8")


@pytest.fixture
def no_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    """No pauses, no sound on the machine that tests run on, no word to its desktop."""
    monkeypatch.setattr("bench.cli.sound_check.APART_S", 0.0)
    monkeypatch.setattr("bench.cli.sound_check.LIT_WITHIN_S", 0.0)
    monkeypatch.setattr("bench.signals.player.find_player", lambda: None)
    monkeypatch.setattr("bench.signals.awake.Awake", Dark)


class Dark:
    """A desktop that grants nothing."""

    lit = False

    def start(self) -> None:
        return

    def granted(self, within_s: float) -> bool:
        return self.lit

    def close(self) -> None:
        return


@pytest.mark.usefixtures("no_wait")
def test_the_users_own_program_says_every_signal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record = tmp_path / "record"
    with_voice(tmp_path, recorder(record))
    assert main(["--home", str(tmp_path), "sound-check"]) == 0
    assert lines(record) == [speakable(WORDS[signal]) for signal in Signal]
    assert "not said" not in capsys.readouterr().out


@pytest.mark.usefixtures("no_wait")
@pytest.mark.parametrize("voice", [failure(), nowhere()])
def test_speech_that_fails_is_a_thing_to_put_right(
    voice: Voice, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with_voice(tmp_path, voice)
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    printed = capsys.readouterr()
    assert printed.out.count("not said (") == len(Signal)
    assert printed.err.count("\n") == 1
    assert printed.err.startswith("Your speech program failed, so no words are heard: ")
    assert "See to speech.command in settings.toml. (" in printed.err


@pytest.mark.usefixtures("no_wait")
def test_speech_that_is_off_is_fine(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with_voice(tmp_path, None)
    assert main(["--home", str(tmp_path), "sound-check"]) == 0
    assert "speech is off" in capsys.readouterr().out


@pytest.mark.usefixtures("no_wait")
def test_a_machine_without_speech_is_told_what_to_install(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bench.signals.voice.find_voice", lambda _speech: None)
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    printed = capsys.readouterr()
    assert printed.err.startswith("No speech program, so no words are heard: ")
    assert "Install espeak-ng" in printed.err


@pytest.mark.usefixtures("no_wait")
@pytest.mark.parametrize(
    ("said", "told"),
    [
        (
            "error: No such file or directory",
            "No loudspeaker answered, so no words are heard: the terminal's bell stands in. Connect one or switch "
            'it on, then check again. (espeak-ng said: "error: No such file or directory")',
        ),
        (
            "Error: The specified espeak-ng voice does not exist.",
            'No voice for the language "en", so no words are heard: the terminal\'s bell stands in. See to '
            'speech.language in settings.toml. (espeak-ng said: "Error: The specified espeak-ng voice does not '
            'exist.")',
        ),
    ],
)
def test_a_machine_without_a_loudspeaker_is_told_so_and_what_the_program_says_comes_after(
    said: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    program = tmp_path / "espeak-ng"
    program.write_text(f"#!/bin/sh\necho '{said}' >&2\nexit 1\n", encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setattr("bench.signals.voice.find_voice", lambda _speech: Voice(argv=(str(program),)))
    monkeypatch.setattr("bench.cli.sound_check._ring", lambda: lambda: None)
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    printed = capsys.readouterr()
    assert printed.err == f"{told}\n"
    reason = "no loudspeaker answered" if said.startswith("error") else 'no voice for the language "en"'
    assert printed.out.count(f"not said ({reason}): ") == len(Signal)


def test_settings_that_do_not_load_are_said_instead(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "settings.toml").write_text("format = 1\n[speech]\nrate = 1\n", encoding="utf-8")
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    assert "speech.rate: found 1 words a minute" in capsys.readouterr().err


@pytest.mark.usefixtures("no_wait")
def test_what_the_machine_has_and_lacks_is_named_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with_voice(tmp_path, None)
    assert main(["--home", str(tmp_path), "sound-check"]) == 0
    said = capsys.readouterr().out
    assert "sounds   no program that plays sounds (pw-play, paplay, aplay)" in said
    assert "words    off in your settings" in said
    assert said.count("may go dark during a session: nothing here takes the request") == 1
    monkeypatch.setattr(Dark, "lit", True)
    monkeypatch.setattr("bench.signals.player.find_player", lambda: Player(argv=("/nowhere/aplay",)))
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    printed = capsys.readouterr()
    assert "sounds   played by aplay" in printed.out
    assert "screen   stays lit during a session" in printed.out
    assert printed.err == (
        "No loudspeaker answered, so no sounds are heard: nothing stands in, for this is no terminal. "
        'Connect one or switch it on, then check again. (aplay said: "No such file or directory")\n'
    )


@pytest.mark.usefixtures("no_wait")
def test_what_is_off_in_settings_is_said_to_be_off(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "settings.toml").write_text(
        "format = 1\nkeep_awake = false\nsound.on = false\nspeech.on = false\n", encoding="utf-8"
    )
    assert main(["--home", str(tmp_path), "sound-check"]) == 0
    said = capsys.readouterr().out
    assert "sounds   off in your settings" in said
    assert "keep_awake is off in your settings" in said
