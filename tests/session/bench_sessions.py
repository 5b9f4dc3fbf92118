"""Sessions for the tests, and a maker who walks through them against a clock of his own."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from bench.model.caution import Caution
from bench.model.mould import Mould
from bench.model.recipe import Build, Dose, Part, PartRecipe, Tail
from bench.model.step_kind import StepKind
from bench.plan.jobs import PlannedJob, plan_job
from bench.plan.records import Ask
from bench.session import drive
from bench.session.beginning import begins
from bench.session.events import CautionsAcknowledged, CupRead, Event, MouldRead
from bench.session.job import Job
from bench.session.prepare import followed
from bench.session.session import Session
from bench.session.stamp import Stamp
from bench.session.step import Ending
from bench.session.view import view
from bench.session.warmth import anchored, with_cup, with_mould
from tests.plan.bench_records import COLOURANTS, MOULD, PLASTIC, STATION, recipe

CAUTIONS = (
    Caution(name="fan", group="air", words="Fan on.", more="", source="common practice, no source", at_start=True),
    Caution(
        name="fan-check",
        group="air",
        words="Check the fan.",
        more="",
        source="common practice, no source",
        every_s=600,
    ),
    Caution(
        name="gloves",
        group="body",
        words="Gloves on.",
        more="",
        source="common practice, no source",
        at_start=True,
        steps=(StepKind.SHOT,),
    ),
    Caution(
        name="never-leave",
        group="heat",
        words="Stay with the heat.",
        more="",
        source="common practice, no source",
        steps=(StepKind.HEAT_ON, StepKind.HEAT),
    ),
    Caution(
        name="scorched",
        group="heat",
        words="Off the heat.",
        more="",
        source="common practice, no source",
        above_scorch=True,
    ),
)

OTHER_CORE = PartRecipe(doses=(Dose(colourant="pearl", load_pct=3.0),))


def planned_job(
    build: Build = Build.CORE,
    *,
    tail: Tail = Tail.CUT,
    count: int = 8,
    warm_up_shots: int = 1,
    mould: Mould = MOULD,
    moulds: int = 1,
) -> PlannedJob:
    """The plan of ``job`` and its timeline."""
    return plan_job(
        recipe=recipe(build, tail if build.has_core else Tail.KEPT),
        mould=mould,
        plastic=PLASTIC,
        station=STATION,
        colourants=COLOURANTS,
        # One spare at least: a job of one or two full rounds has another one after them.
        ask=Ask(count=count, spares_pct=max(5.0, 100 / count), warm_up_shots=warm_up_shots, moulds=moulds),
    )


@lru_cache(maxsize=64)
def job(
    build: Build = Build.CORE,
    *,
    tail: Tail = Tail.CUT,
    count: int = 8,
    warm_up_shots: int = 1,
    mould: Mould = MOULD,
    moulds: int = 1,
) -> Job:
    """A job on the tests' bench: for the default count two rounds of four, and one more for the spares."""
    chosen = recipe(build, tail if build.has_core else Tail.KEPT)
    planned = planned_job(build, tail=tail, count=count, warm_up_shots=warm_up_shots, mould=mould, moulds=moulds)
    plan, script = followed(planned, mould=mould, plastic=PLASTIC, station=STATION)
    return Job(
        recipe=chosen,
        mould=mould,
        plastic=PLASTIC,
        station=STATION,
        plan=plan,
        script=script,
        cautions=CAUTIONS,
        colourants=COLOURANTS,
        cores={chosen.name: chosen.parts[Part.CORE], "other": OTHER_CORE} if build.has_core else {},
    )


@dataclass
class FakeClock:
    """A clock that goes only when told to."""

    elapsed_s: float = 1000.0
    wall: datetime = datetime(2026, 1, 31, 9, 0, tzinfo=UTC)
    boot: str = "boot-1"

    def now(self) -> Stamp:
        return Stamp(elapsed_s=self.elapsed_s, wall=self.wall, boot=self.boot)

    def advance(self, seconds: float) -> None:
        self.elapsed_s += seconds
        self.wall += timedelta(seconds=seconds)

    def reboot(self, off_s: float) -> None:
        """The machine was off for a while and starts again."""
        self.boot += "x"
        self.elapsed_s = 5.0
        self.wall += timedelta(seconds=off_s)


MOST_BURSTS = 60
"""And stirs, of one heating: more than any takes."""


@dataclass
class Maker:
    """Plays a session: does what the step says, by the shortest way, and keeps the events."""

    session: Session
    clock: FakeClock = field(default_factory=FakeClock)
    events: list[Event] = field(default_factory=list)

    def now(self) -> Stamp:
        return self.clock.now()

    def happen(self, event: Event) -> None:
        self.session = self.session.after(event)
        self.events.append(event)

    def press(self) -> None:
        """The one key."""
        self.happen(drive.forward(self.session, self.now()))

    def acknowledge_all(self) -> None:
        while self.session.unacknowledged:
            event = drive.acknowledge(self.session, self.now())
            assert isinstance(event, CautionsAcknowledged)
            self.happen(event)

    def read(self, temp_c: float) -> None:
        self.happen(drive.reading(self.session, temp_c, self.now()))

    def tick(self) -> bool:
        """Let time bring about what it does by itself; whether anything happened."""
        event = drive.due(self.session, self.now())
        if event is not None:
            self.happen(event)
        return event is not None

    def put_on(self) -> None:
        """Say that the cup of a heating is on the heat, where it waits for that and needs heat."""
        is_on = view(self.session, self.now()).burst is not None
        if not is_on and not self.session.waits_for_aside and begins(self.session, self.now()):
            self.press()

    def burst_through(self) -> None:
        """Let the cup of a heating have its bursts and stirs, each burst put on as soon as it waits for that, for
        as long as its step is to take."""
        for _ in range(MOST_BURSTS):
            burst = view(self.session, self.now()).burst
            if burst is None:
                self.put_on()
                burst = view(self.session, self.now()).burst
            left_s = drive.remaining_s(self.session, self.now())
            if burst is None or burst.left_s <= 0 or left_s <= 0:
                return
            self.clock.advance(min(burst.left_s, left_s) + 0.001)

    def finish_step(self) -> None:
        """End the present step the way it is meant to end, in the time that it takes."""
        self.burst_through()
        step = self.session.step
        if step.kind is StepKind.CAUTIONS:
            self.acknowledge_all()
        self.clock.advance(max(0.0, drive.remaining_s(self.session, self.now())) + 0.01)
        if step.ending is Ending.READING:
            assert step.band_c is not None
            self.read(sum(step.band_c) / 2)
        if not self.tick():
            self.press()

    def walk_to(self, step_id: str, *, on: bool = True) -> None:
        """Finish steps until that one is reached; at a heating its cup is put on, unless that is left to do."""
        if not self.session.visits:
            self.press()
        while self.session.step.id != step_id:
            assert self.session.next_step is not None, f"{step_id} is not in the script"
            self.finish_step()
        if on:
            self.put_on()

    def walk_to_the_end(self) -> None:
        if not self.session.visits:
            self.press()
        while not self.session.state.over:
            self.finish_step()


def maker(
    build: Build = Build.CORE, *, tail: Tail = Tail.CUT, count: int = 8, warm_up_shots: int = 1, moulds: int = 1
) -> Maker:
    """A maker before an idle session of that build."""
    made = job(build, tail=tail, count=count, warm_up_shots=warm_up_shots, moulds=moulds)
    return Maker(session=Session(job=made))


def placed(session: Session, now: Stamp, *, cup_c: float | None = None, mould_c: float | None = None) -> Session:
    """The session with the cups of its step, or else of its last shot, and its mould at those temperatures now."""
    session = anchored(session, now)
    if mould_c is not None:
        known = session.moulds[session.step.mould]
        session = with_mould(session, session.step.mould, replace(known, temp_c=mould_c))
    if cup_c is not None:
        for part in session.step.parts or tuple(session.cups):
            session = with_cup(session, part, replace(session.cups[part], temp_c=cup_c))
    return session


def temps(events: list[Event]) -> list[float]:
    """Every temperature that was read."""
    return [event.temp_c for event in events if isinstance(event, CupRead | MouldRead)]
