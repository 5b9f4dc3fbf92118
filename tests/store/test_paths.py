"""Where the user's files and the shipped profiles live."""

from __future__ import annotations

from pathlib import Path

import platformdirs
import pytest

import bench
from bench.store.paths import find_home, shipped_profiles


def test_the_option_goes_before_the_variable_and_that_before_the_platform() -> None:
    environment = {"POURBENCH_HOME": "/variable"}
    assert find_home("/option", environment).root == Path("/option")
    assert find_home(None, environment).root == Path("/variable")
    assert find_home("", {"POURBENCH_HOME": ""}).root == Path(platformdirs.user_data_dir("pourbench", False))


def test_a_home_may_be_relative_or_under_the_users_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    assert find_home("~/bench", {}).root == tmp_path / "bench"
    assert find_home("bench", {}).root == tmp_path / "bench"


def test_the_parts_of_a_home() -> None:
    home = find_home("/h", {})
    parts = (home.profiles, home.sessions, home.rehearsals, home.ledger, home.settings)
    assert [str(part) for part in parts] == [
        "/h/profiles",
        "/h/sessions",
        "/h/rehearsals",
        "/h/ledger",
        "/h/settings.toml",
    ]


def test_shipped_profiles_lie_inside_an_installed_package_or_beside_a_checkout(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    package = tmp_path / "bench"
    package.mkdir()
    monkeypatch.setattr(bench, "__file__", str(package / "__init__.py"))
    assert shipped_profiles() == tmp_path / "profiles"
    (package / "profiles").mkdir()
    assert shipped_profiles() == package / "profiles"


def test_the_shipped_profiles_of_this_checkout_are_there() -> None:
    assert (shipped_profiles() / "cautions.toml").is_file()
