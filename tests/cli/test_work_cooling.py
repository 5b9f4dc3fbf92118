"""``work cooling`` gives what the physics gives."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.cooling import SOFT_PLASTISOL, Section, Substance, cool_core, cool_shell, cool_solid
from tests.cli.work_runs import FIRM, data, lines, run

SHOT = '--body "10 mm" --gate "4 mm" --shot "330 degF" --mould-temp "45 degC"'
START = {"shot_c": (330 - 32) / 1.8, "mould_c": 45.0}


def test_one_solid_section(capsys: pytest.CaptureFixture[str]) -> None:
    found = data(f'cooling {SHOT} --tail "3 mm"', capsys)
    expected = cool_solid(Section(body_mm=10.0, tail_mm=3.0, gate_mm=4.0), SOFT_PLASTISOL, **START)
    assert found == {
        "hold_s": pytest.approx(expected.hold_s),
        "body_s": pytest.approx(expected.body_s),
        "tail_s": pytest.approx(expected.tail_s),
        "set_s": pytest.approx(max(expected.body_s, expected.tail_s or 0.0)),
        "mean_c": pytest.approx(expected.mean_c),
    }


def test_no_tail_is_none(capsys: pytest.CaptureFixture[str]) -> None:
    assert data(f"cooling {SHOT}", capsys)["tail_s"] is None


def test_a_shell_round_a_brass_rod(capsys: pytest.CaptureFixture[str]) -> None:
    brass = '--rod "3.2 mm" --rod-k "110 W/m/K" --rod-rho "8530 kg/m3" --rod-c "380 J/kg/K"'
    metal = Substance(k_w_mk=110.0, rho_kg_m3=8530.0, c_j_kgk=380.0)
    expected = cool_shell(Section(body_mm=10.0, rod_mm=3.2, rod=metal, gate_mm=4.0), SOFT_PLASTISOL, **START)
    assert data(f"cooling {SHOT} {brass}", capsys)["body_s"] == pytest.approx(expected.body_s)


def test_a_core_in_its_shell(capsys: pytest.CaptureFixture[str]) -> None:
    expected = cool_core(Section(body_mm=10.0, rod_mm=3.2, gate_mm=4.0), SOFT_PLASTISOL, shell_c=30.0, **START)
    found = data(f'cooling {SHOT} --rod "3.2 mm" --core --shell-temp "30 degC"', capsys)
    assert found["body_s"] == pytest.approx(expected.body_s)
    assert found["mean_c"] == pytest.approx(expected.mean_c)


def test_properties_thresholds_and_the_wall_may_be_said(capsys: pytest.CaptureFixture[str]) -> None:
    said = (
        '--k "0.2 W/m/K" --rho "1.1 g/ml" --c "1500 J/kg/K" --open "70 degC" --gel "85 degC" '
        '--wall-conductance "400 W/m2/K"'
    )
    expected = cool_solid(
        Section(body_mm=10.0, gate_mm=4.0),
        Substance(k_w_mk=0.2, rho_kg_m3=1100.0, c_j_kgk=1500.0),
        **START,
        open_c=70.0,
        gel_c=85.0,
        wall_conductance_w_m2k=400.0,
    )
    found = data(f"cooling {SHOT} {said}", capsys)
    assert found["hold_s"] == pytest.approx(expected.hold_s)
    assert found["body_s"] == pytest.approx(expected.body_s)


def test_a_profile_gives_what_is_not_said(capsys: pytest.CaptureFixture[str]) -> None:
    section = Section(body_mm=10.0, gate_mm=4.0)
    found = data(f"cooling {SHOT} --plastic firm", capsys)
    assert found["body_s"] == pytest.approx(cool_solid(section, FIRM, **START).body_s)
    said = Substance(k_w_mk=FIRM.k_w_mk, rho_kg_m3=FIRM.rho_kg_m3, c_j_kgk=2000.0)
    found = data(f'cooling {SHOT} --plastic firm --c "2000 J/kg/K"', capsys)
    assert found["body_s"] == pytest.approx(cool_solid(section, said, **START).body_s)


def test_an_unknown_profile_is_refused() -> None:
    with pytest.raises(BenchError, match='no plastic is called "fog"'):
        run(f"cooling {SHOT} --plastic fog")


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    printed = lines(f'cooling {SHOT} --tail "3 mm"', capsys)
    assert printed[0].startswith("Hold the plunger for 18 s")
    assert "tail" in printed[1]
    assert "estimate" in printed[-1]


@pytest.mark.parametrize(
    ("flags", "sentence"),
    [
        ("--core", "--core needs --rod"),
        ('--core --rod "3 mm"', "and --shell-temp"),
        ('--shell-temp "30 degC"', "add --core"),
        ('--rod "12 mm"', "leaves no wall"),
        ('--open "40 degC"', "a mould at 45 °C never lets the plastic fall to 40 °C"),
    ],
)
def test_what_does_not_fit_together_is_refused(flags: str, sentence: str) -> None:
    with pytest.raises(BenchError, match=sentence):
        run(f"cooling {SHOT} {flags}")
