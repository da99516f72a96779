"""Design days: the cooling day with its temperature course and clear sun, and the steady heating condition.

Temperature course: fractions of the daily range, ASHRAE Handbook of Fundamentals, chapter 14, table 6. Humidity ratio
constant over the day at the value of the 1 % dry bulb with its mean coincident wet bulb, capped by saturation (common
practice). Wind 3.4 m/s in cooling and 6.7 m/s in heating design (common practice, from memory). Sky of the cooling day
without clouds; in the heating condition the sky counts as warm as the air, as usual with design U-values.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from compare.climate.clear_sky import OpticalDepths, clear_day
from compare.climate.moist import (
    dew_point_c,
    humidity_ratio,
    ratio_from_wet_bulb,
    saturation_pressure_pa,
    standard_pressure_pa,
    vapour_pressure_pa,
)
from compare.climate.series import Series, digest
from compare.climate.sky import sky_temperature_c
from compare.climate.year import DesignConditions, FloatArray, Site, WeatherSource, WeatherYear

RANGE_FRACTIONS = np.array(
    [
        [0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91, 0.74],
        [0.55, 0.38, 0.23, 0.13, 0.05, 0.00, 0.00, 0.06],
        [0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82],
    ]
).ravel()
"""Share of the daily range below the maximum at hours 1 to 24."""

COOLING_WIND_M_S = 3.4
HEATING_WIND_M_S = 6.7
_DAY_21 = (20, 51, 79, 110, 140, 171, 201, 232, 263, 293, 324, 354)


def daily_course_c(maximum_c: float, daily_range_k: float) -> FloatArray:
    """Dry bulb at hours 1 to 24 of the design day."""
    return np.asarray(maximum_c - RANGE_FRACTIONS * daily_range_k)


def _hourly_means(at_hours: FloatArray) -> FloatArray:
    """Means over the hours 0-1 to 23-24 from values at hours 1 to 24 (hour 0 equals hour 24)."""
    return np.asarray(0.5 * (np.roll(at_hours, 1) + at_hours))


def _site(design: DesignConditions) -> Site:
    return Site(design.latitude_deg, design.longitude_deg, design.timezone_h, design.elevation_m, "design conditions")


def default_month(design: DesignConditions) -> int:
    """July north of the equator, January south of it; pass the place's own hottest month where it is known."""
    return 7 if design.latitude_deg >= 0.0 else 1


def _day(design: DesignConditions, series: Series, sky_c: FloatArray, first_day: int, sentence: str) -> WeatherYear:
    site = _site(design)
    pressure_pa = np.full(24, standard_pressure_pa(site.elevation_m))
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
        source=WeatherSource.DESIGN_DAY,
        provenance=sentence,
        latent_ok=True,
        key=digest(site, series, first_day),
        first_day=first_day,
    )


def cooling_design_day(
    design: DesignConditions, month: int | None = None, depths: OpticalDepths | None = None
) -> WeatherYear:
    """24 hours of the cooling design day, on the 21st of a month (1-12), as a one-day weather series.

    `month` None takes `default_month`. `depths` are the month's ASHRAE optical depths where they are published for the
    place. The dry bulb is the same in every month, which is cautious outside the hottest one. Raises `ValueError` for
    a month outside 1-12.
    """
    chosen = default_month(design) if month is None else month
    if not 1 <= chosen <= 12:
        raise ValueError(f"month: {chosen} must be 1 to 12.")
    first_day = _DAY_21[chosen - 1]
    pressure_pa = standard_pressure_pa(design.elevation_m)
    dry_bulb_c = _hourly_means(daily_course_c(design.cooling_1_c, design.daily_range_k))
    ratio = ratio_from_wet_bulb(design.cooling_1_c, design.cooling_wet_bulb_c, pressure_pa)
    saturated = humidity_ratio(saturation_pressure_pa(dry_bulb_c), pressure_pa)
    dew_c = np.minimum(dew_point_c(vapour_pressure_pa(np.minimum(ratio, saturated), pressure_pa)), dry_bulb_c)
    sun = clear_day(_site(design), first_day, depths)
    series = Series(
        dry_bulb_c=dry_bulb_c,
        dew_point_c=dew_c,
        global_horizontal_w_m2=sun.global_horizontal_w_m2,
        direct_normal_w_m2=sun.direct_normal_w_m2,
        diffuse_horizontal_w_m2=sun.diffuse_horizontal_w_m2,
        wind_m_s=np.full(24, COOLING_WIND_M_S),
    )
    sky_c = sky_temperature_c(dry_bulb_c, dew_c, np.full(24, pressure_pa), None)
    sentence = f"Cooling design day, 21st of month {chosen}, clear sky; temperatures: {design.source}."
    return _day(design, series, sky_c, first_day, sentence)


def cooling_design_days(design: DesignConditions, months: Iterable[int]) -> tuple[WeatherYear, ...]:
    """Cooling design days of several months: south glass can peak in autumn, when the sun stands lower."""
    return tuple(cooling_design_day(design, month) for month in months)


def heating_design_day(design: DesignConditions) -> WeatherYear:
    """24 equal hours at the 99 % dry bulb: no sun, design wind, saturated air, sky as warm as the air."""
    dry_bulb_c = np.full(24, design.heating_99_c)
    series = Series(
        dry_bulb_c=dry_bulb_c,
        dew_point_c=dry_bulb_c.copy(),
        global_horizontal_w_m2=np.zeros(24),
        direct_normal_w_m2=np.zeros(24),
        diffuse_horizontal_w_m2=np.zeros(24),
        wind_m_s=np.full(24, HEATING_WIND_M_S),
    )
    sentence = f"Heating design condition without sun; temperature: {design.source}."
    return _day(design, series, dry_bulb_c.copy(), 20, sentence)
