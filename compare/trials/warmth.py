"""Why a room stays cold or hot in a layout: by its way to the nearest unit, and by the same layout with its doors open.

The doors are not argued about but opened: the layout is run once more with every door open day and night and a unit for
all that then lean on it, and what a room gains by that tells a shut door from a long way.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.house.plan import Link, LinkKind, Plan
from compare.physics.assemble import relinearised
from compare.physics.door_states import night_mask
from compare.physics.network import YearTrace
from compare.scoring.season import Season
from compare.years.case import HouseCase
from compare.years.moments import MORNING_H, hot_hour, hottest_days
from compare.zones.attach import OPEN_HALF

FloatArray = npt.NDArray[np.float64]

SMALL_K = 0.5
"""A gain by open doors below this counts as none (the limit of the plan's first tint)."""


@dataclass(frozen=True, slots=True, eq=False)
class Moments:
    """(R,) room temperatures of the coldest mornings at 6, and of the hottest days at the hour that counts."""

    morning_c: FloatArray
    hot_c: FloatArray


@dataclass(frozen=True, slots=True)
class Way:
    """The way from a room to the nearest room with a supply, over doors whether they are shut or not."""

    links: tuple[Link, ...]
    length_m: float
    end: int
    """The room with the supply."""

    def shut(self, *, night: bool) -> tuple[Link, ...]:
        """Its doors that are shut at that time of day."""
        return tuple(link for link in self.links if link.kind is LinkKind.DOOR and link.open_frac(night) < OPEN_HALF)

    @property
    def stairs(self) -> int:
        """Stairs on it."""
        return sum(link.kind is LinkKind.STAIR for link in self.links)


def moments_of(plan: Plan, season: Season, trace: YearTrace) -> Moments:
    """Both moments of a run, as the cards take them."""
    days = trace.room_c.astype(np.float64).reshape(-1, 24, len(plan.rooms))
    hottest = hottest_days(season)
    hot = [float(days[hottest, hot_hour(room), index].mean()) for index, room in enumerate(plan.rooms)]
    return Moments(days[season.cold_days, MORNING_H].mean(axis=0), np.array(hot))


def opened(case: HouseCase, trace: YearTrace) -> HouseCase:
    """The same house with every inside door open, its open-door law at the temperatures of a run."""
    links = tuple(
        replace(link, day_open_frac=1.0, night_open_frac=1.0) if link.kind is LinkKind.DOOR else link
        for link in case.plan.links
    )
    plan = replace(case.plan, links=links)
    room_c = trace.room_c.astype(np.float64)
    network = relinearised(case.network, plan, case.weather.site.elevation_m, case.network_options, room_c)
    return replace(case, plan=plan, network=network)


def arriving_w(case: HouseCase, season: Season, trace: YearTrace) -> FloatArray:
    """(R,) heat that each room gets through its inside walls and doors at 6 on the coldest mornings.

    At the conductances of the house's network; what neighbours take is negative.
    """
    hours = season.cold_days * 24 + MORNING_H
    room_c = trace.room_c[hours].astype(np.float64)
    links = case.network.link_w_k[case.network.door_state[hours]]
    flow = np.einsum("hij,hj->hi", links, room_c) - links.sum(axis=2) * room_c
    return np.asarray(flow.mean(axis=0))


def way_to_supply(plan: Plan, room: int, served: Iterable[int]) -> Way | None:
    """The shortest way from a room to a served one; None where no door leads there."""
    goals = frozenset(served)
    queue: list[tuple[float, int, tuple[int, ...]]] = [(0.0, room, ())]
    done: set[int] = set()
    while queue:
        length_m, here, path = heapq.heappop(queue)
        if here in goals:
            return Way(tuple(plan.links[index] for index in path), length_m, here)
        if here in done:
            continue
        done.add(here)
        for index, link in enumerate(plan.links):
            if here in (link.a, link.b):
                other = link.b if link.a == here else link.a
                if other not in done:
                    leg_m = _leg_m(plan, here, link) + _leg_m(plan, other, link)
                    heapq.heappush(queue, (length_m + leg_m, other, (*path, index)))
    return None


def _leg_m(plan: Plan, room: int, link: Link) -> float:
    corners: Sequence[tuple[float, float]] = plan.rooms[room].outline_m
    x_m, y_m = (sum(corner[axis] for corner in corners) / len(corners) for axis in (0, 1))
    return abs(x_m - link.x_m) + abs(y_m - link.y_m)


def cause_of(way: Way | None, gap_k: float, gained_k: float, *, night: bool, served: bool) -> str:
    """Why a room stays away from what it should have, as a word.

    `short` its own unit is too small; `walls` no door leads to a unit; `door` its doors are shut, and open ones would
    do; `door_and_way` open doors help and are not enough; `stairs`, `way` the way is open and too long.
    """
    if served:
        return "short"
    if way is None:
        return "walls"
    if way.shut(night=night):
        return "door" if gained_k >= gap_k - SMALL_K else "door_and_way"
    return "stairs" if way.stairs else "way"


def is_night(hour: int) -> bool:
    """Whether doors stand as at night at a clock hour."""
    return bool(night_mask(24)[hour])


def gap_k(value_c: float, target_c: float | None, *, hot: bool) -> float:
    """How far a room is from what it should have, in kelvin; below 0 where it has more; -inf without a target."""
    if target_c is None or math.isnan(value_c):
        return -math.inf
    return value_c - target_c if hot else target_c - value_c
