"""Every event there is, to a flat table and back."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import datetime, timedelta, timezone
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.errors import FaultyFiles
from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.session import events
from bench.session.corrections import Corrected
from bench.session.events import Event, SkipReason, StopReason
from bench.session.moves import LEGAL
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.verdicts import Subject, Verdict
from bench.store.event_tables import KINDS, event_from, event_table, kind_of

AT = Stamp(
    elapsed_s=12.3456789,
    wall=datetime(2026, 1, 31, 9, 5, 1, 250, tzinfo=timezone(timedelta(hours=-3, minutes=-30))),
    boot="9b1f",
)
EXAMPLES: list[Event] = [
    events.Started(at=AT),
    events.StepDone(at=AT, step="r1.shot", by=Ending.CLOCK),
    events.StepSkipped(at=AT, step="r1.rods", reason=SkipReason.SOMETHING_BROKE),
    events.WentBack(at=AT),
    events.CupRead(at=AT, part=Part.SHELL_A, temp_c=176.66666666666669),
    events.ReadingWithdrawn(at=AT, part=Part.CORE, temp_c=400.0),
    events.CupThrown(at=AT, part=Part.CORE),
    events.CupThrown(at=AT, part=Part.CORE, stays=True),
    events.HeatBegun(at=AT, step="r1.heat.core"),
    events.MouldRead(at=AT, temp_c=41.5),
    events.MouldRead(at=AT, temp_c=40.0, mould=2, typed_in=UnitSystem.US),
    events.ReheatWanted(at=AT, part=Part.CORE),
    events.CautionsAcknowledged(at=AT, cautions=("fan-on", "eyes")),
    events.Held(at=AT),
    events.Resumed(at=AT),
    events.VerdictGiven(at=AT, round=2, subject=Subject.SHELLS, verdict=Verdict.CORE_FAINT),
    events.TailsChosen(at=AT, round=2, cut=3),
    events.CoreChosen(at=AT, recipe="ember-under-peat"),
    events.CoreChosen(at=AT, recipe="ember-under-peat", weigh_anew=True),
    events.CorrectionRefused(at=AT, of=Corrected.CUP_LOSS),
    events.CorrectionRestored(at=AT, of=Corrected.SET_TIME),
    events.Noted(at=AT, text='crc = "x"\n[[event]]\n"é'),
    events.Left(at=AT),
    events.FileHealed(at=AT, kept_in="a.toml.torn"),
    events.StopRequested(at=AT, reason=StopReason.DANGER),
    events.Aborted(at=AT, reason=StopReason.OUT_OF_TIME),
    events.Completed(at=AT),
]


def test_every_event_that_a_session_knows_has_a_kind_and_an_example() -> None:
    assert set(KINDS.values()) == set(LEGAL)
    assert {type(event) for event in EXAMPLES} == set(LEGAL)


@pytest.mark.parametrize("event", EXAMPLES, ids=lambda event: kind_of(type(event)))
def test_an_event_comes_back_from_the_text_of_its_table(event: Event) -> None:
    table = event_table(event)
    assert not any(isinstance(value, Mapping) or value is None for value in table.values()), "flat"
    assert event_from(tomllib.loads(tomli_w.dumps(table)), place=0, file="x") == event


def test_a_table_reads_as_what_happened() -> None:
    assert event_table(EXAMPLES[4]) == {
        "kind": "cup read",
        "elapsed": "12.3456789 s",
        "wall": AT.wall,
        "boot": "9b1f",
        "part": "shell_a",
        "temp": "176.66666666666669 degC",
    }


_STAMPS = st.builds(
    Stamp,
    elapsed_s=st.floats(min_value=0, max_value=1e9),
    wall=st.datetimes(
        timezones=st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
    ),
    boot=st.text(max_size=40),
)


@settings(deadline=None)
@given(_STAMPS, st.text(max_size=50), st.floats(min_value=-273.15, max_value=2000))
def test_any_moment_note_and_temperature_comes_back(at: Stamp, text: str, temp_c: float) -> None:
    for event in (events.Noted(at=at, text=text), events.MouldRead(at=at, temp_c=temp_c)):
        table = tomllib.loads(tomli_w.dumps(event_table(event)))
        back = event_from(table, place=0, file="x")
        assert back == event
        assert back.at.wall.utcoffset() == at.wall.utcoffset()


def _changed(event: Event, **changes: Any) -> dict[str, Any]:
    return {key: value for key, value in {**event_table(event), **changes}.items() if value is not None}


@pytest.mark.parametrize(
    ("table", "sentence"),
    [
        ({}, "s.toml: kind of the fourth of event: found nothing, wanted a kind of event."),
        (
            _changed(EXAMPLES[1], kind="step donne"),
            's.toml: kind of the fourth of event: found "step donne", wanted a kind of event; '
            'did you mean "step done"?',
        ),
        (
            _changed(EXAMPLES[1], step=None),
            "s.toml: step of the fourth of event: found nothing, wanted text in quotes.",
        ),
        (
            _changed(EXAMPLES[0], wall=None),
            "s.toml: wall of the fourth of event: found nothing, wanted a date and time with its offset from UTC.",
        ),
        (
            _changed(EXAMPLES[0], elapsed=12),
            "s.toml: elapsed of the fourth of event: found the bare number 12, "
            'wanted a time such as "90 s"; did you mean "12 s"?',
        ),
        (
            _changed(EXAMPLES[3], step="x"),
            "s.toml: step of the fourth of event: found an unknown key, wanted one of at.",
        ),
    ],
)
def test_a_table_that_is_no_event_is_told_by_its_place(table: Mapping[str, Any], sentence: str) -> None:
    with pytest.raises(FaultyFiles) as caught:
        event_from(table, place=3, file="s.toml")
    assert str(caught.value) == sentence


def test_a_core_chosen_before_another_cup_was_weighed_for_it_comes_back_as_it_was() -> None:
    table = event_table(events.CoreChosen(at=AT, recipe="ember-under-peat", weigh_anew=True))
    del table["weigh_anew"]
    assert event_from(table, place=0, file="old.toml") == events.CoreChosen(at=AT, recipe="ember-under-peat")
