"""What the user is told of a file, and how soon."""

from __future__ import annotations

import math
import time
import tomllib
from functools import cache
from pathlib import Path

from tests.faults.corpus import READ
from tests.faults.tally import worst

WITHIN_S = 1.0
"""What is promised of a usual machine; held against it in long runs only, as a slow or busy one may miss it."""

FLOOR = "".join(f"[t{number}]\n" for number in range(10_000))
WITHIN_FLOORS = 40.0
"""In any run: so many times what Python's own parser takes for ``FLOOR`` on the same machine. The dearest takes
about 15; one that is read in a time that grows with the square of its size takes a hundred."""

TRIES = 3
"""How often a file is read that took too long: the machine may have done something else meanwhile."""

LONGEST_SENTENCE = 700
"""Characters, without the file's own name."""
MOST_SENTENCES = 60


class Promise:
    """Whether this run holds the program to ``WITHIN_S``."""

    is_held = False


@cache
def floor_s() -> float:
    """Processor time that Python's own parser takes for ``FLOOR``, the best of five."""
    took = []
    for _ in range(5):
        began = time.process_time()
        tomllib.loads(FLOOR)
        took.append(time.process_time() - began)
    return min(took)


def soon(sort: str, file: Path) -> list[str]:
    """What the user is told of that file, within the time that it may take."""
    most_s = min(WITHIN_FLOORS * floor_s(), WITHIN_S if Promise.is_held else math.inf)
    took_s = math.inf
    for _ in range(TRIES):
        began = time.process_time()
        sentences = READ[sort](file)
        took_s = min(took_s, time.process_time() - began)
        if took_s < most_s:
            break
    worst("s of processor time for one broken file", took_s)
    worst(f"times what the parser alone takes for {len(FLOOR) // 1000} kB of tables", took_s / floor_s())
    assert took_s < most_s, f"{took_s:.2f} s for {file}, {took_s / floor_s():.0f} times the floor"
    return sentences


def told(sort: str, data: bytes, file: Path) -> list[str]:
    """What the user is told of a file of that sort that holds this: soon, and in plain lines."""
    file.write_bytes(data)
    sentences = soon(sort, file)
    assert len(sentences) <= MOST_SENTENCES
    for sentence in sentences:
        bare = sentence.replace(str(file), "")
        assert bare.isprintable(), f"not one clean line: {bare!r}"
        assert len(bare) <= LONGEST_SENTENCE, bare
        assert bare.endswith((".", "?"))
    return sentences
