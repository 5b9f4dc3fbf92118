"""How long the hands are busy with each task of a session, in seconds, by the maker's own pace.

The plan adds these up and the session's steps are as long as these say, so that the two can never differ.
Nothing ends by them: they are what a maker of this pace can expect.
"""

from __future__ import annotations

from bench.model.mould import Mould
from bench.model.station import Pace


def ready_s(pace: Pace) -> float:
    """Readying the bench, once."""
    return pace.ready_s


def shot_s(pace: Pace) -> float:
    """Filling the injector and pushing one shot."""
    return pace.shot_s


def fill_s(pace: Pace) -> float:
    """How long plastic flows into the mould in one push."""
    return pace.shot_s if pace.fill_s is None else pace.fill_s


def weigh_s(pace: Pace) -> float:
    """Weighing base and colours of one melt."""
    return pace.weigh_s


def stir_s(pace: Pace) -> float:
    """One stir and reading after a burst of heat."""
    return pace.stir_s


def rods_in_s(mould: Mould, pace: Pace) -> float:
    """Oiling and seating every rod of the mould."""
    return pace.rod_in_s * (mould.rods.count if mould.rods else 0)


def open_s(mould: Mould, pace: Pace) -> float:
    """Opening the mould and lifting out what lies in every cavity."""
    return pace.open_cavity_s * mould.cavities


def rods_out_s(mould: Mould, pace: Pace) -> float:
    """Pulling every rod and wiping the bores."""
    return pace.rod_out_s * (mould.rods.count if mould.rods else 0)


def look_s(pace: Pace) -> float:
    """One look at a mouldful of shells or of baits."""
    return pace.look_s


def trim_s(cut_cavities: int, pace: Pace) -> float:
    """Snipping the tails of so many shells; none takes no time."""
    return pace.trim_tail_s * cut_cavities


def shells_back_s(mould: Mould, pace: Pace) -> float:
    """Laying every shell back and closing the mould."""
    return pace.shell_back_s * mould.cavities


def shell_out_s(mould: Mould, cut_cavities: int, pace: Pace) -> float:
    """From the end of the shell's set to the closed mould: how long the shells are away from its warmth."""
    return (
        open_s(mould, pace)
        + rods_out_s(mould, pace)
        + look_s(pace)
        + trim_s(cut_cavities, pace)
        + shells_back_s(mould, pace)
    )


def clean_s(pace: Pace) -> float:
    """Cleaning injector and cups, once."""
    return pace.clean_s


def lay_out_s(baits: int, pace: Pace) -> float:
    """Laying out and labelling so many baits."""
    return pace.lay_out_bait_s * baits
