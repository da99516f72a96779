"""What stands against an option before its year is run: fit, places outdoors, lines, refrigerant, panel, size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from compare.air.lines import LineRoute, SpotPlan
from compare.equipment.circuit import PanelCheck
from compare.equipment.outdoor import OutdoorGroup, OutdoorPlan
from compare.equipment.refrigerant import ChargeCheck, ServedRoom, Verdict, check_charge, line_charge_kg
from compare.house.plan import Plan
from compare.options.option import Finding
from compare.zones.served import ServedZone


def findings(
    plan: Plan, zones: Sequence[ServedZone], outdoor: OutdoorPlan, spots: SpotPlan, panel: PanelCheck
) -> tuple[Finding, ...]:
    """All findings of an option, fatal ones first."""
    found = [*_zones(zones), *_spots(spots), *_charges(plan, zones, outdoor, spots), *_panel(panel)]
    return tuple(sorted(found, key=lambda finding: not finding.fatal))


def _zones(zones: Sequence[ServedZone]) -> Iterator[Finding]:
    for zone in zones:
        for reason in zone.reasons:
            yield Finding("no_fit", True, reason)
        if zone.feasible and zone.selection.short:
            heat = zone.selection.cover.heat_frac
            if heat < 0.95:
                yield Finding("short_heat", False, f"{zone.pair.label}: gives {heat:.0%} of the heat needed at design")


def _spots(spots: SpotPlan) -> Iterator[Finding]:
    for reason in spots.reasons:
        yield Finding("no_outdoor_place", True, reason)


def _charges(plan: Plan, zones: Sequence[ServedZone], outdoor: OutdoorPlan, spots: SpotPlan) -> Iterator[Finding]:
    routes = _routes_by_zone(outdoor, spots)
    for group in outdoor.groups:
        check = charge_check(plan, zones, group, routes)
        if check.verdict is not Verdict.CLEAR:
            text = f"{check.reason} ({check.clause}; {check.confirm})"
            yield Finding("refrigerant", check.verdict is Verdict.REJECTED, text)


def charge_check(
    plan: Plan, zones: Sequence[ServedZone], group: OutdoorGroup, routes: Mapping[int, LineRoute]
) -> ChargeCheck:
    """The whole charge of one outdoor unit's circuit, lines included, against the rooms that it could leak into.

    `routes` are line sets by zone; a zone without one adds no charge.
    """
    size = group.outdoor.size_kbtuh
    lines = sum(line_charge_kg(size, routes[zone].length_m) for zone in group.zones if zone in routes)
    rooms = [room for zone in group.zones for room in _served_rooms(plan, zones[zone])]
    return check_charge(group.outdoor.charge_kg + lines, rooms)


def _served_rooms(plan: Plan, zone: ServedZone) -> list[ServedRoom]:
    """A room unit leaks into its open space; a ducted one into every room with an outlet."""
    if zone.ducts is not None:
        return [ServedRoom(plan.rooms[i].name, plan.rooms[i].area_m2, zone.pair.kind) for i in zone.rooms]
    space = plan.space_of(zone.rooms[0])
    area = sum(plan.rooms[i].area_m2 for i in space)
    return [ServedRoom(plan.rooms[zone.rooms[0]].name, area, zone.pair.kind)]


def _panel(check: PanelCheck) -> Iterator[Finding]:
    if check.enough_spaces is False:
        text = f"needs {check.spaces_needed} breaker spaces, {check.spaces_free} are free; {check.note}"
        yield Finding("panel", True, text)


def _routes_by_zone(outdoor: OutdoorPlan, spots: SpotPlan) -> dict[int, LineRoute]:
    pairs = zip(outdoor.groups, spots.routes, strict=False)
    return {zone: route for group, routes in pairs for zone, route in zip(group.zones, routes, strict=True)}
