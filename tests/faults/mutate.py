"""Files broken in the ways that files get broken: by a disk, by an editor, by a slip of the hand, by malice."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

NASTY = (
    b"\x00", b"\x1b[2J", b"\r", b"\n", b"\xff", b"\xc3", b"\xed\xa0\x80", b"\xe2\x80\xae", b"\xef\xbb\xbf",
    b"'", b'"', b'"""', b"'''", b"\\", b"\\u0000", b"\\U00110000", b"\\ud800", b"[", b"]", b"[[", b"]]", b"{",
    b"}", b"=", b".", b",", b"#", b"a.b.c.d.e.f.g.h.i.j.k.l.m = 1\n", b"[a]\n[a]\n", b"[[caution]]\n",
    b"[sources]\n",
    b'"" = 1\n', b'"\\n\\u001b[2J" = 1\n', b"format = 2\n",
)  # fmt: skip
"""Bytes that end, begin or spoil something in TOML, in UTF-8 or on a terminal."""

VALUES = (
    b"nan", b"inf", b"-inf", b"-0.0", b"1e999", b"1e-320", b"0", b"-1", b"9" * 400, b"9" * 4299, b"9" * 6000,
    b"0x" + b"f" * 5000, b"true", b"[]", b"[[[[]]]]", b"{}", b"{a = {b = {}}}", b'""', b'"x"',
    b'"' + b"x" * 3000 + b'"',
    b'"1e999 mm"', b'"nan g"', b'"inf degC"', b'"-1 g"', b'"0 mm"', b'"1e308 kg"', b'"1e-300 mm"', b'"1 parsec"',
    b'"' + b"9" * 400 + b' g"', b'"1 g g g"', b'"1/0 mm"', b'"9**9**9**9 mm"', b'"10 mm mm"', b'"\\u202e1 g"',
    b'"1,5 g"',
    b"0001-01-01T00:00:00+14:00", b"9999-12-31T23:59:59-14:00", b"2026-01-31", b"07:32:00", b"2026-01-31T09:00:00",
    b'["1 g", "2 g"]', b'"plain"', b'"core"', b'"../../x"', b'"/etc/passwd"', b'"a\\u0000b"', b"1_000", b"+1",
    b"1e308",
)  # fmt: skip
"""Values that stand where another was meant."""

Mutation = Callable[[random.Random, bytes, Sequence[bytes]], bytes]


def _place(chance: random.Random, data: bytes) -> int:
    return chance.randint(0, len(data))


def _flip(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    changed = bytearray(data or b"\0")
    changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def _insert(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    place = _place(chance, data)
    return data[:place] + chance.choice(NASTY) + data[place:]


def _cut_out(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    place = _place(chance, data)
    return data[:place] + data[place + chance.choice((1, 1, 2, 5, 20, 200)) :]


def _cut_off(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    return data[: _place(chance, data)]


def _overwrite(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    place = _place(chance, data)
    noise = chance.randbytes(chance.choice((1, 4, 64)))
    return data[:place] + noise + data[place + len(noise) :]


def _splice(chance: random.Random, data: bytes, others: Sequence[bytes]) -> bytes:
    return data[: _place(chance, data)] + (other := chance.choice(others))[_place(chance, other) :]


def _lines(chance: random.Random, data: bytes, others: Sequence[bytes]) -> bytes:
    lines = data.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    match chance.randrange(4):
        case 0:
            lines[one], lines[other] = lines[other], lines[one]
        case 1:
            lines.insert(one, lines[other])
        case 2:
            lines.insert(one, chance.choice(chance.choice(others).split(b"\n")))
        case _:
            del lines[one]
    return b"\n".join(lines)


def _value(chance: random.Random, data: bytes, _: Sequence[bytes]) -> bytes:
    lines = data.split(b"\n")
    with_value = [place for place, line in enumerate(lines) if b" = " in line] or [0]
    place = chance.choice(with_value)
    key = lines[place].partition(b" = ")[0]
    lines[place] = key + b" = " + chance.choice(VALUES)
    return b"\n".join(lines)


MUTATIONS: tuple[Mutation, ...] = (
    _flip, _insert, _cut_out, _cut_off, _overwrite, _splice, _lines, _lines, _value, _value, _value, _value,
)  # fmt: skip
"""Each as often as it stands here: values most, as they come past the parser to what reads them."""


def mutated(chance: random.Random, data: bytes, others: Sequence[bytes]) -> bytes:
    """The data with one to three things wrong with it."""
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        data = chance.choice(MUTATIONS)(chance, data, others)
    return data
