"""The wheel holds everything: it is built, installed into an empty environment and run from another folder."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A virtual environment with the wheel and nothing of the checkout; the path of its program."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = folder.glob("*.whl")
    environment = folder / "venv"
    # Its dependencies come from the running environment, so that the test needs no network; the package does not.
    venv.create(environment, with_pip=False)
    python = environment / ("bin" if os.name == "posix" else "Scripts") / "python"
    asked = [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    site = Path(subprocess.run(asked, check=True, capture_output=True, text=True).stdout.strip())
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(site), str(wheel)],
        check=True,
        capture_output=True,
    )
    (site / "dependencies.pth").write_text(f"{sysconfig.get_path('purelib')}\n", encoding="utf-8")
    return python


def run(python: Path, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "POURBENCH_HOME": str(folder / "home"), "HOME": str(folder)}
    return subprocess.run(
        [python, "-m", "bench", *arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_wheel_answers_not_the_checkout(installed: Path, tmp_path: Path) -> None:
    where = subprocess.run(
        [installed, "-c", "import bench; print(bench.__file__)"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert not Path(where.stdout.strip()).is_relative_to(ROOT)


def test_its_profiles_are_whole(installed: Path, tmp_path: Path) -> None:
    checked = run(installed, tmp_path, "check")
    assert (checked.returncode, checked.stderr) == (0, "")
    assert "files are fine" in checked.stdout


def test_it_plans_the_demo(installed: Path, tmp_path: Path) -> None:
    planned = run(
        installed, tmp_path, "plan", "ember-under-peat", "--mould", "ribbon-leech-4", "--count", "8", "--json"
    )
    assert planned.returncode == 0
    assert '"recipe": "ember-under-peat"' in planned.stdout
