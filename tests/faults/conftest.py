"""Prints what was done, so that a run which tested nothing does not pass for one that found nothing."""

from __future__ import annotations

import pytest

from tests.faults import tally


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if tally.DONE:
        terminalreporter.section("faults")
        for line in tally.lines():
            terminalreporter.write_line(line)
