"""The user's settings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from bench.errors import Fault
from bench.model.key_names import Action, key_faults
from bench.units import Millimetres, Usual

SLOWEST, USUAL_RATE, FASTEST = 80, 155, 320
"""Words a minute: below one cannot follow, above one cannot understand (common practice, no source)."""

LONGEST_COMMAND = 30
MOST_WORDS = 200
"""Bounds of what a settings file may ask for; no honest one comes near."""

NEAREST_MM, FARTHEST_MM = 200.0, 20_000.0
NARROWEST_MM, WIDEST_MM = 50.0, 5_000.0
"""Distances from which a screen is read, and widths of screens, from a telephone's to a projector's."""

_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,12}){0,3}")


class UnitSystem(StrEnum):
    """Which units are shown; files keep what was written."""

    METRIC = "metric"
    US = "us"


class ThemeName(StrEnum):
    """Light words on a dark ground, or dark words on a light one for a bright shop."""

    DARK = "dark"
    BRIGHT = "bright"


@dataclass(frozen=True, kw_only=True, slots=True)
class Speech:
    """How steps are spoken. ``language`` is a tag such as "en-us", ``rate`` is in words a minute, ``command`` is a
    program of the user's own that reads the words from its input (empty: the one that the machine has), ``words``
    says how to spell words that the voice gets wrong."""

    on: bool = True
    language: str = "en"
    rate: int = USUAL_RATE
    command: tuple[str, ...] = ()
    words: Mapping[str, str] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """What no speech program could be asked for."""
        if not _LANGUAGE.fullmatch(self.language):
            yield _fault("language", "no tag of a language", 'a language such as "en" or "en-us"')
        if not SLOWEST <= self.rate <= FASTEST:
            yield _fault("rate", f"{self.rate} words a minute", f"{SLOWEST} to {FASTEST}")
        if self.command and not self.command[0].strip():
            yield _fault("command", "a command without a program", "the name of a program first")
        if len(self.command) > LONGEST_COMMAND:
            yield _fault("command", f"{len(self.command)} parts", f"at most {LONGEST_COMMAND}")
        if len(self.words) > MOST_WORDS:
            yield _fault("words", f"{len(self.words)} words", f"at most {MOST_WORDS}")
        if not all(word.strip() for word in self.words):
            yield _fault("words", "an empty word", "a word and how to spell it for the voice")


@dataclass(frozen=True, kw_only=True, slots=True)
class Sound:
    """How steps are rung: ``on`` by short sounds of the machine where it can play them, off by the terminal's bell
    alone."""

    on: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Settings:
    """``station`` names the station profile that sessions are planned for. ``viewing_distance_mm`` is how far from
    the screen its figures must be readable, ``screen_width_mm`` how wide the lit part of the screen is; None where
    nobody has measured. ``theme`` is what the screen begins with. ``keep_awake`` asks the desktop to leave the
    screen lit during a session. ``keys`` holds the actions whose keys are not the usual ones."""

    units: UnitSystem = UnitSystem.METRIC
    station: str = "quillmere-bench"
    viewing_distance_mm: (
        Annotated[Millimetres, Usual(example="1.5 m", likely=(NEAREST_MM, FARTHEST_MM))] | None
    ) = None
    screen_width_mm: Annotated[Millimetres, Usual(example="340 mm", likely=(NARROWEST_MM, WIDEST_MM))] | None = (
        None
    )
    theme: ThemeName = ThemeName.DARK
    keep_awake: bool = True
    sound: Sound = field(default_factory=Sound)
    speech: Speech = field(default_factory=Speech)
    keys: Mapping[Action, tuple[str, ...]] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """What cannot be meant."""
        yield from self.speech.faults()
        yield from key_faults(self.keys)
        if not NEAREST_MM <= (self.viewing_distance_mm or NEAREST_MM) <= FARTHEST_MM:
            yield _out("viewing_distance", self.viewing_distance_mm, NEAREST_MM, FARTHEST_MM)
        if not NARROWEST_MM <= (self.screen_width_mm or NARROWEST_MM) <= WIDEST_MM:
            yield _out("screen_width", self.screen_width_mm, NARROWEST_MM, WIDEST_MM)


def _fault(key: str, found: str, wanted: str) -> Fault:
    return Fault(key=f"speech.{key}", found=found, wanted=wanted)


def _out(key: str, value_mm: float | None, least_mm: float, most_mm: float) -> Fault:
    return Fault(key=key, found=f"{value_mm:g} mm", wanted=f"{least_mm:g} mm to {most_mm:g} mm")
