"""Load windows: how robustly they are found, and what they say when there is none."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.colour.bands import flat
from bench.colour.flake import Flaked
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.views import Section, look
from bench.colour.window import Cause, Opener, Window, load_window
from bench.errors import BenchError
from tests.colour.media import BASE, BLUE, BROWN_DYE, GREEN_DYE, OLIVE_DYE, PEARL, RED, SMOKE, WHITE

SECTION = Section(body_mm=9.5, core_mm=3.5)
CORES = {
    "blue": ((BLUE, 0.5), (WHITE, 0.1)),
    "white": ((WHITE, 0.5),),
    "black": ((SMOKE, 5.0),),
    "red": ((RED, 0.5),),
}
Doses = tuple[tuple[Strength, float], ...]


def loaded(doses: Doses, factor: float = 1.0) -> list[Loaded]:
    return [Loaded(strength=strength, load_pct=factor * load) for strength, load in doses]


def medium(doses: Doses, factor: float = 1.0) -> Medium:
    return mix(BASE, loaded(doses, factor))


def window(
    doses: Doses,
    core: str = "blue",
    *,
    section: Section = SECTION,
    tint: float = 5.0,
    visible: float = 5.0,
    flaked: Flaked | None = None,
) -> Window:
    return load_window(
        base=BASE,
        doses=loaded(doses),
        core=medium(CORES[core]),
        section=section,
        flaked=flaked,
        tint_at_least=tint,
        visible_at_least=visible,
    )


def at(doses: Doses, core: str, factor: float, section: Section = SECTION) -> tuple[float, float]:
    views = look(shell=medium(doses, factor), base=BASE, core=medium(CORES[core]), section=section).core
    assert views is not None
    return views.tint, views.visibility


def test_the_ends_lie_on_their_thresholds() -> None:
    doses: Doses = ((OLIVE_DYE, 0.2), (PEARL, 0.1))
    found = window(doses)
    assert found.low_factor is not None
    assert found.high_factor is not None
    assert found.bounded_low
    assert found.bounded_high
    assert at(doses, "blue", found.low_factor)[0] == pytest.approx(5.0, abs=0.01)
    assert at(doses, "blue", found.high_factor)[1] == pytest.approx(5.0, abs=0.01)
    assert (found.tint, found.visibility) == at(doses, "blue", 1.0)
    assert found.main_load_pct == 0.2
    assert found.low_pct == pytest.approx(0.2 * found.low_factor)
    assert found.high_pct == pytest.approx(0.2 * found.high_factor)


@settings(deadline=None)
@given(
    dye=st.sampled_from([GREEN_DYE, OLIVE_DYE, BROWN_DYE, SMOKE, RED]),
    dye_pct=st.floats(0.005, 1.0),
    pearl_pct=st.floats(0.0, 0.3),
    core=st.sampled_from(sorted(CORES)),
    wall_mm=st.floats(1.0, 4.0),
)
def test_inside_both_hold_and_just_outside_one_does_not(
    dye: Strength, dye_pct: float, pearl_pct: float, core: str, wall_mm: float
) -> None:
    doses: Doses = ((dye, dye_pct), (PEARL, pearl_pct))
    section = Section(body_mm=3.5 + 2 * wall_mm, core_mm=3.5)
    found = window(doses, core, section=section)
    if found.low_factor is None or found.high_factor is None:
        assert found.cause is not None
        return
    for factor in (found.low_factor, (found.low_factor * found.high_factor) ** 0.5, found.high_factor):
        tint, visible = at(doses, core, factor, section)
        assert tint >= 5.0 - 1e-9
        assert visible >= 5.0 - 1e-9
    if found.bounded_low:
        assert min(at(doses, core, found.low_factor * 0.999, section)) < 5.0
    if found.bounded_high:
        assert min(at(doses, core, found.high_factor * 1.001, section)) < 5.0


@settings(deadline=None)
@given(
    dye=st.sampled_from([GREEN_DYE, OLIVE_DYE, BROWN_DYE, SMOKE]),
    dye_pct=st.floats(0.0, 0.5),
    pearl_pct=st.floats(0.05, 0.5),
    core=st.sampled_from(sorted(CORES)),
    more=st.floats(1.05, 3.0),
)
def test_with_pearl_visibility_falls_with_the_load_and_the_wall(
    dye: Strength, dye_pct: float, pearl_pct: float, core: str, more: float
) -> None:
    # Not sure in general (the module says why); with a pearl that scatters 0.15 a mm or more it holds.
    doses: Doses = ((dye, dye_pct), (PEARL, pearl_pct))
    assert at(doses, core, more)[1] < at(doses, core, 1.0)[1]
    thicker = Section(body_mm=SECTION.core_mm + 2 * more * SECTION.wall_mm, core_mm=SECTION.core_mm)
    assert at(doses, core, 1.0, thicker)[1] < at(doses, core, 1.0)[1]


@settings(deadline=None)
@given(st.floats(0.02, 0.3), st.floats(0.1, 10.0))
def test_the_same_recipe_at_another_strength_has_the_same_window_in_percent(load: float, factor: float) -> None:
    doses: Doses = ((OLIVE_DYE, load), (PEARL, load / 2))
    one, other = window(doses), window(tuple((s, factor * x) for s, x in doses))
    assert one.low_pct == pytest.approx(other.low_pct, rel=1e-3)
    assert one.high_pct == pytest.approx(other.high_pct, rel=1e-3)


def test_a_thinner_wall_opens_the_window_wider() -> None:
    doses: Doses = ((OLIVE_DYE, 0.1), (PEARL, 0.1))
    highs = [
        window(doses, section=Section(body_mm=3.5 + 2 * wall, core_mm=3.5)).high_factor for wall in (3.0, 2.0, 1.0)
    ]
    assert all(a is not None and b is not None and a < b for a, b in itertools.pairwise(highs))


def test_flake_narrows_the_window() -> None:
    doses: Doses = ((OLIVE_DYE, 0.1), (PEARL, 0.1))
    bare, strewn = window(doses), window(doses, flaked=Flaked(eta_per_mm=0.3, reflectance=flat(0.5)))
    assert bare.high_factor is not None
    assert strewn.high_factor is not None
    assert strewn.high_factor < bare.high_factor


@settings(deadline=None, max_examples=40)
@given(
    hue=st.sampled_from([BLUE, RED, GREEN_DYE, OLIVE_DYE, BROWN_DYE, SMOKE]),
    core=st.sampled_from(sorted(CORES)),
    pearl=st.floats(0.0, 0.3),
    eta=st.floats(0.01, 0.6),
    face=st.floats(0.05, 0.9),
)
def test_a_window_with_flake_lies_inside_the_one_without(
    hue: Strength, core: str, pearl: float, eta: float, face: float
) -> None:
    doses: Doses = ((hue, 0.1), (PEARL, pearl))
    bare = window(doses, core)
    strewn = window(doses, core, flaked=Flaked(eta_per_mm=eta, reflectance=flat(face)))
    if strewn.low_factor is None or strewn.high_factor is None:
        return
    assert bare.low_factor is not None
    assert bare.high_factor is not None
    if bare.single:
        assert strewn.low_factor >= bare.low_factor * 0.999
        assert strewn.high_factor <= bare.high_factor * 1.001


def test_too_dense_says_so_and_what_would_open_it() -> None:
    doses: Doses = ((PEARL, 0.2),)
    found = window(doses, tint=10.0, visible=30.0)
    assert found.cause is Cause.TOO_DENSE
    assert Opener.THINNER_WALL in found.openers
    assert found.opening_wall_mm is not None
    assert found.opening_wall_mm < SECTION.wall_mm
    thinner = Section(body_mm=9.5, core_mm=9.5 - 2 * found.opening_wall_mm)
    opened = window(doses, tint=10.0, visible=30.0, section=thinner)
    assert opened.low_factor is not None
    assert opened.high_factor is not None
    assert found.opening_factor is not None
    assert opened.low_factor <= found.opening_factor <= opened.high_factor


def test_less_pearl_opens_where_pearl_is_what_hides() -> None:
    doses: Doses = ((GREEN_DYE, 0.05), (PEARL, 0.5))
    found = window(doses, "white", tint=10.0, visible=15.0)
    assert found.cause is Cause.TOO_DENSE
    assert Opener.LESS_PEARL in found.openers
    assert Opener.LIGHTER_CORE not in found.openers, "it is white already"
    dye_alone = window(((GREEN_DYE, 0.05), (PEARL, 0.125)), "white", tint=10.0, visible=15.0)
    assert dye_alone.cause is None


def test_no_contrast_asks_for_another_core() -> None:
    found = load_window(
        base=BASE,
        doses=loaded(((PEARL, 0.1),)),
        core=mix(BASE),
        section=SECTION,
        visible_at_least=5.0,
        tint_at_least=1.0,
    )
    assert found.cause is Cause.NO_CONTRAST
    assert Opener.DARKER_CORE in found.openers


def test_a_shell_without_colour_never_tints() -> None:
    assert window(()).cause is Cause.NO_COLOUR
    assert window(((PEARL, 0.0),)).cause is Cause.NO_COLOUR
    assert window(((PEARL, 0.2),), "white").cause is Cause.TOO_WEAK


def test_no_load_beyond_a_full_cup() -> None:
    feeble = Strength(k_per_mm_pct=flat(1e-4), s_per_mm_pct=flat(0.0))
    found = window(((feeble, 60.0),), tint=0.2)
    assert found.high_pct == pytest.approx(100.0)
    assert not found.bounded_high


def test_what_cannot_be_is_refused_by_name() -> None:
    with pytest.raises(BenchError, match=r"rod: 9\.5 mm does not leave a wall"):
        window(((PEARL, 0.1),), section=Section(body_mm=9.5, core_mm=9.5))
    with pytest.raises(BenchError, match="loads: 120 % together"):
        window(((PEARL, 120.0),))
