"""How the whole suite runs: in a process for each core, with one table of the fault tests at the end."""

from __future__ import annotations

import os
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from tests.faults import tally

_ANY_MACHINE = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("same cases", _ANY_MACHINE, derandomize=True)
settings.register_profile("new cases", _ANY_MACHINE)
settings.load_profile("same cases")

MOST_PROCESSES = 8
"""More would take longer to begin than they save."""


def _is_whole(config: pytest.Config) -> bool:
    """Whether everything is asked for. What is asked for by name begins sooner, and in reach of a debugger, in the
    process that was started."""
    chosen = config.getoption("keyword") or config.getoption("usepdb") or config.getoption("collectonly")
    return config.args_source is pytest.Config.ArgsSource.TESTPATHS and not chosen


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """Spread the whole suite over the cores, unless it was said how (``-n 0`` for one process)."""
    is_worker = hasattr(config, "workerinput")
    if is_worker or not config.pluginmanager.hasplugin("xdist") or config.option.numprocesses is not None:
        return
    cores = min(os.cpu_count() or 1, MOST_PROCESSES)
    if cores > 1 and _is_whole(config):
        config.option.numprocesses, config.option.dist = cores, "loadfile"


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Hand on what the fault tests of this process have done."""
    output: dict[str, Any] | None = getattr(session.config, "workeroutput", None)
    if output is not None:
        output["faults"] = tally.counted()


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any, error: object) -> None:
    """Add what those of another process have."""
    tally.add(getattr(node, "workeroutput", {}).get("faults", ({}, {})))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print what was done, so that a run which tested nothing does not pass for one that found nothing."""
    if tally.DONE:
        terminalreporter.section("faults")
        for line in tally.lines():
            terminalreporter.write_line(line)
