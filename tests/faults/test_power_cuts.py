"""The power goes: the file ends anywhere. What was on disk whole is the session, the rest is set aside."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import islice, pairwise
from pathlib import Path

import pytest

from bench.errors import FaultyFiles
from bench.store import journal
from bench.store.event_tables import event_table
from bench.store.files import parse_table
from bench.store.paths import Home
from bench.store.sessions import open_for_resume, read
from tests.faults.played import PATIENCE_S, Played, kept, played
from tests.faults.tally import DONE

RANDOM_CUTS = 1_000
SEED = 20260131

EACH_OF = pytest.mark.parametrize("step", [5, pytest.param(1, marks=pytest.mark.nightly)])
"""Every fifth in every run, each in a long one."""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The file of a whole session that was never closed."""
    session = played()
    opened = kept(Home(tmp_path_factory.mktemp("whole")), session)
    data = opened.path.read_bytes()
    opened.close(session.after[-1], PATIENCE_S)
    return data


@pytest.fixture
def head_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """No cut of these tests reaches the head, and it is most of the file."""
    monkeypatch.setattr(journal, "parse_table", cache(parse_table))


def ends(data: bytes, session: Played) -> list[int]:
    """Where the header ends and where each event does: from there on it was acknowledged."""
    place = data.index(journal.END_OF_HEADER) + len(journal.END_OF_HEADER)
    found = [place]
    for event in session.events:
        place += len(journal.block(event_table(event)))
        found.append(place)
    assert place == len(data)
    return found


def cut_and_parsed(data: bytes, session: Played, cuts: Iterable[int]) -> Iterator[tuple[int, journal.Content]]:
    """The file as each cut leaves it, with what must hold of all of them."""
    written = [event_table(event) for event in session.events]
    places = ends(data, session)
    for cut in cuts:
        content = journal.parse(data[:cut], file="x")
        acknowledged = sum(place <= cut for place in places[1:])
        assert len(content.events) >= acknowledged, "an acknowledged event was lost"
        assert list(content.events) == written[: len(content.events)], "a step that never was"
        assert data[: content.good] + content.torn == data[:cut], "a byte was lost"
        yield cut, content


@EACH_OF
@pytest.mark.usefixtures("head_read_once")
def test_cut_anywhere_in_its_last_three_events_it_is_resumed_where_it_stood(
    step: int, whole: bytes, tmp_path: Path
) -> None:
    session = played()
    places = ends(whole, session)
    file = tmp_path / "session.toml"
    kept_aside = b""
    for cut, content in cut_and_parsed(whole, session, range(places[-4], len(whole) + 1, step)):
        file.write_bytes(whole[:cut])
        parsed, _ = journal.reopen(file)
        kept_aside += content.torn
        assert parsed == content
        assert file.read_bytes() == whole[: content.good]
        DONE["power cuts inside the last three events"] += 1
    assert journal.torn_file(file).read_bytes() == kept_aside


@pytest.mark.usefixtures("head_read_once")
def test_cut_at_a_thousand_random_places_it_reads_as_the_session_it_was_by_then(whole: bytes) -> None:
    session = played()
    places = ends(whole, session)
    places_at_random = random.Random(SEED).choices(range(places[0], len(whole) + 1), k=RANDOM_CUTS)
    for _ in cut_and_parsed(whole, session, places_at_random):
        DONE["power cuts at random places"] += 1


@EACH_OF
def test_resumed_after_a_cut_the_session_goes_on_to_the_same_end(step: int, whole: bytes, tmp_path: Path) -> None:
    """At a cut inside each event in turn: resumed, the rest happens again, and the file reads as if never cut."""
    session = played()
    places = ends(whole, session)
    chosen = random.Random(SEED)
    file = tmp_path / "2026-01-31T0900-ember.toml"
    for number, (start, end) in islice(enumerate(pairwise(places)), 0, None, step):
        cut = chosen.randrange(start, end - 1)
        file.write_bytes(whole[:cut])
        opened = open_for_resume(file)
        assert opened.stored.session == session.after[number]
        assert (opened.stored.torn is None) == (cut == start)
        for event in session.events[number:]:
            opened.record(event)
        assert opened.close(session.after[-1], PATIENCE_S)
        assert read(file).session == session.after[-1]
        DONE["cut sessions resumed and finished"] += 1


def test_a_cut_inside_the_head_is_told_in_one_line(whole: bytes) -> None:
    """The head is written whole or not at all, so no power cut does this; another program's copy may."""
    session = played()
    head = ends(whole, session)[0]
    for cut in random.Random(SEED).choices(range(head), k=100):
        told = ""
        try:
            assert journal.parse(whole[:cut], file="x").events == ()
        except FaultyFiles as error:
            told = str(error)
        assert len(told.splitlines()) <= 1
        DONE["cuts inside the head"] += 1


def test_zeros_at_the_end_as_some_file_systems_leave_them_are_torn(whole: bytes, tmp_path: Path) -> None:
    """After a crash a file may have its new length and zeros in it (ext4's delayed allocation, XFS)."""
    session = played()
    places = ends(whole, session)
    file = tmp_path / "session.toml"
    for number in range(1, 30, 4):
        file.write_bytes(whole[: places[-1 - number]] + b"\0" * (len(whole) - places[-1 - number]))
        opened = open_for_resume(file)
        assert opened.stored.session == session.after[-1 - number]
        assert set(journal.torn_file(file).read_bytes()) == {0}
        opened.close(opened.stored.session, PATIENCE_S)
        DONE["ends of zeros"] += 1
