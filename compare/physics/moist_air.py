"""Moist air: saturation, humidity ratio, wet bulb, enthalpy, density and the load factors that follow from them.

All functions take floats or arrays and broadcast. Equations: ASHRAE Handbook-Fundamentals, chapter "Psychrometrics"
(Hyland-Wexler saturation, ideal-gas mixture). Valid from -60 to 90 degC and 50 to 110 kPa.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
Value = float | FloatArray

SEA_LEVEL_PA = 101325.0
"""Standard atmosphere at sea level."""

DRY_AIR_J_KGK = 1006.0
"""Specific heat of dry air at constant pressure."""

VAPOUR_J_KGK = 1860.0
"""Specific heat of water vapour."""

EVAPORATION_J_KG = 2_501_000.0
"""Heat of evaporation of water at 0 degC."""

_GAS_J_KGK = 287.042
_RATIO = 0.621945
_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)
_TRIPLE_C = 0.01
_BISECTIONS = 48


def standard_pressure_pa(elevation_m: float) -> float:
    """Pressure of the standard atmosphere at an elevation [Pa]."""
    return float(SEA_LEVEL_PA * (1.0 - 2.25577e-5 * elevation_m) ** 5.2559)


def saturation_pressure_pa(temperature_c: Value) -> FloatArray:
    """Saturation pressure over ice below 0.01 degC and over water above [Pa]."""
    temp_c = np.asarray(temperature_c, dtype=np.float64)
    kelvin = temp_c + 273.15
    logarithm = np.log(kelvin)
    w = _WATER
    exponent = w[0] / kelvin + w[1] + kelvin * (w[2] + kelvin * (w[3] + kelvin * w[4])) + w[5] * logarithm
    frozen = temp_c <= _TRIPLE_C
    if frozen.any():
        c = _ICE
        ice = c[0] / kelvin + c[1] + kelvin * (c[2] + kelvin * (c[3] + kelvin * (c[4] + kelvin * c[5])))
        exponent = np.where(frozen, ice + c[6] * logarithm, exponent)
    return np.exp(exponent)


def ratio_of_vapour_kg_kg(vapour_pa: Value, pressure_pa: Value) -> FloatArray:
    """Humidity ratio at a vapour pressure [kg/kg of dry air]."""
    vapour = np.asarray(vapour_pa, dtype=np.float64)
    return np.maximum(_RATIO * vapour / (np.asarray(pressure_pa) - vapour), 1e-7)


def vapour_of_ratio_pa(ratio_kg_kg: Value, pressure_pa: Value) -> FloatArray:
    """Vapour pressure at a humidity ratio [Pa]."""
    ratio = np.asarray(ratio_kg_kg, dtype=np.float64)
    return np.asarray(pressure_pa) * ratio / (_RATIO + ratio)


def ratio_from_humidity_kg_kg(dry_bulb_c: Value, humidity_frac: Value, pressure_pa: Value) -> FloatArray:
    """Humidity ratio from dry bulb and relative humidity (0-1) [kg/kg]."""
    return ratio_of_vapour_kg_kg(np.asarray(humidity_frac) * saturation_pressure_pa(dry_bulb_c), pressure_pa)


def ratio_from_dew_point_kg_kg(dew_point_c: Value, pressure_pa: Value) -> FloatArray:
    """Humidity ratio from the dew point [kg/kg]."""
    return ratio_of_vapour_kg_kg(saturation_pressure_pa(dew_point_c), pressure_pa)


def ratio_from_wet_bulb_kg_kg(dry_bulb_c: Value, wet_bulb_c: Value, pressure_pa: Value) -> FloatArray:
    """Humidity ratio from dry bulb and thermodynamic wet bulb [kg/kg]; the ice form below 0 degC."""
    dry = np.asarray(dry_bulb_c, dtype=np.float64)
    wet = np.asarray(wet_bulb_c, dtype=np.float64)
    full = ratio_of_vapour_kg_kg(saturation_pressure_pa(wet), pressure_pa)
    water = ((2501.0 - 2.326 * wet) * full - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
    ice = ((2830.0 - 0.24 * wet) * full - 1.006 * (dry - wet)) / (2830.0 + 1.86 * dry - 2.1 * wet)
    return np.maximum(np.where(wet >= 0.0, water, ice), 1e-7)


def relative_humidity_frac(dry_bulb_c: Value, ratio_kg_kg: Value, pressure_pa: Value) -> FloatArray:
    """Relative humidity from dry bulb and humidity ratio [0-1, above 1 if supersaturated]."""
    return vapour_of_ratio_pa(ratio_kg_kg, pressure_pa) / saturation_pressure_pa(dry_bulb_c)


def dew_point_c(ratio_kg_kg: Value, pressure_pa: Value) -> FloatArray:
    """Dew point of a humidity ratio, by bisection to 1e-6 K [degC]."""
    target = np.log(vapour_of_ratio_pa(ratio_kg_kg, pressure_pa))
    return _bisect(lambda temp_c: np.log(saturation_pressure_pa(temp_c)) - target, -100.0, 120.0, np.shape(target))


def wet_bulb_c(dry_bulb_c: Value, ratio_kg_kg: Value, pressure_pa: Value) -> FloatArray:
    """Thermodynamic wet bulb, by bisection to 1e-6 K [degC]."""
    dry, ratio = np.broadcast_arrays(
        np.asarray(dry_bulb_c, dtype=np.float64), np.asarray(ratio_kg_kg, dtype=np.float64)
    )
    low = np.minimum(dew_point_c(ratio, pressure_pa), dry)
    return _bisect(lambda temp_c: ratio_from_wet_bulb_kg_kg(dry, temp_c, pressure_pa) - ratio, low, dry, dry.shape)


def enthalpy_j_kg(dry_bulb_c: Value, ratio_kg_kg: Value) -> FloatArray:
    """Enthalpy of moist air per kg of dry air, zero at 0 degC dry [J/kg]."""
    temp_c = np.asarray(dry_bulb_c, dtype=np.float64)
    ratio = np.asarray(ratio_kg_kg, dtype=np.float64)
    return DRY_AIR_J_KGK * temp_c + ratio * (EVAPORATION_J_KG + VAPOUR_J_KGK * temp_c)


def density_kg_m3(dry_bulb_c: Value, ratio_kg_kg: Value, pressure_pa: Value) -> FloatArray:
    """Density of moist air, dry air and vapour together [kg/m3]."""
    kelvin = np.asarray(dry_bulb_c, dtype=np.float64) + 273.15
    ratio = np.asarray(ratio_kg_kg, dtype=np.float64)
    return np.asarray(pressure_pa) * (1.0 + ratio) / (_GAS_J_KGK * kelvin * (1.0 + ratio / _RATIO))


def dry_density_kg_m3(pressure_pa: Value, temperature_c: Value = 20.0) -> FloatArray:
    """Density of dry air [kg/m3]; 1.204 at 20 degC and sea level."""
    return np.asarray(pressure_pa, dtype=np.float64) / (_GAS_J_KGK * (np.asarray(temperature_c) + 273.15))


def sensible_factor_j_m3k(pressure_pa: float = SEA_LEVEL_PA, ratio_kg_kg: float = 0.009) -> float:
    """Heat that a cubic metre of air carries per kelvin: 1,230 J/(m3 K) at sea level, less with elevation.

    Multiplied by a flow in m3/s it is a conductance in W/K.
    """
    return float(dry_density_kg_m3(pressure_pa) * (DRY_AIR_J_KGK + VAPOUR_J_KGK * ratio_kg_kg))


def latent_factor_j_m3(pressure_pa: float = SEA_LEVEL_PA) -> float:
    """Latent heat per cubic metre of air and unit difference in humidity ratio: 3.01e6 J/m3 at sea level."""
    return float(dry_density_kg_m3(pressure_pa) * EVAPORATION_J_KG)


def total_factor_kg_m3(pressure_pa: float = SEA_LEVEL_PA) -> float:
    """Total heat per cubic metre of air and unit of enthalpy (J/kg of dry air): 1.2 kg/m3 at sea level."""
    return float(dry_density_kg_m3(pressure_pa))


def _bisect(
    residual: Callable[[FloatArray], FloatArray], low_c: Value, high_c: Value, shape: tuple[int, ...]
) -> FloatArray:
    """Root of a rising function of temperature between two bounds, element by element."""
    low = np.broadcast_to(np.asarray(low_c, dtype=np.float64), shape).copy()
    high = np.broadcast_to(np.asarray(high_c, dtype=np.float64), shape).copy()
    for _ in range(_BISECTIONS):
        middle = 0.5 * (low + high)
        above = residual(middle) > 0.0
        high = np.where(above, middle, high)
        low = np.where(above, low, middle)
    return 0.5 * (low + high)
