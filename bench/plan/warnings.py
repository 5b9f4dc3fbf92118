"""What a plan should say aloud: plain sentences about what its own physics shows, none of them a refusal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bench.model.recipe import PARTS, Part
from bench.model.station import WarmedBy
from bench.plan import pace
from bench.plan.amounts import PartAmount
from bench.plan.melts import in_band_s
from bench.plan.records import Heating, Melt, RoundPlan
from bench.plan.rounds import Times
from bench.plan.scope import Scope
from bench.plan.shooting import window_top_c

_NEAR_C = 0.5
"""A mould that reads as the edge of its window is in it."""

_AGAIN = {
    WarmedBy.PLATE: "put it back on its hot plate while cups heat",
    WarmedBy.AIR: "warm it in the blast again while cups heat",
    WarmedBy.SHOTS: "shoot the next round sooner, or warm the mould on a hot plate",
}

_SEEN_TO = "let it cool while the shells are seen to"

_WORTH_SAYING_S = 60.0
"""Rests shorter than this in all are lost among the pace of the hands."""


def warnings(
    scope: Scope, *, amounts: Sequence[PartAmount], melts: Sequence[Melt], times: Times
) -> tuple[str, ...]:
    """Every warning of this plan but for those of its rounds, the most pressing first."""
    return (
        *_injector(scope, times),
        *_shell_out(scope),
        *_bond(scope, times),
        *_mould(scope, times),
        *_band(scope, amounts, melts, times),
        *_cups(scope, melts),
        *_colours(scope),
    )


def with_rounds(told: Sequence[str], *, scope: Scope, rounds: Sequence[RoundPlan], moulds: int) -> tuple[str, ...]:
    """What is told already, with what these rounds warn of: they are asked last, because a timeline changes when
    a mould is shot into and how long it rests."""
    rests = _rests(rounds) if moulds == 1 else ()
    mould = "The mould" if moulds == 1 else "A mould"
    return (*_too_cold(scope, rounds, mould), *_too_hot(scope, rounds, mould), *told, *rests)


def _injector(scope: Scope, times: Times) -> Iterator[str]:
    usable_ml = scope.station.injector.usable_ml
    for shot in times.rounds[0].plan.shots:
        for part in shot.parts:
            needs_ml = scope.share(part) * max(
                plan.volume_ml + plan.top_off_ml
                for each in times.rounds
                for plan in each.plan.shots
                if plan.shot is shot.shot
            )
            if needs_ml > usable_ml:
                yield (
                    f"One shot of {part.words} takes {scope.volume(needs_ml)} with its top-off and the "
                    f"injector shoots {scope.volume(usable_ml)}: it needs a second filling, or a larger injector."
                )


def _shell_out(scope: Scope) -> Iterator[str]:
    if not scope.build.has_core:
        return
    out_s = pace.shell_out_s(scope.mould, scope.cut_cavities, scope.station.pace)
    if out_s > scope.station.shell_out_s:
        yield (
            f"At this pace the shells lie out for {_about(out_s)}, longer than the "
            f"{_about(scope.station.shell_out_s)} this bench allows: cold shells bond badly."
        )


def _bond(scope: Scope, times: Times) -> Iterator[str]:
    shells_c = [each.shell_c for each in times.rounds if each.shell_c is not None]
    if not shells_c:
        return
    contact_c = (scope.plastic.shot_c + min(shells_c)) / 2
    if contact_c < scope.plastic.bond_c:
        yield (
            f"Core meets shell at about {scope.temperature(contact_c)}, below the "
            f"{scope.temperature(scope.plastic.bond_c)} at which they bond: bring the shells back sooner and "
            "shoot the core at the hot end of its band."
        )


def _mould(scope: Scope, times: Times) -> Iterator[str]:
    low_c, high_c = scope.mould.warm_c
    top_c = window_top_c(scope)
    if top_c < high_c:
        yield (
            f"The mould's window reaches to {scope.temperature(high_c)}, where the plastic hardly sets: this plan "
            f"keeps the mould at {scope.temperature(top_c)} or less."
        )
    if times.warm_up.before_last_c > top_c + _NEAR_C:
        met = scope.temperature(times.warm_up.before_last_c)
        yield f"The last warm-up shot meets a mould at {met}, above its window: fewer will do."
    if scope.station.warming.by is WarmedBy.SHOTS and times.warm_up.after_c < low_c - _NEAR_C:
        yield (
            f"{_counted(scope.warm_up_shots)} of scrap bring the mould to "
            f"{scope.temperature(times.warm_up.after_c)}, below its window from {scope.temperature(low_c)}: "
            "warm it on a hot plate or in warm air first, or use a larger vessel."
        )


def _too_cold(scope: Scope, rounds: Sequence[RoundPlan], mould: str) -> Iterator[str]:
    low_c = scope.mould.warm_c[0]
    cold = [plan for plan in rounds if min(shot.mould_c for shot in plan.shots) < low_c - _NEAR_C]
    if cold:
        coldest_c = min(shot.mould_c for plan in cold for shot in plan.shots)
        yield (
            f"{mould} falls to {scope.temperature(coldest_c)}, below its window, {_in_rounds(cold, len(rounds))}: "
            f"{_AGAIN[scope.station.warming.by]}."
        )


def _too_hot(scope: Scope, rounds: Sequence[RoundPlan], mould: str) -> Iterator[str]:
    top_c = window_top_c(scope)
    for place, words, help_words in (
        (0, f"{mould} is at {{}} at its first shot", "let it cool before you shoot"),
        (1, f"The shell's heat brings {mould.lower()} to {{}} before the core shot", _SEEN_TO),
    ):
        hot = [plan for plan in rounds if any(shot.mould_c > top_c + _NEAR_C for shot in plan.shots[place:][:1])]
        if hot:
            hottest = scope.temperature(max(plan.shots[place].mould_c for plan in hot))
            yield f"{words.format(hottest)}, above its window, {_in_rounds(hot, len(rounds))}: {help_words}."


def _rests(rounds: Sequence[RoundPlan]) -> Iterator[str]:
    resting = [plan for plan in rounds if plan.rest_s > 0]
    if sum(plan.rest_s for plan in resting) < _WORTH_SAYING_S:
        return
    longest_s = max(plan.rest_s for plan in resting)
    in_all = "" if len(resting) == 1 else f" at most, {_about(sum(plan.rest_s for plan in resting))} in all"
    yield (
        f"The mould rests before {_in_rounds(resting, len(rounds)).removeprefix('in ')}, for "
        f"{_about(longest_s)}{in_all}: a second mould would use that time."
    )


def _band(scope: Scope, amounts: Sequence[PartAmount], melts: Sequence[Melt], times: Times) -> Iterator[str]:
    for amount in amounts:
        part = amount.part
        needs_s = pace.shot_s(scope.station.pace) + _waits_s(part, times)
        lasts_s = min(in_band_s(scope, amount, melt) for melt in melts if melt.part is part)
        if lasts_s < needs_s:
            yield (
                f"The {part.words} cup falls from the middle of its band to the low end in about {lasts_s:.0f} s, "
                f"and it takes {needs_s:.0f} s until it is shot: heat it towards the high end."
            )


def _waits_s(part: Part, times: Times) -> float:
    """How long the part's cup waits, at most, while the other side of its shot is brought back to its band."""
    return max(
        (
            _after_own_s(part, shot.heats)
            for each in times.rounds
            for shot in each.plan.shots
            if part in shot.parts
        ),
        default=0.0,
    )


def _after_own_s(part: Part, heats: Sequence[Heating]) -> float:
    """What is heated after the last heating of the part."""
    waited_s = 0.0
    for heating in heats:
        waited_s = 0.0 if heating.part is part else waited_s + heating.total_s
    return waited_s


def _cups(scope: Scope, melts: Sequence[Melt]) -> Iterator[str]:
    for part in PARTS[scope.build]:
        cups = sum(melt.part is part for melt in melts)
        if cups > 1:
            yield f"One cup does not hold all of {part.words}: it takes {cups} melts, one after another."


def _colours(scope: Scope) -> Iterator[str]:
    for part in PARTS[scope.build]:
        if sum(dose.load_pct for dose in scope.recipe.parts[part].doses) == 0:
            yield f"No colour goes into {part.words}: it is shot in bare plastic."


def _counted(shots: int) -> str:
    return "1 shot" if shots == 1 else f"{shots} shots"


def _in_rounds(plans: Sequence[RoundPlan], rounds: int) -> str:
    if len(plans) == rounds and rounds > 1:
        return "in every round"
    if len(plans) == 1:
        return f"in round {plans[0].round}"
    return f"in {len(plans)} of {rounds} rounds"


def _about(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.0f} min"
