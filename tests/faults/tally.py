"""What the fault tests have done, counted while they run and printed at their end."""

from __future__ import annotations

from collections import Counter

DONE: Counter[str] = Counter()
"""How often each thing was done, by what it is called in the summary."""

WORST: dict[str, float] = {}
"""The largest value seen of each thing measured, by its name with its unit."""


def worst(name: str, value: float) -> None:
    """Keep the value if it is the largest of that name so far."""
    WORST[name] = max(value, WORST.get(name, value))


def counted() -> tuple[dict[str, int], dict[str, float]]:
    """All of it, as another process takes it."""
    return dict(DONE), dict(WORST)


def add(other: tuple[dict[str, int], dict[str, float]]) -> None:
    """Count what was done in another process too."""
    done, measured = other
    DONE.update(done)
    for name, value in measured.items():
        worst(name, value)


def lines() -> list[str]:
    """The summary: a line for each count, then for each measure."""
    counts = [f"{count:>10,}  {name}" for name, count in DONE.items()]
    return counts + [f"{value:>10.4g}  {name}" for name, value in WORST.items()]
