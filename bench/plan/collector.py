"""The collector of rings of objects rests while a job is worked out.

That makes hundreds of thousands of small records and lets go of nearly all of them, none in a ring, so that each
is freed with its last use. The collector cannot know, and looks through all that lives again and again: a tenth to
a third of the work, and the more the more rounds there are. A test holds that a job leaves it nothing to find.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_resting() -> Iterator[None]:
    """While this lasts; afterwards it is as it was."""
    was_awake = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_awake:
            gc.enable()
