"""Inside doors as they stand: the leaf solid where it is at night, dotted where it is by day. Openings and stairs.

The view has no hinge, so the leaf hangs where a carpenter would hang it: it opens into the room that is not a passage,
and folds back against the nearer side wall.
"""

from __future__ import annotations

import math

from compare.views.plan_view import DoorLine, PlanView, RoomShape
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import (
    Box,
    Point,
    around,
    box_in_polygon,
    distance,
    inside,
    middle,
    moved,
    strip_boxes,
    unit_vector,
)
from proposal.drawing.look import Look
from proposal.drawing.walls import thickness_px, wall_normal

DOTS = "1.2 4"
PASSAGES = frozenset({"hall", "entry", "living", "dining", "kitchen"})
SIDE_ROOMS = frozenset({"laundry", "storage"})
_TREADS = 7
_TREAD_M = 0.26


def swing_room(door: DoorLine, rooms: dict[int, RoomShape]) -> RoomShape:
    """The room a leaf opens into: not a passage, and the smaller of two alike."""
    return min((rooms[index] for index in door.rooms), key=lambda room: (_rank(room.use), room.area_m2))


def _rank(use: str) -> int:
    return 2 if use in PASSAGES else 1 if use in SIDE_ROOMS else 0


def _ends(door: DoorLine, room: RoomShape) -> tuple[Point, Point, Point]:
    """Hinge, lock side and opening direction, in plan metres."""
    start, end = door.start_m, door.end_m
    normal = wall_normal(start, end)
    if not inside(moved(middle(start, end), normal, 0.35), room.outline_m):
        normal = (-normal[0], -normal[1])

    def to_corner(point: Point) -> float:
        return min(distance(point, corner) for corner in room.outline_m)

    hinge, lock = (start, end) if to_corner(start) <= to_corner(end) else (end, start)
    return hinge, lock, normal


def _leaf(start: Point, end: Point, width_px: float, colour: str) -> str:
    return svg.line(start, end, stroke=colour, stroke_width=width_px)


def _dotted(data: str, colour: str) -> str:
    return svg.path(data, fill="none", stroke=colour, stroke_width=1.2, stroke_dasharray=DOTS, stroke_linecap="round")


def _door(door: DoorLine, rooms: dict[int, RoomShape], frame: LevelFrame, look: Look) -> Drawn:
    hinge_m, lock_m, normal_m = _ends(door, swing_room(door, rooms))
    hinge, lock = frame.at(hinge_m), frame.at(lock_m)
    normal = (normal_m[0], -normal_m[1])
    length = distance(hinge, lock)
    open_end = moved(hinge, normal, length)
    width = max(1.8, thickness_px(frame, look, outside=False) * 0.62)
    parts, hard = [], list(strip_boxes(hinge, lock, width))
    if door.open_by_night or door.open_by_day:
        along = unit_vector(hinge, lock)
        turn = along[0] * normal[1] - along[1] * normal[0]
        arc = (
            f"M{svg.number(lock[0])} {svg.number(lock[1])}A{svg.number(length)} {svg.number(length)} 0 0 "
            f"{1 if turn > 0 else 0} {svg.number(open_end[0])} {svg.number(open_end[1])}"
        )
        if not door.open_by_night:
            arc += f"L{svg.number(hinge[0])} {svg.number(hinge[1])}"
        parts.append(_dotted(arc, look.theme.ink2))
    if door.open_by_night and not door.open_by_day:
        parts.append(_dotted(svg.points_path((hinge, lock), closed=False), look.theme.ink2))
    night_end = open_end if door.open_by_night else lock
    parts.append(_leaf(hinge, night_end, width, look.theme.wall))
    if door.open_by_night:
        hard += strip_boxes(hinge, open_end, width)
    return Drawn("".join(parts), hard=tuple(hard), soft=(around((hinge, lock, open_end)),))


def _opening(door: DoorLine, frame: LevelFrame, look: Look) -> Drawn:
    start, end = frame.at(door.start_m), frame.at(door.end_m)
    return Drawn(
        _dotted(svg.points_path((start, end), closed=False), look.theme.ink2), soft=strip_boxes(start, end, 2.0)
    )


def _stair(door: DoorLine, rooms: dict[int, RoomShape], frame: LevelFrame, look: Look) -> Drawn:
    """Treads in the room of this storey, with an arrow that points up."""
    here = next((rooms[i] for i in door.rooms if rooms[i].level == frame.level.level), None)
    if here is None:
        return Drawn()
    outline = frame.outline(here.outline_m)
    centre = frame.at(middle(door.start_m, door.end_m))
    wide = max(distance(door.start_m, door.end_m), 0.7) * frame.px_per_m
    long = _TREADS * _TREAD_M * frame.px_per_m
    box = _fit(centre, (wide, long), outline)
    if box is None:
        return Drawn()
    level = box.height < box.width
    treads = []
    for step in range(_TREADS + 1):
        share = step / _TREADS
        if level:
            x = box.x0 + box.width * share
            treads.append(svg.line((x, box.y0), (x, box.y1)))
        else:
            y = box.y0 + box.height * share
            treads.append(svg.line((box.x0, y), (box.x1, y)))
    tip, tail = (
        ((box.x1 - 3, box.centre[1]), (box.x0 + 3, box.centre[1]))
        if level
        else (
            (box.centre[0], box.y0 + 3),
            (box.centre[0], box.y1 - 3),
        )
    )
    body = svg.group([*treads, arrow(tail, tip, 5.0)], stroke=look.theme.furniture, stroke_width=1.1, fill="none")
    return Drawn(body, hard=(box,))


def _fit(centre: Point, size: tuple[float, float], outline: tuple[Point, ...]) -> Box | None:
    """The stair's box in its room: upright or level, moved as little as possible from its place."""
    wide, long = size
    tries = []
    for width, height in ((wide, long), (long, wide), (wide, long * 0.7), (long * 0.7, wide)):
        for dx in (0.0, 0.25, -0.25, 0.5, -0.5):
            for dy in (0.0, 0.25, -0.25, 0.5, -0.5):
                x, y = centre[0] + dx * width, centre[1] + dy * height
                box = Box(x - width / 2.0, y - height / 2.0, x + width / 2.0, y + height / 2.0)
                if box_in_polygon(box.grown(2.0), outline):
                    tries.append(((width * height < wide * long, abs(dx) + abs(dy)), box))
    return min(tries, key=lambda item: item[0])[1] if tries else None


def arrow(tail: Point, tip: Point, head_px: float) -> str:
    """A thin arrow as a path, because some PDF engines drop markers."""
    along = unit_vector(tail, tip)
    back = moved(tip, along, -head_px)
    across = (-along[1], along[0])
    spread = head_px * math.tan(math.radians(28.0))
    wings = (moved(back, across, spread), moved(back, across, -spread))
    return svg.path(
        svg.points_path((tail, tip), closed=False) + svg.points_path((wings[0], tip, wings[1]), closed=False)
    )


def draw_doors(plan: PlanView, frame: LevelFrame, look: Look) -> Drawn:
    """Doors, openings and stairs of a storey."""
    rooms = {room.index: room for room in plan.rooms}
    parts = []
    for door in plan.doors:
        if door.kind == "stair":
            parts.append(_stair(door, rooms, frame, look))
        elif door.level == frame.level.level:
            parts.append(_door(door, rooms, frame, look) if door.kind == "door" else _opening(door, frame, look))
    return together(parts)
