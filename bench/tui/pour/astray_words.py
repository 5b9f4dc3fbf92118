"""One short line where a shell is weighed whose load lies outside its window."""

from __future__ import annotations

from bench.plan.look_records import Place
from bench.plan.look_words import grams_words, load_words
from bench.session.astray import Astray
from bench.tui.text import clean
from bench.units import Grams


def astray_words(astray: Astray, limit_g: Grams | None) -> str:
    """What will be wrong with it, and the load of this melt that would not."""
    found = "The core will hide" if astray.hides else "The shell will hardly tint"
    title = clean(astray.title)
    if astray.limit_pct is None or limit_g is None:
        return f"{found}: no load of {title} lets it tint and the core show. Try one bait first."
    bound = "or more" if astray.place is Place.BELOW else "or less"
    would = "shows it" if astray.hides else "would"
    return f"{found}: {load_words(astray.limit_pct)} ({grams_words(limit_g)}) {bound} of {title} {would}."
