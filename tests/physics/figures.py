"""Reads the published figures under tests/reference: tab-separated, a heading line, remarks after a #."""

from __future__ import annotations

from pathlib import Path

REFERENCE = Path(__file__).parents[1] / "reference"


def rows(name: str) -> list[dict[str, str]]:
    """One dictionary a line, by heading."""
    lines = [
        line for line in (REFERENCE / name).read_text(encoding="utf-8").splitlines() if not line.startswith("#")
    ]
    heading = lines[0].split("\t")
    return [dict(zip(heading, line.split("\t"), strict=True)) for line in lines[1:]]
