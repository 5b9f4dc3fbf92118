"""What a session was made with, for ``pourbench log show``: cups, shots, tails, loads for another time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from bench.cli.output import duration, mass, temperature
from bench.session.causes import likely_causes, verdict_words
from bench.session.made_again import shot_words, tails_words, weighing_words
from bench.session.next_loads import NextTime, next_times
from bench.session.shots_made import ShotMade
from bench.session.weighings import Weighing, weighings

if TYPE_CHECKING:
    from bench.model.settings import UnitSystem
    from bench.session.verdicts import Given
    from bench.store.sessions import Stored


def made_lines(stored: Stored, shots: Iterable[ShotMade], units: UnitSystem) -> Iterator[str]:
    """The band, each cup as it was weighed, each shot, the tails."""
    session = stored.session
    degrees = partial(temperature, units=units)
    low_c, high_c = session.job.plastic.band_c
    mould_low_c, mould_high_c = session.job.mould.warm_c
    yield f"{session.job.plastic.title}, band {degrees(low_c)} to {degrees(high_c)}"
    yield f"mould window {degrees(mould_low_c)} to {degrees(mould_high_c)}"
    for weighing in weighings(session.job, stored.events):
        yield f"{weighing.at.wall:%H:%M:%S}  {weighing_words(weighing, partial(mass, units=units))}"
    for made in shots:
        yield f"{made.at.wall:%H:%M:%S}  {shot_words(made, _estimated(units), duration)}"
    yield from tails_words(session)


def _estimated(units: UnitSystem) -> Callable[[float], str]:
    return lambda temp_c: f"about {temperature(temp_c, units)}"


def verdict_lines(verdicts: Iterable[Given], shots: Sequence[ShotMade], units: UnitSystem) -> Iterator[str]:
    """The verdicts, with what they may come from."""
    yield from (verdict_words(given, shots, _estimated(units)) for given in verdicts)


def verdicts_json(verdicts: Iterable[Given], shots: Sequence[ShotMade]) -> list[dict[str, object]]:
    """The same for programs."""
    return [
        {
            "round": given.round,
            "subject": given.subject.value,
            "verdict": given.verdict.value,
            "likely_causes": [{"what": words, "temp_c": temp_c} for words, temp_c in likely_causes(given, shots)],
        }
        for given in verdicts
    ]


def made_json(stored: Stored, shots: Iterable[ShotMade]) -> dict[str, object]:
    """The same for programs, and what to load another time."""
    job = stored.session.job
    return {
        "tails_cut": {str(number): cut for number, cut in stored.session.tails.items()},
        "band_c": list(job.plastic.band_c),
        "mould_window_c": list(job.mould.warm_c),
        "weighed": [_weighed(each) for each in weighings(job, stored.events)],
        "shots": [_shot(each) for each in shots],
        "next_round": [_next(each) for each in next_times(stored.session)],
    }


def _weighed(weighing: Weighing) -> dict[str, object]:
    return {
        "at": weighing.at.wall.isoformat(),
        "part": weighing.melt.part.value,
        "melt": weighing.melt.number,
        "base_g": weighing.base_g,
        "colours": [
            {"colourant": dose.colourant, "load_pct": dose.load_pct, "mass_g": dose.mass_g}
            for dose in weighing.doses
        ],
        "anew": weighing.anew.value if weighing.anew else None,
    }


def _shot(made: ShotMade) -> dict[str, object]:
    return {
        "at": made.at.wall.isoformat(),
        "round": made.step.round,
        "mould": made.step.mould,
        "shot": made.shot.value,
        "cups_c": {part.value: temp_c for part, temp_c in made.cups_c.items()},
        "mould_c": made.mould_c,
        "mould_rise_k": made.mould_rise_k,
        "planned_set_s": made.planned_set_s,
        "set_s": made.set_s,
        "shells_out_s": made.shells_out_s,
        "shells_limit_s": made.shells_limit_s,
    }


def _next(each: NextTime) -> dict[str, object]:
    return {
        "verdict": each.verdict.value,
        "subject": each.subject.value,
        "rounds": list(each.rounds),
        "otherwise": [{"verdict": other.verdict.value, "rounds": list(other.rounds)} for other in each.otherwise],
        "opposite": [
            {"subject": other.subject.value, "verdict": other.verdict.value, "rounds": list(other.rounds)}
            for other in each.opposite
        ],
        "loads": [
            {
                "part": load.part.value,
                "colour": load.title,
                "now_pct": load.now_pct,
                "low_pct": load.low_pct,
                "high_pct": load.high_pct,
                "try_pct": load.try_pct,
            }
            for load in each.loads
        ],
    }
