"""``python -m tests.faults`` runs these tests and prints their table; ``--nightly`` the long ones as well, and the
few long ones that stand elsewhere."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults.telling import Promise

FOLDER = Path(__file__).parent
ELSEWHERE = ("terminal/test_fast_keys.py", "tui/test_sizes.py")


def main(argv: list[str]) -> int:
    """Run them with what else is said to pytest; its exit code."""
    where = [str(FOLDER)]
    if "--nightly" in argv:
        Promise.is_held = True
        where += [str(FOLDER.parent / file) for file in ELSEWHERE]
        where += ["-m", "nightly or not nightly"]
    return pytest.main([*where, *(word for word in argv if word != "--nightly")])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
