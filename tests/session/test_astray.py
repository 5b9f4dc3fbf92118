"""A shell whose load lies outside its window is known where its cup is weighed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench.model.recipe import Part, PartRecipe
from bench.plan.look import look_at
from bench.plan.look_records import Place
from bench.plan.records import Ask
from bench.session.astray import Astray
from bench.session.job import Job
from bench.session.prepare import prepare
from bench.session.session import Session
from bench.session.view import view
from bench.store.decode import encode, restore
from tests.tui.at_the_bench import at, at_step, session_of, shelf


def loaded(
    load_pct: float, recipe: str = "ember-under-peat", part: Part = Part.SHELL, *, alone: bool = False
) -> Session:
    """The demo with so much of the main colourant of that shell, ``alone`` without the others."""
    library = shelf()
    chosen = library.recipes[recipe]
    main = max(chosen.parts[part].doses, key=lambda dose: dose.load_pct)
    others = () if alone else (dose for dose in chosen.parts[part].doses if dose is not main)
    doses = (replace(main, load_pct=load_pct), *others)
    parts = {**chosen.parts, part: replace(chosen.parts[part], doses=doses)}
    changed = replace(library, recipes={**library.recipes, recipe: replace(chosen, parts=parts)})
    return prepare(changed, recipe=recipe, mould="ribbon-leech-4", ask=Ask(count=8))


def place_at(job: Job, load_pct: float) -> Place:
    """Where the shell stands to its window with another load."""
    shell = job.recipe.parts[Part.SHELL]
    doses = (replace(shell.doses[0], load_pct=load_pct), *shell.doses[1:])
    recipe = replace(job.recipe, parts={**job.recipe.parts, Part.SHELL: PartRecipe(doses=doses)})
    look = look_at(recipe=recipe, mould=job.mould, plastic=job.plastic, colourants=job.colourants)
    (side,) = look.sides
    assert side.window is not None
    return side.window.place


def test_a_load_inside_its_window_is_not_astray() -> None:
    assert session_of().job.astray == ()


def test_a_shell_that_hides_its_core_says_the_load_that_would_show_it() -> None:
    job = loaded(4.0).job
    (astray,) = job.astray
    assert (astray.part, astray.title, astray.place, astray.hides) == (
        Part.SHELL,
        "Peat brown",
        Place.ABOVE,
        True,
    )
    assert astray.limit_pct is not None
    assert place_at(job, 0.99 * astray.limit_pct) is Place.INSIDE
    assert place_at(job, 1.01 * astray.limit_pct) is Place.ABOVE


def test_a_shell_that_hardly_tints_says_the_load_that_would() -> None:
    (astray,) = loaded(0.005, alone=True).job.astray
    assert (astray.place, astray.hides) == (Place.BELOW, False)


def test_it_is_seen_at_the_weighing_of_that_cup_alone_with_the_mass_in_that_melt() -> None:
    session = loaded(4.0)
    told: dict[str, tuple[Astray | None, float | None]] = {}
    for step in ("weigh.shell", "r1.weigh.core"):
        there, now = at_step(step, session)
        weigh = view(there, at(now)).weigh
        assert weigh is not None
        told[step] = weigh.astray, weigh.limit_g
        if weigh.astray is not None:
            # By mass of the cup: a load of 1 % is a gram in a hundred.
            assert weigh.limit_g == pytest.approx(weigh.melt.mass_g * (weigh.astray.limit_pct or 0) / 100)
    assert told["weigh.shell"][0] == session.job.astray[0]
    assert told["r1.weigh.core"] == (None, None)


def test_of_two_sides_each_cup_has_its_own() -> None:
    job = loaded(4.0, "ember-between-banks", Part.SHELL_B).job
    assert {each.part for each in job.astray if each.hides} == {Part.SHELL_B}


def test_it_is_kept_in_the_sessions_file_and_an_older_one_has_none() -> None:
    job = loaded(4.0).job
    written = encode(job)
    assert restore(Job, written, file="session") == job
    del written["astray"]
    assert restore(Job, written, file="session").astray == ()
