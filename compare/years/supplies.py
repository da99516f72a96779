"""What each zone, room heater or old heat source can give in every hour, as the year kernel wants it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.equipment.heater import heater_w
from compare.equipment.performance import Mode
from compare.equipment.system import limits, outdoor_limits
from compare.house.control import Control
from compare.house.plan import Plan
from compare.options.option import Option
from compare.physics.network import Supply
from compare.physics.set_points import set_points
from compare.years.case import HouseCase
from compare.years.control import ZoneControl, control_of
from compare.years.heads import Outside, head_of, reaching
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]

OLD_HEAT_MARGIN = 2.0
"""Old furnaces and boilers are commonly twice their load (common practice)."""
HEATER_C = 20.0
"""Set point of room heaters: 68 degF."""
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


def factory_of(case: HouseCase) -> SupplyFactory:
    """Supplies of a prepared house: its set points, its thermostats, its weather on the ducts."""
    held = set_points(case.house.comfort, case.weather.hours)
    points = SetPoints(held.heat_c, held.cool_c, np.full(case.weather.hours, HEATER_C))
    plain = SupplyFactory(case.plan, case.weather.dry_bulb_c, points, case.heat_load_w)
    return plain.with_house(Outside.of(case.weather), case.house.controls)


class SupplyFactory:
    """Supplies of one house and weather; equal units share their arrays, so that the kernel keeps few profiles."""

    def __init__(self, plan: Plan, outdoor_c: FloatArray, set_points: SetPoints, heat_load_w: FloatArray) -> None:
        self._plan = plan
        self._outdoor_c = outdoor_c
        self._outside = Outside.under_full_sun(outdoor_c)
        self._controls: tuple[Control, ...] = ()
        self._set_points = set_points
        self._heat_load_w = heat_load_w
        self._rooms = len(plan.rooms)
        self._limits: dict[Hashable, tuple[FloatArray, FloatArray]] = {}
        self._held: dict[float, FloatArray] = {}
        self._nothing = np.zeros_like(outdoor_c)
        self._no_mix = np.zeros(self._rooms)

    def with_house(self, outside: Outside, controls: Sequence[Control]) -> SupplyFactory:
        """The same house with its sun on ducts and its own thermostats."""
        other = SupplyFactory(self._plan, self._outdoor_c, self._set_points, self._heat_load_w)
        other._outside = outside
        other._controls = tuple(controls)
        return other

    def of_option(self, option: Option, on_frac: FloatArray | None = None) -> tuple[Supply, ...]:
        """Supplies of all zones in order, then of the rooms on heaters or old heat by room index.

        `on_frac` (H,) is the share of its output that the heat pump is allowed in each hour; None leaves it alone.
        """
        zones = tuple(self._zone(option, index) for index in range(len(option.zones)))
        if on_frac is not None:
            zones = tuple(
                replace(zone, heat_limit_w=zone.heat_limit_w * on_frac, cool_limit_w=zone.cool_limit_w * on_frac)
                for zone in zones
            )
        return (*zones, *self.rests(option.layout.rest))

    def rests(self, rest: Sequence[tuple[int, Rest]]) -> tuple[Supply, ...]:
        """Supplies of rooms on a heater or the old heat, in room order."""
        return tuple(self.heater(room, kind) for room, kind in rest if kind is not Rest.NEIGHBOUR)

    def heater(self, room: int, kind: Rest = Rest.HEATER) -> Supply:
        """A heat source of one room that holds the heater set point; it cannot cool."""
        load = float(self._heat_load_w[room])
        top = OLD_HEAT_MARGIN * load if kind is Rest.OLD_HEAT else heater_w(load)
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

    def room_heater(self, room: int, held_c: float) -> Supply:
        """A source without limit that keeps a room from falling under a temperature and never cools."""
        return self._one_room(room, self._kept(("heat only",), IDEAL_W, 0.0), self._hold(held_c))

    def _zone(self, option: Option, index: int) -> Supply:
        zone = option.zones[index]
        heat, cool = self._zone_limits(option, index)
        control = control_of(self._plan, zone, self._controls)
        heat_set, cool_set = self._set(control)
        return Supply(
            share=zone.share,
            sensor=control.sensor,
            heat_limit_w=heat,
            cool_limit_w=cool,
            heat_set_c=heat_set,
            cool_set_c=cool_set,
            mix_w_k=zone.mix_w_k,
        )

    def _set(self, control: ZoneControl) -> tuple[FloatArray, FloatArray]:
        points = self._set_points
        heat = points.heat_c if control.heat_c is None else self._hold(control.heat_c)
        cool = points.cool_c if control.cool_c is None else self._hold(control.cool_c)
        return heat, cool

    def _hold(self, held_c: float) -> FloatArray:
        if held_c not in self._held:
            self._held[held_c] = self._nothing + held_c
        return self._held[held_c]

    def _zone_limits(self, option: Option, index: int) -> tuple[FloatArray, FloatArray]:
        """Heating and sensible cooling that reach the rooms; a head on a shared unit gets its part of that unit."""
        zone, group = option.zones[index], option.group_of(index)
        part = option.load_share(group, index) if group.shared else (0.0, 0.0)
        outdoor = group.outdoor.label if group.shared else ""
        key = (zone.pair.label if zone.ducts is None else zone.key, outdoor, *(round(value, 9) for value in part))
        if key not in self._limits:
            own = limits(head_of(self._plan, zone, self._outside), self._outdoor_c)
            heat, cool = own.heat_w, own.cool_sensible_w
            if group.shared:
                whole_heat, whole_cool = outdoor_limits(group.output, self._outdoor_c)
                sensible = own.cool_sensible_w / np.maximum(own.cool_total_w, 1.0)
                heat = np.minimum(heat, whole_heat * part[0] * reaching(zone, Mode.HEAT, self._outside))
                cool = np.minimum(cool, whole_cool * part[1] * reaching(zone, Mode.COOL, self._outside) * sensible)
            self._limits[key] = (heat, cool)
        return self._limits[key]
