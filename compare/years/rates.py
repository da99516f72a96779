"""What a kWh of electricity costs in each hour of the year, and what a series of power comes to."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from compare.house.model import HouseFile
from compare.years.habits import months

FloatArray = npt.NDArray[np.float64]


def hourly_usd_kwh(house: HouseFile) -> FloatArray:
    """(8760,) price of a kWh: of the first time-of-use period that fits, else the flat rate."""
    month, clock = months(), np.arange(months().size) % 24
    price = np.full(month.shape, house.rates.electricity_usd_kwh)
    for period in reversed(house.rate_periods):
        inside = np.isin(month, sorted(period.months)) & np.isin(clock, sorted(period.hours))
        price[inside] = period.electricity_usd_kwh
    return price


def electricity_usd(house: HouseFile, power_w: FloatArray) -> float:
    """A year's cost of hourly mean power."""
    if not house.rate_periods:
        return float(power_w.sum()) / 1000.0 * house.rates.electricity_usd_kwh
    return float(power_w @ hourly_usd_kwh(house)) / 1000.0
