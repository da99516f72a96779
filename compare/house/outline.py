"""A room's outline in canonical form, and its edges with the way they face."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from compare.house.areas import PointM
from compare.house.rooms import Side

SNAP_DIGITS = 9
"""Coordinates are kept to the nanometre, so that the same corner reached in two ways is one point."""

ANGLE_DIGITS = 6
"""Bearings are kept to a millionth of a degree, so that pieces of one wall count as one."""


def snapped(point_m: PointM) -> PointM:
    """A point on the grid of coordinates."""
    return round(point_m[0], SNAP_DIGITS) + 0.0, round(point_m[1], SNAP_DIGITS) + 0.0


def signed_area_m2(corners_m: Sequence[PointM]) -> float:
    """Area within corners, positive when they run counter-clockwise."""
    (left, low), *_ = corners_m
    local = [(x - left, y - low) for x, y in corners_m]
    return 0.5 * math.fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*local, local[0]]))


def canonical(corners_m: Sequence[PointM]) -> tuple[PointM, ...]:
    """Corners counter-clockwise from the lowest of the leftmost, without repeats and points along an edge."""
    points: list[PointM] = []
    for corner in map(snapped, corners_m):
        if not points or points[-1] != corner:
            points.append(corner)
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    count = len(points)
    kept = [points[i] for i in range(count) if _turns(points[i - 1], points[i], points[(i + 1) % count])]
    if len(kept) < 3:
        return tuple(kept)
    if signed_area_m2(kept) < 0.0:
        kept.reverse()
    first = kept.index(min(kept))
    return tuple(kept[first:] + kept[:first])


def _turns(before: PointM, here: PointM, after: PointM) -> bool:
    """Whether an outline changes direction at a corner by more than its coordinates' rounding."""
    ax, ay = here[0] - before[0], here[1] - before[1]
    bx, by = after[0] - here[0], after[1] - here[1]
    return abs(ax * by - ay * bx) > 1e-7 * math.hypot(ax, ay) * math.hypot(bx, by) or ax * bx + ay * by < 0.0


@dataclass(frozen=True, slots=True)
class Edge:
    """One straight piece of an outline; the room lies on its left."""

    start_m: PointM
    end_m: PointM
    length_m: float
    along: PointM
    """Unit vector from start to end."""

    @classmethod
    def between(cls, start_m: PointM, end_m: PointM) -> Edge:
        """The edge from one corner to the next."""
        dx, dy = end_m[0] - start_m[0], end_m[1] - start_m[1]
        length_m = math.hypot(dx, dy)
        return cls(start_m, end_m, length_m, (dx / length_m, dy / length_m))

    @property
    def outward(self) -> PointM:
        """Unit vector out of the room."""
        return self.along[1], -self.along[0]

    @property
    def plan_deg(self) -> float:
        """Bearing of the outward side on the plan, clockwise from its top."""
        x, y = self.outward
        return round(math.degrees(math.atan2(x, y)), ANGLE_DIGITS) % 360.0

    @property
    def side(self) -> Side:
        """The side of the plan that the edge faces, to the nearest eighth of a turn."""
        return list(Side)[int((self.plan_deg + 22.5) // 45.0) % 8]

    def place(self, point_m: PointM) -> tuple[float, float]:
        """Distance of a point along the edge, and outward from it."""
        dx, dy = point_m[0] - self.start_m[0], point_m[1] - self.start_m[1]
        (ax, ay), (nx, ny) = self.along, self.outward
        return dx * ax + dy * ay, dx * nx + dy * ny

    def point(self, along_m: float, outward_m: float = 0.0) -> PointM:
        """The point at a distance along the edge and outward from it."""
        (ax, ay), (nx, ny) = self.along, self.outward
        return (
            self.start_m[0] + along_m * ax + outward_m * nx,
            self.start_m[1] + along_m * ay + outward_m * ny,
        )


def edges_of(corners_m: Sequence[PointM]) -> tuple[Edge, ...]:
    """The edges of a counter-clockwise outline."""
    following = [*corners_m[1:], *corners_m[:1]]
    return tuple(Edge.between(start, end) for start, end in zip(corners_m, following, strict=True))
