"""SheetsView from an option of a comparison, field by field."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from compare.air.geometry import Point, nearest_on, walls
from compare.air.lines import LineRoute
from compare.equipment.circuit import panel_check
from compare.equipment.heater import heater_circuits, heater_w
from compare.equipment.output import RatedOutput
from compare.equipment.performance import Mode, performance
from compare.equipment.refrigerant import line_charge_kg
from compare.equipment.selection import design_output_w
from compare.equipment.unit import LABEL
from compare.house.defaults import assumptions
from compare.house.plan import Plan
from compare.loads.case import load_case_of
from compare.loads.cautions import warnings_of
from compare.loads.report import FACTORS, OURS
from compare.loads.result import HouseLoads, RoomLoad
from compare.loads.second_opinion import second_opinion
from compare.loads.third_opinion import ThirdOpinion, third_opinion
from compare.options.build import heaters_w
from compare.options.findings import charge_check
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.physics.fabric.spaces import ground_of_year
from compare.views.assumed import simple_forms
from compare.views.customer import AssumptionLine
from compare.views.designer import DesignerView
from compare.views.designer_build import designer_view
from compare.views.designer_desk import Desk
from compare.views.sheets import (
    BillsRow,
    CircuitRow,
    FromWall,
    HeaterRow,
    IndoorRow,
    LoadRow,
    LoadSheet,
    PanelRow,
    SheetsView,
)
from compare.years.case import HouseCase
from compare.zones.served import ServedZone
from compare.zones.sketch import Rest

POINTS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
MOST_OTHERS = 3


def sheets_view(desk: Desk, option: Option) -> SheetsView:
    """All that the crew of one option needs."""
    case, house = desk.case, desk.case.house
    outdoor = [group.outdoor for group in option.outdoor.groups]
    powers_w = heaters_w(option.layout, case.heat_load_w)
    panel = panel_check(outdoor, house.panel.free_spaces, powers_w)
    design = designer_view(desk, option)
    return SheetsView(
        house=house.house.name,
        place=house.site.place,
        units=house.units.value,
        demo="invented" in house.house.name,
        estimate=option.price.is_estimate or any(zone.pair.indoor.source == LABEL for zone in option.zones),
        built=house.house.built,
        option_id=option.key,
        option_name=desk.names.get(option.key, option.key),
        heating_99_c=case.design.heating_99_c,
        cooling_1_c=case.design.cooling_1_c,
        heating_set_c=house.comfort.heating_c,
        cooling_set_c=house.comfort.cooling_c,
        weather=case.weather.provenance,
        design_source=case.design.source,
        catalogue_note="; ".join(sorted({zone.pair.indoor.source for zone in option.zones})),
        indoor=tuple(_indoor(desk, option)),
        circuits=tuple(_circuits(desk, option)),
        room_heaters=tuple(_heaters(case, design)),
        panel=PanelRow(
            spaces_needed=panel.spaces_needed,
            spaces_free=panel.spaces_free,
            enough=panel.enough_spaces,
            heater_circuits=heater_circuits(powers_w),
            note=panel.note,
        ),
        findings=tuple(finding.text for finding in option.findings),
        loads=_loads(case),
        heaters=any(rest is Rest.HEATER for _, rest in option.layout.rest),
        old_heat=any(rest is Rest.OLD_HEAT for _, rest in option.layout.rest),
        design=design,
        assumptions=(*_assumed(case), *simple_forms()),
    )


def _assumed(case: HouseCase) -> Iterator[AssumptionLine]:
    for item in assumptions(case.house):
        yield AssumptionLine(subject=item.path, value=item.value_text, reason=item.reason)


def _heaters(case: HouseCase, design: DesignerView) -> Iterator[HeaterRow]:
    """Room heaters with their tags on the plan."""
    for mark in design.drawing.units:
        if mark.kind == "room heater":
            load_w = float(case.heat_load_w[mark.room])
            yield HeaterRow(tag=mark.tag, room=case.plan.rooms[mark.room].name, load_w=load_w, power_w=heater_w(load_w))


def _indoor(desk: Desk, option: Option) -> Iterator[IndoorRow]:
    for index, (zone, tag) in enumerate(zip(option.zones, zone_tags(option.zones), strict=True)):
        unit, demand, cover = zone.pair.indoor, zone.demand, option.cover(index)
        heat_w, cool_w = design_output_w(zone.pair.output, demand)
        space = zone.ducts.space if zone.ducts is not None else None
        yield IndoorRow(
            tag=tag,
            kind=str(unit.kind),
            size=unit.label,
            rooms=tuple(desk.plan.rooms[room].name for room in zone.rooms),
            borrows=tuple(desk.plan.rooms[room].name for room in zone.attached),
            heat_load_w=demand.heat_w,
            cool_load_w=demand.cool_w,
            heat_most_w=heat_w,
            heat_least_w=_least_w(zone.pair.output, demand.heat_outdoor_c),
            cool_most_w=cool_w,
            cover_heat_frac=_finite(cover.heat_frac),
            cover_cool_frac=_finite(cover.cool_frac),
            width_m=unit.cabinet.width_m,
            height_m=unit.cabinet.height_m,
            depth_m=unit.cabinet.depth_m,
            quiet_m3_s=unit.airflow_m3_s.quiet,
            high_m3_s=unit.airflow_m3_s.high,
            place=_place(zone),
            space=str(space.kind.value) if space else "",
            level=_level(desk.plan, zone),
            hangs_m=zone.siting.height_m if zone.siting is not None else None,
            clear_m=(space.clear_length_m, space.clear_width_m, space.clear_height_m) if space else None,
            service=space.service_side if space else "",
            offsets=tuple(_offsets(desk, zone)),
            others=tuple(f"{other.pair.label}: {other.reason}" for other in zone.selection.rejected[:MOST_OTHERS]),
        )


def _least_w(output: RatedOutput, outdoor_c: float) -> float:
    return float(performance(output, np.array([outdoor_c]), Mode.HEAT).min_w[0])


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _place(zone: ServedZone) -> str:
    if zone.siting is not None:
        return zone.siting.label
    assert zone.ducts is not None
    return zone.ducts.space.name


def _level(plan: Plan, zone: ServedZone) -> int:
    return zone.ducts.space.level if zone.ducts is not None else plan.rooms[zone.rooms[0]].level


def _offsets(desk: Desk, zone: ServedZone) -> Iterator[FromWall]:
    """A room unit from both ends of its wall; a concealed one from the west and south faces of its level."""
    if zone.siting is not None:
        at = (zone.siting.x_m, zone.siting.y_m)
        yield from _along_wall(desk, zone.siting.room, at)
        return
    assert zone.ducts is not None
    stand = zone.ducts.stand
    corners = [corner for room in desk.plan.rooms if room.level == zone.ducts.space.level for corner in room.outline_m]
    yield FromWall(what="from the west face", distance_m=stand.unit_x_m - min(x for x, _ in corners))
    yield FromWall(what="from the south face", distance_m=stand.unit_y_m - min(y for _, y in corners))


def _along_wall(desk: Desk, room: int, at: Point) -> Iterator[FromWall]:
    north = desk.basis.plan_north_deg
    wall = min(walls(desk.plan, room, north), key=lambda w: math.dist(nearest_on(w.a, w.b, at), at))
    for end, other in ((wall.a, wall.b), (wall.b, wall.a)):
        name = _bearing_word(math.degrees(math.atan2(end[0] - other[0], end[1] - other[1])))
        face = _bearing_word(wall.inward_deg + 180.0)
        yield FromWall(what=f"from the {name} end of the {face} wall", distance_m=math.dist(end, at))


def _bearing_word(bearing_deg: float) -> str:
    return POINTS[round((bearing_deg % 360.0) / 45.0) % 8]


def _circuits(desk: Desk, option: Option) -> Iterator[CircuitRow]:
    tags = zone_tags(option.zones)
    routes = dict(enumerate(option.routes))
    for place, group in enumerate(option.outdoor.groups):
        unit = group.outdoor
        check = charge_check(desk.plan, option.zones, group, routes)
        mine = [routes[zone] for zone in group.zones if zone in routes]
        added = math.fsum(line_charge_kg(unit.size_kbtuh, route.length_m) for route in mine)
        yield CircuitRow(
            tag=outdoor_tag(place),
            size=unit.label,
            ports=unit.ports,
            serves=tuple(tags[zone] for zone in group.zones),
            spot=mine[0].spot.name if mine else "",
            side=mine[0].spot.side if mine else "",
            offsets=tuple(_outdoor_offsets(desk.plan, mine)),
            width_m=unit.cabinet.width_m,
            height_m=unit.cabinet.height_m,
            depth_m=unit.cabinet.depth_m,
            volts=unit.volts,
            circuit_a=unit.circuit_a,
            sound_power_dba=unit.sound_power_dba,
            factory_kg=unit.charge_kg,
            added_kg=added,
            limit_kg=check.limit_kg,
            charge_verdict=str(check.verdict),
            charge_reason=check.reason,
            lines_m=math.fsum(route.length_m for route in mine),
            lines_most_m=unit.line_total_m,
            branch_most_m=unit.line_branch_m,
            lift_most_m=unit.lift_m,
        )


def _outdoor_offsets(plan: Plan, routes: Sequence[LineRoute]) -> Iterator[FromWall]:
    """An outdoor unit's middle from the south-west corner of the house, along both faces."""
    if not routes:
        return
    corners = [corner for room in plan.rooms for corner in room.outline_m]
    spot = routes[0].spot
    east, north = spot.x_m - min(x for x, _ in corners), spot.y_m - min(y for _, y in corners)
    for value, one, other in ((east, "east", "west"), (north, "north", "south")):
        side = one if value >= 0.0 else other
        yield FromWall(what=f"{side} of the south-west corner", distance_m=abs(value))
    yield FromWall(what="from the property line", distance_m=spot.property_line_m)


def _loads(case: HouseCase) -> LoadSheet:
    load_case = load_case_of(case.house, case.plan, case.design, ground_of_year(case.weather.dry_bulb_c))
    ours, other = case.loads, second_opinion(load_case)
    third = third_opinion(case.house, load_case, case.weather)
    found = warnings_of(case.plan, {OURS: ours, FACTORS: other}, third, latent_ok=case.weather.latent_ok)
    return LoadSheet(
        method=ours.method,
        second_method=other.method,
        rooms=tuple(_load_row(mine, theirs) for mine, theirs in zip(ours.rooms, other.rooms, strict=True)),
        house=_house_row(ours, other),
        bills=third.sentence if third is not None else "",
        by_bills=_by_bills(third, load_case.heating_c - case.design.heating_99_c),
        warnings=tuple(found),
    )


def _by_bills(third: ThirdOpinion | None, difference_k: float) -> BillsRow | None:
    """The bills' heat loss per kelvin, at the design difference; None where they cannot be used."""
    if third is None or third.fit is None:
        return None
    return BillsRow(
        heat_w=third.loss_w_k * difference_k,
        low_w=third.low_w_k * difference_k,
        high_w=third.high_w_k * difference_k,
        calculated_w=third.calculated_w_k * difference_k,
        agrees=bool(third.agrees),
    )


def _load_row(mine: RoomLoad, theirs: RoomLoad) -> LoadRow:
    return LoadRow(
        room=mine.name,
        heat_w=mine.heat_w,
        cool_sensible_w=mine.cool_sensible_w,
        cool_latent_w=mine.cool_latent_w,
        peak_hour_h=mine.peak_hour_h,
        second_heat_w=theirs.heat_w,
        second_cool_w=theirs.cool_sensible_w,
    )


def _house_row(ours: HouseLoads, other: HouseLoads) -> LoadRow:
    """The house together: the coincident peak, not the sum of the rooms' own."""
    mine, theirs = ours.house, other.house
    return LoadRow(
        room="House, together",
        heat_w=mine.heat_w,
        cool_sensible_w=mine.cool_sensible_w,
        cool_latent_w=max(mine.cool_total_w - mine.cool_sensible_w, 0.0),
        peak_hour_h=mine.peak_hour_h,
        second_heat_w=theirs.heat_w,
        second_cool_w=theirs.cool_sensible_w,
    )
