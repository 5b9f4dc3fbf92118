"""What is told of a session besides its steps."""

from __future__ import annotations

from bench.model.recipe import Build
from bench.session import drive
from bench.session.corrections import Corrected
from bench.session.events import (
    FileHealed,
    Noted,
    SkipReason,
    StepSkipped,
    StopReason,
    StopRequested,
    VerdictGiven,
    WentBack,
)
from bench.session.story import story
from bench.session.verdicts import Subject, Verdict
from bench.session.view import view
from tests.session.bench_sessions import maker
from tests.session.test_by_itself import by_itself
from tests.session.test_overheated import acknowledged, scorched

HEALED = "another program changed the session's file, which was made whole again"


def test_whatever_may_explain_a_bad_bait_is_told_in_order() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.read(340)
    hands.read(201)
    acknowledged = drive.acknowledge(hands.session, hands.now())
    assert acknowledged is not None
    hands.happen(acknowledged)
    hands.happen(drive.hold_or_resume(hands.session, hands.now()))
    hands.happen(drive.hold_or_resume(hands.session, hands.now()))
    hands.happen(StepSkipped(at=hands.now(), step="r1.heat.body", reason=SkipReason.NO_TIME))
    hands.happen(WentBack(at=hands.now()))
    hands.happen(Noted(at=hands.now(), text="new jug"))
    hands.happen(FileHealed(at=hands.now()))
    hands.happen(FileHealed(at=hands.now(), kept_in="a.toml.torn"))
    hands.happen(StopRequested(at=hands.now(), reason=StopReason.OUT_OF_TIME))
    told = [(each.words, each.temp_c) for each in story(hands.session.job, hands.events)]
    assert told[-10:] == [
        ("the body cup was read: asked again", 340),
        ("the body cup was read: over the scorch limit", 201),
        ("held at: Heat the body cup", None),
        ("went on", None),
        ("skipped Heat the body cup: no time for it", None),
        ("went back from: Shot", None),
        ("note: new jug", None),
        (HEALED, None),
        (f"{HEALED}; what it wrote is kept in a.toml.torn", None),
        ("stopped at Heat the body cup: out of time", None),
    ]


def test_a_quiet_session_tells_its_readings_and_bursts_and_nothing_else() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.shot.shot")
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert told[:2] == ["the mould was read", "the body cup went on the heat for 77 s"]
    assert told[-1] == "the body cup was read"
    assert all(words.startswith("the body cup went back on the heat for ") for words in told[2:-1])
    assert len(told) > 3


def test_a_burst_that_runs_by_itself_is_told() -> None:
    hands = by_itself()
    seconds = view(hands.session, hands.now()).set_burst_s
    hands.press()
    hands.happen(WentBack(at=hands.now()))
    hands.press()
    assert [each.words for each in story(hands.session.job, hands.events)][-3:] == [
        f"the core cup went on the heat for {seconds:.0f} s",
        "went back from: Shells back in",
        "went on again from: Core cup on the heat",
    ]


def test_what_the_maker_thinks_of_a_correction_is_told() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    for _ in range(2):
        hands.happen(drive.refuse_or_restore(hands.session, Corrected.HEATER, hands.now()))
    assert [each.words for each in story(hands.session.job, hands.events)][-2:] == [
        "not used any more: what was learnt of the heater",
        "used again: what was learnt of the heater",
    ]


def test_what_was_taken_as_it_is_is_told() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.happen(drive.insist(hands.session, hands.now()))
    assert hands.session.step.id == "r1.shot.shot"
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert told[-1] == "the body cup was taken as it is though not read"


def test_a_cup_that_stays_is_not_said_to_be_thrown_away() -> None:
    hands = acknowledged(scorched())
    hands.happen(drive.insist(hands.session, hands.now()))
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert told[-1] == "the body cup was set aside where it stands: it was over its scorch limit"


def test_what_was_gone_on_from_or_ended_early_is_told() -> None:
    hands = maker(Build.PLAIN, warm_up_shots=0)
    hands.walk_to("r1.heat.body")
    hands.press()
    hands.walk_to("r1.shot.set")
    hands.press()
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert "gone on from Heat the body cup: not read since its last burst, nor in its band" in told
    assert told[-1].startswith("Let it set was ended ")
    assert told[-1].endswith(" early")


def test_a_look_passed_over_is_told_as_such() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.look-at-shells")
    hands.happen(VerdictGiven(at=hands.now(), round=1, subject=Subject.SHELLS, verdict=Verdict.RIGHT))
    hands.walk_to("r1.look")
    hands.finish_step()
    told = [each.words for each in story(hands.session.job, hands.events)]
    assert "round 1, shells: no verdict" not in told
    assert "round 1, baits: no verdict" in told


def test_leaving_is_told_with_its_step() -> None:
    hands = maker(count=4)
    hands.walk_to("r1.shell.set")
    left = drive.left(hands.session, hands.now())
    assert left is not None
    hands.happen(left)
    assert [each.words for each in story(hands.session.job, hands.events)][-1] == "left at: Let it set"
