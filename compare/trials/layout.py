"""Layouts with one head more: alone in the house, or beside the units of another layout."""

from __future__ import annotations

from compare.house.plan import Plan
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneSketch


def alone(plan: Plan, room: int) -> LayoutSketch:
    """One head in the house; every other room lives on its neighbours' air."""
    others = tuple((index, Rest.NEIGHBOUR) for index in range(len(plan.rooms)) if index != room)
    return LayoutSketch(Family.SINGLE_HEAD, (ZoneSketch((room,)),), others)


def beside(plan: Plan, layout: LayoutSketch, room: int) -> LayoutSketch:
    """A layout with a head in one room in place of what served it: a head, a branch of ducts, a heater.

    Ducts of which no other room is left go with it.
    """
    head = ZoneSketch((room,))
    zones = [head]
    for zone in layout.zones:
        left = tuple(other for other in zone.rooms if other != room)
        if left:
            zones.append(ZoneSketch(left, zone.space))
    rest = tuple((index, kind) for index, kind in layout.rest if index != room)
    return LayoutSketch(_family(plan, zones, rest), tuple(sorted(zones)), rest)


def _family(plan: Plan, zones: list[ZoneSketch], rest: tuple[tuple[int, Rest], ...]) -> Family:
    if any(zone.space >= 0 for zone in zones):
        return Family.MIX
    kinds = {kind for index, kind in rest if plan.rooms[index].habitable}
    if kinds & {Rest.HEATER, Rest.OLD_HEAT}:
        return Family.HEADS_AND_HEATERS
    if len(zones) == 1:
        return Family.SINGLE_HEAD
    return Family.FEW_HEADS if Rest.NEIGHBOUR in kinds else Family.HEAD_EACH
