"""PlanView from the house: what is drawn the same for every option."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from compare.air.geometry import Point, Wall, nearest_on, walls
from compare.house.model import HouseFile
from compare.house.plan import LinkKind, Plan
from compare.house.rooms import Door, Side, Window
from compare.views.plan_view import (
    DoorLine,
    FurniturePiece,
    LevelView,
    PlanView,
    RoomShape,
    WallLine,
    WindowLine,
)
from compare.zones.attach import OPEN_HALF

WINDOW_HEIGHT_M = 1.2
"""Height taken for the width of a window that is given by its area alone."""
DOOR_HEIGHT_M = 2.03
MOST_OF_WALL = 0.9
FACING_DEG = 30.0


def plan_view(house: HouseFile, plan: Plan) -> PlanView:
    """The house as drawings need it. Windows and outside doors stand evenly along their wall."""
    by_room = {index: walls(plan, index, house.house.plan_north_deg) for index in range(len(plan.rooms))}
    return PlanView(
        levels=tuple(LevelView(level=i, name=name) for i, name in enumerate(plan.level_names)),
        rooms=tuple(
            RoomShape(
                index=index,
                name=room.name,
                use=room.use.value,
                level=room.level,
                outline_m=room.outline_m,
                area_m2=room.area_m2,
                sleepers=room.sleepers,
            )
            for index, room in enumerate(plan.rooms)
        ),
        walls=tuple(_wall_lines(plan, by_room)),
        windows=tuple(_window_lines(house, plan, by_room)),
        doors=tuple(_door_lines(plan, by_room)),
        furniture=tuple(_furniture(plan)),
        north_deg=house.house.plan_north_deg,
    )


def _wall_lines(plan: Plan, by_room: dict[int, list[Wall]]) -> Iterator[WallLine]:
    """Every stretch once: an inside wall belongs to two rooms."""
    seen = set()
    for index, stretches in by_room.items():
        level = plan.rooms[index].level
        for wall in stretches:
            ends = sorted((_rounded(wall.a), _rounded(wall.b)))
            key = (level, *ends)
            if key not in seen:
                seen.add(key)
                yield WallLine(level=level, start_m=wall.a, end_m=wall.b, outside=_is_outer(plan, index, wall))


def _is_outer(plan: Plan, room: int, wall: Wall) -> bool:
    """Whether no room of the level lies behind the stretch, whatever does (open air, garage, neighbour)."""
    return wall.outside or not any(
        index != room and other.level == plan.rooms[room].level and _touches(other.outline_m, wall)
        for index, other in enumerate(plan.rooms)
    )


def _touches(outline: tuple[Point, ...], wall: Wall) -> bool:
    middle = wall.at(wall.length_m / 2)
    sides = zip(outline, outline[1:] + outline[:1], strict=True)
    return any(math.dist(nearest_on(a, b, middle), middle) < 0.3 for a, b in sides)


def _rounded(point: Point) -> Point:
    return round(point[0], 3), round(point[1], 3)


def _window_lines(house: HouseFile, plan: Plan, by_room: dict[int, list[Wall]]) -> Iterator[WindowLine]:
    index_of = {room.name: index for index, room in enumerate(plan.rooms)}
    wanted: dict[tuple[int, Side], list[tuple[float, bool]]] = defaultdict(list)
    for window in house.windows:
        for _ in range(window.count):
            wanted[index_of[window.room], window.wall].append((_window_width_m(window), False))
    for door in house.doors:
        if door.room is not None and door.wall is not None:
            wanted[index_of[door.room], door.wall].append((_door_width_m(door), True))
    for (room, side), pieces in wanted.items():
        facing = [w for w in by_room[room] if w.outside and _looks(w, side)]
        if facing:
            yield from _spread(plan.rooms[room].level, max(facing, key=lambda wall: wall.length_m), pieces)


def _window_width_m(window: Window) -> float:
    return window.width_m or window.area_m2 / window.count / WINDOW_HEIGHT_M


def _door_width_m(door: Door) -> float:
    return door.area_m2 / DOOR_HEIGHT_M if door.written_area_m2 is not None else door.width_m


def _looks(wall: Wall, side: Side) -> bool:
    outward = (wall.inward_deg + 180.0) % 360.0
    return abs((outward - side.plan_deg + 180.0) % 360.0 - 180.0) <= FACING_DEG


def _spread(level: int, wall: Wall, pieces: list[tuple[float, bool]]) -> Iterator[WindowLine]:
    """Windows and doors of one wall with equal gaps; narrowed together where they are wider than the wall."""
    total = sum(width for width, _ in pieces)
    scale = min(1.0, MOST_OF_WALL * wall.length_m / total)
    gap = (wall.length_m - total * scale) / (len(pieces) + 1)
    along = gap
    for width, door in pieces:
        end = along + width * scale
        yield WindowLine(level=level, start_m=wall.at(along), end_m=wall.at(end), door=door)
        along = end + gap


def _door_lines(plan: Plan, by_room: dict[int, list[Wall]]) -> Iterator[DoorLine]:
    for link in plan.links:
        at = (link.x_m, link.y_m)
        wall = min(by_room[link.a], key=lambda w: math.dist(nearest_on(w.a, w.b, at), at))
        share_x, share_y = _direction(wall)
        half = link.width_m / 2
        if link.kind is LinkKind.STAIR:
            half = min(half, 0.6)
        yield DoorLine(
            level=plan.rooms[link.a].level,
            kind=link.kind.value,
            rooms=(link.a, link.b),
            start_m=(at[0] - half * share_x, at[1] - half * share_y),
            end_m=(at[0] + half * share_x, at[1] + half * share_y),
            open_by_night=link.open_frac(night=True) >= OPEN_HALF,
            open_by_day=link.open_frac(night=False) >= OPEN_HALF,
        )


def _direction(wall: Wall) -> Point:
    return (wall.b[0] - wall.a[0]) / wall.length_m, (wall.b[1] - wall.a[1]) / wall.length_m


def _furniture(plan: Plan) -> Iterator[FurniturePiece]:
    for index, room in enumerate(plan.rooms):
        for bed in room.beds:
            yield FurniturePiece(
                level=room.level, room=index, kind="bed", at_m=(bed.x_m, bed.y_m), sleepers=bed.sleepers
            )
        for seat in room.seats:
            yield FurniturePiece(level=room.level, room=index, kind=seat.kind, at_m=(seat.x_m, seat.y_m))
