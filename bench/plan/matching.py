"""Doses that bring a bait nearest to a wanted colour, and what to weigh for them. Colour is only ever added."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.colour.difference import de2000
from bench.colour.lab import Lab, lab_from_hex, shown_lab
from bench.colour.layers import Medium
from bench.colour.mix import Loaded, checked_loads
from bench.colour.target import MOST_TOTAL_PCT, look_of
from bench.errors import BenchError, quoted
from bench.model.colourant import Colourant
from bench.model.library import nearest
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.plan.look import section_of
from bench.plan.strengths import base_of, kind_notes, tinting
from bench.plan.thinning import SAME_BELOW, Addition, Sought, Thinned, thinned
from bench.units import Grams, Percent


@dataclass(frozen=True, kw_only=True, slots=True)
class Match:
    """The nearest look. ``off`` is the CIEDE2000 left, ``misses`` the directions of it, the worst first.

    ``cup_g`` is the cup in the end, all colour in it; None where no cup was given. ``thinned`` is what clear
    plastic would bring where the cup holds too much already; ``is_capped`` says that the most colour allowed,
    ``most_total_pct``, kept it from coming nearer. ``core_visibility`` is how far a core then still shows,
    ``off_as_weighed`` what is left where additions too small to weigh are left out; None where there are none.
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
    most_total_pct: Percent = MOST_TOTAL_PCT
    is_capped: bool = False
    thinned: Thinned | None = None
    core_visibility: float | None = None
    off_as_weighed: float | None = None


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
    room_g: float | None = None,
) -> Match:
    """Doses of the named colourants for a solid bait of a mould, or with ``core`` for its shell over a core.

    ``already_pct`` is what the cup holds by now, of these or others. ``cup_g`` is the cup as it stands when colour
    is in it, else as it is wanted in the end, colour included; ``room_g`` what the vessel takes. Raises BenchError
    for a colour that is none, a colourant that is not on the shelf or not known, and a mould without rods for a
    core.
    """
    target = lab_from_hex(target_hex)
    already = _checked(already_pct or {}, mould=mould, has_core=core is not None)
    chosen = [_on_shelf(name, colourants) for name in dict.fromkeys(names)]
    held = [_on_shelf(name, colourants) for name in already if name not in names]
    base = base_of(plastic)
    sought = Sought(
        target=target,
        base=base,
        chosen=chosen,
        strengths=[_loaded(each, 0.0, base).strength for each in chosen],
        already=[already.get(each.name, 0.0) for each in chosen],
        held=[_loaded(each, already[each.name], base) for each in held],
        section=section_of(mould, with_core=core is not None),
        core=core,
        most_total_pct=most_total_pct,
    )
    notes = tuple(note for each in (*chosen, *held) for note in kind_notes(each))
    return _matched(sought, notes, is_fresh=not already, cup_g=cup_g, room_g=room_g)


def _matched(
    sought: Sought, notes: tuple[str, ...], *, is_fresh: bool, cup_g: float | None, room_g: float | None
) -> Match:
    found = sought.nearest(1.0)
    end_g = cup_g if is_fresh else _end_g(cup_g, found.loads_pct, grown_pct=sum(sought.already))
    additions = sought.additions(found.loads_pct, start_g=cup_g, end_g=end_g)
    shown, is_off = shown_lab(found.lab), found.off >= SAME_BELOW
    return Match(
        target_hex=shown_lab(sought.target).hex,
        target=sought.target,
        hex=shown.hex,
        clipped=shown.clipped,
        lab=found.lab,
        off=found.off,
        misses=found.misses,
        additions=additions,
        cup_g=end_g,
        notes=notes,
        most_total_pct=sought.most_total_pct,
        is_capped=is_off and sum(found.loads_pct) >= 0.99 * sought.most_total_pct,
        thinned=None if is_fresh or not is_off else thinned(sought, found.off, cup_g, room_g),
        core_visibility=sought.core_visibility(found.loads_pct),
        off_as_weighed=_off_as_weighed(sought, additions),
    )


def _off_as_weighed(sought: Sought, additions: Sequence[Addition]) -> float | None:
    left_out = [each.added_pct > 0 and not each.is_weighable for each in additions]
    if not any(left_out):
        return None
    loads = [each.load_pct - each.added_pct * out for each, out in zip(additions, left_out, strict=True)]
    return de2000(sought.target, look_of(sought.medium(loads), sought.section, sought.core))


def _checked(already_pct: Mapping[str, float], *, mould: Mould, has_core: bool) -> dict[str, float]:
    """What is in the cup, noughts left out."""
    if has_core and mould.rods is None:
        raise BenchError(f"{mould.title} has no core rods: choose a mould with rods for a shell over a core")
    checked_loads(list(already_pct.values()), field="already in")
    return {name: load_pct for name, load_pct in already_pct.items() if load_pct > 0}


def _on_shelf(name: str, colourants: Mapping[str, Colourant]) -> Colourant:
    if name not in colourants:
        near = nearest(name, colourants)
        hint = f"; did you mean {near}?" if near else f"; on the shelf are {', '.join(sorted(colourants))}"
        raise BenchError(f"no colourant is called {quoted(name)}{hint}")
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
