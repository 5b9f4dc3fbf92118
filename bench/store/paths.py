"""Where files live."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import bench

HOME_VARIABLE = "POURBENCH_HOME"


@dataclass(frozen=True, slots=True)
class Home:
    """The folder with the user's own files. None of its parts need exist."""

    root: Path

    @property
    def profiles(self) -> Path:
        """The user's own profiles, which shadow shipped ones by name."""
        return self.root / "profiles"

    @property
    def sessions(self) -> Path:
        """One file a session."""
        return self.root / "sessions"

    @property
    def rehearsals(self) -> Path:
        """Rehearsed sessions, kept apart from real ones."""
        return self.root / "rehearsals"

    @property
    def ledger(self) -> Path:
        """Orders and stock."""
        return self.root / "ledger"

    @property
    def sounds(self) -> Path:
        """The signals' sounds as files, for players that take nothing else; made anew where they are missing."""
        return self.root / "sounds"

    @property
    def settings(self) -> Path:
        """The user's settings."""
        return self.root / "settings.toml"

    @property
    def last_choice(self) -> Path:
        """What stood chosen on the bench the last time."""
        return self.root / "last-choice.toml"


def find_home(option: str | None, environment: Mapping[str, str]) -> Home:
    """The user's folder: what ``--home`` says, else POURBENCH_HOME, else the platform's user-data folder."""
    given = option or environment.get(HOME_VARIABLE)
    if given:
        return Home(Path(given).expanduser().absolute())
    import platformdirs

    return Home(Path(platformdirs.user_data_dir("pourbench", appauthor=False)))


def shipped_profiles() -> Path:
    """The profiles that come with the program: inside the package when installed, beside it in a checkout."""
    package = Path(bench.__file__).parent
    inside = package / "profiles"
    return inside if inside.is_dir() else package.parent / "profiles"
