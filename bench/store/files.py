"""Reading any TOML file safely: whatever lies there, the answer is a table or faults in plain words.

Bounds come first. Python's parser takes seconds over one key of twenty thousand parts or a million empty tables
and fails in its own ways on deep nesting, so size, line length and parts of a key are looked at before it sees the
text.
"""

from __future__ import annotations

import re
import stat
import tomllib
from pathlib import Path
from typing import Any

from bench.errors import Fault, FaultyFiles
from bench.store.keys import found

FORMAT = 1
"""What every file says at its top; another number is another version's file."""

LARGEST_TABLE = 500_000
"""Bytes of a file that people write: a hundred times a long one, and little enough to be refused in no time."""

LARGEST_FILE = 5_000_000
"""Bytes of a session. One of a whole day is a twentieth of it."""

LONGEST_LINE = 16_384
"""Characters of a line that people write. The longest text allowed, every character escaped, fits."""

MOST_KEY_PARTS = 12

_PART = r"""(?:[A-Za-z0-9_-]++|"(?:[^"\\\n]|\\.)*+"|'[^'\n]*+')"""
_WORDS = re.compile(
    r'''"""[^"\\]*+(?:(?:\\.|"(?!""))[^"\\]*+)*+(?:"{3,5}|\Z)'''  # texts of several lines,
    r"""|'''[^']*+(?:'(?!'')[^']*+)*+(?:'{3,5}|\Z)"""  # as they are,
    r"|#[^\n]*+"  # and comments may hold any number of dots
    rf"|(?P<key>{_PART}(?:[ \t]*\.[ \t]*{_PART}){{{MOST_KEY_PARTS}}})"
    rf"|{_PART}",
    re.DOTALL,
)
_WHERE = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), column \d+|end of document)\)", re.DOTALL)
_EXAMPLES = {
    "plastics": 'scorch = "190 degC"',
    "moulds": "cavities = 6",
    "colourants": 'drop = "0.040 g"',
    "recipes": 'plastic = "quillmere-soft"',
    "stations": 'spares = "5 %"',
    "cautions.toml": 'group = "air"',
    "settings.toml": 'units = "us"',
}
"""A line of each kind of file, by its folder or its own name."""

_LONGEST_QUOTE = 40
"""Characters of a line that is quoted back."""


def is_there(path: Path) -> bool:
    """Whether something stands there. Where that cannot be told, yes: reading it then says why."""
    try:
        return path.exists()
    except OSError:
        return True


def is_folder(path: Path) -> bool:
    """Whether a folder stands there, as far as can be told."""
    try:
        return path.is_dir()
    except OSError:
        return False


def read_table(path: Path) -> dict[str, Any]:
    """The table in the file, without its ``format``. Raises FaultyFiles with what is wrong with the file."""
    return parse_table(read_bytes(path, most=LARGEST_TABLE), file=str(path))


def read_bytes(path: Path, *, most: int = LARGEST_FILE) -> bytes:
    """The bytes of a regular file of at most so many. Raises FaultyFiles for anything else."""
    try:
        status = path.stat()
        refused = _not_a_file(status.st_mode)
        if refused:
            raise FaultyFiles([Fault(key="", found=refused, wanted="a file", file=str(path))])
        if status.st_size > most:
            raise _too_large(path, status.st_size, most)
        with path.open("rb") as file:
            data = file.read(most + 1)
    except OSError as error:
        raise FaultyFiles([_unreadable(path, error)]) from error
    if len(data) > most:
        raise _too_large(path, len(data), most)
    return data


def _not_a_file(mode: int) -> str:
    if stat.S_ISDIR(mode):
        return "a folder"
    return "" if stat.S_ISREG(mode) else "something that is not a file"


def _too_large(path: Path, size: int, most: int) -> FaultyFiles:
    megabytes = f"{most / 1e6:g} MB"
    return FaultyFiles(
        [Fault(key="", found=f"{size / 1e6:.1f} MB", wanted=f"at most {megabytes}", file=str(path))]
    )


def _unreadable(path: Path, error: OSError) -> Fault:
    if isinstance(error, FileNotFoundError):
        return Fault(key="", found="nothing", wanted="a file", file=str(path))
    why = (error.strerror or "unknown error").lower()
    return Fault(key="", found=f"a file that cannot be read ({why})", wanted="a file", file=str(path))


def parse_table(data: bytes, *, file: str) -> dict[str, Any]:
    """The table that the bytes say, without its ``format``. Raises FaultyFiles with what is wrong with them."""
    text = text_of(data, file=file)
    _refuse_a_long_line(text, file)
    table = parse_text(text, file=file)
    stated = table.pop("format", None)
    if stated != FORMAT or isinstance(stated, bool):
        raise FaultyFiles(
            [Fault(key="format", found=found(stated), wanted=f"format = {FORMAT} at the top", file=file)]
        )
    return table


def text_of(data: bytes, *, file: str) -> str:
    """The bytes as text. Raises FaultyFiles where they are not UTF-8."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _fault_in_line(line, "a byte that is not UTF-8", "UTF-8 text", file) from error


def parse_text(text: str, *, file: str) -> dict[str, Any]:
    """The table that the text says, whatever its ``format``. Raises FaultyFiles where it is no TOML."""
    _refuse_a_long_key(text, file)
    try:
        table = tomllib.loads(text)
    except RecursionError as error:
        raise FaultyFiles(
            [Fault(key="", found="brackets nested too deeply", wanted=_example(file), file=file)]
        ) from error
    except tomllib.TOMLDecodeError as error:
        raise _syntax_fault(str(error), text, file) from error
    except ValueError as error:
        # Not of the grammar: a number with more digits than Python reads, a date that no calendar has.
        raise FaultyFiles(
            [Fault(key="", found="a number or date out of all bounds", wanted=_example(file), file=file)]
        ) from error
    if not table:
        raise FaultyFiles(
            [Fault(key="", found="an empty file", wanted=f"format = {FORMAT} at the top", file=file)]
        )
    return table


def _refuse_a_long_line(text: str, file: str) -> None:
    longest = max(text.split("\n"), key=len)
    if len(longest) > LONGEST_LINE:
        line = text.count("\n", 0, text.index(longest)) + 1
        raise _fault_in_line(line, f"{len(longest)} characters", f"at most {LONGEST_LINE} in a line", file)


def _refuse_a_long_key(text: str, file: str) -> None:
    if all(line.count(".") < MOST_KEY_PARTS for line in text.split("\n")):
        return
    long_key = next((word for word in _WORDS.finditer(text) if word["key"]), None)
    if long_key is not None:
        line = text.count("\n", 0, long_key.start()) + 1
        raise _fault_in_line(line, f"a key of more than {MOST_KEY_PARTS} parts", "a shorter one", file)


def _syntax_fault(message: str, text: str, file: str) -> FaultyFiles:
    match = _WHERE.fullmatch(message)
    what = match["what"] if match else message
    line = int(match["line"]) if match and match["line"] else text.rstrip().count("\n") + 1
    why = _printable(what[:1].lower() + what[1:80])
    stands = _printable(text.split("\n")[line - 1].strip())
    quoted = f"{stands[:_LONGEST_QUOTE]}…" if len(stands) > _LONGEST_QUOTE else stands
    found = f"‘{quoted}’, which is not TOML ({why})" if quoted else f"text that is not TOML ({why})"
    return _fault_in_line(line, found, _example(file), file)


def _printable(text: str) -> str:
    return "".join(c for c in text if c.isprintable())


def _example(file: str) -> str:
    """What a line of such a file looks like."""
    path = Path(file)
    own = _EXAMPLES.get(path.name, _EXAMPLES.get(path.parent.name))
    if own is not None:
        return f"TOML such as {own}"
    if path.parent.name in ("sessions", "rehearsals"):
        return "the line as the program wrote it"
    return 'TOML such as title = "Ember"'


def _fault_in_line(line: int, found: str, wanted: str, file: str) -> FaultyFiles:
    return FaultyFiles([Fault(key=f"line {line}", found=found, wanted=wanted, file=file)])
