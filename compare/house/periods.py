"""Electricity by time of use: spans of the day and of the year with a price of their own."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from compare.house.rooms import Table
from compare.house.values import Count, Hours, Name, Quantity

JANUARY, DECEMBER = 1, 12


class RatePeriod(Table):
    """Hours in which a kWh costs something else than `rates.electricity` says; the first period that fits counts."""

    name: Name
    hours: Annotated[frozenset[int], Hours()]
    from_month: Annotated[int, Count(JANUARY, DECEMBER)] = JANUARY
    to_month: Annotated[int, Count(JANUARY, DECEMBER)] = DECEMBER
    """Last month, included; before `from_month` the span runs over New Year."""
    electricity_usd_kwh: Annotated[float, Quantity("rates.electricity")] = Field(alias="electricity")

    @property
    def months(self) -> frozenset[int]:
        """Months 1 to 12 in which it holds."""
        count = (self.to_month - self.from_month) % DECEMBER + 1
        return frozenset((self.from_month - 1 + step) % DECEMBER + 1 for step in range(count))
