"""The residential load factor method: the factors and equations, one function each.

ASHRAE Handbook-Fundamentals 2021, chapter "Residential Cooling and Heating Load Calculations". A steady heating
load, and a cooling load in which fixed factors stand for sun and storage. Cooling differences are those between the
outdoor 1 % dry bulb and the room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from compare.data.loads import rows

SENSIBLE_J_M3K = 1230.0
"""Heat per cubic metre of air and kelvin at sea level, as the method prints it."""
LATENT_J_M3 = 3.01e6
"""Latent heat per cubic metre and unit of humidity ratio at sea level, as the method prints it."""

INSECT_SCREEN_FRAC = 0.64
EXPOSURES = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")

_HEATING_DRIVE = (51.0, 0.35, 0.23)
_COOLING_DRIVE = (25.0, 0.38, 0.12)
_LATITUDES_DEG = (25.0, 30.0, 35.0, 40.0, 45.0)


@dataclass(frozen=True, slots=True)
class PeakSun:
    """Peak irradiance on a face [W/m2]."""

    total_w_m2: float
    diffuse_w_m2: float

    @property
    def beam_w_m2(self) -> float:
        """Direct part."""
        return self.total_w_m2 - self.diffuse_w_m2


@dataclass(frozen=True, slots=True)
class Overhang:
    """Overhang over a window: its depth, and how far above the head of the window it sits."""

    depth_m: float
    above_m: float
    window_height_m: float


@dataclass(frozen=True, slots=True)
class CoolingDay:
    """What the cooling factors ask of the place and the room."""

    difference_k: float
    """Outdoor 1 % dry bulb less the room."""
    daily_range_k: float
    latitude_deg: float


@dataclass(frozen=True, slots=True)
class Glass:
    """A window for the method. `screen_frac` is 0.64 behind an insect screen; `shade_frac` the interior shade."""

    u_w_m2k: float
    shgc_frac: float
    shade_frac: float = 1.0
    screen_frac: float = 1.0
    overhang: Overhang | None = None


def opaque_factor_w_m2(surface: str, u_w_m2k: float, day: CoolingDay, absorptance_frac: float = 0.0) -> float:
    """Cooling load per area of an opaque surface: U (OFt dt + OFb + OFr DR) [W/m2]."""
    table = {row["surface"]: row for row in rows("factor_opaque")}
    row = table[surface]
    offset_k = float(row["offset_k"]) + float(row["absorptance_k"]) * absorptance_frac
    driven_k = (
        float(row["difference_frac"]) * day.difference_k + offset_k + float(row["range_frac"]) * day.daily_range_k
    )
    return u_w_m2k * driven_k


def slab_factor_w_m2(cover_m2k_w: float) -> float:
    """Cooling load per area of a slab on ground, a gain to the house when negative [W/m2]."""
    return 1.9 - 1.4 / (cover_m2k_w + 0.12)


def peak_sun_horizontal(latitude_deg: float) -> PeakSun:
    """Peak irradiance on a horizontal face."""
    total_w_m2 = 816.2 + 10.20 * latitude_deg - 0.1806 * latitude_deg**2
    return PeakSun(total_w_m2, min(total_w_m2, 170.0))


def peak_sun_vertical(azimuth_deg: float, latitude_deg: float) -> PeakSun:
    """Peak irradiance on a vertical face of a given bearing (0 north, either way round), 25-60 degrees latitude."""
    turn = abs((azimuth_deg + 180.0) % 360.0 - 180.0) / 180.0
    lat = latitude_deg
    total_w_m2 = (
        423.5
        + 1240.0 * turn
        - 5143.0 * turn**3
        + 3191.0 * turn**4
        + 35.25 * turn * lat
        + 0.1427 * turn * lat**2
        - 12.89 * lat
        - 0.6172 * lat**2
        + 0.7802 * lat**2 / (turn + 1.0)
    )
    diffuse_w_m2 = 356.3 - 37.73 * turn**2 + 0.3022 * turn * lat - 115.9 * lat**0.25 / (turn + 1.0)
    return PeakSun(total_w_m2, min(total_w_m2, diffuse_w_m2))


def shaded_frac(exposure: str, latitude_deg: float, overhang: Overhang) -> float:
    """Share of a window that its overhang keeps out of the sun, as used by the method."""
    line_m = _shade_line(exposure, latitude_deg) * overhang.depth_m - overhang.above_m
    return float(np.clip(line_m / overhang.window_height_m, 0.0, 1.0))


def interior_shade_frac(closed_frac: float, glass: str, shade: str = "light drape") -> float:
    """Interior attenuation of a shade that is closed for a share of its width (0 open, 1 closed)."""
    table = {row["glass"]: row for row in rows("factor_interior_shade")}
    return 1.0 + closed_frac * (float(table[glass][shade]) - 1.0)


def window_factor_w_m2(glass: Glass, azimuth_deg: float | None, day: CoolingDay, detached: bool = True) -> float:
    """Cooling load per area of a window [W/m2]; azimuth None is a skylight.

    U (dt - 0.46 DR) + PXI SHGC IAC FFs, PXI the peak irradiance that reaches the pane outside.
    """
    latitude_deg = day.latitude_deg
    exposure = "H" if azimuth_deg is None else exposure_of(azimuth_deg)
    sun = peak_sun_horizontal(latitude_deg) if azimuth_deg is None else peak_sun_vertical(azimuth_deg, latitude_deg)
    reaching_w_m2 = sun.total_w_m2
    if glass.overhang is not None and azimuth_deg is not None:
        lit = 1.0 - shaded_frac(exposure, latitude_deg, glass.overhang)
        reaching_w_m2 = sun.diffuse_w_m2 + lit * sun.beam_w_m2
    admitted = glass.screen_frac * glass.shgc_frac * glass.shade_frac * _sun_load_frac(exposure, detached)
    return glass.u_w_m2k * (day.difference_k - 0.46 * day.daily_range_k) + reaching_w_m2 * admitted


def exposure_of(azimuth_deg: float) -> str:
    """Nearest of the eight compass points."""
    return EXPOSURES[round(azimuth_deg % 360.0 / 45.0) % 8]


def internal_sensible_w(floor_area_m2: float, occupants: float) -> float:
    """Sensible internal gain of a house [W]."""
    return 136.0 + 2.2 * floor_area_m2 + 22.0 * occupants


def internal_latent_w(floor_area_m2: float, occupants: float) -> float:
    """Latent internal gain of a house [W]."""
    return 20.0 + 0.22 * floor_area_m2 + 12.0 * occupants


def driving_force_m_s(difference_k: float, stack_height_m: float, heating: bool, flue_area_frac: float = 0.0) -> float:
    """Infiltration per leakage area: L/s per cm2 in the method, times ten in m/s."""
    base, stack, flue = _HEATING_DRIVE if heating else _COOLING_DRIVE
    return (base + stack_height_m * difference_k * (stack + flue * flue_area_frac)) / 1000.0 * 10.0


def infiltration_m3_s(area_m2: float, difference_k: float, stack_height_m: float, heating: bool) -> float:
    """Infiltration at design conditions from the leakage area at 4 Pa [m3/s]."""
    return area_m2 * driving_force_m_s(difference_k, stack_height_m, heating)


def duct_loss_frac(season: str, leakage_frac: float, insulation_m2k_w: float) -> float:
    """Duct loss as a share of the load it serves, one storey with ducts in a vented attic.

    `season` is cooling, furnace or heat_pump. Ducts inside the conditioned space lose nothing.
    """
    table = {(float(row["leakage_frac"]), float(row["insulation_m2k_w"])): row for row in rows("factor_ducts")}
    key = (leakage_frac, insulation_m2k_w)
    if key not in table:
        raise ValueError(f"duct loss factors are tabled for (leakage, insulation) {sorted(table)}, not {key}")
    return float(table[key][f"{season}_frac"])


def buffer_space_c(
    outdoor_w_k: float, outdoor_c: float, rooms: Sequence[tuple[float, float]], gain_w: float = 0.0
) -> float:
    """Temperature of an unheated space from its conductances: to outdoors (air and fabric) and to rooms (UA, t)."""
    total_w_k = outdoor_w_k + sum(ua_w_k for ua_w_k, _ in rooms)
    if total_w_k <= 0.0:
        raise ValueError("a buffer space needs a conductance to outdoors or to a room")
    return (outdoor_w_k * outdoor_c + sum(ua_w_k * temp_c for ua_w_k, temp_c in rooms) + gain_w) / total_w_k


@cache
def _shade_line(exposure: str, latitude_deg: float) -> float:
    row = next(row for row in rows("factor_shade_line") if row["exposure"] == exposure)
    factors = [float(row[f"at_{latitude:.0f}_deg"]) for latitude in _LATITUDES_DEG]
    return float(np.interp(latitude_deg, _LATITUDES_DEG, factors))


@cache
def _sun_load_frac(exposure: str, detached: bool) -> float:
    row = next(row for row in rows("factor_sun") if row["exposure"] == exposure)
    return float(row["detached_frac" if detached else "multifamily_frac"])
