"""Tables to records and back: nothing is coerced, nothing is lost, every fault is named."""

from __future__ import annotations

import string
import subprocess
import sys
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import FaultyFiles
from bench.model.recipe import Build, Dose, Part, PartRecipe, Recipe, Tail
from bench.store.decode import decode, encode, restore
from bench.store.keys import keys
from bench.units import Celsius, Grams, Millilitres, Millimetres, Percent, Seconds


class Mood(StrEnum):
    CALM = "calm"
    VERY_CALM = "very calm"


@dataclass(frozen=True, kw_only=True, slots=True)
class Inner:
    rod_mm: Millimetres
    count: int
    spare_pct: Percent | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Outer:
    """One field of every sort that records have."""

    title: str
    mood: Mood
    factor: float
    good: bool
    at: datetime
    band_c: tuple[Celsius, Celsius]
    times_s: tuple[Seconds, ...]
    inners: tuple[Inner, ...]
    by_mood: Mapping[Mood, Inner]
    words: Mapping[str, str]
    whole_ml: Millilitres
    whole_g: Grams
    perhaps: float | None
    inner: Inner | None = None


def _outer(**changes: Any) -> Outer:
    given: dict[str, Any] = {
        "title": "x",
        "mood": Mood.VERY_CALM,
        "factor": 0.1,
        "good": True,
        "at": datetime(2026, 1, 31, 9, 5, 1, 250, tzinfo=UTC),
        "band_c": (165.0, 176.66666666666669),
        "times_s": (),
        "inners": (Inner(rod_mm=4.0, count=2),),
        "by_mood": {Mood.CALM: Inner(rod_mm=3.2, count=1, spare_pct=2.5)},
        "words": {"rods.diameter": "starting value"},
        "whole_ml": 8.0,
        "whole_g": 8.24,
        "perhaps": None,
    }
    return Outer(**{**given, **changes})


def _table(**changes: Any) -> dict[str, Any]:
    return {**encode(_outer()), **changes}


def _sentences(record_type: type, table: Mapping[str, Any]) -> list[str]:
    with pytest.raises(FaultyFiles) as caught:
        decode(record_type, table, file="x.toml")
    return str(caught.value).splitlines()


def test_keys_drop_the_unit_and_nothing_else() -> None:
    assert keys(Inner) == {"rod_mm": "rod", "count": "count", "spare_pct": "spare"}


def test_fields_that_would_share_a_key_keep_their_full_names() -> None:
    assert keys(Outer)["whole_ml"] == "whole_ml"
    assert keys(Outer)["whole_g"] == "whole_g"


def test_tables_hold_quantities_as_text_with_units_and_no_none() -> None:
    table = encode(_outer())
    assert table["band"] == ["165.0 degC", "176.66666666666669 degC"]
    assert table["by_mood"] == {"calm": {"rod": "3.2 mm", "count": 1, "spare": "2.5 %"}}
    assert "perhaps" not in table
    assert "inner" not in table


_NUMBERS = st.floats(min_value=0.0, max_value=1900.0)
_INNERS = st.builds(
    Inner,
    rod_mm=st.floats(min_value=1e-6, max_value=1e6),
    count=st.integers(-5, 10**9),
    spare_pct=st.none() | st.floats(min_value=0, max_value=100),
)
_OUTERS = st.builds(
    Outer,
    title=st.text(max_size=40),
    mood=st.sampled_from(Mood),
    factor=st.floats(allow_nan=False, allow_infinity=False),
    good=st.booleans(),
    at=st.datetimes(timezones=st.just(UTC)),
    band_c=st.tuples(_NUMBERS, _NUMBERS),
    times_s=st.lists(_NUMBERS, max_size=3).map(tuple),
    inners=st.lists(_INNERS, max_size=3).map(tuple),
    by_mood=st.dictionaries(st.sampled_from(Mood), _INNERS),
    words=st.dictionaries(st.text(string.ascii_letters + ' ."é', max_size=8), st.text(max_size=8), max_size=3),
    whole_ml=_NUMBERS,
    whole_g=_NUMBERS,
    perhaps=st.none() | _NUMBERS,
    inner=st.none() | _INNERS,
)


@settings(deadline=None)
@given(_OUTERS)
def test_what_is_saved_comes_back_exactly(record: Outer) -> None:
    text = tomli_w.dumps(encode(record))
    assert restore(Outer, tomllib.loads(text), file="x") == record


def test_a_saved_amount_may_be_nought_but_a_makers_may_not() -> None:
    table = _table(whole_g="0.0 g")
    assert restore(Outer, table, file="x.toml").whole_g == 0
    assert _sentences(Outer, table) == ['x.toml: whole_g: found "0.0 g", wanted a mass of more than 0 g.']


def test_a_number_that_files_cannot_hold_is_a_defect_not_a_silent_loss() -> None:
    with pytest.raises(ValueError, match="inf s cannot be written"):
        encode(_outer(times_s=(float("inf"),)))


TEMPERATURE = 'a temperature such as "170 degC"'
MOODS = 'one of "calm", "very calm"'
MOMENT = "a date and time with its offset from UTC"
NO_OFFSET = datetime(2026, 1, 31, tzinfo=UTC).replace(tzinfo=None)
HUGE = 16**9000

REFUSED: Mapping[str, tuple[str, object, str]] = {
    "number for text": ("title", 3, "title: found the number 3, wanted text in quotes."),
    "escape": ("title", "a\x1b[2J", "title: found the hidden character U+001B, wanted text that can be seen."),
    "long text": ("title", "x" * 2001, "title: found 2001 characters, wanted at most 2000."),
    "near word": ("mood", "very clam", f'mood: found "very clam", wanted {MOODS}; did you mean "very calm"?'),
    "list for word": ("mood", ["calm"], f"mood: found a list of 1, wanted {MOODS}."),
    "text for number": ("factor", "0.1", 'factor: found "0.1", wanted a number.'),
    "truth for number": ("factor", True, "factor: found true, wanted a number."),
    "not a number": ("factor", float("nan"), "factor: found the number nan, wanted a finite number."),
    "too large": ("factor", 10**400, f"factor: found the number {10**39}…, wanted a finite number."),
    "huge": ("factor", HUGE, "factor: found the number with too many digits, wanted a finite number."),
    "number for truth": ("good", 1, "good: found the number 1, wanted true or false."),
    "text for date": ("at", "2026-01-31", f'at: found "2026-01-31", wanted {MOMENT}.'),
    "date without offset": ("at", NO_OFFSET, f"at: found the date 2026-01-31T00:00:00, wanted {MOMENT}."),
    "one for two": ("band", "165 degC", f'band: found "165 degC", wanted a list of 2, each {TEMPERATURE}.'),
    "half a pair": ("band", ["165 degC"], f"band: found a list of 1, wanted a list of 2, each {TEMPERATURE}."),
    "bare number in a pair": (
        "band",
        ["165 degC", 175],
        f'the second of band: found the bare number 175, wanted {TEMPERATURE}; did you mean "175 degC"?',
    ),
    "bare number as text": (
        "whole_ml",
        "8",
        'whole_ml: found the bare number "8", wanted a volume such as "8 ml", with its unit; did you mean "8 ml"?',
    ),
    "huge bare number": (
        "whole_g",
        HUGE,
        'whole_g: found the bare number with too many digits, wanted a mass such as "12 g".',
    ),
    "other dimension": (
        "times",
        ["3 g"],
        'the first of times: found "3 g", a mass, wanted a time such as "90 s".',
    ),
    "below the bound": ("times", ["-1 s"], 'the first of times: found "-1 s", wanted a time of at least 0 s.'),
    "truth for quantity": ("whole_ml", False, 'whole_ml: found false, wanted a volume such as "8 ml".'),
    "number for table": ("inner", 3, "inner: found the number 3, wanted a table."),
    "missing in a list": (
        "inners",
        [{"rod": "4 mm"}],
        "count of the first of inners: found nothing, wanted a whole number.",
    ),
    "plain for whole": (
        "inners",
        [{"rod": "4 mm", "count": 2.0}],
        "count of the first of inners: found the number 2.0, wanted a whole number.",
    ),
    "unknown word as key": (
        "by_mood",
        {"clam": {"rod": "4 mm", "count": 1}},
        f'by_mood.clam: found an unknown key, wanted {MOODS}; did you mean "calm"?',
    ),
    "number in a table of words": ("words", {"a.b": 3}, 'words."a.b": found the number 3, wanted text in quotes.'),
    "unknown key": (
        "inner",
        {"rod": "4 mm", "count": 1, "conut": 2},
        'inner.conut: found an unknown key, wanted one of count, rod, spare; did you mean "count"?',
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_not_right_is_refused_with_what_would_be(case: str) -> None:
    key, value, sentence = REFUSED[case]
    assert _sentences(Outer, _table(**{key: value})) == [f"x.toml: {sentence}"]


def test_a_whole_number_is_fine_where_a_plain_number_is_wanted() -> None:
    assert decode(Outer, _table(factor=3), file="x").factor == 3.0


def test_every_fault_is_reported_not_only_the_first() -> None:
    table = _table(tilte="x", mood="clam", band=["3 g", 4], inners=[{"rod": "4 mm", "count": "2"}])
    del table["title"]
    assert [line.split(": ")[1] for line in _sentences(Outer, table)] == [
        "title",
        "mood",
        "the first of band",
        "the second of band",
        "count of the first of inners",
        "tilte",
    ]


RECIPE = Recipe(
    name="ember",
    title="Ember",
    build=Build.CORE,
    plastic="soft",
    parts={
        Part.SHELL: PartRecipe(doses=(Dose(colourant="peat", load_pct=0.3),)),
        Part.CORE: PartRecipe(margin_pct=10.0),
    },
    tail=Tail.CUT,
    sources={"parts.shell.margin": "starting value", "tail": "measured at this bench"},
)


def test_a_recipe_survives_its_file() -> None:
    assert decode(Recipe, tomllib.loads(tomli_w.dumps(encode(RECIPE))), file="x") == RECIPE


def test_what_values_say_about_each_other_is_checked_too() -> None:
    table = {**encode(RECIPE), "build": "plain", "parts": {"body": {}}, "sources": {}}
    assert _sentences(Recipe, table) == [
        'x.toml: tail: found "cut", wanted "kept": only core work cuts the shell\'s tail.'
    ]


@pytest.mark.parametrize(
    "name", ["../ember", "ember/peat", "", "ember peat", "-ember", "x" * 61, "émber", "ember\n"]
)
def test_a_name_is_a_word_and_nothing_else(name: str) -> None:
    (sentence,) = _sentences(Recipe, {**encode(RECIPE), "name": name})
    assert sentence.startswith("x.toml: name: found ")
    assert sentence.endswith(', wanted letters, digits and "-", at most 60.')


def test_a_missing_key_is_told_once_whatever_speaks_of_its_source() -> None:
    table = {**encode(RECIPE), "sources": {"plastic": "starting value", "parts.shell.margin": "starting value"}}
    del table["plastic"]
    assert _sentences(Recipe, table) == ["x.toml: plastic: found nothing, wanted text in quotes."]
    del table["parts"]
    assert [line.split(": ")[1] for line in _sentences(Recipe, table)] == ["plastic", "parts"]


def test_a_source_belongs_to_a_key_of_its_file() -> None:
    table = {**encode(RECIPE), "sources": {"tial": "starting value", "tail": ""}}
    assert _sentences(Recipe, table) == [
        "x.toml: sources.tial: found a source for a key that is not in this file, "
        'wanted the path of a key that is; did you mean "tail"?',
        "x.toml: sources.tail: found empty text, wanted where the value comes from.",
    ]


def test_a_dotted_source_needs_no_quotes() -> None:
    table = {**encode(RECIPE), "sources": {"parts": {"shell": {"margin": "starting value"}}}}
    assert decode(Recipe, table, file="x").sources == {"parts.shell.margin": "starting value"}


def test_starting_up_loads_neither_cattrs_nor_pint() -> None:
    code = "import sys, bench.store.decode, bench.units; print(*{'cattrs', 'pint', 'tomli_w'} & set(sys.modules))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert out.stdout.strip() == ""


def test_no_hint_holds_a_character_that_a_terminal_obeys() -> None:
    table = {**encode(RECIPE), "tial\n\x1b": 1, "sources": {"tial": "starting value"}}
    with pytest.raises(FaultyFiles) as caught:
        decode(Recipe, table, file="x")
    assert str(caught.value).replace("\n", "").isprintable()
    assert len(str(caught.value).splitlines()) == len(caught.value.faults)
