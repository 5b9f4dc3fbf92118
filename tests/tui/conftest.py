"""Screens in tests stand on machines that may be busy."""

from __future__ import annotations

import pytest

from bench.tui.pour import beat

BLOCKED_S = 30.0


@pytest.fixture(autouse=True)
def patient(monkeypatch: pytest.MonkeyPatch) -> None:
    """A busy machine is not taken for a stopped one, which would take no key."""
    monkeypatch.setattr(beat, "BLOCKED_S", BLOCKED_S)
