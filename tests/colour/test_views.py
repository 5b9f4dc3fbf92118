"""How a recipe looks: the views, and what the trade knows about them."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bench.colour.bands import flat
from bench.colour.difference import de2000
from bench.colour.flake import Flaked
from bench.colour.lab import Lab
from bench.colour.layers import Medium, deep, film, over
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.views import CoreViews, Section, Views, contrast_ratio, look, seen
from bench.errors import BenchError
from tests.colour.media import ALL, BASE, BLUE, BROWN_DYE, GREEN_DYE, OLIVE_DYE, PEARL, SMOKE, WHITE

SECTION = Section(body_mm=9.5, core_mm=3.5, tail_mm=3.0)
BLUE_CORE = mix(BASE, [Loaded(strength=BLUE, load_pct=0.5), Loaded(strength=WHITE, load_pct=0.1)])


def shell(*doses: tuple[Strength, float]) -> Medium:
    return mix(BASE, [Loaded(strength=strength, load_pct=load) for strength, load in doses])


def cored(
    medium: Medium, core: Medium = BLUE_CORE, section: Section = SECTION, flaked: Flaked | None = None
) -> CoreViews:
    found = look(shell=medium, base=BASE, core=core, section=section, flaked=flaked).core
    assert found is not None
    return found


def test_the_views_of_a_cored_bait() -> None:
    views = look(shell=shell((OLIVE_DYE, 0.1)), base=BASE, core=BLUE_CORE, section=SECTION)
    assert views.core is not None
    assert views.tail_kept is not None
    assert views.tail_cut is not None
    assert views.core.visibility == de2000(views.shell_alone.lab, views.core.over_core.lab)
    assert views.core.tint == de2000(views.core.core_in_base.lab, views.core.over_core.lab)
    assert views.core.third_colour == min(
        views.core.visibility, de2000(views.core.core_alone.lab, views.core.over_core.lab)
    )
    assert SECTION.wall_mm == 3.0
    assert views.cup.lab.lightness < views.shell_alone.lab.lightness < views.tail_kept.lab.lightness
    assert 0.0 < views.contrast_ratio < 0.2


def test_a_plain_bait_has_no_core() -> None:
    views = look(shell=shell((GREEN_DYE, 0.1)), base=BASE, section=Section(body_mm=8.0))
    assert views.core is None
    assert views.tail_kept is None
    assert views.tail_cut is None
    assert views.contrast_ratio == contrast_ratio(shell((GREEN_DYE, 0.1)), 8.0)


def test_a_deep_opaque_cup_shows_the_deep_colour() -> None:
    medium = shell((WHITE, 1.0), (BLUE, 1.0))
    views = look(shell=medium, base=BASE, section=SECTION)
    assert views.cup.lab == pytest.approx(seen(deep(medium)).lab, abs=1e-6)


def test_a_core_of_the_shells_own_stuff_is_not_seen() -> None:
    medium = shell((GREEN_DYE, 0.1), (PEARL, 0.05))
    found = cored(medium, core=medium)
    assert found.visibility == pytest.approx(0.0, abs=1e-6)
    assert found.third_colour == pytest.approx(0.0, abs=1e-6)


def test_bare_walls_have_no_tint() -> None:
    assert cored(BASE).tint == 0.0


@pytest.mark.parametrize(
    ("ratio", "k", "s", "d", "white"),
    [
        (0.859647, 0.1, 1.0, 2.0, 0.671347),
        (0.426115, 0.05, 0.5, 1.0, 0.748605),
        (0.598520, 0.02, 0.3, 3.0, 0.753012),
        (0.904815, 1.0, 1.0, 1.0, 0.287514),
    ],
)
def test_contrast_ratio_of_a_neutral(ratio: float, k: float, s: float, d: float, white: float) -> None:
    # R0 / R0.80 of ASTM D2805 (from memory); both by a boundary-value solution. The surface stands between.
    black = ratio * white
    wanted = (black / (1 - 0.6 * black)) / (white / (1 - 0.6 * white))
    assert contrast_ratio(Medium(k_per_mm=flat(k), s_per_mm=flat(s)), d) == pytest.approx(wanted, abs=1e-5)


def test_what_swallows_all_light_hides_all() -> None:
    assert contrast_ratio(Medium(k_per_mm=flat(1e9), s_per_mm=flat(0.0)), 3.0) == 1.0


def _cup_and_contrast(medium: Medium) -> tuple[Lab, float]:
    views: Views = look(shell=medium, base=BASE, core=BLUE_CORE, section=SECTION)
    return views.cup.lab, views.contrast_ratio


def test_a_pearl_side_hides_more_than_a_clear_side_of_equal_look_in_the_cup() -> None:
    # Common practice, no source. A dye alone, and the same dye with pearl, dosed to be as light in the deep cup.
    clear = shell((OLIVE_DYE, 0.02))
    wanted = _cup_and_contrast(clear)[0].lightness
    low, high = 0.001, 5.0
    for _ in range(40):
        load = math.sqrt(low * high)
        darker = _cup_and_contrast(shell((OLIVE_DYE, load), (PEARL, 0.3)))[0].lightness < wanted
        low, high = (low, load) if darker else (load, high)
    pearly = shell((OLIVE_DYE, low), (PEARL, 0.3))
    assert _cup_and_contrast(pearly)[0].lightness == pytest.approx(wanted, abs=0.1)
    assert _cup_and_contrast(pearly)[1] > _cup_and_contrast(clear)[1] + 0.3
    assert cored(pearly).visibility < cored(clear).visibility


@pytest.mark.parametrize("wall_mm", [0.5, 1.0, 2.0, 3.0])
@pytest.mark.parametrize("doses", [((OLIVE_DYE, 0.2),), ((PEARL, 0.1),), ((GREEN_DYE, 0.2), (PEARL, 0.05))])
def test_a_thinner_wall_shows_the_core_better(wall_mm: float, doses: tuple[tuple[Strength, float], ...]) -> None:
    # Common practice, no source. The core keeps its thickness; the body grows with the wall.
    thin, thick = (Section(body_mm=3.5 + 2 * mm, core_mm=3.5) for mm in (wall_mm, 1.25 * wall_mm))
    assert cored(shell(*doses), section=thin).visibility > cored(shell(*doses), section=thick).visibility


@pytest.mark.parametrize("dye", [OLIVE_DYE, BROWN_DYE], ids=["olive", "brown"])
def test_a_blue_core_under_olive_or_brown_reads_as_a_greener_third_colour(dye: Strength) -> None:
    # Common practice, no source: on the green side (less a*) of the shell and of the core alike.
    views = look(shell=shell((dye, 0.08)), base=BASE, core=BLUE_CORE, section=SECTION)
    assert views.core is not None
    assert views.core.third_colour > 8.0
    greenest = min(views.shell_alone.lab.a, views.core.core_alone.lab.a)
    assert views.core.over_core.lab.a < greenest - 2.0


@settings(deadline=None)
@given(
    dye=st.sampled_from([GREEN_DYE, OLIVE_DYE, BROWN_DYE, SMOKE]),
    dye_pct=st.floats(0.002, 0.08),
    pearl_pct=st.floats(0.0, 0.04),
    core=st.sampled_from([((BLUE, 0.5), (WHITE, 0.1)), ((WHITE, 0.5),)]),
    more=st.floats(1.02, 3.0),
)
def test_tint_rises_with_the_load(
    dye: Strength,
    dye_pct: float,
    pearl_pct: float,
    core: tuple[tuple[Strength, float], ...],
    more: float,
) -> None:
    # The rule of thumb. It is no law: over a black core, or once the tint is far beyond any threshold, a stronger
    # wall can look no more different, or a little less.
    rod = shell(*core)
    weak, strong = (cored(shell((dye, f * dye_pct), (PEARL, f * pearl_pct)), core=rod) for f in (1.0, more))
    assume(weak.tint < 20.0)
    assert strong.tint > weak.tint


@settings(deadline=None)
@given(
    kind=st.sampled_from(sorted(ALL)),
    load_pct=st.floats(0.01, 0.5),
    more=st.floats(1.02, 3.0),
    core=st.sampled_from([((BLUE, 0.5), (WHITE, 0.1)), ((WHITE, 0.5),), ((SMOKE, 5.0),)]),
)
def test_in_every_band_a_stronger_near_wall_shrinks_what_differs_behind_it(
    kind: str, load_pct: float, more: float, core: tuple[tuple[Strength, float], ...]
) -> None:
    # The sure part: for fixed things behind, by the theory itself, any colourant, load and thickness.
    behind, other = deep(shell(*core)), flat(0.5)

    def apart(factor: float, mm: float) -> list[float]:
        near = film(shell((ALL[kind], factor * load_pct)), mm)
        return [abs(a - b) for a, b in zip(over(near, behind), over(near, other), strict=True)]

    once, stronger, thicker = apart(1.0, 3.0), apart(more, 3.0), apart(1.0, 3.0 * more)
    assert all(new <= old + 1e-12 for new, old in zip(stronger, once, strict=True))
    assert all(new <= old + 1e-12 for new, old in zip(thicker, once, strict=True))


@settings(deadline=None)
@given(grams=st.floats(0.001, 0.6), more=st.floats(1.05, 3.0))
def test_flake_dims_the_core(grams: float, more: float) -> None:
    medium = shell((OLIVE_DYE, 0.05))
    few, many = (cored(medium, flaked=Flaked(eta_per_mm=f * grams, reflectance=flat(0.6))) for f in (1.0, more))
    assert cored(medium).visibility > few.visibility > many.visibility


@settings(deadline=None)
@given(
    name=st.sampled_from(sorted(ALL)),
    core=st.sampled_from(sorted(ALL)),
    load=st.floats(0.001, 5.0),
    eta=st.floats(0.0, 1.0),
    face=st.floats(0.02, 0.95),
)
def test_no_flake_makes_a_core_show_better(name: str, core: str, load: float, eta: float, face: float) -> None:
    # By geometry: flake lies before a core and before none alike, so a difference comes through the open part.
    medium, rod = shell((ALL[name], load)), shell((ALL[core], 1.0))
    bare = cored(medium, core=rod)
    strewn = cored(medium, core=rod, flaked=Flaked(eta_per_mm=eta, reflectance=flat(face)))
    left = math.exp(-eta * SECTION.wall_mm)
    assert strewn.visibility == pytest.approx(left * bare.visibility, rel=1e-9, abs=1e-12)
    assert strewn.tint <= bare.tint
    assert strewn.third_colour <= bare.third_colour


def test_no_flake_changes_nothing() -> None:
    medium = shell((OLIVE_DYE, 0.05))
    assert cored(medium, flaked=Flaked(eta_per_mm=0.0, reflectance=flat(0.6))) == cored(medium)


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (Section(body_mm=0.0, core_mm=3.0), "body: 0 mm"),
        (Section(body_mm=8.0, core_mm=8.0), "rod: 8 mm does not leave a wall"),
        (Section(body_mm=8.0, core_mm=0.0), "rod: 0 mm"),
        (Section(body_mm=8.0, core_mm=3.0, tail_mm=-1.0), "tail: -1 mm"),
        (Section(body_mm=8.0, core_mm=3.0, cup_mm=0.0), "cup: 0 mm"),
    ],
)
def test_a_section_that_cannot_be_is_refused_by_name(section: Section, words: str) -> None:
    with pytest.raises(BenchError, match=words):
        look(shell=BASE, base=BASE, core=BLUE_CORE, section=section)
