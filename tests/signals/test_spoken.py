"""Numbers for ears, against an inverse written here and against the figures on the screen."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.model.settings import UnitSystem
from bench.signals import spoken
from bench.tui import present

ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
)
VALUES = {
    **{word: value for value, word in enumerate(ONES.split(" "))},
    **{
        word: value
        for value, word in zip(
            range(20, 100, 10),
            re.findall(r"\w+", "twenty thirty forty fifty sixty seventy eighty ninety"),
            strict=True,
        )
    },
}


def heard(words: str) -> float:
    """The number that a listener would write down."""
    before, _, after = words.partition(" point ")
    total, group = 0, 0
    for word in before.split():
        if word == "hundred":
            group *= 100
        elif word == "thousand":
            total, group = total + group * 1000, 0
        else:
            group += VALUES[word]
    digits = "".join(str(VALUES[word]) for word in after.split())
    return float(f"{total + group}.{digits or 0}")


def first_number(words: str) -> str:
    """The words of a number at the beginning of a phrase."""
    number = r"(?:" + "|".join((*VALUES, "hundred", "thousand", "point")) + r")\b"
    found = re.match(rf"{number}(?: {number})*", words)
    assert found, words
    return found[0]


@given(st.integers(min_value=0, max_value=999_999))
def test_a_listener_writes_down_the_same_whole_number(number: int) -> None:
    assert heard(spoken.whole(number)) == number


@given(st.floats(min_value=0, max_value=99_999), st.integers(min_value=0, max_value=3))
def test_a_listener_writes_down_the_same_figure(number: float, places: int) -> None:
    assert heard(spoken.figure(f"{number:.{places}f}")) == float(f"{number:.{places}f}")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (spoken.whole(170), "one hundred seventy"),
        (spoken.whole(-12), "minus twelve"),
        (spoken.whole(1005), "one thousand five"),
        (spoken.whole(1_000_000), "1000000"),
        (spoken.figure("0.8"), "zero point eight"),
        (spoken.figure("186.0"), "one hundred eighty six"),
        (spoken.counted(1, "bait"), "one bait"),
        (spoken.duration(0.2), "one second"),
        (spoken.duration(60.0), "one minute"),
        (spoken.duration(79.5), "one minute twenty"),
        (spoken.duration(734.0), "twelve minutes"),
        (spoken.duration(3600.0), "one hour"),
        (spoken.duration(7500.0), "two hours five minutes"),
        (spoken.duration(-3.0), "zero seconds"),
    ],
)
def test_words(said: str, words: str) -> None:
    assert said == words


# 170 °C is 338 °F: the definition of the Fahrenheit scale, NIST SP 811, appendix B.
@pytest.mark.parametrize(
    ("units", "words"),
    [
        (UnitSystem.METRIC, "one hundred seventy degrees"),
        (UnitSystem.US, "three hundred thirty eight degrees"),
    ],
)
def test_a_temperature_is_said_in_the_makers_unit(units: UnitSystem, words: str) -> None:
    assert spoken.degrees(170.0, units) == words


def test_both_ends_of_a_band_are_said() -> None:
    assert spoken.degrees_between(165, 175, UnitSystem.METRIC) == (
        "one hundred sixty five to one hundred seventy five degrees"
    )


@given(st.floats(min_value=0, max_value=400), st.sampled_from(UnitSystem))
def test_ear_and_eye_get_the_same_temperature(temp_c: float, units: UnitSystem) -> None:
    assert heard(first_number(spoken.degrees(temp_c, units))) == float(present.degrees(temp_c, units))


@given(st.floats(min_value=0, max_value=5000), st.sampled_from(UnitSystem))
def test_ear_and_eye_get_the_same_volume_and_mass(amount: float, units: UnitSystem) -> None:
    assert heard(first_number(spoken.volume(amount, units))) == float(present.volume(amount, units).split()[0])
    assert heard(first_number(spoken.mass(amount, units))) == float(present.mass(amount, units).split()[0])
