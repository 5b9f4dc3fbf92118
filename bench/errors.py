"""Everything that can go wrong on the user's side, as one tree.

    BenchError            one sentence, printed once by ``bench.__main__``; exit code 1
    ├── UnitError         a quantity that cannot be read
    ├── FaultyFiles       files that do not load: carries every fault found, not only the first
    └── IllegalMove       an event that the session's present state does not allow

A defect of ours is any other exception: it is not caught on the way and ends with exit code 3.
"""

from __future__ import annotations


class BenchError(Exception):
    """A problem in what the user gave. ``str(error)`` is one clear sentence for the user."""


class UnitError(BenchError):
    """A quantity that cannot be read.

    ``found`` is what was given and ``wanted`` what would be right, both as words that fit in a sentence.
    """

    def __init__(self, *, found: str, wanted: str) -> None:
        self.found = found
        self.wanted = wanted
        super().__init__(f"found {found}, wanted {wanted}")


class IllegalMove(BenchError):
    """An event that the session's present state does not allow; the message names both."""

    def __init__(self, *, state: str, event: str, why: str = "") -> None:
        self.state = state
        self.event = event
        super().__init__(f"{event} is not possible while the session is {state}" + (f": {why}" if why else ""))
