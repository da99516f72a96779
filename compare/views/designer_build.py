"""DesignerView from an option of a comparison, field by field."""

from __future__ import annotations

from collections.abc import Iterator

from compare.air.ducts.transfer import carried_w
from compare.air.noise.criteria import limit_dba
from compare.air.tables import constant
from compare.air.units_us import FPM_M_S
from compare.house.plan import LinkKind
from compare.options.option import Option
from compare.options.tags import zone_tags
from compare.units import Kind, System, show
from compare.views.designer import CheckRow, DesignerView, DuctZone, OutdoorSheet, SitingSheet
from compare.views.designer_desk import Desk
from compare.views.designer_ducts import duct_zone
from compare.views.designer_outside import elevations, line_marks, outdoor_sheets
from compare.views.designer_siting import control_marks, siting_sheet
from compare.views.drawing_build import option_drawing
from compare.views.plan_build import plan_view

DRAUGHT_LIMIT_FRAC = 0.20
"""ISO 7730 class B."""
FIT_SOURCE = "common practice; the local code and the unit's manual govern"


def designer_view(desk: Desk, option: Option) -> DesignerView:
    """The air side of one option."""
    house = desk.case.house
    tags = zone_tags(option.zones)
    pairs = list(enumerate(zip(option.zones, tags, strict=True)))
    zones = tuple(duct_zone(desk, option, i, tag) for i, (zone, tag) in pairs if zone.ducts is not None)
    sitings = tuple(siting_sheet(desk, zone, tag) for _, (zone, tag) in pairs if zone.siting is not None)
    outdoor = tuple(outdoor_sheets(option, tags))
    return DesignerView(
        house=house.house.name,
        units=house.units.value,
        demo="invented" in house.house.name,
        option_id=option.key,
        option_name=desk.names.get(option.key, option.key),
        plan=plan_view(house, desk.plan),
        drawing=option_drawing(desk.plan, option, house.house.plan_north_deg),
        zones=zones,
        sitings=sitings,
        controls=tuple(control_marks(desk, option, tags)),
        lines=tuple(line_marks(desk, option, tags)),
        outdoor=outdoor,
        checks=tuple(_checks(zones, sitings, outdoor, house.units)),
        elevations=tuple(elevations(desk, option, tags)),
        fan_rooms=tuple(_fan_rooms(desk, option)),
    )


def _checks(
    zones: tuple[DuctZone, ...], sitings: tuple[SitingSheet, ...], outdoor: tuple[OutdoorSheet, ...], units: System
) -> Iterator[CheckRow]:
    for zone in zones:
        yield from _zone_checks(zone, units)
    for sheet in sitings:
        yield from _siting_checks(sheet)
    for one in outdoor:
        yield CheckRow(
            check=f"{one.tag} at the property line",
            design=f"{one.line_dba:.0f} dB(A)",
            allowed=f"{one.limit_dba:.0f} dB(A)",
            source="default screen, night; local ordinance governs",
            met=one.line_dba <= one.limit_dba,
        )
        if one.window_dba is not None:
            limit = limit_dba("bedroom_window_outside")
            yield CheckRow(
                check=f"{one.tag} at the bedroom window",
                design=f"{one.window_dba:.0f} dB(A)",
                allowed=f"{limit:.0f} dB(A)",
                source="WHO Guidelines for Community Noise 1999",
                met=one.window_dba <= limit,
            )


def _zone_checks(zone: DuctZone, units: System) -> Iterator[CheckRow]:
    yield CheckRow(
        check=f"{zone.tag} total external static",
        design=show(zone.static_pa, Kind.PRESSURE, units),
        allowed=show(zone.available_pa, Kind.PRESSURE, units),
        source="what the unit can give",
        met=zone.static_pa <= zone.available_pa + 1e-9,
    )
    fastest = max(branch.speed_m_s for branch in zone.branches)
    yield CheckRow(
        check=f"{zone.tag} fastest branch",
        design=show(fastest, Kind.SPEED, units),
        allowed=show(350 * FPM_M_S, Kind.SPEED, units) if zone.policy == "generous" else f"{zone.policy} sizing",
        source="common practice for generous ducts",
        met=zone.policy != "generous" or fastest <= 350 * FPM_M_S * 1.01,
    )
    limit = constant("filter_limit_m_s")
    yield CheckRow(
        check=f"{zone.tag} filter face",
        design=show(zone.way_back.face_m_s, Kind.SPEED, units),
        allowed=show(limit, Kind.SPEED, units),
        source="ACCA, second-hand",
        met=zone.way_back.face_m_s <= limit * 1.01,
    )
    for row in zone.transfers:
        yield CheckRow(
            check=f"{row.room_name}, door shut",
            design=f"{row.as_is_pa:.1f} Pa now, {row.pressure_pa:.1f} Pa with {row.remedy}",
            allowed=f"{row.limit_pa:.0f} Pa",
            source="ENERGY STAR",
            met=row.pressure_pa <= row.limit_pa + 1e-9,
        )
    for sheet in zone.sound:
        if sheet.speed == "high":
            yield CheckRow(
                check=f"{sheet.ear}, high speed",
                design=f"{sheet.level_dba:.0f} dB(A), NC {sheet.criterion_nc:.0f}",
                allowed=f"{sheet.limit_dba:.0f} dB(A)",
                source="WHO Guidelines for Community Noise 1999",
                met=sheet.level_dba <= sheet.limit_dba,
            )
    yield CheckRow(
        check=f"{zone.tag} fits {zone.space}",
        design=zone.reasons[0] if zone.reasons else "fits",
        allowed="pan 3 in. larger on each side, service side free",
        source=FIT_SOURCE,
        met=not zone.reasons,
    )


def _siting_checks(sheet: SitingSheet) -> Iterator[CheckRow]:
    worst = max(sheet.heads, key=lambda head: max(head.cool_frac, head.heat_frac), default=None)
    if worst is not None:
        rate = max(worst.cool_frac, worst.heat_frac)
        yield CheckRow(
            check=f"{sheet.tag} draught at {worst.ear}",
            design=f"{rate:.0%} dissatisfied",
            allowed=f"{DRAUGHT_LIMIT_FRAC:.0%}",
            source="ISO 7730 class B",
            met=rate <= DRAUGHT_LIMIT_FRAC,
        )
        beds = [head for head in sheet.heads if ": bed" in head.ear]
        if beds:
            loud = max(beds, key=lambda head: head.quiet_dba)
            limit = limit_dba("bedroom_night")
            yield CheckRow(
                check=f"{sheet.tag} at {loud.ear}, quiet speed",
                design=f"{loud.quiet_dba:.0f} dB(A)",
                allowed=f"{limit:.0f} dB(A)",
                source="WHO Guidelines for Community Noise 1999",
                met=loud.quiet_dba <= limit,
            )
    pump = f"pump, about {constant('pump_level_dba'):.0f} dB(A) at 1 m while it runs"
    yield CheckRow(
        check=f"{sheet.tag} drain",
        design=pump if sheet.needs_pump else "falls through the outside wall",
        allowed="unbroken fall of 1/8 in. per ft, or a pump",
        source="2006 IRC M1411.3; the local code governs",
        met=True,
    )


def _fan_rooms(desk: Desk, option: Option) -> Iterator[str]:
    """Shut rooms without a supply: whether a transfer fan would carry their load."""
    units = desk.case.house.units
    fan = carried_w(constant("transfer_fan_m3_s"), constant("transfer_difference_k"))
    for index, room in enumerate(desk.plan.rooms):
        if not room.habitable or index in option.layout.served:
            continue
        links = [link for link in desk.plan.links if index in (link.a, link.b)]
        if any(link.kind is not LinkKind.DOOR for link in links):
            continue
        load = desk.basis.heat_w((index,))
        if fan < load:
            yield (
                f"{room.name}: a transfer fan would carry {show(fan, Kind.CAPACITY, units)} of the "
                f"{show(load, Kind.CAPACITY, units)} it needs at design: not offered"
            )
