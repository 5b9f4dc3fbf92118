"""A measured power goes into the user's own station file; every other byte of it stays."""

from __future__ import annotations

import difflib
import os
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.errors import BenchError, FaultyFiles
from bench.model.station import Heater
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import load_library
from bench.store.stations import save_heater_power, with_heater_power
from tests.tui.at_the_bench import shelf

NAME = "quillmere-bench"
SHIPPED = shipped_profiles() / "stations" / f"{NAME}.toml"
SHIPPED_SOURCE = next(
    line for line in SHIPPED.read_text(encoding="utf-8").splitlines() if line.startswith('"heater.absorbed"')
)
SOURCE = "measured at this bench: 2026-11-25, 1 run: 240 g from 22 to 118 degC in 120 s; +-8 W"


def save(home: Home, power_w: float = 451.3) -> Path:
    return save_heater_power(home, NAME, power_w=power_w, source=SOURCE)


def own(tmp_path: Path, text: str, file: str = f"{NAME}.toml") -> tuple[Home, Path]:
    """A home with that station in it."""
    home = Home(tmp_path)
    path = home.profiles / "stations" / file
    path.parent.mkdir(parents=True)
    path.write_bytes(text.encode())
    return home, path


def changed_lines(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


def test_only_two_lines_of_the_shipped_text_change_in_the_copy(tmp_path: Path) -> None:
    before = SHIPPED.read_text(encoding="utf-8")
    path = save(Home(tmp_path))
    assert path == tmp_path / "profiles" / "stations" / f"{NAME}.toml"
    assert SHIPPED.read_text(encoding="utf-8") == before
    assert changed_lines(before, path.read_text(encoding="utf-8")) == [
        '- absorbed = "400 W"',
        '+ absorbed = "451 W"',
        next(line for line in changed_lines(before, path.read_text(encoding="utf-8")) if "starting value" in line),
        f'+ "heater.absorbed" = "{SOURCE}"',
    ]
    library, faults = load_library(Home(tmp_path))
    assert not faults
    shipped = shelf().stations[NAME]
    assert library.stations[NAME] == replace(
        shipped,
        heater=Heater(absorbed_w=451.0),
        sources={**shipped.sources, "heater.absorbed": SOURCE},
    )


def test_comments_order_and_spacing_of_the_users_own_stay(tmp_path: Path) -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    text = text.replace(
        '[heater]\nabsorbed = "400 W"', '  [heater]  # was absorbed = "380 W"\n  absorbed="410 W" # mine'
    )
    text = '# absorbed = "1 W"\n' + text
    home, path = own(tmp_path, text, "my own bench.toml")
    assert save(home) == path
    after = path.read_text(encoding="utf-8")
    assert '  [heater]  # was absorbed = "380 W"\n  absorbed="451 W" # mine' in after
    assert after.startswith('# absorbed = "1 W"\n')
    assert len(changed_lines(text, after)) == 4
    assert [each.name for each in path.parent.iterdir()] == ["my own bench.toml"]


@pytest.mark.parametrize(
    ("found", "written"),
    [
        ('[heater]\nabsorbed = "400 W"', "[heater]\nabsorbed = '400 W'"),
        ('[heater]\nabsorbed = "400 W"', '[heater]\n"absorbed" = "0.4 kW"'),
        ("format = 1\n", 'format = 1\nheater.absorbed = "400 W"\n'),
        ("format = 1\n", 'format = 1\nheater = { absorbed = "400 W" }\n'),
    ],
)
def test_every_way_to_write_the_key_is_found(found: str, written: str) -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    if "[heater]" not in written:
        text = text.replace('[heater]\nabsorbed = "400 W"\n', "")
    text = text.replace(found, written)
    after = with_heater_power(text, power_w=333.0, source=SOURCE, file="x.toml")
    assert "333 W" in after
    assert len(changed_lines(text, after)) == 4


@pytest.mark.parametrize(
    "sources",
    [
        '[sources]\nheater.absorbed = "mine"\n"warming.absorbed" = "mine too"\n',
        "[sources]\n'heater.absorbed' = 'mine'\n",
        '[sources]\n"warming.absorbed" = "mine too"\n',
        "[sources]",
        "",
        '[sources.heater]\nabsorbed = "mine"\n',
    ],
)
def test_the_source_is_replaced_or_added(sources: str) -> None:
    text = SHIPPED.read_text(encoding="utf-8").split("[sources]")[0] + sources
    after = with_heater_power(text, power_w=333.0, source=SOURCE, file="x.toml")
    assert after.count(SOURCE) == 1
    assert ("mine too" in after) == ("mine too" in sources)


def test_line_ends_and_a_byte_order_mark_stay(tmp_path: Path) -> None:
    text = "\ufeff" + SHIPPED.read_text(encoding="utf-8").split("[sources]")[0].replace("\n", "\r\n")
    home, path = own(tmp_path, text)
    save(home)
    after = path.read_bytes().decode()
    assert after.startswith("\ufeffformat")
    assert after.count("\n") == after.count("\r\n")


def test_the_same_power_again_changes_nothing(tmp_path: Path) -> None:
    home = Home(tmp_path)
    before = save(home).read_bytes()
    assert save(home).read_bytes() == before


def test_a_file_that_does_not_load_is_never_written_over(tmp_path: Path) -> None:
    home, path = own(tmp_path, SHIPPED.read_text(encoding="utf-8").replace('"18 degC"', "18"))
    before = path.read_bytes()
    with pytest.raises(FaultyFiles, match=r"room\.temperature"):
        save(home)
    assert path.read_bytes() == before


def test_the_file_of_another_station_is_never_written_over(tmp_path: Path) -> None:
    home, path = own(tmp_path, SHIPPED.read_text(encoding="utf-8").replace(f'"{NAME}"', '"other-bench"', 1))
    with pytest.raises(BenchError, match="another station"):
        save(home)
    assert "451" not in path.read_text(encoding="utf-8")


def test_a_station_on_no_shelf_is_told(tmp_path: Path) -> None:
    with pytest.raises(BenchError, match='no station is called "nowhere"'):
        save_heater_power(Home(tmp_path), "nowhere", power_w=400.0, source=SOURCE)


def test_a_disk_that_does_not_take_it_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "profiles").write_text("not a folder", encoding="utf-8")
    with pytest.raises(BenchError):
        save(Home(tmp_path))
    if os.name == "posix" and os.geteuid() != 0:
        folder = tmp_path / "other" / "profiles" / "stations"
        folder.mkdir(parents=True)
        folder.chmod(0o500)
        with pytest.raises(BenchError, match="cannot be written"):
            save(Home(tmp_path / "other"))


@given(
    before=st.lists(
        st.sampled_from(['# absorbed = "1 W"', "", "  # [heater]", '# heater.absorbed = "x"']), max_size=4
    ),
    gap=st.sampled_from(["=", " = ", "\t=  "]),
    tail=st.sampled_from(["", ' # absorbed = "9 W"', "   "]),
    power_w=st.floats(20, 3700),
)
def test_whatever_stands_around_it_stays(before: list[str], gap: str, tail: str, power_w: float) -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    around = "\n".join([*before, "[heater]", *before])
    text = text.replace('[heater]\nabsorbed = "400 W"', f'{around}\nabsorbed{gap}"401.5 W"{tail}')
    after = with_heater_power(text, power_w=power_w, source=SOURCE, file="x.toml")
    assert after == (
        text.replace(f'absorbed{gap}"401.5 W"', f'absorbed{gap}"{power_w:.0f} W"').replace(
            SHIPPED_SOURCE, f'"heater.absorbed" = "{SOURCE}"'
        )
    )


def test_quotes_in_a_source_are_kept() -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    after = with_heater_power(text, power_w=333.0, source='by "hand" \\ eye', file="x.toml")
    assert r'"by \"hand\" \\ eye"' in after
