"""What every file format yields before cleaning: the site, raw columns, and what its header says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from compare.climate.columns import (
    COLUMNS,
    WeatherFileError,
    blank_codes,
    ceiling_with_codes,
    cleaned,
    cleaned_optional,
    demand_calendar,
    demand_year,
    drop_leap_day,
)
from compare.climate.moist import dew_point_from_humidity_c
from compare.climate.series import Series
from compare.climate.solar_position import mid_hours_h, sun_sin
from compare.climate.year import FloatArray, Site

_REQUIRED = (
    "dry_bulb_c",
    "dew_point_c",
    "global_horizontal_w_m2",
    "direct_normal_w_m2",
    "diffuse_horizontal_w_m2",
    "wind_m_s",
)
_OPTIONAL = ("pressure_pa", "infrared_w_m2", "total_sky_tenths", "opaque_sky_tenths")


@dataclass(frozen=True, slots=True)
class HeaderDesign:
    """Design values printed in a file's header, °C and K; None where the header leaves one out."""

    edition: str
    heating_996_c: float | None = None
    heating_99_c: float | None = None
    hottest_month: int | None = None
    daily_range_k: float | None = None
    cooling_04_c: float | None = None
    cooling_04_wet_bulb_c: float | None = None
    cooling_1_c: float | None = None
    cooling_1_wet_bulb_c: float | None = None
    cooling_2_c: float | None = None
    cooling_2_wet_bulb_c: float | None = None


@dataclass(frozen=True, slots=True)
class GroundTemperatures:
    """Monthly undisturbed ground temperatures (°C, January first) at one depth, as the header gives them."""

    depth_m: float
    monthly_c: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Parsed:
    """One file, read but not yet cleaned; columns in SI, sky cover in tenths."""

    kind: str
    site: Site
    columns: Mapping[str, FloatArray]
    month: FloatArray
    day: FloatArray
    header: HeaderDesign | None = None
    ground: tuple[GroundTemperatures, ...] = field(default=())


def header_number(text: str, what: str, low: float, high: float) -> float:
    """A number of the header inside its range, or an error that names it."""
    try:
        value = float(text)
    except ValueError:
        raise WeatherFileError(f"header, {what}: {text[:30]!r} is no number. Repair the first line.") from None
    if not low <= value <= high:
        raise WeatherFileError(f"header, {what}: {value:g} is outside {low:g} to {high:g}. Repair the first line.")
    return value


def make_site(name: str, place: tuple[str, str, str, str]) -> Site:
    """Site from the header's texts (latitude, longitude, time zone, elevation), checked against each other."""
    latitude, longitude, timezone, elevation = place
    site = Site(
        latitude_deg=header_number(latitude, "latitude", -90.0, 90.0),
        longitude_deg=header_number(longitude, "longitude", -180.0, 180.0),
        timezone_h=header_number(timezone, "time zone", -12.0, 14.0),
        elevation_m=header_number(elevation, "elevation", -450.0, 6000.0),
        name=name,
    )
    if abs((site.longitude_deg / 15.0 - site.timezone_h + 12.0) % 24.0 - 12.0) > 3.5:
        raise WeatherFileError(
            f"header: longitude {site.longitude_deg:g} and time zone {site.timezone_h:g} do not belong together; west "
            "and hours behind Greenwich are negative. Repair the first line."
        )
    return site


def _dew_point(columns: dict[str, FloatArray]) -> FloatArray:
    """Dew point, with missing hours taken from relative humidity where that is there."""
    dew = blank_codes("dew_point_c", columns["dew_point_c"])
    humidity = columns.get("relative_humidity_frac")
    if humidity is None or not np.isnan(dew).any():
        return dew
    humidity = blank_codes("relative_humidity_frac", humidity)
    dry = blank_codes("dry_bulb_c", columns["dry_bulb_c"])
    usable = np.isnan(dew) & (humidity > 0.0) & (humidity <= 1.1) & (dry < 60.0) & (dry > -75.0)
    dew[usable] = dew_point_from_humidity_c(dry[usable], np.minimum(humidity[usable], 1.0))
    return dew


def _unless_constant(values: FloatArray | None) -> FloatArray | None:
    """A pressure that never moves is a filler, not a measurement."""
    return None if values is None or np.ptp(values) == 0.0 else values


def _check_daylight(site: Site, global_w_m2: FloatArray) -> None:
    """Sun must fall while the sun is up; otherwise time zone, longitude or row order are wrong."""
    total = float(global_w_m2.sum())
    if total <= 0.0:
        raise WeatherFileError("global horizontal sun: it is zero all year. Use a file with measured or modelled sun.")
    dark = sun_sin(site, mid_hours_h(global_w_m2.size)) < np.sin(np.radians(-9.0))
    share = float(global_w_m2[dark].sum()) / total
    if share > 0.005:
        raise WeatherFileError(
            f"global horizontal sun: {share:.0%} of it falls while the sun is below the horizon. The time zone, the "
            "longitude or the time stamps are wrong (local standard time is needed, not universal time)."
        )


def bridged_notes(parsed: Parsed) -> tuple[str, ...]:
    """A sentence for every required column with gaps that `clean_series` closes."""
    notes = []
    for name in _REQUIRED:
        hours = int(np.isnan(blank_codes(name, parsed.columns[name])).sum())
        if hours:
            notes.append(f"{COLUMNS[name].words}: {hours} missing hours of the file were filled from their neighbours.")
    return tuple(notes)


def clean_series(parsed: Parsed) -> Series:
    """Every check and repair that all formats share; see `columns` for the rules."""
    keep = drop_leap_day(parsed.month, parsed.day)
    demand_year(int(keep.sum()))
    demand_calendar(parsed.month[keep], parsed.day[keep])
    raw = {name: values[keep] for name, values in parsed.columns.items()}
    ceiling = raw.pop("ceiling_m", None)
    raw["dew_point_c"] = _dew_point(raw)
    sun = cleaned("global_horizontal_w_m2", raw["global_horizontal_w_m2"])
    _check_daylight(parsed.site, sun)
    dry = cleaned("dry_bulb_c", raw["dry_bulb_c"])
    rest = {name: cleaned_optional(name, raw[name]) for name in _OPTIONAL if name in raw}
    return Series(
        dry_bulb_c=dry,
        dew_point_c=np.minimum(cleaned("dew_point_c", raw["dew_point_c"]), dry),
        global_horizontal_w_m2=sun,
        direct_normal_w_m2=cleaned("direct_normal_w_m2", raw["direct_normal_w_m2"]),
        diffuse_horizontal_w_m2=cleaned("diffuse_horizontal_w_m2", raw["diffuse_horizontal_w_m2"]),
        wind_m_s=cleaned("wind_m_s", raw["wind_m_s"]),
        pressure_pa=_unless_constant(rest.get("pressure_pa")),
        total_sky_tenths=rest.get("total_sky_tenths"),
        opaque_sky_tenths=rest.get("opaque_sky_tenths"),
        ceiling_m=None if ceiling is None else ceiling_with_codes(ceiling),
        infrared_w_m2=rest.get("infrared_w_m2"),
    )
