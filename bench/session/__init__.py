"""The pour session as a pure state machine.

A session is a value. ``Session.after(event)`` is the only way it changes, an event carries its own time, and what
a screen needs now is computed from (session, now) by ``bench.session.view``. Nothing here ticks, reads a clock or
touches a file, so a whole session runs in a test in milliseconds.
"""
