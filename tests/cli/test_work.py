"""What all calculations of ``work`` share: flags with units, one sentence for what is wrong."""

from __future__ import annotations

import subprocess
import sys

import pytest

from bench.errors import BenchError
from tests.cli.work_runs import run

CUP = '--until "160 degC" --room "22 degC" --diameter "80 mm" --height "40 mm"'


def test_a_bare_number_is_refused_with_the_fix() -> None:
    with pytest.raises(BenchError) as caught:
        run(f'cup --mass 200 --start "175 degC" {CUP}')
    sentence = '--mass: found the bare number "200", wanted a mass such as "12 g", with its unit'
    assert str(caught.value) == sentence


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(BenchError) as caught:
        run(f'cup --mass "200 mm" --start "175 degC" {CUP}')
    assert str(caught.value) == '--mass: found "200 mm", a length, wanted a mass such as "12 g"'


def test_figures_beyond_all_numbers_are_the_users_to_put_right() -> None:
    with pytest.raises(BenchError, match="too large or too small to reckon with"):
        run(f'cup --mass "200 g" --vessel-mass "1e300 g" --vessel-c "1e300 J/kg/K" --start "175 degC" {CUP}')


@pytest.mark.parametrize("line", ["", "cup", "cup --mass", f'cup --mas "200 g" --start "175 degC" {CUP}'])
def test_wrong_usage_ends_with_two(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        run(line)
    assert caught.value.code == 2
    assert "usage" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["cooling", "cup", "melt", "mould", "fill", "touch", "heat-spent", "air"])
def test_every_calculation_has_help(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        run(f"{name} --help")
    assert caught.value.code == 0
    assert "--json" in capsys.readouterr().out


def test_help_waits_for_nothing_heavy() -> None:
    script = (
        "import sys, argparse; from bench.cli.work import add_work_parser; "
        "add_work_parser(argparse.ArgumentParser().add_subparsers(), plastic_named=lambda name: None); "
        "print([name for name in ('pint', 'textual', 'numpy', 'cattrs') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
