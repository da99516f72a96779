"""What the measuring kernel and the scores need of one option, as plain rows: made once, used in every run."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.equipment.outdoor import OutdoorGroup
from compare.house.plan import Use
from compare.options.option import Option
from compare.physics.network import Supply
from compare.scoring.evidence import Source
from compare.search.listeners import EarTables, Heard
from compare.search.machines import Machine, MachineTables
from compare.years.case import HouseCase
from compare.years.supplies import SupplyFactory
from compare.zones.attach import leaning_on, open_to_served
from compare.zones.sketch import Rest, ZoneKind

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

SOURCES = {Rest.HEATER: Source.HEATER, Rest.OLD_HEAT: Source.OLD_HEAT}


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """What the measuring kernel needs of one lane. A indoor units, G outdoor units."""

    supplies: tuple[Supply, ...]
    """Indoor units first, then the rooms on heaters or old heat by room."""
    head_rows: tuple[int, ...] = ()
    machines: tuple[Machine, ...] = ()
    lead: tuple[int, ...] = ()
    """Outdoor unit of each indoor unit."""
    heard: tuple[tuple[Heard, ...], ...] = ()
    """By listener."""
    outdoor_rows: tuple[tuple[int, int], ...] = ()
    """Curve rows of each outdoor unit, cooling and heating."""
    ducted: tuple[bool, ...] = ()
    """By indoor unit."""
    runs_on: tuple[bool, ...] = ()
    """Whether the fan of each indoor unit runs on in pauses."""
    quiet_fan_w: tuple[float, ...] = ()
    shared: bool = False
    """Whether several indoor units hang on one outdoor unit."""


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """One option. R rooms."""

    option: Option
    lane: Lane
    rests: tuple[Rest, ...]
    """Of the supplies after the indoor units."""
    top_up: tuple[tuple[int, Supply], ...]
    """Bedrooms without a source of their own, and the heater each gets where it comes out cold."""
    source: tuple[Source, ...]
    """By room."""
    open_always: BoolArray
    open_ever: BoolArray
    zone_of_room: tuple[int, ...]
    """The zone that serves each room or that it leans on; -1 for none."""
    heat_cover: FloatArray
    """(R,) nan without a unit."""
    cool_cover: FloatArray
    fatal: bool
    """Whether a finding of design rejects it."""


def lane_zones(option: Option) -> tuple[int, ...]:
    """Zones of an option in the order in which its lane holds them: ducted ones first."""
    kinds = [zone.sketch.kind for zone in option.zones]
    return tuple(sorted(range(len(kinds)), key=lambda zone: kinds[zone] is not ZoneKind.DUCTED))


def lane_groups(option: Option) -> tuple[OutdoorGroup, ...]:
    """Outdoor units in the order of the lane: that of the zones where each has its own."""
    groups = option.outdoor.groups
    if any(group.shared for group in groups):
        return groups
    by_zone = {group.zones[0]: group for group in groups}
    return tuple(by_zone[zone] for zone in lane_zones(option))


@dataclass(frozen=True, eq=False)
class Stripper:
    """Makes strips of one house; equal parts are made once."""

    case: HouseCase
    factory: SupplyFactory
    machines: MachineTables
    ears: EarTables

    def strip(self, option: Option) -> Strip:
        """All of one option."""
        plan = self.case.plan
        by_day = open_to_served(plan, option.layout, night=False)
        by_night = open_to_served(plan, option.layout, night=True)
        served = {room: index for index, zone in enumerate(option.zones) for room in zone.rooms}
        zone_of = {**leaning_on(plan, option.layout), **served}
        covers = {room: option.cover(zone) for room, zone in zone_of.items()}
        rooms = range(len(plan.rooms))
        own = frozenset(served)
        return Strip(
            option=option,
            lane=self._lane(option),
            rests=tuple(rest for _, rest in option.layout.rest if rest is not Rest.NEIGHBOUR),
            top_up=tuple(
                (room, self.factory.heater(room))
                for room, rest in option.layout.rest
                if rest is Rest.NEIGHBOUR and plan.rooms[room].use is Use.BEDROOM
            ),
            source=tuple(_source(option, room, served, by_day | by_night) for room in rooms),
            open_always=np.array([(r in by_day or r in own) and (r in by_night or r in own) for r in rooms]),
            open_ever=np.array([r in by_day or r in by_night or r in own for r in rooms]),
            zone_of_room=tuple(zone_of.get(room, -1) for room in rooms),
            heat_cover=np.array([covers[r].heat_frac if r in covers else np.nan for r in rooms]),
            cool_cover=np.array([covers[r].cool_frac if r in covers else np.nan for r in rooms]),
            fatal=any(finding.fatal for finding in option.findings),
        )

    def _lane(self, option: Option) -> Lane:
        """Ducted units first, so that a block mixes return air in few of its units."""
        groups = lane_groups(option)
        zones = lane_zones(option)
        place = {zone: k for k, zone in enumerate(zones)}
        mine = [option.zones[zone] for zone in zones]
        supplies = self.factory.of_option(option)
        heard = tuple(
            tuple(replace(item, zone=place[item.zone]) for item in items) for items in self.ears.heard(option)
        )
        return Lane(
            supplies=(*(supplies[zone] for zone in zones), *supplies[len(zones) :]),
            head_rows=tuple(self.machines.head_row(zone) for zone in mine),
            machines=tuple(self.machines.machine(option, group) for group in groups),
            lead=tuple(next(k for k, group in enumerate(groups) if zone in group.zones) for zone in zones),
            heard=heard,
            outdoor_rows=tuple(self.ears.outdoors(option, group) for group in groups),
            runs_on=tuple(self.machines.runs_on(zone) for zone in mine),
            quiet_fan_w=tuple(self.machines.quiet_fan_w(zone) for zone in mine),
            ducted=tuple(zone.sketch.kind is ZoneKind.DUCTED for zone in mine),
            shared=any(group.shared for group in groups),
        )


def _source(option: Option, room: int, served: dict[int, int], open_rooms: frozenset[int]) -> Source:
    if room in served:
        return Source.SERVED
    rest = dict(option.layout.rest)[room]
    return SOURCES.get(rest, Source.BORROWED if room in open_rooms else Source.NOTHING)
