"""Bend a donor's year to a town's four published numbers, keeping the donor's weather day by day.

The dry bulb is split into a smooth yearly course, the departure of each day's mean from it, and the hours' departures
from the daily means. Winter and summer are shifted separately and the daily departures stretched separately until
heating and cooling degree-days and the 99 % and 1 % values are met. The method is our own (a trial over 53 typical
years stands behind it); what it gets wrong is in `adjusted_errors.csv`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from compare.climate.year import HOURS, FloatArray

_DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_STEPS = (0.05, 0.05, 0.01, 0.01)
_SHIFT_LIMIT_K = 20.0
_STRETCH_LIMITS = (0.4, 2.0)


@dataclass(frozen=True, slots=True)
class Climate:
    """The four numbers: degree-days in K d (base 18 and 10 °C), 99 % and 1 % hourly dry bulb in °C."""

    hdd18_k_d: float
    cdd10_k_d: float
    low_99_c: float
    high_1_c: float


@dataclass(frozen=True, slots=True)
class Bend:
    """What the fit found: shifts in K and stretches of the daily departures, winter and summer."""

    winter_shift_k: float
    summer_shift_k: float
    winter_stretch: float
    summer_stretch: float


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """Dry bulb = course + daily + hourly; `season` runs from 0 (coldest time) to 1 (warmest)."""

    course_c: FloatArray
    daily_k: FloatArray
    hourly_k: FloatArray
    season: FloatArray


def climate_of(dry_bulb_c: FloatArray) -> Climate:
    """The four numbers of a year's own hours (for choosing and checking, never for sizing)."""
    daily = dry_bulb_c.reshape(-1, 24).mean(axis=1)
    low, high = np.percentile(dry_bulb_c, [1.0, 99.0])
    return Climate(
        hdd18_k_d=float(np.maximum(18.0 - daily, 0.0).sum()),
        cdd10_k_d=float(np.maximum(daily - 10.0, 0.0).sum()),
        low_99_c=float(low),
        high_1_c=float(high),
    )


@cache
def _course_basis() -> FloatArray:
    """8760 x 12: the smooth periodic curve whose twelve monthly means are exactly the twelve inputs."""
    from scipy.interpolate import CubicSpline

    ends = np.cumsum(_DAYS_IN_MONTH) * 24.0
    middles = ends - np.array(_DAYS_IN_MONTH) * 12.0
    knots = np.append(middles, middles[0] + HOURS)
    values = np.vstack([np.eye(12), np.eye(12)[:1]])
    spline = CubicSpline(knots, values, axis=0, bc_type="periodic")
    hours = np.arange(HOURS) + 0.5
    curves = np.asarray(spline(np.where(hours < middles[0], hours + HOURS, hours)))
    means = np.array(
        [curves[int(end - 24 * days) : int(end)].mean(axis=0) for end, days in zip(ends, _DAYS_IN_MONTH, strict=True)]
    )
    return np.asarray(curves @ np.linalg.inv(means))


def split(dry_bulb_c: FloatArray) -> Parts:
    """Course, daily and hourly parts of a full year's dry bulb."""
    ends = np.cumsum(_DAYS_IN_MONTH) * 24
    starts = ends - np.array(_DAYS_IN_MONTH) * 24
    months_c = np.array([dry_bulb_c[start:end].mean() for start, end in zip(starts, ends, strict=True)])
    course = _course_basis() @ months_c
    departures = (dry_bulb_c - course).reshape(-1, 24).mean(axis=1)
    noons = np.arange(-1, HOURS // 24 + 1) * 24.0 + 12.0
    around = np.concatenate((departures[-1:], departures, departures[:1]))
    daily = np.interp(np.arange(HOURS) + 0.5, noons, around)
    season = (course - course.min()) / max(float(np.ptp(course)), 1e-6)
    return Parts(course, daily, dry_bulb_c - course - daily, season)


def bent(parts: Parts, bend: Bend) -> FloatArray:
    """The dry bulb with shifts and stretches applied; a bend of (0, 0, 1, 1) gives the donor's own."""
    winter = np.sqrt(np.maximum(1.0 - 2.0 * parts.season, 0.0))
    summer = np.sqrt(np.maximum(2.0 * parts.season - 1.0, 0.0))
    stretch = 1.0 + (bend.winter_stretch - 1.0) * winter + (bend.summer_stretch - 1.0) * summer
    shift = bend.winter_shift_k * (1.0 - parts.season) + bend.summer_shift_k * parts.season
    return np.asarray(parts.course_c + shift + parts.daily_k * stretch + parts.hourly_k)


def _residuals(parts: Parts, target: Climate, numbers: FloatArray) -> FloatArray:
    found = climate_of(bent(parts, Bend(*map(float, numbers))))
    return np.array(
        [
            (found.hdd18_k_d - target.hdd18_k_d) / 60.0,
            (found.cdd10_k_d - target.cdd10_k_d) / 60.0,
            (found.low_99_c - target.low_99_c) / 0.4,
            (found.high_1_c - target.high_1_c) / 0.4,
            0.5 * (numbers[2] - 1.0),
            0.5 * (numbers[3] - 1.0),
        ]
    )


def fit(parts: Parts, target: Climate) -> Bend:
    """Shifts within 20 K and stretches of 0.4 to 2 that meet the four numbers best, by bounded least squares."""
    from scipy.optimize import least_squares

    def residuals(numbers: FloatArray) -> FloatArray:
        return _residuals(parts, target, numbers)

    def slopes(numbers: FloatArray) -> FloatArray:
        """Central differences over steps wide enough for the percentiles, which move in small jumps."""
        columns = []
        for place, step in enumerate(_STEPS):
            change = np.zeros(4)
            change[place] = step
            columns.append((residuals(numbers + change) - residuals(numbers - change)) / (2.0 * step))
        return np.array(columns).T

    low, high = _STRETCH_LIMITS
    bounds = ([-_SHIFT_LIMIT_K, -_SHIFT_LIMIT_K, low, low], [_SHIFT_LIMIT_K, _SHIFT_LIMIT_K, high, high])
    found = least_squares(
        residuals, np.array([0.0, 0.0, 1.0, 1.0]), jac=slopes, bounds=bounds, x_scale=[1.0, 1.0, 0.1, 0.1], max_nfev=60
    )
    return Bend(*map(float, found.x))
