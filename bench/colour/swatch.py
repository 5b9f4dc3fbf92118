"""From films on white and black card to what a colourant does to light.

The black-and-white backing method (P. Kubelka, 1948; D. B. Judd and G. Wyszecki, Color in Business, Science and
Industry; both cited from memory): a film's reflectance over two backings gives its K and S, band by band. Here the
reflectances come from colours as a camera or an eye gives them, made comparable by the bare cards in the same
photograph. The card's paper is taken to lie against the film without air between: press the film on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bench.colour.bands import Spectrum, flat
from bench.colour.difference import de2000, parts
from bench.colour.lab import Lab, lab_from_hex, lab_of
from bench.colour.layers import Medium, film, k_over_s, over
from bench.colour.mix import Loaded, Strength, added, checked_loads, mix, scaled
from bench.colour.recover import from_hex
from bench.colour.saunderson import inside, outside
from bench.colour.swatch_fit import FilmReading, fitted
from bench.colour.swatch_refine import refined
from bench.errors import BenchError

CARD_WHITE = 0.85
"""Starting value for the reflectance of white card; common practice, no source."""

SHOWS_AT_LEAST = 4.0
"""Difference, CIEDE2000, between a film over white and over black below which nothing is known to shine through:
twice what a reading by camera may be off."""

LIGHTER_AT_MOST = 4.0
"""By how much L* a reading may stand on the wrong side of another before it is refused rather than called
noise."""

JUST_SEEN = 1.0
"""Difference, CIEDE2000, at which a line is just lost; common practice, no source."""

_FAINT = 0.003
"""Per film of a colourant: a fit that starts from less would not find its way up from nothing."""

_DARKEST = 1e-4
_BRIGHTEST = 0.995


@dataclass(frozen=True, kw_only=True, slots=True)
class Swatch:
    """A film of known thickness and load, read over white and black card, and the bare cards in the same light.

    Colours are hex as read, none corrected. A load of 0 is the bare base.
    """

    load_pct: float
    thickness_mm: float
    over_white: str
    over_black: str
    white_card: str
    black_card: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """A colourant from its swatches. ``off`` holds, a swatch, the CIEDE2000 by which the fit misses its reading
    over white and over black; ``agreement`` is their mean. ``shows`` holds how far apart white and black look
    through each film: below ``SHOWS_AT_LEAST`` it tells K to S but not how strong either is."""

    strength: Strength
    off: tuple[tuple[float, float], ...]
    shows: tuple[float, ...]
    agreement: float


@dataclass(frozen=True, kw_only=True, slots=True)
class _Reading:
    """A swatch in internal reflectances."""

    load_pct: float
    thickness_mm: float
    white: Spectrum
    black: Spectrum
    card_white: Spectrum
    card_black: Spectrum


def backed(
    *, over_one: float, one: float, over_other: float, other: float, thickness_mm: float
) -> tuple[float, float]:
    """K and S per mm of one band of a film from its reflectance over two different backings.

    From b coth bSd = [1 + R Rg - a (R + Rg)] / (R - Rg) for both: a is their quotient, S = arcoth(.) / bd and
    K = S (a - 1). With an ideal black this is a = [R_w + (R_b - R_w + R_g) / (R_b R_g)] / 2 (Kubelka 1948, from
    memory). All are internal reflectances. Raises BenchError when no layer could give these.
    """
    if not thickness_mm > 0:
        raise BenchError(f"thickness: {thickness_mm:g} mm is no film; give more than 0")
    gap_one, gap_other = over_one - one, over_other - other
    if max(abs(gap_one), abs(gap_other)) < _THIN:
        return _thin((one, gap_one), (other, gap_other), thickness_mm)
    above = (1 + over_one * one) * gap_other - (1 + over_other * other) * gap_one
    below = (over_one + one) * gap_other - (over_other + other) * gap_one
    if abs(below) <= _FLAT * abs(above) + _ROUNDED:
        lit, card = max((over_one, one), (over_other, other))
        if not 0 < lit <= card:
            raise _no_layer(over_one, over_other)
        return math.log(card / lit) / (2 * thickness_mm), 0.0
    a = max(1.0, above / below)
    b = math.sqrt(a * a - 1)
    r, g = (over_one, one) if abs(gap_one) > abs(gap_other) else (over_other, other)
    u = (1 + r * g - a * (r + g)) / (r - g) if r != g else 0.0
    if not u > b:
        raise _no_layer(over_one, over_other)
    s_per_mm = (math.atanh(b / u) / b if b > 0 else 1 / u) / thickness_mm
    return s_per_mm * (a - 1), s_per_mm


_THIN = 1e-5
_FLAT = 1e-13
_ROUNDED = 2e-15
"""What the last digits of four reflectances leave of a difference of their products where nothing scatters."""


def _thin(one: tuple[float, float], other: tuple[float, float], thickness_mm: float) -> tuple[float, float]:
    """K and S of a film that changes next to nothing: R - Rg = d [S (1 - Rg)^2 - 2 K Rg], straight in both."""
    (g1, gap1), (g2, gap2) = one, other
    both = (1 - g1) ** 2 * g2 - (1 - g2) ** 2 * g1
    s = (gap1 * g2 - gap2 * g1) / (both * thickness_mm)
    k = ((1 - g2) ** 2 * gap1 - (1 - g1) ** 2 * gap2) / (2 * both * thickness_mm)
    return max(0.0, k), max(0.0, s)


def _no_layer(over_one: float, over_other: float) -> BenchError:
    return BenchError(
        f"no layer of colour reflects {over_one:.4f} over one card and {over_other:.4f} over the other; read again"
    )


def strength_from(swatches: Sequence[Swatch], *, base: Medium, card_white: float = CARD_WHITE) -> Fit:
    """A colourant's K and S per mm and % from its swatches in one base, by least squares over all of them.

    ``base`` is the bare plastic (``base_from`` reads it off a film without colour), ``card_white`` the reflectance
    of the white card. Raises BenchError, naming the entry, for readings that cannot be, and when no film lets
    anything shine through.
    """
    if not swatches:
        raise BenchError("swatches: there is none; pour a film and read it over white and over black card")
    for at, swatch in enumerate(swatches, start=1):
        if not swatch.load_pct > 0:
            raise BenchError(f"swatch {at}, load: {swatch.load_pct:g} % holds no colour; give more than 0 %")
    readings = [_reading(swatch, at, card_white) for at, swatch in enumerate(swatches, start=1)]
    shows = tuple(de2000(_lab(each.black), _lab(each.white)) for each in readings)
    if max(shows) < SHOWS_AT_LEAST:
        raise _too_dense(swatches[shows.index(max(shows))])
    colours = [_from_bare(each, base) for each in readings]
    if max(colours) < SHOWS_AT_LEAST:
        raise _too_pale(swatches[colours.index(max(colours))])
    found = _fitted(readings, base)
    strength = Strength(k_per_mm_pct=found.k_per_mm, s_per_mm_pct=found.s_per_mm)
    return _judged(strength, readings, base, shows)


def base_from(swatches: Sequence[Swatch], *, card_white: float = CARD_WHITE) -> Medium:
    """K and S per mm of the bare plastic from films without colour (load 0).

    Raises BenchError, naming the entry, for readings that cannot be.
    """
    if not swatches:
        raise BenchError("swatches: there is none; pour a film and read it over white and over black card")
    for at, swatch in enumerate(swatches, start=1):
        if swatch.load_pct != 0:
            raise BenchError(f"swatch {at}, load: {swatch.load_pct:g} % is not the bare base; give 0 %")
    readings = [_reading(swatch, at, card_white) for at, swatch in enumerate(swatches, start=1)]
    return _fitted([replace(each, load_pct=1.0) for each in readings], _NOTHING)


_NOTHING = Medium(k_per_mm=flat(0.0), s_per_mm=flat(0.0))


def _too_dense(swatch: Swatch) -> BenchError:
    return BenchError(
        "over black: the film tells the hue, but it cannot tell how much it scatters, because nothing shines "
        f"through {swatch.thickness_mm:g} mm at {swatch.load_pct:g} %; "
        f"pour one of {swatch.thickness_mm / 4:.2g} mm, or with {swatch.load_pct / 4:.2g} %"
    )


def _too_pale(swatch: Swatch) -> BenchError:
    return BenchError(
        f"load: {swatch.load_pct:g} % in {swatch.thickness_mm:g} mm can hardly be told from the bare base; "
        f"pour one of {4 * swatch.thickness_mm:.2g} mm, or with {min(100.0, 4 * swatch.load_pct):.2g} %"
    )


def _lab(internal: Spectrum) -> Lab:
    return lab_of(outside(internal))


def _reading(swatch: Swatch, at: int, card_white: float) -> _Reading:
    """A swatch as internal reflectances, each band measured against the bare white card beside it."""
    where = f"swatch {at}"
    if not swatch.thickness_mm > 0:
        raise BenchError(f"{where}, thickness: {swatch.thickness_mm:g} mm is no film; give more than 0")
    checked_loads([swatch.load_pct], field=f"{where}, load")
    _check_order(swatch, where)
    bare = from_hex(swatch.white_card)
    gains = tuple(card_white / each for each in bare)

    def against(text: str) -> Spectrum:
        return tuple(min(_BRIGHTEST, gain * r) for gain, r in zip(gains, from_hex(text), strict=True))

    return _Reading(
        load_pct=swatch.load_pct,
        thickness_mm=swatch.thickness_mm,
        white=_within(inside(against(swatch.over_white))),
        black=_within(inside(against(swatch.over_black))),
        card_white=flat(card_white),
        card_black=_within(against(swatch.black_card)),
    )


def _within(spectrum: Spectrum) -> Spectrum:
    return tuple(min(_BRIGHTEST, max(_DARKEST, each)) for each in spectrum)


def _from_bare(reading: _Reading, base: Medium) -> float:
    """How far a film looks from one of bare base as thick, over whichever card tells more; CIEDE2000."""
    bare = film(base, reading.thickness_mm)
    pairs = ((reading.white, reading.card_white), (reading.black, reading.card_black))
    return max(de2000(_lab(over(bare, card)), _lab(read)) for read, card in pairs)


def _check_order(swatch: Swatch, where: str) -> None:
    """Refuse readings in an order that no film can bring about, beyond what a camera's noise may do."""
    white, black, white_card, black_card = (
        lab_from_hex(text, field=f"{where}, {field}").lightness
        for field, text in (
            ("over white", swatch.over_white),
            ("over black", swatch.over_black),
            ("white card", swatch.white_card),
            ("black card", swatch.black_card),
        )
    )
    if black_card >= white_card - LIGHTER_AT_MOST:
        raise BenchError(f"{where}, black card: it reads no darker than the white card; read both again")
    if white > white_card + LIGHTER_AT_MOST:
        raise BenchError(
            f"{where}, white card: it reads darker than the film on it, which no film can do in the same light "
            "(a fluorescent colour can: it cannot be read this way)"
        )
    if black > white + LIGHTER_AT_MOST:
        raise BenchError(f"{where}, over black: it reads lighter than over white; are the two swapped?")


def _judged(strength: Strength, readings: Sequence[_Reading], base: Medium, shows: tuple[float, ...]) -> Fit:
    off: list[tuple[float, float]] = []
    for each in readings:
        coloured = film(mix(base, [Loaded(strength=strength, load_pct=each.load_pct)]), each.thickness_mm)
        white, black = _lab(over(coloured, each.card_white)), _lab(over(coloured, each.card_black))
        off.append((de2000(_lab(each.white), white), de2000(_lab(each.black), black)))
    agreement = sum(sum(pair) for pair in off) / (2 * len(off))
    return Fit(strength=strength, off=tuple(off), shows=shows, agreement=agreement)


def _fitted(readings: Sequence[_Reading], base: Medium) -> Medium:
    """K and S per mm and % that all films speak for: band by band first, then by their colours."""
    read = [(_lab(each.white), _lab(each.black)) for each in readings]

    def misses(extra: Medium) -> list[float]:
        found: list[float] = []
        for each, labs in zip(readings, read, strict=True):
            coloured = film(scaled(base, extra, each.load_pct), each.thickness_mm)
            for lab, card in zip(labs, (each.card_white, each.card_black), strict=True):
                found += parts(lab, _lab(over(coloured, card)))[:3]
        return found

    return refined(_least_squares(readings, base), misses)


def _least_squares(readings: Sequence[_Reading], base: Medium) -> Medium:
    """K and S per mm and % by band, each starting from the band before it: spectra are smooth."""
    load_mm = sum(each.load_pct * each.thickness_mm for each in readings) / len(readings)
    ks: list[float] = []
    ss: list[float] = []
    start = (0.3 / load_mm, 0.3 / load_mm)
    for at, (base_k, base_s) in enumerate(zip(base.k_per_mm, base.s_per_mm, strict=True)):
        films = [
            FilmReading(
                load_pct=each.load_pct,
                thickness_mm=each.thickness_mm,
                base_k_per_mm=base_k,
                base_s_per_mm=base_s,
                backing=card[at],
                reflected=reflected[at],
            )
            for each in readings
            for card, reflected in ((each.card_white, each.white), (each.card_black, each.black))
        ]
        k, s = fitted(films, start)
        ks.append(k)
        ss.append(s)
        start = max(k, _FAINT / load_mm), max(s, _FAINT / load_mm)
    return Medium(k_per_mm=tuple(ks), s_per_mm=tuple(ss))


def vanishing_scale(
    strength: Strength,
    *,
    load_pct: float,
    vanishing_mm: float,
    base: Medium,
    just_seen: float = JUST_SEEN,
    card_white: float = CARD_WHITE,
) -> float:
    """The one number that makes a colourant as strong as the thickness at which a printed line vanished, mm.

    A black line on white card is drowned in the film until white and black look ``just_seen`` apart (CIEDE2000).
    The factor belongs on the colourant's ``strength``: multiply its K and S by it. Raises BenchError when no
    strength between a thousandth and a thousandfold does it.
    """
    if not vanishing_mm > 0:
        raise BenchError(f"thickness: {vanishing_mm:g} mm is no film; give more than 0")
    if not load_pct > 0:
        raise BenchError(f"load: {load_pct:g} % holds no colour; give more than 0 %")
    extra = added([Loaded(strength=strength, load_pct=load_pct)])

    def shows(factor: float) -> float:
        coloured = film(scaled(base, extra, factor), vanishing_mm)
        return de2000(_lab(over(coloured, flat(0.0))), _lab(over(coloured, flat(card_white))))

    low, high = 1e-3, 1e3
    if not shows(low) > just_seen > shows(high):
        raise BenchError(f"thickness: no strength lets a line vanish at {vanishing_mm:g} mm; measure again")
    for _ in range(50):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if shows(middle) > just_seen else (low, middle)
    return math.sqrt(low * high)


def rough_strength(
    deep_colour: str, *, load_pct: float, vanishing_mm: float, base: Medium, just_seen: float = JUST_SEEN
) -> Strength:
    """A colourant from one look and one measure: its colour too deep to see through, and its vanishing thickness.

    The colour gives K/S by band, scattering is taken as the same in all bands, and the thickness gives the scale.
    A start until films are read over white and black; a dye that hardly scatters needs them.
    """
    ratios = [k_over_s(r) for r in _within(inside(from_hex(deep_colour, field="deep colour")))]
    guess = Strength(k_per_mm_pct=tuple(ratios), s_per_mm_pct=flat(1.0))
    factor = vanishing_scale(guess, load_pct=load_pct, vanishing_mm=vanishing_mm, base=base, just_seen=just_seen)
    return Strength(k_per_mm_pct=tuple(factor * each for each in ratios), s_per_mm_pct=flat(factor))
