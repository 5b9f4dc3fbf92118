"""The entry: exit codes, the one place where errors are printed, and what start-up does not load."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from bench import __main__ as entry
from bench.cli.distance import Digits
from bench.cli.parser import build_parser
from bench.errors import BenchError, Fault, FaultyFiles
from bench.store.paths import Home

ROOT = Path(__file__).resolve().parent.parent
PYTHON = sys.executable


def run(*argv: str, home: Path, stdin: int = subprocess.DEVNULL) -> subprocess.CompletedProcess[str]:
    """The real program, without a terminal."""
    return subprocess.run(
        [PYTHON, "-m", "bench", *argv],
        cwd=ROOT,
        env={**os.environ, "POURBENCH_HOME": str(home), "HOME": str(home)},
        stdin=stdin,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def verb_raises(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    """Every run of the program raises that."""

    def fail(argv: object) -> int:
        raise error

    monkeypatch.setattr(entry, "_run", fail)


def test_a_problem_of_the_user_is_one_sentence_and_1(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    verb_raises(monkeypatch, BenchError("no mould is called that."))
    assert entry.main([]) == 1
    printed = capsys.readouterr()
    assert (printed.out, printed.err) == ("", "no mould is called that.\n")


def test_every_fault_of_a_file_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    faults = [Fault(key=key, found="nothing", wanted="a length", file="m.toml") for key in ("a", "b")]
    verb_raises(monkeypatch, FaultyFiles(faults))
    assert entry.main([]) == 1
    assert capsys.readouterr().err.splitlines() == [fault.sentence() for fault in faults]


def test_a_defect_is_a_calm_sentence_and_its_traceback_is_a_file(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    verb_raises(monkeypatch, ZeroDivisionError("of our own making"))
    assert entry.main(["--home", str(tmp_path)]) == 3
    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert len(said) < 400
    (written,) = tmp_path.glob("pourbench-defect-*.txt")
    assert str(written) in said
    assert "ZeroDivisionError: of our own making" in written.read_text(encoding="utf-8")


def test_a_defect_makes_no_folder_for_the_user(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    verb_raises(monkeypatch, ZeroDivisionError())
    assert entry.main(["--home", str(tmp_path / "not there")]) == 3
    assert str(tmp_path / "pourbench-defect-") in capsys.readouterr().err
    assert not (tmp_path / "not there").exists()


def test_an_interrupt_is_quiet(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    verb_raises(monkeypatch, KeyboardInterrupt())
    assert entry.main([]) == 130
    assert capsys.readouterr() == ("", "")


def test_a_reader_that_has_seen_enough_is_no_error(tmp_path: Path) -> None:
    read, write = os.pipe()
    os.close(read)
    process = subprocess.run(
        [PYTHON, "-m", "bench", "check"],
        cwd=ROOT,
        env={**os.environ, "POURBENCH_HOME": str(tmp_path)},
        stdout=write,
        stderr=subprocess.PIPE,
        text=True,
        timeout=120,
        check=False,
    )
    os.close(write)
    assert (process.returncode, process.stderr) == (0, "")


@pytest.mark.parametrize("argv", [["--nonsense"], ["nonsense"], ["pour"], ["log", "show"], ["--hom", "x"]])
def test_wrong_usage_is_2_and_says_the_usage(argv: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        entry.main(argv)
    assert stopped.value.code == 2
    assert capsys.readouterr().err.startswith("usage: pourbench")


def test_the_screen_is_not_opened_without_a_terminal(tmp_path: Path) -> None:
    for argv in ([], ["pour", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "4"]):
        process = run(*argv, home=tmp_path)
        assert process.returncode == 2
        assert process.stderr.count("\n") == 1
        assert "terminal" in process.stderr


def test_a_dumb_terminal_is_not_written_to(monkeypatch: pytest.MonkeyPatch) -> None:
    for stream in (sys.stdin, sys.stderr):
        monkeypatch.setattr(stream, "isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm-256color")
    assert entry.unfit_terminal() == ""
    monkeypatch.setenv("TERM", "dumb")
    assert "TERM=dumb" in entry.unfit_terminal()


def test_the_version_is_that_of_the_package(capsys: pytest.CaptureFixture[str]) -> None:
    assert entry.main(["--version"]) == 0
    assert re.fullmatch(r"pourbench \d+\.\d+\.\d+\n", capsys.readouterr().out)


def test_an_unknown_name_is_said_with_the_nearest_right_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    argv = ["--home", str(tmp_path), "plan", "ember-under-pete", "--mould", "ribbon-leech-4", "--count", "4"]
    assert entry.main(argv) == 1
    assert 'did you mean "ember-under-peat"?' in capsys.readouterr().err


def test_a_named_profile_that_does_not_load_says_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "profiles" / "moulds" / "shed-mould.toml"
    broken.parent.mkdir(parents=True)
    broken.write_text("format = 2\n", encoding="utf-8")
    argv = ["--home", str(tmp_path), "plan", "peat-plain", "--mould", "shed-mould", "--count", "4"]
    assert entry.main(argv) == 1
    assert str(broken) in capsys.readouterr().err


LOADED = """
import sys
from bench.__main__ import main
try:
    main(sys.argv[1:])
except SystemExit:
    pass
print("LOADED", *sorted({name.split(".")[0] for name in sys.modules}), file=sys.stderr)
"""


@pytest.mark.parametrize(
    ("argv", "never"),
    [
        (["--help"], {"textual", "rich", "pint", "cattrs", "tomllib", "tomli_w", "asyncio"}),
        (["pour", "--help"], {"textual", "rich", "pint", "cattrs", "tomllib", "tomli_w", "asyncio"}),
        (["log"], {"textual", "rich", "pint", "asyncio"}),
        (["check"], {"textual", "rich", "asyncio"}),
        (["plan", "peat-plain", "--mould", "long-reed-6", "--count", "4"], {"textual", "rich", "pint", "asyncio"}),
        (
            ["look", "ember-under-peat", "--mould", "ribbon-leech-4"],
            {"textual", "rich", "pint", "numpy", "asyncio"},
        ),
        (["work", "air", "--ach", "6"], {"textual", "rich", "pint", "cattrs", "asyncio"}),
    ],
)
def test_verbs_load_no_more_than_they_need(argv: list[str], never: set[str], tmp_path: Path) -> None:
    process = subprocess.run(
        [PYTHON, "-c", LOADED, *argv],
        cwd=ROOT,
        env={**os.environ, "POURBENCH_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    line = next(line for line in process.stderr.splitlines() if line.startswith("LOADED"))
    assert not never & set(line.split())


def test_a_verb_alone_reads_as_in_the_whole_command_line(tmp_path: Path) -> None:
    def told(argv: list[str], given: list[str]) -> str:
        parser = build_parser(lambda: Home(root=tmp_path), draw=lambda columns, rows: Digits(), argv=given)
        return str(vars(parser.parse_args(argv)) | {"run": None, "request": None})

    for argv in (["look", "a", "--mould", "m"], ["--home", "look", "plan", "a", "--mould", "m", "--count", "1"]):
        assert told(argv, argv) == told(argv, [])


def test_a_verb_that_is_none_is_told_all_of_them(tmp_path: Path) -> None:
    process = run("lok", "--mould", "plan", home=tmp_path)
    assert process.returncode == 2
    assert all(f"'{verb}'" in process.stderr for verb in ("pour", "look", "distance"))
