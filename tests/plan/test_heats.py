"""The order in which cups are heated."""

from __future__ import annotations

from bench.model.recipe import Part
from bench.plan.heats import Heating, heatings
from bench.plan.records import Melt


def melt(part: Part, *, number: int = 1, first_round: int, last_round: int) -> Melt:
    return Melt(
        part=part,
        number=number,
        volume_ml=100.0,
        mass_g=95.0,
        base_g=95.0,
        doses=(),
        first_round=first_round,
        last_round=last_round,
        heat_s=150.0 + number,
        reheat_s=30.0 + number,
    )


def test_a_melt_is_heated_from_cold_once() -> None:
    body = melt(Part.BODY, number=2, first_round=4, last_round=6)
    assert heatings([body], 4) == (Heating(part=Part.BODY, melt=2, from_cold=True, seconds=152.0),)
    assert heatings([body], 5) == (Heating(part=Part.BODY, melt=2, from_cold=False, seconds=32.0),)


def test_side_a_is_brought_back_once_side_b_is_hot() -> None:
    side_a = melt(Part.SIDE_A, first_round=1, last_round=9)
    side_b = melt(Part.SIDE_B, number=2, first_round=5, last_round=9)
    assert [(each.part, each.from_cold, each.seconds) for each in heatings([side_a, side_b], 5)] == [
        (Part.SIDE_A, False, 31.0),
        (Part.SIDE_B, True, 152.0),
        (Part.SIDE_A, False, 31.0),
    ]
