"""From the shelf to a session."""

from __future__ import annotations

from dataclasses import replace

from bench.model.settings import UnitSystem
from bench.plan.records import Ask
from bench.session.prepare import prepare
from tests.tui.at_the_bench import shelf


def test_its_plan_speaks_in_the_units_of_the_settings() -> None:
    library = replace(shelf(), settings=replace(shelf().settings, units=UnitSystem.US))
    session = prepare(library, recipe="ember-between-banks", mould="marsh-minnow-2", ask=Ask(count=60))
    assert any("falls to 102 °F, below its window" in warning for warning in session.job.plan.warnings)
