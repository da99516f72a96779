"""A zone's indoor unit as it stands in the house: its fan on its own ducts, and what they lose in each hour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.equipment.fan import FanWatts, fan_on_ducts
from compare.equipment.partload import room_capacity_j_k
from compare.equipment.performance import Mode
from compare.equipment.system import Head
from compare.house.control import Control
from compare.house.plan import Plan
from compare.years.control import control_of
from compare.zones.served import ServedZone

FloatArray = npt.NDArray[np.float64]

FULL_SUN_W_M2 = 1000.0
"""Sun on a level roof that heats it as on the design day (clear summer noon; common practice)."""
LEAST_DELIVERED_FRAC = 0.05
"""Ducts are never taken to lose more than the rest; keeps an hour of extreme weather from dividing by nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Outside:
    """What ducts outside the envelope lie in, by the hour, (H,) each."""

    outdoor_c: FloatArray
    sun_frac: FloatArray
    """Share of the sun that heats a roof on the design day."""

    @classmethod
    def of(cls, weather: WeatherYear) -> Outside:
        """From a weather year."""
        return cls(weather.dry_bulb_c, np.clip(weather.global_horizontal_w_m2 / FULL_SUN_W_M2, 0.0, 1.0))

    @classmethod
    def under_full_sun(cls, outdoor_c: FloatArray) -> Outside:
        """Temperatures alone: the sun of the design day in every hour, which is the cautious side for cooling."""
        return cls(outdoor_c, np.ones_like(outdoor_c))


def head_of(plan: Plan, zone: ServedZone, outside: Outside | None = None, controls: Sequence[Control] = ()) -> Head:
    """A zone's indoor unit as its outdoor unit sees it, with what a thermostat cycle swings.

    With `outside` its ducts lose by the hour; without, they lose what they lose at the design hours. A thermostat that
    feels the return air needs the fan in the pauses; one on a wall does not.
    """
    heat, cool = (reaching(zone, mode, outside) for mode in (Mode.HEAT, Mode.COOL))
    capacity = float(room_capacity_j_k(swung_area_m2(plan, zone)))
    runs_on = control_of(plan, zone, controls).at_unit
    return Head(zone.pair, capacity, heat, cool, real_fan(zone), runs_on)


def reaching(zone: ServedZone, mode: Mode, outside: Outside | None = None) -> float | FloatArray:
    """Share of a zone's output that reaches its rooms: by the hour, or at the design hour without `outside`."""
    if zone.ducts is None or outside is None:
        demand = zone.demand
        return demand.delivered_heat_frac if mode is Mode.HEAT else demand.delivered_cool_frac
    loss = zone.ducts.loss
    if loss.inside:
        return float(loss.heat_frac(0.0))
    hourly = (
        loss.heat_frac(outside.outdoor_c) if mode is Mode.HEAT else loss.cool_frac(outside.outdoor_c, outside.sun_frac)
    )
    return np.maximum(hourly, LEAST_DELIVERED_FRAC)


def real_fan(zone: ServedZone) -> FanWatts | None:
    """Power of a ducted unit's fan against its own ducts; None for a room unit, whose rated fan is its real one."""
    if zone.ducts is None:
        return None
    ducts = zone.ducts
    static_pa = ducts.static.total_pa * (ducts.actual_flow_m3_s / ducts.design_flow_m3_s) ** 2
    return fan_on_ducts(zone.pair.indoor, static_pa, ducts.actual_flow_m3_s)


def swung_area_m2(plan: Plan, zone: ServedZone) -> float:
    """Floor area that swings with a unit's on and off: a room unit's open space, all rooms with an outlet of ducts."""
    rooms = zone.rooms if zone.ducts is not None else plan.space_of(zone.rooms[0])
    return sum(plan.rooms[room].area_m2 for room in rooms)
