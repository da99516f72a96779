"""Mechanical ventilation, and how it adds to leakage.

ASHRAE Standard 62.2 flow and the combination rule as given in the residential loads chapter of the ASHRAE
Handbook-Fundamentals 2021.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.physics.leakage import Tightness, site_flow_m3_s

FloatArray = npt.NDArray[np.float64]
Value = float | FloatArray


@dataclass(frozen=True, slots=True)
class Ventilation:
    """Fans that run all hours: a one-way flow (exhaust or supply alone) and a balanced one with heat recovery."""

    unbalanced_m3_s: float = 0.0
    balanced_m3_s: float = 0.0
    recovery_frac: float = 0.0
    """Sensible effectiveness of heat recovery of the balanced flow, 0-1."""
    moisture_recovery_frac: float = 0.0
    """Latent effectiveness, 0-1; 0 for a core that passes heat only."""


@dataclass(frozen=True, slots=True)
class HouseAir:
    """All outdoor air of a house: what leaks and what fans bring."""

    tightness: Tightness
    ventilation: Ventilation = field(default_factory=Ventilation)

    def sensible_flow_m3_s(self, difference_k: Value, station_wind_m_s: Value) -> FloatArray:
        """Flow that must be heated or cooled, after heat recovery [m3/s]; broadcasts."""
        leak_m3_s = site_flow_m3_s(self.tightness, difference_k, station_wind_m_s)
        return combined_flow_m3_s(leak_m3_s, self.ventilation, self.ventilation.recovery_frac)

    def moisture_flow_m3_s(self, difference_k: Value, station_wind_m_s: Value) -> FloatArray:
        """Flow that brings or takes moisture, after moisture recovery [m3/s]; broadcasts."""
        leak_m3_s = site_flow_m3_s(self.tightness, difference_k, station_wind_m_s)
        return combined_flow_m3_s(leak_m3_s, self.ventilation, self.ventilation.moisture_recovery_frac)


def ventilation_of(kind: str, flow_m3_s: float, recovery_frac: float = 0.0) -> Ventilation:
    """Ventilation from the words of the house file: none, exhaust, supply or balanced."""
    if kind == "none":
        return Ventilation()
    if kind in ("exhaust", "supply"):
        return Ventilation(unbalanced_m3_s=flow_m3_s)
    if kind == "balanced":
        return Ventilation(balanced_m3_s=flow_m3_s, recovery_frac=recovery_frac)
    raise ValueError(f"air.ventilation_kind is {kind!r}; use none, exhaust, supply or balanced")


def whole_house_flow_m3_s(floor_area_m2: float, bedrooms: int) -> float:
    """Ventilation by ASHRAE Standard 62.2: 0.15 L/s per m2 and 3.5 L/s for each bedroom plus one [m3/s]."""
    return (0.15 * floor_area_m2 + 3.5 * (bedrooms + 1)) * 1e-3


def combined_flow_m3_s(leak_m3_s: Value, ventilation: Ventilation, recovery_frac: float) -> FloatArray:
    """Leakage and fans together: the larger of the one-way flow and leakage plus half of it, then the balanced flow."""
    leak = np.asarray(leak_m3_s, dtype=np.float64)
    one_way = ventilation.unbalanced_m3_s
    return np.maximum(one_way, leak + 0.5 * one_way) + ventilation.balanced_m3_s * (1.0 - recovery_frac)
