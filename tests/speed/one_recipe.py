"""One recipe's views and window, alone in its module: a cold run must not pay for what a benchmark imports."""

from __future__ import annotations


def recipe_once() -> None:
    """All views and the window of one cored bait, from colourants to words' worth of numbers."""
    from bench.colour.mix import Loaded, mix
    from bench.colour.views import Section, look
    from bench.colour.window import load_window
    from tests.colour.media import BASE, BLUE, OLIVE_DYE, PEARL, WHITE

    section = Section(body_mm=9.5, core_mm=3.5, tail_mm=3.0)
    doses = [Loaded(strength=OLIVE_DYE, load_pct=0.2), Loaded(strength=PEARL, load_pct=0.1)]
    core = mix(BASE, [Loaded(strength=BLUE, load_pct=0.5), Loaded(strength=WHITE, load_pct=0.1)])
    look(shell=mix(BASE, doses), base=BASE, core=core, section=section)
    load_window(base=BASE, doses=doses, core=core, section=section)
