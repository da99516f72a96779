"""Scores of many lanes at once, by the same curves and rules as the scores of one option."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import RoomPlan
from compare.scoring.curves import Curve
from compare.scoring.evidence import Source
from compare.scoring.judgements import Judgements, Rulebook
from compare.scoring.room_measures import weighted_sleepers
from compare.search.tally import SOURCES, Tally

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class RoomFacts:
    """What weighs the rooms of a house; (R,) each."""

    rooms: tuple[RoomPlan, ...]
    people_frac: FloatArray
    heat_load_w: FloatArray
    cool_load_w: FloatArray

    def sleepers(self, numbers: Judgements) -> FloatArray:
        """Sleepers of each room, guests at their weight."""
        return np.array([weighted_sleepers(room, numbers) for room in self.rooms])


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """What lanes are held against; each one number or (N,)."""

    price_ratio: FloatArray
    cop: FloatArray
    visible: FloatArray
    cool_share_frac: FloatArray
    outdoor_limit_dba: float
    heater_credit: FloatArray
    old_heat_credit: FloatArray


def curve_points(curve: Curve, value: FloatArray) -> FloatArray:
    """Points of many values; nan stays nan."""
    if curve.form == "log2":
        with np.errstate(invalid="ignore", divide="ignore"):
            line = curve.ys[0] + curve.per_doubling * np.log2(value / curve.xs[0])
        return np.clip(line, 0.0, 100.0)
    points = np.interp(value, curve.xs, curve.ys)
    return np.where(np.isnan(value), np.nan, points)


def lane_scores(tally: Tally, facts: RoomFacts, asked: Asked, book: Rulebook) -> FloatArray:
    """Scores (N, 7) in the order of the criteria."""
    columns = (
        _match(tally, facts, asked, book),
        _cycling(tally, book),
        _noise(tally, facts, asked, book),
        _comfort(tally, facts, asked, book),
        curve_points(book.curves["K"], asked.price_ratio),
        curve_points(book.curves["E"], asked.cop),
        curve_points(book.curves["V"], asked.visible),
    )
    return np.stack([np.broadcast_to(c, tally.fatal.shape) for c in columns], axis=1)


def lane_fatal(tally: Tally, facts: RoomFacts, numbers: Judgements) -> npt.NDArray[np.bool_]:
    """(N,) whether a lane is rejected: by design, for want of a source, or by a bedroom that is too cold."""
    beds = np.array([room.use.value == "bedroom" and room.regular for room in facts.rooms])
    with np.errstate(invalid="ignore"):
        cold = tally.coldest_night_c < numbers.fatal_below_c
    return np.asarray(tally.fatal | (beds[:, None] & cold).any(axis=0), dtype=np.bool_)


def _mean(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Mean of (n, N) over the first axis with weights (n,) or (n, N); nan left out.

    The plain mean where all weights are 0; nan where nothing is left.
    """
    known = ~np.isnan(values)
    weight = np.where(known, weights if weights.ndim == values.ndim else weights[:, None], 0.0)
    plain = weight.sum(axis=0) <= 0.0
    weight = np.where(plain & known, 1.0, weight)
    total = weight.sum(axis=0)
    summed = (np.where(known, values, 0.0) * weight).sum(axis=0)
    return np.where(total > 0.0, summed / np.where(total > 0.0, total, 1.0), np.nan)


def _worst_and_mean(worst: FloatArray, mean: FloatArray, share: float) -> FloatArray:
    known = ~np.isnan(worst)
    least = np.where(known, worst, np.inf).min(axis=0, initial=np.inf)
    return np.where(np.isinf(least), mean, share * np.where(np.isinf(least), 0.0, least) + (1.0 - share) * mean)


def _match(tally: Tally, facts: RoomFacts, asked: Asked, book: Rulebook) -> FloatArray:
    numbers = book.numbers
    served = tally.source == SOURCES.index(Source.SERVED)
    on_unit = served | tally.open_always
    credit = np.where(tally.source == SOURCES.index(Source.HEATER), asked.heater_credit, 0.0)
    credit = np.where(tally.source == SOURCES.index(Source.OLD_HEAT), asked.old_heat_credit, credit)
    heat = np.where(on_unit, np.fmax(credit, curve_points(book.curves["M1"], tally.heat_cover)), credit)
    cool = np.where(on_unit, curve_points(book.curves["M2"], tally.cool_cover), 0.0)
    keep = np.array([room.habitable for room in facts.rooms])
    cold = np.clip(asked.cool_share_frac, numbers.match_cool_least_frac, numbers.match_cool_most_frac)
    by_heat = _mean(heat[keep], facts.heat_load_w[keep])
    by_cool = _mean(cool[keep], facts.cool_load_w[keep])
    return (1.0 - cold) * by_heat + cold * by_cool


def _cycling(tally: Tally, book: Rulebook) -> FloatArray:
    numbers = book.numbers
    hours = curve_points(book.curves["L1"], tally.below_frac)
    starts = curve_points(book.curves["L2"], tally.starts)
    score = numbers.hours_share_frac * hours + (1.0 - numbers.hours_share_frac) * starts
    return _worst_and_mean(score, _mean(score, tally.unit_heat_kwh), numbers.worst_share_frac)


def _noise(tally: Tally, facts: RoomFacts, asked: Asked, book: Rulebook) -> FloatArray:
    numbers = book.numbers
    regular = np.array([room.regular for room in facts.rooms])
    bed, seat = curve_points(book.curves["N1"], tally.bed_dba), curve_points(book.curves["N2"], tally.seat_dba)
    beds = _worst_and_mean(bed[regular], _mean(bed, facts.sleepers(numbers)), numbers.worst_share_frac)
    seats = _worst_and_mean(seat[regular], _mean(seat, facts.people_frac), numbers.worst_share_frac)
    limit = asked.outdoor_limit_dba
    outside = curve_points(book.curves["N3"], tally.outdoor_dba - limit + numbers.outdoor_limit_dba)
    shares = np.array([numbers.bed_share_frac, numbers.seat_share_frac, numbers.outdoor_share_frac])
    return _mean(np.stack(np.broadcast_arrays(beds, seats, outside)), shares)


def _comfort(tally: Tally, facts: RoomFacts, asked: Asked, book: Rulebook) -> FloatArray:
    numbers = book.numbers
    cold = np.minimum(
        curve_points(book.curves["C1"], tally.morning_drop_k), curve_points(book.curves["C2"], tally.cold_frac)
    )
    hot = curve_points(book.curves["C3"], tally.hot_frac)
    part = np.clip(
        numbers.comfort_cool_factor * asked.cool_share_frac,
        numbers.comfort_cool_least_frac,
        numbers.comfort_cool_most_frac,
    )
    temperature = (1.0 - part) * cold + part * hot
    draught = curve_points(book.curves["C4"], tally.draught_frac)
    share = np.where(np.isnan(draught), 0.0, numbers.draught_share_frac)
    room = temperature * (1.0 - share) + np.where(np.isnan(draught), 0.0, draught) * share
    regular = np.array([room_.regular for room_ in facts.rooms])
    return _worst_and_mean(room[regular], _mean(room, facts.people_frac), numbers.worst_share_frac)
