from __future__ import annotations

from dataclasses import replace

from bench.model.recipe import Part
from bench.plan.look_records import Place
from bench.session.astray import Astray
from bench.tui.pour.astray_words import astray_words
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import picture
from tests.session.test_astray import loaded
from tests.tui.at_the_bench import at, at_step
from tests.tui.pour.pictures import METRIC
from tests.tui.pour.test_frame import words_of

HIDES = Astray(part=Part.SHELL, title="Peat brown", place=Place.ABOVE, hides=True, limit_pct=0.59)


def test_one_line_says_what_is_wrong_and_what_would_not_be() -> None:
    assert astray_words(HIDES, 0.72) == "The core will hide: 0.59 % (0.72 g) or less of Peat brown shows it."
    pales = replace(HIDES, place=Place.BELOW, hides=False, limit_pct=0.05)
    assert astray_words(pales, 0.06) == "The shell will hardly tint: 0.05 % (0.06 g) or more of Peat brown would."
    dense = replace(HIDES, hides=False)
    assert astray_words(dense, 0.72) == "The shell will hardly tint: 0.59 % (0.72 g) or less of Peat brown would."
    none = replace(HIDES, place=Place.EMPTY, limit_pct=None)
    said = "The core will hide: no load of Peat brown lets it tint and the core show. Try one bait first."
    assert astray_words(none, None) == said


def test_it_stands_whole_beside_the_doses_at_its_weighing() -> None:
    session, now = at_step("weigh.shell", loaded(4.0))
    shown = picture(session, at(now), METRIC)
    (notice,) = shown.notices
    assert notice.startswith("The core will hide: ")
    base_g = session.job.plan.part(Part.SHELL).melts[0].base_g
    for size in ((40, 12), (80, 24), (300, 12)):
        words = words_of(frame(shown, *size))
        assert notice in words, size
        assert f"{base_g:.1f} g of plastic" in words.replace("plas…", "plastic"), size
        assert "g Peat brown" in words


def test_at_the_weighing_of_the_core_it_is_not_said() -> None:
    session, now = at_step("r1.weigh.core", loaded(4.0))
    assert picture(session, at(now), METRIC).notices == ()
