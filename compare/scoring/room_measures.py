"""C1 to C4, N1 and N2 of one room, each in the room's own hours of use and against its own target."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from compare.house.plan import RoomPlan, Use
from compare.percentile import percentile
from compare.scoring.evidence import FloatArray, RoomEvidence, Source
from compare.scoring.judgements import Judgements
from compare.scoring.season import BoolArray, Season, bed_hours, seat_hours


@dataclass(frozen=True, slots=True)
class RoomMeasures:
    """One room in one option's year. nan where a measure does not exist for the room."""

    index: int
    room: RoomPlan
    source: Source
    open_always: bool
    """Open by day and by night to a space that a unit serves."""
    open_ever: bool
    heat_load_w: float
    cool_load_w: float
    heat_cover: float
    """M1."""
    cool_cover: float
    """M2."""
    morning_c: float
    """Mean temperature at 6 a.m. on the coldest mornings (see `morning_c`)."""
    morning_drop_k: float
    """C1."""
    cold_frac: float
    """C2."""
    hot_frac: float
    """C3."""
    draught_frac: float
    """C4, the worse of bed and seat."""
    bed_dba: float
    """N1."""
    seat_dba: float
    """N2."""
    coldest_night_c: float
    """5th percentile of the room temperature in the coldest 3 % of its night hours; nan unless a bedroom."""
    people_frac: float
    sleepers: float
    """Sleepers, guests at their weight."""
    bed_running_dba: float

    @property
    def judged(self) -> bool:
        """Whether the room has hours of use, so that its comfort counts."""
        return bool(self.room.use_hours)

    @property
    def regular_bedroom(self) -> bool:
        """Whether the fatal and amber rules for bedrooms hold."""
        return self.room.use is Use.BEDROOM and self.room.regular


HELD_ALL_NIGHT = frozenset({Use.LIVING, Use.DINING, Use.KITCHEN})
"""Rooms where people gather are held at the set point day and night, so 6 a.m. is their hour too."""


def morning_hour(room: RoomPlan, numbers: Judgements) -> int:
    """Clock hour at which a room is read on the coldest mornings.

    6 a.m. where the room is slept in, lived in or used then; else its first hour of use after that: what 6 a.m. is to a
    closed bedroom, 9 a.m. is to a closed study.
    """
    six = int(numbers.morning_h)
    if six in room.use_hours or room.use in HELD_ALL_NIGHT or not room.use_hours:
        return six
    return min(room.use_hours, key=lambda hour: (hour - six) % 24)


def morning_c(air_c: FloatArray, room: RoomPlan, season: Season, numbers: Judgements) -> float:
    """Temperature on the coldest mornings at the room's morning hour, their mean."""
    days_c = air_c.reshape(-1, 24)[season.cold_days]
    return math.fsum(days_c[:, morning_hour(room, numbers)].tolist()) / len(days_c)


def share_of(found: BoolArray, base: BoolArray, used: BoolArray) -> float:
    """Hours found / hours of the base, at most 1; against all hours of use where the year has no base hours."""
    hours = int(np.count_nonzero(found))
    against = int(np.count_nonzero(base)) or int(np.count_nonzero(used))
    return min(1.0, hours / against) if against else 0.0


def cold_frac(air_c: FloatArray, room: RoomPlan, season: Season, numbers: Judgements) -> float:
    """Hours of use more than 2 degF under the target / hours of use with outdoors below 60 degF."""
    used = season.in_hours(room.use_hours)
    return share_of(used & (air_c < room.target_c - numbers.cold_margin_k), used & season.cool_enough, used)


def hot_frac(air_c: FloatArray, cool_set_c: float, room: RoomPlan, season: Season, numbers: Judgements) -> float:
    """Hours of use more than 2.5 degF over the cooling set point / hours of use in the warm season."""
    used = season.in_hours(room.use_hours)
    return share_of(used & (air_c > cool_set_c + numbers.hot_margin_k), used & season.warm, used)


def mean_level_dba(levels_dba: FloatArray) -> FloatArray:
    """LAeq along the last axis: the level of the mean sound energy."""
    return np.asarray(10.0 * np.log10(np.mean(10.0 ** (levels_dba / 10.0), axis=-1)), dtype=np.float64)


def percentile_level_dba(levels_dba: FloatArray, hours: frozenset[int], season: Season, numbers: Judgements) -> float:
    """LAeq of each night (or evening), and of these the 95th percentile."""
    nights_dba = mean_level_dba(season.by_turn(levels_dba, hours))
    return percentile(nights_dba, 100.0 * numbers.high_percentile_frac)


def coldest_night_c(air_c: FloatArray, hours: frozenset[int], season: Season, numbers: Judgements) -> float:
    """5th percentile of the room temperature in the coldest 3 % of these hours by outdoor temperature."""
    where = season.coldest(hours, numbers.coldest_night_frac)
    return percentile(air_c[where], 100.0 * numbers.coldest_night_percentile_frac)


def weighted_sleepers(room: RoomPlan, numbers: Judgements) -> float:
    """Sleepers of a room; a guest counts a tenth."""
    return math.fsum(
        bed.sleepers * (1.0 if bed.regular and room.regular else numbers.guest_weight) for bed in room.beds
    )


def _check(found: RoomEvidence, hours: int) -> None:
    name = found.room.name
    for label, values in (("air_c", found.air_c), ("bed_dba", found.bed_dba), ("seat_dba", found.seat_dba)):
        if values is None:
            continue
        if values.shape != (hours,):
            raise ValueError(f"{name}: {label} has shape {values.shape}: give one value for each of {hours} hours")
        if not np.isfinite(values).all():
            raise ValueError(f"{name}: {label} holds values that are not finite")
    if not (found.heat_load_w >= 0.0 and found.cool_load_w >= 0.0 and found.people_frac >= 0.0):
        raise ValueError(f"{name}: heat_load_w, cool_load_w and people_frac must be numbers not below 0")


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """What the worst bed and the worst seat of a room get, as in `RoomEvidence`."""

    room: RoomPlan
    bed_dba: FloatArray | None
    seat_dba: FloatArray | None
    bed_draught_frac: float
    seat_draught_frac: float


def with_pieces(before: RoomMeasures, pieces: Pieces, season: Season, numbers: Judgements) -> RoomMeasures:
    """The same year's measures with the room's beds and seats elsewhere."""
    return replace(
        before,
        room=pieces.room,
        sleepers=weighted_sleepers(pieces.room, numbers),
        draught_frac=_worst_draught(pieces),
        bed_dba=_level_dba(pieces.bed_dba, bed_hours(pieces.room, numbers), season, numbers),
        seat_dba=_level_dba(pieces.seat_dba, seat_hours(pieces.room, numbers), season, numbers),
    )


def _worst_draught(pieces: Pieces) -> float:
    found = [d for d in (pieces.bed_draught_frac, pieces.seat_draught_frac) if not math.isnan(d)]
    return max(found) if found else math.nan


def _level_dba(levels_dba: FloatArray | None, hours: frozenset[int], season: Season, numbers: Judgements) -> float:
    return math.nan if levels_dba is None else percentile_level_dba(levels_dba, hours, season, numbers)


def measure_room(index: int, found: RoomEvidence, season: Season, numbers: Judgements) -> RoomMeasures:
    """Every measure of one room.

    Raises
    ------
    ValueError
        For arrays of the wrong length or with missing values, or negative loads.
    """
    _check(found, season.outdoor_c.shape[0])
    room, air_c = found.room, found.air_c
    nan = math.nan
    used = bool(room.use_hours)
    at_six_c = morning_c(air_c, room, season, numbers) if used else nan
    nights = bed_hours(room, numbers)
    pieces = Pieces(room, found.bed_dba, found.seat_dba, found.bed_draught_frac, found.seat_draught_frac)
    return RoomMeasures(
        index=index,
        room=room,
        source=found.source,
        open_always=found.open_by_day and found.open_by_night,
        open_ever=found.open_by_day or found.open_by_night,
        heat_load_w=found.heat_load_w,
        cool_load_w=found.cool_load_w,
        heat_cover=found.heat_cover_frac,
        cool_cover=found.cool_cover_frac,
        morning_c=at_six_c,
        morning_drop_k=max(0.0, room.target_c - at_six_c) if used else nan,
        cold_frac=cold_frac(air_c, room, season, numbers) if used else nan,
        hot_frac=hot_frac(air_c, found.cool_set_c, room, season, numbers) if used else nan,
        draught_frac=_worst_draught(pieces),
        bed_dba=_level_dba(pieces.bed_dba, nights, season, numbers),
        seat_dba=_level_dba(pieces.seat_dba, seat_hours(room, numbers), season, numbers),
        coldest_night_c=coldest_night_c(air_c, nights, season, numbers) if room.use is Use.BEDROOM else nan,
        people_frac=found.people_frac,
        sleepers=weighted_sleepers(room, numbers),
        bed_running_dba=found.bed_running_dba,
    )
