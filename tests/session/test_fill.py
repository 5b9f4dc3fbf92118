"""Whether the shot at hand fills: the skin worked out by hand, and every cause moving it the right way."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.special import erfinv

from bench.model.mould import Mould
from bench.model.recipe import Build, Tail
from bench.session.fill import FillChange, FillVerdict, FillView
from bench.session.session import Session
from bench.session.view import view
from tests.plan.bench_records import MOULD
from tests.session.bench_sessions import Maker, job, placed


def at_the_shot(
    step_id: str = "r1.shot.shot",
    *,
    build: Build = Build.PLAIN,
    tail: Tail = Tail.CUT,
    mould: Mould = MOULD,
    mould_c: float = 45.0,
    cup_c: float = 170.0,
) -> Maker:
    """Before a shot, its cup and its mould at those temperatures."""
    made = job(build, tail=tail, count=8, warm_up_shots=0)
    hands = Maker(session=Session(job=replace(made, mould=mould)))
    hands.walk_to(step_id)
    hands.session = placed(hands.session, hands.now(), cup_c=cup_c, mould_c=mould_c)
    return hands


def fill_of(hands: Maker) -> FillView:
    fill = view(hands.session, hands.now()).fill
    assert fill is not None
    return fill


def by_hand(passage_mm: float, *, mould_c: float, cup_c: float, seconds: float = 12.0) -> float:
    """1 - 2 skin / passage with a skin of 2 sqrt(a t) erfinv((75 - Tc) / (T - Tc)), scipy's erfinv.

    Tc by the effusivities of 0.16, 1030, 1800 and of aluminium 167, 2700, 896.
    """
    own, metal = math.sqrt(0.16 * 1030 * 1800), math.sqrt(167 * 2700 * 896)
    contact_c = (own * cup_c + metal * mould_c) / (own + metal)
    skin_mm = 2e3 * math.sqrt(0.16 / 1030 / 1800 * seconds) * erfinv((75 - contact_c) / (cup_c - contact_c))
    return 1 - 2 * float(skin_mm) / passage_mm


def test_the_open_fraction_is_the_one_worked_out_by_hand() -> None:
    """The tail of 2 mm, 12 s to fill."""
    expected = by_hand(2.0, mould_c=45.0, cup_c=170.0)
    assert fill_of(at_the_shot()).open_fraction == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize(
    ("step_id", "tail", "passage_mm"),
    [
        ("r1.shell.shot", Tail.CUT, 2.0),  # wall (10 - 4) / 2 = 3, tail 2
        ("r1.core.shot", Tail.CUT, 2.0),  # the tail is the core's
        ("r1.core.shot", Tail.KEPT, 4.0),  # gate 4, bore 4
    ],
)
def test_each_shot_has_its_own_thinnest_way(step_id: str, tail: Tail, passage_mm: float) -> None:
    hands = at_the_shot(step_id, build=Build.CORE, tail=tail)
    expected = by_hand(passage_mm, mould_c=45.0, cup_c=170.0)
    assert fill_of(hands).open_fraction == pytest.approx(expected, abs=0.01)


def test_a_shell_without_a_tail_flows_round_its_rods() -> None:
    assert MOULD.drawn is not None
    tailless = replace(
        MOULD,
        section=replace(MOULD.section, tail_mm=None),
        drawn=replace(MOULD.drawn, tail_length_mm=None, tail_width_mm=None),
    )
    hands = at_the_shot("r1.shell.shot", build=Build.CORE, tail=Tail.KEPT, mould=tailless)
    assert fill_of(hands).open_fraction == pytest.approx(by_hand(3.0, mould_c=45.0, cup_c=170.0), abs=0.01)


def test_the_verdict_goes_by_half_and_by_two_thirds() -> None:
    cold, cool, warm = (fill_of(at_the_shot(mould_c=each)) for each in (24.0, 45.0, 60.0))
    assert cold.open_fraction < 0.5 <= cool.open_fraction < 0.65 <= warm.open_fraction
    assert [cold.verdict, cool.verdict, warm.verdict] == [
        FillVerdict.SHORT,
        FillVerdict.MARGINAL,
        FillVerdict.FILLS,
    ]


def test_warmer_is_more_open_whichever_of_both() -> None:
    by_mould = [fill_of(at_the_shot(mould_c=each)).open_fraction for each in (25.0, 35.0, 45.0, 55.0)]
    by_cup = [fill_of(at_the_shot(cup_c=each)).open_fraction for each in (150.0, 160.0, 170.0, 175.0)]
    assert by_mould == sorted(by_mould)
    assert by_cup == sorted(by_cup)


class TestHelp:
    def test_none_where_it_fills(self) -> None:
        assert fill_of(at_the_shot(mould_c=60.0)).help is None

    def test_a_cold_mould_wants_warming_by_just_enough(self) -> None:
        wide = replace(MOULD, warm_c=(40.0, 58.0))
        hands = at_the_shot(mould=wide, mould_c=35.0)
        wanted = fill_of(hands).help
        assert wanted is not None
        assert wanted.change is FillChange.MOULD
        assert wanted.open_fraction == pytest.approx(0.65, abs=0.005)
        assert fill_of(at_the_shot(mould=wide, mould_c=35.0 + wanted.by)).verdict is FillVerdict.FILLS
        assert fill_of(at_the_shot(mould=wide, mould_c=33.0 + wanted.by)).verdict is not FillVerdict.FILLS

    def test_a_mould_at_the_top_of_its_window_wants_a_faster_push(self) -> None:
        thin = replace(MOULD, section=replace(MOULD.section, passage_mm=1.6))
        wanted = fill_of(at_the_shot(mould=thin, mould_c=49.5)).help
        assert wanted is not None
        assert wanted.change is FillChange.PUSH
        assert 0 < wanted.by <= 6.0

    def test_no_help_is_less_than_a_degree(self) -> None:
        wide = replace(MOULD, warm_c=(40.0, 58.0))
        short_c = next(
            c / 10 for c in range(600, 300, -1) if fill_of(at_the_shot(mould=wide, mould_c=c / 10)).help
        )
        wanted = fill_of(at_the_shot(mould=wide, mould_c=short_c)).help
        assert wanted is not None
        assert wanted.change is not FillChange.PUSH
        assert wanted.by >= 1.0

    def test_a_cup_under_its_band_is_to_be_reheated_before_all_else(self) -> None:
        wanted = fill_of(at_the_shot(cup_c=124.0, mould_c=30.0)).help
        assert wanted is not None
        assert wanted.change is FillChange.REHEAT
        assert wanted.by == pytest.approx(41.0, abs=0.5)

    def test_plastic_is_never_asked_above_its_band(self) -> None:
        for cup_c in (150.0, 165.0, 174.0):
            for mould_c in (30.0, 45.0, 50.0):
                wanted = fill_of(at_the_shot(cup_c=cup_c, mould_c=mould_c)).help
                if wanted is not None and wanted.change is FillChange.PLASTIC:
                    assert cup_c + wanted.by <= 175.0 + 0.5
                if wanted is not None and wanted.change is FillChange.MOULD:
                    assert mould_c + wanted.by <= 50.0 + 0.5


def test_it_is_asked_at_the_shot_and_the_step_before_and_nowhere_else() -> None:
    hands = Maker(session=Session(job=job(Build.CORE, tail=Tail.CUT, count=8)))
    hands.press()
    shown = []
    while hands.session.next_step is not None:
        if view(hands.session, hands.now()).fill is not None:
            shown.append(hands.session.step.id)
        hands.finish_step()
    script = [step.id for step in hands.session.job.script]
    shots = [place for place, step_id in enumerate(script) if step_id.endswith((".shell.shot", ".core.shot"))]
    assert shown == [script[place] for shot in shots for place in (shot - 1, shot)]


def test_a_cup_on_the_heat_is_taken_to_come_to_its_band() -> None:
    hands = Maker(session=Session(job=job(Build.PLAIN, count=8, warm_up_shots=0)))
    hands.walk_to("r1.heat.body")
    hands.session = placed(hands.session, hands.now(), mould_c=45.0)
    assert fill_of(hands).open_fraction == pytest.approx(by_hand(2.0, mould_c=45.0, cup_c=170.0), abs=0.01)


def test_plastic_below_its_gel_point_does_not_flow() -> None:
    fill = fill_of(at_the_shot(cup_c=70.0))
    assert (fill.open_fraction, fill.verdict) == (0.0, FillVerdict.SHORT)
