"""Figures in a session's snapshot that nothing can be reckoned with, whoever put them there.

A snapshot's own copies of profiles are held to this and no more. Whether a figure is plausible is asked where a
profile is taken from the shelf (``faults()`` of the records): a session that was poured with one that a later rule
refuses stays a session.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import is_dataclass, replace
from typing import Any

from bench.errors import Fault
from bench.session.job import Job
from bench.store.keys import field_types, joined, keys, without_none
from bench.units import figure, unit_of

LIGHTEST_G_ML, HEAVIEST_G_ML = 0.2, 20.0
"""No plastic is lighter, and no metal in it heavier than gold."""


def impossible_figures(job: Job) -> Iterator[Fault]:
    """Each of them, by its key in the session's file."""
    for name in ("mould", "plastic", "station"):
        yield from _out_of_bounds(getattr(job, name), f"job.{name}")
    yield from _rods_too_thick(job)
    if job.plastic.heat_limit_s <= 0:
        found = f"{job.plastic.heat_limit_s:g} s"
        yield Fault(key="job.plastic.heat_limit", found=found, wanted="more than 0 s")
    yield from _impossible_melts(job)


def _out_of_bounds(record: Any, path: str) -> Iterator[Fault]:
    """Quantities that nothing has: a length of nought, a mass below it."""
    record_type: Any = type(record)
    names = keys(record_type)
    for name, annotation in field_types(record_type).items():
        value, key = getattr(record, name), joined(path, names[name])
        unit = unit_of(annotation) or unit_of(without_none(annotation))
        if is_dataclass(value):
            yield from _out_of_bounds(value, key)
        elif unit is not None and value is not None:
            refusal = replace(unit, most=None).refusal(value)
            if refusal is not None:
                yield Fault(key=key, found=f"{value:g} {unit.shown}", wanted=f"{unit.what} of {refusal}")


def _rods_too_thick(job: Job) -> Iterator[Fault]:
    """Rods as thick as the body."""
    rods, body_mm = job.mould.rods, job.mould.section.body_mm
    if rods is not None and rods.diameter_mm >= body_mm:
        yield Fault(
            key="job.mould.rods.diameter",
            found=f"{figure(rods.diameter_mm)} mm",
            wanted=f"less than the body, {figure(body_mm)} mm",
        )


def _impossible_melts(job: Job) -> Iterator[Fault]:
    """Melts whose weight does not go with their volume: a cup of a million litres takes longer to reckon than
    anybody waits, each time that it is shown."""
    for part in job.plan.parts:
        for melt in part.melts:
            if not LIGHTEST_G_ML * melt.volume_ml <= melt.mass_g <= HEAVIEST_G_ML * melt.volume_ml:
                found = f"a {part.part.words} melt of {melt.volume_ml:.3g} ml that weighs {melt.mass_g:.3g} g"
                yield Fault(key="job", found=found, wanted="amounts that go with each other")
