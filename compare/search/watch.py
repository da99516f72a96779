"""What is counted of a house and when: hours of use, the coldest mornings and nights, who hears what."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import Use
from compare.percentile import percentiles
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import morning_hour
from compare.scoring.season import Season, bed_hours
from compare.search.listeners import Listener, hour_sets
from compare.years.case import HouseCase

LaneArray = npt.NDArray[np.float32]
FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Watch:
    """What is counted and when, for one house."""

    listeners: tuple[Listener, ...]
    sets: tuple[frozenset[int], ...]
    """Distinct hours of the listeners."""
    row: npt.NDArray[np.int32]
    """(H,) row of the watched hour, -1 where none."""
    hours: IntArray
    """Watched hours."""
    use: npt.NDArray[np.uint8]
    """(R, 24)"""
    cold_under_c: LaneArray
    hot_over_c: LaneArray
    coldest: dict[int, IntArray]
    """For each bedroom the rows of its coldest night hours."""
    coldest_percentile: float
    """That of these hours that counts."""
    mornings: IntArray
    """(R, days) rows of each room's hour on the coldest days."""
    early: IntArray
    """(days,) rows of the early hour of these days that all rooms are read at."""

    def read(self, watched_c: LaneArray) -> FloatArray:
        """Each room on the coldest mornings at its own hour, at the early hour, and in the coldest nights.

        Parameters
        ----------
        watched_c
            (W, R, N) temperatures in the watched hours.

        Returns
        -------
        (3, R, N); nan for the nights of a room that is no bedroom.
        """
        found = np.full((3, *watched_c.shape[1:]), np.nan)
        for room, rows in enumerate(self.mornings):
            found[0, room] = watched_c[rows, room].mean(axis=0, dtype=np.float64)
        found[1] = watched_c[self.early].mean(axis=0, dtype=np.float64)
        for room, rows in self.coldest.items():
            found[2, room] = percentiles(watched_c[rows, room].astype(np.float64), self.coldest_percentile)
        return found


def watch_of(case: HouseCase, season: Season, numbers: Judgements, listeners: tuple[Listener, ...]) -> Watch:
    """What is counted in this house."""
    rooms = case.plan.rooms
    hours = season.outdoor_c.shape[0]
    mornings = season.cold_days[:, None] * 24 + np.arange(24)[None, :]
    nights = {
        i: season.coldest(bed_hours(room, numbers), numbers.coldest_night_frac)
        for i, room in enumerate(rooms)
        if room.use is Use.BEDROOM
    }
    wanted = np.unique(np.concatenate([mornings.ravel(), *nights.values()]))
    row = np.full(hours, -1, dtype=np.int32)
    row[wanted] = np.arange(wanted.size)
    return Watch(
        listeners=listeners,
        sets=hour_sets(listeners),
        row=row,
        hours=wanted,
        use=np.array([[h in room.use_hours for h in range(24)] for room in rooms], dtype=np.uint8),
        cold_under_c=np.array([room.target_c - numbers.cold_margin_k for room in rooms], dtype=np.float32),
        hot_over_c=np.full(len(rooms), case.house.comfort.cooling_c + numbers.hot_margin_k, dtype=np.float32),
        coldest={room: np.asarray(row[where], dtype=np.int64) for room, where in nights.items()},
        coldest_percentile=100.0 * numbers.coldest_night_percentile_frac,
        mornings=np.array([row[mornings[:, morning_hour(room, numbers)]] for room in rooms], dtype=np.int64),
        early=np.asarray(row[mornings[:, int(numbers.morning_h)]], dtype=np.int64),
    )
