"""Plane geometry of pictures, in pixels or metres alike: boxes, polygons, directions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Extent along x."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Extent along y."""
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        """Middle."""
        return (self.x0 + self.x1) / 2.0, (self.y0 + self.y1) / 2.0

    def meets(self, other: Box) -> bool:
        """Whether the insides share a point."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1

    def shared_area(self, other: Box) -> float:
        """Area that both cover."""
        across = min(self.x1, other.x1) - max(self.x0, other.x0)
        along = min(self.y1, other.y1) - max(self.y0, other.y0)
        return across * along if across > 0.0 and along > 0.0 else 0.0

    def holds(self, other: Box) -> bool:
        """Whether the other lies wholly inside."""
        return self.x0 <= other.x0 and self.y0 <= other.y0 and self.x1 >= other.x1 and self.y1 >= other.y1

    def grown(self, by: float) -> Box:
        """The box with `by` added on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Corners in order."""
        return (self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)

    def nearest(self, point: Point) -> Point:
        """The point of the box nearest to `point`."""
        return min(max(point[0], self.x0), self.x1), min(max(point[1], self.y0), self.y1)


def around(points: Iterable[Point]) -> Box:
    """The smallest box that holds the points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def inside(point: Point, outline: Sequence[Point]) -> bool:
    """Whether a point lies in a polygon, by crossings of a ray."""
    x, y = point
    result = False
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            result = not result
    return result


def segment_meets_box(start: Point, end: Point, box: Box) -> bool:
    """Whether a straight line crosses the inside of a box (clipping by Liang and Barsky)."""
    low, high = 0.0, 1.0
    for origin, delta, least, most in (
        (start[0], end[0] - start[0], box.x0, box.x1),
        (start[1], end[1] - start[1], box.y0, box.y1),
    ):
        if abs(delta) < 1e-12:
            if origin <= least or origin >= most:
                return False
            continue
        first, second = sorted(((least - origin) / delta, (most - origin) / delta))
        low, high = max(low, first), min(high, second)
        if low >= high:
            return False
    return True


def segments_cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two straight pieces cross inside both."""

    def side(line: tuple[Point, Point], point: Point) -> float:
        (ax, ay), (bx, by) = line
        return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)

    return side(one, other[0]) * side(one, other[1]) < 0.0 and side(other, one[0]) * side(other, one[1]) < 0.0


def box_in_polygon(box: Box, outline: Sequence[Point]) -> bool:
    """Whether a box lies wholly in a polygon."""
    if not all(inside(corner, outline) for corner in box.corners()):
        return False
    return not any(segment_meets_box(start, end, box) for start, end in pairwise((*outline, outline[0])))


def distance(a: Point, b: Point) -> float:
    """Straight distance."""
    return math.hypot(a[0] - b[0], a[1] - b[1])


def unit_vector(a: Point, b: Point) -> Point:
    """Direction from `a` to `b`; to the right where they coincide."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 0.0 else (1.0, 0.0)


def middle(a: Point, b: Point) -> Point:
    """Point half-way."""
    return (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0


def moved(point: Point, along: Point, by: float) -> Point:
    """A point moved by a distance along a direction."""
    return point[0] + along[0] * by, point[1] + along[1] * by


def distance_to_segment(point: Point, start: Point, end: Point) -> float:
    """Distance from a point to a straight piece."""
    along = unit_vector(start, end)
    length = distance(start, end)
    place = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
    return distance(point, moved(start, along, min(max(place, 0.0), length)))


def strip_boxes(start: Point, end: Point, half_width: float) -> tuple[Box, ...]:
    """Boxes that cover a straight strip: one if it is upright or level, else a chain of small ones."""
    length = distance(start, end)
    oblique = min(abs(start[0] - end[0]), abs(start[1] - end[1])) > 2.0 * half_width
    count = max(1, math.ceil(length / max(4.0 * half_width, 6.0))) if oblique else 1
    marks = [moved(start, unit_vector(start, end), length * step / count) for step in range(count + 1)]
    return tuple(around(pair).grown(half_width) for pair in pairwise(marks))
