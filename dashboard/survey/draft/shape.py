"""Rooms of a draft as shapes: walls, what lies behind them, the wall nearest to a tap. Works on faulty drafts too.

Lengths end in `_u`: units of the file, feet or metres, so that what is snapped to its grid is written as short numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

from compare.house.drawing import RISES_M
from compare.house.tables import default_of
from compare.units import Kind, System, UnitError, from_si, to_si

Raw = dict[str, Any]
Point = tuple[float, float]
GAP_M = 0.15
"""Rooms this far apart share a wall, as in `compare.house.areas`."""
OVERLAP_M = 0.02
GRID_U = {System.US: 0.5, System.SI: 0.1}
"""Half a foot or a tenth of a metre."""
SIDES = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
_SHORTEST_U = 0.05
MOST_U = 1000.0


def system_of(raw: Raw) -> System:
    """Units of a draft's bare numbers."""
    return System.SI if raw.get("units") == "SI" else System.US


def in_file_units(value: object, kind: Kind, system: System) -> float | None:
    """A number of the file, text with a unit among them, in the file's own unit; None when it cannot be read."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        si = to_si(value, kind, system)
    except UnitError:
        return None
    found = from_si(si, kind, system)
    return found if abs(found) <= 1e6 else None


def length_u(value: object, system: System) -> float | None:
    """A length of the file."""
    found = in_file_units(value, Kind.LENGTH, system)
    return None if found is None else round(found, 6)


def point_u(value: object, system: System) -> Point | None:
    """A point or size of the file."""
    if not isinstance(value, list) or len(value) != 2:
        return None
    x, y = (length_u(item, system) for item in value)
    return None if x is None or y is None or max(abs(x), abs(y)) > MOST_U else (x, y)


def snap(value: float, system: System) -> float:
    """The nearest place on the grid."""
    grid = GRID_U[system]
    return round(round(value / grid) * grid, 4) + 0.0


def items(raw: Raw, table: str) -> Iterator[tuple[int, Raw]]:
    """Items of a list of tables with their positions; what is no table is passed over."""
    found = raw.get(table)
    for position, item in enumerate(found if isinstance(found, list) else ()):
        if isinstance(item, dict):
            yield position, item


@dataclass(frozen=True, slots=True)
class Edge:
    """One side of a room, counter-clockwise."""

    start: Point
    end: Point

    @property
    def length_u(self) -> float:
        """Length of the edge."""
        return math.dist(self.start, self.end)

    @property
    def side(self) -> str:
        """Side of the plan that it faces."""
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        bearing = math.degrees(math.atan2(dy, -dx)) % 360.0
        return SIDES[round(bearing / 45.0) % 8]

    def point(self, along_u: float) -> Point:
        """A point on it."""
        share = along_u / self.length_u
        (x0, y0), (x1, y1) = self.start, self.end
        return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share

    def place(self, at: Point) -> tuple[float, float]:
        """A point as distance along the edge and outward from it."""
        (x0, y0), (x1, y1) = self.start, self.end
        ux, uy = (x1 - x0) / self.length_u, (y1 - y0) / self.length_u
        dx, dy = at[0] - x0, at[1] - y0
        return dx * ux + dy * uy, dx * uy - dy * ux


@dataclass(frozen=True, slots=True)
class Shape:
    """A room that can be drawn."""

    position: int
    name: str
    level: str
    use: str
    corners: tuple[Point, ...]
    box: bool
    """Whether the file gives it as a rectangle."""
    stands: frozenset[str] = frozenset()
    """Further levels that a tall room rises through."""

    @property
    def edges(self) -> list[Edge]:
        """Its sides, those without length left out."""
        return _edges(self.corners)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y."""
        return _bounds(self.corners)

    @property
    def area_u2(self) -> float:
        """Area within the outline."""
        return abs(_signed(self.corners))

    def holds(self, at: Point) -> bool:
        """Whether a point lies inside."""
        x, y = at
        found = False
        for (x0, y0), (x1, y1) in pairwise((*self.corners, self.corners[0])):
            if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
                found = not found
        return found


@lru_cache(maxsize=1024)
def _bounds(corners: tuple[Point, ...]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


@lru_cache(maxsize=1024)
def _edges(corners: tuple[Point, ...]) -> list[Edge]:
    pairs = pairwise((*corners, corners[0]))
    return [Edge(a, b) for a, b in pairs if math.dist(a, b) > _SHORTEST_U]


def _signed(corners: Sequence[Point]) -> float:
    return 0.5 * sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise((*corners, corners[0])))


def corners_of(room: Raw, system: System) -> tuple[Point, ...]:
    """Corners as the file gives them; empty when they cannot be read."""
    outline = room.get("outline")
    if isinstance(outline, list):
        points = [point_u(item, system) for item in outline[:60]]
        return tuple(point for point in points if point) if len(points) > 2 and all(points) else ()
    at, size = point_u(room.get("at"), system), point_u(room.get("size"), system)
    if at is None or size is None or min(size) <= 0.0:
        return ()
    (x, y), (wide, deep) = at, size
    return (x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)


def shape_of(position: int, room: Raw, system: System) -> Shape | None:
    """A room of the file as a shape, None where it has no readable one."""
    corners, name = corners_of(room, system), room.get("name")
    if not corners or not isinstance(name, str) or abs(_signed(corners)) < 1e-6:
        return None
    if _signed(corners) < 0.0:
        corners = tuple(reversed(corners))
    level, use = room.get("level"), room.get("use")
    return Shape(
        position,
        name,
        level if isinstance(level, str) else "",
        use if isinstance(use, str) else "",
        corners,
        "outline" not in room,
    )


def shapes_of(raw: Raw) -> list[Shape]:
    """Every room that can be drawn, in the order of the file."""
    system, levels = system_of(raw), [item for _, item in items(raw, "level")]
    found = []
    for position, room in items(raw, "room"):
        shape = shape_of(position, room, system)
        if shape is not None:
            found.append(replace(shape, stands=_stands(room, shape.level, levels, system)))
    return found


def _stands(room: Raw, level: str, levels: Sequence[Raw], system: System) -> frozenset[str]:
    """Levels above its own that a room rises through, as `compare.house.drawing` counts them."""
    names = [item.get("name") for item in levels]
    height = length_u(room.get("height"), system)
    if height is None or level not in names:
        return frozenset()
    per_m, at = from_si(1.0, Kind.LENGTH, system), names.index(level)
    heights = [length_u(item.get("height"), system) or default_of("level.height") * per_m for item in levels]
    spare, found = height - heights[at], set()
    for above in range(at + 1, len(levels)):
        if spare <= RISES_M * per_m:
            break
        found.add(str(names[above]))
        spare -= heights[above]
    return frozenset(found)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a room's side; `other` is the room behind it, empty for outdoors."""

    shape: Shape
    edge: Edge
    low_u: float
    high_u: float
    other: str

    @property
    def length_u(self) -> float:
        """Length of the piece."""
        return self.high_u - self.low_u

    @property
    def ends(self) -> tuple[Point, Point]:
        """Its two ends."""
        return self.edge.point(self.low_u), self.edge.point(self.high_u)

    @property
    def middle(self) -> Point:
        """Its middle."""
        return self.edge.point(0.5 * (self.low_u + self.high_u))

    def nearest(self, at: Point, spare_u: float = 0.0) -> Point:
        """The point of the piece nearest to another, at least `spare_u` from its ends where it is that long."""
        along, _ = self.edge.place(at)
        spare = min(spare_u, 0.5 * self.length_u)
        return self.edge.point(min(max(along, self.low_u + spare), self.high_u - spare))

    def distance_u(self, at: Point) -> float:
        """Distance of a point from it."""
        return math.dist(at, self.nearest(at))


def _faced(edge: Edge, other: Edge, per_m: float) -> tuple[float, float] | None:
    """Where another room's side runs along this one."""
    (ax, ay), (bx, by) = _along(edge), _along(other)
    if ax * bx + ay * by > 0.0 or abs(ax * by - ay * bx) > 0.01:
        return None
    (first, away), (last, away_last) = edge.place(other.end), edge.place(other.start)
    low, high = max(first, 0.0), min(last, edge.length_u)
    near = all(-OVERLAP_M * per_m <= gap <= GAP_M * per_m for gap in (away, away_last))
    return (low, high) if near and high - low > _SHORTEST_U else None


def _along(edge: Edge) -> Point:
    (x0, y0), (x1, y1) = edge.start, edge.end
    return (x1 - x0) / edge.length_u, (y1 - y0) / edge.length_u


def stretches_of(shape: Shape, shapes: Iterable[Shape], system: System) -> list[Stretch]:
    """The sides of a room, cut where the room behind them changes."""
    per_m = from_si(1.0, Kind.LENGTH, system)
    near = GAP_M * per_m
    x0, y0, x1, y1 = shape.bounds
    others = [
        one
        for one in shapes
        if (one.level == shape.level or shape.level in one.stands)
        and one.position != shape.position
        and one.bounds[0] <= x1 + near
        and one.bounds[2] >= x0 - near
        and one.bounds[1] <= y1 + near
        and one.bounds[3] >= y0 - near
    ]
    found: list[Stretch] = []
    for edge in shape.edges:
        covers = [(span, one.name) for one in others for facing in one.edges if (span := _faced(edge, facing, per_m))]
        marks = sorted({0.0, edge.length_u, *(end for span, _ in covers for end in span)})
        for low, high in pairwise(marks):
            if high - low <= _SHORTEST_U:
                continue
            middle = 0.5 * (low + high)
            behind = next((name for (a, b), name in covers if a <= middle <= b), "")
            if found and found[-1].edge is edge and found[-1].other == behind:
                found[-1] = Stretch(shape, edge, found[-1].low_u, high, behind)
            else:
                found.append(Stretch(shape, edge, low, high, behind))
    return found


def shared(shapes: Sequence[Shape], one: str, other: str, system: System) -> list[Stretch]:
    """Stretches of wall between two rooms."""
    return [
        stretch
        for shape in shapes
        if shape.name == one
        for stretch in stretches_of(shape, shapes, system)
        if stretch.other == other
    ]


def nearest_wall(shapes: Sequence[Shape], level: str, at: Point, system: System) -> Stretch | None:
    """The piece of wall nearest to a point on a level."""
    here = [shape for shape in shapes if shape.level == level]
    found = [stretch for shape in here for stretch in stretches_of(shape, shapes, system)]
    inside = {shape.name for shape in here if shape.holds(at)}
    return min(found, key=lambda one: (round(one.distance_u(at), 3), one.shape.name not in inside), default=None)


def room_at(shapes: Sequence[Shape], level: str, at: Point) -> Shape | None:
    """The room under a point, the smallest where several overlap."""
    under = [shape for shape in shapes if shape.level == level and shape.holds(at)]
    return min(under, key=lambda shape: shape.area_u2, default=None)
