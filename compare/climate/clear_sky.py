"""Clear-sky sun of a design day.

With the two optical depths of the place (published beside design temperatures) the ASHRAE clear-sky model is used
(Handbook of Fundamentals, chapter 14); without them the Ineichen model of the open library pvlib with its monthly
turbidity map, which works offline.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from importlib import metadata

import numpy as np

from compare.climate.sun_cache import load_arrays, store_arrays
from compare.climate.year import FloatArray, Site

_METHOD = "1"


@dataclass(frozen=True, slots=True)
class OpticalDepths:
    """ASHRAE optical depths of a month: beam and diffuse."""

    beam: float
    diffuse: float

    def __post_init__(self) -> None:
        """Ranges of the published tables, widened."""
        if not 0.1 <= self.beam <= 1.2:
            raise ValueError(f"optical depth of the beam: {self.beam:g} must be 0.1 to 1.2 (published values .3-.6).")
        if not 1.0 <= self.diffuse <= 3.5:
            raise ValueError(f"optical depth of diffuse: {self.diffuse:g} must be 1 to 3.5 (published values 1.8-2.6).")


@dataclass(frozen=True, slots=True, eq=False)
class ClearSun:
    """Hourly direct normal, diffuse horizontal and global horizontal sun."""

    direct_normal_w_m2: FloatArray
    diffuse_horizontal_w_m2: FloatArray
    global_horizontal_w_m2: FloatArray


def relative_air_mass(height_deg: FloatArray) -> FloatArray:
    """Air mass of a sun above the horizon (Kasten & Young 1989, as in the Handbook)."""
    height = np.maximum(height_deg, 0.0)
    return np.asarray(1.0 / (np.sin(np.radians(height)) + 0.50572 * (6.07995 + height) ** -1.6364))


def ashrae_clear_sky(
    height_deg: FloatArray, extraterrestrial_w_m2: FloatArray, depths: OpticalDepths
) -> tuple[FloatArray, FloatArray]:
    """Beam normal and diffuse horizontal sun, W/m2; zero with the sun down."""
    b, d = depths.beam, depths.diffuse
    beam_power = 1.454 - 0.406 * b - 0.268 * d + 0.021 * b * d
    diffuse_power = 0.507 + 0.205 * b - 0.080 * d - 0.190 * b * d
    mass = relative_air_mass(height_deg)
    up = np.asarray(height_deg) > 0.0
    beam = extraterrestrial_w_m2 * np.exp(-b * mass**beam_power)
    diffuse = extraterrestrial_w_m2 * np.exp(-d * mass**diffuse_power)
    return np.where(up, beam, 0.0), np.where(up, diffuse, 0.0)


def extraterrestrial_normal_w_m2(day_of_year: float) -> float:
    """Sun outside the air on day 1-365 (Handbook of Fundamentals, chapter 14: solar constant 1367 W/m2)."""
    return float(1367.0 * (1.0 + 0.033 * np.cos(np.radians(360.0 * (day_of_year - 3.0) / 365.0))))


def _turbidity_sky(site: Site, first_day: int, height_deg: FloatArray) -> ClearSun:
    import pandas as pd
    from pvlib.atmosphere import alt2pres, get_absolute_airmass, get_relative_airmass
    from pvlib.clearsky import ineichen, lookup_linke_turbidity
    from pvlib.irradiance import get_extra_radiation

    noon = pd.DatetimeIndex([np.datetime64("2001-01-01T12", "ns") + np.timedelta64(24 * first_day, "h")], tz="UTC")
    turbidity = float(np.asarray(lookup_linke_turbidity(noon, site.latitude_deg, site.longitude_deg))[0])
    up = height_deg > 0.0
    zenith_deg = 90.0 - height_deg[up]
    relative = get_relative_airmass(zenith_deg)
    absolute = get_absolute_airmass(relative, alt2pres(site.elevation_m))
    extra = float(get_extra_radiation(first_day + 1))
    found = ineichen(zenith_deg, absolute, turbidity, altitude=site.elevation_m, dni_extra=extra)
    direct, total = np.zeros(height_deg.size), np.zeros(height_deg.size)
    direct[up], total[up] = found["dni"], found["ghi"]
    diffuse = np.maximum(total - direct * np.sin(np.radians(np.maximum(height_deg, 0.0))), 0.0)
    return ClearSun(direct, diffuse, total)


def clear_day(site: Site, first_day: int, depths: OpticalDepths | None = None) -> ClearSun:
    """Mid-hour clear-sky sun of the 24 hours of a day (0 = 1 January); cached on disk like the sun on faces."""
    version = metadata.version("pvlib")
    place = (site.latitude_deg, site.longitude_deg, site.timezone_h, site.elevation_m)
    text = f"clear|{_METHOD}|{version}|{place!r}|{first_day}|{depths!r}"
    key = "day-" + hashlib.sha256(text.encode()).hexdigest()[:40]
    names = ("direct", "diffuse", "global")
    stored = load_arrays(key, dict.fromkeys(names, (24,)))
    if stored is None:
        sun = _compute(site, first_day, depths)
        arrays = (sun.direct_normal_w_m2, sun.diffuse_horizontal_w_m2, sun.global_horizontal_w_m2)
        stored = dict(zip(names, arrays, strict=True))
        store_arrays(key, stored)
    return ClearSun(*(stored[name] for name in names))


def _compute(site: Site, first_day: int, depths: OpticalDepths | None) -> ClearSun:
    from compare.climate.sun import mid_hour_position

    height_deg = mid_hour_position(site, 24, first_day).height_deg
    if depths is None:
        return _turbidity_sky(site, first_day, height_deg)
    extra = np.full(24, extraterrestrial_normal_w_m2(first_day + 1.0))
    direct, diffuse = ashrae_clear_sky(height_deg, extra, depths)
    total = direct * np.sin(np.radians(np.maximum(height_deg, 0.0))) + diffuse
    return ClearSun(direct, diffuse, np.asarray(total))
