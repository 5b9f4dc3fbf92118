"""Pictures of the pour screen as text, kept under tests/tui/pictures.

``python -m tests.tui.pour.pictures`` draws them anew. Look at every one that changed before it is committed: a
picture is right when a maker with gloves on, two metres away, would know what to do.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from bench.model.recipe import Part
from bench.model.settings import UnitSystem
from bench.model.step_kind import StepKind
from bench.session import drive
from bench.session.asking import Asked
from bench.session.events import CupRead, MouldRead
from bench.session.session import Session
from bench.tui.pour.entry import Figure, Reason, Sure, Why
from bench.tui.pour.frame import frame
from bench.tui.pour.picture import Around, picture
from bench.tui.saved import SavedState
from tests.session.bench_sessions import placed
from tests.tui.at_the_bench import at, at_kind, at_step, session_of
from tests.tui.pour.shown import texts_of

FOLDER = Path(__file__).parent.parent / "pictures"
SIZES = ((40, 12), (80, 24), (120, 40), (200, 60), (300, 12))

METRIC, US = Around(units=UnitSystem.METRIC), Around(units=UnitSystem.US)
Scene = tuple[Session, float, Around]


def _alarm() -> Scene:
    session, now = at_step("r1.heat.shell")
    return session.after(CupRead(at=at(now + 60), part=Part.SHELL, temp_c=212.0)), now + 61, METRIC


def _cooling() -> Scene:
    session, now, around = _alarm()
    read = drive.acknowledge(session, at(now))
    assert read is not None
    return session.after(read), now + 60, around


def _hot() -> Scene:
    """The one key pressed while the cup is still hot."""
    session, now, _ = _cooling()
    return (
        session,
        now,
        Around(units=UnitSystem.METRIC, entry=Sure(why=Asked.SCORCHED, step=session.step.id, asked=at(now))),
    )


def _new_cup() -> Scene:
    session, now, around = _cooling()
    return session.after(drive.forward(session, at(now))), now + 1, around


def _solid() -> Scene:
    session, now = at_step("r1.core.shot")
    return placed(session, at(now), cup_c=27.0), now + 700, METRIC


def _doubt() -> Scene:
    session, now = at_step("r1.heat.shell")
    return session.after(CupRead(at=at(now + 60), part=Part.SHELL, temp_c=320.0)), now + 61, METRIC


def _put_back() -> Scene:
    session, now = at_step("m1.warm-up1.heat.shell")
    return session.after(CupRead(at=at(now + 30), part=Part.SHELL, temp_c=125.0)), now + 33, METRIC


def _typing() -> Scene:
    session, now = at_step("r1.heat.shell")
    about = CupRead(at=at(now), part=Part.SHELL, temp_c=0.0)
    return session, now + 40, Around(units=UnitSystem.US, entry=Figure(about=about, typed="33"))


def _stopping() -> Scene:
    session, now = at_step("r1.shell.set")
    return session, now + 20, Around(units=UnitSystem.METRIC, entry=Reason(why=Why.STOP))


def _unsaved() -> Scene:
    session, now = at_step("r2.shell.set")
    saved = SavedState(events_waiting=3, problem="the disk is full")
    return session, now + 20, Around(units=UnitSystem.METRIC, saved=saved, speed=60.0)


def _mould_read() -> Scene:
    session, now = at_step("r1.core.set")
    return session.after(MouldRead(at=at(now + 1), temp_c=48.0)), now + 20, METRIC


SCENES: Mapping[str, Callable[[], Scene]] = {
    "start": lambda: (session_of(), 0.0, METRIC),
    "card": lambda: (*at_kind(StepKind.CAUTIONS), METRIC),
    "put-on": lambda: (*at_step("r1.heat.shell", waits=True), METRIC),
    "put-back": _put_back,
    "heat": lambda: (*at_step("m1.warm-up1.heat.shell"), US),
    "shot": lambda: (*at_step("r1.shell.shot"), METRIC),
    "look": lambda: (*at_kind(StepKind.LOOK_AT_SHELLS), METRIC),
    "tails": lambda: (*at_kind(StepKind.TRIM), METRIC),
    "set": _mould_read,
    "typing": _typing,
    "doubt": _doubt,
    "alarm": _alarm,
    "cooling": _cooling,
    "cooling-asked": _hot,
    "weigh": lambda: (*at_step("weigh.shell"), METRIC),
    "weigh-anew": _new_cup,
    "solid": _solid,
    "stopping": _stopping,
    "unsaved": _unsaved,
}


def drawn(scene: Callable[[], Scene], width: int, height: int) -> str:
    """The scene in a window of that size."""
    session, now, around = scene()
    rows = frame(picture(session, at(now), around), width, height).rows
    return "".join(f"{text.rstrip()}\n" for text in texts_of(rows))


def pictures() -> Mapping[str, str]:
    """Every picture by the name of its file: each scene at 80 by 24, and two of them at every size."""
    shown = {f"{name}-80x24.txt": drawn(scene, 80, 24) for name, scene in SCENES.items()}
    for width, height in SIZES:
        for name in ("set", "heat", "alarm"):
            shown[f"{name}-{width}x{height}.txt"] = drawn(SCENES[name], width, height)
    return shown


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in pictures().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
