"""Move a donor's sun to another latitude: keep its clearness hour by hour, take the town's sun outside the air.

Diffuse share: the correlation of Erbs, Klein & Duffie, Solar Energy 28 (1982), plus the donor's own departure from it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.climate.columns import MAX_GAP_H
from compare.climate.moist import standard_pressure_pa
from compare.climate.series import Series
from compare.climate.solar_position import (
    day_angle_rad,
    extraterrestrial_horizontal_w_m2,
    extraterrestrial_normal_w_m2,
    mid_hours_h,
)
from compare.climate.year import FloatArray, Site

_LEAST_EXTRATERRESTRIAL_W_M2 = 20.0
_HIGHEST_CLEARNESS = 0.82
_LARGEST_DEPARTURE = 0.6
_HIGHEST_DIRECT_W_M2 = 1050.0


@dataclass(frozen=True, slots=True, eq=False)
class Radiation:
    """Hourly global and diffuse horizontal and direct normal sun."""

    global_horizontal_w_m2: FloatArray
    direct_normal_w_m2: FloatArray
    diffuse_horizontal_w_m2: FloatArray


def erbs_diffuse_frac(clearness: FloatArray) -> FloatArray:
    """Diffuse share of the hourly global sun from the hourly clearness."""
    k = clearness
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.asarray(np.where(k <= 0.22, 1.0 - 0.09 * k, np.where(k > 0.8, 0.165, middle)))


def clearest_direct_w_m2(height_sin: FloatArray, normal_w_m2: FloatArray, elevation_m: float) -> FloatArray:
    """Upper bound of the direct sun: a fifth above a clear sky, never above 1050 W/m2.

    Clear sky 0.7^(m^0.678) of the sun outside the air (Meinel & Meinel, Applied Solar Energy, 1976) with the air mass
    m of Kasten & Young, Applied Optics 28 (1989). It keeps the division by a very low sun from inventing beam
    (each embedded year moved to its own place gets its own yearly direct sun back within 2.5 %).
    """
    height_deg = np.degrees(np.arcsin(np.clip(height_sin, 0.0, 1.0)))
    thinner = standard_pressure_pa(elevation_m) / standard_pressure_pa(0.0)
    air_mass = thinner / (np.clip(height_sin, 0.0, 1.0) + 0.50572 * (height_deg + 6.07995) ** -1.6364)
    return np.asarray(np.minimum(1.2 * normal_w_m2 * 0.7 ** (air_mass**0.678), _HIGHEST_DIRECT_W_M2))


def _bridged(values: FloatArray, known: FloatArray) -> FloatArray:
    """Straight lines across hours without a value, but no further than three hours from the nearest known one."""
    hours = np.arange(values.size)
    known_hours = hours[known > 0.0]
    filled = np.interp(hours, known_hours, values[known > 0.0])
    place = np.searchsorted(known_hours, hours)
    after = known_hours[np.minimum(place, known_hours.size - 1)]
    before = known_hours[np.maximum(place - 1, 0)]
    near = np.minimum(np.abs(after - hours), np.abs(hours - before)) <= MAX_GAP_H
    return np.asarray(np.where(near, filled, 0.0))


def move_sun(donor: Series, origin: Site, town: Site) -> Radiation:
    """Global, direct and diffuse sun at the town from the donor's clearness, by clock hour."""
    hours = donor.global_horizontal_w_m2.size
    there = extraterrestrial_horizontal_w_m2(origin, hours)
    here = extraterrestrial_horizontal_w_m2(town, hours)
    known = (there > _LEAST_EXTRATERRESTRIAL_W_M2).astype(np.float64)
    safe = np.maximum(there, _LEAST_EXTRATERRESTRIAL_W_M2)
    clearness = np.clip(donor.global_horizontal_w_m2 / safe, 0.0, _HIGHEST_CLEARNESS)
    lit = (donor.global_horizontal_w_m2 > 1.0).astype(np.float64) * known
    share = np.where(lit > 0.0, donor.diffuse_horizontal_w_m2 / np.maximum(donor.global_horizontal_w_m2, 1.0), 1.0)
    departure = np.where(lit > 0.0, np.clip(share, 0.0, 1.0) - erbs_diffuse_frac(clearness), 0.0)
    moved = _bridged(clearness, known)
    moved_departure = _bridged(np.clip(departure, -_LARGEST_DEPARTURE, _LARGEST_DEPARTURE), known)
    global_w_m2 = moved * here
    diffuse_frac = np.clip(erbs_diffuse_frac(moved) + moved_departure, 0.05, 1.0)
    normal = extraterrestrial_normal_w_m2(day_angle_rad(mid_hours_h(hours) / 24.0))
    height_sin = here / normal
    direct = (1.0 - diffuse_frac) * global_w_m2 / np.maximum(height_sin, 1e-3)
    direct = np.minimum(direct, clearest_direct_w_m2(height_sin, normal, town.elevation_m))
    return Radiation(
        global_horizontal_w_m2=np.asarray(global_w_m2),
        direct_normal_w_m2=np.asarray(direct),
        diffuse_horizontal_w_m2=np.asarray(np.maximum(global_w_m2 - direct * height_sin, 0.0)),
    )
