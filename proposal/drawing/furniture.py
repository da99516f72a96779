"""Beds with their pillows, sofas, tables and desks: quiet outlines behind everything, sizes of usual furniture."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from compare.house.pieces import Piece, bed_piece, corners_of, seat_piece, stand
from compare.views.plan_view import FurniturePiece, PlanView, RoomShape
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, around, inside, middle, moved, unit_vector
from proposal.drawing.look import Look

_CORNERS = 4


def _stand(piece: FurniturePiece, room: RoomShape, usual: Piece, taken: list[Box]) -> tuple[Point, Point]:
    """Middle of the back edge and the way the piece faces: as the view says, else where it would usually stand."""
    if len(piece.corners_m) == _CORNERS:
        left, right, far_right, _ = piece.corners_m
        return middle(left, right), unit_vector(right, far_right)
    return stand(usual, room.outline_m, [(box.x0, box.y0, box.x1, box.y1) for box in taken])


def _round_rect(corners: Sequence[Point], frame: LevelFrame, radius_px: float) -> tuple[str, Box]:
    box = around([frame.at(corner) for corner in corners])
    straight = all(min(abs(a[0] - b[0]), abs(a[1] - b[1])) < 1e-6 for a, b in pairwise(corners))
    if straight:
        return svg.tag("rect", x=box.x0, y=box.y0, width=box.width, height=box.height, rx=radius_px), box
    return svg.path(
        svg.points_path([frame.at(corner) for corner in corners], closed=True), stroke_linejoin="round"
    ), box


def _bed(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    double = piece.sleepers >= 1.5
    usual = bed_piece(piece.at_m, piece.sleepers)
    size_m = (usual.wide_m, usual.deep_m)
    back, away = _stand(piece, room, usual, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(corners_of(back, away, size_m), frame, 3.0)
    cover = [frame.at(moved(moved(back, away, 0.68), across, side * size_m[0] / 2.0)) for side in (1, -1)]
    parts = [outline, svg.line(cover[0], cover[1])]
    for offset in (-0.25, 0.25) if double else (0.0,):
        middle = moved(moved(back, away, 0.12), across, offset * size_m[0])
        parts.append(_round_rect(corners_of(middle, away, (0.58, 0.4)), frame, 2.5)[0])
    return Drawn("".join(parts), soft=(box,))


def _sofa(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    usual = seat_piece(piece.at_m, "sofa")
    size_m = (usual.wide_m, usual.deep_m)
    back, away = _stand(piece, room, usual, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(corners_of(back, away, size_m), frame, 4.0)
    seat = _round_rect(corners_of(moved(back, away, 0.22), away, (size_m[0] - 0.4, size_m[1] - 0.22)), frame, 2.0)[0]
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
    usual = seat_piece(piece.at_m, "table")
    size_m = (usual.wide_m, usual.deep_m)
    back, away = _stand(piece, room, usual, taken)
    across = (-away[1], away[0])
    outline, box = _round_rect(corners_of(back, away, size_m), frame, 3.0)
    places = [
        moved(moved(back, away, depth), across, side * 0.36)
        for depth in (-0.24, size_m[1] + 0.24)
        for side in (1.0, -1.0)
    ]
    chairs, boxes = _chairs(frame, [place for place in places if inside(place, room.outline_m)])
    return Drawn(outline + chairs, soft=(box, *boxes))


def _desk(piece: FurniturePiece, room: RoomShape, frame: LevelFrame, taken: list[Box]) -> Drawn:
    usual = seat_piece(piece.at_m, "desk")
    size_m = (usual.wide_m, usual.deep_m)
    back, away = _stand(piece, room, usual, taken)
    outline, box = _round_rect(corners_of(back, away, size_m), frame, 2.0)
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
