"""Stored sessions outlive stricter rules for profiles; only what nothing can be reckoned with is refused."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from bench.__main__ import main
from bench.errors import FaultyFiles
from bench.model.mould import Mould
from bench.model.plastic import Plastic
from bench.session.session import Session
from bench.store.paths import Home
from bench.store.sessions import list_sessions, open_for_resume, read
from tests.faults.played import PATIENCE_S
from tests.plan.bench_records import MOULD, PLASTIC
from tests.session.bench_sessions import Maker, job
from tests.store.on_disk import on_disk

REFUSED_MOULDS = {
    "a mould lighter than its baits": replace(MOULD, mass_g=10.0),
    "a mould heavier than a horse": replace(MOULD, mass_g=400_000.0),
    "a surface that no mould has": replace(MOULD, area_m2=2.0),
    "a gate wider than its body": replace(MOULD, section=replace(MOULD.section, gate_mm=12.0)),
    "a window upside down": replace(MOULD, warm_c=MOULD.warm_c[::-1]),
}
REFUSED_PLASTICS = {
    "denser than stone": replace(PLASTIC, density_kg_m3=4000.0),
    "opens before it gels": replace(PLASTIC, open_c=80.0),
}


def _begun_with(home: Home, *, mould: Mould = MOULD, plastic: Plastic = PLASTIC) -> tuple[Path, Session]:
    """A session that was begun with these before a rule refused them, left while its shells set."""
    hands = Maker(session=Session(job=replace(job(), mould=mould, plastic=plastic)))
    hands.walk_to("r1.shell.set")
    return on_disk(home.root, hands), hands.session


def _is_whole(home: Home, path: Path, session: Session) -> None:
    """Listed, read, resumed, closed."""
    assert read(path).session == session
    assert [(line.problem, line.summary is not None) for line in list_sessions(home.sessions)] == [("", True)]
    assert main(["--home", str(home.root), "log"]) == 0
    assert main(["--home", str(home.root), "log", "show", path.stem]) == 0
    resumed = open_for_resume(path)
    assert resumed.stored.session == session
    assert resumed.close(session, PATIENCE_S)
    assert read(path).session == session


@pytest.mark.parametrize("what", REFUSED_MOULDS)
def test_a_session_begun_with_a_mould_that_is_refused_since_is_whole(tmp_path: Path, what: str) -> None:
    mould, home = REFUSED_MOULDS[what], Home(tmp_path)
    assert list(mould.faults())
    _is_whole(home, *_begun_with(home, mould=mould))


@pytest.mark.parametrize("what", REFUSED_PLASTICS)
def test_a_session_begun_with_a_plastic_that_is_refused_since_is_whole(tmp_path: Path, what: str) -> None:
    plastic, home = REFUSED_PLASTICS[what], Home(tmp_path)
    assert list(plastic.faults())
    _is_whole(home, *_begun_with(home, plastic=plastic))


def test_a_title_put_right_in_such_a_session_loses_it_no_more_than_in_any(tmp_path: Path) -> None:
    home = Home(tmp_path)
    path, session = _begun_with(home, mould=REFUSED_MOULDS["a gate wider than its body"])
    path.write_text(path.read_text("utf-8").replace('title = "Leech"', 'title = "Egel"'), "utf-8")
    stored = read(path)
    assert stored.session.visits == session.visits
    assert len(stored.edited) == 1


def test_a_session_saved_before_plans_itemised_their_plastic_is_read(tmp_path: Path) -> None:
    """The first versions of the program wrote neither the table nor a seal."""
    path, session = _begun_with(Home(tmp_path))
    text = path.read_text("utf-8")
    text, tables = re.subn(r"\[job\.plan\.parts\.taken\]\n(?:.+\n)+", "", text)
    assert tables == 2
    path.write_text(re.sub(r"seal = .+\n", "", text), "utf-8")
    assert read(path).session.visits == session.visits


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            'body = "10.0 mm"',
            'body = "4.0 mm"',
            "job.mould.rods.diameter: found 4 mm, wanted less than the body, 4 mm.",
        ),
        (
            'tail = "2.0 mm"',
            'tail = "0 mm"',
            "job.mould.section.tail: found 0 mm, wanted a length of more than 0 mm.",
        ),
        ('mass = "1500.0 g"', 'mass = "-1 g"', "job.mould.mass: found -1 g, wanted a mass of more than 0 g."),
        (
            'density = "1030.0 kg/m3"',
            'density = "0 kg/m3"',
            "job.plastic.density: found 0 kg/m3, wanted a density of more than 0 kg/m3.",
        ),
        (
            'heat_limit = "14400.0 s"',
            'heat_limit = "0 s"',
            "job.plastic.heat_limit: found 0 s, wanted more than 0 s.",
        ),
        (
            'expansion = "0.0006 1/K"',
            'expansion = "nan 1/K"',
            'job.plastic.expansion: found "nan 1/K", wanted a thermal expansion such as "6e-4 1/K".',
        ),
    ],
)
def test_what_nothing_can_be_reckoned_with_is_one_sentence(tmp_path: Path, old: str, new: str, told: str) -> None:
    path, _ = _begun_with(Home(tmp_path))
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")
    for opened in (read, open_for_resume):
        with pytest.raises(FaultyFiles) as refused:
            opened(path)
        assert str(refused.value) == f"{path}: {told}"


def test_what_physics_refuses_is_told_of_its_file_and_hides_no_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home = Home(tmp_path)
    path, _ = _begun_with(home)
    other, _ = _begun_with(home)
    text = path.read_text("utf-8")
    path.write_text(text.replace('open = "60.0 degC"', 'open = "1e9 degC"'), "utf-8")
    with pytest.raises(
        FaultyFiles, match=r"the \w+ of event: found figures that cannot be reckoned with \(plastic shot"
    ):
        read(path)
    assert main(["--home", str(home.root), "log"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[1] for line in lines if line.startswith(path.stem + " ")] == ["cannot"]
    assert [line.split()[1] for line in lines if line.startswith(other.stem + " ")] == ["unfinished"]


def test_a_melt_that_an_edit_made_a_million_litres_is_refused(tmp_path: Path) -> None:
    path, session = _begun_with(Home(tmp_path))
    whole = path.read_bytes()
    melt = whole.index(b"[[job.plan.parts.melts]]")
    path.write_bytes(whole[:melt] + whole[melt:].replace(b' ml"', b' Ml"', 1))
    with pytest.raises(FaultyFiles, match=r"job: found a shell melt of \S+e\+\d+ ml that weighs \S+ g, wanted"):
        open_for_resume(path)
    path.write_bytes(whole)
    open_for_resume(path).close(session, PATIENCE_S)
