"""A learnt key put into settings: one line more, and everything else as its writer left it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.errors import BenchError, FaultyFiles
from bench.model.key_names import MOST_KEYS, Action, keys_for
from bench.model.settings import Settings, ThemeName
from bench.store.decode import decode
from bench.store.files import read_table
from bench.store.paths import Home
from bench.store.settings_file import add_forward_key, set_theme, theme_in

USUAL = ("space", "enter", "pagedown")

FILES = {
    "nothing but the format": "format = 1\n",
    "no newline at the end": 'format = 1\nunits = "us"',
    "comments and other tables": """# mine
format = 1   # of the file
units = "us"  # ounces

[speech]   # how it talks
rate = 140
words = { Quillmere = "kwill meer" }
""",
    "a table of other keys": """format = 1
[keys]  # at the bench
help = ["f1"]  # near

[speech]
on = false
""",
    "a table at the very end": "format = 1\n[keys]",
    "a list of its own": 'format = 1\n[keys]\nback = ["b"]\nforward = ["space", "f8"]  # both\n',
    "a list over several lines": """format = 1
[keys]
forward = [
  "space",   # a key [of the keyboard]
  "f8",
]
""",
    "a list without a last comma": 'format = 1\n[keys]\nforward = [\n  "space",\n  "f8" # the pedal\n  ]\n',
    "a list with a bracket in it": 'format = 1\n[keys]\nforward = ["space", "]"]\n',
    "an inline table": 'format = 1\nkeys = { help = ["f1"] }\nunits = "us"\n',
    "an empty inline table": "format = 1\nkeys = {}\n",
    "a list in an inline table": 'format = 1\nkeys = { help = ["f1"], forward = ["space"] }\n',
    "dotted keys": 'format = 1\nkeys.help = ["f1"]\nsound.on = false\n',
    "a dotted list": 'format = 1\nkeys.forward = ["space"]\nsound.on = false\n',
    "another forward": 'format = 1\n[speech]\nwords = { forward = "[for ward]" }\n',
    "lines of Windows": 'format = 1\r\nunits = "us"\r\n[keys]\r\nhelp = ["f1"]\r\n',
    "a mark of byte order": '\ufeffformat = 1\nunits = "us"\n',
}


def home_with(tmp_path: Path, text: str) -> Home:
    home = Home(tmp_path)
    home.settings.write_bytes(text.encode())
    return home


def forward(home: Home) -> tuple[str, ...]:
    return keys_for(decode(Settings, read_table(home.settings), file="settings.toml").keys)[Action.FORWARD]


@pytest.mark.parametrize("text", FILES.values(), ids=FILES.keys())
def test_the_key_comes_in_and_everything_else_stays(text: str, tmp_path: Path) -> None:
    home = home_with(tmp_path, text)
    before = read_table(home.settings)
    had = forward(home)
    add_forward_key(home, "f9")
    after = read_table(home.settings)
    assert set(forward(home)) == {*had, "f9"}
    assert after.pop("keys")["forward"][-1] == "f9"
    assert after == {key: value for key, value in before.items() if key != "keys"}
    written = home.settings.read_bytes().decode()
    for line in text.splitlines():
        shared = line.split("forward")[0].split("{")[0].rstrip("] \t")
        assert shared in written, "no word of the user's is lost"
        assert ("#" not in line) or line[line.index("#") :] in written, "nor a comment"
    assert ("\r\n" in text) == ("\r\n" in written)
    assert written.count("\r\n") in (0, written.count("\n"))


def test_a_second_pedal_comes_beside_the_first(tmp_path: Path) -> None:
    home = home_with(tmp_path, "format = 1\n")
    add_forward_key(home, "f9")
    add_forward_key(home, "shift+f3")
    assert forward(home) == (*USUAL, "f9", "shift+f3")


def test_a_file_that_is_not_there_is_made(tmp_path: Path) -> None:
    home = Home(tmp_path / "new" / "home")
    add_forward_key(home, "f9")
    assert forward(home) == (*USUAL, "f9")


@pytest.mark.parametrize("key", ["space", "enter", "pagedown"])
def test_a_key_that_goes_on_already_changes_nothing(key: str, tmp_path: Path) -> None:
    home = Home(tmp_path)
    add_forward_key(home, key)
    assert not home.settings.exists()


@pytest.mark.parametrize(
    ("key", "says"), [("b", "B, which is back already"), ("5", "which types a figure"), ("escape", "Esc, which")]
)
def test_a_key_with_another_meaning_is_refused_in_one_sentence(key: str, says: str, tmp_path: Path) -> None:
    home = home_with(tmp_path, "format = 1\n")
    with pytest.raises(BenchError, match=says):
        add_forward_key(home, key)
    assert home.settings.read_text() == "format = 1\n"


@pytest.mark.parametrize(
    "text",
    [
        "format = 1\n[keys]\nforwrd = []\n",
        "format = ",
        "",
        f"format = 1\nkeys.forward = {[f'f{number}' for number in range(1, MOST_KEYS + 1)]}\n",
    ],
)
def test_settings_that_do_not_load_are_left_as_they_are(text: str, tmp_path: Path) -> None:
    home = home_with(tmp_path, text)
    with pytest.raises(FaultyFiles):
        add_forward_key(home, "f9")
    assert home.settings.read_text() == text


def test_a_key_written_below_what_was_put_in_is_no_key_of_its_table(tmp_path: Path) -> None:
    home = home_with(tmp_path, "format = 1\n")
    add_forward_key(home, "f9")
    with home.settings.open("a") as file:
        file.write('theme = "bright"\n')
    found = decode(Settings, read_table(home.settings), file="")
    assert found.theme is ThemeName.BRIGHT
    assert found.keys[Action.FORWARD] == (*USUAL, "f9")


def test_what_no_key_can_be_put_into_is_left_as_it_is_and_told_how(tmp_path: Path) -> None:
    text = '"format" = 1\n"keys" . "help" = ["f1"]\n'
    home = home_with(tmp_path, text)
    with pytest.raises(
        BenchError, match=r'Write at the top: keys.forward = \["space", "enter", "pagedown", "f9"\]'
    ):
        add_forward_key(home, "f9")
    assert home.settings.read_text() == text


def test_a_disk_that_does_not_take_it_is_said_and_nothing_is_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_path: Path, _data: bytes) -> None:
        raise OSError(28, "No space left on device")

    home = home_with(tmp_path, "format = 1\n")
    monkeypatch.setattr("bench.store.settings_file.replace_whole", full)
    with pytest.raises(BenchError, match="cannot be written: no space left on device"):
        add_forward_key(home, "f9")
    assert home.settings.read_text() == "format = 1\n"


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    comment=st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs"))),
    name=st.sampled_from(list(FILES)),
)
def test_whatever_the_comments_say_they_stay(comment: str, name: str, tmp_path: Path) -> None:
    end = "\r\n" if "\r\n" in FILES[name] else "\n"
    text = f"{FILES[name]}{end}# {comment}{end}" if not FILES[name].endswith("[keys]") else FILES[name]
    home = home_with(tmp_path, text)
    had = forward(home)
    add_forward_key(home, "f9")
    assert set(forward(home)) == {*had, "f9"}
    assert comment in home.settings.read_bytes().decode() or FILES[name].endswith("[keys]")


THEMES = {
    **FILES,
    "a theme with a comment": 'format = 1\ntheme = "dark"   # until summer\nunits = "us"\n',
    "a theme in single quotes": "format = 1\n  theme='dark'\n",
    "a quoted key": 'format = 1\n"theme" = "dark"\r\nunits = "us"\r\n',
    "the word theme elsewhere": 'format = 1\n[speech]\nwords = { theme = "theem" }\n',
    "a theme of a table": 'format = 1\n[speech.words]\ntheme = "dark"\n',
    "a theme that is none": 'format = 1\ntheme = 7\nunits = "us"\n',
}


@pytest.mark.parametrize("text", THEMES.values(), ids=THEMES.keys())
def test_a_theme_is_kept_and_everything_else_stays(text: str, tmp_path: Path) -> None:
    home = home_with(tmp_path, text)
    before = read_table(home.settings)
    set_theme(home, ThemeName.BRIGHT)
    assert theme_in(home) is ThemeName.BRIGHT
    assert read_table(home.settings) == {**before, "theme": "bright"}
    set_theme(home, ThemeName.DARK)
    assert read_table(home.settings) == {**before, "theme": "dark"}
    lines, had = home.settings.read_bytes().splitlines(), text.encode().splitlines()
    assert [line for line in had if b"theme" not in line.partition(b"#")[0]] == [
        line for line in lines if b"theme" not in line.partition(b"#")[0]
    ], "no other line is touched"
    assert text.count("#") == home.settings.read_text(encoding="utf-8").count("#")


def test_a_theme_makes_the_file_where_there_is_none_and_the_usual_one_makes_nothing(tmp_path: Path) -> None:
    home = Home(tmp_path / "new")
    set_theme(home, ThemeName.DARK)
    assert not home.settings.exists()
    set_theme(home, ThemeName.BRIGHT)
    assert home.settings.read_text(encoding="utf-8") == 'format = 1\ntheme = "bright"\n'


def test_settings_that_do_not_load_choose_no_theme_and_take_none(tmp_path: Path) -> None:
    text = 'format = 1\ntheme = "bright"\nunits = "yards"\n'
    home = home_with(tmp_path, text)
    assert theme_in(home) is ThemeName.DARK, "the usual settings hold, all of them"
    text = text.replace("bright", "dark")
    home.settings.write_text(text, encoding="utf-8")
    with pytest.raises(BenchError, match="units"):
        set_theme(home, ThemeName.BRIGHT)
    assert home.settings.read_text(encoding="utf-8") == text


@pytest.mark.parametrize("text", ["format = 1\nunits = \n", 'theme = "bright"\n', "", "\x00"])
def test_a_theme_is_put_into_no_file_that_cannot_be_read(text: str, tmp_path: Path) -> None:
    home = home_with(tmp_path, text)
    assert theme_in(home) is ThemeName.DARK
    with pytest.raises(BenchError):
        set_theme(home, ThemeName.BRIGHT)
    assert home.settings.read_text(encoding="utf-8") == text


def test_a_theme_that_no_line_can_be_put_into_says_what_to_write(tmp_path: Path) -> None:
    text = 'theme = """\ndark"""\nformat = 1\n'
    home = home_with(tmp_path, text)
    with pytest.raises(BenchError, match=r'Write at the top: theme = "bright"'):
        set_theme(home, ThemeName.BRIGHT)
    assert home.settings.read_text(encoding="utf-8") == text
