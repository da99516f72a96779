"""The walls of a house as somebody points at them: which room, which stretch, where along it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.geometry import Point, Wall, inside, nearest_on, walls
from compare.air.places import COMPASS
from compare.house.plan import Plan

BEYOND_M = 0.3
"""As far behind a wall as the room on its other side is looked for."""
NEAR_M = 0.8
"""As far outside every room as a point still means the nearest wall."""
LEAST_WALL_M = 0.5
"""Shorter stretches are passed over (our judgement)."""


@dataclass(frozen=True, slots=True)
class WallSpot:
    """A place on a wall. `wall` counts the stretches of the room's walls; without `along_frac` the best place on it."""

    room: int
    wall: int
    along_frac: float | None = None


@dataclass(frozen=True, slots=True)
class WallSide:
    """One stretch of a room's wall: the way it faces outward, and the room behind it."""

    room: int
    number: int
    wall: Wall
    facing: str
    beyond: int | None
    """None where it is outdoors, a garage or a neighbour."""


def wall_sides(plan: Plan, room: int, plan_north_deg: float) -> tuple[WallSide, ...]:
    """The stretches of a room's walls that are long enough to speak of, numbered as `compare.air.geometry.walls`."""
    found = []
    for number, wall in enumerate(walls(plan, room, plan_north_deg)):
        if wall.length_m >= LEAST_WALL_M:
            facing = COMPASS[round((wall.inward_deg + 180.0 + plan_north_deg) % 360.0 / 45.0) % 8]
            found.append(WallSide(room, number, wall, facing, _beyond(plan, room, wall)))
    return tuple(found)


def side_of(plan: Plan, spot: WallSpot, plan_north_deg: float) -> WallSide:
    """The stretch that a spot lies on.

    Raises
    ------
    ValueError
        For a room or a wall that the house does not have, or a share outside 0 to 1.
    """
    if not 0 <= spot.room < len(plan.rooms):
        raise ValueError(f"room {spot.room}: the house has rooms 0 to {len(plan.rooms) - 1}")
    if spot.along_frac is not None and not 0.0 <= spot.along_frac <= 1.0:
        raise ValueError(f"along_frac {spot.along_frac:g}: a place on a wall is a share from 0 to 1")
    for side in wall_sides(plan, spot.room, plan_north_deg):
        if side.number == spot.wall:
            return side
    raise ValueError(f"wall {spot.wall}: room {spot.room} has no such wall")


def spot_at(plan: Plan, level: int, at_m: Point, plan_north_deg: float) -> WallSpot | None:
    """The wall that somebody means who points at the plan; None far from every room.

    Inside a room it is the nearest wall of that room, so that either side of an inside wall can be meant.
    """
    room = _room_at(plan, level, at_m)
    sides = () if room is None else wall_sides(plan, room, plan_north_deg)
    if not sides:
        return None
    side = min(sides, key=lambda one: math.dist(nearest_on(one.wall.a, one.wall.b, at_m), at_m))
    foot = nearest_on(side.wall.a, side.wall.b, at_m)
    return WallSpot(side.room, side.number, round(math.dist(side.wall.a, foot) / side.wall.length_m, 3))


def _room_at(plan: Plan, level: int, at_m: Point) -> int | None:
    here = [index for index, room in enumerate(plan.rooms) if room.level == level]
    within = [index for index in here if inside(at_m, plan.rooms[index].outline_m)]
    if within:
        return within[0]
    near = [(away_m(plan.rooms[index].outline_m, at_m), index) for index in here]
    least_m, room = min(near, default=(math.inf, -1))
    return room if least_m <= NEAR_M else None


def away_m(outline_m: tuple[Point, ...], at_m: Point) -> float:
    """Distance from a point to the nearest edge of an outline."""
    ends = zip(outline_m, outline_m[1:] + outline_m[:1], strict=True)
    return min(math.dist(nearest_on(a, b, at_m), at_m) for a, b in ends)


def _beyond(plan: Plan, room: int, wall: Wall) -> int | None:
    middle, turn = wall.at(wall.length_m / 2.0), math.radians(wall.inward_deg)
    behind = (middle[0] - BEYOND_M * math.sin(turn), middle[1] - BEYOND_M * math.cos(turn))
    level = plan.rooms[room].level
    others = (index for index, other in enumerate(plan.rooms) if index != room and other.level == level)
    return next((index for index in others if inside(behind, plan.rooms[index].outline_m)), None)
