"""How a recipe looks before anything is melted: in the cup, in the wall, over the core, in the tail.

Each view is a stack of layers seen from outside, reckoned from the far side to the near one over a neutral
background, then through the surface. A bait is round and light enters it from all sides; a flat stack through its
axis is the nearest thing that needs no ray tracing.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.colour.bands import Spectrum, flat
from bench.colour.difference import de2000
from bench.colour.flake import Flaked, covered, mean_depth_mm, strewn
from bench.colour.lab import Lab, lab_from_xyz, shown_from_xyz
from bench.colour.layers import Film, Medium, film, over, stacked
from bench.colour.observer import luminous, xyz
from bench.colour.saunderson import outside
from bench.errors import BenchError

BACKGROUND: Spectrum = flat(0.5)
"""Reflectance of what stands behind a bait: a neutral, half of the light."""

CUP_MM = 60.0
"""Starting value for the depth of a cup one looks into."""

_BLACK = flat(0.0)
_WHITE_CARD = flat(0.80)
"""The white of a contrast ratio: 0.80 after ASTM D2805, from memory."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """A bait cut across. ``core_mm`` is the rod's diameter, 0 without a core; the wall is what is left."""

    body_mm: float
    core_mm: float = 0.0
    tail_mm: float = 0.0
    cup_mm: float = CUP_MM

    @property
    def wall_mm(self) -> float:
        """Thickness of the shell over the core, one side; half the body where there is no core."""
        return (self.body_mm - self.core_mm) / 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """A colour as it is seen. ``hex`` is the nearest a screen can show, ``clipped`` when that is not quite it."""

    lab: Lab
    hex: str
    clipped: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class CoreViews:
    """What a core does to a bait's look. Differences are CIEDE2000.

    ``visibility`` is over the core against the shell alone, ``tint`` over the core against the same core in walls
    of bare base, ``third_colour`` the smaller of over the core against the shell alone and against the core alone:
    two colours that read as another. All are seen between the flakes: flake lies before a core and before none
    alike, so each is that of the plastic without flake, times the share of the wall that flake leaves open.
    """

    over_core: Seen
    core_alone: Seen
    core_cup: Seen
    core_in_base: Seen
    visibility: float
    tint: float
    third_colour: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Views:
    """All views of one side of a bait. ``contrast_ratio`` is that of the wall: 1 hides everything.

    ``tail_kept`` has the shell's colour, ``tail_cut`` the core's; None where the bait has no tail or no core.
    """

    cup: Seen
    shell_alone: Seen
    tail_kept: Seen | None
    tail_cut: Seen | None
    core: CoreViews | None
    contrast_ratio: float


def seen(internal: Spectrum) -> Seen:
    """The colour of an internal reflectance, looked at from outside."""
    tristimulus = xyz(outside(internal))
    nearest = shown_from_xyz(tristimulus)
    return Seen(lab=lab_from_xyz(tristimulus), hex=nearest.hex, clipped=nearest.clipped)


def lab_seen(internal: Spectrum) -> Lab:
    """L*a*b* of an internal reflectance, looked at from outside."""
    return lab_from_xyz(xyz(outside(internal)))


def through(medium: Medium, near: Film, thickness_mm: float, behind: Spectrum, flaked: Flaked | None) -> Spectrum:
    """What a layer over something reflects, the flake in it hiding its share of what lies behind.

    ``near`` is ``film(medium, thickness_mm)``, reckoned once by the caller.
    """
    plain = over(near, behind)
    if flaked is None or flaked.eta_per_mm <= 0:
        return plain
    before_flake = film(medium, mean_depth_mm(flaked.eta_per_mm, thickness_mm))
    return strewn(plain, over(before_flake, flaked.reflectance), covered(flaked.eta_per_mm * thickness_mm))


def open_share(flaked: Flaked | None, thickness_mm: float) -> float:
    """The share of a layer that its flake leaves open, 1 without flake: differences behind it shrink to that."""
    return 1.0 if flaked is None else 1 - covered(flaked.eta_per_mm * thickness_mm)


def look(
    *,
    shell: Medium,
    base: Medium,
    section: Section,
    core: Medium | None = None,
    flaked: Flaked | None = None,
    background: Spectrum = BACKGROUND,
) -> Views:
    """All views of a bait, or of one side of a laminate.

    ``shell`` is the coloured plastic of the body, ``base`` the same plastic bare, ``core`` what fills the rod's
    place (None for a plain bait), ``flaked`` the flake in the shell. Raises BenchError for a section that is none.
    """
    _check(section, has_core=core is not None)

    def body(thickness_mm: float) -> Spectrum:
        return through(shell, film(shell, thickness_mm), thickness_mm, background, flaked)

    alone = body(section.body_mm)
    tailed = section.tail_mm > 0
    return Views(
        cup=seen(body(section.cup_mm)),
        shell_alone=seen(alone),
        tail_kept=seen(body(section.tail_mm)) if tailed else None,
        tail_cut=seen(over(film(core, section.tail_mm), background)) if tailed and core is not None else None,
        core=None if core is None else _core_views(shell, base, core, section, flaked, background),
        contrast_ratio=contrast_ratio(shell, section.wall_mm if core is not None else section.body_mm),
    )


def _core_views(
    shell: Medium, base: Medium, core: Medium, section: Section, flaked: Flaked | None, background: Spectrum
) -> CoreViews:
    rod = film(core, section.core_mm)
    wall, clear = film(shell, section.wall_mm), film(base, section.wall_mm)
    behind = stacked((rod, wall), background)
    between_flakes = lab_seen(over(wall, behind))
    alone = lab_seen(over(film(shell, section.body_mm), background))
    core_alone = seen(over(rod, background))
    in_base = seen(stacked((clear, rod, clear), background))
    shows = open_share(flaked, section.wall_mm)
    visibility = shows * de2000(alone, between_flakes)
    return CoreViews(
        over_core=seen(through(shell, wall, section.wall_mm, behind, flaked)),
        core_alone=core_alone,
        core_cup=seen(over(film(core, section.cup_mm), background)),
        core_in_base=in_base,
        visibility=visibility,
        tint=shows * de2000(in_base.lab, between_flakes),
        third_colour=min(visibility, shows * de2000(core_alone.lab, between_flakes)),
    )


def contrast_ratio(medium: Medium, thickness_mm: float) -> float:
    """Luminous reflectance over black by that over white (0.80), as ASTM D2805 judges hiding; 0 to 1.

    Both are seen from outside, past the gloss. 1 where nothing comes back over either.
    """
    near = film(medium, thickness_mm)
    white = luminous(outside(over(near, _WHITE_CARD)))
    return luminous(outside(over(near, _BLACK))) / white if white > 0 else 1.0


def _check(section: Section, *, has_core: bool) -> None:
    if not section.body_mm > 0:
        raise BenchError(f"body: {section.body_mm:g} mm is no bait; give more than 0")
    if not section.cup_mm > 0:
        raise BenchError(f"cup: {section.cup_mm:g} mm deep holds nothing; give more than 0")
    if section.tail_mm < 0:
        raise BenchError(f"tail: {section.tail_mm:g} mm is less than nothing; give 0 for a bait without one")
    if has_core and not 0 < section.core_mm < section.body_mm:
        raise BenchError(
            f"rod: {section.core_mm:g} mm does not leave a wall in a body of {section.body_mm:g} mm; "
            f"give more than 0 and less than {section.body_mm:g} mm"
        )
