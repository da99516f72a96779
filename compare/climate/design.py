"""Design conditions of a place: typed by the designer, from a file's header, or suggested from the station table."""

from __future__ import annotations

import numpy as np

from compare.climate.hottest import hottest_month, mean_daily_swing_k
from compare.climate.moist import (
    dew_point_c,
    humidity_ratio,
    saturation_pressure_pa,
    vapour_pressure_pa,
    wet_bulb_c,
)
from compare.climate.places import Town
from compare.climate.year import DesignConditions, Site, WeatherYear

_HOT_SHARE_PCT = 99.0
_BAND_K = 1.5


def coincident_wet_bulb_c(year: WeatherYear, dry_bulb_c: float) -> float:
    """Wet bulb at a design dry bulb, from the mean humidity ratio of a year's hours around its own 1 % dry bulb.

    An estimate for suggestions only: published coincident wet bulbs come from long records. Never of an adjusted year,
    whose humidity is borrowed.
    """
    hot_c = np.percentile(year.dry_bulb_c, _HOT_SHARE_PCT)
    near = np.abs(year.dry_bulb_c - hot_c) <= _BAND_K
    ratio = humidity_ratio(saturation_pressure_pa(year.dew_point_c[near]), year.pressure_pa[near]).mean()
    pressure_pa = float(year.pressure_pa.mean())
    dew_c = dew_point_c(vapour_pressure_pa(float(ratio), pressure_pa))
    return float(wet_bulb_c(np.array([dry_bulb_c]), np.minimum(dew_c, dry_bulb_c), pressure_pa)[0])


def _checked(name: str, value: float, low: float, high: float) -> float:
    if not low <= value <= high:
        raise ValueError(f"design conditions, {name}: {value:g} is outside {low:g} to {high:g}. Correct it.")
    return float(value)


def typed_design(
    site: Site,
    heating_99_c: float,
    cooling_1_c: float,
    *,
    cooling_wet_bulb_c: float | None = None,
    daily_range_k: float | None = None,
    year: WeatherYear | None = None,
) -> DesignConditions:
    """Design conditions as the designer typed them.

    A missing coincident wet bulb or daily range is taken from the place's hourly `year` and said so in `source`; with
    no year either, a `ValueError` names what to type. An adjusted year lends its daily range but no wet bulb: take the
    suggested one of `for_place`. Values outside what any place has raise `ValueError` too.
    """
    heating = _checked("99 % heating dry bulb (°C)", heating_99_c, -60.0, 25.0)
    cooling = _checked("1 % cooling dry bulb (°C)", cooling_1_c, 5.0, 50.0)
    if cooling <= heating:
        raise ValueError("design conditions: the 1 % cooling dry bulb must lie above the 99 % heating dry bulb.")
    source = "typed by the designer"
    swing_k, wet_c = daily_range_k, cooling_wet_bulb_c
    if swing_k is None or wet_c is None:
        if year is None:
            lacking = "daily range" if swing_k is None else "coincident wet bulb"
            raise ValueError(f"design conditions, {lacking}: type it, or give a weather year to take it from.")
        swing_k, wet_c, words = _from_year(year, cooling, swing_k, wet_c)
        source += words
    _checked("coincident wet bulb (°C)", wet_c, -10.0, cooling)
    _checked("daily range (K)", swing_k, 1.0, 30.0)
    return _conditions(site, (heating, cooling, float(wet_c), float(swing_k)), source)


def _from_year(
    year: WeatherYear, cooling_c: float, swing_k: float | None, wet_c: float | None
) -> tuple[float, float, str]:
    words = []
    if wet_c is None:
        if not year.latent_ok:
            raise ValueError(
                "design conditions, coincident wet bulb: type it; an adjusted year has no humidity of the place."
            )
        wet_c = coincident_wet_bulb_c(year, cooling_c)
        words.append("coincident wet bulb")
    if swing_k is None:
        swing_k = mean_daily_swing_k(year.dry_bulb_c, hottest_month(year.dry_bulb_c))
        words.append("daily range")
    return swing_k, wet_c, f"; {' and '.join(words)} estimated from the hourly year of {year.site.name}"


def suggested_design(town: Town, year: WeatherYear) -> DesignConditions:
    """What the station table suggests; to be confirmed or replaced by the local code's values.

    Coincident wet bulb and daily range, which the table lacks, are estimated from a real hourly year of the same
    climate: the embedded one in use, or the donor of an adjusted one.
    """
    swing_k, wet_c, words = _from_year(year, town.cooling_1_c, None, None)
    source = f"suggested, {town.site.name} ({town.source}){words}; confirm against the local code"
    return _conditions(town.site, (town.heating_99_c, town.cooling_1_c, wet_c, swing_k), source)


def _conditions(site: Site, values: tuple[float, float, float, float], source: str) -> DesignConditions:
    heating_c, cooling_c, wet_c, swing_k = values
    return DesignConditions(
        heating_99_c=heating_c,
        cooling_1_c=cooling_c,
        cooling_wet_bulb_c=wet_c,
        daily_range_k=swing_k,
        source=source,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        timezone_h=site.timezone_h,
        elevation_m=site.elevation_m,
    )
