"""Runs ``pourbench work`` in this process."""

from __future__ import annotations

import argparse
import json
import shlex
from typing import Any

import pytest

from bench.cli.work import add_work_parser
from bench.model.plastic import Plastic

FIRM = Plastic(
    name="firm",
    title="Firm",
    density_kg_m3=1070.0,
    conductivity_w_mk=0.17,
    heat_capacity_j_kgk=1700.0,
    expansion_per_k=6e-4,
    band_c=(165.0, 175.0),
    scorch_c=185.0,
    gel_c=80.0,
    open_c=65.0,
    bond_c=90.0,
    cure_s=172800.0,
)


def run(line: str) -> int:
    """The exit code of ``work`` with this command line."""
    parser = argparse.ArgumentParser()
    add_work_parser(parser.add_subparsers(required=True), plastic_named=lambda _name, _args: FIRM)
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
