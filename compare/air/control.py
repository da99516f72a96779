"""Where the control of a unit hangs: on an inside wall, out of supply air, sun and the way of outside doors."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from compare.air.blocked import openings_in
from compare.air.geometry import Point, Wall, nearest_on, walls
from compare.air.tables import constant
from compare.house.plan import LinkKind, Plan

RULES = "siting_rules"
STEPS = 8
AWAY_POINTS = 4.0
SPEED_POINTS = 40.0
OUTSIDE_WALL_POINTS = 10.0


@dataclass(frozen=True, slots=True)
class ControlPlace:
    """A place for a control, 60 in. or so over the floor; `speed_m_s` is the unit's air there."""

    room: int
    x_m: float
    y_m: float
    speed_m_s: float
    note: str


def _from_openings_m(plan: Plan, room: int, at: Point, *, doors: bool) -> float:
    """Distance to the room's nearest window, or outside door."""
    found = [
        math.dist(nearest_on(opening.start_m, opening.end_m, at), at)
        for opening in plan.wall_openings
        if opening.room == room and opening.door == doors
    ]
    return min(found, default=math.inf)


def _spots(plan: Plan, room: int, wall: Wall) -> list[Point]:
    """Points along a wall that are off its corners, its inside doors and its windows."""
    margin = constant("control_margin_m", RULES)
    taken = [(low, high) for low, high, _ in openings_in(plan, room, wall)]
    for link in plan.links:
        if room in (link.a, link.b) and link.kind is not LinkKind.STAIR:
            near = nearest_on(wall.a, wall.b, (link.x_m, link.y_m))
            if math.dist(near, (link.x_m, link.y_m)) < 0.4:
                along = math.dist(wall.a, near)
                taken.append((along - link.width_m / 2, along + link.width_m / 2))
    out = []
    for step in range(1, STEPS):
        along = wall.length_m * step / STEPS
        if margin <= along <= wall.length_m - margin and all(not a - margin < along < b + margin for a, b in taken):
            out.append(wall.at(along))
    return out


def _points(plan: Plan, room: int, wall: Wall, at: Point, speed_m_s: float) -> float:
    clear = constant("control_clear_m", RULES)
    window = max(0.0, clear - _from_openings_m(plan, room, at, doors=False))
    door = max(0.0, clear - _from_openings_m(plan, room, at, doors=True))
    air = max(0.0, speed_m_s - constant("still_air_m_s"))
    return AWAY_POINTS * (window + door) + SPEED_POINTS * air + (OUTSIDE_WALL_POINTS if wall.outside else 0.0)


def control_place(
    plan: Plan,
    room: int,
    speed_at: Callable[[Point], float],
    outlets: Sequence[Point] = (),
    plan_north_deg: float = 0.0,
) -> ControlPlace:
    """The best place on a room's walls, off its supply `outlets`; `speed_at` gives the unit's air speed at a point."""
    clear = constant("control_clear_m", RULES)
    trials = []
    for wall in walls(plan, room, plan_north_deg):
        for at in _spots(plan, room, wall):
            speed = speed_at(at)
            near = min((math.dist(at, outlet) for outlet in outlets), default=math.inf)
            points = _points(plan, room, wall, at, speed) + AWAY_POINTS * max(0.0, clear - near)
            trials.append((round(points, 6), at, wall.outside, speed))
    if not trials:
        outline = plan.rooms[room].outline_m
        return ControlPlace(room, *outline[0], 0.0, "no free wall: set it on the hand control")
    _, at, outside, speed = min(trials)
    note = (
        "on an outside wall: insulate behind it" if outside else "inside wall, out of supply air, sun and outside doors"
    )
    if speed > constant("control_speed_m_s", RULES):
        note = f"the unit's air reaches it at {speed:.2f} m/s: use a remote sensor"
    return ControlPlace(room, *at, speed, note)
