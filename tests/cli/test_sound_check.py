"""The verb sound-check: every signal rung and said, and an honest word on what failed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.cli.sound_check import WORDS, Check
from bench.signals.bell import PATTERNS, Signal
from bench.signals.voice import Voice, speakable
from tests.signals.talkers import failure, lines, nowhere, recorder


def checked(*, rings: bool = True, problem: str | None = "") -> tuple[list[str], list[float], list[str], Check]:
    """The lines, what was rung and waited for (0 is a ring), what was said."""
    heard: list[float] = []
    said: list[str] = []

    def say(text: str) -> str:
        said.append(text)
        return problem or ""

    check = Check(
        ring=(lambda: heard.append(0.0)) if rings else None,
        say=None if problem is None else say,
        wait=lambda seconds: heard.append(seconds) if seconds else None,
    )
    return list(check.lines()), heard, said, check


def test_each_signal_is_rung_as_in_a_session_and_said() -> None:
    shown, heard, said, check = checked()
    assert heard.count(0.0) == sum(pattern.rings for pattern in PATTERNS.values())
    assert said == [WORDS[signal] for signal in Signal]
    assert check.problems == []
    for signal in Signal:
        assert any(str(signal) in line for line in shown)
        assert any(WORDS[signal] in line for line in shown), "the words stand on the screen too"


def test_what_failed_is_said_with_its_reason() -> None:
    shown, _, _, check = checked(problem="voice: no card")
    assert sum("not said (voice: no card)" in line for line in shown) == len(Signal)
    assert check.problems


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
    monkeypatch.setattr("bench.cli.sound_check.APART_S", 0.0)


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
    assert printed.err.startswith("Speech does not work here (")
    assert "speech.command" in printed.err


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
    assert "Install espeak-ng" in capsys.readouterr().err


def test_settings_that_do_not_load_are_said_instead(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "settings.toml").write_text("format = 1\n[speech]\nrate = 1\n", encoding="utf-8")
    assert main(["--home", str(tmp_path), "sound-check"]) == 1
    assert "speech.rate: found 1 words a minute" in capsys.readouterr().err
