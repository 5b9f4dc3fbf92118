"""What goes together and what does not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.errors import BenchError
from bench.model.mould import Drawn, Mould, Section
from bench.model.recipe import Build, Part, PartRecipe, Recipe, Tail
from bench.model.station import Room, Station
from bench.plan.records import Ask
from bench.plan.scope import Scope, settle
from bench.plan.spares import spare_baits
from tests.plan.bench_records import MOULD, PLASTIC, STATION, recipe

TAILLESS = replace(
    MOULD, section=Section(body_mm=10.0, gate_mm=4.0), drawn=Drawn(body_length_mm=80.0, runner_ml=5.0)
)


def settled(ask: Ask, *, of: Recipe | None = None, mould: Mould = MOULD, station: Station = STATION) -> Scope:
    return settle(recipe=of or recipe(Build.CORE), mould=mould, plastic=PLASTIC, station=station, ask=ask)


@pytest.mark.parametrize(
    ("count", "spares_pct", "cavities", "rounds"),
    [
        (20, 5.0, 4, 6),
        (20, 0.0, 4, 5),
        (1, 0.0, 4, 1),
        (21, 0.0, 4, 6),
        (100, 10.0, 10, 11),
        (95, 100.0, 10, 19),
        (100, 7.0, 107, 1),
    ],
)
def test_rounds_fill_whole_moulds(count: int, spares_pct: float, cavities: int, rounds: int) -> None:
    # In binary 100 x 7 % is a hair off 7, and 100 x 1.1 off 110.
    scope = settled(Ask(count=count, spares_pct=spares_pct), mould=replace(MOULD, cavities=cavities))
    assert scope.rounds == rounds


@pytest.mark.parametrize(
    ("count", "spares_pct", "spares", "rounds"),
    [
        (8, 5.0, 0, 2),
        (8, 12.49, 0, 2),
        (8, 12.5, 1, 3),
        (19, 5.0, 0, 5),
        (20, 5.0, 1, 6),
        (27, 5.0, 1, 7),
        (28, 5.0, 1, 8),
        (4, 100.0, 4, 2),
    ],
)
def test_less_than_one_spare_bait_opens_no_round(count: int, spares_pct: float, spares: int, rounds: int) -> None:
    """Rounds of four: nobody pours four baits for four tenths of one."""
    assert spare_baits(count, spares_pct) == spares
    assert settled(Ask(count=count, spares_pct=spares_pct)).rounds == rounds


def test_what_is_asked_goes_before_recipe_and_station() -> None:
    left_open = settled(Ask(count=20), of=recipe(Build.CORE, Tail.CUT))
    assert (left_open.tail, left_open.warm_up_shots, left_open.rounds) == (Tail.CUT, 1, 6)
    asked = settled(
        Ask(count=20, tail=Tail.KEPT, warm_up_shots=0, spares_pct=0.0), of=recipe(Build.CORE, Tail.CUT)
    )
    assert (asked.tail, asked.warm_up_shots, asked.rounds) == (Tail.KEPT, 0, 5)


@pytest.mark.parametrize("count", [0, -3, 10_001])
def test_a_count_that_nobody_pours_is_refused(count: int) -> None:
    with pytest.raises(BenchError, match=str(count)):
        settled(Ask(count=count))


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (Ask(count=4, spares_pct=101.0), "101 %"),
        (Ask(count=4, spares_pct=-1.0), "-1 %"),
        (Ask(count=4, warm_up_shots=21), "21 warm-up"),
        (Ask(count=4, warm_up_shots=-1), "-1 warm-up"),
    ],
)
def test_spares_and_warm_up_shots_have_bounds(ask: Ask, words: str) -> None:
    with pytest.raises(BenchError, match=words):
        settled(ask)


@pytest.mark.parametrize("build", [Build.CORE, Build.LAMINATE_CORE])
def test_core_work_needs_rods(build: Build) -> None:
    with pytest.raises(BenchError, match=r"Ember is .*core work, and Leech has no core rods"):
        settled(Ask(count=4), of=recipe(build), mould=replace(MOULD, rods=None))


@pytest.mark.parametrize("build", [Build.PLAIN, Build.LAMINATE])
def test_a_core_mould_without_its_rods_serves_plain_and_laminate_work(build: Build) -> None:
    assert settled(Ask(count=5), of=recipe(build)).rounds == 2


def test_a_cut_tail_needs_a_tail() -> None:
    with pytest.raises(
        BenchError, match=r"Leech have no tail: ask for it kept \(--tail kept, or T on the bench\)"
    ):
        settled(Ask(count=4, tail=Tail.CUT), mould=TAILLESS)
    assert settled(Ask(count=4, tail=Tail.KEPT), mould=TAILLESS).cut_cavities == 0


def test_only_core_work_cuts_tails() -> None:
    with pytest.raises(BenchError, match="only core work cuts"):
        settled(Ask(count=4, tail=Tail.CUT), of=recipe(Build.PLAIN))


def test_a_room_as_warm_as_the_window_is_refused() -> None:
    hot = replace(STATION, room=Room(volume_m3=40.0, temperature_c=40.0, mixing=3.0))
    with pytest.raises(BenchError, match="never cool"):
        settled(Ask(count=4), station=hot)


def test_a_side_without_a_share_is_refused() -> None:
    lopsided = replace(
        recipe(Build.LAMINATE),
        parts={Part.SIDE_A: PartRecipe(share_pct=100.0), Part.SIDE_B: PartRecipe(share_pct=0.0)},
    )
    with pytest.raises(BenchError, match="side B a share of 0 %"):
        settled(Ask(count=4), of=lopsided)
