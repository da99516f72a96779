"""Moist-air functions that the climate package needs, on arrays or single values.

Source: ASHRAE Handbook of Fundamentals, chapter 1 "Psychrometrics" (equations named beside each function).
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np

from compare.climate.year import FloatArray

KELVIN = 273.15
RATIO = 0.621945
"""Molar mass of water over that of dry air."""

_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)

Number: TypeAlias = float | FloatArray


def _log_pressure(temperature_k: FloatArray, coefficients: tuple[float, ...]) -> FloatArray:
    a, b, c, d, e, f, g = coefficients
    polynomial = b + temperature_k * (c + temperature_k * (d + temperature_k * (e + temperature_k * f)))
    return np.asarray(a / temperature_k + polynomial + g * np.log(temperature_k))


def saturation_pressure_pa(temperature_c: Number) -> FloatArray:
    """Saturation vapour pressure over ice below and over water above 0.01 °C (equations 5 and 6)."""
    temperature_k = np.asarray(temperature_c, dtype=np.float64) + KELVIN
    over_ice = _log_pressure(temperature_k, _ICE)
    over_water = _log_pressure(temperature_k, _WATER)
    return np.asarray(np.exp(np.where(temperature_k <= KELVIN + 0.01, over_ice, over_water)))


def humidity_ratio(vapour_pressure_pa: Number, pressure_pa: Number) -> FloatArray:
    """Kilograms of water per kilogram of dry air (equation 20)."""
    vapour_pa = np.asarray(vapour_pressure_pa, dtype=np.float64)
    return np.asarray(RATIO * vapour_pa / (pressure_pa - vapour_pa))


def vapour_pressure_pa(ratio_kg_kg: Number, pressure_pa: Number) -> FloatArray:
    """Vapour pressure from the humidity ratio (equation 36)."""
    ratio = np.asarray(ratio_kg_kg, dtype=np.float64)
    return np.asarray(pressure_pa * ratio / (RATIO + ratio))


def dew_point_c(vapour_pressure: Number) -> FloatArray:
    """Temperature at which air of this vapour pressure (Pa) is saturated; Newton on ln(p), to 1e-9 K.

    A vapour pressure below 0.1 Pa (dew point near -80 °C) counts as 0.1 Pa, so that bone-dry air stays finite.
    """
    target = np.log(np.maximum(np.asarray(vapour_pressure, dtype=np.float64), 0.1))
    guess = np.asarray(243.12 * (target - np.log(611.2)) / (17.62 - (target - np.log(611.2))))
    for _ in range(20):
        log_p = np.log(saturation_pressure_pa(guess))
        slope = (np.log(saturation_pressure_pa(guess + 1e-3)) - log_p) / 1e-3
        step = np.clip((target - log_p) / slope, -20.0, 20.0)
        guess = guess + step
        if np.all(np.abs(step) < 1e-9):
            break
    return guess


def dew_point_from_humidity_c(dry_bulb_c: Number, relative_humidity_frac: Number) -> FloatArray:
    """Dew point from dry bulb and relative humidity (equation 22)."""
    return dew_point_c(saturation_pressure_pa(dry_bulb_c) * np.asarray(relative_humidity_frac, dtype=np.float64))


def relative_humidity_frac(dry_bulb_c: Number, dew_point: Number) -> FloatArray:
    """Relative humidity from dry bulb and dew point (equation 22)."""
    return np.asarray(saturation_pressure_pa(dew_point) / saturation_pressure_pa(dry_bulb_c))


def ratio_from_wet_bulb(dry_bulb_c: Number, wet_bulb_c: Number, pressure_pa: Number) -> FloatArray:
    """Humidity ratio from dry and wet bulb (equations 33 and 35), never below zero."""
    dry = np.asarray(dry_bulb_c, dtype=np.float64)
    wet = np.asarray(wet_bulb_c, dtype=np.float64)
    saturated = humidity_ratio(saturation_pressure_pa(wet), pressure_pa)
    above = ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    below = ((2830.0 - 0.24 * wet) * saturated - 1.006 * (dry - wet)) / (2830.0 + 1.86 * dry - 2.1 * wet)
    return np.maximum(np.where(wet >= 0.0, above, below), 0.0)


def wet_bulb_c(dry_bulb_c: Number, dew_point: Number, pressure_pa: Number) -> FloatArray:
    """Wet bulb from dry bulb and dew point, by bisection between the two, to 1e-6 K."""
    dry = np.asarray(dry_bulb_c, dtype=np.float64)
    low = np.minimum(np.asarray(dew_point, dtype=np.float64), dry)
    high = dry.copy() if dry.shape == low.shape else np.broadcast_to(dry, low.shape).copy()
    ratio = humidity_ratio(saturation_pressure_pa(low), pressure_pa)
    for _ in range(40):
        middle = 0.5 * (low + high)
        wetter = ratio_from_wet_bulb(dry, middle, pressure_pa) > ratio
        high = np.where(wetter, middle, high)
        low = np.where(wetter, low, middle)
    return np.asarray(0.5 * (low + high))


def standard_pressure_pa(elevation_m: float) -> float:
    """Standard-atmosphere pressure at an elevation (equation 3), for -1000 to 10,000 m."""
    return float(101325.0 * (1.0 - 2.25577e-5 * elevation_m) ** 5.2559)
