"""A whole session writes into the user's folder and nowhere else: every path is told by an audit hook."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.faults.tally import DONE

ROOT = Path(__file__).resolve().parents[2]


def test_no_file_outside_the_users_folder_is_ever_written(tmp_path: Path) -> None:
    home, report = tmp_path / "pourbench", tmp_path / "report"
    around = {name: tmp_path / name for name in ("user", "temporary")}
    for folder in around.values():
        folder.mkdir()
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "POURBENCH"))}
    environment |= {"HOME": str(around["user"]), "TMPDIR": str(around["temporary"])}
    done = subprocess.run(
        [sys.executable, "-m", "tests.faults.audited", str(home), str(report)],
        cwd=ROOT, env=environment, capture_output=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr.decode()
    assert done.stdout.decode().endswith("all done\n")
    told = [line.partition(" ") for line in report.read_text(encoding="utf-8").splitlines()]
    written = [(event, Path(path)) for event, _, path in told]
    outside = [(event, path) for event, path in written if path != home and home not in path.parents]
    assert outside == []
    assert {"open", "os.rename", "os.mkdir"} <= {event for event, _ in written}, "the hook sees what is written"
    assert not [path for folder in around.values() for path in folder.rglob("*")]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["pourbench", "report", "temporary", "user"]
    names = sorted(str(path.relative_to(home)) for path in home.rglob("*") if path.is_file())
    assert [name for name in names if "escape" in name] == []
    assert "profiles/recipes/of-my-own.toml" in names
    DONE["paths that a whole session wrote to"] += len(written)
