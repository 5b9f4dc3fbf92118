"""What must not be cut, in as few words as say it, for the smallest windows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from bench.session.words import CLEAN_WHILE_HOT, OLD_CUP_FIRST, OVER_SCORCH, PUT_IN, THROWN
from bench.tui.pour.picture import Picture

_BRIEFLY: Mapping[str, str] = {
    OVER_SCORCH.do: "Off the heat. Ventilate. Leave the cup where it is until it is cold, then throw it away.",
    THROWN: "Leave the old cup until it is cold.",
    CLEAN_WHILE_HOT.do: "Leave hot cups, and what is in them, until cold. Clean the rest once cold, wipe it dry.",
    OLD_CUP_FIRST: "The old cup first: cold and out.",
    PUT_IN: "Cup in, set timer, start it.",
}


def in_brief(picture: Picture) -> Picture:
    """The picture with its brief details, and its long sentence on a hot or scorched cup shortened and kept
    whole."""
    if picture.middle.brief:
        picture = replace(picture, middle=replace(picture.middle, details=picture.middle.brief))
    do = picture.do
    for long, brief in _BRIEFLY.items():
        do = do.replace(long, brief)
    return replace(picture, do=do, keeps_do=True) if do != picture.do else picture
