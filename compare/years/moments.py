"""What a card tells of each room's year: coldest mornings and evenings, and hottest days at the hour that counts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import Plan, RoomPlan, Use
from compare.scoring.season import Season

IntArray = npt.NDArray[np.int64]

MORNING_H, EVENING_H, AFTERNOON_H, LATE_EVENING_H = 6, 19, 16, 22
HOT_DAYS = 4
"""As many hottest days as there are coldest mornings: 1 % of the year."""


@dataclass(frozen=True, slots=True)
class RoomMoments:
    """Mean temperatures of one room."""

    morning_c: float
    """At 6 on the coldest mornings."""
    evening_c: float
    """At 7 p.m. of the same days."""
    hot_c: float
    """On the hottest days: late in the evening in a bedroom, else in the afternoon."""


def room_moments(plan: Plan, season: Season, room_c: npt.NDArray[np.float32]) -> tuple[RoomMoments, ...]:
    """The moments of every room from the temperatures of a run, (H, R)."""
    hottest, cold = hottest_days(season), season.cold_days
    days_c = room_c.reshape(-1, 24, len(plan.rooms))

    def means_c(days: IntArray, hour: int) -> list[float]:
        return [float(mean_c) for mean_c in days_c[days, hour].mean(axis=0, dtype=np.float64)]

    morning_c, evening_c = means_c(cold, MORNING_H), means_c(cold, EVENING_H)
    hot_c = {hour: means_c(hottest, hour) for hour in (AFTERNOON_H, LATE_EVENING_H)}
    return tuple(
        RoomMoments(morning_c[index], evening_c[index], hot_c[hot_hour(room)][index])
        for index, room in enumerate(plan.rooms)
    )


def hottest_days(season: Season) -> IntArray:
    """Indices of the hottest days, hottest first."""
    outdoor = season.outdoor_c.reshape(-1, 24)
    return np.asarray(np.argsort(-outdoor.max(axis=1), kind="stable")[:HOT_DAYS], dtype=np.int64)


def hot_hour(room: RoomPlan) -> int:
    """Clock hour at which a room's heat is told."""
    return LATE_EVENING_H if room.use is Use.BEDROOM else AFTERNOON_H
