"""The session's state, and the one way it changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.cup import Cup
from bench.session.bursts import Leg
from bench.session.corrections import Corrected, Corrections, CupMark, MouldMark
from bench.session.events import CupRead, Event, MouldRead
from bench.session.job import Job
from bench.session.stamp import Stamp
from bench.session.step import Ending, Step
from bench.session.verdicts import Given


class State(StrEnum):
    """Where a session stands, in the states of the open standard for batch work (ISA-88, IEC 61512-1)."""

    IDLE = "idle"
    RUNNING = "running"
    HELD = "held"
    STOPPING = "stopping"
    STOPPED = "stopped"
    ABORTED = "aborted"
    COMPLETE = "complete"

    @property
    def over(self) -> bool:
        """Whether nothing can happen any more."""
        return self in (State.STOPPED, State.ABORTED, State.COMPLETE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Visit:
    """One stay at a step. ``left`` and ``by`` are None while it lasts; ``by`` is None too when it was skipped.

    ``revisited`` says that the maker came back to it: it then ends by hand only, or it would end again at once.
    ``returned`` is when.
    ``stretch`` is how much longer than planned it is to last, by what earlier rounds have shown, ``waits_s`` how
    long it waits for the heater before it begins. ``passed`` says that its clock was over when it was reached.
    ``then`` is which step of the script follows one that was entered out of its turn, ``afterwards`` which follows
    that one; None for the next one. ``to_begin`` says that its heat waits for the maker to say that the cup is on,
    ``begun`` when that was last said, None where it never was.
    """

    index: int
    entered: Stamp
    left: Stamp | None = None
    by: Ending | None = None
    revisited: bool = False
    stretch: float = 1.0
    returned: Stamp | None = None
    waits_s: float = 0.0
    passed: bool = False
    then: int | None = None
    afterwards: int | None = None
    to_begin: bool = False
    begun: Stamp | None = None

    def has_begun(self, step: Step) -> bool:
        """Whether what ``step`` begins has begun: on entering it, or once the maker says so; a burst that runs by
        itself on leaving it."""
        return not self.to_begin and (step.kind is not StepKind.HEAT_ON or self.by is not None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Warmth:
    """What is known of one temperature: it was ``temp_c`` at ``at``, within ``spread_k`` (one sigma, from the last
    reading) and ``drift_k`` (from having been reckoned on since).

    On the heat ``target_c`` is where it goes (None: off the heat), a mould by ``rate_k_s`` and a cup by the bursts
    and stirs of ``legs``, counted from ``at``. ``rise_k`` is how much hotter a mould may be for having stood on a
    plate whose temperature nobody knows. ``measured`` is when a thermometer last said so and ``read_c`` what
    it said, ``read_off_k`` above what was then made of it. Since the last mark (``bench.session.corrections``)
    ``gone_s`` have passed, ``on_s`` of them on the heat, and ``stood_k`` were lost off it; ``follows`` says that
    nothing else happened. ``melt`` is which melt a cup holds, ``spent_min`` what heat has used up of it, in
    minutes at 160 °C. ``by_itself`` says that its one burst runs whatever step follows, until the cup is stirred
    and read; ``off_s`` is how long that is over.
    """

    temp_c: float
    at: Stamp
    spread_k: float = 0.0
    drift_k: float = 0.0
    target_c: float | None = None
    rate_k_s: float = 0.0
    rise_k: float = 0.0
    legs: tuple[Leg, ...] = ()
    measured: Stamp | None = None
    read_c: float | None = None
    read_off_k: float = 0.0
    gone_s: float = 0.0
    on_s: float = 0.0
    stood_k: float = 0.0
    follows: bool = False
    melt: int = 0
    spent_min: float = 0.0
    by_itself: bool = False
    off_s: float = 0.0

    @property
    def bursting(self) -> bool:
        """Whether a burst that runs by itself is on."""
        return self.by_itself and self.target_c is not None

    @property
    def is_as_filled(self) -> bool:
        """Whether it is a cup that was filled and neither heated nor read since."""
        return self.measured is None and self.on_s == 0 and self.target_c is None and self.melt > 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Strikable:
    """A believed reading that the maker may still call wrong: the session ``before`` it, and what happened
    ``since``."""

    read: CupRead
    before: Session
    since: tuple[Event, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Aside:
    """A cup that was over its scorch limit and stands where it was while another is weighed: its part, what it is
    as heat sees it, and what is ``known`` of it, by a reading where it ``is_read``. ``in_the_way`` says that
    nobody has put another on the heater since."""

    part: Part
    cup: Cup
    known: Warmth
    is_read: bool = False
    in_the_way: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Session:
    """A session at one moment in its history: its job, and what its events have come to.

    ``visits`` is the way through the script, steps taken back left out; its last entry is the present step.
    ``alarm`` is a cup reading over the scorch limit that nobody has acknowledged yet, ``doubted`` a reading far
    from the estimate that awaits a second one. ``acknowledged`` holds the latest moment for each caution,
    ``cups`` and ``moulds`` what is known of their temperatures (``bench.session.warmth``), ``tails`` the number
    of tails cut in each round where the maker chose, ``core_weighed`` the recipe whose core was weighed into each
    of the core's melts. ``spent_min`` is the most that heat has used up of any cup of each part, ``scorched``
    which melt of a part was read over the scorch limit, ``strikable`` the latest such reading while it may be
    called wrong, its cup not being thrown away yet, ``anew_from`` how many visits there were when a melt was
    thrown away to be weighed anew, ``thrown`` the session before the last such, ``aside`` the last
    cup of them that was still hot. ``weighs_anew`` says that a core
    cup mixed in another colour is weighed anew at a step of its own. ``corrections`` is what ``cup_marks``,
    ``mould_marks`` and verdicts say by now, ``refused`` those that the maker does not want. ``stopped_at`` is
    how many visits there were when the session was stopped early, ``closing`` the places in the script of what is
    done from then on, in order, ``held_from`` the state that a hold returns to.
    """

    job: Job
    state: State = State.IDLE
    visits: tuple[Visit, ...] = ()
    acknowledged: Mapping[str, Stamp] = field(default_factory=dict)
    cups: Mapping[Part, Warmth] = field(default_factory=dict)
    moulds: Mapping[int, Warmth] = field(default_factory=dict)
    cup_readings: tuple[CupRead, ...] = ()
    mould_readings: tuple[MouldRead, ...] = ()
    spent_min: Mapping[Part, float] = field(default_factory=dict)
    cup_marks: tuple[CupMark, ...] = ()
    mould_marks: tuple[MouldMark, ...] = ()
    corrections: Corrections = field(default_factory=Corrections)
    refused: frozenset[Corrected] = frozenset()
    scorched: Mapping[Part, int] = field(default_factory=dict)
    strikable: Strikable | None = None
    anew_from: Mapping[tuple[Part, int], int] = field(default_factory=dict)
    thrown: Session | None = None
    aside: Aside | None = None
    weighs_anew: bool = False
    doubted: CupRead | MouldRead | None = None
    alarm: CupRead | None = None
    verdicts: tuple[Given, ...] = ()
    tails: Mapping[int, int] = field(default_factory=dict)
    core: str = ""
    core_weighed: Mapping[int, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    stopped_at: int | None = None
    closing: tuple[int, ...] = ()
    held_from: State | None = None
    started: Stamp | None = None
    last: Stamp | None = None

    def __hash__(self) -> int:
        """Cheap, and the same for equal sessions: what is reckoned from one moment is kept while it lasts."""
        return hash((self.state, self.last, len(self.visits)))

    def after(self, event: Event) -> Session:
        """The session once this has happened. Raises IllegalMove, naming state and event, if it cannot."""
        from bench.session.effects import apply  # effects need the session, and the session needs them

        return apply(self, event)

    def after_all(self, events: Iterable[Event]) -> Session:
        """The session once all of these have happened, in order."""
        session = self
        for event in events:
            session = session.after(event)
        return session

    @property
    def step(self) -> Step:
        """The present step; the first one before the start, the last one when the session is over."""
        return self.job.script[self.visits[-1].index if self.visits else 0]

    @property
    def visit(self) -> Visit:
        """The present stay. There is none before the start."""
        return self.visits[-1]

    @property
    def next_step(self) -> Step | None:
        """The step that follows the present one; None at the last."""
        return self.job.script[self.next_index] if self.next_index < len(self.job.script) else None

    @property
    def following(self) -> int:
        """Where in the script the present step goes on to; past its end at the last."""
        if not self.visits:
            return 0
        here = self.visits[-1]
        if self.closing:
            return next(iter(self._closing_after(here.index)), len(self.job.script))
        return here.index + 1 if here.then is None else here.then

    def _closing_after(self, place: int) -> tuple[int, ...]:
        return self.closing[self.closing.index(place) + 1 :]

    @property
    def next_index(self) -> int:
        """The same, with a mixed core cup weighed anew before it is heated in another colour."""
        place = self.following
        if place >= len(self.job.script) or not self.visits:
            return place
        weighing = self._weighing_before(self.job.script[place])
        return place if weighing is None or weighing == self.visits[-1].index else weighing

    @property
    def ahead(self) -> tuple[Step, ...]:
        """The present step and those to come, in the order in which they will."""
        script, first = self.job.script, self.following
        if not self.visits:
            return script[first:]
        if self.closing:
            return (self.step, *(script[place] for place in self._closing_after(self.visits[-1].index)))
        afterwards = self.visits[-1].afterwards
        rest = script[first:] if afterwards is None else (script[first], *script[afterwards:])
        return (self.step, *self._with_weighings(rest))

    def weighing(self, part: Part, melt: int) -> int | None:
        """Where in the script that melt is weighed at a step of its own; None where it is not."""
        for place, step in enumerate(self.job.script):
            if step.kind is StepKind.WEIGH and step.parts == (part,) and step.melt == melt:
                return place
        return None

    def is_scorched(self, part: Part, melt: int) -> bool:
        """Whether that melt was read over the scorch limit."""
        return self.scorched.get(part) == melt

    def _weighing_before(self, step: Step) -> int | None:
        if (
            not self.weighs_anew
            or step.parts != (Part.CORE,)
            or step.kind not in (StepKind.HEAT_ON, StepKind.HEAT)
        ):
            return None
        is_as_mixed = self.core_weighed.get(step.melt, self.core) == self.core
        return (
            None if is_as_mixed or self.has_heated(Part.CORE, step.melt) else self.weighing(Part.CORE, step.melt)
        )

    def _with_weighings(self, steps: tuple[Step, ...]) -> Iterator[Step]:
        done = {self.step.melt} if self.step.kind is StepKind.WEIGH and self.step.parts == (Part.CORE,) else set()
        for step in steps:
            weighing = self._weighing_before(step) if step.melt not in done else None
            if weighing is not None:
                done.add(step.melt)
                yield self.job.script[weighing]
            yield step

    @property
    def waits_for_aside(self) -> bool:
        """Whether the present heating has not begun, because an old cup stands on the heater."""
        return self.step.kind is StepKind.HEAT and self.aside is not None and self.aside.in_the_way

    @property
    def waits_to_begin(self) -> bool:
        """Whether nothing of the present heating has begun: the maker has not said yet that its cup is on."""
        return self.waits_for_aside or bool(self.visits and self.visits[-1].to_begin)

    @property
    def unacknowledged(self) -> frozenset[str]:
        """Opening cautions that nobody has acknowledged yet."""
        return self.job.opening_cautions - self.acknowledged.keys()

    def ended(self, step_id: str) -> Stamp | None:
        """When the step of that id was last left; None if it was not."""
        for visit in reversed(self.visits):
            if self.job.script[visit.index].id == step_id:
                return visit.left
        return None

    def has_heated(self, part: Part, melt: int) -> bool:
        """Whether heating of that melt has begun: from then on its colour is settled. Being about to put it on the
        heat is not enough."""
        known = self.cups.get(part)
        if known is not None and known.by_itself and known.melt == melt:
            return True
        since = self.anew_from.get((part, melt), 0)
        return any(
            step.heats and step.parts == (part,) and step.melt == melt and visit.has_begun(step)
            for visit, step in ((visit, self.job.script[visit.index]) for visit in self.visits[since:])
        )
