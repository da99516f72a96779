"""Effective sky temperature from dew point, pressure and clouds.

Clear sky: Berdahl & Martin, "Emissivity of clear skies", Solar Energy 32 (1984). Clouds: Martin & Berdahl,
"Characteristics of infrared sky radiation in the United States", Solar Energy 33 (1984): an opaque cloud is black, a
thin one has an emissivity of 0.4, and both count the less the higher (and so the colder) their base is, by
exp(-height / 8.2 km). Height of thin clouds 8 km, of opaque ones without a ceiling 2 km: from memory; with them the
yearly mean, minimum and maximum of the open Standard 140 Denver year agree with its published column.

Where a source lacks sky cover, in this order: (1) its column of horizontal infrared radiation, taken as black-body
radiation; (2) cloud cover estimated from daylight by Kasten & Czeplak, Solar Energy 24 (1980), held through the night.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.climate.moist import KELVIN
from compare.climate.year import FloatArray

NO_CEILING = -1.0
CEILING_MISSING = -2.0
THIN_HIGH = -3.0

_STEFAN_BOLTZMANN = 5.6697e-8
_SCALE_HEIGHT_M = 8200.0
_THIN_HEIGHT_M = 8000.0
_OPAQUE_HEIGHT_M = 2000.0
_THIN_EMISSIVITY = 0.4
_DAYLIGHT_SIN = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Clouds:
    """Hourly sky cover in tenths and ceiling height in m (codes: -1 none, -2 missing, -3 thin high cloud)."""

    total_tenths: FloatArray
    opaque_tenths: FloatArray
    ceiling_m: FloatArray | None


def clear_emissivity(dew_point_c: FloatArray, pressure_pa: FloatArray) -> FloatArray:
    """Emissivity of the cloudless sky; entry i is mid-hour i + 0.5 of a series that starts at midnight."""
    scaled = dew_point_c / 100.0
    hour = np.arange(dew_point_c.size) % 24 + 0.5
    daily = 0.013 * np.cos(2.0 * np.pi * hour / 24.0)
    return np.asarray(0.711 + 0.56 * scaled + 0.73 * scaled**2 + daily + 0.00012 * (pressure_pa / 100.0 - 1000.0))


def cloud_share(clouds: Clouds) -> FloatArray:
    """Share (0-1) of what the clear sky lacks to a black body that the clouds make good."""
    opaque_frac = np.clip(clouds.opaque_tenths / 10.0, 0.0, 1.0)
    thin_frac = np.clip(clouds.total_tenths / 10.0 - opaque_frac, 0.0, 1.0)
    height_m = np.full(opaque_frac.shape, _OPAQUE_HEIGHT_M)
    if clouds.ceiling_m is not None:
        height_m = np.where(clouds.ceiling_m >= 0.0, clouds.ceiling_m, height_m)
        height_m = np.where(clouds.ceiling_m == THIN_HIGH, _THIN_HEIGHT_M, height_m)
    opaque = opaque_frac * np.exp(-height_m / _SCALE_HEIGHT_M)
    return np.asarray(opaque + thin_frac * _THIN_EMISSIVITY * np.exp(-_THIN_HEIGHT_M / _SCALE_HEIGHT_M))


def sky_temperature_c(
    dry_bulb_c: FloatArray, dew_point_c: FloatArray, pressure_pa: FloatArray, clouds: Clouds | None
) -> FloatArray:
    """Black-body temperature of the sky; `clouds` None means a cloudless sky."""
    emissivity = clear_emissivity(dew_point_c, pressure_pa)
    if clouds is not None:
        emissivity = emissivity + (1.0 - emissivity) * cloud_share(clouds)
    return np.asarray(np.clip(emissivity, 0.3, 1.0) ** 0.25 * (dry_bulb_c + KELVIN) - KELVIN)


def sky_from_infrared_c(infrared_w_m2: FloatArray) -> FloatArray:
    """Sky temperature that radiates the measured or modelled horizontal infrared flux as a black body."""
    return np.asarray((infrared_w_m2 / _STEFAN_BOLTZMANN) ** 0.25 - KELVIN)


def clouds_from_sun(global_horizontal_w_m2: FloatArray, sun_sin: FloatArray) -> Clouds:
    """Cloud cover in hours of daylight from global sun, carried across the night by straight lines.

    Clear-sky sun 910 sin(h) - 30 W/m2 and cloud cover from GHI/GHI_clear = 1 - 0.75 N^3.4 (Kasten & Czeplak 1980).
    All cloud counts as opaque without a known ceiling. `sun_sin` is the sine of the sun's height at mid-hour. A series
    without any usable daylight gets a half-covered sky.
    """
    usable = sun_sin > _DAYLIGHT_SIN
    if not usable.any():
        half = np.full(sun_sin.shape, 5.0)
        return Clouds(half, half, None)
    clear_w_m2 = np.maximum(910.0 * sun_sin[usable] - 30.0, 1.0)
    dimming = np.clip(1.0 - global_horizontal_w_m2[usable] / clear_w_m2, 0.0, 0.75)
    cover = 10.0 * (dimming / 0.75) ** (1.0 / 3.4)
    hours = np.arange(sun_sin.size)
    tenths = np.interp(hours, hours[usable], cover)
    return Clouds(tenths, tenths, None)
