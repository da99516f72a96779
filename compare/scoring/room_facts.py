"""Facts about rooms: which rooms one option serves better than another, by how much, and what that is worth."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from compare.scoring.aggregate import criterion_score
from compare.scoring.criteria import Criterion, Kind
from compare.scoring.evidence import Source
from compare.scoring.facts import Found, Pair, facts
from compare.scoring.judgements import Judgements
from compare.scoring.points import Points
from compare.scoring.room_measures import RoomMeasures
from compare.scoring.scores import OptionScore

Test = Callable[[RoomMeasures, RoomMeasures, Judgements], Pair | None]
"""The numbers of a room in the better and the worse option when the fact is true of them, else None."""
Change = Callable[[Points, Points], Points]
"""Points of one option with some of them taken from another."""


def _on_unit(room: RoomMeasures) -> bool:
    return room.source is Source.SERVED or room.open_always


def _one_room(name: str) -> Pair:
    return Pair(name, Kind.ROOMS, 0.0, 1.0)


def _unserved(better: RoomMeasures, worse: RoomMeasures, _: Judgements) -> Pair | None:
    own = {Source.SERVED, Source.HEATER, Source.OLD_HEAT}
    if worse.source in own or worse.open_always:
        return None
    return _one_room("rooms without heat of their own") if better.source in own or better.open_always else None


def _on(source: Source, name: str) -> Test:
    def test(better: RoomMeasures, worse: RoomMeasures, _: Judgements) -> Pair | None:
        if worse.source is not source or worse.open_always or not _on_unit(better):
            return None
        return _one_room(name)

    return test


def _no_cooling(better: RoomMeasures, worse: RoomMeasures, _: Judgements) -> Pair | None:
    return _one_room("rooms without cooling") if _on_unit(better) and not _on_unit(worse) else None


def _cover(field: str, name: str, short: bool) -> Test:
    """Cover below 1 and lower than the better one's, or above 1 and higher."""

    def test(better: RoomMeasures, worse: RoomMeasures, numbers: Judgements) -> Pair | None:
        if not (_on_unit(better) and _on_unit(worse)):
            return None
        good, bad = getattr(better, field), getattr(worse, field)
        difference = good - bad if short else bad - good
        if difference <= numbers.limit_cover or (bad < 1.0) is not short:
            return None
        return Pair(name, Kind.SHARE if short else Kind.RATIO, good, bad)

    return test


def _lower(field: str, name: str, kind: Kind, limit: str) -> Test:
    """A number that is better when lower, lower by more than its error."""

    def test(better: RoomMeasures, worse: RoomMeasures, numbers: Judgements) -> Pair | None:
        good, bad = getattr(better, field), getattr(worse, field)
        return Pair(name, kind, good, bad) if bad - good > getattr(numbers, limit) else None

    return test


def _morning(better: RoomMeasures, worse: RoomMeasures, numbers: Judgements) -> Pair | None:
    good, bad = better.morning_c, worse.morning_c
    if good - bad <= numbers.limit_temperature_k:
        return None
    return Pair("6 a.m. on the coldest mornings", Kind.TEMPERATURE, good, bad)


_cold_share = _lower("cold_frac", "cold hours", Kind.SHARE, "limit_share_frac")


def _cold_hours(better: RoomMeasures, worse: RoomMeasures, numbers: Judgements) -> Pair | None:
    """Cold hours where the coldest mornings alone do not tell."""
    return None if _morning(better, worse, numbers) else _cold_share(better, worse, numbers)


@dataclass(frozen=True, slots=True)
class RoomFact:
    """How a fact about rooms is found: its test, and the points it moves."""

    fact: str
    field: str
    """Field of `RoomPoints` that the fact moves."""
    test: Test


ROOM_FACTS: Final = (
    RoomFact("unserved", "heat", _unserved),
    RoomFact("on_heaters", "heat", _on(Source.HEATER, "rooms on room heaters")),
    RoomFact("on_old_heat", "heat", _on(Source.OLD_HEAT, "rooms on the old heat")),
    RoomFact("heat_short", "heat", _cover("heat_cover", "heat cover", short=True)),
    RoomFact("heat_oversize", "heat", _cover("heat_cover", "heat cover", short=False)),
    RoomFact("no_cooling", "cool", _no_cooling),
    RoomFact("cool_short", "cool", _cover("cool_cover", "cooling cover", short=True)),
    RoomFact("cool_oversize", "cool", _cover("cool_cover", "cooling cover", short=False)),
    RoomFact("bed_noise", "bed", _lower("bed_dba", "level at the pillow", Kind.LEVEL, "limit_noise_dba")),
    RoomFact("seat_noise", "seat", _lower("seat_dba", "level at the seat", Kind.LEVEL, "limit_noise_dba")),
    RoomFact("morning", "cold", _morning),
    RoomFact("cold_hours", "cold", _cold_hours),
    RoomFact("hot_hours", "hot", _lower("hot_frac", "hot hours", Kind.SHARE, "limit_share_frac")),
    RoomFact("draught", "draught", _lower("draught_frac", "draught rate", Kind.SHARE, "limit_draught_frac")),
)


def take_rooms(rooms: frozenset[int], field: str) -> Change:
    """Take one field of some rooms from another option."""

    def change(points: Points, other: Points) -> Points:
        pairs = zip(points.rooms, other.rooms, strict=True)
        swapped = (replace(own, **{field: getattr(new, field)}) if own.index in rooms else own for own, new in pairs)
        return replace(points, rooms=tuple(swapped))

    return change


def take(field: str) -> Change:
    """Take one number of the whole option from another option."""
    return lambda points, other: replace(points, **{field: getattr(other, field)})


def worth(criterion: Criterion, better: Points, worse: Points, change: Change, numbers: Judgements) -> float:
    """Points of a criterion that a fact is worth: the mean of what the worse option would gain and the better one lose.

    With worst-room terms a fact can be worth more alone than after the others; the mean of both ends treats the two
    options alike.
    """

    def score(points: Points) -> float:
        return criterion_score(criterion, points, numbers)

    gained = score(change(worse, better)) - score(worse)
    lost = score(better) - score(change(better, worse))
    return 0.5 * (gained + lost)


def _weight(field: str, ahead: float, load_w: float) -> float:
    return ahead * load_w if field in {"heat", "cool"} else ahead


def _rooms_where(
    rule: RoomFact, better: OptionScore, worse: OptionScore, numbers: Judgements
) -> list[tuple[int, Pair]]:
    """Rooms of which a fact is true and whose points it moves the right way, the one that matters most first."""
    found: list[tuple[float, int, Pair]] = []
    pairs = zip(better.measures.rooms, worse.measures.rooms, better.points.rooms, worse.points.rooms, strict=True)
    for good, bad, good_points, bad_points in pairs:
        ahead = getattr(good_points, rule.field) - getattr(bad_points, rule.field)
        if not ahead > 0.0:
            continue
        pair = rule.test(good, bad, numbers)
        if pair is not None:
            load_w = good.cool_load_w if rule.field == "cool" else good.heat_load_w
            found.append((-_weight(rule.field, ahead, load_w), good.index, pair))
    return [(index, pair) for _, index, pair in sorted(found, key=lambda item: item[:2])]


def room_facts(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    """Every fact about rooms by which one option is better than another."""
    for rule in ROOM_FACTS:
        rooms = _rooms_where(rule, better, worse, numbers)
        if not rooms:
            continue
        criterion = facts()[rule.fact].criterion
        if criterion is None:
            raise ValueError(f"facts.csv: {rule.fact} needs a criterion")
        indices = tuple(index for index, _ in rooms)
        change = take_rooms(frozenset(indices), rule.field)
        points = worth(criterion, better.points, worse.points, change, numbers)
        first = rooms[0][1]
        if first.kind is Kind.ROOMS:
            first = replace(first, worse=float(len(indices)))
        yield Found(rule.fact, (first,), points, indices)
