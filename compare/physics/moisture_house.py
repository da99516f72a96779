"""The humidity balance of a house from what is already known of it: plan, air, weather, gains, room temperatures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.house.plan import Plan
from compare.physics.coil import CoilHours
from compare.physics.gains import Gains
from compare.physics.moist_air import ratio_from_dew_point_kg_kg, standard_pressure_pa
from compare.physics.moisture import (
    HumidityYear,
    MoistureHours,
    household_latent_w,
    indoor_humidity,
    store_of,
)
from compare.physics.ventilation import HouseAir

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DampHouse:
    """What all options of a house share in their humidity balance."""

    plan: Plan
    air: HouseAir
    year: WeatherYear
    gains: Gains
    people: float

    def humidity(self, room_c: FloatArray, coil: CoilHours) -> HumidityYear:
        """Humidity of the house through one option's year.

        Parameters
        ----------
        room_c
            Room temperatures of the option, shape (hours, rooms); their mean by volume stands for the house's air.
        coil
            What its cooling takes out (`coil_hours` of all units, joined by `together`; `no_coil` without cooling).
        """
        volumes_m3 = np.array([room.volume_m3 for room in self.plan.rooms])
        indoor_c = room_c.astype(np.float64) @ (volumes_m3 / volumes_m3.sum())
        pressure_pa = standard_pressure_pa(self.year.site.elevation_m)
        hours = MoistureHours(
            indoor_c=indoor_c,
            outdoor_kg_kg=ratio_from_dew_point_kg_kg(self.year.dew_point_c, pressure_pa),
            flow_m3_s=self.air.moisture_flow_m3_s(indoor_c - self.year.dry_bulb_c, self.year.wind_m_s),
            latent_w=self.gains.latent_w.sum(axis=1) + household_latent_w(self.people),
        )
        store = store_of(float(volumes_m3.sum()), sum(room.area_m2 for room in self.plan.rooms), pressure_pa)
        return indoor_humidity(store, hours, coil, pressure_pa)
