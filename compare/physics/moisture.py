"""Humidity of a house over the year: one body of air, its materials, outdoor air, latent gains and the cooling coil.

Per hour, implicit: what the air stores = outdoor air in and out + gains - coil - what materials take up. Materials are
one store that follows the relative humidity of the room with a lag. The air of all rooms counts as mixed: doors open
often enough for moisture, whose differences between rooms are small beside those to outdoors (our judgement).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.data.loads import rows
from compare.physics.coil import CoilHours
from compare.physics.moist_air import (
    EVAPORATION_J_KG,
    dry_density_kg_m3,
    ratio_of_vapour_kg_kg,
    saturation_pressure_pa,
    vapour_of_ratio_pa,
)

FloatArray = npt.NDArray[np.float64]

WARMUP_H = 336
FIRST_MATERIAL_FRAC = 0.45
_DAY_S = 86400.0
_CYCLE_H = (8.0, 16.0)


@dataclass(frozen=True, slots=True)
class MoistureStore:
    """What holds moisture in a house."""

    air_kg: float
    """Dry air."""
    material_kg: float
    """Water that materials take up between 0 and 100 % relative humidity, as far as daily and weekly swings reach."""
    lag_s: float
    """Time constant with which materials follow the room."""


@dataclass(frozen=True, slots=True, eq=False)
class MoistureHours:
    """What drives the balance, each of shape (hours,)."""

    indoor_c: FloatArray
    outdoor_kg_kg: FloatArray
    flow_m3_s: FloatArray
    """Outdoor air that carries moisture (`HouseAir.moisture_flow_m3_s`)."""
    latent_w: FloatArray
    """Moisture of people, cooking and washing as heat of evaporation."""


@dataclass(frozen=True, slots=True, eq=False)
class HumidityYear:
    """Result, each of shape (hours,); the balance closes to rounding."""

    ratio_kg_kg: FloatArray
    """At the end of each hour."""
    humidity_frac: FloatArray
    material_frac: FloatArray
    """Relative humidity that the materials stand at."""
    removed_kg: FloatArray
    """By the coil in each hour."""
    condensed_kg: FloatArray
    """On windows and other cold places once the room would pass saturation."""

    def damp_frac(self, chosen: npt.NDArray[np.bool_] | None = None, limit_frac: float = 0.6) -> float:
        """Share of hours above a relative humidity, among some hours when they are named."""
        over = self.humidity_frac > limit_frac
        picked = over if chosen is None else over[chosen]
        return float(picked.mean()) if picked.size else 0.0


@cache
def _table() -> Mapping[str, float]:
    return {row["item"]: float(row["value"]) for row in rows("moisture")}


def store_of(volume_m3: float, floor_area_m2: float, pressure_pa: float) -> MoistureStore:
    """The store of an ordinary house: its air, and boards, wood and furnishings by floor area.

    The table holds what a square metre of surface takes up in the standard cycle of 8 h at 75 % and 16 h at 33 % RH;
    the capacity is set so that a store with the table's lag does the same.
    """
    table = _table()
    lag_s = 3600.0 * table["buffer time"]
    surface_m2 = table["surface per floor"] * floor_area_m2
    per_unit_kg = surface_m2 * table["buffer value"] * 1e-3 * 100.0
    return MoistureStore(
        air_kg=float(dry_density_kg_m3(pressure_pa)) * volume_m3,
        material_kg=per_unit_kg / cycle_share_frac(lag_s),
        lag_s=lag_s,
    )


def cycle_share_frac(lag_s: float) -> float:
    """Share of its capacity that a store uses in the settled cycle of 8 h at one humidity and 16 h at another."""
    up, down = (np.exp(-hours * 3600.0 / lag_s) for hours in _CYCLE_H)
    return float((1.0 - up) * (1.0 - down) / (1.0 - up * down))


def household_latent_w(people: float) -> float:
    """Moisture of cooking, washing and bathing as heat of evaporation, mean of the day [W]; breath comes on top."""
    return people * _table()["other moisture per person"] / _DAY_S * EVAPORATION_J_KG


def indoor_humidity(
    store: MoistureStore, hours: MoistureHours, coil: CoilHours, pressure_pa: float, step_s: float = 3600.0
) -> HumidityYear:
    """Relative humidity of the house hour by hour; the year is taken to repeat.

    Parameters
    ----------
    store, hours
        The house and what drives it.
    coil
        From `compare.physics.coil.coil_hours` (or `no_coil`): what cooling can take out at the room's humidity.
    pressure_pa
        Air pressure of the place.

    Raises
    ------
    ValueError
        When the series differ in length.
    """
    count = hours.indoor_c.shape[0]
    lengths = {count, *(s.shape[0] for s in (hours.outdoor_kg_kg, hours.flow_m3_s, hours.latent_w)), coil.hours}
    if len(lengths) != 1:
        raise ValueError(f"humidity balance: series of {sorted(lengths)} hours; all must be equally long")
    saturated_pa = saturation_pressure_pa(hours.indoor_c)
    columns = _columns(hours, coil, pressure_pa, saturated_pa)
    lag = step_s / store.lag_s
    per_step = (store.air_kg / step_s, store.material_kg / store.lag_s / (1.0 + lag), lag / (1.0 + lag))
    start = (float(columns[:, 0].mean()), FIRST_MATERIAL_FRAC)
    run_hours = _run_hours()
    settled = run_hours(columns[count - min(WARMUP_H, count) :], per_step, pressure_pa, step_s, start)
    found = run_hours(columns, per_step, pressure_pa, step_s, (float(settled[-1, 0]), float(settled[-1, 1])))
    ratio, material, removed, condensed = found.T
    humidity = vapour_of_ratio_pa(ratio, pressure_pa) / saturated_pa
    return HumidityYear(ratio, np.minimum(humidity, 1.0), material, removed, condensed)


def _run_hours() -> Callable[..., FloatArray]:
    """The compiled hours, imported only when they are asked for."""
    from compare.physics import moisture_kernel

    return moisture_kernel.run_hours


def _columns(hours: MoistureHours, coil: CoilHours, pressure_pa: float, saturated_pa: FloatArray) -> FloatArray:
    """Outdoor ratio, outdoor mass flow, gain, saturation pressure and ratio, coil pull and surface; (hours, 7)."""
    density_kg_m3 = float(dry_density_kg_m3(pressure_pa))
    return np.column_stack(
        [
            hours.outdoor_kg_kg,
            hours.flow_m3_s * density_kg_m3,
            hours.latent_w / EVAPORATION_J_KG,
            saturated_pa,
            ratio_of_vapour_kg_kg(saturated_pa, pressure_pa),
            coil.pull_kg_s,
            coil.surface_kg_kg,
        ]
    )
