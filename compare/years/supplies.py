"""What each zone, room heater or old heat source can give in every hour, as the year kernel wants it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.partload import room_capacity_j_k
from compare.equipment.system import Head, limits, outdoor_limits
from compare.house.plan import Plan
from compare.options.option import Option
from compare.physics.network import Supply
from compare.zones.served import ServedZone
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]

HEATER_MARGIN = 1.25
"""A room heater is the next 500 W above its design load times this (our judgement)."""
HEATER_STEP_W = 500.0
OLD_HEAT_MARGIN = 2.0
"""Old furnaces and boilers are commonly twice their load (common practice)."""
IDEAL_W = 1e6
"""Limit of a source that holds any room."""


@dataclass(frozen=True, slots=True, eq=False)
class SetPoints:
    """Hourly set points, (H,) each. Heaters hold `heater_c` in the rooms that nothing else heats."""

    heat_c: FloatArray
    cool_c: FloatArray
    heater_c: FloatArray

    @classmethod
    def steady(cls, hours: int, heat_c: float, cool_c: float, heater_c: float) -> SetPoints:
        """The same set points in every hour."""
        return cls(np.full(hours, heat_c), np.full(hours, cool_c), np.full(hours, heater_c))


def head_of(plan: Plan, zone: ServedZone) -> Head:
    """A zone's indoor unit as its outdoor unit sees it, with what a thermostat cycle swings."""
    return Head(
        zone.pair,
        capacity_j_k=float(room_capacity_j_k(swung_area_m2(plan, zone))),
        delivered_heat_frac=zone.demand.delivered_heat_frac,
        delivered_cool_frac=zone.demand.delivered_cool_frac,
    )


def swung_area_m2(plan: Plan, zone: ServedZone) -> float:
    """Floor area that swings with a unit's on and off: a room unit's open space, all rooms with an outlet of ducts."""
    rooms = zone.rooms if zone.ducts is not None else plan.space_of(zone.rooms[0])
    return sum(plan.rooms[room].area_m2 for room in rooms)


class SupplyFactory:
    """Supplies of one house and weather; equal units share their arrays, so that the kernel keeps few profiles."""

    def __init__(self, plan: Plan, outdoor_c: FloatArray, set_points: SetPoints, heat_load_w: FloatArray) -> None:
        self._plan = plan
        self._outdoor_c = outdoor_c
        self._set_points = set_points
        self._heat_load_w = heat_load_w
        self._rooms = len(plan.rooms)
        self._limits: dict[Hashable, tuple[FloatArray, FloatArray]] = {}
        self._nothing = np.zeros_like(outdoor_c)
        self._no_mix = np.zeros(self._rooms)

    def of_option(self, option: Option) -> tuple[Supply, ...]:
        """Supplies of all zones in order, then of the rooms on heaters or old heat by room index."""
        zones = tuple(self._zone(option, index) for index in range(len(option.zones)))
        return (*zones, *self.rests(option.layout.rest))

    def rests(self, rest: Sequence[tuple[int, Rest]]) -> tuple[Supply, ...]:
        """Supplies of rooms on a heater or the old heat, in room order."""
        return tuple(self.heater(room, kind) for room, kind in rest if kind is not Rest.NEIGHBOUR)

    def heater(self, room: int, kind: Rest = Rest.HEATER) -> Supply:
        """A heat source of one room that holds the heater set point; it cannot cool."""
        load = float(self._heat_load_w[room])
        if kind is Rest.OLD_HEAT:
            top = OLD_HEAT_MARGIN * load
        else:
            top = HEATER_STEP_W * float(np.ceil(HEATER_MARGIN * load / HEATER_STEP_W))
        return self._one_room(room, self._kept(("flat", top), top, 0.0), self._set_points.heater_c)

    def ideal(self, room: int) -> Supply:
        """A source without limits that holds a room at the ordinary set points: what the house needs."""
        return self._one_room(room, self._kept(("ideal",), IDEAL_W, IDEAL_W), self._set_points.heat_c)

    def _one_room(self, room: int, limit: tuple[FloatArray, FloatArray], heat_set_c: FloatArray) -> Supply:
        one = np.zeros(self._rooms)
        one[room] = 1.0
        return Supply(one, one, *limit, heat_set_c, self._set_points.cool_c, self._no_mix)

    def _kept(self, key: Hashable, heat_w: float, cool_w: float) -> tuple[FloatArray, FloatArray]:
        if key not in self._limits:
            self._limits[key] = (self._nothing + heat_w, self._nothing + cool_w)
        return self._limits[key]

    def _zone(self, option: Option, index: int) -> Supply:
        zone = option.zones[index]
        heat, cool = self._zone_limits(option, index)
        return Supply(
            share=zone.share,
            sensor=zone.share,
            heat_limit_w=heat,
            cool_limit_w=cool,
            heat_set_c=self._set_points.heat_c,
            cool_set_c=self._set_points.cool_c,
            mix_w_k=zone.mix_w_k,
        )

    def _zone_limits(self, option: Option, index: int) -> tuple[FloatArray, FloatArray]:
        """Heating and sensible cooling that reach the rooms; a head on a shared unit gets its part of that unit."""
        zone, group = option.zones[index], option.group_of(index)
        fractions = (zone.demand.delivered_heat_frac, zone.demand.delivered_cool_frac)
        part = option.load_share(group, index) if group.shared else (0.0, 0.0)
        outdoor = group.outdoor.label if group.shared else ""
        key = (zone.pair.label, outdoor, *(round(value, 9) for value in (*fractions, *part)))
        if key not in self._limits:
            own = limits(head_of(self._plan, zone), self._outdoor_c)
            heat, cool = own.heat_w, own.cool_sensible_w
            if group.shared:
                whole_heat, whole_cool = outdoor_limits(group.output, self._outdoor_c)
                sensible = own.cool_sensible_w / np.maximum(own.cool_total_w, 1.0)
                heat = np.minimum(heat, whole_heat * part[0] * fractions[0])
                cool = np.minimum(cool, whole_cool * part[1] * fractions[1] * sensible)
            self._limits[key] = (heat, cool)
        return self._limits[key]
