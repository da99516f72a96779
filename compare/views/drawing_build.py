"""OptionDrawing from an option: its units, ducts, heaters and outdoor units on the plan."""

from __future__ import annotations

from collections.abc import Iterator

from compare.air.geometry import Point, inside, walls
from compare.house.plan import Plan, SpaceKind
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.views.duct_lines import branch_lines, plenum_line, return_line
from compare.views.plan_view import DuctRun, OptionDrawing, OutdoorMark, UnitMark
from compare.zones.served import ServedZone
from compare.zones.sketch import Rest

HEATER_WIDTH_M = 0.95
HEATER_DEPTH_M = 0.12
HEATER_HEIGHT_M = 0.40
"""Panel heater on a wall (our judgement)."""


def option_drawing(plan: Plan, option: Option, north_deg: float) -> OptionDrawing:
    """Everything that one option adds to the plan."""
    tags = zone_tags(option.zones)
    units: list[UnitMark] = []
    ducts: list[DuctRun] = []
    for zone, tag in zip(option.zones, tags, strict=True):
        if zone.siting is not None:
            units.append(_room_unit(plan, zone, tag, north_deg))
        else:
            units.append(_concealed(plan, zone, tag, north_deg))
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
        height_m=cabinet.height_m,
    )


def _concealed(plan: Plan, zone: ServedZone, tag: str, north_deg: float) -> UnitMark:
    ducts = zone.ducts
    assert ducts is not None
    cabinet = zone.pair.indoor.cabinet
    at = (ducts.stand.unit_x_m, ducts.stand.unit_y_m)
    within = ducts.space.kind in (SpaceKind.HALL_DROP, SpaceKind.CLOSET)
    return UnitMark(
        kind="concealed unit",
        tag=tag,
        level=ducts.space.level,
        room=_room_at(plan, ducts.space.level, at) if within else -1,
        at_m=at,
        blows_deg=(ducts.stand.flow_deg + north_deg) % 360.0,
        width_m=cabinet.width_m,
        depth_m=cabinet.depth_m,
        above_ceiling=ducts.space.kind in (SpaceKind.HALL_DROP, SpaceKind.ATTIC),
    )


def _room_at(plan: Plan, level: int, at: Point) -> int:
    return next((i for i, room in enumerate(plan.rooms) if room.level == level and inside(at, room.outline_m)), -1)


def _ducts(zone: ServedZone) -> Iterator[DuctRun]:
    """Plenum, branches along the axes of the plan, and the way back from the return grille."""
    ducts = zone.ducts
    assert ducts is not None
    level = ducts.space.level
    yield DuctRun(level=level, points_m=plenum_line(ducts), width_m=ducts.plenum_w_m)
    for branch, points in branch_lines(ducts, zone.pair.indoor.cabinet.width_m):
        yield DuctRun(level=level, points_m=points, width_m=branch.diameter_m, room=branch.room)
    yield DuctRun(level=level, points_m=return_line(ducts), width_m=ducts.return_path.box_side_m, is_return=True)


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
            height_m=HEATER_HEIGHT_M,
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
