"""The screen looks as it did when somebody last looked at it. How to draw anew: see pictures.py."""

from __future__ import annotations

from tests.tui.pour.pictures import FOLDER, pictures


def test_every_picture_is_as_it_was_seen() -> None:
    seen = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("*.txt")}
    drawn = dict(pictures())
    assert drawn.keys() == {name for name in seen if name in drawn}
    for name, text in drawn.items():
        assert text == seen[name], f"{name} has changed: look at it, then draw anew"
