"""What must not be cut, in as few words as say it, for the smallest windows."""

from __future__ import annotations

import re
from dataclasses import replace

from bench.tui.pour.brief_sentences import briefly
from bench.tui.pour.picture import Picture
from bench.tui.widgets.lines import MARK

_FOR_ALL = re.compile(r".*A digit for all (\d+): the look of most, or the worst fault\.")


def in_brief(picture: Picture) -> Picture:
    """The picture with its brief words wherever it has some. Cautions keep their own, for where there is room."""
    middle, brief = picture.middle, dict(picture.brief)
    do = brief.get(picture.do, picture.do)
    is_judged = any(MARK in choice for choice in middle.choices)
    return replace(
        picture,
        do=_once_judged(do) if is_judged else do,
        middle=replace(middle, label=briefly(middle.label), details=middle.brief or middle.details),
        notices=tuple(brief.get(each, each) for each in picture.notices),
        is_brief=True,
    )


def _once_judged(do: str) -> str:
    """What is done before the first verdict is done; what is to be changed needs its row."""
    return _FOR_ALL.sub(r"A digit for all \1: most or worst fault", do)
