"""What a believed reading and a verdict change: an anchor, what is known of the bench, the bursts to come."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bench.model.recipe import Part
from bench.model.step_kind import StepKind
from bench.physics.fitting import READING_NOISE_C
from bench.physics.mould import Block
from bench.physics.set_scale import Firmness, Opening
from bench.plan.records import Shot
from bench.session.bodies import EMPTY_ML, cup_of, first_cup, held_of_melt_ml, profile_fed_w
from bench.session.corrections import MOST_MARKS, CupMark, Known, MouldMark, correct
from bench.session.events import CupRead, MouldRead
from bench.session.job import Job
from bench.session.rises import FALLEN_K, teaches
from bench.session.session import Session, Visit, Warmth
from bench.session.stamp import Stamp, span
from bench.session.verdicts import Given, Subject, Verdict
from bench.session.warmth import anchored, spread_of, with_bursts, with_cup, with_mould
from bench.session.weighing import Weighed, weighed


def cup_read(session: Session, read: CupRead, *, alone: bool) -> Session:
    """The part's cup was read. Heating goes on from there; over the band nobody heats on.

    ``alone`` says that the reading was given twice, far from the estimate: then the estimate counts for nothing.
    """
    session = anchored(session, read.at)
    known = session.cups.get(read.part, Warmth(temp_c=read.temp_c, at=read.at, spread_k=READING_NOISE_C))
    is_scorched = read.temp_c > session.job.plastic.scorch_c
    follows = _follows(known, read, alone=alone) and teaches(session, read)
    if not is_scorched:
        session = learnt(_with_cup_mark(session, read, known, follows=follows))
    # Nobody knows what brought a cup over its scorch limit: it teaches nothing, nor does what comes after it.
    measured = replace(as_read(known, read, alone=alone), follows=not is_scorched)
    measured = replace(measured, by_itself=measured.by_itself and not is_scorched)
    if read.temp_c > session.job.plastic.band_c[1]:
        measured = replace(measured, target_c=None)
    elif _is_to_heat(session, read.part, read.temp_c, measured):
        measured = replace(measured, target_c=sum(session.job.plastic.band_c) / 2)
    return with_cup(session, read.part, with_bursts(session, read.part, measured))


def heated_on(session: Session, part: Part, at: Stamp) -> Session:
    """The part's cup is on the heat again where the present step has it there and it is under its band."""
    session = anchored(session, at)
    known = session.cups.get(part)
    if known is None or not _is_to_heat(session, part, known.temp_c, known):
        return session
    known = replace(known, target_c=sum(session.job.plastic.band_c) / 2)
    return with_cup(session, part, with_bursts(session, part, known))


def _is_to_heat(session: Session, part: Part, temp_c: float, known: Warmth) -> bool:
    """Whether the present step has that cup on the heat: one that was over its band and fell under it is heated
    again, never one that was over its scorch limit, nor one that the maker has not said to be on."""
    step = session.step
    return (
        step.kind is StepKind.HEAT
        and step.parts[0] is part
        and known.melt == step.melt
        and temp_c < session.job.plastic.band_c[0]
        and not session.is_scorched(part, known.melt)
        and not session.waits_to_begin
    )


def mould_read(session: Session, read: MouldRead, *, alone: bool) -> Session:
    """That mould was read."""
    session = anchored(session, read.at)
    known = session.moulds[read.mould]
    follows = _follows(known, read, alone=alone)
    mark = MouldMark(number=read.mould, temp_c=read.temp_c, gone_s=known.gone_s, follows=follows)
    session = learnt(replace(session, mould_marks=(*session.mould_marks, mark)[-MOST_MARKS:]))
    measured = as_read(known, read, alone=alone)
    # On its plate it does not simply cool from here.
    return with_mould(session, read.mould, replace(measured, follows=known.target_c is None))


def learnt(session: Session) -> Session:
    """The session with its corrections drawn anew from all that it knows. Anchors stay as they are."""
    return replace(
        session,
        corrections=correct(
            _known(session.job),
            cups=session.cup_marks,
            moulds=session.mould_marks,
            openings=tuple(_openings(session)),
            refused=session.refused,
        ),
    )


def relearnt(session: Session, at: Stamp) -> Session:
    """The same, with what is reckoned up to now left as it is."""
    return learnt(anchored(session, at))


def as_read(known: Warmth, read: CupRead | MouldRead, *, alone: bool) -> Warmth:
    """What is known of a cup or a mould that was read; ``alone`` leaves the estimate out."""
    estimate = Weighed(known.temp_c, spread_of(known))
    now = Weighed(read.temp_c, READING_NOISE_C) if alone else weighed(estimate, read.temp_c)
    return replace(
        known,
        temp_c=now.temp_c,
        spread_k=now.spread_k,
        drift_k=0.0,
        rise_k=0.0,
        measured=read.at,
        read_c=read.temp_c,
        read_off_k=read.temp_c - now.temp_c,
        gone_s=0.0,
        on_s=0.0,
        stood_k=0.0,
        follows=True,
    )


def _follows(known: Warmth, read: CupRead | MouldRead, *, alone: bool) -> bool:
    """Whether nothing else happened since the last mark: what got warmer off the heat was heated after all, and
    what is far from its estimate was changed by something that nobody told."""
    if alone or not known.follows:
        return False
    was_left_alone = known.on_s == 0
    return not (was_left_alone and known.read_c is not None and read.temp_c - known.read_c > FALLEN_K)


def _with_cup_mark(session: Session, read: CupRead, known: Warmth, *, follows: bool) -> Session:
    """What an empty cup cools like says nothing of a full one."""
    if held_of_melt_ml(session, read.part, known.melt) < EMPTY_ML:
        return session
    mark = CupMark(
        part=read.part,
        temp_c=read.temp_c,
        cup=cup_of(session, read.part, known.melt),
        gone_s=known.gone_s,
        on_s=known.on_s,
        stood_k=known.stood_k,
        follows=follows,
    )
    return replace(session, cup_marks=(*session.cup_marks, mark)[-MOST_MARKS:])


def _known(job: Job) -> Known:
    mould = job.mould
    return Known(
        room_c=job.station.room.temperature_c,
        cup=first_cup(job),
        block=Block(
            mass_g=mould.mass_g,
            c_j_kgk=mould.heat_capacity_j_kgk,
            area_m2=mould.area_m2,
            loss_w_m2k=mould.loss_w_m2k,
        ),
        absorbed_w=job.station.heater.absorbed_w,
        fed_w=profile_fed_w(job),
        target_c=job.plastic.shot_c,
    )


_FIRMNESS = {Verdict.SOFT: Firmness.SOFT, Verdict.SOONER: Firmness.SOONER}


def _openings(session: Session) -> Iterator[Opening]:
    """What the maker found on opening; of one round's shells or baits the last word counts."""
    found = {(given.round, given.subject): given for given in session.verdicts if given.verdict in _FIRMNESS}
    for given in found.values():
        setting = _setting(session, given)
        shot = None if setting is None else session.ended(session.job.script[setting.index].since)
        if setting is not None and setting.left is not None and shot is not None:
            yield Opening(
                opened_s=span(shot, setting.left).seconds,
                set_s=session.job.script[setting.index].length_s,
                found=_FIRMNESS[given.verdict],
            )


def _setting(session: Session, given: Given) -> Visit | None:
    """The stay in the mould that such a verdict judges."""
    wanted = (Shot.SHELL,) if given.subject is Subject.SHELLS else (Shot.CORE, Shot.WHOLE)
    for visit in reversed(session.visits):
        step = session.job.script[visit.index]
        if step.kind is StepKind.SET and step.round == given.round and step.shot in wanted:
            return visit
    return None
