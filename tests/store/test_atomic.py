"""A file is replaced whole or not at all."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest

from bench.store import atomic
from bench.store.atomic import replace_whole


def test_new_and_old_files_hold_the_new_content_and_nothing_is_left_beside_them(tmp_path: Path) -> None:
    file = tmp_path / "new folder" / "a.toml"
    replace_whole(file, b"one")
    replace_whole(file, b"two")
    assert file.read_bytes() == b"two"
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.parametrize("step", ["flush_to_disk", "_mode_of"])
def test_a_failure_on_the_way_leaves_the_old_content_and_no_scrap(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    file = tmp_path / "a.toml"
    replace_whole(file, b"old")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic, step, fail)
    with pytest.raises(OSError, match="No space left"):
        replace_whole(file, b"new")
    assert file.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [file]


def test_data_reaches_the_disk_before_the_name_and_the_folder_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.toml"
    order: list[tuple[str, bytes | None]] = []

    def note(step: str) -> None:
        order.append((step, file.read_bytes() if file.exists() else None))

    monkeypatch.setattr(atomic, "flush_to_disk", lambda _: note("data"))
    monkeypatch.setattr(atomic, "flush_folder", lambda _: note("folder"))
    replace_whole(file, b"new")
    assert order == [("data", None), ("folder", b"new")]


def test_a_symbolic_link_is_followed_not_replaced(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_bytes(b"old")
    link.symlink_to(real)
    replace_whole(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_file_keeps_its_mode_and_a_new_one_gets_the_usual(tmp_path: Path) -> None:
    file, plain = tmp_path / "a.toml", tmp_path / "plain"
    plain.touch()
    replace_whole(file, b"x")
    assert stat.S_IMODE(file.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)
    file.chmod(0o600)
    replace_whole(file, b"y")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
