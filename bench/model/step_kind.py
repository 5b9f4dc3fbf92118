"""The kinds of step a session is made of; cautions and scripts both speak of them."""

from __future__ import annotations

from enum import StrEnum


class StepKind(StrEnum):
    """What a step is about. Its words, length and ending come from the script."""

    CAUTIONS = "cautions"
    READY = "ready"
    WARM_MOULD = "warm mould"
    WEIGH = "weigh"
    HEAT_ON = "heat on"
    HEAT = "heat"
    WARM_UP_SHOT = "warm-up shot"
    RODS_IN = "rods in"
    SHOT = "shot"
    HOLD = "hold"
    SET = "set"
    OPEN = "open"
    RODS_OUT = "rods out"
    LOOK_AT_SHELLS = "look at shells"
    TRIM = "trim"
    SHELLS_BACK = "shells back"
    LOOK_AT_BAITS = "look at baits"
    REST_MOULD = "rest mould"
    HEAT_OFF = "heat off"
    PURGE_AIR = "purge air"
    CLEAN = "clean"
    LAY_OUT = "lay out"
    CURE = "cure"
