"""From a wanted colour to doses: how much of each colourant brings a bait nearest to it.

Nearest means the least CIEDE2000 for the bait as it is seen, solid or as a shell over a core. Doses are never
below what is already in the cup: colour is added, never taken out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from bench.colour.difference import Parts, de2000, parts
from bench.colour.flake import Flaked
from bench.colour.lab import Lab
from bench.colour.layers import Medium, film, stacked
from bench.colour.least import nearest
from bench.colour.mix import Loaded, Strength, checked_loads, mix
from bench.colour.views import BACKGROUND, Section, lab_seen, through
from bench.errors import BenchError

MOST_COLOURANTS = 6
MOST_TOTAL_PCT = 3.0
"""Starting value for all colour together, % of the cup; common practice, no source: more costs much and weakens
the plastic."""

_WORTH_SAYING = 0.5

_PLAIN_HUES: Mapping[str, float] = MappingProxyType({"red": 20.0, "yellow": 90.0, "green": 164.0, "blue": 238.0})
"""Angles of the unique hues, degrees: those of CIECAM02 (CIE 159:2004, from memory), near enough in L*a*b* for a
word."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Doses:
    """The nearest doses. ``loads_pct`` and ``added_pct`` (what is still to go in) follow the order of the
    colourants; ``off`` is the CIEDE2000 left, ``misses`` in which direction: words such as "too light", "too
    dull", "too green", the worst first."""

    loads_pct: tuple[float, ...]
    added_pct: tuple[float, ...]
    lab: Lab
    off: float
    misses: tuple[str, ...]


def doses_for(
    target: Lab,
    *,
    base: Medium,
    colourants: Sequence[Strength],
    section: Section,
    core: Medium | None = None,
    flaked: Flaked | None = None,
    already_pct: Sequence[float] | None = None,
    most_total_pct: float = MOST_TOTAL_PCT,
) -> Doses:
    """Doses of up to six colourants that bring a bait's look nearest to a target, seen over a neutral background.

    With ``core`` the colourants go into the shell over it, without into a solid bait; ``flaked`` is the flake that
    stays in it. ``already_pct`` is what the cup holds of each. Raises BenchError for no colourants, too many of
    them, or more in the cup than ``most_total_pct``.
    """
    already = tuple(already_pct) if already_pct is not None else (0.0,) * len(colourants)
    _check(colourants, already, most_total_pct)

    def seen_at(loads_pct: Sequence[float]) -> Lab:
        doses = [Loaded(strength=s, load_pct=x) for s, x in zip(colourants, loads_pct, strict=True)]
        return look_of(mix(base, doses), section, core, flaked)

    loads = nearest(
        lambda loads_pct: parts(target, seen_at(loads_pct)),
        least=already,
        scales=[_telling_load_pct(each, section) for each in colourants],
        most_total=most_total_pct,
    )
    lab = seen_at(loads)
    return Doses(
        loads_pct=loads,
        added_pct=tuple(new - old for new, old in zip(loads, already, strict=True)),
        lab=lab,
        off=de2000(target, lab),
        misses=direction(target, lab),
    )


def look_of(medium: Medium, section: Section, core: Medium | None, flaked: Flaked | None = None) -> Lab:
    """L*a*b* of a solid bait of a medium, or of its shell over a core, over the neutral background."""
    if core is None:
        whole = film(medium, section.body_mm)
        return lab_seen(through(medium, whole, section.body_mm, BACKGROUND, flaked))
    wall = film(medium, section.wall_mm)
    behind = stacked((film(core, section.core_mm), wall), BACKGROUND)
    return lab_seen(through(medium, wall, section.wall_mm, behind, flaked))


def direction(target: Lab, found: Lab) -> tuple[str, ...]:
    """In which directions a colour misses its target, as words, the worst first; none below half a CIEDE2000."""
    miss = parts(target, found)
    said = [
        (abs(miss.lightness), "too light" if miss.lightness > 0 else "too dark"),
        (abs(miss.chroma), "too strong" if miss.chroma > 0 else "too dull"),
        (abs(miss.hue), _hue_word(found, miss)),
    ]
    return tuple(word for size, word in sorted(said, reverse=True) if size >= _WORTH_SAYING)


def _hue_word(found: Lab, miss: Parts) -> str:
    """Towards which of the four plain hues the colour found has turned: the next one beyond it."""
    hue = math.degrees(math.atan2(found.b, found.a))
    onwards = 1 if miss.hue > 0 else -1
    return "too " + min(_PLAIN_HUES, key=lambda name: onwards * (_PLAIN_HUES[name] - hue) % 360)


def _telling_load_pct(strength: Strength, section: Section) -> float:
    """The load at which a colourant plainly tells in this section: K + S times the thickness about 1."""
    strongest = max(k + s for k, s in zip(strength.k_per_mm_pct, strength.s_per_mm_pct, strict=True))
    if strongest <= 0:
        raise BenchError("colourants: one of them neither absorbs nor scatters; read its swatches again")
    return 1 / (strongest * section.wall_mm)


def _check(colourants: Sequence[Strength], already: Sequence[float], most_total_pct: float) -> None:
    if not 1 <= len(colourants) <= MOST_COLOURANTS:
        raise BenchError(f"colourants: found {len(colourants)}, wanted one to {MOST_COLOURANTS}")
    if len(already) != len(colourants):
        raise BenchError(
            f"already in: found {len(already)} loads for {len(colourants)} colourants, wanted one each"
        )
    checked_loads(already, field="already in")
    if sum(already) > most_total_pct:
        raise BenchError(
            f"already in: {sum(already):g} % is more than the {most_total_pct:g} % wanted at most; allow more"
        )
