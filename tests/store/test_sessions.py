"""Whole sessions on disk: begun, killed, resumed, read, listed."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from bench.errors import BenchError, FaultyFiles, place_words
from bench.model.recipe import Build, Part
from bench.plan.records import Ask
from bench.session.drive import acknowledge, forward
from bench.session.events import Aborted, CupRead, Event, Noted, StepDone, StopReason
from bench.session.prepare import prepare
from bench.session.session import Session, State
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.store import sessions
from bench.store.check import check
from bench.store.journal import torn_file
from bench.store.paths import Home
from bench.store.sessions import Listed, OpenSession, create, find, list_sessions, open_for_resume, read
from bench.store.shelf import load_library

CREATED = datetime(2026, 1, 31, 9, 5, tzinfo=timezone(timedelta(hours=1)))
PATIENCE_S = 60.0


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> dict[Build, Session]:
    """One prepared session of each build, from the shipped profiles."""
    library, _ = load_library(Home(tmp_path_factory.mktemp("none")))
    wanted = {
        Build.PLAIN: ("hoarfrost-reed", "long-reed-6"),
        Build.LAMINATE: ("dusk-and-dawn", "long-reed-6"),
        Build.CORE: ("ember-under-peat", "ribbon-leech-4"),
        Build.LAMINATE_CORE: ("ember-between-banks", "marsh-minnow-2"),
    }
    return {
        build: prepare(library, recipe=recipe, mould=mould, ask=Ask(count=6))
        for build, (recipe, mould) in wanted.items()
    }


@pytest.fixture
def home(tmp_path: Path) -> Home:
    return Home(tmp_path / "home")


@pytest.fixture
def idle(jobs: dict[Build, Session]) -> Session:
    return jobs[Build.CORE]


def _at(second: float) -> Stamp:
    return Stamp(elapsed_s=1000.0 + second, wall=CREATED + timedelta(seconds=second), boot="b")


def _opening(session: Session) -> Iterator[Event]:
    """Start, acknowledge every card, go two steps on."""
    second = 0.0
    while True:
        second += 10.0
        event = acknowledge(session, _at(second)) if session.unacknowledged and session.started else None
        event = event or forward(session, _at(second))
        session = session.after(event)
        yield event
        if len(session.visits) == 3:
            return


def _begun(home: Home, idle: Session) -> tuple[OpenSession, Session]:
    opened = create(home, idle, created=CREATED)
    session = idle
    for event in _opening(idle):
        session = session.after(event)
        opened.record(event)
    assert opened.recorder.flush(PATIENCE_S)
    return opened, session


@pytest.mark.parametrize("build", Build)
def test_a_session_of_every_build_comes_back_with_all_that_happened(
    home: Home, jobs: dict[Build, Session], build: Build
) -> None:
    opened, session = _begun(home, jobs[build])
    assert read(opened.path).session == session, "while it is being written"
    assert opened.close(session, PATIENCE_S)
    stored = read(opened.path)
    assert stored.session == session
    assert (stored.created, stored.rehearsal, stored.torn) == (CREATED, None, None)
    assert stored.id == f"2026-01-31T0905-{session.job.recipe.name}"


def test_a_file_alone_is_enough_after_every_profile_has_gone(home: Home, idle: Session, tmp_path: Path) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    elsewhere = tmp_path / "elsewhere.toml"
    shutil.move(opened.path, elsewhere)
    assert read(elsewhere).session == session


def test_a_session_goes_on_where_it_was_left(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    resumed = open_for_resume(opened.path)
    assert resumed.stored.session == session
    note = Noted(at=_at(500), text="Weiter geht’s.")
    resumed.record(note)
    resumed.close(session.after(note), PATIENCE_S)
    assert read(opened.path).session == session.after(note)


def test_a_torn_end_is_set_aside_and_said_and_the_session_goes_on_after_it(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    with opened.path.open("ab") as file:
        file.write(b'[[event]]\nkind = "no')
    line = opened.path.read_bytes().count(b"\n")
    looked_at = read(opened.path)
    assert looked_at.torn is not None
    assert looked_at.torn.sentence() == (
        f"{opened.path}: found a torn end of 20 bytes from line {line} on, wanted whole events; it does not "
        f"count, and will be kept in 2026-01-31T0905-ember-under-peat.toml.torn when the session goes on."
    )
    assert not torn_file(opened.path).exists(), "looking changes nothing"
    resumed = open_for_resume(opened.path)
    assert resumed.stored.session == session
    assert resumed.stored.torn is not None
    assert resumed.stored.torn.sentence() == (
        f"{opened.path}: found a torn end of 20 bytes from line {line} on, wanted whole events; "
        f"it is kept in 2026-01-31T0905-ember-under-peat.toml.torn."
    )
    assert torn_file(opened.path).read_bytes() == b'[[event]]\nkind = "no'
    resumed.close(session, PATIENCE_S)


def test_two_sessions_of_one_minute_do_not_meet(home: Home, idle: Session) -> None:
    first = create(home, idle, created=CREATED)
    second = create(home, idle, created=CREATED)
    assert second.path.name == "2026-01-31T0905-ember-under-peat-2.toml"
    first.close(idle, PATIENCE_S)
    second.close(idle, PATIENCE_S)


def test_a_session_in_use_cannot_be_resumed_but_read(home: Home, idle: Session) -> None:
    pytest.importorskip("fcntl")
    opened, session = _begun(home, idle)
    with pytest.raises(BenchError, match="is open in another window on this machine"):
        open_for_resume(opened.path)
    assert read(opened.path).session == session
    opened.close(session, PATIENCE_S)
    open_for_resume(opened.path).close(session, PATIENCE_S)


def test_rehearsals_are_marked_and_kept_apart(home: Home, idle: Session) -> None:
    opened = create(home, idle, created=CREATED, rehearsal=60.0)
    opened.close(idle, PATIENCE_S)
    assert opened.path.parent == home.rehearsals
    assert read(opened.path).rehearsal == 60.0
    assert list_sessions(home.sessions) == ()
    assert [listed.rehearsal for listed in list_sessions(home.rehearsals)] == [60.0]


def test_an_event_that_does_not_fit_is_told_by_its_place_and_the_file_left_alone(
    home: Home, idle: Session
) -> None:
    opened, session = _begun(home, idle)
    opened.record(StepDone(at=_at(900), step="no such step", by=Ending.HAND))
    opened.close(session, PATIENCE_S)
    before = opened.path.read_bytes()
    with pytest.raises(BenchError, match=r"the \w+ of event: found .*, wanted an event that fits"):
        open_for_resume(opened.path)
    assert opened.path.read_bytes() == before
    assert list(opened.path.parent.iterdir()) == [opened.path], "and no lock stays behind"


def test_where_nothing_can_be_written_the_maker_is_told_before_the_session(home: Home, idle: Session) -> None:
    home.root.mkdir()
    home.sessions.write_text("a file where the folder should be")
    with pytest.raises(BenchError, match=r"a session cannot be saved in .*sessions: "):
        create(home, idle, created=CREATED)


def test_a_session_too_long_to_be_read_again_is_refused(
    home: Home, idle: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sessions, "LONGEST_SNAPSHOT", 10_000)
    with pytest.raises(BenchError, match="plan fewer baits at a time"):
        create(home, idle, created=CREATED)
    assert list(home.sessions.iterdir()) == []


def test_a_session_that_is_not_there_is_said_to_be_missing(home: Home) -> None:
    with pytest.raises(BenchError, match="found nothing, wanted a session"):
        open_for_resume(home.sessions / "none.toml")
    with pytest.raises(BenchError, match="found nothing, wanted a file"):
        read(home.sessions / "none.toml")


def test_a_file_that_ends_in_its_plan_is_said_to_end_there_and_what_is_lost(home: Home, idle: Session) -> None:
    opened = create(home, idle, created=CREATED)
    opened.close(idle, PATIENCE_S)
    whole = opened.path.read_bytes()
    plan = whole.index(b"[[job.script]]")
    for end in (whole.index(b"\n", plan) - 3, plan + len(b"[[job.script]]\n")):
        opened.path.write_bytes(whole[:end])
        line = whole[:end].rstrip().count(b"\n") + 1
        for reading in (read, open_for_resume):
            with pytest.raises(FaultyFiles) as caught:
                reading(opened.path)
            (fault,) = caught.value.faults
            assert fault.sentence().startswith(
                f"{opened.path}: line {line}: found the end of the file in the middle of its plan, wanted the rest"
            )
            assert "is not in the file" in fault.remedy


def test_the_list_shows_the_newest_first_and_what_cannot_be_read_with_its_sentence(
    home: Home, idle: Session
) -> None:
    for day in (1, 3, 2):
        opened = create(home, idle, created=CREATED.replace(day=day))
        opened.close(idle, PATIENCE_S)
    broken = home.sessions / "2026-01-02T1200-broken.toml"
    broken.write_text("format = 1\nsummary = [", encoding="utf-8")
    (home.sessions / ".hidden.toml").touch()
    listed = list_sessions(home.sessions)
    assert [entry.id[:13] for entry in listed] == [
        "2026-01-03T09",
        "2026-01-02T12",
        "2026-01-02T09",
        "2026-01-01T09",
    ]
    assert listed[1].summary is None
    assert listed[1].problem.startswith(f"{broken}: line 2: found ‘summary = [’, which is not TOML (")
    assert [entry.problem for entry in listed if entry.summary] == ["", "", ""]
    assert [entry.id for entry in list_sessions(home.sessions, most=1)] == [listed[0].id]


def test_a_folder_of_sessions_that_cannot_be_read_is_told(home: Home) -> None:
    assert list_sessions(home.sessions) == ()
    home.root.mkdir()
    home.sessions.touch()
    (entry,) = list_sessions(home.sessions)
    assert entry.problem.endswith("found a folder that cannot be read (not a directory), wanted a folder.")


def test_the_list_reads_no_snapshot(home: Home, idle: Session) -> None:
    opened = create(home, idle, created=CREATED)
    opened.close(idle, PATIENCE_S)
    data = opened.path.read_bytes()
    start = data.index(b"[job.")
    opened.path.write_bytes(data[:start] + b"[job.\0" + data[start + 5 :])
    (entry,) = list_sessions(home.sessions)
    assert entry.problem == ""
    assert entry.summary is not None


def _only(home: Home) -> Listed:
    (entry,) = list_sessions(home.sessions)
    return entry


def test_an_unfinished_session_is_listed_as_such_and_a_finished_one_with_its_summary(
    home: Home, idle: Session
) -> None:
    opened, session = _begun(home, idle)
    reading = CupRead(at=_at(700), part=Part.SHELL, temp_c=151.0)
    opened.record(reading)
    assert opened.recorder.flush(PATIENCE_S)
    entry = _only(home)
    assert (entry.over, entry.last) == (False, reading.at.wall)
    assert entry.summary is not None
    assert (entry.summary.state, entry.summary.hottest_c) == (State.RUNNING, 151.0)
    (quick,) = list_sessions(home.sessions, figures=False)
    assert (quick.over, quick.last, quick.summary and quick.summary.state) == (False, entry.last, State.IDLE)
    opened.close(session.after(reading), PATIENCE_S)
    summary = _only(home).summary
    assert summary is not None
    assert (summary.state, summary.hottest_c, summary.recipe) == (State.RUNNING, 151.0, "Ember under Peat")


def test_a_finished_session_is_known_by_its_events_though_it_was_never_closed(home: Home, idle: Session) -> None:
    """Killed after the last step, then judged: the head still says idle."""
    opened, session = _begun(home, idle)
    stopped = Aborted(at=_at(800), reason=StopReason.DANGER)
    opened.record(stopped)
    for second in range(20):
        opened.record(Noted(at=_at(900 + second), text="x" * 200))
    opened.record(Noted(at=_at(999), text="é" * 6000))
    assert opened.recorder.close(PATIENCE_S)
    entry = _only(home)
    assert (entry.over, entry.last) == (True, _at(999).wall)
    assert entry.summary is not None
    assert entry.summary.state is State.ABORTED
    assert list_sessions(home.sessions, figures=False) == (entry,)
    assert read(opened.path).session.state is State.ABORTED
    opened.close(session, PATIENCE_S)


def test_a_hand_written_line_in_the_head_survives_the_summary(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    text = opened.path.read_text(encoding="utf-8").replace("\n[summary]", "# mine\n\n[summary]", 1)
    opened.path.write_text(text, encoding="utf-8")
    opened.close(session, PATIENCE_S)
    assert "# mine" in opened.path.read_text(encoding="utf-8")
    assert read(opened.path).session == session


def test_a_session_is_found_by_its_name_its_beginning_or_its_path(
    home: Home, idle: Session, tmp_path: Path
) -> None:
    for day in (1, 2):
        create(home, idle, created=CREATED.replace(day=day)).close(idle, PATIENCE_S)
    rehearsal = create(home, idle, created=CREATED.replace(day=9), rehearsal=60.0)
    rehearsal.close(idle, PATIENCE_S)
    assert find(home, "2026-01-01T0905-ember-under-peat").parent == home.sessions
    assert find(home, "2026-01-02").stem == "2026-01-02T0905-ember-under-peat"
    assert find(home, "2026-01-09") == rehearsal.path
    assert find(home, str(tmp_path / "x.toml")) == tmp_path / "x.toml"
    with pytest.raises(BenchError, match=r'^3 sessions begin with "2026"'):
        find(home, "2026")
    with pytest.raises(BenchError, match='no session is called "2026-01-01T0905-amber-under-peat"; did you mean'):
        find(home, "2026-01-01T0905-amber-under-peat")


def test_check_reads_sessions_through(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    rehearsal = create(home, idle, created=CREATED, rehearsal=60.0)
    rehearsal.close(idle, PATIENCE_S)
    assert check(home) == ()
    with opened.path.open("ab") as file:
        file.write(b"[[event]]")
    rehearsal.path.write_bytes(rehearsal.path.read_bytes().replace(b"cavities = 4", b'cavities = "4"', 1))
    for paths in ([], [home.root], [home.sessions, home.rehearsals], [opened.path, rehearsal.path]):
        told = [fault.sentence() for fault in check(home, paths)]
        assert [sentence.split(": ", 1)[1][:26] for sentence in told] == [
            "found a torn end of 9 byte",
            "job.mould.cavities: found ",
        ]


def _edited(opened: OpenSession, old: str, new: str) -> list[str]:
    """The file with those words put in the place of these; what is said of it besides."""
    text = opened.path.read_text(encoding="utf-8")
    assert old in text
    opened.path.write_text(text.replace(old, new), encoding="utf-8")
    return [fault.sentence().split(": ", 1)[1] for fault in read(opened.path).edited]


CHANGED = "job: found a plan that was changed after the session began, wanted the one it began with"


def test_a_title_or_a_figure_edited_by_hand_loses_no_session_and_is_said(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    for old, new in (
        ('title = "Ember under Peat"', 'title = "Glut unter Torf"'),
        ("cavities = 4", "cavities = 5"),
        ('name = "ribbon-leech-4"', 'name = "ribbon-leech-5"'),
    ):
        whole = opened.path.read_bytes()
        (sentence,) = _edited(opened, old, new)
        assert sentence.startswith(CHANGED)
        assert [fault.sentence().split(": ", 1)[1] for fault in check(home, [opened.path])] == [sentence]
        resumed = open_for_resume(opened.path)
        assert (resumed.stored.session.visits, resumed.stored.torn) == (session.visits, None)
        resumed.close(resumed.stored.session, PATIENCE_S)
        opened.path.write_bytes(whole)


def test_an_edit_that_leaves_the_plan_in_pieces_is_refused_in_a_sentence_and_a_defect_is_not_taken_for_one(
    home: Home, idle: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    whole = opened.path.read_bytes()

    def choke(*_: object) -> Session:
        raise IndexError("tuple index out of range")

    monkeypatch.setattr(Session, "after", choke)
    with pytest.raises(IndexError):
        read(opened.path)
    opened.path.write_bytes(whole.replace(b"cavities = 4", b"cavities = 5"))
    with pytest.raises(FaultyFiles, match=r"job: found a plan whose parts do not fit each other, wanted the one"):
        open_for_resume(opened.path)
    opened.path.write_bytes(whole)
    monkeypatch.undo()
    open_for_resume(opened.path).close(session, PATIENCE_S)


@pytest.mark.parametrize(("old", "new"), [(b"melt = 1\n", b"melt = 7\n"), (b"number = 1\n", b"number = 7\n")])
def test_a_plan_that_lacks_what_its_script_weighs_is_refused_in_a_sentence(
    home: Home, idle: Session, old: bytes, new: bytes
) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    whole = opened.path.read_bytes()
    assert old in whole
    opened.path.write_bytes(whole.replace(old, new))
    with pytest.raises(FaultyFiles, match="job: found a plan whose parts do not fit each other"):
        read(opened.path)


def test_comments_and_spaces_break_no_seal(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    assert _edited(opened, "[job.recipe]\n", "# a good one\n\n[job.recipe]\n\n") == []
    assert _edited(opened, "cavities = 4\n", "cavities   =   4  # four\n") == []


def test_a_file_without_a_seal_is_of_an_earlier_version_and_loads(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    head, seal, rest = opened.path.read_text(encoding="utf-8").partition("seal = ")
    opened.path.write_text(head + rest.partition("\n")[2], encoding="utf-8")
    assert seal
    stored = read(opened.path)
    assert (stored.session, stored.edited) == (session, ())


def test_a_note_edited_by_hand_is_taken_and_nothing_after_it_is_lost(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    for second, text in ((60, "too hot"), (70, "mine")):
        event = Noted(at=_at(second), text=text)
        session = session.after(event)
        opened.record(event)
    opened.close(session, PATIENCE_S)
    place = len(read(opened.path).events) - 2
    (sentence,) = _edited(opened, 'text = "too hot"', 'text = "just right"')
    assert sentence.startswith(f"{place_words(f'event[{place}]')}: found a note at 09:06:00 that was changed")
    resumed = open_for_resume(opened.path)
    assert resumed.stored.torn is None
    assert resumed.stored.session.notes == ("just right", "mine")
    assert resumed.stored.session.visits == session.visits
    resumed.close(resumed.stored.session, PATIENCE_S)
    _edited(opened, 'text = "just right"', "text = 7")
    assert read(opened.path).session.notes == ("mine",), (
        "what it says no longer is left out, and stays in the file"
    )
    assert "text = 7" in opened.path.read_text(encoding="utf-8")


def test_a_long_note_of_control_characters_makes_no_head_that_cannot_be_read(home: Home, idle: Session) -> None:
    """Escaped, each of them is six characters of a line."""
    opened, session = _begun(home, idle)
    event = Noted(at=_at(60), text="\x01" * 10_000)
    opened.record(event)
    session = session.after(event)
    opened.close(session, PATIENCE_S)
    assert read(opened.path).session.notes == (event.text,)
    (listed,) = list_sessions(home.sessions)
    assert listed.problem == ""


def test_a_head_too_long_to_be_read_in_a_moment_is_refused(home: Home, idle: Session) -> None:
    opened, session = _begun(home, idle)
    opened.close(session, PATIENCE_S)
    whole = opened.path.read_bytes()
    for place in (b"\n[summary]", b"\n[job]"):
        opened.path.write_bytes(whole.replace(place, b"\n" + b"#\n" * 500_001 + place, 1))
        with pytest.raises(FaultyFiles, match=r"found 1\.\d MB before the first event, wanted at most 1 MB"):
            read(opened.path)
    opened.path.write_bytes(whole.replace(b"\n[summary]", b"\n" + b"#\n" * 500_001 + b"\n[summary]", 1))
    (listed,) = list_sessions(home.sessions)
    assert "wanted at most 1 MB" in listed.problem
