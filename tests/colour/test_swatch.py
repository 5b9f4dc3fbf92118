"""What a colourant does to light, from films on card: exact bands, made-up films with camera noise, refusals."""

from __future__ import annotations

import random

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from bench.colour.bands import BAND_COUNT, flat
from bench.colour.difference import de2000
from bench.colour.lab import Lab, lab_of, shown_lab
from bench.colour.layers import Medium, film, over, reflectance
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.saunderson import outside
from bench.colour.swatch import (
    CARD_WHITE,
    Swatch,
    backed,
    base_from,
    rough_strength,
    strength_from,
    vanishing_scale,
)
from bench.colour.swatch_fit import FilmReading, fitted
from bench.errors import BenchError
from tests.colour.media import ALL, BASE, BLUE, BROWN_DYE, PEARL, SMOKE, WHITE

CARD_BLACK = 0.05
LOADS_PCT = dict.fromkeys(ALL, 0.25) | {"white": 0.05, "pearl": 0.15}


@given(
    k=st.floats(0.0, 3.0),
    s=st.floats(0.0, 3.0),
    mm=st.floats(0.1, 2.0),
    white=st.floats(0.5, 1.0),
    black=st.floats(0.0, 0.2),
)
@example(k=0.0005, s=0.0, mm=0.1, white=1.0, black=0.09375)
def test_two_backings_give_the_film_back(k: float, s: float, mm: float, white: float, black: float) -> None:
    # Round trip of the black-and-white backing method (Kubelka 1948, from memory); ideal cards and real ones.
    ends = [reflectance(k_per_mm=k, s_per_mm=s, thickness_mm=mm, backing=each) for each in (white, black)]
    if ends[0] - ends[1] < 1e-3 * (white - black):
        return
    found_k, found_s = backed(over_one=ends[0], one=white, over_other=ends[1], other=black, thickness_mm=mm)
    again = [reflectance(k_per_mm=found_k, s_per_mm=found_s, thickness_mm=mm, backing=e) for e in (white, black)]
    assert again == pytest.approx(ends, abs=1e-9)


def test_two_backings_by_the_published_form_for_an_ideal_black() -> None:
    # a = [R_w + (R_b - R_w + R_g) / (R_b R_g)] / 2 (Kubelka 1948, from memory); K 0.1, S 1, d 2: a = 1.1.
    over_white, over_black, card = 0.671347, 0.577121, 0.8
    a = (over_white + (over_black - over_white + card) / (over_black * card)) / 2
    k, s = backed(over_one=over_white, one=card, over_other=over_black, other=0.0, thickness_mm=2.0)
    assert (k + s) / s == pytest.approx(a, rel=1e-9)
    assert (k, s) == pytest.approx((0.1, 1.0), rel=2e-4)


def test_readings_of_no_layer_are_refused() -> None:
    with pytest.raises(BenchError, match="no layer"):
        backed(over_one=0.3, one=0.8, over_other=0.6, other=0.0, thickness_mm=1.0)
    with pytest.raises(BenchError, match="thickness"):
        backed(over_one=0.3, one=0.8, over_other=0.2, other=0.0, thickness_mm=0.0)


@given(k=st.floats(0.05, 5.0), s=st.floats(0.05, 5.0), load=st.floats(0.1, 0.4), mm=st.floats(0.3, 1.0))
def test_least_squares_finds_what_the_films_were_made_with(k: float, s: float, load: float, mm: float) -> None:
    films = [
        FilmReading(
            load_pct=share * load,
            thickness_mm=mm,
            base_k_per_mm=0.01,
            base_s_per_mm=0.004,
            backing=backing,
            reflected=reflectance(
                k_per_mm=0.01 + share * load * k,
                s_per_mm=0.004 + share * load * s,
                thickness_mm=mm,
                backing=backing,
            ),
        )
        for share in (0.5, 1.0)
        for backing in (0.85, 0.05)
    ]
    for first in (0.3, 0.003):  # as the first band starts, and as one after a band of next to no colour does
        assert fitted(films, (first / load / mm, first / load / mm)) == pytest.approx((k, s), rel=1e-2)


def noisy(lab: Lab, off: float, rng: random.Random) -> Lab:
    """A colour as far away as said, CIEDE2000, in a direction drawn at random."""
    way = [rng.gauss(0.0, 1.0) for _ in range(3)]
    low, high = 0.0, 50.0
    for _ in range(30 if off else 0):
        middle = (low + high) / 2
        tried = Lab(*(x + middle * w for x, w in zip(lab, way, strict=True)))
        low, high = (middle, high) if de2000(lab, tried) < off else (low, middle)
    return Lab(*(x + low * w for x, w in zip(lab, way, strict=True)))


def film_on_card(strength: Strength, load_pct: float, mm: float, off: float, rng: random.Random) -> Swatch:
    """A made-up film read by a camera of some noise, to the eight bits of a hex colour."""
    near = film(mix(BASE, [Loaded(strength=strength, load_pct=load_pct)]), mm)

    def read(spectrum: tuple[float, ...]) -> str:
        return shown_lab(noisy(lab_of(spectrum), off, rng)).hex

    return Swatch(
        load_pct=load_pct,
        thickness_mm=mm,
        over_white=read(outside(over(near, flat(CARD_WHITE)))),
        over_black=read(outside(over(near, flat(CARD_BLACK)))),
        white_card=read(flat(CARD_WHITE)),
        black_card=read(flat(CARD_BLACK)),
    )


def view_misses(true: Strength, found: Strength, load_pct: float) -> list[float]:
    """By how much views are predicted wrong at half and double the thickness and the load, CIEDE2000."""
    misses = []
    for share, mm in ((1.0, 0.75), (1.0, 3.0), (0.5, 1.5), (2.0, 1.5)):
        films = [film(mix(BASE, [Loaded(strength=each, load_pct=share * load_pct)]), mm) for each in (true, found)]
        for backing in (CARD_BLACK, 0.5, CARD_WHITE):
            one, other = (lab_of(outside(over(each, flat(backing)))) for each in films)
            misses.append(de2000(one, other))
    return sorted(misses)


def all_misses(off: float, films_mm: tuple[float, ...], times: int) -> list[float]:
    rng = random.Random(5)
    misses: list[float] = []
    for name, strength in ALL.items():
        for _ in range(times):
            swatches = [film_on_card(strength, LOADS_PCT[name], mm, off, rng) for mm in films_mm]
            fit = strength_from(swatches, base=BASE)
            misses += view_misses(strength, fit.strength, LOADS_PCT[name])
    return sorted(misses)


def share_within(misses: list[float], limit: float = 3.0) -> float:
    return sum(miss <= limit for miss in misses) / len(misses)


@pytest.mark.parametrize(
    ("off", "films_mm", "share", "middle"),
    [
        (0.0, (1.5,), 0.85, 1.0),
        (1.0, (1.5,), 0.85, 1.5),
        (2.0, (1.5,), 0.70, 2.2),
        (0.0, (1.0, 3.0), 0.94, 0.7),
        (1.0, (1.0, 3.0), 0.93, 1.1),
        (2.0, (1.0, 3.0), 0.90, 1.7),
    ],
)
def test_views_at_half_and_double_are_mostly_within_3(
    off: float, films_mm: tuple[float, ...], share: float, middle: float
) -> None:
    # Nine made-up colourants, readings off by 0, 1 and 2 CIEDE2000 each, one seed. Not all come within 3: two
    # colours are no spectrum, so a saturated blue or green misses by up to 9 from one film and 8 from two.
    misses = all_misses(off, films_mm, times=3)
    assert share_within(misses) >= share
    assert misses[len(misses) // 2] <= middle


@pytest.mark.parametrize("name", ["pearl", "white", "smoke", "brown dye"])
def test_smooth_colourants_are_all_met_without_noise(name: str) -> None:
    swatch = film_on_card(ALL[name], LOADS_PCT[name], 1.5, 0.0, random.Random(0))
    fit = strength_from([swatch], base=BASE)
    assert view_misses(ALL[name], fit.strength, LOADS_PCT[name])[-1] < 1.0
    assert fit.agreement < 0.5


def test_swatches_that_do_not_fit_together_say_so() -> None:
    rng = random.Random(0)
    good = [film_on_card(BROWN_DYE, load, 1.5, 0.0, rng) for load in (0.1, 0.3)]
    odd = film_on_card(BLUE, 0.2, 1.5, 0.0, rng)
    assert strength_from(good, base=BASE).agreement < 0.6
    torn = strength_from([*good, odd], base=BASE)
    assert torn.agreement > 5.0
    assert len(torn.off) == len(torn.shows) == 3


def test_the_exposure_of_the_photograph_does_not_matter() -> None:
    bright = film_on_card(PEARL, 0.15, 1.5, 0.0, random.Random(0))

    def dimmed(text: str) -> str:
        grey = lab_of(flat(1.0))
        assert grey.lightness == pytest.approx(100.0, abs=1e-3)
        codes = [int(text[at : at + 2], 16) for at in (1, 3, 5)]
        linear = [((code / 255 + 0.055) / 1.055) ** 2.4 * 0.6 for code in codes]
        return "#" + "".join(f"{round(255 * (1.055 * each ** (1 / 2.4) - 0.055)):02x}" for each in linear)

    dark = Swatch(
        load_pct=bright.load_pct,
        thickness_mm=bright.thickness_mm,
        over_white=dimmed(bright.over_white),
        over_black=dimmed(bright.over_black),
        white_card=dimmed(bright.white_card),
        black_card=dimmed(bright.black_card),
    )
    one, other = (strength_from([each], base=BASE).strength for each in (bright, dark))
    assert one.s_per_mm_pct == pytest.approx(other.s_per_mm_pct, rel=0.05)


def test_the_bare_base_is_read_the_same_way() -> None:
    milky = Medium(k_per_mm=flat(0.02), s_per_mm=flat(0.08))
    near = film(milky, 3.0)
    card = Swatch(
        load_pct=0.0,
        thickness_mm=3.0,
        over_white=shown_lab(lab_of(outside(over(near, flat(CARD_WHITE))))).hex,
        over_black=shown_lab(lab_of(outside(over(near, flat(CARD_BLACK))))).hex,
        white_card=shown_lab(lab_of(flat(CARD_WHITE))).hex,
        black_card=shown_lab(lab_of(flat(CARD_BLACK))).hex,
    )
    found = base_from([card])
    assert found.k_per_mm[15] == pytest.approx(0.02, rel=0.1)
    assert found.s_per_mm[15] == pytest.approx(0.08, rel=0.1)
    with pytest.raises(BenchError, match="swatch 1, load: 1 % is not the bare base"):
        base_from([film_on_card(PEARL, 1.0, 1.0, 0.0, random.Random(0))])
    with pytest.raises(BenchError, match="swatches: there is none"):
        base_from([])


def test_the_vanishing_line_scales_a_strength() -> None:
    true = mix(BASE, [Loaded(strength=PEARL, load_pct=0.5)])

    def shows(mm: float) -> float:
        near = film(true, mm)
        return de2000(*(lab_of(outside(over(near, flat(each)))) for each in (0.0, CARD_WHITE)))

    low, high = 0.1, 50.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if shows(middle) > 1.0 else (low, middle)
    half = Strength(
        k_per_mm_pct=tuple(k / 2 for k in PEARL.k_per_mm_pct),
        s_per_mm_pct=tuple(s / 2 for s in PEARL.s_per_mm_pct),
    )
    assert vanishing_scale(half, load_pct=0.5, vanishing_mm=low, base=BASE) == pytest.approx(2.0, rel=1e-3)


def test_a_rough_strength_has_the_deep_colour_and_vanishes_where_it_should() -> None:
    found = rough_strength("#3a6ea5", load_pct=0.5, vanishing_mm=4.0, base=BASE)
    assert vanishing_scale(found, load_pct=0.5, vanishing_mm=4.0, base=BASE) == pytest.approx(1.0, rel=1e-3)
    deep = mix(BASE, [Loaded(strength=found, load_pct=50.0)])
    seen = lab_of(outside(over(film(deep, 60.0), flat(0.5))))
    assert shown_lab(seen).hex == "#3a6ea5"
    assert len(found.k_per_mm_pct) == BAND_COUNT


GOOD = Swatch(
    load_pct=0.2,
    thickness_mm=1.5,
    over_white="#7a9cc6",
    over_black="#2c4058",
    white_card="#eeeeec",
    black_card="#2a2a2b",
)


def changed(**changes: object) -> Swatch:
    fields = {name: getattr(GOOD, name) for name in Swatch.__slots__}
    return Swatch(**(fields | changes))


@pytest.mark.parametrize(
    ("swatch", "words"),
    [
        (changed(over_white="blue"), 'swatch 1, over white: "blue" is not a colour'),
        (changed(black_card="#12"), "swatch 1, black card: "),
        (changed(white_card="#5a5a5a"), "swatch 1, white card: it reads darker than the film"),
        (changed(over_black="#a0c0e0"), "swatch 1, over black: it reads lighter than over white"),
        (changed(black_card="#eeeeec"), "swatch 1, black card: it reads no darker"),
        (changed(thickness_mm=0.0), "swatch 1, thickness: 0 mm"),
        (changed(load_pct=0.0), "swatch 1, load: 0 % holds no colour"),
        (changed(load_pct=101.0), "swatch 1, load: 101 % together is more than the whole cup"),
        (
            changed(over_black="#7a9cc6"),
            "over black: .* scatters, because nothing shines through 1.5 mm at 0.2 %; pour one of 0.38 mm",
        ),
    ],
)
def test_refusals_name_the_entry(swatch: Swatch, words: str) -> None:
    with pytest.raises(BenchError, match=words):
        strength_from([swatch], base=BASE)


def test_a_film_too_dense_or_too_pale_says_what_to_pour() -> None:
    rng = random.Random(0)
    with pytest.raises(BenchError, match=r"nothing shines through 3 mm at 5 %.* with 1\.2 %"):
        strength_from([film_on_card(WHITE, 5.0, 3.0, 0.0, rng)], base=BASE)
    with pytest.raises(
        BenchError, match=r"0\.001 % in 1 mm can hardly be told from the bare base; pour one of 4 mm"
    ):
        strength_from([film_on_card(SMOKE, 0.001, 1.0, 0.0, rng)], base=BASE)
    with pytest.raises(BenchError, match="there is none"):
        strength_from([], base=BASE)


def test_a_dense_film_helps_beside_a_thin_one() -> None:
    rng = random.Random(0)
    fit = strength_from(
        [film_on_card(WHITE, 5.0, 3.0, 0.0, rng), film_on_card(WHITE, 0.05, 1.5, 0.0, rng)], base=BASE
    )
    assert fit.shows[0] < 4.0 < fit.shows[1]
    assert fit.strength.s_per_mm_pct[15] == pytest.approx(10.0, rel=0.1)


def test_vanishing_refusals() -> None:
    with pytest.raises(BenchError, match="thickness: 0 mm"):
        vanishing_scale(PEARL, load_pct=0.5, vanishing_mm=0.0, base=BASE)
    with pytest.raises(BenchError, match="load: 0 %"):
        vanishing_scale(PEARL, load_pct=0.0, vanishing_mm=3.0, base=BASE)
    with pytest.raises(BenchError, match="no strength lets a line vanish"):
        vanishing_scale(PEARL, load_pct=0.5, vanishing_mm=1e-6, base=BASE)
    with pytest.raises(BenchError, match="deep colour"):
        rough_strength("#zz", load_pct=0.5, vanishing_mm=3.0, base=BASE)
