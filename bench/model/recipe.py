"""A recipe: which build, which plastic, and what colours go into each part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from bench.errors import Fault
from bench.units import Percent


class Build(StrEnum):
    """How the bait is made."""

    PLAIN = "plain"
    LAMINATE = "laminate"
    CORE = "core"
    LAMINATE_CORE = "laminate core"

    @property
    def has_core(self) -> bool:
        """Whether rods and a core shot are part of it."""
        return self in (Build.CORE, Build.LAMINATE_CORE)


class Tail(StrEnum):
    """What becomes of the shell's tail in core work."""

    KEPT = "kept"
    CUT = "cut"


class Part(StrEnum):
    """A part of a bait with a colour, hence a cup, of its own."""

    BODY = "body"
    SIDE_A = "side_a"
    SIDE_B = "side_b"
    SHELL = "shell"
    SHELL_A = "shell_a"
    SHELL_B = "shell_b"
    CORE = "core"

    @property
    def words(self) -> str:
        """The part as people say it."""
        return self.value.replace("_a", " A").replace("_b", " B")


PARTS: Mapping[Build, tuple[Part, ...]] = {
    Build.PLAIN: (Part.BODY,),
    Build.LAMINATE: (Part.SIDE_A, Part.SIDE_B),
    Build.CORE: (Part.SHELL, Part.CORE),
    Build.LAMINATE_CORE: (Part.SHELL_A, Part.SHELL_B, Part.CORE),
}
"""The parts of each build, in the order in which they are shot."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Dose:
    """A colourant's load, in % of the cup's mass."""

    colourant: str
    load_pct: Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class PartRecipe:
    """One part's colour. ``share_pct`` is its share of a shot that two sides fill together; ``margin_pct`` what
    is melted beyond the reckoned amount."""

    doses: tuple[Dose, ...] = ()
    share_pct: Percent = 100.0
    margin_pct: Percent = 5.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Recipe:
    """A bait's recipe. ``tail`` is what is planned for core work; the maker decides when the shells are seen."""

    name: str
    title: str
    build: Build
    plastic: str
    parts: Mapping[Part, PartRecipe]
    tail: Tail = Tail.KEPT
    note: str = ""
    sources: Mapping[str, str] = field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """What these values say about each other that cannot be."""
        wanted = PARTS[self.build]
        for part in wanted:
            if part not in self.parts:
                yield Fault(
                    key=f"parts.{part}", found="nothing", wanted=f"the {part.words} of a {self.build} bait"
                )
        for part in self.parts:
            if part not in wanted:
                names = ", ".join(wanted)
                yield Fault(
                    key=f"parts.{part}",
                    found="a part",
                    wanted=f"only the parts of a {self.build} bait: {names}",
                )
        if self.tail is Tail.CUT and not self.build.has_core:
            yield Fault(key="tail", found='"cut"', wanted='"kept": only core work cuts the shell\'s tail')
        yield from self._share_faults(wanted)
        for part, recipe in self.parts.items():
            total = sum(dose.load_pct for dose in recipe.doses)
            if total >= 100:
                yield Fault(key=f"parts.{part}.doses", found=f"{total:g} % in all", wanted="less than 100 %")

    def _share_faults(self, wanted: tuple[Part, ...]) -> Iterator[Fault]:
        together = [part for part in wanted if part is not Part.CORE and part in self.parts]
        total = sum(self.parts[part].share_pct for part in together)
        if together and abs(total - 100) > 1e-6:
            keys = " and ".join(f"parts.{part}.share" for part in together)
            yield Fault(key=keys, found=f"{total:g} % together", wanted="100 %")
