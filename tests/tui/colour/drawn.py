"""Pictures of the colour screen as text, kept under tests/tui/pictures.

``python -m tests.tui.colour.drawn`` draws them anew. Look at every one that changed before it is committed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from bench.model.recipe import Part, Tail
from bench.tui.colour.amount import By
from bench.tui.colour.cells import text_of
from bench.tui.colour.depth import Depth
from bench.tui.colour.desk import Building, Cores, Desk, Mode, Offer, Offers, Sheet, Taken, Typing, What
from bench.tui.colour.draft import begun
from bench.tui.colour.goal import doses_found, shelf_found
from bench.tui.colour.page import Showing, page
from bench.tui.colour.predict import cores_found, predicted, variants
from tests.tui.at_the_bench import shelf

FOLDER = Path(__file__).parent.parent / "pictures"
MOULD = "ribbon-leech-4"


def _scene(
    name: str,
    mode: Callable[[], Mode] = Building,
    *,
    depth: Depth = Depth.TRUE,
    mould: str = MOULD,
    at: int = 0,
) -> Showing:
    recipe = shelf().recipes[name]
    desk = Desk(draft=begun(recipe, mould).moved(at), mode=mode(), saved=recipe)
    return Showing(
        desk=desk, library=shelf(), predicted=predicted(recipe, shelf().moulds[mould], shelf()), depth=depth
    )


def _cores() -> Mode:
    recipe = shelf().recipes["ember-under-peat"]
    return Cores(found=cores_found(recipe, shelf().moulds[MOULD], shelf(), Part.SHELL), at=1)


def _sheet() -> Mode:
    recipe = shelf().recipes["ember-under-peat"]
    return Sheet(found=variants(recipe, shelf().moulds[MOULD], shelf()), tail=Tail.CUT)


def _offer() -> Mode:
    recipe = shelf().recipes["ember-under-peat"]
    return Offer(found=doses_found(recipe, shelf().moulds[MOULD], shelf(), Part.SHELL, "#6a3b20"))


def _offers() -> Mode:
    recipe = shelf().recipes["ember-under-peat"]
    return Offers(found=shelf_found(recipe, shelf().moulds[MOULD], shelf(), Part.SHELL, "#306030"), at=1)


def _dose() -> Mode:
    return Typing(what=What.DOSE, typed="30", by=By.COVER, ways=tuple(By))


def _taken() -> Mode:
    return Taken(
        recipe=shelf().recipes["ember-under-peat"], why='a recipe called "ember-under-peat" is there already'
    )


SCENES: Mapping[str, tuple[Callable[[], Showing], int, int]] = {
    "core-60x20": (lambda: _scene("ember-under-peat"), 60, 20),
    "core-80x24": (lambda: _scene("ember-under-peat"), 80, 24),
    "core-120x40": (lambda: _scene("ember-under-peat"), 120, 40),
    "core-words-80x24": (lambda: _scene("ember-under-peat", depth=Depth.NONE), 80, 24),
    "laminate-core-80x24": (lambda: _scene("moon-between-banks"), 80, 24),
    "laminate-80x24": (lambda: _scene("dusk-and-dawn"), 80, 24),
    "flake-80x24": (lambda: _scene("hoarfrost-reed"), 80, 24),
    "no-rods-80x24": (lambda: _scene("ember-under-peat", mould="long-reed-6"), 80, 24),
    "cores-80x24": (lambda: _scene("ember-under-peat", _cores), 80, 24),
    "sheet-80x24": (lambda: _scene("ember-under-peat", _sheet), 80, 24),
    "sheet-words-80x24": (lambda: _scene("ember-under-peat", _sheet, depth=Depth.NONE), 80, 24),
    "offer-80x24": (lambda: _scene("ember-under-peat", _offer), 80, 24),
    "offers-80x24": (lambda: _scene("ember-under-peat", _offers), 80, 24),
    "dose-80x24": (lambda: _scene("hoarfrost-reed", _dose, at=1), 80, 24),
    "goal-80x24": (lambda: _scene("ember-under-peat", lambda: Typing(what=What.GOAL, typed="#6a3")), 80, 24),
    "taken-80x24": (lambda: _scene("ember-under-peat", _taken), 80, 24),
}


def pictures() -> Mapping[str, str]:
    """Every picture by the name of its file."""
    return {
        f"colour-{name}.txt": "".join(text_of(row).rstrip() + "\n" for row in page(scene(), width, height))
        for name, (scene, width, height) in SCENES.items()
    }


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in pictures().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
