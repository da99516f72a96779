"""Whether a unit is in sight: from the main seat as it faces, and from the outside door as one comes in."""

from __future__ import annotations

import math

from compare.air.geometry import Point, bearing_deg, clear_run_m
from compare.house.plan import Plan, WallOpening

SEAT_HALF_DEG = 50.0
ENTRY_HALF_DEG = 35.0
"""Half width of what a person looks at from a sofa and coming in (our judgement)."""


def _turned_deg(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _clear(plan: Plan, rooms: tuple[int, ...], start: Point, end: Point) -> bool:
    """Whether nothing but open space of the rooms lies between two points; walls at the ends may be touched."""
    gap = math.dist(start, end)
    return (
        gap < 0.3 or clear_run_m([plan.rooms[r].outline_m for r in rooms], start, bearing_deg(start, end)) > gap - 0.15
    )


def _inward_deg(plan: Plan, door: WallOpening) -> float:
    """Outlines run counter-clockwise, so the room lies left of the way along its wall."""
    outline = plan.rooms[door.room].outline_m
    middle = ((door.start_m[0] + door.end_m[0]) / 2, (door.start_m[1] + door.end_m[1]) / 2)
    edges = list(zip(outline, outline[1:] + outline[:1], strict=True))

    def off(edge: tuple[Point, Point]) -> float:
        (ax, ay), (bx, by) = edge
        return abs((bx - ax) * (middle[1] - ay) - (by - ay) * (middle[0] - ax)) / math.dist(*edge)

    return (bearing_deg(*min(edges, key=off)) - 90.0) % 360.0


def in_sight_of(plan: Plan, rooms: tuple[int, ...], at: Point) -> tuple[str, ...]:
    """Who sees a unit at a point of an open space: `main seat`, `entry`."""
    found = []
    sofas = [piece for piece in plan.furnishings if piece.room in rooms and piece.kind == "sofa"]
    for sofa in sofas[:1]:
        middle = (sum(x for x, _ in sofa.corners_m) / 4, sum(y for _, y in sofa.corners_m) / 4)
        if _turned_deg(bearing_deg(middle, at), sofa.facing_deg) <= SEAT_HALF_DEG and _clear(plan, rooms, middle, at):
            found.append("main seat")
    for door in plan.wall_openings:
        if not door.door or door.room not in rooms:
            continue
        middle = ((door.start_m[0] + door.end_m[0]) / 2, (door.start_m[1] + door.end_m[1]) / 2)
        way = _inward_deg(plan, door)
        step = (middle[0] + 0.05 * math.sin(math.radians(way)), middle[1] + 0.05 * math.cos(math.radians(way)))
        if _turned_deg(bearing_deg(step, at), way) <= ENTRY_HALF_DEG and _clear(plan, rooms, step, at):
            found.append("entry")
            break
    return tuple(found)
