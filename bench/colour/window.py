"""Too dense? The loads between "the shell tints" and "the core shows", before anything is melted.

The doses that move are scaled together by one factor, 1 for the recipe as it stands; the rest stays. As a rule
tint rises and visibility falls with the load, and with the wall's thickness. What is sure is narrower: in every
band a thicker or stronger near wall shrinks the difference in reflectance of what lies behind it. CIEDE2000 is no
plain measure of that difference, and the shell alone changes too: visibility can rise first (a core like the
background shows only once the shell has a colour), and tint can fall again (very dark walls). So nothing here
leans on the rule: the loads are scanned, and the window is the run of good ones that holds the recipe or lies
nearest to it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from bench.colour.bands import Spectrum, flat
from bench.colour.difference import de2000
from bench.colour.flake import Flaked
from bench.colour.lab import Lab
from bench.colour.layers import Film, Medium, film, over, stacked
from bench.colour.mix import Loaded, added, mix, scaled
from bench.colour.views import BACKGROUND, Section, lab_seen, open_share
from bench.errors import BenchError

TINT_AT_LEAST = 5.0
VISIBLE_AT_LEAST = 5.0
"""Starting values, CIEDE2000, for a colour that is plainly another one at arm's length; common practice, no
source. A verdict at the bench moves them."""

TOLD_FROM_LIGHTNESS = 12.0
"""Starting value, L*: where the lighter of two colours is darker, nobody at a bench tells them apart, whatever
their CIEDE2000 is; common practice, no source."""

LEAST_LOOKED_AT_PCT = 0.0005
"""Total load from which on a window is looked for, %: far below what tints."""

_STEPS_AN_OCTAVE = 2
_HALVINGS = 12


class Opener(StrEnum):
    """A change that would open an empty window."""

    THINNER_WALL = "thinner wall"
    LESS_PEARL = "less pearl"
    LIGHTER_CORE = "lighter core"
    DARKER_CORE = "darker core"


class Cause(StrEnum):
    """Why there is no window."""

    NO_COLOUR = "the shell has no colour that could tint"
    TOO_WEAK = "the shell never tints enough at any possible load"
    NO_CONTRAST = "the core never shows enough at any load"
    TOO_DENSE = "by the load at which the shell tints, the core no longer shows"


@dataclass(frozen=True, kw_only=True, slots=True)
class Window:
    """The loads at which the shell tints and the core shows, as multiples of the recipe and as % of its main load.

    ``tint`` and ``visibility`` are those of the recipe as it stands. ``low_factor`` and ``high_factor`` are None
    when there is no window; ``cause`` then says why and ``openers`` what would open it, ``opening_wall_mm`` the
    thickest wall that does, ``opening_factor`` the middle of the loads that it opens. ``bounded_low`` and
    ``bounded_high`` say whether an end is one of tint or visibility, or merely that of the loads looked at.
    ``single`` is False when other loads further off would do as well. ``high_lightness`` is the L* at the high end
    of the lighter of what its visibility compares.
    """

    tint: float
    visibility: float
    main_load_pct: float
    low_factor: float | None = None
    high_factor: float | None = None
    bounded_low: bool = False
    bounded_high: bool = False
    single: bool = True
    cause: Cause | None = None
    openers: tuple[Opener, ...] = ()
    opening_wall_mm: float | None = None
    opening_factor: float | None = None
    high_lightness: float | None = None

    @property
    def low_pct(self) -> float | None:
        """The main colourant's least load, % of the cup."""
        return None if self.low_factor is None else self.low_factor * self.main_load_pct

    @property
    def high_pct(self) -> float | None:
        """The main colourant's greatest load, % of the cup."""
        return None if self.high_factor is None else self.high_factor * self.main_load_pct


@dataclass(frozen=True, kw_only=True, slots=True)
class _Bench:
    """What stays the same while the loads are scaled: ``rest`` is the base with the colours that are held,
    ``in_base`` the look of the rod in walls of bare base."""

    base: Medium
    rest: Medium
    extra: Medium
    core: Medium
    rod: Film
    in_base: Lab
    section: Section
    flaked: Flaked | None
    background: Spectrum
    tint_at_least: float
    visible_at_least: float

    def tint_and_visibility(self, factor: float) -> tuple[float, float]:
        """Both differences at a multiple of the shell's loads."""
        shell, seen = self._seen(factor)
        return self._shown(self.in_base, seen), self._shown(self._alone(shell), seen)

    def passes(self, factor: float, *, spare: float = 0.0) -> bool:
        """Whether both stand at their thresholds or so much above; inside the window they do.

        The second is not reckoned where the first already fails.
        """
        shell, seen = self._seen(factor)
        if self._shown(self.in_base, seen) - self.tint_at_least < spare:
            return False
        return self._shown(self._alone(shell), seen) - self.visible_at_least >= spare

    def lightness(self, factor: float) -> float:
        """L* of the lighter of the shell over the core and the shell alone."""
        shell, seen = self._seen(factor)
        return max(seen.lightness, self._alone(shell).lightness)

    def _seen(self, factor: float) -> tuple[Medium, Lab]:
        """The shell at a multiple of its loads, and its look over the core."""
        shell = scaled(self.rest, self.extra, factor)
        wall = film(shell, self.section.wall_mm)
        return shell, lab_seen(stacked((wall, self.rod, wall), self.background))

    def _alone(self, shell: Medium) -> Lab:
        return lab_seen(over(film(shell, self.section.body_mm), self.background))

    def _shown(self, one: Lab, other: Lab) -> float:
        return open_share(self.flaked, self.section.wall_mm) * de2000(one, other)

    def with_rod(self, rod: Film, section: Section) -> _Bench:
        """The same with another core in it."""
        in_base = _in_base(self.base, rod, section, self.background)
        return replace(self, rod=rod, section=section, in_base=in_base)


def _in_base(base: Medium, rod: Film, section: Section, background: Spectrum) -> Lab:
    clear = film(base, section.wall_mm)
    return lab_seen(stacked((clear, rod, clear), background))


def load_window(
    *,
    base: Medium,
    doses: Sequence[Loaded],
    core: Medium,
    section: Section,
    held: Sequence[Loaded] = (),
    flaked: Flaked | None = None,
    background: Spectrum = BACKGROUND,
    tint_at_least: float = TINT_AT_LEAST,
    visible_at_least: float = VISIBLE_AT_LEAST,
) -> Window:
    """The loads of a shell at which it tints and its core shows.

    ``doses`` are those of the shell that move, as in the recipe; ``held`` are its others, which stay. Thresholds
    are CIEDE2000 differences. Raises BenchError for loads or a section that cannot be.
    """
    if not 0 < section.core_mm < section.body_mm:
        raise BenchError(
            f"rod: {section.core_mm:g} mm does not leave a wall in a body of {section.body_mm:g} mm; "
            f"give more than 0 and less than {section.body_mm:g} mm"
        )
    extra, rod = added(doses), film(core, section.core_mm)
    bench = _Bench(
        base=base,
        rest=mix(base, held),
        extra=extra,
        core=core,
        rod=rod,
        in_base=_in_base(base, rod, section, background),
        section=section,
        flaked=flaked,
        background=background,
        tint_at_least=tint_at_least,
        visible_at_least=visible_at_least,
    )
    tint, visibility = bench.tint_and_visibility(1.0)
    main_load_pct = max((dose.load_pct for dose in doses), default=0.0)
    stands = Window(tint=tint, visibility=visibility, main_load_pct=main_load_pct)
    if main_load_pct == 0:
        return replace(stands, cause=Cause.NO_COLOUR)
    held_pct = sum(dose.load_pct for dose in held)
    return _found(bench, stands, _scan(sum(dose.load_pct for dose in doses), 100.0 - held_pct))


def _found(bench: _Bench, stands: Window, factors: Sequence[float]) -> Window:
    """The window among the factors looked at, or why there is none."""
    runs = _runs([bench.passes(factor) for factor in factors])
    if not runs:
        openers = _openers(bench, factors)
        wall_mm, factor = _opening_wall(bench, factors)
        return replace(
            stands,
            cause=_cause(bench, factors),
            openers=openers if wall_mm is None else (Opener.THINNER_WALL, *openers),
            opening_wall_mm=wall_mm,
            opening_factor=factor,
        )
    first, last = min(runs, key=lambda run: _octaves_off(factors[run[0]], factors[run[1]]))
    bounded_low, bounded_high = first > 0, last + 1 < len(factors)
    low, high = factors[first], factors[last]
    if bounded_high:
        high = _edge(bench.passes, good=high, bad=factors[last + 1])
    return replace(
        stands,
        low_factor=_edge(bench.passes, good=low, bad=factors[first - 1]) if bounded_low else low,
        high_factor=high,
        high_lightness=bench.lightness(high),
        bounded_low=bounded_low,
        bounded_high=bounded_high,
        single=len(runs) == 1,
    )


def _scan(total_pct: float, room_pct: float) -> list[float]:
    """Factors in equal ratios, 1 among them, from next to no load up to one that leaves no room in the cup.

    The loads looked at are the same whatever the present one is, so that a window stays where it is.
    """
    most = max(1.0, room_pct / total_pct)
    lowest = math.floor(_STEPS_AN_OCTAVE * min(0.0, math.log2(LEAST_LOOKED_AT_PCT / total_pct)))
    highest = math.floor(_STEPS_AN_OCTAVE * math.log2(most))
    factors = [2 ** (step / _STEPS_AN_OCTAVE) for step in range(lowest, highest + 1)]
    return factors if factors and factors[-1] >= most else [*factors, most]


def _runs(good: Sequence[bool]) -> list[tuple[int, int]]:
    """First and last index of every unbroken run of good ones."""
    runs: list[tuple[int, int]] = []
    for at, fine in enumerate(good):
        if fine and at and good[at - 1]:
            runs[-1] = (runs[-1][0], at)
        elif fine:
            runs.append((at, at))
    return runs


def _octaves_off(low: float, high: float) -> float:
    """How far 1 lies outside a run, in octaves; 0 inside."""
    return max(0.0, math.log2(low), -math.log2(high))


def _edge(passes: Callable[[float], bool], *, good: float, bad: float) -> float:
    """The factor between a good and a bad one at which it turns, by halving their ratio; on the good side."""
    for _ in range(_HALVINGS):
        middle = math.sqrt(good * bad)
        if passes(middle):
            good = middle
        else:
            bad = middle
    return good


def _cause(bench: _Bench, factors: Sequence[float]) -> Cause:
    pairs = [bench.tint_and_visibility(factor) for factor in factors]
    if all(tint < bench.tint_at_least for tint, _ in pairs):
        return Cause.TOO_WEAK
    if all(visibility < bench.visible_at_least for _, visibility in pairs):
        return Cause.NO_CONTRAST
    return Cause.TOO_DENSE


def _openers(bench: _Bench, factors: Sequence[float]) -> tuple[Opener, ...]:
    """Which changes of colours open the window."""

    def opens(changed: _Bench) -> bool:
        return any(changed.passes(factor) for factor in factors[::_STEPS_AN_OCTAVE])

    found: list[Opener] = []
    if opens(_with_less_pearl(bench)):
        found.append(Opener.LESS_PEARL)
    now = _lightness(bench.rod, bench.background)
    for opener, medium in ((Opener.LIGHTER_CORE, _LIGHT_CORE), (Opener.DARKER_CORE, _DARK_CORE)):
        rod = film(medium, bench.section.core_mm)
        if abs(_lightness(rod, bench.background) - now) > _OTHER_LIGHTNESS and opens(
            bench.with_rod(rod, bench.section)
        ):
            found.append(opener)
    return tuple(found)


def _with_less_pearl(bench: _Bench) -> _Bench:
    """A quarter of what all colours of the shell scatter, those held among them."""
    less = tuple(_LESS_PEARL * s for s in bench.extra.s_per_mm)
    rest = tuple(
        base + _LESS_PEARL * (both - base)
        for base, both in zip(bench.base.s_per_mm, bench.rest.s_per_mm, strict=True)
    )
    return replace(
        bench,
        rest=Medium(k_per_mm=bench.rest.k_per_mm, s_per_mm=rest),
        extra=Medium(k_per_mm=bench.extra.k_per_mm, s_per_mm=less),
    )


def _lightness(rod: Film, background: Spectrum) -> float:
    return lab_seen(over(rod, background)).lightness


def _opening_wall(bench: _Bench, factors: Sequence[float]) -> tuple[float, float] | tuple[None, None]:
    """The thickest wall, within a few %, over a core grown to fill the rest of the body, and the middle of the
    loads that it opens; None twice if 0.4 of it is not thin enough. What only just passes
    both thresholds is no window that anybody can weigh for."""

    def middle_at(wall_mm: float) -> float | None:
        section = replace(bench.section, core_mm=bench.section.body_mm - 2 * wall_mm)
        changed = bench.with_rod(film(bench.core, section.core_mm), section)
        runs = _runs([changed.passes(factor, spare=_WORTH_OPENING) for factor in factors])
        if not runs:
            return None
        first, last = min(runs, key=lambda run: _octaves_off(factors[run[0]], factors[run[1]]))
        return math.sqrt(factors[first] * factors[last])

    shut = bench.section.wall_mm
    open_mm = _THINNEST * shut
    factor = middle_at(open_mm)
    if factor is None:
        return None, None
    for _ in range(5):
        half_way = (shut + open_mm) / 2
        found = middle_at(half_way)
        if found is None:
            shut = half_way
        else:
            open_mm, factor = half_way, found
    return open_mm, factor


_OTHER_LIGHTNESS = 10.0
_THINNEST = 0.4
_WORTH_OPENING = 0.5
_LESS_PEARL = 0.25
_LIGHT_CORE = Medium(k_per_mm=flat(0.01), s_per_mm=flat(10.0))
_DARK_CORE = Medium(k_per_mm=flat(10.0), s_per_mm=flat(0.1))
