"""A calibration in words: the desk becomes the picture that is drawn.

The picture is the pour screen's own: words, figures, cautions and the alarm stand where they do in a session.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bench.model.caution import Caution
from bench.session.calibration import At
from bench.session.measured import Measured
from bench.session.stamp import Stamp
from bench.tui import present
from bench.tui.calibrating import EVEN_SO, Desk, is_past_first_burst
from bench.tui.pour.hints import Hint
from bench.tui.pour.keys import Keyboard, Press
from bench.tui.pour.middle import Middle
from bench.tui.pour.picture import Picture, Sheet, Words
from bench.tui.text import clean
from bench.tui.widgets.lines import Tone


def picture(desk: Desk, now: Stamp, keyboard: Keyboard) -> Picture:
    """The desk at that moment, in words."""
    forward, back = keyboard.shown(Press.FORWARD), keyboard.shown(Press.BACK)
    scene = _scene(desk, now, forward, back)
    rig = desk.calibration.rig
    return Picture(
        heading=f"Heater power · {clean(rig.station.title)} · {clean(rig.plastic.title)}",
        corner=present.time_of_day(now.wall),
        title=scene.title,
        do=scene.do,
        middle=scene.middle,
        then=scene.then,
        notices=tuple(_notices(desk, now, keyboard)),
        cautions=_in_sight(desk),
        sheet=_sheet(desk, keyboard),
        hints=(*scene.hints, Hint(key="Esc", does="leave")),
    )


def _in_sight(desk: Desk) -> tuple[str, ...]:
    """The air and hot plastic on skin as one, so that neither gives way to the other where rows are few."""
    words = [clean(caution.words) for caution in desk.in_sight]
    return (" ".join(words[:2]), *words[2:])


@dataclass(frozen=True, kw_only=True, slots=True)
class _Scene:
    title: str
    do: str
    middle: Middle
    then: str
    hints: tuple[Hint, ...]


def _scene(desk: Desk, now: Stamp, forward: str, back: str) -> _Scene:
    goes_back = Hint(key=back, does="back")
    takes = Hint(key="Enter", does="take the figure")
    match desk.at:
        case At.CAUTIONS | At.ALARM:
            return _Scene(title="", do="", middle=Middle(large=""), then="", hints=())
        case At.WEIGH:
            most = present.mass(desk.calibration.rig.most_g, desk.units)
            return _Scene(
                title="WEIGH",
                do="Weigh into the cold cup what you usually heat. Type it, then Enter.",
                middle=_field(desk, f"{present.mass_sign(desk.units)} of plastic without the cup, {most} at most"),
                then="read the cold cup",
                hints=(takes,),
            )
        case At.START:
            return _Scene(
                title="READ THE START",
                do="Stir, then read the cold cup. Type it, then Enter.",
                middle=_field(desk, f"{present.degree_sign(desk.units)} before the heat"),
                then="heat, with the clock",
                hints=(takes, goes_back),
            )
        case At.READY:
            burst = present.countdown(desk.calibration.first_burst_s())
            return _Scene(
                title="READY TO HEAT",
                do=f"Cup on the heat. Press {forward} at the moment the heat goes on.",
                middle=Middle(
                    large=burst,
                    label="to heat: one first burst by the profile's power, and no more",
                    tone=Tone.COUNT,
                ),
                then="heat off, stir, read",
                hints=(Hint(key=forward, does="start the clock"), goes_back),
            )
        case At.HEATING:
            return _heating(desk, now, forward, back)
        case At.END:
            gone = present.lasted(desk.calibration.seconds or 0.0)
            return _Scene(
                title="READ THE END",
                do="Heat off. Stir well, then read the cup. Type it, then Enter.",
                middle=_field(desk, f"{present.degree_sign(desk.units)} after {gone} on the heat"),
                then="the power",
                hints=(takes, Hint(key=back, does="begin anew")),
            )
        case At.DONE:
            return _done(desk, back)


def _field(desk: Desk, label: str) -> Middle:
    return Middle(large=f"{desk.typed}_", tone=Tone.ENTRY, label=label, leads=True)


def _heating(desk: Desk, now: Stamp, forward: str, back: str) -> _Scene:
    late = is_past_first_burst(desk, now)
    burst = present.countdown(desk.calibration.first_burst_s())
    return _Scene(
        title="HEATING",
        do=f"Stay with it. Press {forward} at the moment the heat goes off.",
        middle=Middle(
            large=present.gone(desk.calibration.heating_s(now)),
            tone=Tone.LATE if late else Tone.COUNT,
            label=f"on the heat; stop at {burst}",
        ),
        then="stir, read",
        hints=(Hint(key=forward, does="stop the clock"), Hint(key=back, does="begin anew")),
    )


def _done(desk: Desk, back: str) -> _Scene:
    found = desk.found
    assert found is not None, "a calibration is done with a run"
    spread = present.power(found.power.spread_w)
    profile = present.power(found.profile_w)
    even_so = Hint(key=EVEN_SO.upper(), does="save it even so")
    save = even_so if desk.doubted else Hint(key="S", does="save to your profile")
    saves = () if desk.saved else (save,)
    says = "now says" if desk.saved else "says"
    return _Scene(
        title="SAVED" if desk.saved else "THE POWER",
        do="The cup stays hot: heat off, fan on.",
        middle=Middle(
            large=present.power(found.power.power_w),
            label=f"from the room into the band, give or take {spread}; the profile {says} {profile}",
            details=tuple(_details(desk, found)),
            leads=True,
        ),
        then="save it" if not desk.saved else "back to the bench, or one more run",
        hints=(
            *saves,
            Hint(key="R", does="run again"),
            Hint(key=back, does="read the end again"),
        ),
    )


def _details(desk: Desk, found: Measured) -> Iterator[str]:
    before, after = present.left(found.before_s), present.left(found.after_s)
    mass = present.mass(found.runs[-1].cup.mass_g, desk.units)
    by_profile = "" if desk.saved else f", {before} by the profile"
    yield f"{mass} from the room into the band: {after} on the heat{by_profile}."
    for number, run in enumerate(found.runs[-3:], start=max(1, len(found.runs) - 2)):
        rise = f"{present.degrees(run.start_c, desk.units)} to {present.temperature(run.end_c, desk.units)}"
        yield (
            f"Run {number}: {present.mass(run.cup.mass_g, desk.units)}, {rise} in "
            f"{present.lasted(run.seconds)}, {present.power(run.kept_w)} on the way."
        )
    yield from (note for note in found.notes if note != found.doubt or not desk.doubted)


def _notices(desk: Desk, now: Stamp, keyboard: Keyboard) -> Iterator[str]:
    if desk.at is At.HEATING and desk.calibration.heating_s(now) >= desk.calibration.band_s():
        yield "STOP: by the profile's power this cup is in its band. Heat off, stir, read."
    elif is_past_first_burst(desk, now):
        yield "That is the first burst. Heat off now, stir, read."
    if desk.doubted and desk.found is not None:
        yield f"{desk.found.doubt} {EVEN_SO.upper()} saves it even so."
    yield from (line for line in (desk.line, desk.refusal) if line)
    if desk.meant is not None and desk.at in (At.START, At.END):
        value = present.temperature(desk.meant.value_c, desk.units)
        yield f"Was it {value}, {desk.meant.why.value}? {keyboard.shown(Press.YES)} takes it."
    if desk.asked_c is not None:
        read = present.temperature(desk.asked_c, desk.units)
        yield f"If the cup does read {read}, it scorches: heat off, air the room, then press Enter."


def _sheet(desk: Desk, keyboard: Keyboard) -> Sheet | None:
    key = keyboard.shown(Press.ACKNOWLEDGE)
    calibration = desk.calibration
    if desk.at is At.ALARM:
        read = present.temperature(calibration.over_c or 0.0, desk.units)
        scorch = present.temperature(calibration.rig.plastic.scorch_c, desk.units)
        return Sheet(
            heading="STOP",
            large="TOO HOT",
            says=(f"The cup reads {read}. Its plastic scorches above {scorch}. This reading is not taken.",),
            cautions=_words(desk.alarm),
            foot=f"{key}  I have read this",
            is_alarm=True,
        )
    if desk.at is At.CAUTIONS:
        left = present.counted(len(calibration.cards) - calibration.read, "card")
        group = clean(calibration.card[0].group)
        return Sheet(
            heading=f"READ THIS CARD: {group}",
            large=group.upper(),
            says=(f"{left} to read before any heat.",),
            cautions=_words(calibration.card),
            foot=f"{key}  I have read this card",
        )
    return None


def _words(cautions: tuple[Caution, ...]) -> tuple[Words, ...]:
    return tuple(
        Words(words=clean(caution.words), more=clean(caution.more, limit=400), source=clean(caution.source))
        for caution in cautions
    )
