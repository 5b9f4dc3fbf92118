"""Screens that are left once, however fast the keys come."""

from __future__ import annotations

from textual import events
from textual.await_complete import AwaitComplete
from textual.screen import Screen, ScreenResultType

SHORT: list[tuple[int, str]] = [(0, "-short"), (20, "-middling")]
"""In a short window what is asked stands close, so that all of it and its keys are in sight."""


class LeftOnce(Screen[ScreenResultType]):
    """A screen that is closed once, and takes no key after that. A modal one names ``ModalScreen`` first.

    Keys wait in a screen's own queue: those that a fast hand, a bouncing pedal or a slow machine has put there
    before the screen closed come to it afterwards. Dismissing it again would close whatever screen is shown by
    then, and acting on them would change a session that was handed on already.
    """

    is_left = False

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close it with that result, unless it is closed already or something else is shown."""
        if self.is_left or not self.is_active:
            return AwaitComplete()
        self.is_left = True
        return super().dismiss(result)

    async def on_event(self, event: events.Event) -> None:
        """Leave out keys, clicks and new sizes once it is closed: what they would change is being taken down."""
        if not (self.is_left and isinstance(event, events.InputEvent | events.Resize)):
            await super().on_event(event)
