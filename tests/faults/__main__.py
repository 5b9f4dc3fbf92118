"""``python -m tests.faults`` runs these tests and prints their table; ``--nightly`` the long ones as well."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults.telling import Promise

FOLDER = str(Path(__file__).parent)


def main(argv: list[str]) -> int:
    """Run them with what else is said to pytest; its exit code."""
    marks = ["-m", "nightly or not nightly"] if "--nightly" in argv else []
    Promise.is_held = bool(marks)
    return pytest.main([FOLDER, *marks, *(word for word in argv if word != "--nightly")])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
