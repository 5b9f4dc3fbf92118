"""The timeline as people see it, kept as text: python -m tests.plan.pictures writes the pictures anew.

Look at them when they change: the test only says that they did.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from bench.cli.timeline import as_lines
from bench.model.recipe import Build, Tail
from tests.plan.bench_records import job_of

FOLDER = Path(__file__).parent.parent / "pictures"

SIZES = ((80, 24), (140, 40))

NAMES = 10
"""Columns before each lane."""


def pictures() -> Iterator[tuple[str, str]]:
    """A file's name and what belongs in it: core work with two moulds, and plain work whose one mould rests."""
    for columns, lines in SIZES:
        for build, count, moulds in ((Build.CORE, 20, 2), (Build.PLAIN, 20, 1)):
            job = job_of(build, count=count, moulds=moulds, tail=Tail.CUT if build.has_core else Tail.KEPT)
            drawn = list(as_lines(job, width=columns - NAMES))
            yield f"timeline-{build}-{columns}x{lines}.txt", "\n".join(drawn) + "\n"


def main() -> None:
    """Writes them."""
    for name, text in pictures():
        (FOLDER / name).write_text(text)


if __name__ == "__main__":
    main()
