"""Speech that nothing waits for: one thread says one phrase at a time, the most urgent and the newest first."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bench.signals.phrases import Phrase, Urgency
from bench.signals.voice import Voice, speakable, utter

CLOSE_WITHIN_S = 0.5

REPLACES: Mapping[Urgency, frozenset[Urgency]] = {
    Urgency.ALARM: frozenset({Urgency.ALARM}),
    Urgency.ATTENTION: frozenset(),
    Urgency.STEP: frozenset({Urgency.STEP, Urgency.TIME, Urgency.ASIDE}),
    Urgency.TIME: frozenset({Urgency.TIME}),
    Urgency.ASIDE: frozenset({Urgency.ASIDE}),
}
"""Which older phrases a new one makes out of date: a step all that was said of the one before, a reminder none."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Waiting:
    phrase: Phrase
    until_s: float


class Speaker:
    """Says phrases with a voice, or none where the machine has none.

    A phrase cuts off what is less urgent, which is said again after it as long as it is fresh, and takes the place
    of what it makes out of date (``REPLACES``). ``clock`` is any steady clock in seconds, ``words`` the user's
    spelling for the voice. ``ended`` hears of every phrase that was said, and of every one that could not be, with
    the reason (empty when said); it must return at once. ``before`` may hold a phrase back for a moment.
    """

    def __init__(
        self,
        voice: Voice | None,
        *,
        clock: Callable[[], float],
        words: Mapping[str, str] | None = None,
        ended: Callable[[Phrase, str], None] = lambda _phrase, _problem: None,
        before: Callable[[], None] = lambda: None,
    ) -> None:
        self._voice = voice
        self._clock = clock
        self._words = dict(words or {})
        self._ended = ended
        self._before = before
        self._waiting: list[_Waiting] = []
        self._speaking: _Waiting | None = None
        self._cut = False
        self._closing = False
        self._changed = threading.Condition()
        self._thread: threading.Thread | None = None

    def say(self, phrase: Phrase) -> None:
        """Have it said; returns at once."""
        if self._voice is None:
            self._ended(phrase, "no speech program")
            return
        with self._changed:
            if self._closing:
                return
            replaced = REPLACES[phrase.urgency]
            self._waiting = [each for each in self._waiting if each.phrase.urgency not in replaced]
            self._waiting.append(_Waiting(phrase=phrase, until_s=self._clock() + phrase.fresh_s))
            self._cut_off(phrase.urgency)
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="speech", daemon=True)
                self._thread.start()
            self._changed.notify_all()

    def close(self, within_s: float = CLOSE_WITHIN_S) -> None:
        """Leave off and end the thread."""
        with self._changed:
            self._closing = True
            self._waiting.clear()
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join(within_s)

    def _cut_off(self, urgency: Urgency) -> None:
        speaking = self._speaking
        if speaking is None:
            return
        is_replaced = speaking.phrase.urgency in REPLACES[urgency]
        if is_replaced or urgency < speaking.phrase.urgency:
            self._speaking, self._cut = None, True
        if not is_replaced and self._cut:
            self._waiting.append(speaking)

    def _run(self) -> None:
        while (chosen := self._next()) is not None:
            assert self._voice is not None, "without a voice nothing waits"
            self._before()
            problem = utter(self._voice, speakable(chosen.phrase.text, self._words), cut=self._is_cut)
            with self._changed:
                whole = not self._cut and not self._closing
                self._speaking = None
            if whole:
                self._ended(chosen.phrase, problem)

    def _next(self) -> _Waiting | None:
        """The phrase to say now, once there is one; None when it is time to end."""
        with self._changed:
            while not self._closing:
                now_s = self._clock()
                self._waiting = [each for each in self._waiting if each.until_s >= now_s]
                if self._waiting:
                    chosen = min(self._waiting, key=lambda each: each.phrase.urgency)
                    self._waiting.remove(chosen)
                    self._speaking, self._cut = chosen, False
                    return chosen
                self._changed.wait()
        return None

    def _is_cut(self) -> bool:
        return self._cut or self._closing
