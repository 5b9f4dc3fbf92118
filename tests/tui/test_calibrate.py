"""The screen that measures the heater's power: cautions first, figures kept, a clock by one key."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

import pytest

from bench.model.library import Library
from bench.model.settings import UnitSystem
from bench.session.calibration import At, rig_for
from bench.store.paths import Home
from bench.store.shelf import load_library
from bench.store.stations import save_heater_power
from bench.tui.app import BenchApp
from bench.tui.screens.calibrate import PROFILE_EVERY_S, CalibrateScreen, ProfileRead
from bench.tui.widgets.board import Board
from tests.tui.at_the_bench import HandClock, shelf
from tests.tui.running import press, running, until

SIZES = [(80, 24), (100, 30)]


class Bench:
    """The screen under test, its clock and its keys."""

    def __init__(self, app: BenchApp, screen: CalibrateScreen, clock: HandClock) -> None:
        self.app, self.screen, self.clock = app, screen, clock

    @property
    def text(self) -> str:
        return self.screen.query_one(Board).text

    @property
    def at(self) -> At:
        return self.screen.desk.at

    async def key(self, *keys: str, sees: str = "", at: At | None = None) -> None:
        for key in keys:
            press(self.app, key)
        await until(lambda: sees in " ".join(self.text.split()) and at in (None, self.at))

    def has_read(self, cards: int) -> bool:
        return self.screen.desk.calibration.read == cards

    async def read_cards(self) -> None:
        while self.at is At.CAUTIONS:
            read = self.screen.desk.calibration.read
            await self.key("a")
            await until(partial(self.has_read, read + 1))
        assert self.at is At.WEIGH

    async def heat(self, seconds: float, start: str = "22") -> None:
        await self.key(*"230", "enter", sees="before the heat")
        await self.key(*start, "enter", sees="one first burst")
        await self.key("space", at=At.HEATING)
        self.clock.advance(seconds)
        self.screen.tick()
        await self.key("space", at=At.END)


@asynccontextmanager
async def calibrating(
    home: Path, size: tuple[int, int] = (80, 24), units: str = "", library: Library | None = None
) -> AsyncIterator[Bench]:
    """The screen on its first card."""
    if units:
        (home / "settings.toml").write_text(f'format = 1\nunits = "{units}"\n', encoding="utf-8")
    library = library or load_library(Home(home))[0]
    clock = HandClock()
    app = BenchApp(home=Home(home), clock=clock)
    async with running(app, size=size):
        await until(lambda: app.bench.planned)
        rig = rig_for(library, plastic="quillmere-soft")
        screen = CalibrateScreen(home=Home(home), library=library, rig=rig, clock=clock, live=False, quiet_s=0.0)
        app.push_screen(screen)
        await until(lambda: screen.is_mounted and "READ THIS CARD" in screen.query_one(Board).text)
        yield Bench(app, screen, clock)


@pytest.mark.parametrize("size", SIZES)
async def test_from_the_cards_to_a_saved_power(tmp_path: Path, size: tuple[int, int]) -> None:
    async with calibrating(tmp_path, size) as bench:
        for key in ("space", "enter", "b", "1"):
            await bench.key(key)
            assert bench.screen.desk.calibration.read == 0
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"118", "enter", at=At.DONE)
        # By hand: (230 g x 1800 + 180 g x 830 J/kg/K) x 96 K / 120 s kept on the way to 118 degC.
        for words in ("451 W on the way", "the profile says 400 W", "give or take 8 W", "Loads smaller"):
            assert words in bench.text
        found = bench.screen.desk.found
        assert found is not None
        await bench.key("s", sees="Saved in")
        assert f"the profile now says {found.power.power_w:.0f} W" in bench.text
        assert "400 W" not in bench.text
        library, faults = load_library(Home(tmp_path))
        assert not faults
        assert library.stations["quillmere-bench"].heater.absorbed_w == round(found.power.power_w)
        assert "2026-03-12, 1 run" in library.stations["quillmere-bench"].sources["heater.absorbed"]
        await bench.key("escape")
        await until(lambda: bench.app.screen is bench.app.bench)


@pytest.mark.parametrize("size", SIZES)
async def test_air_and_hot_plastic_stay_in_sight(tmp_path: Path, size: tuple[int, int]) -> None:
    fan = next(each.words for each in shelf().cautions if each.name == "fan-on")
    skin = next(each.words for each in shelf().cautions if each.name == "sticks-to-skin")

    def in_sight(bench: Bench) -> bool:
        shown = " ".join(bench.text.replace("!", " ").split())
        return fan in shown and skin in shown

    async with calibrating(tmp_path, size) as bench:
        await bench.read_cards()
        assert in_sight(bench)
        await bench.key(*"230", "enter", sees="before the heat")
        assert in_sight(bench)
        await bench.key(*"22", "enter", sees="one first burst")
        assert in_sight(bench)
        await bench.key("space", at=At.HEATING)
        bench.clock.advance(300)
        bench.screen.tick()
        await until(lambda: "STOP: by the profile's power" in bench.text)
        assert in_sight(bench)
        await bench.key("space", at=At.END)
        assert in_sight(bench)
        for refused in ("20", "340", "1170"):
            await bench.key(*refused, "enter")
            await until(lambda: bench.screen.desk.refused)
            assert in_sight(bench)
        await bench.key(*"118", "enter", at=At.DONE)
        assert in_sight(bench)


@pytest.mark.parametrize("size", SIZES)
async def test_a_reading_over_the_scorch_limit_interrupts(tmp_path: Path, size: tuple[int, int]) -> None:
    async with calibrating(tmp_path, size) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"399", "enter", sees="scorches above 190")
        assert "Off the heat. Ventilate." in bench.text
        assert "Do not carry a smoking cup" in bench.text
        await bench.key("space", "enter", "b")
        assert bench.at is At.ALARM
        await bench.key("a", at=At.END)
        assert bench.screen.desk.typed == "399"
        assert "takes it" not in bench.text
        await bench.key(*"118", "enter", at=At.DONE)


@pytest.mark.parametrize("size", SIZES)
async def test_a_likelier_meaning_is_asked_about_before_the_alarm(tmp_path: Path, size: tuple[int, int]) -> None:
    async with calibrating(tmp_path, size) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"340", "enter", sees="Was it 171 °C, a Fahrenheit figure? Y takes it.")
        assert bench.at is At.END
        assert "STOP" not in bench.text
        assert "If the cup does read 340 °C, it scorches: heat off" in " ".join(bench.text.split())
        await bench.key("enter", sees="The cup reads 340 °C.", at=At.ALARM)
        assert "does not count" not in bench.text
        await bench.key("a", at=At.END)
        assert "takes it" not in bench.text
        await bench.key(*"244", "enter", sees="Was it 118 °C, a Fahrenheit figure? Y takes it.")
        await bench.key("y", at=At.DONE)


async def test_after_a_refusal_the_next_digit_begins_a_new_figure(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.key(*"0", "enter", sees="Not 0 g: weigh the plastic")
        await bench.key(*"230", "enter", sees="before the heat")
        await bench.key(*"22", "enter", "space", at=At.HEATING)
        bench.clock.advance(120)
        await bench.key("space", at=At.END)
        await bench.key(*"20", "enter", sees="reads 20 °C (68 °F), and the end must be above the start")
        await bench.key(*"34")
        await until(lambda: bench.screen.desk.typed == "34")
        assert "reads 20 °C" in bench.text
        await bench.key("0", "1", "enter", sees="No cup of plastic reads 3401 °C")
        assert bench.at is At.END
        await bench.key("full_stop")
        await until(lambda: bench.screen.desk.typed == ".")
        await bench.key("backspace", *"118", "enter", at=At.DONE)


async def test_no_sign_of_a_figure_is_dropped_without_a_word(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.key("2", "comma", "5", "full_stop", sees="A figure has one point")
        await bench.key("minus", sees="That is no part of a figure")
        assert bench.screen.desk.typed == "2.5"
        await bench.key(*"1111", sees="No figure is longer")
        assert bench.screen.desk.typed == "2.5111"


async def test_a_power_far_from_the_profiles_takes_a_second_key(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"50", "enter", at=At.DONE)
        await bench.key("e")
        await bench.key("s", "s", "s", sees="E saves it even so")
        assert "111 W is far from the 400 W of the profile: was the heater off" in " ".join(bench.text.split())
        assert "Fan on" in bench.text
        assert "Hot plastic sticks to skin" in " ".join(bench.text.replace("!", " ").split())
        await bench.key("left", "e")
        await until(lambda: not bench.screen.desk.doubted)
        assert not (tmp_path / "profiles").exists()
        await bench.key("s", "e", sees="Saved in")
        assert "the profile now says 111 W" in bench.text
        assert load_library(Home(tmp_path))[0].stations["quillmere-bench"].heater.absorbed_w == 111.0


async def test_what_is_saved_is_offered_no_second_time_and_asked_about_before_a_rougher_one(
    tmp_path: Path,
) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"118", "enter", at=At.DONE)
        assert "S save" in bench.text
        await bench.key("s", sees="Saved in")
        assert "S save" not in bench.text
        await bench.key("s", sees="It is saved already.")
        before_w = load_library(Home(tmp_path))[0].stations["quillmere-bench"].heater.absorbed_w
        await bench.key("escape")
        await until(lambda: bench.app.screen is bench.app.bench)
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(35.6)
        assert "0:36 on the heat" in bench.text
        await bench.key(*"50", "enter", at=At.DONE)
        assert f"the profile says {before_w:.0f} W" in bench.text
        assert "in 0:36" in bench.text
        await bench.key("s", sees="which is surer")
        assert load_library(Home(tmp_path))[0].stations["quillmere-bench"].heater.absorbed_w == before_w
        await bench.key("e", sees="Saved in")
        assert "in 36 s" in load_library(Home(tmp_path))[0].stations["quillmere-bench"].sources["heater.absorbed"]


async def test_the_profile_is_compared_as_its_file_has_it(tmp_path: Path) -> None:
    stale = load_library(Home(tmp_path))[0]
    save_heater_power(Home(tmp_path), "quillmere-bench", power_w=376.0, source="another window")
    async with calibrating(tmp_path, library=stale) as bench:
        await until(lambda: bench.screen.desk.calibration.rig.station.heater.absorbed_w == 376.0)
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"118", "enter", at=At.DONE)
        assert "the profile says 376 W" in bench.text


async def test_a_power_saved_elsewhere_while_the_screen_is_open_is_seen(tmp_path: Path) -> None:
    def says(bench: Bench, words: str) -> bool:
        bench.screen.tick()
        return words in bench.text

    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.key(*"230", "enter", sees="before the heat")
        save_heater_power(Home(tmp_path), "quillmere-bench", power_w=390.0, source="another window")
        await bench.key(*"22", "enter", sees="one first burst")
        await until(lambda: bench.screen.desk.calibration.rig.station.heater.absorbed_w == 390.0)
        await bench.key("space", at=At.HEATING)
        burst_s = bench.screen.desk.calibration.first_burst_s()
        save_heater_power(Home(tmp_path), "quillmere-bench", power_w=376.0, source="another window")
        bench.screen.on_profile_read(ProfileRead(load_library(Home(tmp_path))[0].stations["quillmere-bench"]))
        assert bench.screen.desk.calibration.first_burst_s() == burst_s, "nothing changes under a cup on the heat"
        bench.clock.advance(120)
        await bench.key("space", at=At.END)
        await bench.key(*"118", "enter", at=At.DONE)
        await until(lambda: says(bench, "the profile says 376 W"))
        save_heater_power(Home(tmp_path), "quillmere-bench", power_w=401.0, source="another window")
        bench.screen.tick()
        bench.clock.advance(PROFILE_EVERY_S)
        await until(lambda: says(bench, "the profile says 401 W"))


async def test_a_power_that_no_kitchen_heater_gives_is_refused(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(15)
        await bench.key(*"118", "enter", sees="more than 2000 W, which no kitchen heater does")
        assert (bench.at, bench.screen.desk.calibration.runs) == (At.END, ())
        assert "begin anew" in bench.text


@pytest.mark.parametrize(
    ("mass", "words"),
    [("900", "more than this vessel may hold"), ("0", "there must be some"), ("", "Type the figure")],
)
async def test_a_mass_that_cannot_be_is_told_and_kept(tmp_path: Path, mass: str, words: str) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.key(*mass, "enter", sees=words)
        assert (bench.screen.desk.typed, bench.at) == (mass, At.WEIGH)


async def test_ounces_that_no_vessel_holds_may_have_been_grams(tmp_path: Path) -> None:
    async with calibrating(tmp_path, units="us") as bench:
        await bench.read_cards()
        # 227 g / 28.3495 g (NIST: one ounce avoirdupois).
        await bench.key(*"227", "enter", sees="Did you mean 227 g? That is 8.01 oz.")
        await bench.key(*"900", "enter", sees="Not 900 oz")
        assert "Did you mean" not in bench.text


async def test_readings_and_times_that_cannot_be_are_told_and_kept(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.key(*"230", "enter", sees="before the heat")
        await bench.key(*"72", "enter", sees="Was it 22 °C, a Fahrenheit figure?")
        assert bench.screen.desk.typed == "72"
        await bench.key(*"22", "enter", sees="one first burst")
        await bench.key("space", at=At.HEATING)
        bench.clock.advance(4)
        await bench.key("space", sees="leave the heat on. If it is off already, B begins the run again.")
        assert "4 s is too short" in bench.text
        assert bench.at is At.HEATING
        bench.clock.advance(60)
        await bench.key("space", at=At.END)
        await bench.key(*"22", "enter", sees="did not get warmer")
        await bench.key(*"30", "enter", sees="is too small a rise")
        assert (bench.screen.desk.typed, bench.at) == ("30", At.END)


async def test_two_runs_are_one_power_and_what_is_not_saved_is_asked_about(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"118", "enter", sees="Run 1")
        await bench.key("r", at=At.WEIGH)
        await bench.heat(120, start="21")
        await bench.key(*"119", "enter", sees="Run 2")
        assert len(bench.screen.desk.calibration.runs) == 2
        await bench.key("escape", sees="not saved")
        assert bench.app.screen is bench.screen
        await bench.key("escape")
        await until(lambda: bench.app.screen is bench.app.bench)
        assert not (tmp_path / "profiles").exists()


async def test_a_hot_cup_is_not_left_by_one_press(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        await bench.read_cards()
        await bench.heat(120)
        await bench.key("q", sees="heat off first")
        assert bench.app.screen is bench.screen


async def test_ounces_and_fahrenheit_are_typed_and_shown_where_settings_say_so(tmp_path: Path) -> None:
    async with calibrating(tmp_path, units=UnitSystem.US) as bench:
        await bench.read_cards()
        await bench.key("8", "full_stop", "2", "enter", sees="°F before the heat")
        cup = bench.screen.desk.calibration.cup
        assert cup is not None
        # NIST Handbook 44, appendix C: an ounce is 28.349523125 g.
        assert cup.mass_g == pytest.approx(8.2 * 28.349523125)
        await bench.key(*"22", "enter", sees="Was it 72 °F, a Celsius figure?")
        await bench.key("y", sees="one first burst")
        assert bench.screen.desk.calibration.start_c == pytest.approx(22.0)


async def test_a_file_that_cannot_take_it_is_told_and_the_runs_stay(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        folder = tmp_path / "profiles" / "stations"
        folder.mkdir(parents=True)
        (folder / "quillmere-bench.toml").write_text("no TOML", encoding="utf-8")
        await bench.read_cards()
        await bench.heat(120)
        await bench.key(*"118", "enter", at=At.DONE)
        await bench.key("s", sees="Not saved")
        assert (folder / "quillmere-bench.toml").read_text(encoding="utf-8") == "no TOML"
        assert len(bench.screen.desk.calibration.runs) == 1


async def test_a_held_key_acknowledges_one_card(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        bench.screen._quiet_s = 0.8
        await bench.key("a", "a", "a", "a")
        await until(lambda: bench.screen.desk.calibration.read >= 1)
        await bench.key("left", sees="A held key counts once")
        assert bench.screen.desk.calibration.read == 1


async def test_the_program_asks_before_it_ends_beside_a_hot_cup(tmp_path: Path) -> None:
    app = BenchApp(home=Home(tmp_path), clock=HandClock())
    async with running(app, size=(80, 24)):
        await until(lambda: app.bench.planned)
        press(app, "h")
        await until(lambda: isinstance(app.screen, CalibrateScreen) and app.screen.query(Board))
        assert app.calibration is not None
        assert app.calibration.desk.calibration.rig.plastic.name == "quillmere-soft"
        bench = Bench(app, app.calibration, HandClock())
        app.calibration._quiet_s = 0.0
        await until(lambda: "READ THIS CARD" in bench.text)
        await bench.read_cards()
        await bench.key(*"230", "enter", *"22", "enter", at=At.READY)
        await bench.key("space", at=At.HEATING)
        press(app, "ctrl+q")
        await until(lambda: "heat off first" in bench.text)
        assert app.is_running


async def test_a_saved_power_changes_the_plan_on_the_bench(tmp_path: Path) -> None:
    async with calibrating(tmp_path) as bench:
        bench.app.pop_screen()
        await until(lambda: bench.app.bench.planned)
        before = bench.app.bench.planned
        press(bench.app, "h")
        await until(lambda: bench.app.calibration is not None and bench.app.screen is bench.app.calibration)
        save_heater_power(Home(tmp_path), "quillmere-bench", power_w=800.0, source="measured at this bench")
        press(bench.app, "escape")
        await until(lambda: bench.app.bench.planned and bench.app.bench.planned is not before)
        assert before is not None
        after = bench.app.bench.planned
        assert after is not None
        assert after.session.job.station.heater.absorbed_w == 800.0
        assert after.session.job.plan.total_s < before.session.job.plan.total_s
