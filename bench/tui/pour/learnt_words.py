"""The words for what readings and verdicts have corrected, and for what to change after a verdict."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bench.session import drive
from bench.session.advice import advice
from bench.session.corrections import Corrected, Correction
from bench.session.next_loads import next_time_of
from bench.session.next_words import change_at_a_look
from bench.session.session import Session
from bench.session.verdicts import Given, Verdict
from bench.session.view import View
from bench.tui import present
from bench.tui.pour.keys import Press, key_for
from bench.tui.text import clean, join
from bench.tui.widgets.lines import MARK


def correction_lines(view: View) -> tuple[str, ...]:
    """Every correction under the digit that refuses it or takes it up again, marked while it is used."""
    return tuple(
        f"{digit} {' ' if each.refused else MARK} {correction_words(each)}"
        for digit, each in enumerate(view.corrections.all, start=1)
    )


def verdict_lines(session: Session, view: View) -> tuple[str, ...]:
    """What to change after each verdict that stands for what is looked at, a line each."""
    return tuple(
        f"{present.sentence(each)}: {join((change, _of_the_sets(each, view)), '; ')}."
        for each in view.verdicts_given
        if (change := _change(session, view, each))
    )


def _change(session: Session, view: View, verdict: Verdict) -> str:
    """The loads to try, those of the end screen, or where none would help the change that does."""
    subject, build = drive.looked_at(session), session.job.recipe.build
    if subject is None:
        return ""
    asked = next_time_of(session, Given(round=view.round, subject=subject, verdict=verdict))
    return advice(verdict, subject, build) if asked is None else clean(change_at_a_look(asked, build), limit=400)


def _of_the_sets(verdict: Verdict, view: View) -> str:
    """What becomes of the sets to come: nothing where the maker has refused that they are changed."""
    learnt = view.corrections.set_time
    if learnt is None or verdict not in _SETS:
        return ""
    return f"sets stay as planned, {key_for(Press.LEARNT)} can change them" if learnt.refused else _SETS[verdict]


_SETS: Mapping[Verdict, str] = {
    Verdict.SOFT: "the next sets are made longer",
    Verdict.SOONER: "the next sets are made shorter",
}


def correction_words(correction: Correction) -> str:
    """What was learnt, how well and from how much, and whether it is used."""
    known = f"within {present.share(100 * correction.known_spread)}, from {_source(correction)}"
    return join((_WORDS[correction.of](correction), known, "refused" if correction.refused else ""), ", ")


def _source(correction: Correction) -> str:
    word = "verdict" if correction.of is Corrected.SET_TIME else "reading"
    return present.counted(correction.readings, word)


def _cup_loss(correction: Correction) -> str:
    return f"cups lose {present.times(correction.value)} the reckoned heat"


def _heater(correction: Correction) -> str:
    gives = f"the heater gives {present.power(correction.value)}"
    if correction.capped:
        gives = f"{gives}, no more is believed of the readings: measure it"
    return f"{gives}, the profile says {present.power(correction.profile)}"


def _mould_loss(correction: Correction) -> str:
    return f"moulds lose {present.times(correction.value)} the reckoned heat"


def _set_time(correction: Correction) -> str:
    return f"baits need {present.times(correction.value)} the reckoned time to set"


_WORDS: Mapping[Corrected, Callable[[Correction], str]] = {
    Corrected.CUP_LOSS: _cup_loss,
    Corrected.HEATER: _heater,
    Corrected.MOULD_LOSS: _mould_loss,
    Corrected.SET_TIME: _set_time,
}
