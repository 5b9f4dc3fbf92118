"""A recipe's look: the records' sections and loads, the colour package's numbers, and words for every case."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bench.colour.difference import de2000
from bench.colour.flake import Flaked, eta_per_mm
from bench.colour.layers import Medium, film, over
from bench.colour.mix import Loaded, Strength, mix
from bench.colour.recover import from_hex
from bench.colour.saunderson import inside
from bench.colour.swatch import Swatch as Film
from bench.colour.swatch import strength_from
from bench.colour.views import BACKGROUND, Section, Seen, contrast_ratio, look, seen
from bench.colour.window import Opener, load_window
from bench.errors import BenchError
from bench.model.mould import Drawn
from bench.model.recipe import Build, Part, Tail
from bench.plan.look_records import Near, Place, RecipeLook, View, ViewName
from bench.plan.look_words import advice, look_warnings
from bench.plan.strengths import CLEAR
from tests.plan.bench_records import MOULD
from tests.plan.looks import BODY, COLOURANTS, RED_CORE, Doses, look_of

SECTION = Section(body_mm=10.0, core_mm=4.0, tail_mm=2.0)


def strength(name: str) -> Strength:
    """The colour package's own fit of a colourant's films."""
    return strength_from(
        [
            Film(
                load_pct=each.load_pct,
                thickness_mm=each.thickness_mm,
                over_white=each.over_white,
                over_black=each.over_black,
                white_card=each.white_card,
                black_card=each.black_card,
            )
            for each in COLOURANTS[name].swatch
        ],
        base=CLEAR,
    ).strength


def loaded(doses: Doses) -> list[Loaded]:
    return [Loaded(strength=strength(name), load_pct=load) for name, load in doses.items()]


def medium(doses: Doses) -> Medium:
    return mix(CLEAR, loaded(doses))


def shows(view: View, wanted: Seen) -> bool:
    return (view.hex, view.lab, view.clipped) == (wanted.hex, wanted.lab, wanted.clipped)


def by_name(views: tuple[View, ...]) -> dict[ViewName, View]:
    return {view.name: view for view in views}


def test_a_cored_bait_has_the_colour_packages_numbers() -> None:
    found = look_of(Build.CORE)
    wanted = look(shell=medium(BODY), base=CLEAR, core=medium(RED_CORE), section=SECTION)
    assert wanted.core is not None
    (side,) = found.sides
    assert side.side is Part.SHELL
    assert found.section == SECTION
    assert (side.core_visibility, side.shell_tint, side.third_colour, side.contrast_ratio) == (
        wanted.core.visibility,
        wanted.core.tint,
        wanted.core.third_colour,
        wanted.contrast_ratio,
    )
    views = by_name(side.views)
    assert wanted.tail_kept is not None
    assert shows(views[ViewName.CUP], wanted.cup)
    assert shows(views[ViewName.SHELL_ALONE], wanted.shell_alone)
    assert shows(views[ViewName.OVER_CORE], wanted.core.over_core)
    assert shows(views[ViewName.CORE_IN_CLEAR], wanted.core.core_in_base)
    assert shows(views[ViewName.TAIL], wanted.tail_kept)
    core = by_name(found.core_views)
    assert shows(core[ViewName.CUP], wanted.core.core_cup)
    assert shows(core[ViewName.CORE_ALONE], wanted.core.core_alone)
    assert ViewName.TAIL not in core
    assert side.core_visibility == de2000(views[ViewName.OVER_CORE].lab, views[ViewName.SHELL_ALONE].lab)


def test_the_window_is_the_colour_packages_and_told_in_grams_and_drops() -> None:
    found = look_of(Build.CORE, cups_g={Part.SHELL: 250.0}).sides[0].window
    brown, pearl = loaded(BODY)
    wanted = load_window(base=CLEAR, doses=[brown], held=[pearl], core=medium(RED_CORE), section=SECTION)
    assert found is not None
    assert found.low is not None
    assert found.high is not None
    assert (found.low.load_pct, found.high.load_pct, found.now.load_pct) == (
        wanted.low_pct,
        wanted.high_pct,
        wanted.main_load_pct,
    )
    assert (found.colourant, found.title, found.others) == ("brown", "Brown", True)
    assert found.now.mass_g == pytest.approx(0.25)
    assert found.now.drops == pytest.approx(0.25 / 0.03)
    assert found.high.mass_g == pytest.approx(2.5 * found.high.load_pct)
    assert look_of(Build.CORE).sides[0].window == replace(
        found,
        now=replace(found.now, mass_g=None, drops=None),
        low=replace(found.low, mass_g=None, drops=None),
        high=replace(found.high, mass_g=None, drops=None),
    )


def test_the_window_stays_where_it_is_while_the_dose_that_it_tells_of_moves() -> None:
    windows = [
        look_of(Build.CORE, shell={"brown": load, "white": 0.01}).sides[0].window for load in (0.02, 0.1, 0.4)
    ]
    highs = [each.high.load_pct for each in windows if each is not None and each.high is not None]
    assert len(highs) == 3
    assert highs == [pytest.approx(highs[0], rel=2e-3)] * 3
    assert {each.colourant for each in windows if each is not None} == {"brown"}


def test_the_window_can_be_that_of_another_colour_of_the_shell() -> None:
    window = look_of(Build.CORE, moving="pearl").sides[0].window
    assert window is not None
    assert (window.colourant, window.now.load_pct) == ("pearl", BODY["pearl"])
    elsewhere = look_of(Build.CORE, moving="red").sides[0].window
    assert elsewhere is not None
    assert elsewhere.colourant == "brown", "the shell does not hold what moves"


@pytest.mark.parametrize(("share", "near"), [(0.84, None), (0.87, Near.DENSE), (1.0, Near.DENSE)])
def test_near_the_dense_end_it_is_said(share: float, near: Near | None) -> None:
    window = look_of(Build.CORE, shell={"brown": 0.1}).sides[0].window
    assert window is not None
    assert window.high is not None
    found = look_of(Build.CORE, shell={"brown": share * window.high.load_pct}).sides[0]
    assert found.window is not None
    assert found.window.near is near
    assert ("near the dense end" in found.advice) is (near is not None)
    assert ("weigh it so" in found.advice) is (near is None)


def test_near_the_thin_end_it_is_said() -> None:
    window = look_of(Build.CORE, shell={"brown": 0.1}).sides[0].window
    assert window is not None
    assert window.low is not None
    found = look_of(Build.CORE, shell={"brown": 1.1 * window.low.load_pct})
    assert "near the thin end: weigh it closely, or take about 0." in found.advice


def test_a_powder_has_grams_and_no_drops() -> None:
    window = look_of(Build.CORE, cups_g={Part.SHELL: 200.0}, shell={"pearl": 0.1}).sides[0].window
    assert window is not None
    assert window.now.mass_g == pytest.approx(0.2)
    assert window.now.drops is None


def test_a_cut_tail_has_the_cores_colour_and_a_kept_one_the_shells() -> None:
    wanted = look(shell=medium(BODY), base=CLEAR, core=medium(RED_CORE), section=SECTION)
    cut = look_of(Build.CORE, Tail.CUT)
    assert cut.tail is Tail.CUT
    assert wanted.tail_cut is not None
    assert shows(by_name(cut.core_views)[ViewName.TAIL], wanted.tail_cut)
    assert ViewName.TAIL not in by_name(cut.sides[0].views)


def test_a_mould_without_tails_has_no_tail_view() -> None:
    bare = replace(MOULD, section=replace(MOULD.section, tail_mm=None), drawn=replace_tail())
    assert all(view.name is not ViewName.TAIL for view in look_of(Build.CORE, mould=bare).views)
    with pytest.raises(BenchError, match="have no tail"):
        look_of(Build.CORE, Tail.CUT, mould=bare)


def replace_tail() -> Drawn:
    assert MOULD.drawn is not None
    return replace(MOULD.drawn, tail_length_mm=None, tail_width_mm=None)


def test_a_plain_bait_has_one_side_and_nothing_of_a_core() -> None:
    found = look_of(Build.PLAIN)
    (side,) = found.sides
    assert [view.name for view in side.views] == [ViewName.CUP, ViewName.BODY, ViewName.TAIL]
    assert found.core_views == ()
    assert found.tail is None
    assert (side.core_visibility, side.shell_tint, side.third_colour, side.window) == (None,) * 4
    assert side.contrast_ratio == contrast_ratio(medium(BODY), 10.0)


def test_a_laminate_shows_each_side_whole_and_its_half_before_the_other() -> None:
    found = look_of(Build.LAMINATE, side_a={"white": 0.4}, side_b={"brown": 0.3})
    a, b = found.sides
    assert (a.side, b.side) == (Part.SIDE_A, Part.SIDE_B)
    white, brown = medium({"white": 0.4}), medium({"brown": 0.3})
    # Shares of 60 and 40 % of a body of 10 mm.
    assert shows(
        by_name(b.views)[ViewName.OVER_OTHER],
        seen(over(film(brown, 4.0), over(film(white, 6.0), BACKGROUND))),
    )
    assert shows(
        by_name(a.views)[ViewName.OVER_OTHER],
        seen(over(film(white, 6.0), over(film(brown, 4.0), BACKGROUND))),
    )
    assert shows(by_name(b.views)[ViewName.BODY], seen(over(film(brown, 10.0), BACKGROUND)))
    assert b.contrast_ratio == contrast_ratio(brown, 4.0)


def test_laminate_core_work_has_a_window_a_side_and_the_worst_speaks() -> None:
    found = look_of(Build.LAMINATE_CORE, shell_a={"brown": 0.1}, shell_b={"pearl": 1.0, "brown": 0.01})
    a, b = found.sides
    assert a.window is not None
    assert b.window is not None
    assert a.window.place is Place.INSIDE
    assert b.window.place is not Place.INSIDE
    assert found.worst is b
    assert found.advice == f"shell B: {b.advice}"
    assert found.advices == (f"shell A: {a.advice}", f"shell B: {b.advice}")
    turned = look_of(Build.LAMINATE_CORE, shell_b={"brown": 0.1}, shell_a={"pearl": 1.0, "brown": 0.01})
    assert turned.worst.side is Part.SHELL_A
    alone = look_of(Build.CORE, shell={"brown": 0.1}).sides[0]
    assert (alone.core_visibility, alone.window) == (a.core_visibility, a.window), "a side is a shell of its own"


def test_flake_dims_the_core_by_its_own_size_and_load() -> None:
    plain, flaked = look_of(Build.CORE), look_of(Build.CORE, shell={**BODY, "flake": 0.6})
    assert flaked.sides[0].core_visibility is not None
    assert plain.sides[0].core_visibility is not None
    assert flaked.sides[0].core_visibility < plain.sides[0].core_visibility
    # 0.6 g in 100 g of plastic of 1.03 g/ml; the window scales dyes and pearls, not the flake.
    strewn = Flaked(
        eta_per_mm=eta_per_mm(flake_g=0.6, plastic_ml=100 / 1.03), reflectance=inside(from_hex("#c8c8c8"))
    )
    wanted = look(shell=medium(BODY), base=CLEAR, core=medium(RED_CORE), section=SECTION, flaked=strewn)
    assert wanted.core is not None
    assert flaked.sides[0].core_visibility == pytest.approx(wanted.core.visibility, rel=1e-12)
    assert flaked.sides[0].window is not None
    assert flaked.sides[0].window.colourant == "brown"


def test_flake_that_nobody_described_is_left_out_and_said() -> None:
    found = look_of(Build.CORE, shell={**BODY, "nameless-flake": 0.6})
    assert found.sides[0].core_visibility == look_of(Build.CORE).sides[0].core_visibility
    assert found.notes == ("Nameless flake has no size and colour in its profile: it is left out.",)


def test_what_light_cannot_tell_is_said() -> None:
    notes = look_of(Build.CORE, core={"glow": 1.0}, shell={**BODY, "flake": 0.1}).notes
    assert notes[0] == "Glow is fluorescent: the light it adds is not reckoned, it will look brighter."
    # By hand: hexagons of 1 mm across flats, 0.866 mm2, of 0.0254 mm at 1.39 g/ml are 32,705 to the gram; 0.1 % of
    # them in 100 / 1.03 ml are eta = 0.5 x 0.1 / (1.39 x 0.0254) x 1.03 / 100 = 0.0146 to the mm of wall.
    hidden = 1 - math.exp(-0.014587 * SECTION.wall_mm)
    assert notes[1] == (
        "Flake in the shell: about 33 flakes in each gram of bait, which hide "
        f"{100 * hidden:.0f} % of the core and leave {1 - hidden:.2f} of how far it shows."
    )
    (core,) = look_of(Build.CORE, core={**RED_CORE, "flake": 0.1}).notes
    assert core == "Flake in the core: about 33 flakes in each gram of bait, left out of the core's look."
    (body,) = look_of(Build.PLAIN, body={**BODY, "flake": 0.1}).notes
    assert "which cover 1" in body


RIDDLE = "The look of Riddle is unknown: it has no swatch; pour a film and read it over white and over black card."


def test_a_shell_that_nobody_has_read_is_unknown_and_no_error() -> None:
    found = look_of(Build.CORE, shell={"brown": 0.1, "riddle": 0.1})
    (side,) = found.sides
    assert side.views == ()
    assert (side.core_visibility, side.contrast_ratio, side.window) == (None, None, None)
    assert found.unknown == side.unknown == (RIDDLE,)
    assert found.advice == RIDDLE
    assert [view.name for view in found.core_views] == [ViewName.CUP, ViewName.CORE_ALONE], "the core is known"
    assert tuple(look_warnings(found)) == ()


def test_an_unknown_core_leaves_what_is_known_of_the_shell() -> None:
    found = look_of(Build.CORE, core={"riddle": 1.0})
    (side,) = found.sides
    assert [view.name for view in side.views] == [ViewName.CUP, ViewName.SHELL_ALONE, ViewName.TAIL]
    assert side.window is None
    assert found.core_views == ()
    assert found.advice == RIDDLE


def test_one_unknown_side_speaks_unless_the_other_needs_something_done() -> None:
    calm = look_of(Build.LAMINATE_CORE, shell_a={"brown": 0.1}, shell_b={"riddle": 0.1})
    assert calm.worst.side is Part.SHELL_A
    assert calm.advice == f"shell B: {RIDDLE}"
    astray = look_of(Build.LAMINATE_CORE, shell_a={"pearl": 1.0, "brown": 0.01}, shell_b={"riddle": 0.1})
    assert astray.advice.startswith("shell A: ")
    half = look_of(Build.LAMINATE, side_a={"white": 0.4}, side_b={"riddle": 0.3})
    assert ViewName.OVER_OTHER not in by_name(half.sides[0].views)


def test_fits_say_how_well_swatches_agree() -> None:
    fits = {fit.colourant: fit for fit in look_of(Build.CORE).fits}
    assert set(fits) == {"brown", "pearl", "red", "white"}
    assert fits["brown"].films == 2
    assert fits["brown"].agreement is not None
    assert fits["brown"].agreement < 1.5


def said(look: RecipeLook) -> tuple[str, tuple[str, ...]]:
    return look.advice, tuple(look_warnings(look))


def test_inside_its_window_it_is_weighed_so_and_nothing_is_warned_of() -> None:
    words, warned = said(look_of(Build.CORE))
    assert words.startswith("Brown at 0.1 % is inside its window, up to 0.")
    assert words.endswith(" % (the shell's other colours as they are): weigh it so.")
    alone, _ = said(look_of(Build.CORE, shell={"brown": 0.1}))
    assert alone.startswith("Brown at 0.1 % is inside its window, 0.0")
    assert warned == ()


def test_above_its_window_the_core_hides() -> None:
    found = look_of(Build.CORE, shell={"brown": 0.5, "pearl": 0.5}, cups_g={Part.SHELL: 200.0})
    window = found.sides[0].window
    assert window is not None
    assert window.place is Place.ABOVE
    assert window.high is not None
    assert window.high.mass_g is not None
    words, (warning,) = said(found)
    assert window.together is not None
    all_to = f"{window.together[1]:.2g}"
    high = f"{window.high.load_pct:.2g} % ({window.high.mass_g:.2f} g, less than a drop"
    assert words == (
        f"Too dense, the core will hide: bring Brown down from 0.5 % to {high} in this cup) or less "
        f"(the shell's other colours as they are), or all of them together to {all_to} times their loads or less."
    )
    scaled = {"brown": 0.5 * window.together[1], "pearl": 0.5 * window.together[1]}
    assert look_of(Build.CORE, shell=scaled).sides[0].core_visibility == pytest.approx(5.0, abs=0.02)
    assert warning.startswith(
        "The shell tints too much and the core will hide: Brown at 0.5 % is above its window"
    )


def test_below_its_window_the_shell_hardly_tints() -> None:
    words, (warning,) = said(look_of(Build.CORE, shell={"brown": 0.005}))
    assert words.startswith("Too thin, the shell hardly tints: bring Brown up from 0.005 % to 0.0")
    assert words.endswith("% or more.")
    assert warning.startswith("The shell hardly tints over the core: Brown at 0.005 % is below its window")


@pytest.mark.parametrize(
    ("shell", "core", "why"),
    [
        ({}, RED_CORE, "the shell has no colour that could tint"),
        ({"white": 0.2}, {"white": 3.0}, "the shell never tints enough over this core"),
        ({"pearl": 0.1}, {"pearl": 0.02}, "the core never shows enough in this shell"),
    ],
)
def test_an_empty_window_says_why(shell: Doses, core: Doses, why: str) -> None:
    found = look_of(Build.CORE, shell=shell, core=core)
    window = found.sides[0].window
    assert window is not None
    assert (window.place, window.low, window.high, window.why_empty) == (Place.EMPTY, None, None, why)
    words, (warning,) = said(found)
    assert words.startswith(f"No load of this shell will do: {why}; ")
    assert why in warning


def test_an_empty_window_says_what_opens_it() -> None:
    found = look_of(Build.CORE, shell={"pearl": 0.2}, core={"pearl": 0.3})
    dense = "by the load at which the shell tints, the core no longer shows"
    assert found.advice == f"No load of this shell will do: {dense}; a darker core would do it."
    window = found.sides[0].window
    assert window is not None
    every = replace(window, openers=tuple(Opener), opening_wall_mm=1.93)
    assert advice(window=every, visibility=1.0, tint=1.0, contrast_ratio=0.5, unknown=()).endswith(
        "; a wall of 1.9 mm or less, a quarter of what hazes the shell, a lighter core or a darker core "
        "would do it."
    )
    other = replace(every, openers=(Opener.THINNER_WALL,), opening_load_pct=0.021)
    assert advice(window=other, visibility=1.0, tint=1.0, contrast_ratio=1.0, unknown=()).endswith(
        f"; a wall of 1.9 mm or less with {window.title} at about 0.021 % would do it."
    )
    only = replace(other, opening_wall_mm=2.96, opening_load_pct=window.now.load_pct)
    assert "a wall of 2.9 mm or less would do it" in advice(
        window=only, visibility=1.0, tint=1.0, contrast_ratio=1.0, unknown=()
    ), "2.96 mm is never rounded up to a wall of 3.0 mm"
    none = replace(window, openers=())
    assert advice(window=none, visibility=1.0, tint=1.0, contrast_ratio=0.5, unknown=()).endswith(
        "; choose another shell or another core."
    )


def test_the_words_follow_what_falls_short() -> None:
    window = look_of(Build.CORE, shell={"brown": 0.5, "pearl": 0.5}).sides[0].window
    assert window is not None

    def begins(visibility: float, tint: float) -> str:
        words = advice(window=window, visibility=visibility, tint=tint, contrast_ratio=0.5, unknown=())
        return words.partition(": ")[0]

    assert begins(1.0, 9.0) == "Too dense, the core will hide"
    assert begins(9.0, 1.0) == "Too dense, the shell hardly tints"
    assert begins(1.0, 1.0) == "Too dense, the core hardly shows and the shell hardly tints"


def test_a_body_that_hides_and_one_that_does_not() -> None:
    assert look_of(Build.PLAIN, body={"white": 2.0}).advice == "It hides what lies behind it."
    assert look_of(Build.PLAIN, body={"brown": 0.02}).advice.startswith("Light passes through it")


def test_a_thinner_wall_shows_the_core_better() -> None:
    # Common practice, no source: one-sided claims, checked with the rod grown and the body kept.
    assert MOULD.rods is not None
    wide = replace(MOULD, rods=replace(MOULD.rods, diameter_mm=6.0))
    thick, thin = look_of(Build.CORE).sides[0], look_of(Build.CORE, mould=wide).sides[0]
    assert thick.core_visibility is not None
    assert thin.core_visibility is not None
    assert thin.core_visibility > thick.core_visibility


def test_what_does_not_go_together_is_one_sentence() -> None:
    with pytest.raises(BenchError, match="has no core rods"):
        look_of(Build.CORE, mould=replace(MOULD, rods=None))
    with pytest.raises(BenchError, match="only core work cuts"):
        look_of(Build.PLAIN, Tail.CUT)
    with pytest.raises(BenchError, match='no colourant is called "mauve"'):
        look_of(Build.CORE, shell={"mauve": 0.1})
