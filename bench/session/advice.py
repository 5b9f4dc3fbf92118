"""The one change that helps most after a verdict, for the build that was judged (common practice, no source).

The joints of a core and of two sides peel for different reasons: the one of oil, of a shell that got cold, of a
core that was not hot enough; the other of two streams that met too cold, or not at once.
"""

from __future__ import annotations

from collections.abc import Mapping

from bench.model.recipe import Build
from bench.session.verdicts import Subject, Verdict

_OF_ANY: Mapping[Verdict, str] = {
    Verdict.TOO_DENSE: "less colour in the next melt",
    Verdict.TOO_FAINT: "more colour in the next melt",
    Verdict.CORE_HIDDEN: "less colour in the next melt of the shell, or more in the core's",
    Verdict.CORE_FAINT: "more colour in the next melt of the core",
    Verdict.CORE_STRONG: "less colour in the next melt of the core",
    Verdict.COLOUR_OFF: "stir the next cup to its bottom, and check its doses on the scale",
    Verdict.SHORT: "a warmer mould, the hot end of the band, a faster push",
    Verdict.DENTS: "keep the pressure on, and top off until the sprue stays full",
    Verdict.BUBBLES: "stir slowly, let the cup stand a moment, push steadily",
    Verdict.SOFT: "leave it closed longer",
    Verdict.SOONER: "open it sooner",
    Verdict.WRINKLED: "a warmer mould, and one steady push",
    Verdict.OFF_CENTRE: "seat the rods straight, and shoot gently",
}

_SIDES_PEEL = "both sides at the hot end of the band and equally hot, pushed together, into a warmer mould"
_CORE_PEELS = "wipe the oil out of the bores, be quick, shoot the core at the hot end of the band"

_PEELS: Mapping[Build, str] = {
    Build.LAMINATE: _SIDES_PEEL,
    Build.CORE: _CORE_PEELS,
    Build.LAMINATE_CORE: f"where core and shell part: {_CORE_PEELS}; where the sides part: {_SIDES_PEEL}",
}

_CORE_SHORT = "a warmer mould, the core at the hot end of the band, one slow push that lets the air out"
"""A core is shot gently into shells that are closed at one end: pushed fast it shuts its air in."""


def advice(verdict: Verdict, subject: Subject, build: Build) -> str:
    """What to change; empty after what is right, and for a verdict that this build does not know."""
    if verdict is Verdict.PEELS:
        return _PEELS.get(build, "")
    if verdict is Verdict.SHORT and subject is Subject.BAITS and build.has_core:
        return _CORE_SHORT
    return _OF_ANY.get(verdict, "")
