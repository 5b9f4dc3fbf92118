from __future__ import annotations

from pathlib import Path

import pytest

from bench.cli.shelf import library_for, settings_in
from bench.errors import FaultyFiles
from bench.store.paths import Home, shipped_profiles

JOB = ["ember-under-peat", "ribbon-leech-4", None]


def faulty_files(home: Path) -> list[str]:
    with pytest.raises(FaultyFiles) as refused:
        library_for(Home(home), JOB)
    return [Path(fault.file).name for fault in refused.value.faults]


def broken_plastic(home: Path, name: str) -> None:
    shipped = (shipped_profiles() / "plastics" / f"{name}.toml").read_text(encoding="utf-8")
    folder = home / "profiles" / "plastics"
    folder.mkdir(parents=True)
    (folder / f"{name}.toml").write_text(shipped.replace('density = "', 'density = "no '), encoding="utf-8")


def test_settings_that_do_not_load_stop_every_job(tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text('format = 1\nunits = "metrik"\n', encoding="utf-8")
    assert faulty_files(tmp_path) == ["settings.toml"]
    with pytest.raises(FaultyFiles, match="units"):
        settings_in(Home(tmp_path))


def test_a_broken_file_of_the_settings_station_stops_every_job_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "profiles" / "stations").mkdir(parents=True)
    (tmp_path / "profiles" / "stations" / "quillmere-bench.toml").write_text("format: 1\n", encoding="utf-8")
    assert faulty_files(tmp_path) == ["quillmere-bench.toml"]
    assert settings_in(Home(tmp_path)).station == "quillmere-bench"


def test_a_broken_file_behind_a_named_one_is_told_before_what_follows_from_it(tmp_path: Path) -> None:
    broken_plastic(tmp_path, "quillmere-soft")
    assert faulty_files(tmp_path) == ["quillmere-soft.toml", "ember-under-peat.toml"]


def test_a_broken_file_that_the_job_has_nothing_to_do_with_is_left_aside(tmp_path: Path) -> None:
    broken_plastic(tmp_path, "quillmere-firm")
    assert "ember-under-peat" in library_for(Home(tmp_path), JOB).recipes
