"""Files that nobody would think of: any table, any text, and sound files with anything put in any place."""

from __future__ import annotations

import copy
import tomllib
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from bench.model.plastic import Plastic
from bench.model.recipe import Recipe
from bench.store.journal import END_OF_HEADER
from bench.store.keys import keys
from tests.faults.corpus import READ, Sample, load_library_once, samples
from tests.faults.tally import DONE
from tests.faults.telling import told

FEW, MANY = 40, 4_000
"""Files of each sort of generation: in every run, and in a long one."""

_WORDS = (
    "name",
    "title",
    "format",
    "summary",
    "job",
    "event",
    "sources",
    "caution",
    "x",
    "",
    "a.b",
    "\n",
    "\u202e",
)
_KEYS = st.sampled_from(sorted({*keys(Recipe).values(), *keys(Plastic).values(), *_WORDS})) | st.text(max_size=8)
_NUMBERS = st.integers(-(2**70), 2**70) | st.floats() | st.sampled_from([0, 1, -1, 10**400, 1e308])
_TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=40) | st.sampled_from(
    ["1 g", "nan g", "-5 mm", "1e999 degC", "9" * 500 + " mm", "3 parsec", "../../x", "\x00", "\x1b[2J", "core"]
)
_ZONES = st.sampled_from([None, UTC, timezone(timedelta(hours=14)), timezone(timedelta(hours=-14))])
_MOMENTS = st.datetimes(timezones=_ZONES) | st.dates() | st.times()
_LEAVES = st.booleans() | _NUMBERS | _TEXTS | _MOMENTS | st.just(datetime(1, 1, 1, tzinfo=UTC))
_VALUES = st.recursive(
    _LEAVES, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_KEYS, inner, max_size=4), max_leaves=12
)
_TABLES = st.dictionaries(_KEYS, _VALUES, max_size=6)
_TOKENS = st.sampled_from(
    [
        *"[]{}=.,#\"'\\\n\t -+_:",
        *('"""', "'''", "[[", "]]", "name", "format = 1\n", "1", "nan", "0x", "1e9", "true", "2026-01-31"),
        *("T07:32:00Z", "\\u0000", "\\U00110000", "\x00", "\x7f", "\u2028", "\ufeff", "é", "= 1\n"),
    ]
)
_SORTS = st.sampled_from(sorted(READ))


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> list[Sample]:
    """Sound files of every sort, one of each."""
    load_library_once()
    return list(
        {
            sample.data: sample for sample in samples(tmp_path_factory.mktemp("corpus")) if _is_sound(sample)
        }.values()
    )


def _is_sound(sample: Sample) -> bool:
    return b"# expect" not in sample.data


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where they are written, one over the other."""
    return tmp_path_factory.mktemp("generated")


def generated(number: int) -> settings:
    """Settings for so many files; nothing is remembered from one run to the next, and nothing is explained: that
    traces every line, which would be timed with it."""
    checks = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture, HealthCheck.data_too_large]
    return settings(
        max_examples=number,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.explicit, Phase.generate, Phase.shrink],
        suppress_health_check=checks,
    )


def any_table(number: int, folder: Path) -> None:
    """Any table at all, under the right number of its format."""

    @generated(number)
    @given(sort=_SORTS, table=_TABLES)
    def run(sort: str, table: dict[str, Any]) -> None:
        told(sort, tomli_w.dumps({"format": 1, **table}).encode("utf-8", "replace"), folder / f"{sort}.toml")
        DONE["generated tables"] += 1

    run()


def any_text(number: int, folder: Path) -> None:
    """Any row of what TOML is made of."""

    @generated(number)
    @given(sort=_SORTS, tokens=st.lists(_TOKENS, max_size=30))
    def run(sort: str, tokens: list[str]) -> None:
        told(sort, ("format = 1\n" + "".join(tokens)).encode(), folder / f"{sort}.toml")
        DONE["generated texts"] += 1

    run()


def anything_anywhere(number: int, sound: list[Sample], folder: Path) -> None:
    """A sound file in which one thing is another, is missing or is new.

    A failure names the file by its place: its whole text would make the test library warn of the length, and the
    warning, an error here, would stand in the failure's place.
    """

    @generated(number)
    @given(data=st.data(), place=st.integers(0, len(sound) - 1))
    def run(data: st.DataObject, place: int) -> None:
        sample = sound[place]
        head, ending, events = sample.data.partition(END_OF_HEADER)
        table = tomllib.loads(head.decode())
        put_anywhere(data, table)
        told(
            sample.sort,
            tomli_w.dumps(table).encode("utf-8", "replace") + ending + events,
            folder / f"{sample.sort}.toml",
        )
        DONE["sound files with anything anywhere"] += 1

    run()


def put_anywhere(data: st.DataObject, table: dict[str, Any]) -> None:
    """Change one place of the table, however deep."""
    places = [place for place in containers(table) if len(place)]
    place = data.draw(st.sampled_from(places))
    key: Any = data.draw(st.sampled_from(sorted(place) if isinstance(place, dict) else list(range(len(place)))))
    what = data.draw(st.sampled_from(["another", "gone", "twice", "new"]))
    if what == "gone":
        del place[key]
    elif what == "twice" and isinstance(place, list):
        place.append(copy.deepcopy(place[key]))
    elif what == "new" and isinstance(place, dict):
        place[data.draw(_KEYS)] = data.draw(_VALUES)
    else:
        place[key] = data.draw(_VALUES)


def containers(value: Any) -> list[Any]:
    """Every table and list in it, itself the first."""
    if not isinstance(value, dict | list):
        return []
    inner = value.values() if isinstance(value, dict) else value
    return [value, *(found for one in inner for found in containers(one))]


def test_whatever_is_generated_is_told_in_plain_lines(sound: list[Sample], folder: Path) -> None:
    any_table(FEW, folder)
    any_text(FEW, folder)
    anything_anywhere(FEW, sound, folder)


@pytest.mark.nightly
def test_thousands_of_any_table(folder: Path) -> None:
    any_table(MANY, folder)


@pytest.mark.nightly
def test_thousands_of_any_text(folder: Path) -> None:
    any_text(MANY, folder)


@pytest.mark.nightly
def test_thousands_of_sound_files_with_anything_anywhere(sound: list[Sample], folder: Path) -> None:
    anything_anywhere(2 * MANY, sound, folder)
