"""The doses that bring a colour difference down as far as it goes, none below its floor.

Three directions of colour against up to six doses: damped least squares (Levenberg, Marquardt) on the square
roots of what is added, so that nothing falls below its floor, from several starts; then a search dose by dose on
CIEDE2000 itself, which also lets go of doses that bring nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from bench.colour.difference import Parts

Missing = Callable[[Sequence[float]], Parts]

NOTHING_GAINED = 0.02
"""CIEDE2000 that a dose must be worth to stay in a recipe."""

_STEPS = 25
_NUDGE = 1e-4
_GOOD = 0.02


def nearest(
    missing: Missing, *, least: Sequence[float], scales: Sequence[float], most_total: float
) -> tuple[float, ...]:
    """Doses at least ``least`` and together at most ``most_total`` at which ``missing`` is smallest.

    ``scales`` are doses that plainly tell, one a colourant: they make the steps of strong and weak ones alike.
    """
    best: tuple[float, ...] = tuple(least)
    best_off = size(missing(best))
    for start in _starts(len(least)):
        found = _levenberg(missing, least, scales, most_total, start)
        off = size(missing(found))
        if off < best_off:
            best, best_off = found, off
        if best_off < _GOOD:
            break
    return _pruned(missing, _polished(missing, best, least, scales, most_total), least, scales)


def size(miss: Parts) -> float:
    """The CIEDE2000 of a miss given in its three directions."""
    square = miss.lightness**2 + miss.chroma**2 + miss.hue**2 + miss.rotation * miss.chroma * miss.hue
    return math.sqrt(max(0.0, square))


def _starts(count: int) -> Iterator[list[float]]:
    """Square roots of doses, in scales: a little of all, then much of one, then more of all; at last a trace of
    all, then a little of one, because a nearly clear bait has look-alikes of much stronger colour."""
    yield [0.5] * count
    for at in range(count):
        yield [1.5 if at == other else 0.15 for other in range(count)]
    yield [1.5] * count
    yield [0.1] * count
    for at in range(count):
        yield [0.4 if at == other else 0.03 for other in range(count)]


def _loads(
    roots: Sequence[float], least: Sequence[float], scales: Sequence[float], most_total: float
) -> tuple[float, ...]:
    """Doses from square roots, the added part shrunk where all together would be too much."""
    adding = [root * root * scale for root, scale in zip(roots, scales, strict=True)]
    room = most_total - sum(least)
    share = min(1.0, room / sum(adding)) if sum(adding) > 0 else 1.0
    return tuple(floor + share * more for floor, more in zip(least, adding, strict=True))


def _levenberg(
    missing: Missing, least: Sequence[float], scales: Sequence[float], most_total: float, start: list[float]
) -> tuple[float, ...]:
    def miss(roots: Sequence[float]) -> tuple[float, float, float]:
        return missing(_loads(roots, least, scales, most_total))[:3]

    roots, now, damping = start, miss(start), 1e-2
    for _ in range(_STEPS):
        columns = []
        for at in range(len(roots)):
            nudged = [root + _NUDGE * (at == other) for other, root in enumerate(roots)]
            columns.append([(new - old) / _NUDGE for new, old in zip(miss(nudged), now, strict=True)])
        step = _least_norm(columns, now, damping)
        tried = [max(0.0, root + min(0.7, max(-0.7, by))) for root, by in zip(roots, step, strict=True)]
        new = miss(tried)
        if _square(new) < _square(now):
            settled = _square(now) - _square(new) < 1e-8
            roots, now, damping = tried, new, max(1e-6, damping / 5)
            if settled or _square(now) < 1e-6:
                break
        else:
            damping *= 6
            if damping > 1e5:
                break
    return _loads(roots, least, scales, most_total)


def _square(miss: Sequence[float]) -> float:
    return sum(each * each for each in miss)


def _least_norm(columns: Sequence[Sequence[float]], miss: Sequence[float], damping: float) -> list[float]:
    """The damped step -J' (J J' + damping)^-1 miss: three equations whatever the number of doses."""
    rows = [[column[at] for column in columns] for at in range(3)]
    table = [[sum(a * b for a, b in zip(one, other, strict=True)) for other in rows] for one in rows]
    weight = damping * max(1e-9, sum(table[at][at] for at in range(3)))
    for at in range(3):
        table[at][at] += weight
    pull = _solved(table, miss)
    return [-sum(column[at] * pull[at] for at in range(3)) for column in columns]


def _solved(table: list[list[float]], right: Sequence[float]) -> list[float]:
    """Cramer's rule for three equations, regular by their damping."""
    (a, b, c), (d, e, f), (g, h, i) = table
    p, q, r = right
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    if det == 0:
        return [0.0, 0.0, 0.0]
    return [
        (p * (e * i - f * h) - b * (q * i - f * r) + c * (q * h - e * r)) / det,
        (a * (q * i - f * r) - p * (d * i - f * g) + c * (d * r - q * g)) / det,
        (a * (e * r - q * h) - b * (d * r - q * g) + p * (d * h - e * g)) / det,
    ]


def _polished(
    missing: Missing,
    loads: tuple[float, ...],
    least: Sequence[float],
    scales: Sequence[float],
    most_total: float,
) -> tuple[float, ...]:
    """Dose by dose up and down in shrinking steps, on CIEDE2000 itself."""
    best, off, step = list(loads), size(missing(loads)), 0.2
    while step > 0.005 and off > _GOOD:
        bettered = False
        for at, floor in enumerate(least):
            reach = step * max(best[at] - floor, 0.05 * scales[at])
            for change in (reach, -reach):
                tried = [*best[:at], max(floor, best[at] + change), *best[at + 1 :]]
                if sum(tried) > most_total:
                    continue
                new = size(missing(tried))
                if new < off - 1e-6:
                    best, off, bettered = tried, new, True
                    break
        step = step if bettered else step / 2
    return tuple(best)


def _pruned(
    missing: Missing,
    loads: tuple[float, ...],
    least: Sequence[float],
    scales: Sequence[float],
) -> tuple[float, ...]:
    """Without the doses that bring nothing, the weakest tried first: fewer bottles on the bench."""
    off = size(missing(loads))
    added = [(load - floor) / scale for load, floor, scale in zip(loads, least, scales, strict=True)]
    for at in sorted(range(len(loads)), key=lambda place: added[place]):
        if loads[at] <= least[at]:
            continue
        without = (*loads[:at], least[at], *loads[at + 1 :])
        if size(missing(without)) <= off + NOTHING_GAINED:
            loads = without
    return loads
