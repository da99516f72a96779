"""Beds and seats as pieces of furniture of usual size: from a pillow or a seat to the floor that it takes.

The file gives a point; the piece stands with its back to the nearest wall where it fits and keeps door swings free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from compare.house.areas import PointM
from compare.house.outline import snapped
from compare.house.plan import Furnishing, Link, LinkKind, RoomPlan

BED_LONG_M = 2.03
BED_DOUBLE_M = 1.52
BED_SINGLE_M = 0.99
PILLOW_M = 0.32
"""Head end to the middle of the pillow."""
SIZES_M = {"sofa": (1.95, 0.9), "table": (1.45, 0.95), "desk": (1.3, 0.65)}
BACKS_M = {"sofa": 0.45, "table": 0.475, "desk": 0.9}
"""Usual sizes of furniture (common practice), and how far behind the given point the back edge stands."""
HEIGHTS_M = {"bed": 0.6, "sofa": 0.85, "table": 0.75, "desk": 0.75}
_STRIDE_M = 0.15
_MOST_SLIDES = 8
_SWING_FRAC = 0.75
Span = tuple[float, float, float, float]
"""x0, y0, x1, y1."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece that wants a place: its point, size, and how far its back lies behind the point."""

    at_m: PointM
    wide_m: float
    deep_m: float
    back_m: float


def bed_piece(at_m: PointM, sleepers: float) -> Piece:
    """A bed at its pillow; double from two sleepers on."""
    return Piece(at_m, BED_DOUBLE_M if sleepers >= 1.5 else BED_SINGLE_M, BED_LONG_M, PILLOW_M)


def seat_piece(at_m: PointM, kind: str) -> Piece:
    """A sofa, table or desk at its middle or its chair; a kind that is not known counts as a desk."""
    known = kind if kind in SIZES_M else "desk"
    return Piece(at_m, *SIZES_M[known], BACKS_M[known])


def furnishings_of(rooms: tuple[RoomPlan, ...], links: Iterable[Link]) -> tuple[Furnishing, ...]:
    """Furniture of every room, beds first."""
    swings = [_swing(link, rooms[link.a].outline_m) for link in links if link.kind is not LinkKind.STAIR]
    return tuple(one for index, room in enumerate(rooms) for one in _of_room(index, room, swings))


def _swing(link: Link, outline_m: tuple[PointM, ...]) -> Span:
    """Floor in front of and behind a door."""
    _, facing = _facings((link.x_m, link.y_m), outline_m)[0]
    deep = _SWING_FRAC * link.width_m
    half = 0.5 * link.width_m
    x_m = half * abs(facing[1]) + deep
    y_m = half * abs(facing[0]) + deep
    return link.x_m - x_m, link.y_m - y_m, link.x_m + x_m, link.y_m + y_m


def _of_room(index: int, room: RoomPlan, swings: list[Span]) -> Iterator[Furnishing]:
    wanted = [("bed", bed_piece((bed.x_m, bed.y_m), bed.sleepers)) for bed in room.beds]
    wanted += [(seat.kind, seat_piece((seat.x_m, seat.y_m), seat.kind)) for seat in room.seats]
    for kind, piece in wanted:
        back, facing = stand(piece, room.outline_m, swings)
        corners = tuple(snapped(corner) for corner in corners_of(back, facing, (piece.wide_m, piece.deep_m)))
        bearing = math.degrees(math.atan2(facing[0], facing[1])) % 360.0
        yield Furnishing(index, kind, corners, bearing, HEIGHTS_M.get(kind, HEIGHTS_M["desk"]))


def corners_of(back: PointM, facing: PointM, size_m: tuple[float, float]) -> tuple[PointM, PointM, PointM, PointM]:
    """Corners of a piece with the middle of its back edge at `back`."""
    wide, deep = size_m
    across = (-facing[1], facing[0])
    left, right = _moved(back, across, wide / 2.0), _moved(back, across, -wide / 2.0)
    return left, right, _moved(right, facing, deep), _moved(left, facing, deep)


def stand(piece: Piece, outline_m: tuple[PointM, ...], taken: Iterable[Span]) -> tuple[PointM, PointM]:
    """Where the back edge stands and which way the piece faces.

    The back lies behind the given point; the nearest wall where the piece fits and meets nothing in `taken` is
    preferred. It may slide along the wall so that it stays in the room.
    """
    spans = list(taken)
    best: tuple[float, PointM, PointM] | None = None
    for wall_m, facing in _facings(piece.at_m, outline_m):
        across = (-facing[1], facing[0])
        behind = _moved(piece.at_m, facing, -min(piece.back_m, max(wall_m - 0.06, 0.0)))
        for slide in range(-_MOST_SLIDES, _MOST_SLIDES + 1):
            back = _moved(behind, across, slide * _STRIDE_M)
            corners = corners_of(back, facing, (piece.wide_m, piece.deep_m))
            if not _fits(corners, outline_m):
                continue
            meets = sum(_shared_m2(_around(corners), span) for span in spans)
            cost = min(wall_m, 2.0) + abs(slide) * 0.03 + meets * 4.0
            if best is None or cost < best[0]:
                best = (cost, back, facing)
    if best is not None:
        return best[1], best[2]
    facing = _facings(piece.at_m, outline_m)[0][1]
    return _moved(piece.at_m, facing, -piece.back_m), facing


def _facings(at_m: PointM, outline_m: tuple[PointM, ...]) -> list[tuple[float, PointM]]:
    """(distance to the wall, direction away from it) for each wall of a counter-clockwise outline, nearest first."""
    found = []
    for start, end in pairwise((*outline_m, outline_m[0])):
        length = math.dist(start, end)
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        place = min(max((at_m[0] - start[0]) * along[0] + (at_m[1] - start[1]) * along[1], 0.0), length)
        found.append((math.dist(at_m, _moved(start, along, place)), (-along[1], along[0])))
    return sorted(found)


def _fits(corners: tuple[PointM, ...], outline_m: tuple[PointM, ...]) -> bool:
    middle = (sum(x for x, _ in corners) / 4.0, sum(y for _, y in corners) / 4.0)
    pulled = [(x + (middle[0] - x) * 0.03, y + (middle[1] - y) * 0.03) for x, y in corners]
    return all(_inside(point, outline_m) for point in pulled)


def _inside(point: PointM, outline_m: tuple[PointM, ...]) -> bool:
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in pairwise((*outline_m, outline_m[0])):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            found = not found
    return found


def _around(corners: tuple[PointM, ...]) -> Span:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _shared_m2(one: Span, other: Span) -> float:
    across = min(one[2], other[2]) - max(one[0], other[0])
    along = min(one[3], other[3]) - max(one[1], other[1])
    return across * along if across > 0.0 and along > 0.0 else 0.0


def _moved(point: PointM, along: PointM, by_m: float) -> PointM:
    return point[0] + along[0] * by_m, point[1] + along[1] * by_m
