"""What figures usually are: outside of it they are doubted, not refused."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from bench.errors import Fault


@dataclass(frozen=True, kw_only=True, slots=True)
class Range:
    """The usual figures of one field of a record, in a unit of which one is ``factor`` of the record's own."""

    key: str
    field: str
    least: float
    most: float
    unit: str
    words: str = ""
    factor: float = 1.0


def doubts_of(record: object, ranges: Iterable[Range]) -> Iterator[Fault]:
    """The figures of a record that are outside of what is usual."""
    for each in ranges:
        value = getattr(record, each.field) / each.factor
        if not each.least <= value <= each.most:
            yield Fault(
                key=each.key,
                found=f"{value:g} {each.unit}",
                wanted=" ".join(f"{each.least:g} to {each.most:g} {each.unit} {each.words}".split()),
                doubt=True,
            )


def with_other_unit(value: float, units: Mapping[str, float], *, least: float, most: float) -> str:
    """The same figure with the one of these units, told by their factors, that brings it between the bounds;
    empty where none does."""
    for name, factor in units.items():
        if least <= value * factor <= most:
            return f'"{value:g} {name}"'
    return ""


_USUAL_KG_M3 = (900.0, 1400.0)
"""From below the softener's own density, near 970, to that of PVC without any: data sheets and handbooks, from
memory."""

_PLASTISOL = "0.9 to 1.4 g/ml, as plastisols have (common practice, no source)"


def density_faults(key: str, density_kg_m3: float) -> Iterator[Fault]:
    """No foam and no metal is poured."""
    if 500 <= density_kg_m3 <= 3000:
        return
    g_per_ml = density_kg_m3 / 1000
    near = (g_per_ml * factor for factor in (0.1, 0.01, 0.001, 1000))
    hints = [f'"{each:g} g/ml"' for each in near if _USUAL_KG_M3[0] <= 1000 * each <= _USUAL_KG_M3[1]]
    yield Fault(key=key, found=f"{g_per_ml:g} g/ml", wanted=_PLASTISOL, hint=hints[0] if hints else "")


def density_doubts(key: str, density_kg_m3: float) -> Iterator[Fault]:
    """Denser or lighter than a plastisol without much filler."""
    if not _USUAL_KG_M3[0] <= density_kg_m3 <= _USUAL_KG_M3[1]:
        yield Fault(key=key, found=f"{density_kg_m3 / 1000:g} g/ml", wanted=_PLASTISOL, doubt=True)
