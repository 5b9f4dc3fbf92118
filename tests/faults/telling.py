"""What the user is told of a file, and how soon."""

from __future__ import annotations

import time
from pathlib import Path

from tests.faults.corpus import READ
from tests.faults.tally import worst

WITHIN_S = 1.0
LONGEST_SENTENCE = 700
"""Characters, without the file's own name."""
MOST_SENTENCES = 60


def told(sort: str, data: bytes, file: Path) -> list[str]:
    """What the user is told of a file of that sort that holds this, within the time that it may take."""
    file.write_bytes(data)
    began = time.process_time()
    sentences = READ[sort](file)
    took = time.process_time() - began
    worst("s of processor time for one broken file", took)
    assert took < WITHIN_S, f"{took:.1f} s for {file}"
    assert len(sentences) <= MOST_SENTENCES
    for sentence in sentences:
        bare = sentence.replace(str(file), "")
        assert bare.isprintable(), f"not one clean line: {bare!r}"
        assert len(bare) <= LONGEST_SENTENCE, bare
        assert bare.endswith((".", "?"))
    return sentences
