"""Plain plan geometry for placing things: walls, outside stretches, rays, nearest points. Metres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from compare.house.plan import Boundary, Plan, RoomPlan, SurfaceKind

Point = tuple[float, float]
Outline = tuple[Point, ...]
Edge = tuple[Point, Point]
Stretch = tuple[float, float, bool]
"""Of an edge: from, to, and whether no other room runs beside it."""
GAP_M = 0.25
"""Rooms whose walls run within this distance share a wall."""
LEAST_M = 0.05


@dataclass(frozen=True, slots=True)
class Wall:
    """A straight stretch of a room's wall, `inward_deg` the plan bearing into the room."""

    a: Point
    b: Point
    inward_deg: float
    outside: bool

    @property
    def length_m(self) -> float:
        """Length of the stretch."""
        return math.dist(self.a, self.b)

    def at(self, along_m: float) -> Point:
        """The point a distance from `a` along the wall."""
        share = along_m / self.length_m
        return self.a[0] + share * (self.b[0] - self.a[0]), self.a[1] + share * (self.b[1] - self.a[1])


def bearing_deg(a: Point, b: Point) -> float:
    """Plan bearing from a to b, 0 = plan-north (y), 90 = east (x)."""
    return math.degrees(math.atan2(b[0] - a[0], b[1] - a[1])) % 360


def unit_vector(bearing: float) -> Point:
    """East and north parts of a plan bearing."""
    turn = math.radians(bearing)
    return math.sin(turn), math.cos(turn)


def inside(point: Point, outline: Outline) -> bool:
    """Whether a point lies inside an outline."""
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            found = not found
    return found


def centre(outline: Outline) -> Point:
    """Centroid of an outline by area."""
    area = x_sum = y_sum = 0.0
    for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1], strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross
        x_sum += (x0 + x1) * cross
        y_sum += (y0 + y1) * cross
    if abs(area) < 1e-9:
        raise ValueError("outline_m encloses no area; give at least three corners that are not on one line")
    return x_sum / (3 * area), y_sum / (3 * area)


def nearest_on(a: Point, b: Point, point: Point) -> Point:
    """The point of the segment a-b nearest to `point`."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    span = dx * dx + dy * dy
    share = 0.0 if span == 0 else ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / span
    share = min(max(share, 0.0), 1.0)
    return a[0] + share * dx, a[1] + share * dy


def edges(room: RoomPlan) -> list[Edge]:
    """Edges of a room, counter-clockwise."""
    return _edges(room.outline_m)


def _edges(outline: Outline) -> list[Edge]:
    return list(zip(outline, outline[1:] + outline[:1], strict=True))


def _overlap(edge: Edge, other: Edge) -> tuple[float, float] | None:
    """Stretch of `edge` (distance from its start) that runs beside `other` within the gap."""
    (ax, ay), (bx, by) = edge
    length = math.dist(*edge)
    ux, uy = (bx - ax) / length, (by - ay) / length
    spots = [((px - ax) * ux + (py - ay) * uy, (py - ay) * ux - (px - ax) * uy) for px, py in other]
    if any(abs(off) > GAP_M for _, off in spots):
        return None
    low, high = sorted(along for along, _ in spots)
    low, high = max(low, 0.0), min(high, length)
    return (low, high) if high - low > LEAST_M else None


def _free_stretches(edge: Edge, taken: list[tuple[float, float]]) -> tuple[Stretch, ...]:
    """Stretches of an edge, in order."""
    length = math.dist(*edge)
    cuts = sorted({0.0, length, *(low for low, _ in taken), *(high for _, high in taken)})
    out = []
    for low, high in pairwise(cuts):
        if high - low > LEAST_M:
            middle = (low + high) / 2
            out.append((low, high, not any(a <= middle <= b for a, b in taken)))
    return tuple(out)


def _faces_outdoors(room: RoomPlan, outward_deg: float, plan_north_deg: float) -> bool:
    walls = [s for s in room.surfaces if s.kind in (SurfaceKind.WALL, SurfaceKind.WINDOW, SurfaceKind.DOOR)]
    if not walls:
        return True
    true_deg = outward_deg + plan_north_deg
    return any(
        s.boundary is Boundary.OUTDOORS and abs((s.azimuth_deg - true_deg + 180) % 360 - 180) <= 15 for s in walls
    )


def walls(plan: Plan, room: int, plan_north_deg: float = 0.0) -> list[Wall]:
    """Straight stretches of a room's walls, each marked as outside or not.

    A stretch is outside when no other room of the level runs beside it and the room's envelope has an outdoor
    wall that faces its way. `plan_north_deg` is the true bearing of the plan's y axis.
    """
    here = plan.rooms[room]
    others = tuple(r.outline_m for i, r in enumerate(plan.rooms) if i != room and r.level == here.level)
    found = []
    for edge, stretches in _stretches(here.outline_m, others):
        inward = (bearing_deg(*edge) - 90) % 360
        facing = _faces_outdoors(here, (inward + 180) % 360, plan_north_deg)
        whole = Wall(edge[0], edge[1], inward, outside=False)
        for low, high, free in stretches:
            found.append(Wall(whole.at(low), whole.at(high), inward, outside=free and facing))
    return found


@lru_cache(maxsize=256)
def _stretches(outline: Outline, others: tuple[Outline, ...]) -> tuple[tuple[Edge, tuple[Stretch, ...]], ...]:
    """Stretches of each edge of an outline beside others; asked for again by every unit tried in the room."""
    sides = [side for other in others for side in _edges(other)]
    found = []
    for edge in _edges(outline):
        if math.dist(*edge) > LEAST_M:
            taken = [lap for side in sides if (lap := _overlap(edge, side)) is not None]
            found.append((edge, _free_stretches(edge, taken)))
    return tuple(found)


SEAM_M = 0.06
"""Rooms of one open space may leave a seam this wide between their outlines."""


def _spans_inside(start: Point, bearing: float, outline: Outline) -> list[tuple[float, float]]:
    """Stretches of a ray that lie inside an outline, as distances from its start."""
    east, north = unit_vector(bearing)
    hits = []
    for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1], strict=True):
        side0 = (x0 - start[0]) * north - (y0 - start[1]) * east
        side1 = (x1 - start[0]) * north - (y1 - start[1]) * east
        if (side0 > 0) != (side1 > 0):
            share = side0 / (side0 - side1)
            x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            hits.append((x - start[0]) * east + (y - start[1]) * north)
    hits.sort()
    return [(low, high) for low, high in zip(hits[::2], hits[1::2], strict=False) if high > 0]


def clear_run_m(outlines: Sequence[Outline], start: Point, bearing: float) -> float:
    """How far a ray from a wall runs before it leaves all the given outlines; seams between them count as open."""
    spans = sorted(span for outline in outlines for span in _spans_inside(start, bearing, outline))
    reach = 0.0
    for low, high in spans:
        if low > reach + SEAM_M:
            break
        reach = max(reach, high)
    return max(reach, 0.05)


@lru_cache(maxsize=1024)
def clear_space_m(outlines: tuple[Outline, ...], start: Point, bearing: float) -> tuple[float, float]:
    """How far a ray runs, and how wide the space before it is; asked for again by every unit tried at a place."""
    return clear_run_m(outlines, start, bearing), clear_width_m(outlines, start, bearing)


def clear_width_m(outlines: Sequence[Outline], start: Point, bearing: float) -> float:
    """Width of the space across a bearing, measured a metre (or half the run) ahead of `start`."""
    ahead = min(1.0, clear_run_m(outlines, start, bearing) / 2)
    east, north = unit_vector(bearing)
    spot = (start[0] + east * ahead, start[1] + north * ahead)
    return clear_run_m(outlines, spot, bearing + 90) + clear_run_m(outlines, spot, bearing - 90)
