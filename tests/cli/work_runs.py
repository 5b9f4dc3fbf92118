"""Runs ``pourbench work`` in this process."""

from __future__ import annotations

import argparse
import json
import shlex
from typing import Any

import pytest

from bench.cli.work import add_work_parser
from bench.cli.work_flags import ShelfPlastic
from bench.errors import BenchError
from bench.physics.substance import Substance

FIRM = Substance(k_w_mk=0.17, rho_kg_m3=1070.0, c_j_kgk=1700.0)


def named(name: str) -> ShelfPlastic:
    """A shelf with one plastic on it."""
    if name != "firm":
        raise BenchError(f'no plastic is called "{name}"')
    return ShelfPlastic(substance=FIRM, scorch_c=185.0)


def run(line: str) -> int:
    """The exit code of ``work`` with this command line."""
    parser = argparse.ArgumentParser()
    add_work_parser(parser.add_subparsers(required=True), plastic_named=named)
    args = parser.parse_args(["work", *shlex.split(line)])
    code: int = args.run(args)
    return code


def lines(line: str, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """What it prints for people."""
    assert run(line) == 0
    return capsys.readouterr().out.splitlines()


def data(line: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """The one object it prints for programs."""
    printed = lines(f"{line} --json", capsys)
    assert len(printed) == 1
    found = json.loads(printed[0])
    assert isinstance(found, dict)
    return found
