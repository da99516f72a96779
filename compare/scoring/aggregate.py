"""From points to the six scores: means, worst rooms and worst units.

Sums are exact (fsum), so that the order of rooms reaches no result.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from compare.scoring.criteria import Criterion
from compare.scoring.judgements import Judgements
from compare.scoring.points import Points, RoomPoints, UnitPoints


def weighted_mean(pairs: Iterable[tuple[float, float]]) -> float:
    """Mean of (value, weight); values that are nan are left out; the plain mean when all weights are 0; else nan."""
    kept = [(value, weight) for value, weight in pairs if not math.isnan(value)]
    if not kept:
        return math.nan
    total = math.fsum(weight for _, weight in kept)
    if total <= 0.0:
        return math.fsum(value for value, _ in kept) / len(kept)
    return math.fsum(value * weight for value, weight in kept) / total


def worst_and_mean(worst: Sequence[float], mean: float, share_frac: float) -> float:
    """`share_frac` of the worst of these values, the rest of the mean; the mean alone when there is no worst."""
    kept = [value for value in worst if not math.isnan(value)]
    if not kept or math.isnan(mean):
        return mean
    return share_frac * min(kept) + (1.0 - share_frac) * mean


def within(value: float, least: float, most: float) -> float:
    """`value` kept between two limits."""
    return min(most, max(least, value))


def load_match(points: Points, numbers: Judgements) -> float:
    """Habitable rooms averaged by design load; heating and cooling by their share of the year."""
    rooms = [room for room in points.rooms if room.habitable]
    if not rooms:
        raise ValueError("no habitable room (living, dining, kitchen, bedroom, work, hobby): nothing to match")
    heat = weighted_mean((room.heat, room.heat_load_w) for room in rooms)
    cool = weighted_mean((room.cool, room.cool_load_w) for room in rooms)
    cold = within(points.cool_share_frac, numbers.match_cool_least_frac, numbers.match_cool_most_frac)
    return (1.0 - cold) * heat + cold * cool


def unit_score(unit: UnitPoints, numbers: Judgements) -> float:
    """Half hours below minimum, half starts."""
    return numbers.hours_share_frac * unit.hours + (1.0 - numbers.hours_share_frac) * unit.starts


def cycling(points: Points, numbers: Judgements) -> float:
    """Half the worst outdoor unit, half the mean weighted by yearly heat."""
    scores = [unit_score(unit, numbers) for unit in points.units]
    mean = weighted_mean((score, unit.heat_kwh) for score, unit in zip(scores, points.units, strict=True))
    return worst_and_mean(scores, mean, numbers.worst_share_frac)


def noise(points: Points, numbers: Judgements) -> float:
    """0.60 beds + 0.25 seats + 0.15 outdoors; a part that the house does not have gives its weight to the others.

    Beds: half the worst regular bed, half the mean by sleepers. Seats in the same way by occupied hours.
    """
    beds = worst_and_mean(
        [room.bed for room in points.rooms if room.regular],
        weighted_mean((room.bed, room.sleepers) for room in points.rooms),
        numbers.worst_share_frac,
    )
    seats = worst_and_mean(
        [room.seat for room in points.rooms if room.regular],
        weighted_mean((room.seat, room.people_frac) for room in points.rooms),
        numbers.worst_share_frac,
    )
    score = weighted_mean(
        (
            (beds, numbers.bed_share_frac),
            (seats, numbers.seat_share_frac),
            (points.outdoor, numbers.outdoor_share_frac),
        )
    )
    if math.isnan(score):
        raise ValueError("no level at any bed, seat or outdoors: the noise score needs at least one")
    return score


def room_comfort(room: RoomPoints, points: Points, numbers: Judgements) -> float:
    """0.85 temperature + 0.15 draught, with damp hours 0.75 / 0.15 / 0.10; nan for a room without hours of use."""
    if math.isnan(room.cold) or math.isnan(room.hot):
        return math.nan
    hot = within(
        numbers.comfort_cool_factor * points.cool_share_frac,
        numbers.comfort_cool_least_frac,
        numbers.comfort_cool_most_frac,
    )
    temperature = (1.0 - hot) * room.cold + hot * room.hot
    draught = 0.0 if math.isnan(room.draught) else numbers.draught_share_frac
    damp = 0.0 if math.isnan(points.damp) else numbers.damp_share_frac
    parts = ((temperature, 1.0 - draught - damp), (room.draught, draught), (points.damp, damp))
    return math.fsum(value * weight for value, weight in parts if weight > 0.0)


def comfort(points: Points, numbers: Judgements) -> float:
    """Half the worst regular room, half the mean weighted by occupied person-hours."""
    scores = [room_comfort(room, points, numbers) for room in points.rooms]
    mean = weighted_mean((score, room.people_frac) for score, room in zip(scores, points.rooms, strict=True))
    if math.isnan(mean):
        raise ValueError("no room has hours of use: comfort cannot be judged")
    worst = [score for score, room in zip(scores, points.rooms, strict=True) if room.regular]
    return worst_and_mean(worst, mean, numbers.worst_share_frac)


def criterion_score(criterion: Criterion, points: Points, numbers: Judgements) -> float:
    """One of the scores, 0-100."""
    match criterion:
        case Criterion.MATCH:
            return load_match(points, numbers)
        case Criterion.CYCLING:
            return cycling(points, numbers)
        case Criterion.NOISE:
            return noise(points, numbers)
        case Criterion.COMFORT:
            return comfort(points, numbers)
        case Criterion.COST:
            return points.cost
        case Criterion.ENERGY:
            return points.energy
        case Criterion.SIGHT:
            return points.sight
