"""Doses that bring a bait nearest to a wanted colour, and what to weigh for them. Colour is only ever added."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.colour.lab import Lab, lab_from_hex, shown_lab
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, checked_loads, mix
from bench.colour.target import MOST_TOTAL_PCT, doses_for
from bench.errors import BenchError
from bench.model.colourant import Colourant
from bench.model.library import nearest
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.plan.look import section_of
from bench.plan.strengths import base_of, kind_notes, tinting
from bench.units import Grams, Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class Addition:
    """One colourant: its load in the end, how much of that is new, and what to weigh. ``mass_g`` and ``drops`` are
    None without a cup; ``drops`` also for powders."""

    colourant: str
    title: str
    load_pct: Percent
    added_pct: Percent
    mass_g: float | None
    drops: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Match:
    """The nearest look. ``off`` is the CIEDE2000 left, ``misses`` the directions of it, the worst first.

    ``cup_g`` is the cup in the end, all colour in it; None where no cup was given.
    """

    target_hex: str
    target: Lab
    hex: str
    clipped: bool
    lab: Lab
    off: float
    misses: tuple[str, ...]
    additions: tuple[Addition, ...]
    cup_g: Grams | None
    notes: tuple[str, ...]


def match_colour(
    target_hex: str,
    *,
    names: Sequence[str],
    mould: Mould,
    plastic: Plastic,
    colourants: Mapping[str, Colourant],
    core: Medium | None = None,
    already_pct: Mapping[str, float] | None = None,
    cup_g: float | None = None,
    most_total_pct: float = MOST_TOTAL_PCT,
) -> Match:
    """Doses of the named colourants for a solid bait of a mould, or with ``core`` for its shell over a core.

    ``already_pct`` is what the cup holds by now, of these or others. ``cup_g`` is the cup as it stands when colour
    is in it, else as it is wanted in the end, colour included. Raises BenchError for a colour that is none, a
    colourant that is not on the shelf or not known, and a mould without rods for a core.
    """
    target = lab_from_hex(target_hex)
    already = _checked(already_pct or {}, mould=mould, has_core=core is not None)
    chosen = [_on_shelf(name, colourants) for name in dict.fromkeys(names)]
    held = [_on_shelf(name, colourants) for name in already if name not in names]
    base = base_of(plastic)
    found = doses_for(
        target,
        base=mix(base, [_loaded(each, already[each.name], base) for each in held]),
        colourants=[_loaded(each, 0.0, base).strength for each in chosen],
        section=section_of(mould, with_core=core is not None),
        core=core,
        already_pct=[already.get(each.name, 0.0) for each in chosen],
        most_total_pct=most_total_pct,
    )
    grown_pct = sum(already.get(each.name, 0.0) for each in chosen)
    end_g = _end_g(cup_g, found.loads_pct, grown_pct=grown_pct) if already else cup_g
    shown = shown_lab(found.lab)
    return Match(
        target_hex=shown_lab(target).hex,
        target=target,
        hex=shown.hex,
        clipped=shown.clipped,
        lab=found.lab,
        off=found.off,
        misses=found.misses,
        additions=tuple(
            _addition(each, load_pct, already.get(each.name, 0.0), start_g=cup_g, end_g=end_g)
            for each, load_pct in zip(chosen, found.loads_pct, strict=True)
        ),
        cup_g=end_g,
        notes=tuple(note for each in (*chosen, *held) for note in kind_notes(each)),
    )


def _checked(already_pct: Mapping[str, float], *, mould: Mould, has_core: bool) -> dict[str, float]:
    """What is in the cup, noughts left out."""
    if has_core and mould.rods is None:
        raise BenchError(f"{mould.title} has no core rods: choose a mould with rods for a shell over a core")
    checked_loads(list(already_pct.values()), field="already in")
    return {name: load_pct for name, load_pct in already_pct.items() if load_pct > 0}


def _on_shelf(name: str, colourants: Mapping[str, Colourant]) -> Colourant:
    if name not in colourants:
        near = nearest(name, colourants)
        hint = f"; did you mean {near}?" if near else ""
        raise BenchError(f'no colourant is called "{name[:40]}"{hint}')
    return colourants[name]


def _loaded(colourant: Colourant, load_pct: float, base: Medium) -> Loaded:
    found = tinting(colourant, base)
    if found.strength is None:
        raise BenchError(f"the look of {colourant.title} is unknown: {found.why}")
    return Loaded(strength=found.strength, load_pct=load_pct)


def _end_g(cup_g: float | None, loads_pct: Sequence[float], *, grown_pct: float) -> float | None:
    """The cup once everything is in; None where no cup was given.

    What is in it stays but for the chosen colours, ``grown_pct`` of it, which grow to their loads.
    """
    if cup_g is None:
        return None
    return cup_g * (1 - grown_pct / 100) / (1 - sum(loads_pct) / 100)


def _addition(
    colourant: Colourant, load_pct: float, before_pct: float, *, start_g: float | None, end_g: float | None
) -> Addition:
    mass_g = None
    if start_g is not None and end_g is not None:
        mass_g = max(0.0, end_g * load_pct / 100 - start_g * before_pct / 100)
    return Addition(
        colourant=colourant.name,
        title=colourant.title,
        load_pct=load_pct,
        added_pct=load_pct - before_pct,
        mass_g=mass_g,
        drops=None if mass_g is None or colourant.drop_g is None else mass_g / colourant.drop_g,
    )
