"""Conduction against exact series, a fine method of lines and examples of the textbooks."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.physics.conduction import Layer, Response, Shape, Transient
from bench.physics.substance import ALUMINIUM_6061, SOFT_PLASTISOL, STAINLESS, Substance
from tests.physics.figures import rows
from tests.physics.series import SERIES, fourier_at, lines_seconds_to

HALF_MM = 5.0


def plain(shape: Shape, biot: float, *, start_c: float = 100.0) -> Transient:
    """One layer of plastic with the Biot number asked for, in surroundings at zero."""
    film = biot * SOFT_PLASTISOL.k_w_mk / (HALF_MM * 1e-3)
    layer = Layer(thickness_mm=HALF_MM, substance=SOFT_PLASTISOL, start_c=start_c)
    return Transient([layer], shape=shape, around_c=0.0, film_w_m2k=film)


def seconds(fourier: float) -> float:
    return fourier * (HALF_MM * 1e-3) ** 2 / SOFT_PLASTISOL.diffusivity_m2_s


@pytest.mark.parametrize("shape", list(Shape))
@pytest.mark.parametrize("biot", [0.1, 0.3, 1.0, 3.0, 10.0, 100.0, 1e6])
def test_time_to_a_target_is_within_half_a_percent_of_the_exact_series(shape: Shape, biot: float) -> None:
    # Exact series, computed here.
    pairs = SERIES[shape](biot)
    body = plain(shape, biot)
    for share in (0.95, 0.9, 0.8, 0.7, 0.5, 0.3, 0.2, 0.1, 0.03, 0.01):
        exact = seconds(fourier_at(pairs, share))
        assert body.seconds_to(100 * share, layer=0) == pytest.approx(exact, rel=5e-3), share


@pytest.mark.parametrize("row", rows("oneterm.tsv"), ids=lambda row: f"Bi {row['Bi']}")
@pytest.mark.parametrize(("shape", "name"), [(Shape.SLAB, "wall"), (Shape.CYLINDER, "cyl")])
def test_late_cooling_follows_the_one_term_table(shape: Shape, name: str, row: dict[str, str]) -> None:
    # Cengel & Ghajar, Heat and Mass Transfer, 6th ed., table 4-2 (read in public copies up to Bi 10); exact
    # columns and the rows above 10 computed. One term is good past Fo 0.2, which a share of 0.1 always is.
    biot = float(row["Bi"].replace("inf", "1e9"))
    reached_s = plain(shape, biot).seconds_to(10.0, layer=0)
    for suffix, within in (("_exact", 1e-3), ("", 3e-3)):
        root, first = row[f"{name}_l{suffix}"], row[f"{name}_A{suffix}"]
        if root and first:
            expected = seconds(math.log(float(first) / 0.1) / float(root) ** 2)
            assert reached_s == pytest.approx(expected, rel=within)


@pytest.mark.parametrize("row", rows("conduction_examples.tsv"), ids=lambda row: row["example"])
def test_worked_examples(row: dict[str, str]) -> None:
    # Cengel, Incropera and Holman; see the heads of the table for what was read and what computed.
    at = {key: float(value) for key, value in row.items() if key not in ("example", "shape") and value}
    substance = Substance(
        k_w_mk=at["k_w_mk"], rho_kg_m3=1000.0, c_j_kgk=at["k_w_mk"] / (1000.0 * at["alpha_m2_s"])
    )
    body = Transient(
        [Layer(thickness_mm=at["half_mm"], substance=substance, start_c=at["start_c"])],
        shape=Shape(row["shape"]),
        around_c=at["around_c"],
        film_w_m2k=at["film_w_m2k"],
    )
    found_c = body.temperature_c(at["seconds"], at_mm=at["half_mm"] - at["depth_mm"])
    assert found_c == pytest.approx(at["exact_c"], abs=1.5e-3 * abs(at["start_c"] - at["around_c"]))
    if "book_c" in at:
        assert found_c == pytest.approx(at["book_c"], abs=at["read_k"])


def test_heat_given_up_by_the_stainless_shaft() -> None:
    # Cengel 4-5: Q/Qmax 0.635764 by the exact series [computed]; the book reads 0.62 off a chart.
    steel = Substance(k_w_mk=14.9, rho_kg_m3=7900.0, c_j_kgk=14.9 / (7900.0 * 3.95e-6))
    layer = Layer(thickness_mm=100.0, substance=steel, start_c=600.0)
    shaft = Transient([layer], shape=Shape.CYLINDER, around_c=200.0, film_w_m2k=80.0)
    share = 1 - shaft.heat_held_j(2700.0) / shaft.heat_held_j(0.0)
    assert share == pytest.approx(0.635764, rel=1e-3)
    assert share == pytest.approx(0.62, abs=0.02)


def test_heat_flow_into_the_pipe_wall() -> None:
    # Incropera 5.4: q'' -7318 W/m2 and Q -2.7255e7 J per metre of a 1 m pipe by the exact series [computed];
    # the book says about -7400 and -2.73e7.
    steel = Substance(k_w_mk=63.9, rho_kg_m3=7832.0, c_j_kgk=63.9 / (7832.0 * 18.8e-6))
    layer = Layer(thickness_mm=40.0, substance=steel, start_c=-20.0)
    wall = Transient([layer], shape=Shape.SLAB, around_c=60.0, film_w_m2k=500.0)
    assert wall.heat_flow_w(480.0) == pytest.approx(-7318.0, rel=2e-3)
    taken_j = math.pi * (wall.heat_held_j(480.0) - wall.heat_held_j(0.0))
    assert taken_j == pytest.approx(2.7255e7, rel=3e-3)
    assert taken_j == pytest.approx(2.73e7, rel=1e-2)


def test_short_cylinder_is_the_product_of_wall_and_cylinder() -> None:
    # Cengel 4-8: 62.73 degC at the centre by the exact series [computed], 63 in the book.
    brass = Substance(k_w_mk=110.0, rho_kg_m3=1000.0, c_j_kgk=110.0 / (1000.0 * 3.39e-5))
    factors = []
    for shape, half_mm in ((Shape.SLAB, 60.0), (Shape.CYLINDER, 50.0)):
        layer = Layer(thickness_mm=half_mm, substance=brass, start_c=1.0)
        factors.append(
            Transient([layer], shape=shape, around_c=0.0, film_w_m2k=60.0).temperature_c(900.0, at_mm=0.0)
        )
    centre_c = 25.0 + 95.0 * factors[0] * factors[1]
    assert centre_c == pytest.approx(62.73, abs=0.05)
    assert round(centre_c) == 63


ROD_AND_SHELL = [
    (3.2, 10.0, STAINLESS, 165.0, 45.0, 60.0, 1000.0),
    (6.0, 9.0, STAINLESS, 170.0, 50.0, 60.0, 1000.0),
    (4.0, 16.0, STAINLESS, 165.0, 25.0, 60.0, 300.0),
    (2.0, 6.0, Substance(k_w_mk=110.0, rho_kg_m3=8530.0, c_j_kgk=380.0), 165.0, 55.0, 60.0, 1000.0),
]


@pytest.mark.parametrize(("rod", "body", "metal", "shot", "mould", "target", "film"), ROD_AND_SHELL)
def test_shell_round_a_rod_against_a_fine_method_of_lines(
    rod: float, body: float, metal: Substance, shot: float, mould: float, target: float, film: float
) -> None:
    # scipy's BDF on a ten times finer grid; the brass is Cengel's.
    layers = [
        Layer(thickness_mm=rod / 2, substance=metal, start_c=mould),
        Layer(thickness_mm=(body - rod) / 2, substance=SOFT_PLASTISOL, start_c=shot),
    ]
    fine_s = lines_seconds_to(layers, around_c=mould, film_w_m2k=film, target_c=target, watched=1)
    body_found = Transient(layers, shape=Shape.CYLINDER, around_c=mould, film_w_m2k=film)
    assert body_found.seconds_to(target, layer=1) == pytest.approx(fine_s, rel=1e-2)


@pytest.mark.parametrize(
    ("bore", "body", "shot", "shell", "mould"),
    [(3.2, 10.0, 170.0, 30.0, 45.0), (6.0, 9.0, 165.0, 25.0, 40.0), (8.0, 16.0, 175.0, 55.0, 50.0)],
)
def test_core_in_its_ring_against_a_fine_method_of_lines(
    bore: float, body: float, shot: float, shell: float, mould: float
) -> None:
    # scipy's BDF on a ten times finer grid.
    layers = [
        Layer(thickness_mm=bore / 2, substance=SOFT_PLASTISOL, start_c=shot),
        Layer(thickness_mm=(body - bore) / 2, substance=SOFT_PLASTISOL, start_c=shell),
    ]
    fine_s = lines_seconds_to(layers, around_c=mould, film_w_m2k=1000.0, target_c=60.0, watched=0)
    found = Transient(layers, shape=Shape.CYLINDER, around_c=mould, film_w_m2k=1000.0)
    assert found.seconds_to(60.0, layer=0) == pytest.approx(fine_s, rel=1e-2)


@pytest.mark.parametrize(
    ("core", "ring", "mould"), [(170.0, 30.0, 45.0), (165.0, 55.0, 25.0), (60.0, 150.0, 40.0)]
)
def test_a_response_is_the_sum_of_what_each_layer_leaves(core: float, ring: float, mould: float) -> None:
    # Duhamel: conduction with constant properties is linear. The same body marched for itself takes other steps.
    layers = [
        Layer(thickness_mm=2.0, substance=SOFT_PLASTISOL, start_c=core),
        Layer(thickness_mm=3.0, substance=SOFT_PLASTISOL, start_c=ring),
    ]
    alone = Transient(layers, shape=Shape.CYLINDER, around_c=mould, film_w_m2k=1000.0)
    response = Response(layers, shape=Shape.CYLINDER, film_w_m2k=1000.0, warm=[0, 1])
    summed = response.from_start(core, ring, around_c=mould)
    for layer in (0, 1):
        assert summed.seconds_to(55.0, layer=layer) == pytest.approx(alone.seconds_to(55.0, layer=layer), abs=0.1)
        for moment_s in (0.0, 2.0, 20.0, 100.0):
            assert summed.mean_c(moment_s, layer=layer) == pytest.approx(
                alone.mean_c(moment_s, layer=layer), abs=0.1
            )


@pytest.mark.parametrize(("rod", "body", "metal", "shot", "mould", "target", "film"), ROD_AND_SHELL)
def test_a_response_asked_about_other_moulds_before_against_a_fine_method_of_lines(
    rod: float, body: float, metal: Substance, shot: float, mould: float, target: float, film: float
) -> None:
    # scipy's BDF on a ten times finer grid; the brass is Cengel's.
    layers = [
        Layer(thickness_mm=rod / 2, substance=metal, start_c=mould),
        Layer(thickness_mm=(body - rod) / 2, substance=SOFT_PLASTISOL, start_c=shot),
    ]
    fine_s = lines_seconds_to(layers, around_c=mould, film_w_m2k=film, target_c=target, watched=1)
    response = Response(layers, shape=Shape.CYLINDER, film_w_m2k=film, warm=[1])
    for other_c in (20.0, 59.0, mould):
        found_s = response.from_start(shot, around_c=other_c).seconds_to(target, layer=1)
    assert found_s == pytest.approx(fine_s, rel=5e-3)


def test_the_mould_may_be_a_layer_of_its_own_with_a_joint() -> None:
    # Plastic in a thick aluminium wall with a joint of 1000 W/m2K cools as against a wall at one temperature,
    # a little slower: the wall is close to isothermal, not quite.
    plastic = Layer(thickness_mm=5.0, substance=SOFT_PLASTISOL, start_c=165.0, contact_w_m2k=1000.0)
    block = Layer(thickness_mm=30.0, substance=ALUMINIUM_6061, start_c=45.0)
    in_block = Transient([plastic, block], shape=Shape.CYLINDER, around_c=45.0, film_w_m2k=1e7)
    alone = Transient([plastic], shape=Shape.CYLINDER, around_c=45.0, film_w_m2k=1000.0)
    ratio = in_block.seconds_to(60.0, layer=0) / alone.seconds_to(60.0, layer=0)
    assert 1.0 < ratio < 1.05


def test_heat_out_through_the_wall_is_the_heat_lost() -> None:
    layers = [
        Layer(thickness_mm=1.6, substance=STAINLESS, start_c=45.0),
        Layer(thickness_mm=3.4, substance=SOFT_PLASTISOL, start_c=165.0),
    ]
    body = Transient(layers, shape=Shape.CYLINDER, around_c=45.0, film_w_m2k=1000.0)
    moments = [0.001 * 1.02**number for number in range(600)]
    given_j = math.fsum(
        (after - before)
        / 6
        * sum(
            weight * body.heat_flow_w(moment)
            for weight, moment in ((1, before), (4, (before + after) / 2), (1, after))
        )
        for before, after in pairwise(moments)
    )
    lost_j = body.heat_held_j(moments[0]) - body.heat_held_j(moments[-1])
    assert given_j == pytest.approx(lost_j, rel=1e-3)


def test_a_hot_rod_that_reheats_the_shell_is_waited_for() -> None:
    # The shell is below the target at the start, is heated past it by the rod, and falls again.
    layers = [
        Layer(thickness_mm=3.0, substance=STAINLESS, start_c=150.0),
        Layer(thickness_mm=2.0, substance=SOFT_PLASTISOL, start_c=50.0),
    ]
    body = Transient(layers, shape=Shape.CYLINDER, around_c=25.0, film_w_m2k=1000.0)
    set_s = body.seconds_to(60.0, layer=1)
    assert body.hottest_c(set_s, layer=1) == pytest.approx(60.0, abs=0.01)
    assert body.hottest_c(set_s / 2, layer=1) > 60.0
    assert body.hottest_c(2 * set_s, layer=1) < 60.0


def test_a_target_already_reached_takes_no_time() -> None:
    assert plain(Shape.SLAB, 1.0, start_c=50.0).seconds_to(60.0, layer=0) == 0.0


def test_a_target_the_surroundings_hold_up_is_refused() -> None:
    with pytest.raises(ValueError, match="never let a body fall"):
        plain(Shape.SLAB, 1.0).seconds_to(0.0, layer=0)


def test_a_body_long_gone_cold_is_at_its_surroundings() -> None:
    body = plain(Shape.CYLINDER, 1.0)
    assert body.mean_c(1e7, layer=0) == pytest.approx(0.0, abs=1e-6)
    assert body.hottest_c(0.0, layer=0) == pytest.approx(100.0)


@settings(max_examples=30, deadline=None)
@given(
    shape=st.sampled_from(list(Shape)),
    biot=st.floats(0.05, 1e4),
    low=st.floats(0.001, 0.97),
    gap=st.floats(0.002, 0.02),
)
def test_a_lower_target_is_reached_later(shape: Shape, biot: float, low: float, gap: float) -> None:
    body = plain(shape, biot)
    high_s, low_s = (body.seconds_to(100 * share, layer=0) for share in (low + gap, low))
    assert low_s > high_s
    assert body.hottest_c(low_s, layer=0) == pytest.approx(100 * low, rel=1e-4)
    assert body.mean_c(low_s, layer=0) <= 100 * low * (1 + 1e-4)
