"""The shelf: shadowing, duplicates, references, and that nothing disappears without a word."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from bench.errors import Fault
from bench.model.library import Library
from bench.store.check import check
from bench.store.paths import Home, shipped_profiles
from bench.store.shelf import load_library

SHIPPED = shipped_profiles()


@pytest.fixture
def home(tmp_path: Path) -> Home:
    return Home(tmp_path / "home")


def _own(home: Home, kind: str, name: str, *changes: tuple[str, str], file: str = "") -> Path:
    """The user's own copy of a shipped profile, with changes."""
    text = (SHIPPED / kind / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = home.profiles / kind / (file or f"{name}.toml")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def _load(home: Home) -> tuple[Library, list[str]]:
    library, faults = load_library(home)
    return library, [_short(fault, home) for fault in faults]


def _short(fault: Fault, home: Home) -> str:
    return fault.sentence().replace(f"{home.root}/", "")


def test_without_a_home_the_shipped_profiles_are_the_shelf(home: Home) -> None:
    library, sentences = _load(home)
    assert sentences == []
    assert library.recipe("ember-under-peat").plastic == "quillmere-soft"
    assert library.station().name == "quillmere-bench"
    assert not home.root.exists(), "looking creates nothing"


def test_the_users_own_profile_shadows_the_shipped_one_by_name_not_by_file(home: Home) -> None:
    _own(home, "plastics", "quillmere-soft", ('scorch = "190 degC"', 'scorch = "185 degC"'), file="corrected.toml")
    library, sentences = _load(home)
    assert sentences == []
    assert library.plastic("quillmere-soft").scorch_c == 185
    assert len(library.plastics) == 2


def test_a_shipped_profile_never_stands_in_for_the_users_broken_one(home: Home) -> None:
    """Whoever corrected the scorch limit must not get the old one back because of a typing mistake."""
    _own(home, "plastics", "quillmere-soft", ('scorch = "190 degC"', "scorch = 185"), file="corrected.toml")
    library, sentences = _load(home)
    assert "quillmere-soft" not in library.plastics
    assert sentences[0].startswith("profiles/plastics/corrected.toml: scorch: found the bare number 185")
    assert "ember-under-peat" not in library.recipes
    assert any("ember-under-peat.toml: plastic: found" in sentence for sentence in sentences)


def test_an_unreadable_file_hides_the_shipped_one_of_its_file_name(home: Home) -> None:
    (home.profiles / "moulds").mkdir(parents=True)
    (home.profiles / "moulds" / "long-reed-6.toml").write_text("format = 1\nname = ", encoding="utf-8")
    library, sentences = _load(home)
    assert "long-reed-6" not in library.moulds
    assert len(sentences) == 1


def test_one_name_in_two_files_is_a_fault_that_names_both_and_neither_is_taken(home: Home) -> None:
    first = _own(home, "moulds", "long-reed-6", file="a.toml")
    _own(home, "moulds", "long-reed-6", ("cavities = 6", "cavities = 5"), file="b.toml")
    library, sentences = _load(home)
    assert "long-reed-6" not in library.moulds
    assert sentences == [
        'profiles/moulds/b.toml: name: found "long-reed-6", as in '
        f"{first}, wanted a name that no other file has.".replace(f"{home.root}/", "")
    ]


def test_a_recipe_that_names_what_is_not_there_is_not_on_the_shelf(home: Home) -> None:
    _own(home, "recipes", "peat-plain", ('"quillmere-firm"', '"quillmere-form"'), ('"peat-plain"', '"mine"'))
    library, sentences = _load(home)
    assert "mine" not in library.recipes
    assert sentences == [
        'profiles/recipes/peat-plain.toml: plastic: found "quillmere-form", '
        'wanted the name of a plastic on the shelf; did you mean "quillmere-firm"?'
    ]


def test_a_recipe_may_name_the_users_own_colourant(home: Home) -> None:
    _own(home, "colourants", "peat-brown", ('"peat-brown"', '"moss-brown"'), file="moss.toml")
    _own(home, "recipes", "peat-plain", ('"peat-brown"', '"moss-brown"'))
    library, sentences = _load(home)
    assert sentences == []
    assert library.recipe("peat-plain").parts


def test_settings_choose_the_station_and_a_wrong_choice_is_a_fault(home: Home) -> None:
    home.root.mkdir()
    home.settings.write_text('format = 1\nstation = "quilmere-bench"\n', encoding="utf-8")
    _, sentences = _load(home)
    assert sentences == [
        'settings.toml: station: found "quilmere-bench", wanted the name of a station on the shelf: '
        'quillmere-bench; did you mean "quillmere-bench"?'
    ]


def test_broken_settings_are_told_and_the_usual_ones_used(home: Home) -> None:
    home.root.mkdir()
    home.settings.write_text('format = 1\nunits = "uss"\n', encoding="utf-8")
    library, sentences = _load(home)
    assert library.settings.units == "metric"
    assert sentences == [
        'settings.toml: units: found "uss", wanted one of "metric", "us"; did you mean "us"? Put that right, or '
        "give the file another name: without it the usual settings hold."
    ]


def test_a_station_whose_own_file_is_broken_is_told_with_that_file_alone(home: Home) -> None:
    (home.profiles / "stations").mkdir(parents=True)
    (home.profiles / "stations" / "quillmere-bench.toml").write_text("format: 1\n", encoding="utf-8")
    library, faults = load_library(home)
    assert "quillmere-bench" not in library.stations
    assert {Path(fault.file).name for fault in faults} == {"quillmere-bench.toml"}


def test_a_folder_that_cannot_be_read_is_told_not_taken_for_empty(
    home: Home, monkeypatch: pytest.MonkeyPatch
) -> None:
    (home.profiles / "moulds").mkdir(parents=True)
    (home.profiles / "recipes").touch()
    real = Path.iterdir

    def locked(path: Path) -> Iterator[Path]:
        if path == home.profiles / "moulds":
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr(Path, "iterdir", locked)
    library, sentences = _load(home)
    assert sentences == [
        "profiles/moulds: found a folder that cannot be read (permission denied), wanted a folder.",
        "profiles/recipes: found a folder that cannot be read (not a directory), wanted a folder.",
    ]
    assert library.mould("long-reed-6").cavities == 6
    assert [fault.file for fault in check(home, [home.profiles / "moulds"])] == [str(home.profiles / "moulds")]


CAUTION = """format = 1
[[caution]]
name = "eyes"
group = "body"
words = "Visière baissée."
more = "Mots de cet atelier."
source = "measured at this bench"
at_start = true
"""


def test_the_users_cautions_reword_the_shipped_ones_in_their_place_and_add_to_them(home: Home) -> None:
    shipped, _ = _load(home)
    home.profiles.mkdir(parents=True)
    file = home.profiles / "cautions.toml"
    file.write_text(CAUTION + CAUTION.removeprefix("format = 1").replace('"eyes"', '"own"'), encoding="utf-8")
    library, sentences = _load(home)
    assert sentences == []
    names = [caution.name for caution in library.cautions]
    assert names == [*(caution.name for caution in shipped.cautions), "own"]
    assert library.cautions[names.index("eyes")].words == "Visière baissée."


def test_a_broken_caution_never_takes_the_shipped_one_away(home: Home) -> None:
    shipped, _ = _load(home)
    home.profiles.mkdir(parents=True)
    file = home.profiles / "cautions.toml"
    for text in (CAUTION.replace("at_start = true", "at_start = 1"), "[[caution", ""):
        file.write_text(text, encoding="utf-8")
        library, sentences = _load(home)
        assert library.cautions == shipped.cautions
        assert len(sentences) >= 1


def test_a_folder_or_file_that_nothing_reads_is_pointed_out(home: Home) -> None:
    for name in ("colorants", "moulds", ".git"):
        (home.profiles / name).mkdir(parents=True)
    (home.profiles / "q.toml").touch()
    (home.profiles / "README.md").touch()
    (home.profiles / "moulds" / ".scratch.toml").touch()
    kinds = "wanted one of plastics, moulds, colourants, recipes, stations, cautions.toml"
    assert _load(home)[1] == [
        f'profiles/colorants: found something that no profile is read from, {kinds}; did you mean "colourants"?',
        f"profiles/q.toml: found something that no profile is read from, {kinds}.",
    ]


def test_check_looks_at_everything_or_only_at_what_is_named(home: Home, tmp_path: Path) -> None:
    _own(home, "plastics", "quillmere-soft", ('"190 degC"', "190"))
    loose = tmp_path / "loose.toml"
    shutil.copy(_own(home, "moulds", "long-reed-6", ("cavities = 6", "cavities = 0")), loose)
    assert {Path(fault.file).name for fault in check(home)} > {"quillmere-soft.toml", "long-reed-6.toml"}
    assert [Path(fault.file).name for fault in check(home, [loose])] == ["loose.toml"]
    assert [fault.key for fault in check(home, [home.profiles / "moulds"])] == ["cavities"]
    assert [fault.key for fault in check(home, [home.root])] == ["scorch", "cavities"]
    assert check(home, [SHIPPED / "colourants"]) == ()


def test_checked_recipes_may_name_each_others_new_colourants(home: Home, tmp_path: Path) -> None:
    elsewhere = Home(tmp_path / "elsewhere")
    colourant = _own(elsewhere, "colourants", "peat-brown", ('"peat-brown"', '"moss-brown"'))
    recipe = _own(elsewhere, "recipes", "peat-plain", ('"peat-brown"', '"moss-brown"'))
    assert [fault.key for fault in check(home, [recipe])] == ["parts.body.doses[0].colourant"]
    assert check(home, [colourant, recipe]) == ()


def test_check_names_a_path_that_is_not_there(home: Home, tmp_path: Path) -> None:
    (fault,) = check(home, [tmp_path / "none.toml"])
    assert fault.sentence() == f"{tmp_path / 'none.toml'}: found nothing, wanted a file."


def test_a_recipe_names_the_broken_file_that_it_waits_for(home: Home) -> None:
    path = _own(home, "plastics", "quillmere-soft", ('scorch = "190 degC"', 'scorch = "hot"'))
    library, sentences = _load(home)
    assert "quillmere-soft" not in library.plastics
    assert "ember-under-peat" not in library.recipes
    named = str(path).removeprefix(f"{home.root}/")
    assert any(
        f'plastic: found "quillmere-soft", wanted its broken file put right: {named}.' in sentence
        and "recipes/ember-under-peat.toml" in sentence
        for sentence in sentences
    ), sentences
