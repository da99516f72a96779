"""The hours of the humidity balance, compiled where numba is there: each hour follows from the one before."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from compare.physics.compiled import compiled

FloatArray = npt.NDArray[np.float64]

RATIO = 0.621945
"""Molar mass of water over that of dry air."""
ROUNDS = 3
"""Solutions per hour: relative humidity is slightly curved in the humidity ratio."""


@compiled
def run_hours(
    columns: FloatArray,
    store: tuple[float, float, float],
    pressure_pa: float,
    step_s: float,
    start: tuple[float, float],
) -> FloatArray:
    """Humidity ratio, humidity of materials, water removed and condensed [kg] of each hour, shape (hours, 4).

    Parameters
    ----------
    columns
        Outdoor ratio, outdoor mass flow, gain, saturation pressure, saturation ratio, coil pull and surface ratio.
    store
        Air over step [kg/s], uptake of materials [kg/s], share by which materials follow in a step.
    pressure_pa, step_s
        Air pressure, length of a step.
    start
        Humidity ratio and humidity of materials before the first hour.
    """
    air, uptake, follow = store
    ratio, material = start
    out = np.empty((columns.shape[0], 4))
    for hour in range(columns.shape[0]):
        outdoor, flow, gain, saturated_pa = columns[hour, 0], columns[hour, 1], columns[hour, 2], columns[hour, 3]
        saturated, pull, surface = columns[hour, 4], columns[hour, 5], columns[hour, 6]
        given = air * ratio + flow * outdoor + gain + uptake * material
        new, per_ratio = ratio, 0.0
        for _ in range(ROUNDS):
            per_ratio = pressure_pa / ((RATIO + new) * saturated_pa)
            weight = air + flow + uptake * per_ratio
            new = given / weight
            if pull > 0.0 and new > surface:
                new = (given + pull * surface) / (weight + pull)
        condensed = 0.0
        if new > saturated:
            per_ratio = 1.0 / saturated
            taken = pull * max(saturated - surface, 0.0)
            weight = air + flow + uptake * per_ratio
            condensed = max(given - taken - weight * saturated, 0.0)
            new = saturated
        removed = pull * max(new - surface, 0.0)
        material += follow * (new * per_ratio - material)
        ratio = new
        out[hour, 0], out[hour, 1] = new, material
        out[hour, 2], out[hour, 3] = removed * step_s, condensed * step_s
    return out
