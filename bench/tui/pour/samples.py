"""The predicted colours at a look: what they are of, and how they stand in rows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from bench.model.recipe import Part, Tail
from bench.model.step_kind import StepKind
from bench.plan.look_records import ViewName
from bench.session.job import PredictedView
from bench.session.looks import looks_now
from bench.session.session import Session
from bench.session.view import View
from bench.tui.widgets.lines import Line, Piece, Tone, line, width_of

PATCH = "█" * 4
"""A patch of colour; its words say what it is where a terminal shows none."""

_LABEL = "predicted  "

_LOOKED_AT: Mapping[StepKind, tuple[ViewName, ...]] = {
    StepKind.LOOK_AT_SHELLS: (ViewName.SHELL_ALONE, ViewName.OVER_CORE),
    StepKind.LOOK_AT_BAITS: (ViewName.BODY, ViewName.OVER_CORE, ViewName.TAIL),
}
"""The views that the maker holds in the hand at a look, or will see next."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sample:
    """A predicted colour, and what it is the colour of; ``side`` is whose of several it is."""

    words: str
    hex: str
    side: str = ""


def samples(session: Session, view: View) -> Iterator[Sample]:
    """What shells, or baits, are predicted to look like, where they are looked at."""
    wanted = _LOOKED_AT.get(view.step.kind, ())
    looks = [look for look in looks_now(session) if look.view in wanted] if wanted else []
    several = len({look.side for look in looks if look.side is not Part.CORE}) > 1
    for look in looks:
        side = look.side.words if several and look.side is not Part.CORE else ""
        yield Sample(words=_words(session, look), hex=look.hex, side=side)


def _words(session: Session, look: PredictedView) -> str:
    """What it is the colour of. A tail that is cut is filled by the core."""
    if look.view is not ViewName.TAIL or not session.job.plan.build.has_core:
        return look.view.value
    return f"{look.view} {Tail.CUT if look.side is Part.CORE else Tail.KEPT}"


def sample_rows(samples: Sequence[Sample], room: int) -> tuple[Line, ...]:
    """Each a patch with its words, in as many rows as they need; every side begins one."""
    rows: list[Line] = []
    row: Line = line(_LABEL, Tone.QUIET)
    for before, sample in zip((None, *samples), samples, strict=False):
        begins = before is None or sample.side != before.side
        name = line(f"{sample.side}  ", Tone.QUIET) if sample.side and begins else ()
        shown = (*name, Piece(text=PATCH, hex=sample.hex), Piece(text=f" {sample.words} {sample.hex}   "))
        if before is not None and (begins or width_of((*row, *shown)) > room):
            rows.append(row)
            row = line(" " * len(_LABEL))
        row = (*row, *shown)
    return (*rows, row) if samples else ()
