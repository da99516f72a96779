"""Cooling load of each room on the design day, hour by hour.

The room's full fabric model runs through repeating design days with its air held at the cooling set point: clear sun
on and through every window, heat stored in surfaces, people and appliances as they come and go, outdoor air at the
design wind. No swing of room temperature is credited, so that a room's peak lies above that of methods which do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.climate.design_day import cooling_design_day, cooling_design_days
from compare.climate.year import WeatherYear
from compare.loads.case import LoadCase
from compare.physics.fabric.drivers import Drivers, faces_of
from compare.physics.fabric.forcing import GAINS, SUN
from compare.physics.fabric.forcing import Gains as RoomGains
from compare.physics.fabric.parts import inside_masses
from compare.physics.fabric.room import PreparedRoom, held_heat_by_part_w, prepare_room
from compare.physics.fabric.spaces import with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.gains import Gains, design_gains
from compare.physics.leakage import room_shares_frac
from compare.physics.moist_air import (
    latent_factor_j_m3,
    ratio_from_dew_point_kg_kg,
    ratio_from_humidity_kg_kg,
    sensible_factor_j_m3k,
)

FloatArray = npt.NDArray[np.float64]

_PART_OF = {
    "wall": "walls",
    "window glass": "glass",
    "outside door": "doors",
    "ceiling": "roof",
    "floor": "floor",
    SUN: "sun",
}


@dataclass(frozen=True, slots=True, eq=False)
class CoolingDays:
    """Sensible parts and latent heat by hour [W], arrays of shape (hours, rooms), one design day after another."""

    parts_w: dict[str, FloatArray]
    latent_w: FloatArray

    @property
    def sensible_w(self) -> FloatArray:
        """All sensible parts together."""
        total: FloatArray = np.sum(list(self.parts_w.values()), axis=0)
        return total


def prepared_rooms(case: LoadCase) -> tuple[PreparedRoom, ...]:
    """The full model of each room, half of its partitions included; keep it where loads are asked for again."""
    rooms = enumerate(case.plan.rooms)
    return tuple(prepare_room(room, inside_masses(case.plan, index), case.fabric) for index, room in rooms)


def cooling_days(case: LoadCase, prepared: Sequence[PreparedRoom] | None = None) -> CoolingDays:
    """Cooling loads of every room on each design day of the case."""
    rooms = prepared_rooms(case) if prepared is None else prepared
    days = cooling_design_days(case.design, case.months) if case.months else (cooling_design_day(case.design),)
    found = [_one_day(case, rooms, day) for day in days]
    parts_w = {name: np.concatenate([day.parts_w[name] for day in found]) for name in found[0].parts_w}
    return CoolingDays(parts_w, np.concatenate([day.latent_w for day in found]))


def _one_day(case: LoadCase, rooms: Sequence[PreparedRoom], day: WeatherYear) -> CoolingDays:
    faces = faces_of(case.plan.rooms)
    drivers = with_spaces(case.plan, drivers_from_year(day, faces), case.ground, day.first_day, rooms_c=case.cooling_c)
    gains = design_gains(case.plan.rooms, day.hours)
    by_room = [_room_parts_w(case, room, drivers, _gains_of(gains, index)) for index, room in enumerate(rooms)]
    parts_w = {name: np.column_stack([parts[name] for parts in by_room]) for name in by_room[0]}
    air_w, air_latent_w = _air_w(case, day)
    parts_w["air"] = air_w
    return CoolingDays(parts_w, gains.latent_w + air_latent_w)


@dataclass(frozen=True, slots=True, eq=False)
class _GainsOfRoom:
    people: RoomGains
    appliances: RoomGains


def _gains_of(gains: Gains, room: int) -> _GainsOfRoom:
    def split(heat_w: FloatArray) -> RoomGains:
        return RoomGains((1.0 - gains.to_air_frac) * heat_w, gains.to_air_frac * heat_w)

    return _GainsOfRoom(split(gains.people_w[:, room]), split(gains.appliances_w[:, room]))


def _room_parts_w(case: LoadCase, room: PreparedRoom, drivers: Drivers, gains: _GainsOfRoom) -> dict[str, FloatArray]:
    """Heat into the held air by part, shape (24,) each; parts that the room lacks are zero."""
    zero = np.zeros(drivers.hours)
    with_people = held_heat_by_part_w(room, drivers, gains.people, case.cooling_c)
    with_appliances = held_heat_by_part_w(room, drivers, gains.appliances, case.cooling_c, (GAINS,))
    parts_w = {part: with_people.get(label, zero) for label, part in _PART_OF.items()}
    return parts_w | {"people": with_people.get(GAINS, zero), "appliances": with_appliances.get(GAINS, zero)}


def _air_w(case: LoadCase, day: WeatherYear) -> tuple[FloatArray, FloatArray]:
    """Sensible and latent heat of outdoor air, shape (24, rooms) each; dry outdoor air earns no latent credit."""
    shares = room_shares_frac(case.plan.rooms)
    difference_k = day.dry_bulb_c - case.cooling_c
    flow_m3_s = case.air.sensible_flow_m3_s(difference_k, day.wind_m_s)
    sensible_w = flow_m3_s * sensible_factor_j_m3k(case.pressure_pa) * difference_k
    outdoor = ratio_from_dew_point_kg_kg(day.dew_point_c, day.pressure_pa)
    indoor = ratio_from_humidity_kg_kg(case.cooling_c, case.indoor_humidity_frac, case.pressure_pa)
    moist_m3_s = case.air.moisture_flow_m3_s(difference_k, day.wind_m_s)
    latent_w = moist_m3_s * latent_factor_j_m3(case.pressure_pa) * np.maximum(outdoor - indoor, 0.0)
    return np.outer(sensible_w, shares), np.outer(latent_w, shares)
