"""Windows and outside doors spread along their walls, and furniture of usual size, for the drawing of a draft.

The same rules as the program's own plans (`compare.house.openings`, `compare.house.pieces`), on drafts that may be
faulty.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from compare.house.pieces import Piece, bed_piece, corners_of, seat_piece, stand
from compare.units import Kind, System, from_si, to_si
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import (
    Point,
    Shape,
    Stretch,
    in_file_units,
    items,
    length_u,
    point_u,
    system_of,
)

_USUAL_HIGH = {System.US: (4.0, 6.67), System.SI: (1.2, 2.03)}
"""Height taken for the width of a window or door that is given by its area."""
_MOST = 0.9


@dataclass(frozen=True, slots=True)
class InWall:
    """A window or outside door between two points of the plan; `ref` as `window.3`."""

    ref: str
    start: Point
    end: Point
    door: bool


def _width_u(item: Raw, system: System, *, door: bool) -> float:
    width = length_u(item.get("width"), system)
    if width:
        return width
    area = in_file_units(item.get("area"), Kind.AREA, system)
    return (area or 0.0) / _USUAL_HIGH[system][door] or (3.0 if system is System.US else 0.9)


def in_walls(raw: Raw, walls: Sequence[Stretch]) -> list[InWall]:
    """Every window and outside door whose wall there is, spread along it: doors first, then windows."""
    system = system_of(raw)
    wanted: dict[tuple[str, str], list[tuple[str, float, bool]]] = defaultdict(list)
    for table in ("door", "window"):
        for position, item in items(raw, table):
            if "between" in item:
                continue
            count = item.get("count", 1)
            times = min(count, 20) if isinstance(count, int) and not isinstance(count, bool) and count > 0 else 1
            wide = _width_u(item, system, door=table == "door")
            wanted[same(item.get("room")), str(item.get("wall"))] += [
                (f"{table}.{position}", wide, table == "door")
            ] * times
    found: list[InWall] = []
    for (room, side), pieces in wanted.items():
        outer = [one for one in walls if not one.other and one.shape.name == room and one.edge.side == side]
        if outer:
            found += _spread(max(outer, key=lambda one: one.length_u), pieces)
    return found


def _spread(wall: Stretch, pieces: list[tuple[str, float, bool]]) -> Iterator[InWall]:
    total = sum(wide for _, wide, _ in pieces)
    if total <= 0.0:
        return
    scale = min(1.0, _MOST * wall.length_u / total)
    gap = (wall.length_u - total * scale) / (len(pieces) + 1)
    along = wall.low_u + gap
    for ref, wide, door in pieces:
        end = along + wide * scale
        yield InWall(ref, wall.edge.point(along), wall.edge.point(end), door)
        along = end + gap


@dataclass(frozen=True, slots=True)
class Standing:
    """A bed or seat: its corners, the middle of its back and the way that it faces."""

    ref: str
    kind: str
    corners: tuple[Point, ...]


def furniture(raw: Raw, shapes: Sequence[Shape]) -> list[Standing]:
    """Every bed and seat that stands in a room that can be drawn."""
    system = system_of(raw)
    per_m = from_si(1.0, Kind.LENGTH, system)
    rooms = {shape.name: shape for shape in shapes}
    found = []
    for table in ("bed", "seat"):
        for position, item in items(raw, table):
            room, at = rooms.get(same(item.get("room"))), point_u(item.get("at"), system)
            if room is None or at is None:
                continue
            piece, kind = _piece(table, item, (at[0] / per_m, at[1] / per_m))
            outline = tuple((x / per_m, y / per_m) for x, y in _clean(room))
            back, facing = _stand(piece, outline)
            corners = corners_of(back, facing, (piece.wide_m, piece.deep_m))
            found.append(Standing(f"{table}.{position}", kind, tuple((x * per_m, y * per_m) for x, y in corners)))
    return found


@lru_cache(maxsize=512)
def _stand(piece: Piece, outline: tuple[Point, ...]) -> tuple[Point, Point]:
    return stand(piece, outline, ())


def _clean(room: Shape) -> list[Point]:
    """Corners without repeats, counter-clockwise."""
    return [edge.start for edge in room.edges]


def _piece(table: str, item: Raw, at_m: Point) -> tuple[Piece, str]:
    if table == "bed":
        sleepers = item.get("sleepers", 1)
        known = isinstance(sleepers, int | float) and not isinstance(sleepers, bool)
        return bed_piece(at_m, float(sleepers) if known else 1.0), "bed"
    kind = item.get("kind", "sofa")
    return seat_piece(at_m, kind if isinstance(kind, str) else "sofa"), str(kind)


@dataclass(frozen=True, slots=True)
class Joint:
    """A door or opening between rooms: its point, the way of its wall, its width, how it stands at night and by day."""

    ref: str
    at: Point
    along: Point
    width_u: float
    opening: bool
    night: float
    day: float


def joints(raw: Raw, on_level: Sequence[Stretch]) -> list[Joint]:
    """Doors and openings between rooms that share a wall on the drawn level."""
    system = system_of(raw)
    walls: dict[frozenset[str], list[Stretch]] = defaultdict(list)
    for stretch in on_level:
        if stretch.other:
            walls[frozenset((stretch.shape.name, stretch.other))].append(stretch)
    found = []
    for table in ("door", "opening"):
        for position, item in items(raw, table):
            pair = item.get("between")
            ends = frozenset(same(end) for end in pair) if isinstance(pair, list) else frozenset()
            if not walls.get(ends):
                continue
            at = point_u(item.get("at"), system)
            wall = (
                max(walls[ends], key=lambda one: one.length_u)
                if at is None
                else min(walls[ends], key=lambda one: one.distance_u(at))
            )
            spot = wall.middle if at is None else wall.nearest(at)
            (x0, y0), (x1, y1) = wall.edge.start, wall.edge.end
            size = math.dist((x0, y0), (x1, y1))
            width = length_u(item.get("width"), system) or to_feet_or_m(32.0, system)
            habits = [_habit(item.get(key), usual) for key, usual in (("night", 0.0), ("day", 0.7))]
            along = ((x1 - x0) / size, (y1 - y0) / size)
            found.append(Joint(f"{table}.{position}", spot, along, width, table == "opening", habits[0], habits[1]))
    return found


def to_feet_or_m(inches: float, system: System) -> float:
    """Inches in the file's unit of length."""
    return from_si(to_si(f"{inches} in", Kind.LENGTH, system), Kind.LENGTH, system)


def _habit(value: object, usual: float) -> float:
    if isinstance(value, str) and value in {"open", "shut"}:
        return 1.0 if value == "open" else 0.0
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else usual
