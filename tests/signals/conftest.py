"""Programs that sound are given time, however busy the machine is."""

from __future__ import annotations

import pytest

from bench.signals import player, voice

PATIENCE_S = 600.0


@pytest.fixture(autouse=True)
def patient(monkeypatch: pytest.MonkeyPatch) -> None:
    """None is given up as one that hangs, but where a test says how soon."""
    monkeypatch.setattr(voice, "START_S", PATIENCE_S)
    monkeypatch.setattr(player, "MOST_S", PATIENCE_S)
