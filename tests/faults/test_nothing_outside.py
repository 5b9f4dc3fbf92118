"""A whole session writes into the user's folder and nowhere else: every path is told by an audit hook."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from bench.signals.bell import Signal
from tests.faults.tally import DONE

ROOT = Path(__file__).resolve().parents[2]


def test_no_file_outside_the_users_folder_is_ever_written(tmp_path: Path) -> None:
    home, report = tmp_path / "pourbench", tmp_path / "report"
    around = {name: tmp_path / name for name in ("user", "temporary")}
    for folder in around.values():
        folder.mkdir()
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "POURBENCH"))}
    player, played = tmp_path / "programs" / "aplay", tmp_path / "played"
    player.parent.mkdir()
    player.write_text(f'#!/bin/sh\necho "$2" >> "{played}"\n', encoding="utf-8")
    player.chmod(0o755)
    environment |= {"HOME": str(around["user"]), "TMPDIR": str(around["temporary"]), "PATH": str(player.parent)}
    home.mkdir()
    (home / "settings.toml").write_text("format = 1\nkeep_awake = false\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "tests.faults.audited", str(home), str(report)],
        cwd=ROOT, env=environment, capture_output=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr.decode()
    assert done.stdout.decode().endswith("all done\n")
    told = [line.partition(" ") for line in report.read_text(encoding="utf-8").splitlines()]
    programs = {path for event, _, path in told if event == "subprocess.Popen"}
    written = [(event, Path(path)) for event, _, path in told if event != "subprocess.Popen"]
    allowed = (home, Path(os.devnull))  # where a player's own output goes
    outside = [(event, path) for event, path in written if path not in allowed and home not in path.parents]
    assert outside == []
    assert {"open", "os.rename", "os.mkdir"} <= {event for event, _ in written}, "the hook sees what is written"
    assert not [path for folder in around.values() for path in folder.rglob("*")]
    assert {path.name for path in tmp_path.iterdir()} == {
        "pourbench", "report", "temporary", "user", "programs", "played",
    }  # fmt: skip
    assert programs == {str(player)}
    files = played.read_text(encoding="utf-8").splitlines()
    assert len(files) > len(Signal), "those of the session, and those of the check"
    assert {Path(file).parent for file in files} == {home / "sounds"}
    assert {Path(file) for file in files} == set((home / "sounds").iterdir())
    names = sorted(str(path.relative_to(home)) for path in home.rglob("*") if path.is_file())
    assert [name for name in names if "escape" in name] == []
    assert "profiles/recipes/of-my-own.toml" in names
    DONE["paths that a whole session wrote to"] += len(written)
