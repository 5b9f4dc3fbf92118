"""A made-up bench whose cup loses more and whose heater feeds less than the profiles say, read by a noisy hand.

Its course is integrated apart from the session's own: C dT/dt = P - f h A (T - T_room), second by second.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field

from bench.model.recipe import Build, Part
from bench.model.step_kind import StepKind
from bench.physics.cup import Cup, loss_w_m2k
from bench.session import drive
from bench.session.bodies import cup_of
from bench.session.events import CupRead
from bench.session.step import Ending
from bench.session.view import view
from tests.plan.bench_records import ROOM_C
from tests.session.bench_sessions import Maker, maker

NOISE_K = 1.5


@dataclass
class TrueBench:
    """The one cup of a plain session as it really is, and the maker who reads it."""

    seed: int
    loss_factor: float = 1.3
    fed_w: float = 350.0
    hands: Maker = field(default_factory=lambda: maker(Build.PLAIN, count=40, warm_up_shots=0))
    temp_c: float = ROOM_C
    heat_readings: int = 0
    cool_readings: int = 0

    def __post_init__(self) -> None:
        self._noise = random.Random(self.seed)
        self._melt = 1

    def cup(self) -> Cup:
        step_melt = self.hands.session.cups[Part.BODY].melt
        return cup_of(self.hands.session, Part.BODY, step_melt)

    def pass_s(self, seconds: float, *, on: bool = False) -> None:
        """Time passes, for the clock and for the cup, which may have a burst by itself."""
        alone_s = min(seconds, self._alone_s())
        self.hands.clock.advance(seconds)
        if Part.BODY in self.hands.session.cups:
            self.temp_c = self.later_c(self.temp_c, alone_s, fed_w=self.fed_w)
            self.temp_c = self.later_c(self.temp_c, seconds - alone_s, fed_w=self.fed_w if on else 0.0)

    def _alone_s(self) -> float:
        """What is left of a burst that runs by itself."""
        session = self.hands.session
        if not session.visits or Part.BODY not in session.cups:
            return 0.0
        burst = view(session, self.hands.now()).cups[0].burst
        return burst.left_s if burst is not None and burst.heating else 0.0

    def _filled(self) -> None:
        """Another melt was weighed into the cup."""
        if self.hands.session.step.melt != self._melt:
            self._melt, self.temp_c = self.hands.session.step.melt, ROOM_C

    def later_c(self, temp_c: float, seconds: float, *, fed_w: float = 0.0) -> float:
        cup = self.cup()

        def rate(at_c: float) -> float:
            lost_w = loss_w_m2k(cup, at_c=at_c, room_c=ROOM_C) * (cup.side_m2 + cup.top_m2) * (at_c - ROOM_C)
            return (fed_w - self.loss_factor * lost_w) / cup.capacity_j_k

        steps = max(1, round(seconds / 2))
        for _ in range(steps):
            middle_c = temp_c + rate(temp_c) * seconds / steps / 2
            temp_c += rate(middle_c) * seconds / steps
        return temp_c

    def falls_to_s(self, low_c: float) -> float:
        """How long the true cup takes to fall there."""
        temp_c, seconds = self.temp_c, 0.0
        while temp_c > low_c:
            temp_c = self.later_c(temp_c, 0.5)
            seconds += 0.5
        return seconds

    def read(self) -> None:
        read_c = self.temp_c + self._noise.gauss(0.0, NOISE_K)
        now = self.hands.now()
        self.hands.happen(CupRead(at=now, part=Part.BODY, temp_c=read_c))
        if self.hands.session.doubted is not None:  # the same again says that it is so
            self.hands.happen(CupRead(at=now, part=Part.BODY, temp_c=read_c))

    def _read_cooling(self) -> None:
        self.read()
        self.cool_readings += 1

    def heat(self) -> None:
        """Burst by burst as the session says, a reading after each stir, until one lies in the band."""
        hands = self.hands
        self._filled()
        for _ in range(60):
            hands.put_on()
            burst = view(hands.session, hands.now()).burst
            if burst is not None and burst.left_s > 0:
                self.pass_s(burst.left_s + 0.01, on=burst.heating)
            if burst is None or not burst.heating or burst.left_s <= 0:
                self.read()
                self.heat_readings += 1
                if hands.tick():
                    return
        hands.press()

    def stand(self, until: Callable[[], bool]) -> None:
        """Everything else, at its planned length; the cup is read when it has just been shot from, and again
        when the mould has been opened."""
        hands = self.hands
        while not until() and hands.session.step.kind is not StepKind.HEAT:
            step = hands.session.step
            seconds = max(0.0, drive.remaining_s(hands.session, hands.now()))
            if step.kind is StepKind.HOLD:
                self._read_cooling()
            if step.kind is StepKind.HEAT_ON:
                self._filled()
            if step.kind is StepKind.CAUTIONS:
                hands.acknowledge_all()
            self.pass_s(seconds + 0.01)
            if step.kind is StepKind.OPEN:
                self._read_cooling()
            if step.ending is Ending.READING:
                assert step.band_c is not None
                hands.read(sum(step.band_c) / 2)
            if not hands.tick():
                hands.press()

    def work(self, until: Callable[[], bool]) -> None:
        """Round after round."""
        if not self.hands.session.visits:
            self.hands.press()
        while not until():
            if self.hands.session.step.kind is StepKind.HEAT:
                self.heat()
            else:
                self.stand(until)

    def work_to(self, kind: StepKind) -> None:
        """Until the next step of that kind."""
        self.work(lambda: self.hands.session.step.kind is kind)

    def work_to_step(self, step_id: str) -> None:
        """Until that step."""
        self.work(lambda: self.hands.session.step.id == step_id)

    def work_until_read(self, times: int) -> None:
        """Until the standing cup was read so often."""
        self.work(lambda: self.cool_readings >= times)
