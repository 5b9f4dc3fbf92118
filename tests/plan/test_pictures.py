"""The kept pictures of timelines are those that are drawn, and fit their terminals."""

from __future__ import annotations

from tests.plan.pictures import FOLDER, pictures


def test_timelines_look_as_they_were_last_looked_at() -> None:
    for name, text in pictures():
        assert (FOLDER / name).read_text() == text, f"{name} has changed: look at it, and write it anew"


def test_they_fit_their_terminals() -> None:
    """A screenful, and the legend whole."""
    for name, text in pictures():
        columns = int(name.rsplit("-", 1)[1].split("x")[0])
        assert max(len(line) for line in text.splitlines()) <= columns
