"""What is amiss, in as few words as say it: a row of the smallest window each, where the figures allow it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.session.warned import BenchWarning, WarningKind
from bench.tui import present
from bench.tui.pour.heat_words import reheating_press
from bench.tui.pour.keys import Press, key_for


def brief_warning(warning: BenchWarning, units: UnitSystem) -> str:
    """One warning as a short line."""
    return _WARNINGS[warning.kind](warning, units)


def _cup(warning: BenchWarning) -> str:
    return present.sentence(warning.part.words) if warning.part else "Cup"


def _figure(warning: BenchWarning, units: UnitSystem) -> str:
    return present.beyond(warning.value, warning.limit, units)


def _cup_hot(warning: BenchWarning, units: UnitSystem) -> str:
    return f"{_cup(warning)} {_figure(warning, units)}, over: let it cool"


def _cup_cold(warning: BenchWarning, units: UnitSystem) -> str:
    cold = f"{_cup(warning)} {_figure(warning, units)}, under"
    if warning.is_second:
        return f"{cold} its band"
    if not warning.at_shot:
        return f"{cold}: reheat first"
    return f"{cold}: {key_for(reheating_press(warning))} reheats"


def _fill_short(_warning: BenchWarning, _units: UnitSystem) -> str:
    return "The shot will run short."


def _bond_low(warning: BenchWarning, units: UnitSystem) -> str:
    return f"Core meets shell at {present.temperature(warning.value, units)}: may peel"


def _shells_out(warning: BenchWarning, _units: UnitSystem) -> str:
    out = f"Shells {warning.round} out {present.gone(warning.value)}"
    if not warning.is_second:
        return f"{out}: fill them now"
    if warning.mould:
        return f"{out}: core first. Leave mould {warning.mould} closed, {key_for(Press.FORWARD)} goes on"
    if warning.away_s is None:
        return f"{out}: they may peel"
    return f"{out}: core in {present.left(warning.away_s)}, quick"


def _cup_late(warning: BenchWarning, _units: UnitSystem) -> str:
    left, waits = present.left(warning.limit), present.left(warning.value)
    late = f"{_cup(warning)} in band {left}, its shot in {waits}"
    return f"{late}: be quick, or reheat it there ({key_for(Press.BACK)})"


def _shells_late(warning: BenchWarning, _units: UnitSystem) -> str:
    out, limit = present.gone(warning.value), present.gone(warning.limit)
    late = f"Shells {warning.round}: out {out} of {limit} at the core"
    return f"{late}, may peel" if warning.is_second else f"{late}: go on now"


def _mould_cold(warning: BenchWarning, units: UnitSystem) -> str:
    cold = f"Mould{_number(warning)} {_figure(warning, units)}, cold"
    if warning.by is WarmedBy.SHOTS:
        return f"{cold}: shots warm it"
    return f"{cold}: warm it to {present.temperature(warning.limit, units)}"


def _mould_hot(warning: BenchWarning, units: UnitSystem) -> str:
    return f"Mould {_figure(warning, units)}, too hot: let it cool"


def _mould_unread(warning: BenchWarning, _units: UnitSystem) -> str:
    return f"Mould{_number(warning)} warmed, not read: {key_for(Press.MOULD)}, digits"


def _number(warning: BenchWarning) -> str:
    return f" {warning.mould}," if warning.moulds > 1 else ""


def _spent(warning: BenchWarning, _units: UnitSystem) -> str:
    if warning.kind is WarningKind.HEAT_SPENT:
        return f"{_cup(warning)}: heat life used up. Use it or throw it away"
    return f"{_cup(warning)}: {present.share(warning.value)} of its heat life used"


_WARNINGS: Mapping[WarningKind, Callable[[BenchWarning, UnitSystem], str]] = {
    WarningKind.CUP_HOT: _cup_hot,
    WarningKind.CUP_COLD: _cup_cold,
    WarningKind.FILL_SHORT: _fill_short,
    WarningKind.BOND_LOW: _bond_low,
    WarningKind.SHELLS_OUT: _shells_out,
    WarningKind.CUP_LATE: _cup_late,
    WarningKind.SHELLS_LATE: _shells_late,
    WarningKind.MOULD_COLD: _mould_cold,
    WarningKind.MOULD_HOT: _mould_hot,
    WarningKind.MOULD_UNREAD: _mould_unread,
    WarningKind.HEAT_SPENT: _spent,
    WarningKind.HEAT_NEARLY_SPENT: _spent,
}
