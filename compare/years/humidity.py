"""Damp hours of an option: the house's humidity in the cooling season, with coils that dry less when they cycle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.equipment.hours import ModeHours
from compare.equipment.year import UnitYear
from compare.physics.coil import CoilHours, coil_hours, together
from compare.physics.moist_air import ratio_from_dew_point_kg_kg
from compare.physics.moisture import MoistureHours, household_latent_w, indoor_humidity, store_of
from compare.physics.network import YearTrace
from compare.scoring.season import Season
from compare.years.case import HouseCase

FloatArray = npt.NDArray[np.float64]

DAMP_FRAC = 0.60
"""Relative humidity above which an hour counts as damp."""
RUN_UP_H = 336
"""Hours before the first day of the cooling season in which the materials settle."""


def damp_frac(case: HouseCase, season: Season, trace: YearTrace, units: Sequence[UnitYear]) -> float:
    """Cooling-season hours above 60 % RH over all cooling-season hours.

    nan where the weather's moisture is not that of the place (an adjusted year) and where no day is warm.
    """
    warm = np.flatnonzero(season.warm)
    if not case.weather.latent_ok or warm.size == 0:
        return math.nan
    span = slice(max(0, int(warm[0]) - RUN_UP_H), int(warm[-1]) + 1)
    humidity = _humidity(case, trace, units, span)
    return float((humidity[season.warm[span]] > DAMP_FRAC).mean())


def _humidity(case: HouseCase, trace: YearTrace, units: Sequence[UnitYear], span: slice) -> FloatArray:
    """Relative humidity of the house's mixed air in part of the year."""
    rooms, weather, plan = case.plan.rooms, case.weather, case.plan
    volumes = np.array([room.volume_m3 for room in rooms])
    indoor_c = trace.room_c[span].astype(np.float64) @ (volumes / volumes.sum())
    outdoor_c = weather.dry_bulb_c[span]
    pressure_pa = float(weather.pressure_pa.mean())
    outdoor_kg_kg, people_w = _given(case, span.start, span.stop)
    hours = MoistureHours(
        indoor_c=indoor_c,
        outdoor_kg_kg=outdoor_kg_kg,
        flow_m3_s=case.network_options.air.moisture_flow_m3_s(np.abs(indoor_c - outdoor_c), weather.wind_m_s[span]),
        latent_w=people_w + household_latent_w(case.house.people),
    )
    store = store_of(float(volumes.sum()), sum(room.area_m2 for room in plan.rooms), pressure_pa)
    coil = together(*_coils([unit.cooling for unit in units], span))
    return indoor_humidity(store, hours, coil, pressure_pa).humidity_frac


@lru_cache(maxsize=8)
def _given(case: HouseCase, first: int, end: int) -> tuple[FloatArray, FloatArray]:
    """Outdoor humidity ratio, and heat of the moisture that people give off [W]: the same for every option."""
    span, weather = slice(first, end), case.weather
    outdoor_kg_kg = ratio_from_dew_point_kg_kg(weather.dew_point_c[span], weather.pressure_pa[span])
    return outdoor_kg_kg, case.gains.latent_w[span].sum(axis=1)


def _coils(cooling: Sequence[ModeHours], span: slice) -> list[CoilHours]:
    """The coil of each outdoor unit's heads, worked out where it cools, all of them at once."""
    met = np.concatenate([mode.met_frac[span] for mode in cooling])
    sensible = np.concatenate([mode.sensible_w[span] for mode in cooling]) * met
    total = np.concatenate([mode.load_w[span] for mode in cooling]) * met
    pull, surface = np.zeros_like(total), np.zeros_like(total)
    on = np.flatnonzero(total > 0.0)
    if on.size:
        running = coil_hours(np.minimum(sensible[on], total[on]), total[on])
        pull[on], surface[on] = running.pull_kg_s, running.surface_kg_kg
    by_unit = (len(cooling), -1)
    return [CoilHours(*one) for one in zip(pull.reshape(by_unit), surface.reshape(by_unit), strict=True)]
