"""What windows, doors, furniture and low walls leave of a room for a unit: plain reasons against a place."""

from __future__ import annotations

import math
from itertools import pairwise

from compare.air.geometry import Point, Wall, inside, nearest_on, unit_vector
from compare.air.tables import constant
from compare.house.plan import Furnishing, LinkKind, Plan, WallOpening

RULES = "siting_rules"
ON_WALL_M = 0.1


def openings_in(plan: Plan, room: int, wall: Wall) -> list[tuple[float, float, WallOpening]]:
    """Windows and outside doors of a stretch of wall as (from, to) along it, in order."""
    found = []
    for opening in plan.wall_openings:
        ends = (opening.start_m, opening.end_m)
        if opening.room == room and all(math.dist(nearest_on(wall.a, wall.b, p), p) <= ON_WALL_M for p in ends):
            low, high = sorted(math.dist(wall.a, nearest_on(wall.a, wall.b, p)) for p in ends)
            found.append((low, high, opening))
    return sorted(found, key=lambda item: item[:2])


def free_middles(plan: Plan, room: int, wall: Wall, width_m: float) -> list[float]:
    """Middles of the stretches between openings that are wide enough, as distances along the wall."""
    margin = constant("corner_margin_m", RULES)
    edges = [(0.0, 0.0), *((low, high) for low, high, _ in openings_in(plan, room, wall)), (wall.length_m,) * 2]
    out = []
    for (_, low), (high, _) in pairwise(edges):
        if high - low >= width_m + 2 * margin:
            out.append((low + high) / 2)
    return out


def opening_reason(plan: Plan, room: int, kind: str, spot: tuple[Wall, Point], half_m: float) -> str | None:
    """Why windows and outside doors rule a place out.

    A wall head over a window has no wall to drill but the header, and hangs behind the curtains; a floor unit fits
    under a sill that is higher than its cabinet.
    """
    wall, at = spot
    here = math.dist(wall.a, nearest_on(wall.a, wall.b, at))
    for low, high, opening in openings_in(plan, room, wall):
        if low - half_m < here < high + half_m:
            if opening.door:
                return "above a door" if kind == "wall_head" else "in front of a door"
            if kind == "wall_head":
                return "over a window: curtains, and the header is not to be drilled"
            if opening.sill_m < constant("console_height_m", RULES):
                return "a window with a low sill is behind it"
    return None


def low_wall_reason(plan: Plan, room: int, kind: str) -> str | None:
    """A head under the ceiling needs its height over heads and furniture."""
    if kind == "wall_head" and plan.rooms[room].height_m < constant("head_ceiling_m", RULES):
        return "wall too low for a head"
    return None


def front_reason(plan: Plan, room: int, spot: tuple[Wall, Point], width_m: float) -> str | None:
    """Furniture or a door swing in the free floor that a floor unit needs."""
    wall, at = spot
    floor = _floor_before(wall, at, width_m)
    for piece in plan.furnishings:
        if piece.room == room and _meets(floor, piece):
            return f"{piece.kind} in front of it"
    for link in plan.links:
        if (
            link.kind is LinkKind.DOOR
            and room in (link.a, link.b)
            and _swings_over(floor, (link.x_m, link.y_m), link.width_m)
        ):
            return "in the swing of a door"
    return None


def _floor_before(wall: Wall, at: Point, width_m: float) -> tuple[Point, Point, float, float]:
    """Middle of the free floor's front edge on the wall, the way into the room, half width and depth."""
    return at, unit_vector(wall.inward_deg), width_m / 2, constant("console_front_m", RULES)


def _holds(floor: tuple[Point, Point, float, float], point: Point) -> bool:
    at, way, half, deep = floor
    east, north = point[0] - at[0], point[1] - at[1]
    ahead, aside = east * way[0] + north * way[1], east * way[1] - north * way[0]
    return 0.0 <= ahead <= deep and abs(aside) <= half


def _meets(floor: tuple[Point, Point, float, float], piece: Furnishing) -> bool:
    """Whether floor and furniture overlap: a corner, a middle or an edge point of one lies in the other."""
    corners = piece.corners_m
    spots = [
        *corners,
        *(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)),
    ]
    if any(_holds(floor, spot) for spot in spots):
        return True
    at, way, half, deep = floor
    grid = [(ahead * deep, aside * half) for ahead in (0.1, 0.5, 1.0) for aside in (-1.0, -0.5, 0.0, 0.5, 1.0)]
    return any(inside((at[0] + a * way[0] + s * way[1], at[1] + a * way[1] - s * way[0]), corners) for a, s in grid)


def _swings_over(floor: tuple[Point, Point, float, float], door: Point, width_m: float) -> bool:
    at, way, half, deep = floor
    east, north = door[0] - at[0], door[1] - at[1]
    ahead = min(max(east * way[0] + north * way[1], 0.0), deep)
    aside = min(max(east * way[1] - north * way[0], -half), half)
    spot = (at[0] + ahead * way[0] + aside * way[1], at[1] + ahead * way[1] - aside * way[0])
    return math.dist(spot, door) < width_m
