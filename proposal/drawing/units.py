"""Indoor units, room heaters and outdoor units on the plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from compare.views.plan_view import OutdoorMark, PlanView, UnitMark
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame, outdoor_side
from proposal.drawing.geometry import Box, Point, around, distance_to_segment, inside, moved, unit_vector
from proposal.drawing.look import Look
from proposal.drawing.symbols import ARROW_REACH_PX, SYMBOLS, cone, fan, outdoor_unit, still_heater
from proposal.drawing.walls import thickness_px

OUTDOOR_M = (0.98, 0.49)
OUTDOOR_GAP_PX = 10.0
_ON_WALL = frozenset({"wall head", "floor console", "room heater"})
_LEAST_PX = {"wall head": (16.0, 7.0), "floor console": (16.0, 8.0), "room heater": (18.0, 7.0)}
SCHEMATIC_CONE_M = 2.2
_ON_WALL_M = 0.6
_SAME_WALL_M = 0.12
_COMPACT_LEAST_PX = (9.0, 4.0)


@dataclass(frozen=True, slots=True)
class Placed:
    """A unit in the picture: what it is and where, for its label."""

    kind: str
    room: int
    box: Box
    above_ceiling: bool
    way: Point
    """Direction of blowing in the picture."""


@dataclass(frozen=True, slots=True)
class _Ink:
    """Colour of the units and whether it is the season of heating."""

    colour: str
    heating: bool


def plan_way(blows_deg: float, north_deg: float) -> Point:
    """Direction in the picture (y down) of a true bearing."""
    bearing = math.radians(blows_deg - north_deg)
    return math.sin(bearing), -math.cos(bearing)


def size_px(unit: UnitMark, frame: LevelFrame, look: Look) -> Point:
    """Width and depth as drawn: to scale, but never too small to be seen."""
    least = _COMPACT_LEAST_PX if look.compact else _LEAST_PX.get(unit.kind, (16.0, 16.0))
    return max(unit.width_m * frame.px_per_m, least[0]), max(unit.depth_m * frame.px_per_m, least[1])


@dataclass(frozen=True, slots=True)
class _Stand:
    """Where the middle of a unit's back edge stands in the picture, which way it faces, and where it blows."""

    back: Point
    facing: Point
    way: Point


def _wall_of(unit: UnitMark, plan: PlanView) -> tuple[Point, Point] | None:
    """Foot on the nearest wall of the unit's room and the direction into the room, in plan metres."""
    room = next((room for room in plan.rooms if room.index == unit.room), None)
    if room is None:
        return None
    walls = pairwise((*room.outline_m, room.outline_m[0]))
    near, start, end = min((distance_to_segment(unit.at_m, *wall), *wall) for wall in walls)
    if near > _ON_WALL_M:
        return None
    along = unit_vector(start, end)
    foot = moved(start, along, (unit.at_m[0] - start[0]) * along[0] + (unit.at_m[1] - start[1]) * along[1])
    inward = (-along[1], along[0])
    if not inside(moved(foot, inward, 0.05), room.outline_m):
        inward = (-inward[0], -inward[1])
    return foot, inward


def _stand(unit: UnitMark, plan: PlanView, frame: LevelFrame, look: Look) -> _Stand:
    """A room unit hangs flat on its wall even where its louver aims aside; a hidden one is drawn about its middle."""
    way = plan_way(unit.blows_deg, plan.north_deg)
    place = frame.at(unit.at_m)
    if unit.kind == "concealed unit":
        return _Stand(moved(place, way, -size_px(unit, frame, look)[1] / 2.0), way, way)
    wall = _wall_of(unit, plan) if unit.kind in _ON_WALL else None
    if wall is None:
        return _Stand(place, way, way)
    foot, inward = wall
    facing = (inward[0], -inward[1])
    outside = any(
        line.outside and line.level == unit.level and distance_to_segment(foot, line.start_m, line.end_m) < _SAME_WALL_M
        for line in plan.walls
    )
    face = thickness_px(frame, look, outside=outside) / 2.0 + (0.0 if look.compact else 0.6)
    return _Stand(moved(frame.at(foot), facing, face), facing, way)


def _extent(back: Point, way: Point, size: Point, reach_px: float) -> Box:
    across = (-way[1], way[0])
    wide, deep = size
    corners = [
        moved(moved(back, across, side * wide / 2.0), way, depth)
        for side in (1, -1)
        for depth in (0.0, deep + reach_px)
    ]
    return around(corners)


def _transform(back: Point, way: Point) -> str:
    turn = math.degrees(math.atan2(-way[0], way[1]))
    return f"translate({svg.number(back[0])} {svg.number(back[1])}) rotate({svg.number(turn)})"


def _compact_symbol(unit: UnitMark, size: Point, colour: str, card: str) -> str:
    wide, deep = size
    if unit.kind == "room heater":
        return svg.tag(
            "rect", x=-wide / 2, y=0.0, width=wide, height=deep, rx=1.0, fill=card, stroke=colour, stroke_width=1.1
        )
    if unit.kind == "concealed unit":
        return svg.tag(
            "rect", x=-wide / 2, y=0.0, width=wide, height=deep, fill=card, stroke=colour, stroke_width=1.4
        ) + fan((0.0, deep / 2.0), min(wide, deep) * 0.3, colour, 0.9)
    return svg.tag("rect", x=-wide / 2, y=0.0, width=wide, height=deep, rx=0.8, fill=colour)


def _reach_in_room(back: Point, way: Point, wanted_px: float, outline: tuple[Point, ...]) -> float:
    """The longest reach up to `wanted_px` whose sector stays in the room."""
    across = (-way[1], way[0])
    reach = wanted_px
    while reach > 20.0:
        ends = [moved(moved(back, way, reach * 0.95), across, side * reach * 0.46) for side in (-1.0, 0.0, 1.0)]
        if all(inside(end, outline) for end in ends):
            return reach
        reach *= 0.9
    return 0.0


def _cone_boxes(front: Point, way: Point, reach: float) -> tuple[Box, ...]:
    """Boxes that cover the sector in four slices."""
    across = (-way[1], way[0])
    slices = []
    for index in range(4):
        near, far = index / 4.0, (index + 1) / 4.0
        ends = [
            moved(moved(front, way, depth * reach), across, side * far * reach * 0.46)
            for depth in (near, far)
            for side in (1, -1)
        ]
        slices.append(around(ends))
    return tuple(slices)


def _moving_air(unit: UnitMark, stand: _Stand, plan: PlanView, frame: LevelFrame, look: Look) -> Drawn:
    """Dotted cone of a wall head where its louver aims, cut short so that it stays in the room."""
    room = next((room for room in plan.rooms if room.index == unit.room), None)
    if unit.kind != "wall head" or room is None:
        return Drawn()
    front = moved(stand.back, stand.facing, size_px(unit, frame, look)[1] + 1.0)
    far = _reach_in_room(front, stand.way, SCHEMATIC_CONE_M * frame.px_per_m, frame.outline(room.outline_m))
    if not far:
        return Drawn()
    body = svg.group([cone(0.0, far, look.theme.ink3)], transform=_transform(front, stand.way))
    return Drawn(body, soft=_cone_boxes(front, stand.way, far))


def _draw_unit(unit: UnitMark, plan: PlanView, frame: LevelFrame, look: Look, ink: _Ink) -> tuple[Drawn, Placed]:
    stand = _stand(unit, plan, frame, look)
    size = size_px(unit, frame, look)
    box = _extent(stand.back, stand.facing, size, 0.0)
    placed = Placed(unit.kind, unit.room, box, unit.above_ceiling, stand.way)
    transform = _transform(stand.back, stand.facing)
    if look.compact:
        return Drawn(svg.group([_compact_symbol(unit, size, ink.colour, look.theme.card)], transform=transform)), placed
    still = unit.kind == "room heater" and not ink.heating
    body = (still_heater if still else SYMBOLS[unit.kind])(size, ink.colour, look.theme.card)
    reach = 0.0 if still else ARROW_REACH_PX.get(unit.kind, 0.0)
    hard = [_extent(stand.back, stand.facing, size, reach).grown(1.0)]
    if unit.kind == "ceiling cassette":
        hard.append(box.grown(reach))
    symbol = Drawn(svg.group([body], transform=transform), tuple(hard))
    return together([_moving_air(unit, stand, plan, frame, look), symbol]), placed


def draw_units(
    plan: PlanView, units: tuple[UnitMark, ...], frame: LevelFrame, look: Look, colour: str, *, heating: bool = True
) -> tuple[Drawn, tuple[Placed, ...]]:
    """Units of a storey and where they stand; room heaters blow only while there is heating."""
    ink = _Ink(colour, heating)
    found = [_draw_unit(unit, plan, frame, look, ink) for unit in units if unit.level == frame.level.level]
    return together(drawn for drawn, _ in found), tuple(placed for _, placed in found)


def _outdoor_centre(mark: OutdoorMark, frame: LevelFrame, size: Point) -> tuple[Point, bool]:
    """Centre of an outdoor unit in the strip beside the house, and whether it stands upright."""
    x, y = frame.at(mark.at_m)
    house, beside = frame.house, OUTDOOR_GAP_PX + size[1] / 2.0
    side = outdoor_side(mark, frame.house_m)
    if side in {"E", "W"}:
        return ((house.x1 + beside if side == "E" else house.x0 - beside), y), True
    if side:
        return (x, (house.y0 - beside if side == "N" else house.y1 + beside)), False
    return (x, y), False


def _apart(centre: Point, box_size: Point, taken: list[Box], *, upright: bool) -> Box:
    """A box at the centre, pushed along the wall until it is clear of those before it."""
    wide, high = box_size
    step = 0
    while True:
        shift = ((step + 1) // 2) * (1 if step % 2 else -1) * 3.0
        x, y = (centre[0], centre[1] + shift) if upright else (centre[0] + shift, centre[1])
        box = Box(x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0)
        if not any(box.meets(other.grown(4.0)) for other in taken) or step > 400:
            return box
        step += 1


def draw_outdoor(marks: tuple[OutdoorMark, ...], frame: LevelFrame, look: Look) -> tuple[Drawn, tuple[Box, ...]]:
    """Outdoor units of a storey, to scale, in the strip beside the house; always in ink."""
    if look.compact:
        return Drawn(), ()
    size = tuple(max(side * frame.px_per_m, least) for side, least in zip(OUTDOOR_M, (30.0, 16.0), strict=True))
    wide, deep = size[0], size[1]
    parts: list[Drawn] = []
    boxes: list[Box] = []
    for mark in marks:
        if mark.level != frame.level.level:
            continue
        centre, upright = _outdoor_centre(mark, frame, (wide, deep))
        box = _apart(centre, (deep, wide) if upright else (wide, deep), boxes, upright=upright)
        boxes.append(box)
        turn = " rotate(90)" if upright else ""
        place = f"translate({svg.number(box.centre[0])} {svg.number(box.centre[1])}){turn}"
        body = svg.group([outdoor_unit((wide, deep), look.theme.ink, look.theme.card)], transform=place)
        parts.append(Drawn(body, hard=(box.grown(2.0),)))
    return together(parts), tuple(boxes)
