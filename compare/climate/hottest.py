"""The hottest month of a year and how far its days swing."""

from __future__ import annotations

import numpy as np

from compare.climate.year import FloatArray


def _month_of_hours() -> FloatArray:
    stamps = np.datetime64("2001-01-01T00", "h") + np.arange(8760).astype("timedelta64[h]")
    return np.asarray(stamps.astype("datetime64[M]").astype(int) % 12 + 1, dtype=np.float64)


def hottest_month(dry_bulb_c: FloatArray) -> int:
    """Month (1-12) of a full year with the highest mean dry bulb."""
    months = _month_of_hours()
    return int(np.argmax([dry_bulb_c[months == month].mean() for month in range(1, 13)])) + 1


def mean_daily_swing_k(dry_bulb_c: FloatArray, month: int) -> float:
    """Mean over the days of a month of the day's highest minus its lowest hourly dry bulb."""
    days = dry_bulb_c[_month_of_hours() == month].reshape(-1, 24)
    return float((days.max(axis=1) - days.min(axis=1)).mean())
