"""Hourly columns as a source gives them, and how they become a `WeatherYear`."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, fields

import numpy as np

from compare.climate.moist import standard_pressure_pa
from compare.climate.sky import Clouds, clouds_from_sun, sky_from_infrared_c, sky_temperature_c
from compare.climate.solar_position import mid_hours_h, sun_sin
from compare.climate.year import FloatArray, Site, WeatherSource, WeatherYear


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Hourly columns in SI; the optional ones are None where the source lacks them.

    Sky cover is in tenths (0-10). `ceiling_m` is the height of the lowest opaque cloud, with the codes -1 no ceiling,
    -2 missing, -3 thin high cloud. Entry i is the interval from hour i to i + 1, local standard time.
    """

    dry_bulb_c: FloatArray
    dew_point_c: FloatArray
    global_horizontal_w_m2: FloatArray
    direct_normal_w_m2: FloatArray
    diffuse_horizontal_w_m2: FloatArray
    wind_m_s: FloatArray
    pressure_pa: FloatArray | None = None
    total_sky_tenths: FloatArray | None = None
    opaque_sky_tenths: FloatArray | None = None
    ceiling_m: FloatArray | None = None
    infrared_w_m2: FloatArray | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """What a year may be called, in the words that every screen and proposal prints."""

    source: WeatherSource
    provenance: str
    latent_ok: bool = True
    error_band: str = ""
    heating_claims_ok: bool = True
    cooling_claims_ok: bool = True
    notes: tuple[str, ...] = ()


def digest(site: Site, series: Series, first_day: int = 0) -> str:
    """32 hex digits that change with the place (not its name), the first day or any hourly value."""
    state = hashlib.sha256()
    numbers = (site.latitude_deg, site.longitude_deg, site.timezone_h, site.elevation_m, float(first_day))
    state.update(np.asarray(numbers, dtype="<f8").tobytes())
    for item in fields(series):
        values: FloatArray | None = getattr(series, item.name)
        state.update(item.name.encode())
        if values is not None:
            state.update(np.ascontiguousarray(values, dtype="<f8").tobytes())
    return state.hexdigest()[:32]


def _sky(site: Site, series: Series, pressure_pa: FloatArray, first_day: int) -> tuple[FloatArray, str]:
    """Sky temperature and a sentence on how, empty where the source has all that the method needs."""
    dry, dew = series.dry_bulb_c, series.dew_point_c
    total, opaque = series.total_sky_tenths, series.opaque_sky_tenths
    covered = total if total is not None else opaque
    if covered is not None:
        clouds = Clouds(covered, covered if opaque is None else opaque, series.ceiling_m)
        both = total is not None and opaque is not None
        note = "" if both else "One of the two sky covers is missing; both taken equal."
        return sky_temperature_c(dry, dew, pressure_pa, clouds), note
    if series.infrared_w_m2 is not None:
        note = "No sky cover in the source; sky temperature from its horizontal infrared radiation."
        return sky_from_infrared_c(series.infrared_w_m2), note
    clouds = clouds_from_sun(series.global_horizontal_w_m2, sun_sin(site, mid_hours_h(dry.size, first_day)))
    note = "No sky cover in the source; cloud cover estimated from the sun by day and carried across the night."
    return sky_temperature_c(dry, dew, pressure_pa, clouds), note


def build_year(site: Site, series: Series, label: Label, first_day: int = 0) -> WeatherYear:
    """Fill what the source lacks (pressure, sky temperature), say so in the notes, and compute the key."""
    notes = list(label.notes)
    absent = []
    pressure_pa = series.pressure_pa
    if pressure_pa is None:
        pressure_pa = np.full(series.dry_bulb_c.size, standard_pressure_pa(site.elevation_m))
        absent.append("pressure")
        notes.append("No station pressure in the source; standard atmosphere at its elevation.")
    names = {"total_sky_tenths": "total sky cover", "opaque_sky_tenths": "opaque sky cover", "ceiling_m": "ceiling"}
    absent += [word for name, word in names.items() if getattr(series, name) is None]
    sky_c, note = _sky(site, series, pressure_pa, first_day)
    if note:
        notes.append(note)
    key = digest(site, series, first_day)
    return WeatherYear(
        site=site,
        dry_bulb_c=series.dry_bulb_c,
        dew_point_c=series.dew_point_c,
        pressure_pa=pressure_pa,
        global_horizontal_w_m2=series.global_horizontal_w_m2,
        direct_normal_w_m2=series.direct_normal_w_m2,
        diffuse_horizontal_w_m2=series.diffuse_horizontal_w_m2,
        wind_m_s=series.wind_m_s,
        sky_c=sky_c,
        source=label.source,
        provenance=label.provenance,
        latent_ok=label.latent_ok,
        key=key,
        error_band=label.error_band,
        total_sky_tenths=series.total_sky_tenths,
        opaque_sky_tenths=series.opaque_sky_tenths,
        ceiling_m=series.ceiling_m,
        first_day=first_day,
        absent=tuple(absent),
        notes=tuple(notes),
        heating_claims_ok=label.heating_claims_ok,
        cooling_claims_ok=label.cooling_claims_ok,
    )
