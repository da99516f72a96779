"""What-ifs of use: an owner who switches the heat pump off in the cold, a unit that fails.

Each gives the share of its output that the heat pump is allowed in every hour; the year is then run again with it.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.equipment.columns import bundled
from compare.equipment.table import Column, read_table

FloatArray = npt.NDArray[np.float64]

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of the months of a weather year."""


def off_below(weather: WeatherYear, outdoor_c: float) -> FloatArray:
    """An owner who switches the heat pump off whenever it is colder than `outdoor_c`."""
    return np.where(weather.dry_bulb_c < outdoor_c, 0.0, 1.0)


def failed_in(month: int) -> FloatArray:
    """A unit that stands still for a month, 1 to 12.

    Raises
    ------
    ValueError
        When there is no such month.
    """
    if not 1 <= month <= len(DAYS):
        raise ValueError(f"month must lie between 1 and 12, got {month}")
    return np.where(months() == month, 0.0, 1.0)


@cache
def months() -> npt.NDArray[np.int64]:
    """Month 1 to 12 of every hour of a weather year."""
    return np.repeat(np.arange(1, len(DAYS) + 1), np.array(DAYS) * 24)


def coldest_month(weather: WeatherYear) -> int:
    """The month with the lowest mean outdoor temperature, 1 to 12."""
    means = [float(weather.dry_bulb_c[months() == month].mean()) for month in range(1, len(DAYS) + 1)]
    return int(np.argmin(means)) + 1


def owners_off_below_c(shares: npt.ArrayLike) -> FloatArray:
    """Outdoor temperature under which the heat pump is off with this share of owners.

    A straight line through the two points of the survey: half of the owners at 15 degF, 70 % at 1 degF; it starts at
    50 degF, which is about where heating starts.
    """
    (cold_c, cold_frac), (warm_c, warm_frac) = _survey()
    slope = (cold_c - warm_c) / (cold_frac - warm_frac)
    return warm_c + (np.asarray(shares, dtype=np.float64) - warm_frac) * slope


@cache
def _survey() -> tuple[tuple[float, float], tuple[float, float]]:
    columns = (Column("outdoor", "temperature"), Column("off_frac", "ratio", 0.0, 1.0), Column("source", "text"))
    rows = read_table(bundled("owners_off.csv"), "owners_off.csv", columns)
    cold, warm = sorted((row.numbers["outdoor"], row.numbers["off_frac"]) for row in rows)
    return cold, warm
