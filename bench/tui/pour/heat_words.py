"""The words for what the physics says at a step: bursts, filling, bond, top-off, and what is amiss."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bench.model import figures
from bench.model.settings import UnitSystem
from bench.model.station import WarmedBy
from bench.plan.records import DosePlan
from bench.session.aim import Aim
from bench.session.aside import OldCup
from bench.session.asking import Asked
from bench.session.bond import BondView
from bench.session.bursts import BurstView
from bench.session.cooldown import CoolDown
from bench.session.feed import TopOffView
from bench.session.fill import FillChange, FillHelp, FillVerdict, FillView
from bench.session.handling import TouchView
from bench.session.to_weigh import WeighView
from bench.session.view import View
from bench.session.warned import BenchWarning, WarningKind
from bench.tui import present
from bench.tui.pour.keys import Press, key_for
from bench.tui.text import clean


def burst_words(burst: BurstView) -> str:
    """What the heater and the hands do now, in the heating's bursts."""
    left = present.countdown(burst.left_s)
    if burst.heating:
        return f"burst {burst.number} of {burst.of}: the heater is on for {left}, then stir and read"
    if burst.next_burst_s is None:
        return "heater off: stir and read"
    return f"heater off: stir and read; the next burst is {present.countdown(burst.next_burst_s)}"


def burst_label(view: View) -> str:
    """What the large figure of a heating counts while its burst runs or its cup is stirred; empty once neither is
    so: then it is the whole heating's."""
    if view.burst is None or view.burst.left_s <= 0 or view.remaining_s is None:
        return ""
    what = "left of this burst" if view.burst.heating else "to stir and read"
    return f"{what}; {present.countdown(left_in_all_s(view))} in all by the estimate"


def left_in_all_s(view: View) -> float:
    """What a heating still takes from the moment that its cup is on: its bursts and stirs as they are planned by
    now, whatever was planned before."""
    return view.coming[0].in_s if view.coming else view.remaining_s or 0.0


def heating_words(view: View) -> tuple[str, ...]:
    """What a heating says of its burst: which to set and what begins it while it waits for its cup, and after that
    what heater and hands do."""
    if view.set_burst_s is None:
        return (burst_words(view.burst),) if view.burst else ()
    if not view.set_burst_s:
        return ("hot enough by the estimate: no burst, stir and read",)
    return (f"set {present.countdown(view.set_burst_s)}, start it, then {key_for(Press.FORWARD)}",)


def aim_words(aim: Aim | None, units: UnitSystem) -> tuple[str, ...]:
    """What a cup should read where its shot is not next; nothing where any reading in the band will do."""
    if aim is None:
        return ()
    return (f"aim at {present.at_least(aim.temp_c, units)} or more: its shot is {present.left(aim.waits_s)} away",)


def brief_heat(view: View, units: UnitSystem) -> tuple[str, ...]:
    """The burst and the band in the smallest window; where there is an aim, that in the place of the band's lower
    end, which is of no use."""
    if view.is_to_begin and view.step.band_c is not None:
        return (f"until {present.temperatures(*view.step.band_c, units)}: digits, Enter",)
    if view.burst is None or view.step.band_c is None or view.weigh is not None:
        return ()
    burst, left = view.burst, present.countdown(view.burst.left_s)
    what = f"on for {left}, stir, read" if burst.heating else "heater off: stir, read"
    said = f"burst {burst.number} of {burst.of}: {what}"
    if view.aim is None:
        return (said, f"until {present.temperatures(*view.step.band_c, units)}: digits, Enter")
    high = present.temperature(view.step.band_c[1], units)
    aim = f"aim at {figures.degrees_up(view.aim.temp_c, units)} to {high}"
    return (said, f"{aim}: shot in {present.left(view.aim.waits_s)}")


def top_off_words(top_off: TopOffView, units: UnitSystem) -> str:
    """When to push a little more, and how much."""
    when = "now" if top_off.next_in_s <= 0 else f"in {present.countdown(top_off.next_in_s)}"
    return f"top off {when}, about {present.volume(top_off.volume_ml, units)}, when the sprue sinks"


def fill_words(fill: FillView, units: UnitSystem) -> str:
    """Whether the shot will fill, and the one change that helps most."""
    if fill.verdict is FillVerdict.FILLS:
        return "it will fill: the thinnest way stays open"
    verdict = "it will barely fill" if fill.verdict is FillVerdict.MARGINAL else "it will run short"
    if fill.help is None:
        return verdict
    if fill.help.change is FillChange.REHEAT:
        return f"{verdict}, the cup is too cold: reheat it into its band"
    return f"{verdict}: {_help(fill.help, units)} helps most"


def _help(change: FillHelp, units: UnitSystem) -> str:
    if change.change is FillChange.PUSH:
        return "a faster push"
    what = "the mould" if change.change is FillChange.MOULD else "the plastic"
    return f"{what} {present.warmer(change.by, units)}"


def bond_words(bond: BondView, units: UnitSystem, *, may_hurry: bool = True) -> str:
    """Whether core and shell will bond; ``may_hurry`` is False where something else comes before the shot."""
    at = present.temperature(bond.contact_c, units)
    peel = "it may peel; be quick, shoot hot" if may_hurry else "it may peel"
    return f"core meets shell at about {at}: {'it bonds' if bond.enough else peel}"


def weigh_words(weigh: WeighView, units: UnitSystem) -> tuple[str, ...]:
    """What to weigh into a melt, a line each."""
    of = f"  (melt {weigh.melt.number} of {weigh.melts})" if weigh.melts > 1 else ""
    base = f"weigh {present.mass(weigh.melt.base_g, units)} of plastic{of}"
    return (base, *(_dose(dose) for dose in weigh.doses))


def _dose(dose: DosePlan) -> str:
    hint = present.drops(dose.drops)
    return f"      {present.small_mass(dose.mass_g)}  {clean(dose.title)}{', ' if hint else ''}{hint}"


def touch_words(touch: TouchView) -> str:
    """When what was just opened may be handled bare, while that is still to come: once it has, the step's own word
    that it is hot inside stands alone."""
    cool = present.long_time(touch.bare_s)
    return f"gloves on: cool inside for bare hands in about {cool} by the estimate; test before you trust it"


def brief_touch(touch: TouchView) -> str:
    """The same where there is one row for it."""
    return f"gloves on about {present.long_time(touch.bare_s)}, then test it"


def waiting_words(old: OldCup) -> tuple[str, ...]:
    """How long the old cup still stands in the way of a heating, and what begins that."""
    return (*cooling_words(old), f"{key_for(Press.FORWARD)}: the old cup is out, the new one on the heat")


def cooling_words(cooling: CoolDown | OldCup) -> tuple[str, ...]:
    """How long a cup that was over its scorch limit still has to stand: an estimate, and what counts for more."""
    if cooling.is_read:
        return ("it was read cool",)
    if cooling.left_s == 0:
        return ("cool by the estimate; its middle may not be: test before you trust it",)
    reading = f"a cool reading counts for more: {key_for(Press.TEMPERATURE)} and digits"
    if cooling.left_s is None:
        return ("the room is too warm to say when it is cool", reading)
    about = present.wait(cooling.left_s)
    return (f"cool to the touch in about {about} by the estimate, its middle later", reading)


def thrown_words(view: View) -> tuple[str, ...]:
    """How long a cup that was over its scorch limit still cools, and the two ways on from it."""
    cooling = () if view.cool_down is None else cooling_words(view.cool_down)
    ways = [f"{key_for(Press.FORWARD)}: the cold cup is thrown away, weigh a new one"]
    if view.cool_down is not None and view.cool_down.left_s != 0:
        stays = taken_as(Asked.SCORCHED)
        ways.append(f"{key_for(Press.FORWARD)}, then {key_for(Press.ACKNOWLEDGE)} while it is hot: {stays}")
    if view.strikable is not None:
        ways.append(f"{key_for(Press.BACK)}: that reading was wrong")
    return (*cooling, *ways)


def taken_as(why: Asked) -> str:
    """What the key says that answers a question which the one key never does."""
    return "it stays, weigh anew" if why is Asked.SCORCHED else "I take it as it is"


def warning_words(warning: BenchWarning, units: UnitSystem) -> str:
    """One warning as a line."""
    return _WARNINGS[warning.kind](warning, units)


def _of_cup(warning: BenchWarning) -> str:
    return f"The {warning.part.words} cup" if warning.part else "The cup"


def _figure(warning: BenchWarning, units: UnitSystem) -> str:
    return present.beyond(warning.value, warning.limit, units)


def _cup_hot(warning: BenchWarning, units: UnitSystem) -> str:
    return f"{_of_cup(warning)} is over its band, {_figure(warning, units)}: let it cool first."


def _cup_cold(warning: BenchWarning, units: UnitSystem) -> str:
    cold = f"{_of_cup(warning)} is under its band, {_figure(warning, units)}"
    if warning.is_second:
        return f"{cold}."
    if not warning.at_shot:
        return f"{cold}: reheat it before its shot."
    return f"{cold}. {key_for(reheating_press(warning))} puts it back on the heat, the shot follows."


def reheating_press(warning: BenchWarning) -> Press:
    """What puts a cold cup back on the heat: the key back, unless that goes further back."""
    return Press.YES if warning.came_back else Press.BACK


def _fill_short(_warning: BenchWarning, _units: UnitSystem) -> str:
    return "The shot will run short."


def _bond_low(warning: BenchWarning, units: UnitSystem) -> str:
    return f"Core meets shell at about {present.temperature(warning.value, units)}: it may peel."


def _shells_out(warning: BenchWarning, _units: UnitSystem) -> str:
    out = f"The shells of round {warning.round} have been out for {present.gone(warning.value)}"
    if not warning.is_second:
        return f"{out}. Fill them now."
    if warning.mould:
        return f"{out}: first their core. Leave mould {warning.mould} closed, {key_for(Press.FORWARD)} goes on."
    if warning.away_s is None:
        return f"{out}: they may peel."
    when = f"{present.left(warning.away_s)} away" if warning.away_s >= 1 else "next"
    return f"{out}: their core is {when}, be quick."


def _cup_late(warning: BenchWarning, _units: UnitSystem) -> str:
    left, waits = present.left(warning.limit), present.left(warning.value)
    late = f"{_of_cup(warning)} stays in its band for {left}, its shot is {waits} away: be quick"
    return f"{late}, or reheat it there ({key_for(Press.BACK)})."


def _shells_late(warning: BenchWarning, _units: UnitSystem) -> str:
    out, limit = present.gone(warning.value), present.gone(warning.limit)
    late = f"The shells of round {warning.round} will have been out for {out} of {limit} at their core"
    return f"{late}: they may peel." if warning.is_second else f"{late}: go on now."


def _mould_cold(warning: BenchWarning, units: UnitSystem) -> str:
    cold, warm = _figure(warning, units), present.temperature(warning.limit, units)
    return f"{_of_mould(warning)} is cold, {cold}. {_WARM_AGAIN[warning.by].format(warm=warm)}"


def _of_mould(warning: BenchWarning) -> str:
    return f"Mould {warning.mould}" if warning.moulds > 1 else "The mould"


_WARM_AGAIN: Mapping[WarmedBy, str] = {
    WarmedBy.PLATE: "Warm it on its plate, closed, to {warm}.",
    WarmedBy.AIR: "Warm it in the warm air, closed, to {warm}.",
    WarmedBy.SHOTS: "Each shot warms it: it is good from {warm}, baits may come out short before.",
}


def _mould_hot(warning: BenchWarning, units: UnitSystem) -> str:
    return f"The mould is too hot, {_figure(warning, units)}: it sets slowly. Let it cool first."


def _mould_unread(warning: BenchWarning, _units: UnitSystem) -> str:
    warmed = f"{_of_mould(warning)} was {where_warmed(warning.by)} for {present.long_time(warning.value)}"
    read = f"{key_for(Press.MOULD)} reads it." if warning.at_shot else "Read it first."
    return f"{warmed}, not read since: it may be too hot. {read}"


def where_warmed(by: WarmedBy) -> str:
    """Where a mould stands that is warmed, in words."""
    return "in the warm air" if by is WarmedBy.AIR else "on the plate"


def _spent(warning: BenchWarning, _units: UnitSystem) -> str:
    spent = f"{_of_cup(warning)} has used up {present.spent(warning.value)} of the heat it stands"
    return f"{spent}: use it up or throw it away." if warning.kind is WarningKind.HEAT_SPENT else f"{spent}."


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
