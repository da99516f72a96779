"""PlanView from the house: what is drawn the same for every option."""

from __future__ import annotations

import math
from collections.abc import Iterator

from compare.air.geometry import Point, Wall, nearest_on, walls
from compare.house.model import HouseFile
from compare.house.plan import LinkKind, Plan
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


def plan_view(house: HouseFile, plan: Plan) -> PlanView:
    """The house as drawings need it."""
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
        windows=tuple(_window_lines(plan)),
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


def _window_lines(plan: Plan) -> Iterator[WindowLine]:
    for opening in plan.wall_openings:
        yield WindowLine(
            level=plan.rooms[opening.room].level, start_m=opening.start_m, end_m=opening.end_m, door=opening.door
        )


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
    """Furniture in the order of `Plan.furnishings`: a room's beds, then its seats."""
    stood = iter(plan.furnishings)
    for index, room in enumerate(plan.rooms):
        places = [("bed", (bed.x_m, bed.y_m), bed.sleepers) for bed in room.beds]
        places += [(seat.kind, (seat.x_m, seat.y_m), 0.0) for seat in room.seats]
        for kind, at_m, sleepers in places:
            piece = next(stood, None)
            corners = piece.corners_m if piece is not None else ()
            yield FurniturePiece(
                level=room.level, room=index, kind=kind, at_m=at_m, sleepers=sleepers, corners_m=corners
            )
