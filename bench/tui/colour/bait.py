"""What a picture of a bait needs to know: a few colours and proportions, whoever predicted them."""

from __future__ import annotations

from dataclasses import dataclass

from bench.model.recipe import Tail
from bench.tui.colour.shapes import Outline

IN_CUP, IN_BAIT, OVER_CORE, OVER_OTHER = "in cup", "in bait", "over core", "over other"
"""What stands under a side's fields of colour."""


def letters(sides: int) -> tuple[str, ...]:
    """What tells the fields of each side from the other's."""
    return ("",) if sides == 1 else ("A ", "B ")


@dataclass(frozen=True, kw_only=True, slots=True)
class Tint:
    """A colour as the screen shows it. ``clipped`` when the true one lies outside what screens can show."""

    hex: str
    clipped: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """One side of a bait, or the whole of it: its colour in the cup, alone, over the core, in a kept tail, and
    in a laminate in front of the other side."""

    name: str
    cup: Tint
    alone: Tint
    over_core: Tint | None = None
    tail: Tint | None = None
    over_other: Tint | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Core:
    """The core: its colour in the cup, alone, and in a tail that was cut and filled with it."""

    cup: Tint
    alone: Tint
    tail: Tint | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Bait:
    """A bait to draw: one side, or two (the first is drawn above). ``covered`` is the share that flake hides,
    0 to 1."""

    body_mm: float
    sides: tuple[Side, ...]
    core: Core | None = None
    core_mm: float = 0.0
    tail: Tail = Tail.KEPT
    covered: float = 0.0
    flake: Tint | None = None

    @property
    def has_tail(self) -> bool:
        """Whether its mould gives it one."""
        return self.sides[0].tail is not None

    def outline(self, tail: Tail | None = None) -> Outline:
        """Its shape, with its own tail or that one."""
        return Outline(
            core_share=self.core_mm / self.body_mm if self.core else 0.0,
            has_tail=self.has_tail,
            tail_cut=(tail or self.tail) is Tail.CUT and self.core is not None,
            two_sided=len(self.sides) > 1,
            covered=self.covered if self.flake else 0.0,
        )
