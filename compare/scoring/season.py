"""Which hours of the year a measure looks at: parts of the day, warm season, coldest mornings and night hours."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.house.plan import RoomPlan, Use
from compare.scoring.evidence import Calendar
from compare.scoring.judgements import Judgements

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]

DAY_H = 24


def clock_hours(from_h: float, to_h: float) -> frozenset[int]:
    """Clock hours from `from_h` up to `to_h`, over midnight when `to_h` is not the later one."""
    start, end = int(from_h), int(to_h)
    length = (end - start) % DAY_H or DAY_H
    return frozenset((start + k) % DAY_H for k in range(length))


def first_hour(hours: Iterable[int]) -> int:
    """The hour that opens a part of the day: the one after the longest pause (the earliest of equals)."""
    used = sorted(set(hours))
    if not used or len(used) == DAY_H:
        return 0
    pauses = [((hour - used[k - 1]) % DAY_H or DAY_H, -hour) for k, hour in enumerate(used)]
    return -max(pauses)[1]


@dataclass(frozen=True, slots=True, eq=False)
class Season:
    """Masks over the hours of one weather year. D days, H = 24 D hours."""

    outdoor_c: FloatArray
    clock_h: IntArray
    cool_enough: BoolArray
    """(H,) outdoors below the limit against which cold hours are counted."""
    warm: BoolArray
    """(H,) in the warm season."""
    mild: BoolArray
    """(H,) mild outdoors, for starts an hour."""
    cold_days: IntArray
    """Day indices of the coldest mornings, coldest first."""

    def in_hours(self, hours: frozenset[int]) -> BoolArray:
        """(H,) mask of these clock hours."""
        return _in_hours(self.outdoor_c.shape[0] // DAY_H, hours)

    def by_turn(self, values: FloatArray, hours: frozenset[int]) -> FloatArray:
        """(D, n) values of these clock hours, one row for each turn; a night is one turn, from evening to morning.

        The year is a ring: the night of its last day ends with the morning of its first.
        """
        return values[_turns(values.shape[0], hours)]

    def coldest(self, hours: frozenset[int], share_frac: float) -> IntArray:
        """Indices of the coldest share of these clock hours, by outdoor temperature; at least one."""
        return _coldest(self, hours, share_frac)


@lru_cache(maxsize=64)
def _in_hours(days: int, hours: frozenset[int]) -> BoolArray:
    """The same for every room and option that asks."""
    chosen = np.zeros(DAY_H, dtype=np.bool_)
    chosen[sorted(hours)] = True
    found = np.tile(chosen, days)
    found.flags.writeable = False
    return found


@lru_cache(maxsize=64)
def _turns(count: int, hours: frozenset[int]) -> IntArray:
    """(D, n) places of these clock hours among all hours, one row for each turn."""
    start = first_hour(hours)
    rows = np.roll(np.arange(count), -start).reshape(-1, DAY_H)
    found = rows[:, sorted((hour - start) % DAY_H for hour in hours)]
    found.flags.writeable = False
    return found


@lru_cache(maxsize=64)
def _coldest(year: Season, hours: frozenset[int], share_frac: float) -> IntArray:
    """The same for every room and option that asks."""
    where = np.flatnonzero(year.in_hours(hours))
    order = np.argsort(year.outdoor_c[where], kind="stable")
    found = np.asarray(where[order[: max(1, round(share_frac * where.size))]], dtype=np.int64)
    found.flags.writeable = False
    return found


def season(calendar: Calendar, numbers: Judgements) -> Season:
    """Masks of one weather year.

    Raises
    ------
    ValueError
        When the year is not made of whole days of finite temperatures.
    """
    outdoor_c = np.asarray(calendar.outdoor_c, dtype=np.float64)
    if outdoor_c.ndim != 1 or outdoor_c.size == 0 or outdoor_c.size % DAY_H:
        raise ValueError(f"calendar.outdoor_c has shape {outdoor_c.shape}: give whole days of 24 hours")
    if not np.isfinite(outdoor_c).all():
        raise ValueError("calendar.outdoor_c holds values that are not finite: fill gaps of the weather file first")
    days_c = outdoor_c.reshape(-1, DAY_H)
    morning_c = days_c[:, int(numbers.morning_h)]
    count = min(math.ceil(numbers.coldest_mornings), morning_c.size)
    warm_days = days_c.mean(axis=1) >= numbers.warm_day_from_c
    return Season(
        outdoor_c=outdoor_c,
        clock_h=calendar.clock_h,
        cool_enough=outdoor_c < numbers.heating_season_below_c,
        warm=np.repeat(warm_days, DAY_H),
        mild=(outdoor_c >= numbers.mild_from_c) & (outdoor_c <= numbers.mild_to_c),
        cold_days=np.argsort(morning_c, kind="stable")[:count].astype(np.int64),
    )


def bed_hours(room: RoomPlan, numbers: Judgements) -> frozenset[int]:
    """Hours in which a pillow is judged: the night hours of the room's use, else its use hours (a day sleeper's
    bedroom), else the night.
    """
    night = clock_hours(numbers.night_from_h, numbers.night_to_h)
    if room.use_hours & night:
        return room.use_hours & night
    return room.use_hours if room.use is Use.BEDROOM and room.use_hours else night


def seat_hours(room: RoomPlan, numbers: Judgements) -> frozenset[int]:
    """Hours in which a seat is judged: the evening hours of the room's use, else its use hours, else the evening."""
    evening = clock_hours(numbers.evening_from_h, numbers.evening_to_h)
    return (room.use_hours & evening) or room.use_hours or evening
