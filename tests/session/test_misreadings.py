"""What a doubted reading was probably meant to be, and how the maker accepts it."""

from __future__ import annotations

import pytest

from bench.model.recipe import Build, Part
from bench.model.settings import UnitSystem
from bench.physics.misreading import Slip
from bench.session import drive
from bench.session.events import CupRead, MouldRead
from bench.session.view import view
from tests.session.bench_sessions import Maker, maker

US = UnitSystem.US


def heating(read_c: float) -> Maker:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.clock.advance(150)
    hands.read(read_c)
    return hands


def test_a_fahrenheit_figure_in_a_metric_bench() -> None:
    """NIST SP 811, appendix B.8: t/degC = (t/degF - 32)/1.8, so 340 degF is 171.1 degC."""
    hands = heating(340.0)
    doubt = view(hands.session, hands.now()).doubt
    assert doubt is not None
    assert doubt.suggestion is not None
    assert doubt.suggestion.value_c == pytest.approx(171.1, abs=0.05)
    assert doubt.suggestion.why is Slip.FAHRENHEIT


def test_accepting_it_reads_it_and_it_is_believed() -> None:
    hands = heating(340.0)
    hands.clock.advance(3)
    accepted = drive.accept_suggestion(hands.session, hands.now())
    assert isinstance(accepted, CupRead)
    hands.happen(accepted)
    assert hands.session.doubted is None
    assert [round(each.temp_c, 1) for each in hands.session.cup_readings] == [171.1]
    assert hands.tick(), "and it lies in the band"


def test_it_is_never_used_by_itself() -> None:
    hands = heating(340.0)
    hands.clock.advance(600)
    assert not hands.tick()
    assert hands.session.cup_readings == ()
    assert hands.session.cups[Part.BODY].measured is None


def test_a_celsius_figure_in_a_fahrenheit_bench() -> None:
    """170 in a field for degF is 76.7 degC: a standing cup at about 165 is not that."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.read((170 - 32) / 1.8)
    meant = view(hands.session, hands.now(), US).doubt
    assert meant is not None
    assert meant.suggestion is not None
    assert meant.suggestion.value_c == pytest.approx(170.0)
    assert meant.suggestion.why is Slip.CELSIUS
    accepted = drive.accept_suggestion(hands.session, hands.now(), US)
    assert isinstance(accepted, CupRead)
    assert accepted.temp_c == pytest.approx(170.0)


def test_a_missing_digit_in_a_fahrenheit_bench() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.read((34 - 32) / 1.8)
    accepted = drive.accept_suggestion(hands.session, hands.now(), US)
    assert accepted is not None
    assert accepted.temp_c == pytest.approx((340 - 32) / 1.8)


def test_a_mould_in_fahrenheit() -> None:
    hands = maker(Build.PLAIN)
    hands.walk_to("warm-mould")
    hands.clock.advance(120)
    hands.read(113.0)
    accepted = drive.accept_suggestion(hands.session, hands.now())
    assert isinstance(accepted, MouldRead)
    assert accepted.temp_c == pytest.approx(45.0)
    hands.happen(accepted)
    assert hands.session.doubted is None


def test_where_there_is_no_guess_there_is_nothing_to_accept() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    hands.read(120.0)
    doubt = view(hands.session, hands.now()).doubt
    assert doubt is not None
    assert doubt.suggestion is None
    assert drive.accept_suggestion(hands.session, hands.now()) is None


def test_without_a_doubt_there_is_none() -> None:
    hands = heating(165.0)
    assert view(hands.session, hands.now()).doubt is None
    assert drive.accept_suggestion(hands.session, hands.now()) is None


def test_nothing_is_offered_for_a_mould_that_is_far_from_what_is_expected() -> None:
    """170 degF are 76.7 degC, which a mould at about 46 degC is not either; 108 degF are 42.2 degC."""
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    assert 40 < view(hands.session, hands.now()).moulds[0].temp_c < 50
    offered = []
    for typed in (170.0, 108.0):
        doubting = hands.session.after(MouldRead(at=hands.now(), temp_c=typed))
        doubt = view(doubting, hands.now()).doubt
        assert doubt is not None
        offered.append(None if doubt.suggestion is None else round(doubt.suggestion.value_c, 1))
    assert offered == [None, 42.2]
