"""Verdicts and their digits."""

from __future__ import annotations

from bench.model.recipe import Build
from bench.session.verdicts import Subject, Verdict, options


def test_a_verdict_has_one_digit_wherever_it_is_on_offer() -> None:
    digits: dict[Verdict, set[int]] = {}
    for build in Build:
        for subject in Subject:
            for digit, verdict in enumerate(options(subject, build), start=1):
                digits.setdefault(verdict, set()).add(digit)
    assert {verdict: where for verdict, where in digits.items() if len(where) > 1} == {}
    assert digits[Verdict.RIGHT] == {1}
