"""What families ask, answered from this house's numbers: one answer for every worry of the table, none made up.

An answer is data: its form (a sentence key), its numbers with their kinds, and the room that decides. Where one layout
is said to do better than another, the difference exceeds the error of its data, as for every reason.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from compare.scoring.criteria import Kind
from compare.scoring.judgements import Judgements, rulebook
from compare.scoring.option_facts import price_differs
from compare.scoring.phrases import US, sentence, show
from compare.scoring.reasons import reason_sentence, reasons_for
from compare.scoring.room_measures import RoomMeasures
from compare.scoring.scores import OptionScore
from compare.scoring.tables import read_rows
from compare.scoring.weights import Weights

NEAR_K = 1.0
"""Under the target by less than this is said to be almost enough (our judgement)."""
MUCH_FRAC = 0.5
"""Share of hours under the least output from which short cycling is granted (our judgement)."""
MOST_WHY = 3


@dataclass(frozen=True, slots=True)
class Worry:
    """A question that families ask."""

    worry: str
    topic: str
    question: str
    facts: tuple[str, ...]
    """Numbers that may answer it."""
    source: str


@cache
def worries() -> tuple[Worry, ...]:
    """All of them in their order."""
    return tuple(
        Worry(row["worry"], row["topic"], row["question"], tuple(row["facts"].split(";")), row["source"])
        for row in read_rows("worries.csv")
    )


@dataclass(frozen=True, slots=True)
class Around:
    """What answers need besides scores: the house, and the designed units of the recommended layout."""

    heat_load_w: float
    cool_load_w: float
    heat_outdoor_c: float
    heat_set_c: float
    cool_set_c: float
    setback: bool
    doors_shut: bool | None
    """Bedroom doors at night: all, none, or None for some."""
    doors: bool
    """Whether any bedroom has a door."""
    least_cover: float
    """Heating cover of the unit that covers least; nan without a load."""
    duct_loss_frac: float
    """Largest loss of its ducts at the heating design hour; nan without ducts."""
    ducts_outside: bool
    high_units: int
    """Its room units that measure high on a wall or at a ceiling."""
    cleaning_usd: float
    """Ten years."""
    cleaning_each_usd: float
    """The same with a unit in every room; nan without such a layout."""
    rooms_left: int
    """Rooms on its outdoor units that still have one when the unit with most rooms fails."""
    rooms_all: int
    units: int
    """Indoor units."""
    units_each: int


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """The layouts that answers speak of."""

    winner: OptionScore
    single: OptionScore | None
    """One room unit for all, also where it is rejected."""
    each: OptionScore | None
    """A unit in every room, the best of them."""
    shown: tuple[OptionScore, ...]
    hidden: OptionScore | None
    """The cheapest layout without a unit in sight that is not rejected."""
    weights: Weights
    around: Around


@dataclass(frozen=True, slots=True)
class WorryAnswer:
    """One answer."""

    worry: str
    form: str
    """Key of its sentence."""
    numbers: tuple[tuple[str, float, Kind], ...] = ()
    room: str = ""
    why: tuple[str, ...] = ()
    """Facts that decide between two layouts, by key of the fact."""

    @property
    def applies(self) -> bool:
        """Whether the question has an answer in this house."""
        return not self.form.endswith("_none")


Numbers = Mapping[str, tuple[float, Kind]]


def answers(asked: Asked, numbers: Judgements | None = None) -> tuple[WorryAnswer, ...]:
    """One answer for every worry, in the order of the table."""
    used = numbers or rulebook().numbers
    return tuple(_RULES[item.worry](asked, used) for item in worries())


def answer_sentence(answer: WorryAnswer, asked: Asked, names: tuple[str, str], units: str = US) -> str:
    """An answer in words; `names` are those of the recommended layout and of a unit in every room."""
    parts = {key: show(value, kind, units) for key, value, kind in answer.numbers}
    why = _why(answer, asked, names, units)
    return sentence("worries", answer.form, a=names[0], b=names[1], room=answer.room, why=why, **parts)


def _why(answer: WorryAnswer, asked: Asked, names: tuple[str, str], units: str) -> str:
    if asked.each is None:
        return ""
    if answer.form == "each_out":
        return asked.each.fatal[0].text
    reasons = {r.fact: r for r in reasons_for(asked.winner, asked.each, asked.weights)}
    return " ".join(reason_sentence(reasons[fact], *names, units) for fact in answer.why)


def _made(worry: str, form: str, numbers: Numbers | None = None, room: str = "") -> WorryAnswer:
    rows = tuple((key, value, kind) for key, (value, kind) in (numbers or {}).items())
    return WorryAnswer(worry, f"{worry}_{form}", rows, room)


def _coldest(option: OptionScore) -> RoomMeasures | None:
    """The regular bedroom farthest under its target at 6 on the coldest mornings."""
    beds = [room for room in option.measures.rooms if room.regular_bedroom]
    return max(beds, key=lambda room: (room.room.target_c - room.morning_c, -room.index), default=None)


def _reach(asked: Asked, _: Judgements) -> WorryAnswer:
    room = _coldest(asked.single) if asked.single else None
    if room is None:
        return _made("reach", "none")
    short_k = room.room.target_c - room.morning_c
    form = "warm" if short_k <= 0.0 else "near" if short_k <= NEAR_K else "cold"
    told = {"morning_single": (room.morning_c, Kind.TEMPERATURE), "target": (room.room.target_c, Kind.TEMPERATURE)}
    return _made("reach", form, told, room.room.name)


def _doors(asked: Asked, _: Judgements) -> WorryAnswer:
    room = _coldest(asked.single) if asked.single else None
    if room is None or not asked.around.doors:
        return _made("doors", "none")
    form = {True: "shut", False: "open", None: "some"}[asked.around.doors_shut]
    told = {
        "morning_single": (room.morning_c, Kind.TEMPERATURE),
        "morning_winner": (asked.winner.measures.rooms[room.index].morning_c, Kind.TEMPERATURE),
        "target": (room.room.target_c, Kind.TEMPERATURE),
    }
    return _made("doors", form, told, room.room.name)


def _cycling(asked: Asked, _: Judgements) -> WorryAnswer:
    units = asked.winner.measures.units
    below = max(unit.below_min_frac for unit in units)
    starts = max(unit.starts_per_y for unit in units)
    form = "much" if below >= MUCH_FRAC else "little"
    return _made("cycling", form, {"below_frac": (below, Kind.SHARE), "starts": (starts, Kind.STARTS)})


def _covers(asked: Asked, numbers: Judgements) -> str:
    least = asked.around.least_cover
    return "none" if math.isnan(least) else "short" if least < numbers.amber_cover else "covers"


def _size(asked: Asked, numbers: Judgements) -> WorryAnswer:
    around = asked.around
    told = {
        "heat_load": (around.heat_load_w, Kind.POWER),
        "cool_load": (around.cool_load_w, Kind.POWER),
        "heat_outdoor": (around.heat_outdoor_c, Kind.TEMPERATURE),
        "least_cover": (around.least_cover, Kind.SHARE),
    }
    return _made("size", _covers(asked, numbers), told)


def _looks(asked: Asked, _: Judgements) -> WorryAnswer:
    winner = asked.winner
    told = {
        "visible": (float(winner.measures.visible_units), Kind.UNITS),
        "price_winner": (winner.price_usd, Kind.MONEY),
    }
    if winner.measures.visible_units == 0:
        return _made("looks", "hidden", told)
    if asked.hidden is None:
        return _made("looks", "no_way", told)
    return _made("looks", "seen", told | {"price_hidden": (asked.hidden.price_usd, Kind.MONEY)})


def _noise(asked: Asked, numbers: Judgements) -> WorryAnswer:
    rooms = asked.winner.measures.rooms
    bed = max((room.bed_dba for room in rooms if not math.isnan(room.bed_dba)), default=math.nan)
    seat = max((room.seat_dba for room in rooms if not math.isnan(room.seat_dba)), default=math.nan)
    if math.isnan(seat):
        return _made("noise", "none")
    told = {"seat_level": (seat, Kind.LEVEL)}
    if math.isnan(bed):
        return _made("noise", "seat", told)
    form = "loud" if bed > numbers.amber_bed_dba else "quiet"
    return _made("noise", form, told | {"bed_level": (bed, Kind.LEVEL)})


def _attic(asked: Asked, _: Judgements) -> WorryAnswer:
    loss = asked.around.duct_loss_frac
    if math.isnan(loss):
        return _made("attic", "none")
    return _made("attic", "some" if asked.around.ducts_outside else "inside", {"loss_frac": (loss, Kind.SHARE)})


def _price(asked: Asked, _: Judgements) -> WorryAnswer:
    own = asked.winner.measures.price
    prices = [option.price_usd for option in asked.shown]
    told = {
        "price_low": (own.low_usd, Kind.MONEY),
        "price_high": (own.high_usd, Kind.MONEY),
        "price_least": (min(prices), Kind.MONEY),
        "price_most": (max(prices), Kind.MONEY),
    }
    return _made("price", "spread", told)


def _damp(asked: Asked, numbers: Judgements) -> WorryAnswer:
    own = asked.winner.measures.damp_frac
    if math.isnan(own):
        return _made("damp", "none")
    worst = max((option.measures.damp_frac for option in asked.shown), default=own)
    told = {"damp_frac": (own, Kind.SHARE), "damp_worst": (worst, Kind.SHARE)}
    return _made("damp", "known" if worst - own > numbers.limit_share_frac else "alike", told)


def _cleaning(asked: Asked, numbers: Judgements) -> WorryAnswer:
    own, each = asked.around.cleaning_usd, asked.around.cleaning_each_usd
    told = {"cleaning_winner": (own, Kind.MONEY)}
    if math.isnan(each) or asked.each is asked.winner:
        return _made("cleaning", "alone", told)
    if each > own and price_differs(own, each, numbers):
        return _made("cleaning", "less", told | {"cleaning_each": (each, Kind.MONEY)})
    return _made("cleaning", "alike", told)


def _cold(asked: Asked, numbers: Judgements) -> WorryAnswer:
    told = {
        "heat_outdoor": (asked.around.heat_outdoor_c, Kind.TEMPERATURE),
        "least_cover": (asked.around.least_cover, Kind.SHARE),
        "backup_frac": (asked.winner.measures.backup_frac, Kind.SHARE),
    }
    return _made("cold", _covers(asked, numbers), told)


def _setback(asked: Asked, _: Judgements) -> WorryAnswer:
    around = asked.around
    told = {"heat_set": (around.heat_set_c, Kind.TEMPERATURE), "cool_set": (around.cool_set_c, Kind.TEMPERATURE)}
    return _made("setback", "set" if around.setback else "held", told)


def _sensor(asked: Asked, _: Judgements) -> WorryAnswer:
    high = asked.around.high_units
    return _made("sensor", "high", {"high_units": (float(high), Kind.UNITS)}) if high else _made("sensor", "none")


def _each(asked: Asked, _: Judgements) -> WorryAnswer:
    each, winner, around = asked.each, asked.winner, asked.around
    if each is None:
        return _made("each", "none")
    told = {"units_each": (float(around.units_each), Kind.UNITS), "units_winner": (float(around.units), Kind.UNITS)}
    if each.option_id == winner.option_id:
        return _made("each", "this", told)
    if each.rejected:
        return _made("each", "out")
    why = tuple(reason.fact for reason in reasons_for(winner, each, asked.weights)[:MOST_WHY])
    return WorryAnswer("each", "each_less", (), "", why) if why else _made("each", "even", told)


def _failure(asked: Asked, _: Judgements) -> WorryAnswer:
    around = asked.around
    told = {
        "outdoor_units": (float(asked.winner.measures.outdoor_units), Kind.UNITS),
        "rooms_left": (float(around.rooms_left), Kind.ROOMS),
        "rooms_all": (float(around.rooms_all), Kind.ROOMS),
    }
    return _made("failure", "part" if around.rooms_left else "all", told)


_RULES: dict[str, Callable[[Asked, Judgements], WorryAnswer]] = {
    "reach": _reach,
    "doors": _doors,
    "cycling": _cycling,
    "size": _size,
    "looks": _looks,
    "noise": _noise,
    "attic": _attic,
    "price": _price,
    "damp": _damp,
    "cleaning": _cleaning,
    "cold": _cold,
    "setback": _setback,
    "sensor": _sensor,
    "each": _each,
    "failure": _failure,
}


def known_rules() -> Sequence[str]:
    """Worries that have a rule."""
    return tuple(_RULES)
