"""Keys put into the user's settings as text, so that everything else in the file stays as it was written.

Writing the table anew would lose comments and order. So a key is put in at places where it could belong, and the
first text that reads as exactly the old settings with that key changed is taken.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from bench.errors import BenchError, FaultyFiles
from bench.model.key_names import USUAL_KEYS, Action, keys_for, why_not
from bench.model.settings import Settings, ThemeName
from bench.store.atomic import replace_whole
from bench.store.files import FORMAT, LARGEST_TABLE, is_there, parse_table, read_bytes
from bench.store.paths import Home

_THEME = re.compile(
    r"""^([ \t]*(?:theme|"theme"|'theme')[ \t]*=[ \t]*)[^\s#][^\r\n#]*?(?=[ \t]*(?:#[^\r\n]*)?\r?$)""",
    re.MULTILINE,
)
_FORMAT = re.compile(r"^\ufeff?[ \t]*format[ \t]*=[^\r\n]*(?:\r?\n|$)", re.MULTILINE)
_LIST = re.compile(r"^[ \t]*(?:keys[ \t]*\.[ \t]*)?forward[ \t]*=[ \t]*\[", re.MULTILINE)
_INLINE_LIST = re.compile(r"\bforward[ \t]*=[ \t]*\[")
_HEADER = re.compile(r"^[ \t]*\[[ \t]*keys[ \t]*\][^\r\n]*(?:\r?\n|$)", re.MULTILINE)
_INLINE_TABLE = re.compile(r"^[ \t]*keys[ \t]*=[ \t]*\{", re.MULTILINE)
_DOTTED = re.compile(r"^[ \t]*keys[ \t]*\.", re.MULTILINE)


def add_forward_key(home: Home, key: str) -> None:
    """Have ``key`` go on as well, from the next session.

    Nothing changes where it does already. Raises BenchError where another action has the key, where the settings
    do not load, or where the disk does not take them; the file is then as it was.
    """
    path = home.settings
    text = _text_of(path)
    table = _table_in(text, path)
    keys = _loaded(table, path).keys
    if key in keys_for(keys)[Action.FORWARD]:
        return
    refused = why_not(key, Action.FORWARD, keys_for(keys))
    if refused is not None:
        raise BenchError(f"{refused[0]}. Wanted: {refused[1]}.")
    written = keys.get(Action.FORWARD, USUAL_KEYS[Action.FORWARD])
    wanted = {**table, "keys": {**table.get("keys", {}), "forward": [*written, key]}}
    _loaded(wanted, path)
    by_hand = f"Write at the top: keys.forward = {json.dumps([*written, key], ensure_ascii=False)}"
    _replace(path, _reading_as(wanted, _candidates(text, (*written, key)), path, by_hand))


def theme_in(home: Home) -> ThemeName:
    """The theme that settings ask for; the usual one where they say none, or where they do not load.

    The first frame waits for it, so a file that asks for the usual theme is not read any further.
    """
    if not is_there(home.settings):
        return ThemeName.DARK
    try:
        table = _table_in(_text_of(home.settings), home.settings)
        if table.get("theme", ThemeName.DARK.value) == ThemeName.DARK.value:
            return ThemeName.DARK
        return _loaded(table, home.settings).theme
    except BenchError:
        return ThemeName.DARK


def _loaded(table: dict[str, Any], path: Path) -> Settings:
    from bench.store.decode import decode  # not before the first frame, which rarely needs it

    return decode(Settings, table, file=str(path))


def set_theme(home: Home, theme: ThemeName) -> None:
    """Have every start begin with ``theme``.

    Nothing changes where it does already. Raises BenchError where the settings would not load with it, as none of
    them holds then, or where the disk does not take it; the file is then as it was.
    """
    path = home.settings
    text = _text_of(path)
    table = _table_in(text, path)
    if table.get("theme", ThemeName.DARK.value) == theme.value:
        return
    wanted, by_hand = {**table, "theme": theme.value}, f'Write at the top: theme = "{theme.value}"'
    _loaded(wanted, path)
    _replace(path, _reading_as(wanted, _with_theme(text, theme), path, by_hand))


def _with_theme(text: str, theme: ThemeName) -> Iterator[str]:
    """The text with the theme in the place of another, or under its format; some of these are wrong."""
    for present in _THEME.finditer(text):
        yield f'{text[: present.start()]}{present[1]}"{theme.value}"{text[present.end() :]}'
    yield from _under_format(text, f'theme = "{theme.value}"')


def _under_format(text: str, line: str) -> Iterator[str]:
    end = "\r\n" if "\r\n" in text else "\n"
    for top in _FORMAT.finditer(text):
        above = top[0] if top[0].endswith("\n") else top[0] + end
        yield f"{text[: top.start()]}{above}{line}{end}{text[top.end() :]}"


def _text_of(path: Path) -> str:
    if not is_there(path):
        return f"format = {FORMAT}\n"
    try:
        # A mark of the byte order stays where it is: decoded so, it is a character like others.
        return read_bytes(path, most=LARGEST_TABLE).decode("utf-8")
    except UnicodeDecodeError:
        raise BenchError(f"{path} is not UTF-8 text: nothing is put into it.") from None


def _table_in(text: str, path: Path) -> dict[str, Any]:
    return parse_table(text.encode(), file=str(path))


def _reading_as(wanted: dict[str, Any], candidates: Iterator[str], path: Path, by_hand: str) -> str:
    """The first text that says what is wanted and nothing else. Raises BenchError, ending in what to do
    ``by_hand``, where none does."""
    for candidate in candidates:
        try:
            if _table_in(candidate, path) == wanted:
                return candidate
        except FaultyFiles:
            continue
    raise BenchError(f"{path} is written in a way that no key can be put into. {by_hand}")


def _candidates(text: str, keys: tuple[str, ...]) -> Iterator[str]:
    """The text with the key put in wherever it could belong; most of these are wrong."""
    end = "\r\n" if "\r\n" in text else "\n"
    whole = f"forward = {json.dumps(list(keys), ensure_ascii=False)}"
    new = json.dumps(keys[-1], ensure_ascii=False)
    for begins in (*_LIST.finditer(text), *_INLINE_LIST.finditer(text)):
        for place in _brackets_after(text, begins.end()):
            for between in (", ", " ", ""):
                yield f"{text[:place]}{between}{new}{text[place:]}"
    for header in _HEADER.finditer(text):
        line = header[0] if header[0].endswith("\n") else header[0] + end
        yield f"{text[: header.start()]}{line}{whole}{end}{text[header.end() :]}"
    for table in _INLINE_TABLE.finditer(text):
        for between in (", ", ""):
            yield f"{text[: table.end()]} {whole}{between}{text[table.end() :]}"
    for dotted in _DOTTED.finditer(text):
        yield f"{text[: dotted.start()]}keys.{whole}{end}{text[dotted.start() :]}"
    # At the top, not as a table at the end: a key written below a table later would belong to that table.
    yield from _under_format(text, f"keys.{whole}")


def _brackets_after(text: str, place: int) -> Iterator[int]:
    """Where the list could end: the first few closing brackets, for a comment or a key may hold one too."""
    for _ in range(20):
        place = text.find("]", place)
        if place < 0:
            return
        yield place
        place += 1


def _replace(path: Path, text: str) -> None:
    try:
        replace_whole(path, text.encode())
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise BenchError(f"{path} cannot be written: {why}") from error
