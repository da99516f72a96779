"""Overhangs and side fins: the shaded share of beam sun and of sky light."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shading:
    """A wide overhang above a window and, if any, a fin at either side of it."""

    overhang_m: float
    above_m: float
    height_m: float
    fin_m: float = 0.0
    width_m: float = 0.0
    """Width of the window between the fins."""


def sunlit_frac(
    shading: Shading, azimuth_deg: float, sun_altitude_deg: FloatArray, sun_azimuth_deg: FloatArray
) -> FloatArray:
    """Share of a vertical window that the sun's beam reaches past its overhang and fins, per hour.

    Shadow of an overhang that is wide against the window: depth times the tangent of the profile angle
    (ASHRAE Fundamentals, fenestration chapter, from memory), less the gap between head and overhang.
    """
    across = np.radians(sun_azimuth_deg - azimuth_deg)
    facing = np.maximum(np.cos(across), 1e-6)
    lit = np.ones_like(sun_altitude_deg)
    if shading.overhang_m > 0.0 and shading.height_m > 0.0:
        profile = np.tan(np.radians(np.clip(sun_altitude_deg, 0.0, 89.9))) / facing
        covered_m = shading.overhang_m * profile - shading.above_m
        lit = lit * (1.0 - np.clip(covered_m / shading.height_m, 0.0, 1.0))
    if shading.fin_m > 0.0 and shading.width_m > 0.0:
        covered_m = shading.fin_m * np.abs(np.sin(across)) / facing
        lit = lit * (1.0 - np.clip(covered_m / shading.width_m, 0.0, 1.0))
    return lit


def sky_seen_frac(shading: Shading) -> float:
    """Share of the sky light on an unshaded vertical window that is left below a wide overhang.

    Crossed strings between window and overhang, both long: the overhang hides that much of the half view of an even
    sky. Fins are not counted.
    """
    if shading.overhang_m <= 0.0 or shading.height_m <= 0.0:
        return 1.0
    depth, gap, foot = shading.overhang_m, shading.above_m, shading.above_m + shading.height_m
    view_frac = (np.hypot(depth, gap) + foot - gap - np.hypot(depth, foot)) / (2.0 * shading.height_m)
    return float(max(0.0, 1.0 - 2.0 * view_frac))
