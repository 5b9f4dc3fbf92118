"""``work fill`` gives what the physics gives."""

from __future__ import annotations

import pytest

from bench.errors import BenchError
from bench.physics.filling import will_fill
from bench.physics.substance import SOFT_PLASTISOL, Substance
from tests.cli.work_runs import data, lines, run

FILL = 'fill --passage "1.5 mm" --fill-time "3 s" --shot "165 degC" --mould-temp "40 degC"'


def test_skin_opening_contact_and_the_coldest_mould(capsys: pytest.CaptureFixture[str]) -> None:
    expected = will_fill(SOFT_PLASTISOL, passage_mm=1.5, fill_s=3.0, shot_c=165.0, mould_c=40.0)
    assert data(FILL, capsys) == {
        "skin_mm": pytest.approx(expected.skin_mm),
        "open_fraction": pytest.approx(expected.open_fraction),
        "contact_c": pytest.approx(expected.contact_c),
        "coldest_mould_c": pytest.approx(expected.coldest_mould_c),
    }


def test_gel_point_and_plastic_may_be_said(capsys: pytest.CaptureFixture[str]) -> None:
    plastic = Substance(k_w_mk=0.2, rho_kg_m3=1100.0, c_j_kgk=1500.0)
    expected = will_fill(plastic, passage_mm=1.5, fill_s=3.0, shot_c=165.0, mould_c=40.0, gel_c=85.0)
    flags = '--gel "85 degC" --k "0.2 W/m/K" --rho "1.1 g/ml" --c "1500 J/kg/K"'
    assert data(f"{FILL} {flags}", capsys)["skin_mm"] == pytest.approx(expected.skin_mm)


def test_words_for_people(capsys: pytest.CaptureFixture[str]) -> None:
    assert "That should fill." in lines(FILL, capsys)
    short = lines(FILL.replace('"3 s"', '"12 s"'), capsys)
    assert any("expect short tails" in each for each in short)
    wide = lines(FILL.replace('"1.5 mm"', '"8 mm"'), capsys)
    assert "Any mould will do: none is too cold for this passage." in wide


def test_a_mould_below_freezing_is_not_named(capsys: pytest.CaptureFixture[str]) -> None:
    passage = FILL.replace('"1.5 mm"', '"3 mm"')
    assert -273.15 < data(passage, capsys)["coldest_mould_c"] < 0
    assert "Any mould will do: none is too cold for this passage." in lines(passage, capsys)
    assert any(each.startswith("Coldest mould") for each in lines(FILL.replace('"3 s"', '"6 s"'), capsys))


def test_gelled_plastic_is_refused() -> None:
    with pytest.raises(BenchError, match="does not flow"):
        run(FILL.replace("165 degC", "70 degC"))
