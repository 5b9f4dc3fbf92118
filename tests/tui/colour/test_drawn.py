"""The colour screen looks as it did when somebody last looked at it. How to draw anew: see drawn.py."""

from __future__ import annotations

from tests.tui.colour.drawn import FOLDER, pictures


def test_every_picture_is_as_it_was_seen() -> None:
    seen = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("colour-*.txt")}
    drawn = dict(pictures())
    assert drawn.keys() == seen.keys()
    for name, text in drawn.items():
        assert text == seen[name], f"{name} has changed: look at it, then draw anew"
