"""Beds with their pillows, sofas, tables and desks: quiet outlines behind everything, sizes of usual furniture."""

from __future__ import annotations

import math
from itertools import pairwise

from compare.views.plan_view import FurniturePiece, PlanView, RoomShape
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, around, distance_to_segment, inside, moved, unit_vector
from proposal.drawing.look import Look

BED_LONG_M = 2.03
BED_DOUBLE_M = 1.52
BED_SINGLE_M = 0.99
PILLOW_M = 0.32
"""Head end to the middle of the pillow."""
SIZES_M = {"sofa": (1.95, 0.9), "table": (1.45, 0.95), "desk": (1.3, 0.65)}
_STRIDE_M = 0.15


def _facings(piece: FurniturePiece, room: RoomShape) -> list[tuple[float, Point]]:
    """(distance to the wall, direction away from it) for each wall of the room, nearest first."""
    found = []
    for start, end in pairwise((*room.outline_m, room.outline_m[0])):
        along = unit_vector(start, end)
        away = (-along[1], along[0])
        middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        if not inside(moved(middle, away, 0.05), room.outline_m):
            away = (-away[0], -away[1])
        found.append((distance_to_segment(piece.at_m, start, end), away))
    return sorted(found)


def _corners(back: Point, away: Point, size_m: tuple[float, float]) -> list[Point]:
    """Corners of a piece with the middle of its back edge at `back`."""
    wide, deep = size_m
    across = (-away[1], away[0])
    left, right = moved(back, across, wide / 2.0), moved(back, across, -wide / 2.0)
    return [left, right, moved(right, away, deep), moved(left, away, deep)]


def _fits(corners: list[Point], room: RoomShape) -> bool:
    middle = (sum(x for x, _ in corners) / 4.0, sum(y for _, y in corners) / 4.0)
    pulled = [(x + (middle[0] - x) * 0.03, y + (middle[1] - y) * 0.03) for x, y in corners]
    return all(inside(point, room.outline_m) for point in pulled)


def stand(
    piece: FurniturePiece, room: RoomShape, size_m: tuple[float, float], back_m: float, taken: list[Box]
) -> tuple[Point, Point]:
    """Where the back edge stands and which way the piece faces.

    The back is `back_m` behind the given point; the nearest wall where the piece fits and meets nothing in `taken`
    (boxes in metres) is preferred. It may slide along the wall so that it stays in the room.
    """
    best: tuple[float, Point, Point] | None = None
    for wall_m, away in _facings(piece, room):
        across = (-away[1], away[0])
        behind = moved(piece.at_m, away, -min(back_m, max(wall_m - 0.06, 0.0)))
        for slide in range(-8, 9):
            back = moved(behind, across, slide * _STRIDE_M)
            corners = _corners(back, away, size_m)
            if not _fits(corners, room):
                continue
            meets = sum(around(corners).shared_area(box) for box in taken)
            cost = min(wall_m, 2.0) + abs(slide) * 0.03 + meets * 4.0
            if best is None or cost < best[0]:
                best = (cost, back, away)
    if best is not None:
        return best[1], best[2]
    away = _facings(piece, room)[0][1]
    return moved(piece.at_m, away, -back_m), away


def _round_rect(corners: list[Point], frame: LevelFrame, radius_px: float) -> tuple[str, Box]:
    box = around([frame.at(corner) for corner in corners])
    straight = all(min(abs(a[0] - b[0]), abs(a[1] - b[1])) < 1e-6 for a, b in pairwise(corners))
    if straight:
        return svg.tag("rect", x=box.x0, y=box.y0, width=box.width, height=box.height, rx=radius_px), box
    return svg.path(
        svg.points_path([frame.at(corner) for corner in corners], closed=True), stroke_linejoin="round"
    ), box


def _bed(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    double = piece.sleepers >= 1.5
    size_m = (BED_DOUBLE_M if double else BED_SINGLE_M, BED_LONG_M)
    back, away = stand(piece, room, size_m, PILLOW_M, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(_corners(back, away, size_m), frame, 3.0)
    cover = [frame.at(moved(moved(back, away, 0.68), across, side * size_m[0] / 2.0)) for side in (1, -1)]
    parts = [outline, svg.line(cover[0], cover[1])]
    for offset in (-0.25, 0.25) if double else (0.0,):
        middle = moved(moved(back, away, 0.12), across, offset * size_m[0])
        parts.append(_round_rect(_corners(middle, away, (0.58, 0.4)), frame, 2.5)[0])
    return Drawn("".join(parts), soft=(box,))


def _sofa(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    size_m = SIZES_M["sofa"]
    back, away = stand(piece, room, size_m, size_m[1] / 2.0, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(_corners(back, away, size_m), frame, 4.0)
    seat = _round_rect(_corners(moved(back, away, 0.22), away, (size_m[0] - 0.4, size_m[1] - 0.22)), frame, 2.0)[0]
    start, end = (frame.at(moved(back, away, depth)) for depth in (0.22, size_m[1]))
    arms = [
        svg.line(
            *(
                frame.at(moved(moved(back, away, depth), across, side * (size_m[0] / 2.0 - 0.2)))
                for depth in (0.22, size_m[1])
            )
        )
        for side in (1, -1)
    ]
    return Drawn(outline + seat + svg.line(start, end) + "".join(arms), soft=(box,))


def _chairs(frame: LevelFrame, places: list[Point]) -> tuple[str, list[Box]]:
    radius = 0.19 * frame.px_per_m
    drawn, boxes = [], []
    for place in places:
        x, y = frame.at(place)
        drawn.append(svg.tag("circle", cx=x, cy=y, r=radius))
        boxes.append(Box(x - radius, y - radius, x + radius, y + radius))
    return "".join(drawn), boxes


def _table(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    size_m = SIZES_M["table"]
    back, away = stand(piece, room, size_m, size_m[1] / 2.0, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(_corners(back, away, size_m), frame, 3.0)
    places = [
        moved(moved(back, away, depth), across, side * 0.36)
        for depth in (-0.24, size_m[1] + 0.24)
        for side in (1.0, -1.0)
    ]
    chairs, boxes = _chairs(frame, [place for place in places if inside(place, room.outline_m)])
    return Drawn(outline + chairs, soft=(box, *boxes))


def _desk(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    size_m = SIZES_M["desk"]
    back, away = stand(piece, room, size_m, 0.9, taken)
    outline, box = _round_rect(_corners(back, away, size_m), frame, 2.0)
    chair, boxes = _chairs(frame, [moved(back, away, size_m[1] + 0.22)])
    return Drawn(outline + chair, soft=(box, *boxes))


_KINDS = {"bed": _bed, "sofa": _sofa, "table": _table, "desk": _desk}


def draw_furniture(plan: PlanView, frame: LevelFrame, look: Look) -> Drawn:
    """Furniture of a storey; a kind that is not known is drawn as a desk."""
    rooms = {room.index: room for room in plan.rooms}
    swings = [_swing_m(door.start_m, door.end_m) for door in plan.doors if door.level == frame.level.level]
    parts = [
        _KINDS.get(piece.kind, _desk)(piece, rooms[piece.room], frame, swings)
        for piece in plan.furniture
        if piece.level == frame.level.level
    ]
    drawn = together(parts)
    return Drawn(
        svg.group([drawn.svg], fill="none", stroke=look.theme.furniture, stroke_width=1.3),
        soft=drawn.soft,
    )


def _swing_m(start: Point, end: Point) -> Box:
    """Floor in front of and behind a door, in metres."""
    return around((start, end)).grown(0.75 * math.dist(start, end))
