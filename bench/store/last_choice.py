"""What stood chosen on the bench the last time, kept so that the next start begins there.

A comfort and no more: what cannot be read, or says what no bench can, is as if it were not there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bench.errors import BenchError
from bench.model.recipe import Tail
from bench.store.atomic import replace_whole
from bench.store.files import FORMAT, read_table
from bench.store.paths import Home


@dataclass(frozen=True, kw_only=True, slots=True)
class LastChoice:
    """A job by the names of its recipe and mould. ``tail`` None leaves it to the recipe."""

    recipe: str
    mould: str
    count: int
    moulds: int
    tail: Tail | None = None


def last_choice(home: Home) -> LastChoice | None:
    """The one that was kept; None where there is none that can be read."""
    try:
        table = read_table(home.last_choice)
    except BenchError:
        return None
    recipe, mould, tail = table.get("recipe"), table.get("mould"), table.get("tail")
    count, moulds = _whole(table.get("count")), _whole(table.get("moulds"))
    if not isinstance(recipe, str) or not isinstance(mould, str) or count is None or moulds is None:
        return None
    known = next((each for each in Tail if each.value == tail), None)
    return LastChoice(recipe=recipe, mould=mould, count=count, moulds=moulds, tail=known)


def _whole(value: Any) -> int | None:
    return value if isinstance(value, int) and not isinstance(value, bool) and value >= 1 else None


def keep_last_choice(home: Home, choice: LastChoice) -> None:
    """Have it begin with that. Raises OSError."""
    import tomli_w

    table: dict[str, str | int] = {"format": FORMAT, "recipe": choice.recipe, "mould": choice.mould}
    table |= {"count": choice.count, "moulds": choice.moulds}
    if choice.tail is not None:
        table["tail"] = choice.tail.value
    replace_whole(home.last_choice, tomli_w.dumps(table).encode("utf-8", "replace"))
