"""What a cooling coil takes out of moist air, from its sensible and total output at one known humidity.

The state of the air on the coil moves from the entering state towards one point of the saturation curve, the
*apparatus dew point* (ASHRAE Handbook-Fundamentals, chapter "Psychrometrics"). With the same coil and fan, moisture
removal grows in proportion to how far the room's humidity ratio lies above that point, and ends there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.physics.moist_air import (
    DRY_AIR_J_KGK,
    EVAPORATION_J_KG,
    SEA_LEVEL_PA,
    VAPOUR_J_KGK,
    dew_point_c,
    ratio_from_humidity_kg_kg,
)

FloatArray = npt.NDArray[np.float64]
Value = float | FloatArray

COLDEST_COIL_C = -5.0
"""A coil line that meets the saturation curve nowhere above this counts as frosted there."""
_PLACES = 4097
"""Surface temperatures that a coil line is first compared with, 0.005 K apart."""
_STEPS = 3
"""Interpolations between two of them: each leaves a ten-thousandth of the error of the one before."""


@dataclass(frozen=True, slots=True, eq=False)
class CoilHours:
    """A coil hour by hour: removal [kg/s] = `pull_kg_s` (W - `surface_kg_kg`), never below zero; shapes (hours,)."""

    pull_kg_s: FloatArray
    surface_kg_kg: FloatArray

    @property
    def hours(self) -> int:
        """Length of the series."""
        return int(self.pull_kg_s.shape[0])


@dataclass(frozen=True, slots=True)
class Entering:
    """Air that enters a coil when its sensible and total output are as given."""

    dry_bulb_c: float = 26.67
    humidity_frac: float = 0.511
    """80 degF with 67 degF wet bulb, the rating condition of cooling (AHRI 210/240)."""
    pressure_pa: float = SEA_LEVEL_PA

    @property
    def ratio_kg_kg(self) -> float:
        """Humidity ratio."""
        return float(ratio_from_humidity_kg_kg(self.dry_bulb_c, self.humidity_frac, self.pressure_pa))


def no_coil(hours: int) -> CoilHours:
    """A house without cooling."""
    return CoilHours(np.zeros(hours), np.zeros(hours))


def apparatus_dew_point_c(entering: Entering, sensible_frac: Value) -> FloatArray:
    """Apparatus dew point of a coil line [degC]; NaN where the coil stays dry.

    `sensible_frac` is sensible over total output. The line runs from the entering state with a slope of
    (1 - share) / share x specific heat / heat of evaporation; its first crossing with the saturation curve is looked
    for between the entering dew point and the coldest coil. Where the line misses the curve there, the coldest coil is
    taken.
    """
    shares = np.asarray(sensible_frac, dtype=np.float64)
    # hours at steady output repeat their share
    share, place = np.unique(shares, return_inverse=True)
    return _line_meets_c(entering, share)[place].reshape(shares.shape)


def _line_meets_c(entering: Entering, share: FloatArray) -> FloatArray:
    slope_per_k = (1.0 - share) / np.maximum(share, 1e-6) * _heat_j_kgk(entering.ratio_kg_kg) / EVAPORATION_J_KG
    surface_c, saturated, steepest_per_k = _slopes(entering)
    meeting_per_k = np.minimum(slope_per_k, steepest_per_k[-1])
    place = np.maximum(np.searchsorted(steepest_per_k, meeting_per_k), 1)

    def on_line(at_c: FloatArray) -> FloatArray:
        ratio: FloatArray = entering.ratio_kg_kg - meeting_per_k * (entering.dry_bulb_c - at_c)
        return ratio

    low_c, high_c = surface_c[place], surface_c[place - 1]
    low, high = saturated[place] - on_line(low_c), saturated[place - 1] - on_line(high_c)
    for _ in range(_STEPS):
        apart = np.where(high > low, high - low, 1.0)  # 1 where the ends are one and lie on the line
        found_c = low_c - low * (high_c - low_c) / apart
        over = ratio_from_humidity_kg_kg(found_c, 1.0, entering.pressure_pa) - on_line(found_c)
        low_c, low = np.where(over > 0.0, low_c, found_c), np.where(over > 0.0, low, over)
        high_c, high = np.where(over > 0.0, found_c, high_c), np.where(over > 0.0, over, high)
    met_c = np.where(slope_per_k > meeting_per_k, COLDEST_COIL_C, found_c)
    return np.where(share >= 1.0, np.nan, met_c)


@lru_cache(maxsize=16)
def _slopes(entering: Entering) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Surface temperatures from the entering dew point down, their saturated ratios, and the steepest line so far.

    The line goes from the entering state to the surface [1/K].
    """
    surface_c = np.linspace(_dew_c(entering), COLDEST_COIL_C, _PLACES)
    saturated = ratio_from_humidity_kg_kg(surface_c, 1.0, entering.pressure_pa)
    slope_per_k = (entering.ratio_kg_kg - saturated) / (entering.dry_bulb_c - surface_c)
    return surface_c, saturated, np.maximum.accumulate(slope_per_k)


def coil_hours(sensible_w: FloatArray, total_w: FloatArray, entering: Entering | None = None) -> CoilHours:
    """The coil of hourly sensible and total output [W], both as they would be with the entering air.

    Parameters
    ----------
    sensible_w, total_w
        Hourly cooling, at least 0, total not below sensible.
    entering
        Air at which the split holds; the rating condition when None.

    Raises
    ------
    ValueError
        When total cooling lies below sensible cooling or the shapes differ.
    """
    air = entering or Entering()
    if sensible_w.shape != total_w.shape:
        raise ValueError(f"sensible and total cooling have {sensible_w.shape} and {total_w.shape} hours")
    if np.any(total_w < sensible_w - 1e-6 * np.maximum(total_w, 1.0)) or np.any(sensible_w < 0.0):
        raise ValueError("cooling: total must be at least sensible, and both at least 0, in every hour")
    running = total_w > sensible_w
    share = np.where(running, sensible_w / np.maximum(total_w, 1e-9), 1.0)
    surface_c = apparatus_dew_point_c(air, share)
    surface = ratio_from_humidity_kg_kg(np.nan_to_num(surface_c, nan=0.0), 1.0, air.pressure_pa)
    removed_kg_s = np.maximum(total_w - sensible_w, 0.0) / EVAPORATION_J_KG
    pull_kg_s = removed_kg_s / np.maximum(air.ratio_kg_kg - surface, 1e-5)
    return CoilHours(np.where(running, pull_kg_s, 0.0), np.where(running, surface, 0.0))


def together(first: CoilHours, *others: CoilHours) -> CoilHours:
    """Several coils as one: pulls add, surfaces weigh by pull (exact while all of them are wet)."""
    coils = (first, *others)
    pull_kg_s = np.sum([coil.pull_kg_s for coil in coils], axis=0)
    weighed = np.sum([coil.pull_kg_s * coil.surface_kg_kg for coil in coils], axis=0)
    return CoilHours(pull_kg_s, np.where(pull_kg_s > 0.0, weighed / np.maximum(pull_kg_s, 1e-12), 0.0))


def _heat_j_kgk(ratio_kg_kg: float) -> float:
    return DRY_AIR_J_KGK + VAPOUR_J_KGK * ratio_kg_kg


@lru_cache(maxsize=64)
def _dew_c(entering: Entering) -> float:
    return float(dew_point_c(entering.ratio_kg_kg, entering.pressure_pa))
