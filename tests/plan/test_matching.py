"""Doses to a target in a mould's section: a look that was made is met, and additions are weighed out right."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.difference import de2000
from bench.colour.doses import addition_g
from bench.colour.lab import lab_from_hex
from bench.colour.target import MOST_TOTAL_PCT
from bench.errors import BenchError
from bench.model.recipe import Build
from bench.plan.look_records import ViewName
from bench.plan.matching import Match, match_colour
from bench.plan.strengths import part_colour
from bench.plan.vessel import vessel_room_g
from tests.plan.bench_records import MOULD, PLASTIC, STATION
from tests.plan.looks import COLOURANTS, RED_CORE, cup, look_of

CORE = part_colour(cup(RED_CORE), colourants=COLOURANTS, plastic=PLASTIC).medium


def match(
    target: str,
    *names: str,
    over_core: bool = False,
    already: dict[str, float] | None = None,
    cup_g: float | None = None,
    most: float = 8.0,
    room_g: float | None = None,
) -> Match:
    return match_colour(
        target,
        names=names,
        mould=MOULD,
        plastic=PLASTIC,
        colourants=COLOURANTS,
        core=CORE if over_core else None,
        already_pct=already,
        cup_g=cup_g,
        most_total_pct=most,
        room_g=room_g,
    )


def loads(found: Match) -> dict[str, float]:
    return {each.colourant: each.load_pct for each in found.additions}


def test_a_solid_bait_that_was_made_is_met() -> None:
    made = next(
        v for v in look_of(Build.PLAIN, body={"brown": 0.1, "white": 0.03}).views if v.name is ViewName.BODY
    )
    found = match(made.hex, "brown", "white")
    assert found.off < 0.5, "a hex is a rounded colour"
    assert loads(found) == {"brown": pytest.approx(0.1, rel=0.15), "white": pytest.approx(0.03, rel=0.3)}
    assert found.off == de2000(lab_from_hex(made.hex), found.lab)


def test_a_shell_over_a_core_that_was_made_is_met_as_it_is_seen_there() -> None:
    made = next(
        v for v in look_of(Build.CORE, shell={"brown": 0.12, "pearl": 0.05}).views if v.name is ViewName.OVER_CORE
    )
    found = match(made.hex, "brown", "pearl", over_core=True)
    assert found.off < 0.6
    assert loads(found)["brown"] == pytest.approx(0.12, rel=0.25)


def test_what_cannot_be_met_says_which_way_it_misses() -> None:
    found = match("#2030c0", "brown", "white")
    assert found.off > 20
    assert found.misses[0].startswith("too ")
    assert "too dull" in found.misses


def test_an_empty_cup_is_weighed_for_the_whole() -> None:
    found = match("#8a6a40", "brown", "white", cup_g=250.0)
    assert found.cup_g == 250.0
    for each in found.additions:
        assert each.mass_g == pytest.approx(2.5 * each.load_pct)
        assert each.drops == pytest.approx(2.5 * each.load_pct / 0.03)
        assert each.added_pct == each.load_pct
    assert [each.mass_g for each in match("#8a6a40", "brown", "white").additions] == [None, None]


def test_one_addition_is_the_dose_formulas() -> None:
    found = match("#302010", "brown", already={"brown": 0.1}, cup_g=200.0)
    (brown,) = found.additions
    assert brown.load_pct > 0.1
    grown_g = addition_g(from_pct=0.1, to_pct=brown.load_pct, cup_g=200.0)
    assert brown.mass_g == pytest.approx(grown_g)
    assert found.cup_g == pytest.approx(200.0 + grown_g)


def test_additions_of_several_end_at_their_loads() -> None:
    found = match("#54351c", "brown", "white", already={"brown": 0.05}, cup_g=200.0)
    in_cup_g = {"brown": 0.1, "white": 0.0}
    assert found.cup_g is not None
    for each in found.additions:
        assert each.mass_g is not None
        assert 100 * (in_cup_g[each.colourant] + each.mass_g) / found.cup_g == pytest.approx(each.load_pct)
    assert found.cup_g == pytest.approx(200.0 + sum(each.mass_g or 0.0 for each in found.additions))


def test_what_is_in_the_cup_and_not_to_be_added_counts_in_its_colour() -> None:
    target = "#8a6a40"
    clean = match(target, "brown", "white")
    dirty = match(target, "brown", "white", already={"red": 1.0})
    assert dirty.off > clean.off + 1
    assert set(loads(dirty)) == {"brown", "white"}


def test_nothing_is_ever_taken_out() -> None:
    found = match("#f0e8d8", "brown", "white", already={"brown": 0.4}, cup_g=100.0)
    assert loads(found)["brown"] >= 0.4
    assert all((each.mass_g or 0.0) >= 0 for each in found.additions)
    assert "too dark" in found.misses or found.off < 1


def test_a_cup_that_holds_too_much_is_thinned_to_what_was_wanted() -> None:
    made = next(v for v in look_of(Build.PLAIN, body={"brown": 0.1}).views if v.name is ViewName.BODY)
    found = match(made.hex, "brown", already={"brown": 1.0}, cup_g=250.0)
    assert found.off > 15
    assert "too dark" in found.misses
    thin = found.thinned
    assert thin is not None
    # A tenth of the load is ten times the cup: 250 g and nine times as much clear plastic.
    assert thin.share == pytest.approx(0.1, rel=0.03)
    assert thin.off < 0.5
    assert thin.cup_g == pytest.approx(2500.0, rel=0.03)
    assert thin.clear_g == pytest.approx(2250.0, rel=0.03)
    assert (thin.part_g, thin.room_g) == (None, None)
    assert [each.is_weighable for each in thin.additions] == [False]


def test_a_thinned_cup_that_overfills_the_vessel_is_made_of_a_part_of_the_old_one() -> None:
    made = next(v for v in look_of(Build.PLAIN, body={"brown": 0.1}).views if v.name is ViewName.BODY)
    thin = match(made.hex, "brown", already={"brown": 1.0}, cup_g=250.0, room_g=240.0).thinned
    assert thin is not None
    assert thin.cup_g == 240.0
    assert thin.part_g == pytest.approx(24.0, rel=0.03)
    assert thin.clear_g == pytest.approx(216.0, rel=0.03)
    fits = match(made.hex, "brown", already={"brown": 1.0}, cup_g=20.0, room_g=240.0).thinned
    assert fits is not None
    assert (fits.part_g, fits.room_g) == (None, 240.0)


def test_what_else_is_in_the_cup_is_thinned_as_well_and_colour_may_follow() -> None:
    made = next(v for v in look_of(Build.PLAIN, body={"brown": 0.1, "red": 0.02}).views if v.name is ViewName.BODY)
    found = match(made.hex, "brown", already={"red": 0.2}, cup_g=100.0)
    thin = found.thinned
    assert thin is not None
    assert thin.off < found.off - 1
    (brown,) = thin.additions
    assert brown.mass_g is not None
    assert thin.cup_g is not None
    assert thin.clear_g is not None
    assert 100.0 + thin.clear_g + brown.mass_g == pytest.approx(thin.cup_g)
    assert 100 * brown.mass_g / thin.cup_g == pytest.approx(brown.load_pct)


def test_a_cup_that_holds_too_little_is_not_thinned() -> None:
    assert match("#54351c", "brown", "white", already={"brown": 0.05}, cup_g=200.0).thinned is None
    assert match("#8a6a40", "brown").thinned is None


def test_without_a_cup_thinning_is_told_as_a_share() -> None:
    thin = match("#8a6a40", "brown", already={"brown": 1.0}).thinned
    assert thin is not None
    assert 0 < thin.share < 0.3
    assert (thin.cup_g, thin.clear_g) == (None, None)


def test_a_cup_of_more_than_the_most_is_thinned_and_nothing_of_it_grows() -> None:
    found = match("#8a6a40", "brown", already={"brown": 9.0})
    assert loads(found) == {"brown": 9.0}
    assert found.thinned is not None


def test_the_most_colour_is_three_percent_unless_more_is_allowed_and_that_is_said() -> None:
    found = match("#000000", "white", "red", most=MOST_TOTAL_PCT)
    assert sum(loads(found).values()) <= MOST_TOTAL_PCT == 3.0
    tight = match("#302010", "brown", most=0.1)
    assert sum(loads(tight).values()) == pytest.approx(0.1, rel=0.01)
    assert tight.is_capped
    assert not match("#8a6a40", "brown", "white").is_capped


def test_over_a_core_it_is_said_whether_that_still_shows() -> None:
    found = match("#8a6a40", "brown", "pearl", over_core=True)
    look = look_of(Build.CORE, shell=loads(found)).sides[0]
    assert look.core_visibility == pytest.approx(found.core_visibility, rel=1e-6)
    assert match("#8a6a40", "brown").core_visibility is None


def test_a_thinned_shell_lets_its_core_show_again() -> None:
    made = next(v for v in look_of(Build.CORE, shell={"brown": 0.12}).views if v.name is ViewName.OVER_CORE)
    found = match(made.hex, "brown", over_core=True, already={"brown": 3.0}, cup_g=50.0)
    assert found.thinned is not None
    assert found.thinned.core_visibility is not None
    look = look_of(Build.CORE, shell={"brown": 3.0 * found.thinned.share}).sides[0]
    assert found.thinned.core_visibility == pytest.approx(look.core_visibility, rel=1e-6)
    assert found.core_visibility is not None
    assert found.core_visibility < 5 < found.thinned.core_visibility


def test_spoons_go_with_what_a_liquid_or_a_powder_weighs() -> None:
    brown, pearl = match("#a08a60", "brown", "pearl", cup_g=250.0).additions
    assert brown.mass_g is not None
    assert pearl.mass_g is not None
    # A US teaspoon holds 4.9289 ml (NIST SP 811); 1.1 and 0.4 g/ml are starting values.
    assert brown.teaspoons == pytest.approx(brown.mass_g / (1.1 * 4.92892))
    assert pearl.teaspoons == pytest.approx(pearl.mass_g / (0.4 * 4.92892))


def test_what_no_scale_shows_is_not_to_be_weighed() -> None:
    found = match("#8a6a40", "brown", "white", cup_g=1.0)
    assert [each.is_weighable for each in found.additions] == [False, False]
    assert all(0 < (each.mass_g or 0) < 0.01 for each in found.additions)
    bare = look_of(Build.PLAIN, body={}).sides[0].seen
    assert bare is not None
    assert found.off_as_weighed == pytest.approx(de2000(found.target, bare.lab))
    assert match("#8a6a40", "brown", "white", cup_g=1000.0).off_as_weighed is None


def test_a_vessel_takes_less_of_hot_plastic_than_of_cold() -> None:
    # Half of 500 ml; 1.03 g/ml at 20 degC, 6e-4 1/K up to the middle of the band: 250 x 1.03 / (1 + 6e-4 x 150).
    vessel = replace(STATION.vessel, volume_ml=500.0, fill_pct=50.0)
    plastic = replace(PLASTIC, density_kg_m3=1030.0, expansion_per_k=6e-4, band_c=(163.0, 177.0))
    assert vessel_room_g(vessel, plastic) == pytest.approx(250 * 1.03 / 1.09)


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("bronw",), 'no colourant is called "bronw"; did you mean "brown"'),
        (("zzz",), 'no colourant is called "zzz"; on the shelf are blue, brown, flake, glow, green'),
        (("riddle",), "the look of Riddle is unknown: it has no swatch"),
        (("flake",), "the look of Flake is unknown: flake is strewn"),
        ((), "colourants: found 0, wanted one to 6"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(names: tuple[str, ...], words: str) -> None:
    with pytest.raises(BenchError) as caught:
        match("#8a6a40", *names)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_other_refusals() -> None:
    with pytest.raises(BenchError, match='colour: "brown" is not a colour'):
        match("brown", "brown")
    with pytest.raises(BenchError, match="has no core rods"):
        match_colour(
            "#8a6a40",
            names=["brown"],
            mould=replace(MOULD, rods=None),
            plastic=PLASTIC,
            colourants=COLOURANTS,
            core=CORE,
        )


def test_a_fluorescent_is_noted() -> None:
    assert "fluorescent" in match("#d0d020", "glow").notes[0]
