"""What each bed and seat hears and feels of a zone: level and draught against the share of its unit's output range."""

from __future__ import annotations

from dataclasses import dataclass

from compare.air.draught.points import DraughtCurve
from compare.air.ducts.result import Branch
from compare.air.ducts.room_air import register_draught
from compare.air.ducts.sound import zone_curve
from compare.air.from_catalogue import output_range, sound_source
from compare.air.noise.hours import LevelCurve, level_curve
from compare.air.noise.room import schultz_loss_db
from compare.air.siting import Siting, heads_of, space_on_level
from compare.equipment.catalogue import Catalogue
from compare.equipment.sound import Port
from compare.equipment.unit import Pair
from compare.house.plan import Plan
from compare.zones.served import ServedZone

LEAST_DISTANCE_M = 0.3


@dataclass(frozen=True, slots=True)
class Ear:
    """One head at rest and what it gets of one zone."""

    room: int
    bed: bool
    at_m: tuple[float, float]
    """Where on the plan: several zones heard at one place are added."""
    level: LevelCurve
    draught: DraughtCurve


def ears_of(plan: Plan, zone: ServedZone, units: Catalogue) -> tuple[Ear, ...]:
    """Every bed and seat in the rooms that the zone's unit or outlets blow into."""
    if zone.siting is not None:
        return _room_unit(plan, zone.siting, zone.pair, units)
    assert zone.ducts is not None
    return tuple(ear for branch in zone.ducts.branches for ear in _branch(plan, zone, branch, units))


def _room_unit(plan: Plan, siting: Siting, pair: Pair, units: Catalogue) -> tuple[Ear, ...]:
    source = sound_source(units, pair.indoor)
    volume = sum(plan.rooms[i].volume_m3 for i in space_on_level(plan, siting.room))
    found = []
    for head in siting.heads:
        loss = schultz_loss_db(volume, max(head.distance_m, LEAST_DISTANCE_M))
        at_m = (head.ear.x_m, head.ear.y_m)
        found.append(Ear(head.room, head.bed, at_m, level_curve(source, loss), siting.draught(head)))
    return tuple(found)


def _branch(plan: Plan, zone: ServedZone, branch: Branch, units: Catalogue) -> tuple[Ear, ...]:
    ducts = zone.ducts
    assert ducts is not None
    sources = tuple(sound_source(units, zone.pair.indoor, port) for port in (Port.DISCHARGE, Port.INLET))
    span = output_range(zone.pair)
    return tuple(
        Ear(
            branch.room,
            bed,
            (ear.x_m, ear.y_m),
            zone_curve(plan, ducts, branch, (sources[0], sources[1]), ear),
            register_draught(plan, ducts, branch, span, ear),
        )
        for _, bed, ear in heads_of(plan, (branch.room,))
    )
