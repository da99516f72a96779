"""The indoor fan: watts, airflow at a given output, airflow against static, and sound at an airflow."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.equipment.rules import rule
from compare.equipment.unit import IndoorUnit

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FanWatts:
    """Fan power at least output (quiet speed) and at rated and most output (high speed)."""

    quiet_w: float
    high_w: float


def fan_w(unit: IndoorUnit, airflow_m3_s: npt.ArrayLike) -> FloatArray:
    """Fan power [W] at an airflow [m3/s] by the cube law from high speed, in the shape of `airflow_m3_s`."""
    high = unit.airflow_m3_s.high
    share = np.asarray(airflow_m3_s, dtype=np.float64) / high
    return unit.fan_w_m3_s * high * (share * share * share)


@lru_cache(maxsize=256)
def rated_fan(unit: IndoorUnit) -> FanWatts:
    """Fan power that the catalogue's net capacities and COP already hold."""
    return FanWatts(float(fan_w(unit, unit.airflow_m3_s.quiet)), float(fan_w(unit, unit.airflow_m3_s.high)))


def fan_on_ducts(unit: IndoorUnit, static_pa: float, flow_high_m3_s: float) -> FanWatts:
    """Fan power on real ducts.

    Power is flow times pressure over an efficiency that stays: W = W_rated (Q / Q_high) (P + P_cabinet) /
    (P_rated + P_cabinet), with the cabinet's part falling by the square of the flow. On the same ducts the quiet speed
    follows the cube law.

    Parameters
    ----------
    unit
        Indoor unit.
    static_pa
        External static that the ducts take at `flow_high_m3_s` [Pa].
    flow_high_m3_s
        Airflow at high speed on these ducts [m3/s], above 0.
    """
    share = flow_high_m3_s / unit.airflow_m3_s.high
    cabinet = rule("fan", "cabinet_pa")
    rated = rated_fan(unit).high_w
    high = rated * share * (static_pa + cabinet * share**2) / (unit.static_pa + cabinet)
    return FanWatts(high * (unit.airflow_m3_s.quiet / flow_high_m3_s) ** 3, high)


def airflow_m3_s(unit: IndoorUnit, load_w: npt.ArrayLike, min_w: npt.ArrayLike, max_w: npt.ArrayLike) -> FloatArray:
    """Airflow [m3/s] that an output needs: quiet at minimum output and below, high at maximum, linear between.

    Parameters
    ----------
    unit
        Indoor unit.
    load_w, min_w, max_w
        Output wanted, least and most output of the unit in that hour [W]; shapes that broadcast.
    """
    load, low, high = (np.asarray(value, dtype=np.float64) for value in (load_w, min_w, max_w))
    span = np.maximum(high - low, 1e-9)
    share = np.clip((load - low) / span, 0.0, 1.0)
    return unit.airflow_m3_s.quiet + share * (unit.airflow_m3_s.high - unit.airflow_m3_s.quiet)


def static_on_ducts_pa(unit: IndoorUnit, flow_m3_s: npt.ArrayLike) -> FloatArray:
    """External static [Pa] at an airflow on ducts that take the rated static at high speed (square law)."""
    flow = np.asarray(flow_m3_s, dtype=np.float64)
    return unit.static_pa * (flow / unit.airflow_m3_s.high) ** 2


def airflow_at_static_m3_s(unit: IndoorUnit, static_pa: float) -> float:
    """Airflow [m3/s] at high speed against a static above the rated one; rated airflow at or below it.

    Source: square-root law to the fan's shut-off pressure, from memory.
    """
    if static_pa <= unit.static_pa:
        return unit.airflow_m3_s.high
    rise = rule("fan", "shut_off_above_rated_pa")
    left = max(0.0, (unit.static_pa + rise - static_pa) / rise)
    return float(unit.airflow_m3_s.high * np.sqrt(left))


def sensible_frac(flow_m3_s: npt.ArrayLike, output_w: npt.ArrayLike) -> FloatArray:
    """Sensible share of a total cooling output at 80/67 degF entering air [-]. Source: from memory.

    Parameters
    ----------
    flow_m3_s
        Airflow [m3/s].
    output_w
        Total cooling output at that moment [W], above 0.
    """
    cfm = np.asarray(flow_m3_s, dtype=np.float64) / (0.3048**3 / 60.0)
    tons = np.asarray(output_w, dtype=np.float64) / 3516.852842
    share = rule("sensible", "base_frac") + rule("sensible", "slope_per_cfm_ton") * (cfm / tons - 400.0)
    return np.clip(share, rule("sensible", "least_frac"), 1.0)
