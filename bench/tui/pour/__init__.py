"""The pour screen without Textual: from a key to an event, and from a session to the rows of a frame.

``keys`` and ``entry`` say what was pressed and what is half typed, ``answer`` what it means; ``picture`` says a
session in words (with ``middle``, ``gauges`` and ``hints``), and ``frame`` fits the words into a window.
"""
