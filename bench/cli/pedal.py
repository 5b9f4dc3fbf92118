"""``pourbench pedal``: have the bench learn what a pedal sends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bench.cli.work_flags import Verbs


@dataclass(frozen=True, slots=True)
class PedalRequest:
    """The pedal's screen is asked for."""


def add_pedal_parser(verbs: Verbs) -> None:
    """The verb ``pedal``."""
    parser = verbs.add_parser(
        "pedal",
        help="press your pedal, and have it go on to the next step",
        description="Opens a screen that shows which key your pedal sends: one key, not several at once. A second "
        "press keeps it in settings.toml beside the keys that go on already; nothing else in that file changes.",
        allow_abbrev=False,
    )
    parser.set_defaults(request=lambda _arguments: PedalRequest())
