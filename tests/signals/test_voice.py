"""Which program speaks on which machine, what it gets, and how its failures are seen."""

from __future__ import annotations

import shutil
import struct
import wave
from collections.abc import Callable
from pathlib import Path

import pytest

from bench.model.settings import FASTEST, SLOWEST, Speech, UnitSystem
from bench.signals import spoken, voice
from bench.signals.voice import LONGEST_TEXT, Voice, find_voice, speakable, utter
from tests.signals.talkers import failure, grumbler, hanger, lines, nowhere, recorder, wait_for

EVIL = "--help\n-v evil; $(touch x) `y` [[slnc 9]] <speak/> !-! SET self RATE 9\x1b]0;title\x07\x9b2J\u202e end"


def machine(*programs: str) -> Callable[[str], str | None]:
    """A machine that has these programs."""
    return lambda name: f"/usr/bin/{name}" if name in programs else None


@pytest.mark.parametrize(
    ("platform", "programs", "argv"),
    [
        ("linux", ("espeak-ng", "espeak", "spd-say"), "/usr/bin/espeak-ng --stdin -v en -s 155"),
        ("linux", ("espeak", "spd-say"), "/usr/bin/espeak --stdin -v en -s 155"),
        ("linux", ("spd-say",), "/usr/bin/spd-say --wait --pipe-mode -l en -r -20"),
        ("darwin", ("say",), "/usr/bin/say -r 155 -f -"),
    ],
)
def test_a_machine_speaks_with_what_it_has(platform: str, programs: tuple[str, ...], argv: str) -> None:
    found = find_voice(Speech(), platform=platform, which=machine(*programs))
    assert found == Voice(argv=tuple(argv.split()))


def test_windows_speaks_through_its_own_shell_and_reads_the_words_from_its_input() -> None:
    found = find_voice(Speech(language="en-GB", rate=200), platform="win32", which=machine("powershell"))
    assert found is not None
    assert found.argv[:4] == ("/usr/bin/powershell", "-NoProfile", "-NonInteractive", "-Command")
    assert "System.Speech" in found.argv[4]
    assert "OpenStandardInput" in found.argv[4]
    assert "'en-GB'" in found.argv[4]
    assert "Rate = 0;" in found.argv[4]
    assert found.argv[4].count("{") == found.argv[4].count("}") == 2


@pytest.mark.parametrize("platform", ["linux", "darwin", "win32"])
def test_a_machine_without_speech_or_a_maker_without_use_for_it(platform: str) -> None:
    assert find_voice(Speech(), platform=platform, which=machine()) is None
    has_all = machine("espeak-ng", "say", "powershell")
    assert find_voice(Speech(on=False), platform=platform, which=has_all) is None
    own = Speech(command=("my-voice", "-x"))
    assert find_voice(own, platform=platform, which=has_all) == Voice(argv=("my-voice", "-x"))


@pytest.mark.parametrize("rate", [SLOWEST, FASTEST])
def test_every_rate_lies_within_what_the_programs_take(rate: int) -> None:
    dispatcher = find_voice(Speech(rate=rate), platform="linux", which=machine("spd-say"))
    assert dispatcher is not None
    assert -100 <= int(dispatcher.argv[-1]) <= 100


def test_nothing_in_the_words_can_be_taken_for_a_command() -> None:
    said = speakable(EVIL)
    assert said.startswith("help")
    assert not set(said) & set("\x1b\x07\x9b\u202e\n[]<>$`()")
    assert "!-!" not in speakable("!-! BLOCK BEGIN")[:3]
    assert len(speakable("word " * 1000)) <= LONGEST_TEXT


def test_words_are_spelt_as_the_user_wants_them_said() -> None:
    table = {"Quillmere": "kwill meer", "sprue": r"sp\roo", "": "x"}
    assert speakable("Quillmere sprue sprues QUILLMERE", {**table}) == "kwill meer sp roo sprues kwill meer"


def test_the_program_gets_the_words_on_its_input(tmp_path: Path) -> None:
    record = tmp_path / "record"
    assert utter(recorder(record), "shell shot, hältst du") == ""
    assert lines(record) == ["shell shot, hältst du"]


def test_what_goes_wrong_is_said() -> None:
    assert "exit code 3" in utter(failure(), "words")
    assert utter(nowhere(), "words").startswith("speak: No such file")


@pytest.mark.parametrize(
    ("line", "wrong"),
    [
        ("error: No such file or directory", True),
        ("Error: The specified espeak-ng voice does not exist.", True),
        ("my-voice: cannot open the sound card", True),
        ("warning: no error here", False),
        ("", False),
    ],
)
def test_a_program_that_ends_well_without_a_loudspeaker_has_failed(
    line: str, wrong: bool, capfd: pytest.CaptureFixture[str]
) -> None:
    problem = utter(grumbler(line), "words")
    assert bool(problem) is wrong
    if wrong:
        assert line.split()[-1].rstrip(".") in problem
    assert capfd.readouterr() == ("", ""), "nothing that it prints reaches the terminal"


@pytest.mark.parametrize("deaf", [False, True])
def test_a_program_that_hangs_is_ended_when_cut_off(tmp_path: Path, deaf: bool) -> None:
    record = tmp_path / "record"
    assert (
        utter(hanger(record, deaf=deaf), "words", cut=lambda: lines(record)[-1:] == ["deaf" if deaf else "words"])
        == ""
    )


def test_a_program_that_never_ends_is_not_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(voice, "START_S", 0.1)
    assert "did not come to an end" in utter(hanger(tmp_path / "record"), "w")


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed on this machine")
def test_a_real_voice_says_the_words_loud_enough_and_in_time(tmp_path: Path) -> None:
    """155 words a minute are asked for; the bounds are wide, for a voice is no metronome."""
    text = f"Heat the shell cup. {spoken.degrees_between(165, 175, UnitSystem.METRIC)}."
    found = find_voice(Speech(), platform="linux")
    assert found is not None
    sound = tmp_path / "said.wav"
    assert utter(Voice(argv=(*found.argv, "-w", str(sound))), text) == ""
    wait_for(sound.exists)
    with wave.open(str(sound)) as file:
        assert file.getnchannels() == 1
        assert file.getsampwidth() == 2
        seconds = file.getnframes() / file.getframerate()
        samples = struct.unpack(f"<{file.getnframes()}h", file.readframes(file.getnframes()))
    expected_s = len(text.split()) / 155 * 60
    assert 0.5 * expected_s < seconds < 1.7 * expected_s
    assert max(abs(sample) for sample in samples) > 0.2 * 32767
    loud = sum(abs(sample) > 300 for sample in samples)
    assert loud > len(samples) / 4, "it speaks most of the time"
