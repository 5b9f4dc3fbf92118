"""Baits to draw, their colours invented so that each region has its own."""

from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Tail
from bench.tui.colour.bait import Bait, Core, Side, Tint

ALONE, OVER, KEPT = "#4d3a22", "#8a3a20", "#8d7350"
CORE, CUT, CUP, CORE_CUP = "#c0281c", "#c53020", "#2a1d12", "#b02018"
ALONE_B, OVER_B, KEPT_B = "#22481e", "#5a4a20", "#4a7350"
FLAKE = "#dfe3e6"


def side(name: str = "shell", *, alone: str = ALONE, over: str | None = OVER, tail: str | None = KEPT) -> Side:
    """One side of a bait."""
    return Side(
        name=name,
        cup=Tint(hex=CUP),
        alone=Tint(hex=alone),
        over_core=None if over is None else Tint(hex=over),
        tail=None if tail is None else Tint(hex=tail),
    )


CORED = Bait(
    body_mm=10.0,
    core_mm=4.0,
    sides=(side(),),
    core=Core(cup=Tint(hex=CORE_CUP), alone=Tint(hex=CORE), tail=Tint(hex=CUT)),
    tail=Tail.CUT,
)
PLAIN = Bait(body_mm=8.0, sides=(side("body", over=None),))
LAMINATE_CORE = replace(
    CORED, sides=(side("shell A"), side("shell B", alone=ALONE_B, over=OVER_B, tail=KEPT_B)), tail=Tail.KEPT
)
FLAKED = replace(CORED, covered=0.3, flake=Tint(hex=FLAKE))
TAILLESS = replace(CORED, sides=(side(tail=None),))
