"""The words of the steps: a title that reads across the bench, and one or two short imperative sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bench.model.recipe import Part
from bench.model.station import WarmedBy
from bench.model.step_kind import StepKind
from bench.plan.records import Shot


@dataclass(frozen=True, kw_only=True, slots=True)
class Words:
    """``title`` is the large line, ``do`` says how, ``meanwhile`` what the hands can do while a clock runs."""

    title: str
    do: str
    meanwhile: str = ""


POUR_OUT = "Pour out flat on metal, beside its cup, what is still liquid."
STAYS = "What has set, or smokes, stays in its cup until that is cold."
"""What becomes of leftovers (common practice, no source): a thick lump goes on heating itself, and a cup that is
carried spills. What nobody poured out while it was liquid is left, here as at the clean-up."""

_WORDS: Mapping[StepKind, Words] = {
    StepKind.CAUTIONS: Words(
        title="Before any heat",
        do="Read each card and say that you have. Go on when none is left.",
    ),
    StepKind.READY: Words(
        title="Ready the bench",
        do="Fan on. Set out dry moulds, clean injectors, cups, thermometer, trays. Shake the base and weigh it.",
    ),
    StepKind.WARM_MOULD: Words(
        title="Warm the mould",
        do="Put the closed mould on the warm plate. Read it on a dark patch: bare metal reads too low.",
        meanwhile="Weigh the first cups: base and colour, cold.",
    ),
    StepKind.RODS_IN: Words(
        title="Oil and seat the rods",
        do="A thin film of oil on each rod, no drips. Seat them straight and close the mould.",
    ),
    StepKind.HOLD: Words(
        title="Hold the plunger",
        do="Keep light pressure. Top off when the sprue sinks.",
    ),
    StepKind.SET: Words(
        title="Let it set",
        do="Leave the mould closed and upright.",
        meanwhile="Empty the nozzle and stir what is still hot.",
    ),
    StepKind.OPEN: Words(
        title="Open the mould",
        do="Open it flat on the bench and lift out by the sprue. It is still hot inside.",
    ),
    StepKind.RODS_OUT: Words(
        title="Pull the rods",
        do="Turn to break the seal, pull straight and slowly. Blot the oil out of the bores.",
    ),
    StepKind.LOOK_AT_SHELLS: Words(
        title="Look at the shells",
        do="Hold it against the light. Press the digit of what you see.",
    ),
    StepKind.TRIM: Words(
        title="Tails: keep or cut",
        do="Press how many you cut, 0 keeps all. Snip where the tail begins.",
    ),
    StepKind.SHELLS_BACK: Words(
        title="Shells back in",
        do="Bores dry, no flash in the way. Lay each shell in without a wrinkle and close the mould.",
    ),
    StepKind.LOOK_AT_BAITS: Words(
        title="Look at the baits",
        do="Lay it flat and straight on a tray. Press the digit of what you see.",
    ),
    StepKind.REST_MOULD: Words(
        title="Rest the mould",
        do="It is too hot to shoot. Stand it open on its edge, away from the heat.",
        meanwhile="Trim sprues and sort them by colour.",
    ),
    StepKind.HEAT_OFF: Words(
        title="Heat off",
        do=f"Switch off every heater. {POUR_OUT} {STAYS} Leave the fan on.",
    ),
    StepKind.PURGE_AIR: Words(
        title="Clear the air",
        do="Fan on, doors open, mask on. Stay out if you can.",
        meanwhile="Let moulds and injectors cool where nobody touches them.",
    ),
    StepKind.CLEAN: Words(
        title="Clean up",
        do="Clean injectors, nozzles and cups. Wipe the rods and the moulds dry.",
    ),
    StepKind.LAY_OUT: Words(
        title="Lay out and label",
        do="Lay every bait flat and straight, not touching. Label the trays with recipe and date.",
    ),
    StepKind.CURE: Words(
        title="Let them cure",
        do="Trays flat, out of the sun. Do not pack before the time below.",
    ),
}

_LOOKING: Mapping[StepKind, str] = {
    StepKind.LOOK_AT_SHELLS: "Hold to the light.",
    StepKind.LOOK_AT_BAITS: "Lay them flat and straight on a tray.",
}
"""What is done with several before one digit judges them all."""

LOOKED_AT = frozenset(_LOOKING)

_SHOT_WORDS: Mapping[Shot, Words] = {
    Shot.WHOLE: Words(
        title="Shot",
        do="Push slowly and steadily until plastic stands in the sprue. Then press the key.",
    ),
    Shot.SHELL: Words(
        title="Shell shot",
        do="Push slowly and steadily until plastic stands in the sprue. Then press the key.",
    ),
    Shot.CORE: Words(
        title="Core shot",
        do="Shoot at the hot end of the band, gently: do not overpack the shells. Then press the key.",
    ),
}
"""Each shot's words; the key is pressed at the end of the push because hold and set count from there."""

FROM_TWO_CUPS = "Push both together, slowly and evenly, until plastic stands in the sprue. Then press the key."
"""In the place of a shot's own sentence where two cups fill it at once (common practice, no source)."""

PRESS = "Then press the key."
"""Ends a weighing: nothing of a cup is heated, nor reckoned to be, before that."""

OVER_BAND = Words(
    title="Let the cup cool",
    do="It is over its band: no more heat. Let it cool into the band, stir, then read.",
    meanwhile="Stay with it.",
)
OVER_SCORCH = Words(
    title="Let the cup cool",
    do="Off the heat. Ventilate. This plastic is not heated on and not shot. "
    "Leave the cup where it is until it is cold, then throw it away as your local rules say and weigh a new one.",
    meanwhile="If it smokes, leave it and leave the room.",
)
"""In the place of a step's own words while its cup is too hot; over its band alone, the title stays. Never a
promise that what was over its scorch limit is still good."""

NOT_LIQUID = Words(
    title="Do not shoot yet",
    do="What is in the cup is not liquid. Put it on the heat first, stir, then read.",
)
"""In the place of a shot's own words while its cup is solid."""

SCORCHED_AT_THE_END = Words(
    title="Heat off",
    do="Switch off every heater. Leave the scorched cup where it is until it is cold, then throw it away as your "
    f"local rules say. Of the others: {POUR_OUT[0].lower()}{POUR_OUT[1:]} {STAYS} Leave the fan on.",
)
"""In the place of the closing's own words where such a cup still stands there: hot, it is not carried."""

THROWN = "The old cup stays where it is until it is cold; then throw it away as your local rules say."
NEW_CUP = Words(
    title="Weigh a new cup",
    do=f"{THROWN} Weigh base and colour into a new cup and stir. Close the base. {PRESS}",
)
OTHER_COLOUR = Words(
    title="Weigh a new cup",
    do=f"Set the mixed cup aside. Weigh base and the new colour into another and stir. Close the base. {PRESS}",
)
"""In the place of a weighing's own words where that melt was weighed before; its title stays."""

OLD_CUP_WAITS = Words(
    title="Wait for the old cup",
    do="Heater off: let the old cup stand. Heat the new one only once the old one can be lifted out. "
    "Throw that away as your local rules say, put the new one on, then press the key.",
    meanwhile="If it smokes, leave it and leave the room.",
)
"""In the place of a heating's own words while an old cup stands on the heater."""

PUT_IN = "Put the cup in, set the heater's own timer to the burst below and start it."
PUT_ON = f"{PUT_IN} Then press the key."
"""In the place of what a heating says while it waits for its cup: nothing is reckoned to be on before that."""

OLD_CUP_AT_THE_END = "The old scorched cup: once it is cold, throw it away as your local rules say."
"""After the words for cleaning up where one was left to cool."""

CLEAN_WHILE_HOT = Words(
    title="Clean up",
    do="Leave hot cups, and what is in them, where they are until they are cold: pour nothing out any more. "
    "Clean them then, and everything else once it is cold. Wipe it dry.",
)
"""In the place of the words for cleaning up while a cup is hot."""

NOTHING_TO_LAY_OUT = Words(
    title="Nothing to lay out",
    do="No bait was made. Put what is cold away: scrap and shells to the trimmings, sorted by colour.",
)
NOTHING_TO_CURE = Words(title="Nothing to cure", do="No bait was made. Leave the fan on while anything smells.")
"""In the place of their own words where no bait came out."""

OLD_CUP_FIRST = "Not before the old cup is cold and out."
"""Before the words of a heating whose last cup was thrown away."""


def open_later(moulds: Sequence[int]) -> str:
    """Ends the words for the heat off where moulds stand filled; no number where there is only one."""
    if not moulds:
        return "Then open the mould, once it has set."
    if len(moulds) == 1:
        return f"Then open mould {moulds[0]}, once it has set."
    numbers = f"{', '.join(map(str, moulds[:-1]))} and {moulds[-1]}"
    return f"Then open moulds {numbers}, once they have set."


def words_of(kind: StepKind) -> Words:
    """The words of a kind of step that reads the same wherever it stands."""
    return _WORDS[kind]


def shot_words(shot: Shot, *, cups: int, mould: int) -> Words:
    """The words of a shot from so many cups; ``mould`` 0 where there is only one."""
    words = _SHOT_WORDS[shot]
    return at_mould(words if cups == 1 else replace(words, do=FROM_TWO_CUPS), mould)


def words_at(kind: StepKind, *, mould: int) -> Words:
    """The same at one of several moulds; ``mould`` 0 where there is only one."""
    return at_mould(words_of(kind), mould)


def look_words(kind: StepKind, *, count: int) -> Words:
    """The words for looking at so many shells or baits of one round, which have one verdict together."""
    words = words_of(kind)
    if count == 1:
        return words
    return replace(words, do=f"{_LOOKING[kind]} A digit for all {count}: the look of most, or the worst fault.")


def at_mould(words: Words, mould: int) -> Words:
    """The words, with the number of their mould; ``mould`` 0 leaves them as they are."""
    if not mould:
        return words
    title = words.title.replace("the mould", f"mould {mould}")
    return Words(
        title=title if title != words.title else f"{words.title}, mould {mould}",
        do=words.do.replace("the mould", f"mould {mould}"),
        meanwhile=words.meanwhile,
    )


def warm_words(by: WarmedBy, *, number: int = 1, of: int = 1) -> Words:
    """The words for warming a mould before its first shot; of several, all are put there at the first one's step
    and each is taken off at the end of its own."""
    words = words_of(StepKind.WARM_MOULD)
    if of > 1:
        return replace(at_mould(words, number), do=_warm_together(by, number))
    if by is not WarmedBy.AIR:
        return words
    do = "Set the closed mould in the warm air and turn it now and then. Read it on a dark patch of metal."
    return Words(title=words.title, do=do, meanwhile=words.meanwhile)


def ready_words(by: WarmedBy, *, shots: int) -> Words:
    """The words for readying the bench; where nothing but scrap warms the moulds they say how many shots of it."""
    words = words_of(StepKind.READY)
    if by is not WarmedBy.SHOTS or not shots:
        return words
    scrap = "1 scrap shot warms" if shots == 1 else f"{shots} scrap shots warm"
    return replace(words, do=f"{words.do} {scrap} the cold mould: the first cup holds their plastic too.")


def warm_up_words(by: WarmedBy, *, number: int, of: int, cups: int, mould: int) -> Words:
    """The words for one of so many warm-up shots, from so many cups; ``mould`` 0 where there is only one."""
    title = f"Warm-up shot {number} of {of}" if of > 1 else "Warm-up shot"
    both = ", both together" if cups > 1 else ""
    if by is WarmedBy.SHOTS:
        fill = f"Scrap, to warm the cold mould: read it, then fill the mould without rods{both}."
        do = f"{fill} Keep it for a dark remelt."
    else:
        do = f"Fill the mould once{both}, without rods, to warm it. This one is scrap: keep it for a dark remelt."
    return at_mould(Words(title=title, do=do), mould)


def open_scrap_words(mould: int) -> Words:
    """The words for opening a mould after a warm-up shot; ``mould`` 0 where there is only one."""
    do = "Open it flat on the bench and lift the scrap out: it goes to the trimmings. It is still hot inside."
    return at_mould(replace(words_of(StepKind.OPEN), do=do), mould)


def _warm_together(by: WarmedBy, number: int) -> str:
    where = "in the warm air" if by is WarmedBy.AIR else "on the warm plate"
    put = f"Put all moulds {where}, closed. " if number == 1 else ""
    return f"{put}Read mould {number} on a dark patch: bare metal reads too low. Take it off when it is warm."


def weigh_words(part: Part, *, meanwhile: bool = False) -> Words:
    """The words for weighing a melt of that part into its cup; one that may be weighed ``meanwhile``, while the
    mould warms, is only said to be there."""
    weigh = f"Weigh base and colour into it and stir{', if that is still to do' if meanwhile else ''}."
    return Words(title=f"Weigh the {part.words} cup", do=f"{weigh} Close the base. {PRESS}")


def heat_on_words(part: Part, *, fresh: bool, weighed: bool = False) -> Words:
    """The words for a burst that runs by itself, in a cup from cold or in one that was hot before; one from cold
    that was not ``weighed`` at a step of its own is weighed now."""
    timer = f"{PUT_ON} It ends without you: stay in sight of it."
    weigh = "Weigh base and colour into it. " if fresh and not weighed else ""
    again = "" if fresh else "again "
    return Words(title=f"{part.words[:1].upper()}{part.words[1:]} cup {again}on the heat", do=f"{weigh}{timer}")


def heat_words(part: Part, *, fresh: bool, weighed: bool = False, begun: bool = False) -> Words:
    """The words for heating a part's cup: from cold, or back into its band; what was ``weighed`` before is not
    weighed now, and what has ``begun`` is brought to its end."""
    cup = f"{part.words} cup"
    if begun:
        return Words(
            title=f"Finish the {cup}",
            do="Stir, then read. More bursts until it is in the band, a stir and a reading after each.",
            meanwhile="Stay with it.",
        )
    if fresh and weighed:
        return Words(
            title=f"Heat the {cup}",
            do="Heat in bursts. Never all the way without a stir and a reading.",
            meanwhile="Stay with it.",
        )
    if fresh:
        return Words(
            title=f"Heat the {cup}",
            do="Weigh base and colour into it. Heat in bursts. Never all the way without a stir and a reading.",
            meanwhile="Stay with it. Close the lid of the base.",
        )
    return Words(
        title=f"Reheat the {cup}",
        do="Short bursts. Stir, then read. Shoot only from inside the band.",
        meanwhile="Stay with it.",
    )
