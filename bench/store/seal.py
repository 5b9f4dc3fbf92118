"""The seal of a session's snapshot: whether the plan in the file is still the one that the session began with.

A file is its owner's: a title put right by hand must not cost a session, least of all with hot plastic in the cup.
So a broken seal refuses nothing. It is said, because a plan with one figure changed still reads well while its
parts no longer fit each other, and because a slip of the disk looks the same as an edit. Files without a seal are
of an earlier version and load as ever. What no session can be resumed from is refused where it is decoded.

Comments, spaces and the order of keys are no part of what is sealed.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from typing import Any

from bench.errors import Fault


def seal(table: Mapping[str, Any]) -> str:
    """The CRC-32 of the table's keys and values, in hexadecimal, whether before it is written or read again."""
    text = json.dumps(table, sort_keys=True, ensure_ascii=False, default=str)
    return f"{zlib.crc32(text.encode('utf-8', 'replace')):08x}"


def broken_seal(table: Mapping[str, Any], stated: str, *, file: str) -> Fault | None:
    """What is said of a snapshot that is not the one that was sealed; None where it is, or was never sealed."""
    if not stated or stated == seal(table):
        return None
    return Fault(
        key="job",
        found="a plan that was changed after the session began",
        wanted="the one it began with (check amounts and times before going on)",
        file=file,
    )
