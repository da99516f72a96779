"""The job behind an option in the words of the take-off: units, lines, ducts, heaters, what is taken away."""

from __future__ import annotations

from collections.abc import Sequence

from compare.air.ducts.result import DuctDesign
from compare.air.lines import LineRoute
from compare.equipment.outdoor import OutdoorPlan
from compare.equipment.refrigerant import line_charge_kg
from compare.equipment.unit import UnitKind
from compare.house.plan import Plan, SpaceKind
from compare.options.tags import outdoor_tag, zone_tags
from compare.prices.job import (
    DuctedItem,
    DuctParts,
    DuctRun,
    IndoorItem,
    IndoorKind,
    JobDescription,
    OutdoorItem,
    StaticClass,
)
from compare.zones.served import ServedZone
from compare.zones.sketch import LayoutSketch, Rest

ROOM_UNITS = {
    UnitKind.WALL: IndoorKind.WALL,
    UnitKind.FLOOR: IndoorKind.FLOOR,
    UnitKind.CEILING: IndoorKind.CEILING,
}
INCH_M = 0.0254
UNROUTED_M = 6.0
"""Line length that is priced where no outdoor spot exists; the option is then rejected anyway."""


def job_of(
    plan: Plan, layout: LayoutSketch, zones: Sequence[ServedZone], outdoor: OutdoorPlan, routes: Sequence[LineRoute]
) -> JobDescription:
    """Describe an option for pricing; every item carries the tag it has on the drawing."""
    tags = zone_tags(zones)
    on = {zone: outdoor_tag(place) for place, group in enumerate(outdoor.groups) for zone in group.zones}
    indoor, ducted = [], []
    for place, zone in enumerate(zones):
        length, cover = (routes[place].length_m, routes[place].cover_m) if routes else (UNROUTED_M, 0.0)
        pump = routes[place].needs_pump if routes else False
        size = round(zone.pair.size_kbtuh)
        if zone.ducts is None:
            kind = ROOM_UNITS[zone.pair.kind]
            indoor.append(IndoorItem(tags[place], kind, size, on[place], length, min(cover, length), pump))
        else:
            ducted.append(_ducted(plan, zone, (tags[place], on[place]), (length, min(cover, length), pump)))
    return JobDescription(
        indoor=tuple(indoor),
        outdoor=tuple(_outdoor(outdoor, place, routes) for place in range(outdoor.count)),
        ducted=tuple(ducted),
        room_heaters=tuple(plan.rooms[room].name for room, rest in layout.rest if rest is Rest.HEATER),
        transfer_grilles=tuple(
            plan.rooms[path.room].name
            for zone in zones
            if zone.ducts is not None
            for path in zone.ducts.transfers
            if path.remedy == "transfer grille"
        ),
    )


def _ducted(plan: Plan, zone: ServedZone, names: tuple[str, str], line: tuple[float, float, bool]) -> DuctedItem:
    assert zone.ducts is not None
    tag, outdoor = names
    length, cover, pump = line
    static = StaticClass.LOW if zone.pair.kind is UnitKind.DUCTED_LOW else StaticClass.MID
    return DuctedItem(
        name=tag,
        static=static,
        size=round(zone.pair.size_kbtuh),
        outdoor=outdoor,
        branches=sum(branch.runs for branch in zone.ducts.branches),
        line_length_m=length,
        line_cover_m=cover,
        soffit=zone.ducts.space.kind is SpaceKind.HALL_DROP,
        condensate_pump=pump or zone.ducts.needs_pump,
        parts=_duct_parts(plan, zone.ducts),
    )


def _duct_parts(plan: Plan, ducts: DuctDesign) -> DuctParts:
    """The designed ducts in trade sizes, room by room."""
    face = ducts.return_path.filter_face
    return DuctParts(
        runs=tuple(
            DuctRun(
                room=plan.rooms[branch.room].name,
                diameter_in=round(branch.diameter_m / INCH_M),
                runs=branch.runs,
                rigid_m=branch.shape.rigid_m,
                flex_m=branch.shape.flex_m,
                elbows=branch.elbows,
            )
            for branch in ducts.branches
        ),
        filter_in=(round(face.width_m / INCH_M), round(face.height_m / INCH_M), ducts.return_path.filter_depth_in),
        undercuts=tuple(plan.rooms[path.room].name for path in ducts.transfers if path.remedy == "undercut"),
    )


def _outdoor(outdoor: OutdoorPlan, place: int, routes: Sequence[LineRoute]) -> OutdoorItem:
    group = outdoor.groups[place]
    size = group.outdoor.size_kbtuh
    added = sum(line_charge_kg(size, routes[zone].length_m) for zone in group.zones) if routes else 0.0
    return OutdoorItem(outdoor_tag(place), round(size), shared=group.shared, added_charge_kg=added)
