"""The words for what readings and verdicts have corrected, and for what to change after a verdict."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bench.model.recipe import Build
from bench.session import drive
from bench.session.advice import advice
from bench.session.corrections import Corrected, Correction
from bench.session.next_loads import NextTime, next_time_of
from bench.session.next_words import brief_change, change_at_a_look
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


def brief_verdicts(session: Session, view: View) -> tuple[str, ...]:
    """The same for the smallest window: a line for what was judged last of look and of make."""
    return tuple(
        f"{_BRIEF_NAMES.get(each, present.sentence(each))}: {_brief_change(session, view, each)}"
        for each in view.verdicts_given
        if _brief_change(session, view, each)
    )


def _brief_change(session: Session, view: View, verdict: Verdict) -> str:
    learnt = view.corrections.set_time
    if learnt is not None and verdict in _SETS:
        change = f"{key_for(Press.LEARNT)} changes the sets" if learnt.refused else "from the next set on"
        return f"{_BRIEF_ADVICE[verdict]}, {change}"
    asked, build = _asked(session, view, verdict), session.job.recipe.build
    if verdict is Verdict.PEELS:
        return _BRIEF_PEELS.get(build, "")
    return (clean(brief_change(asked), limit=400) if asked else "") or _BRIEF_ADVICE.get(verdict, "")


_BRIEF_NAMES: Mapping[Verdict, str] = {Verdict.SOFT: "Soft", Verdict.SOONER: "Sooner"}

_BRIEF_ADVICE: Mapping[Verdict, str] = {
    Verdict.TOO_DENSE: "less colour, next melt",
    Verdict.TOO_FAINT: "more colour, next melt",
    Verdict.CORE_HIDDEN: "less in the shell or more in the core",
    Verdict.CORE_FAINT: "more colour, next core",
    Verdict.CORE_STRONG: "less colour, next core",
    Verdict.COLOUR_OFF: "stir deep, check doses",
    Verdict.SHORT: "warmer, hotter, faster",
    Verdict.DENTS: "keep pressing, top off more",
    Verdict.BUBBLES: "stir slowly, push steadily",
    Verdict.SOFT: "leave it closed longer",
    Verdict.SOONER: "open it sooner",
    Verdict.WRINKLED: "warmer mould, steady push",
    Verdict.OFF_CENTRE: "rods straight",
}
"""The advice on each verdict, beside its name in a row of the smallest window."""

_BRIEF_PEELS: Mapping[Build, str] = {
    Build.LAMINATE: "both hot, both at once",
    Build.CORE: "wipe bores, be quick, shoot hot",
    Build.LAMINATE_CORE: "dry bores, all hot, at once",
}
"""By the joint that may part."""


def _change(session: Session, view: View, verdict: Verdict) -> str:
    """The loads to try, those of the end screen, or where none would help the change that does."""
    subject, build = drive.looked_at(session), session.job.recipe.build
    if subject is None:
        return ""
    asked = _asked(session, view, verdict)
    return advice(verdict, subject, build) if asked is None else clean(change_at_a_look(asked, build), limit=400)


def _asked(session: Session, view: View, verdict: Verdict) -> NextTime | None:
    subject = drive.looked_at(session)
    return next_time_of(session, Given(round=view.round, subject=subject, verdict=verdict)) if subject else None


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
