"""Doses to a target in a mould's section: a look that was made is met, and additions are weighed out right."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.colour.difference import de2000
from bench.colour.doses import addition_g
from bench.colour.lab import lab_from_hex
from bench.errors import BenchError
from bench.model.recipe import Build
from bench.plan.look_records import ViewName
from bench.plan.matching import Match, match_colour
from bench.plan.strengths import part_colour
from tests.plan.bench_records import MOULD, PLASTIC
from tests.plan.looks import COLOURANTS, RED_CORE, cup, look_of

CORE = part_colour(cup(RED_CORE), colourants=COLOURANTS, plastic=PLASTIC).medium


def match(
    target: str,
    *names: str,
    over_core: bool = False,
    already: dict[str, float] | None = None,
    cup_g: float | None = None,
    most: float = 8.0,
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


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("bronw",), 'no colourant is called "bronw"; did you mean "brown"'),
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
    with pytest.raises(BenchError, match="more than the 8 % wanted at most"):
        match("#8a6a40", "brown", already={"brown": 9.0})


def test_a_fluorescent_is_noted() -> None:
    assert "fluorescent" in match("#d0d020", "glow").notes[0]
