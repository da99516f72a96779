"""OptionDrawing from an option: its units, ducts, heaters and outdoor units on the plan."""

from __future__ import annotations

from collections.abc import Iterator

from compare.air.geometry import Point, inside, walls
from compare.house.plan import Plan, SpaceKind
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.views.plan_view import DuctRun, OptionDrawing, OutdoorMark, UnitMark
from compare.zones.served import ServedZone
from compare.zones.sketch import Rest

HEATER_WIDTH_M = 0.95
HEATER_DEPTH_M = 0.12


def option_drawing(plan: Plan, option: Option, north_deg: float) -> OptionDrawing:
    """Everything that one option adds to the plan."""
    tags = zone_tags(option.zones)
    units: list[UnitMark] = []
    ducts: list[DuctRun] = []
    for zone, tag in zip(option.zones, tags, strict=True):
        if zone.siting is not None:
            units.append(_room_unit(plan, zone, tag, north_deg))
        else:
            units.append(_concealed(plan, zone, tag))
            ducts.extend(_ducts(zone))
    units.extend(_heaters(plan, option, north_deg))
    return OptionDrawing(units=tuple(units), ducts=tuple(ducts), outdoor=tuple(_outdoor(plan, option, tags)))


def _room_unit(plan: Plan, zone: ServedZone, tag: str, north_deg: float) -> UnitMark:
    siting = zone.siting
    assert siting is not None
    cabinet = zone.pair.indoor.cabinet
    return UnitMark(
        kind=zone.pair.kind.value,
        tag=tag,
        level=plan.rooms[siting.room].level,
        room=siting.room,
        at_m=(siting.x_m, siting.y_m),
        blows_deg=(siting.throws_deg + north_deg) % 360.0,
        width_m=cabinet.width_m,
        depth_m=cabinet.depth_m,
    )


def _concealed(plan: Plan, zone: ServedZone, tag: str) -> UnitMark:
    ducts = zone.ducts
    assert ducts is not None
    cabinet = zone.pair.indoor.cabinet
    at = (ducts.start_x_m, ducts.start_y_m)
    within = ducts.space.kind in (SpaceKind.HALL_DROP, SpaceKind.CLOSET)
    return UnitMark(
        kind="concealed unit",
        tag=tag,
        level=ducts.space.level,
        room=_room_at(plan, ducts.space.level, at) if within else -1,
        at_m=at,
        blows_deg=0.0,
        width_m=cabinet.width_m,
        depth_m=cabinet.depth_m,
        above_ceiling=ducts.space.kind in (SpaceKind.HALL_DROP, SpaceKind.ATTIC),
    )


def _room_at(plan: Plan, level: int, at: Point) -> int:
    return next((i for i, room in enumerate(plan.rooms) if room.level == level and inside(at, room.outline_m)), -1)


def _ducts(zone: ServedZone) -> Iterator[DuctRun]:
    """Branches along the axes of the plan, first along the unit's space, then to the outlet; the return at the unit."""
    ducts = zone.ducts
    assert ducts is not None
    start = (ducts.start_x_m, ducts.start_y_m)
    space = ducts.space
    along_x = (space.x1_m - space.x0_m) >= (space.y1_m - space.y0_m)
    for branch in ducts.branches:
        turn = (branch.x_m, start[1]) if along_x else (start[0], branch.y_m)
        points = tuple(dict.fromkeys((start, turn, (branch.x_m, branch.y_m))))
        yield DuctRun(level=space.level, points_m=points, width_m=branch.diameter_m, room=branch.room)
    side = ducts.return_path.box_side_m
    step = min(1.0, (space.x1_m - space.x0_m) / 2) if along_x else 0.0
    back = (start[0] - step, start[1]) if along_x else (start[0], start[1] - min(1.0, (space.y1_m - space.y0_m) / 2))
    yield DuctRun(level=space.level, points_m=(start, back), width_m=side, is_return=True)


def _heaters(plan: Plan, option: Option, north_deg: float) -> Iterator[UnitMark]:
    number = 0
    for room, rest in option.layout.rest:
        if rest is not Rest.HEATER:
            continue
        number += 1
        stretches = walls(plan, room, north_deg)
        wall = max(stretches, key=lambda w: (w.outside, w.length_m))
        yield UnitMark(
            kind="room heater",
            tag=f"E{number}",
            level=plan.rooms[room].level,
            room=room,
            at_m=wall.at(wall.length_m / 2),
            blows_deg=(wall.inward_deg + north_deg) % 360.0,
            width_m=min(HEATER_WIDTH_M, 0.6 * wall.length_m),
            depth_m=HEATER_DEPTH_M,
        )


def _outdoor(plan: Plan, option: Option, tags: tuple[str, ...]) -> Iterator[OutdoorMark]:
    if not option.routes:
        return
    lowest = min(room.level for room in plan.rooms)
    for place, group in enumerate(option.outdoor.groups):
        spot = option.routes[group.zones[0]].spot
        yield OutdoorMark(
            tag=outdoor_tag(place),
            level=lowest,
            at_m=(spot.x_m, spot.y_m),
            side=spot.side,
            serves=tuple(tags[zone] for zone in group.zones),
        )
