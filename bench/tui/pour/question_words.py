"""The words for what is asked of the maker: which cup a figure is of, and whether to go on all the same."""

from __future__ import annotations

from bench.model.settings import UnitSystem
from bench.session.asked_words import why_words
from bench.session.asking import INSISTED, Asked
from bench.session.events import MouldRead
from bench.session.in_hand import other_than
from bench.session.view import View
from bench.session.warned import WarningKind
from bench.tui import present
from bench.tui.pour.entry import Figure, Sure
from bench.tui.pour.heat_words import taken_as
from bench.tui.pour.keys import Press, key_for
from bench.tui.pour.reading_words import reading_of
from bench.tui.text import join


def figure_label(entry: Figure, view: View, units: UnitSystem) -> str:
    """What the figure being typed is of, and the key that says it of another cup."""
    number = f" {entry.about.mould}" if isinstance(entry.about, MouldRead) and len(view.moulds) > 1 else ""
    old = view.in_hand.old
    is_old = old is not None and not isinstance(entry.about, MouldRead) and entry.about.part is old.part
    of = f"old {reading_of(entry.about)}" if is_old else reading_of(entry.about)
    what = present.sentence(of) + number
    return join(
        (f"{what}, in {present.degree_sign(units)}. Enter takes it, Esc leaves it.", _other(entry, view)), " "
    )


def _other(entry: Figure, view: View) -> str:
    other = None if isinstance(entry.about, MouldRead) else other_than(entry.about.part, view.in_hand.cups)
    return f"{key_for(Press.TEMPERATURE)}: the {other.words} cup instead." if other else ""


def sure_why(entry: Sure, view: View, units: UnitSystem) -> str:
    """What speaks against going on."""
    if entry.why is Asked.SOLID:
        return f"{coldest(view, units)}: {entry.why.value}."
    return f"{present.sentence(why_words(entry.why, view))}."


def sure_label(entry: Sure, view: View) -> str:
    """The keys that answer the question."""
    press = reheating(view)
    cold = reheated(view)
    heat = f"{key_for(press)}: reheat{f' the {cold} cup' if cold else ''}." if press else ""
    stay = f"{staying_key(view)}: stay."
    if entry.why not in INSISTED:
        return join((f"{key_for(Press.FORWARD)} again goes on.", heat, stay), " ")
    reading = f"Read it: {key_for(Press.TEMPERATURE)} and digits."
    return join((reading, _taken(entry.why, view), heat, f"{key_for(Press.SKIP)}: skip. {stay}"), " ")


def reheated(view: View) -> str:
    """Which cup goes back on the heat, where the shot has several."""
    cold = view.in_hand.cold
    return cold.words if cold is not None and len(view.step.parts) > 1 else ""


def _taken(why: Asked, view: View) -> str:
    """What is to be read comes before the question."""
    if not is_taken(why, view):
        return ""
    first = "read the reminder, then " if view.reminders else ""
    return f"{key_for(Press.ACKNOWLEDGE)}: {first}{taken_as(why)}."


def acknowledging(why: Asked, view: View) -> str:
    """What the next press of the key does that acknowledges."""
    return "I have read it" if view.reminders else taken_as(why)


def reheating(view: View) -> Press | None:
    """What puts a cup under its band back on the heat while a shot waits for it; None where none does."""
    if view.is_reheated_by_back:
        return Press.BACK
    cold = (each for each in view.warnings if each.kind is WarningKind.CUP_COLD and each.at_shot)
    return Press.YES if any(each.came_back for each in cold) else None


def staying_key(view: View) -> str:
    """What stays at the step: the key back where that means nothing else."""
    return "Esc" if reheating(view) is Press.BACK else key_for(Press.BACK)


def is_taken(why: Asked, view: View) -> bool:
    """Whether a key takes the cup as it is."""
    return why is not Asked.SOLID or view.in_hand.solid_may_be_taken


def coldest(view: View, units: UnitSystem) -> str:
    """The coldest cup of the present shot, as a figure, by its name where the shot has several; "cold" where it
    was never heated."""
    known = {cup.part: cup.temp_c for cup in view.cups}
    temps = ((known.get(part), part) for part in view.step.parts)
    temp_c, part = min(temps, key=lambda each: (each[0] is not None, each[0] or 0.0))
    shown = "cold" if temp_c is None else present.temperature(temp_c, units)
    return present.sentence(f"{part.words} cup, {shown}" if len(view.step.parts) > 1 else shown)
