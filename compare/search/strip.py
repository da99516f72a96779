"""What the measuring kernel and the scores need of one option, as plain rows: made once, used in every run."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from operator import attrgetter
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from compare.equipment.outdoor import OutdoorGroup
from compare.house.plan import Use
from compare.options.option import Option
from compare.physics.network import Supply
from compare.scoring.evidence import Source
from compare.search.kinds import Kind, Kinds
from compare.search.listeners import EarTables
from compare.search.machines import Machine, MachineTables
from compare.years.case import HouseCase
from compare.years.control import control_of
from compare.years.supplies import SupplyFactory
from compare.zones.attach import leaning_on, open_to_served
from compare.zones.served import ServedZone
from compare.zones.sketch import LayoutSketch, Rest, ZoneSketch

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]

SOURCES = {Rest.HEATER: Source.HEATER, Rest.OLD_HEAT: Source.OLD_HEAT}
PLACE = {source: place for place, source in enumerate(Source)}
NO_PART = (np.inf, np.inf)
"""Of a shared outdoor unit's heat and cold, for an indoor unit on one of its own."""


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """What the measuring kernel needs of one lane. A indoor units, G outdoor units."""

    supplies: tuple[Supply, ...] = ()
    """Supplies that are no units and have no row yet; they stand last."""
    units: tuple[int, ...] = ()
    """Rows of the indoor units' kinds."""
    rests: tuple[int, ...] = ()
    """Rows of the rooms on heaters or old heat, by room."""
    machines: tuple[Machine, ...] = ()
    lead: tuple[int, ...] = ()
    """Outdoor unit of each indoor unit."""
    weights: tuple[float, ...] = ()
    """Part of its outdoor unit's design load that each indoor unit carries."""
    parts: tuple[tuple[float, float], ...] = ()
    """Part of a shared outdoor unit's most heat and cold that each indoor unit may take; infinite on one of its own."""
    outdoor_rows: tuple[tuple[int, int], ...] = ()
    """Curve rows of each outdoor unit, cooling and heating."""
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
    source: IntArray
    """(R,) place of each room's source in `Source`."""
    open_always: BoolArray
    open_ever: BoolArray
    zone_of_room: tuple[int, ...]
    """The zone that serves each room or that it leans on; -1 for none."""
    fatal: bool
    """Whether a finding of design rejects it."""


class _Hung(NamedTuple):
    """An indoor unit with an outdoor unit of its own: its first room, its kind, the outdoor unit and what is heard."""

    first_room: int
    unit: int
    machine: Machine
    rows: tuple[int, int]


_FIRST_ROOM = attrgetter("first_room")


@dataclass(frozen=True, slots=True, eq=False)
class _Rooms:
    """What follows from a layout alone."""

    source: IntArray
    open_always: BoolArray
    open_ever: BoolArray
    zone_of_room: tuple[int, ...]
    rests: tuple[Rest, ...]
    top_up: tuple[tuple[int, Supply], ...]


def lane_zones(option: Option) -> tuple[int, ...]:
    """Zones of an option in the order in which its lane holds them: by their first room.

    So the zones that stand in one place in the lanes of a block mostly serve the same few rooms.
    """
    return tuple(sorted(range(len(option.zones)), key=lambda zone: min(option.zones[zone].sketch.rooms)))


def lane_groups(option: Option, zones: tuple[int, ...]) -> tuple[OutdoorGroup, ...]:
    """Outdoor units in the order of the lane: that of its zones where each has its own."""
    groups = option.outdoor.groups
    if any(group.shared for group in groups):
        return groups
    by_zone = {group.zones[0]: group for group in groups}
    return tuple(by_zone[zone] for zone in zones)


@dataclass(frozen=True, eq=False)
class Stripper:
    """Makes strips of one house; equal parts are made once."""

    case: HouseCase
    factory: SupplyFactory
    machines: MachineTables
    ears: EarTables
    kinds: Kinds
    _rooms: dict[str, _Rooms] = field(default_factory=dict)
    _nearest: dict[frozenset[int], dict[int, int] | None] = field(default_factory=dict)
    """For each set of served rooms the one that every other room leans on; None where two are equally near."""
    _units: dict[ServedZone, int] = field(default_factory=dict)
    _own: dict[Hashable, _Hung] = field(default_factory=dict)
    """Outdoor units with one indoor unit each."""
    _held: dict[float, FloatArray] = field(default_factory=dict)
    """Set points of thermostats that hold their own; told apart by identity."""

    def strip(self, option: Option) -> Strip:
        """All of one option."""
        layout = option.layout
        if layout.key not in self._rooms:
            self._rooms[layout.key] = self._rooms_of(layout)
        rooms = self._rooms[layout.key]
        return Strip(
            option=option,
            lane=self._lane(option),
            rests=rooms.rests,
            top_up=rooms.top_up,
            source=rooms.source,
            open_always=rooms.open_always,
            open_ever=rooms.open_ever,
            zone_of_room=rooms.zone_of_room,
            fatal=any(finding.fatal for finding in option.findings),
        )

    def _lane(self, option: Option) -> Lane:
        groups = option.outdoor.groups
        if any(group.shared for group in groups):
            return self._shared_lane(option)
        hung = sorted([self._alone(option, group) for group in groups], key=_FIRST_ROOM)
        return Lane(
            units=tuple([own.unit for own in hung]),
            rests=self._rests(option),
            machines=tuple([own.machine for own in hung]),
            lead=tuple(range(len(hung))),
            weights=tuple([own.machine.weights[0] for own in hung]),
            parts=(NO_PART,) * len(hung),
            outdoor_rows=tuple([own.rows for own in hung]),
        )

    def _alone(self, option: Option, group: OutdoorGroup) -> _Hung:
        """An outdoor unit with one indoor unit, which stands in one place in many options."""
        zone, outdoor = group.zones[0], group.outdoor
        served = option.zones[zone]
        spot = option.routes[zone].spot if option.routes else None
        where = (spot.property_line_m, spot.bedroom_window_m) if spot else None
        key = (served, outdoor.size_kbtuh, outdoor.ports, outdoor.sound_power_dba, where)
        known = self._own.get(key)
        if known is None:
            machine, rows = self.machines.machine(option, group), self.ears.outdoors(option, group)
            known = self._own[key] = _Hung(min(served.sketch.rooms), self._unit(served), machine, rows)
        return known

    def _shared_lane(self, option: Option) -> Lane:
        """A lane with several indoor units on one outdoor unit; outdoor units as the option has them."""
        zones, groups = lane_zones(option), option.outdoor.groups
        machines = [self.machines.machine(option, group) for group in groups]
        hung = {
            zone: (g, weight, option.load_share(group, zone) if group.shared else NO_PART)
            for g, (group, machine) in enumerate(zip(groups, machines, strict=True))
            for zone, weight in zip(group.zones, machine.weights, strict=True)
        }
        lead, weights, parts = zip(*(hung[zone] for zone in zones), strict=True)
        return Lane(
            units=tuple([self._unit(option.zones[zone]) for zone in zones]),
            rests=self._rests(option),
            machines=tuple(machines),
            lead=lead,
            weights=weights,
            parts=parts,
            outdoor_rows=tuple([self.ears.outdoors(option, group) for group in groups]),
            shared=True,
        )

    def _rests(self, option: Option) -> tuple[int, ...]:
        return tuple([self._rest(room, rest) for room, rest in option.layout.rest if rest is not Rest.NEIGHBOUR])

    def _unit(self, zone: ServedZone) -> int:
        known = self._units.get(zone)
        if known is not None:
            return known

        def make() -> Kind:
            control = control_of(self.case.plan, zone, self.case.house.controls)
            ordinary = self.factory.ideal(0)
            held = self.kinds.held(
                ordinary.heat_set_c if control.heat_c is None else self._constant(control.heat_c),
                ordinary.cool_set_c if control.cool_c is None else self._constant(control.cool_c),
            )
            return self.machines.kind(zone, (control.sensor, held), zone.mix_w_k, self.ears.heard(zone.key))

        return self._units.setdefault(zone, self.kinds.row(("unit", zone.key), make))

    def _constant(self, held_c: float) -> FloatArray:
        if held_c not in self._held:
            self._held[held_c] = np.full(self.case.weather.hours, held_c)
        return self._held[held_c]

    def _rest(self, room: int, rest: Rest) -> int:
        return self.kinds.row(("rest", room, rest), lambda: self.kinds.made(self.factory.heater(room, rest)))

    def _rooms_of(self, layout: LayoutSketch) -> _Rooms:
        plan = self.case.plan
        by_day, by_night = (open_to_served(plan, layout, night=night) for night in (False, True))
        served = {room: index for index, zone in enumerate(layout.zones) for room in zone.rooms}
        rest = dict(layout.rest)
        own, rooms = frozenset(served), range(len(plan.rooms))
        always, ever = (by_day | own) & (by_night | own), by_day | by_night | own
        source = [
            PLACE[Source.SERVED if room in served else SOURCES.get(rest[room], _air(room, by_day | by_night))]
            for room in rooms
        ]
        zone_of = {**self._leaning(layout, served), **served}
        return _Rooms(
            np.array(source, dtype=np.int64),
            np.array([room in always for room in rooms]),
            np.array([room in ever for room in rooms]),
            tuple(zone_of.get(room, -1) for room in rooms),
            tuple(rest for _, rest in layout.rest if rest is not Rest.NEIGHBOUR),
            tuple(
                (room, self.factory.heater(room))
                for room, rest in layout.rest
                if rest is Rest.NEIGHBOUR and plan.rooms[room].use is Use.BEDROOM
            ),
        )

    def _leaning(self, layout: LayoutSketch, served: dict[int, int]) -> dict[int, int]:
        """The zone that each other room leans on. It follows from which rooms are served, but where ways are equal."""
        key = frozenset(served)
        if key not in self._nearest:
            alone = tuple(ZoneSketch((room,)) for room in sorted(served))
            one, other = (
                {room: zones[zone].rooms[0] for room, zone in self._leaning_on(layout, zones).items()}
                for zones in (alone, alone[::-1])
            )
            self._nearest[key] = one if one == other else None
        nearest = self._nearest[key]
        if nearest is None:
            return self._leaning_on(layout, layout.zones)
        return {room: served[by] for room, by in nearest.items()}

    def _leaning_on(self, layout: LayoutSketch, zones: tuple[ZoneSketch, ...]) -> dict[int, int]:
        return leaning_on(self.case.plan, replace(layout, zones=zones))


def _air(room: int, open_rooms: frozenset[int]) -> Source:
    return Source.BORROWED if room in open_rooms else Source.NOTHING
