"""Bills as a third opinion: the house's heat loss as its meter shows it, beside the calculated one."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from importlib import resources

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.house.model import HouseFile
from compare.house.services import Bill, Fuel
from compare.loads.bills import BillFit, BillPeriod, BillsError, fit_bills, overlaps, w_k_of
from compare.loads.case import LoadCase
from compare.loads.heating import heating_parts_w
from compare.physics.moist_air import sensible_factor_j_m3k

FloatArray = npt.NDArray[np.float64]

EFFICIENCY_SPREAD_FRAC = 0.1
"""How far a fuel heater's stated seasonal efficiency may be off, as a share (our judgement)."""
CALCULATED_SPREAD_FRAC = 0.15
"""How far a calculated heat loss may be off before bills contradict it (our judgement)."""
LOOSE_SCATTER_FRAC = 0.2
"""CV(RMSE) above which a fit is called loose (common limit for monthly bills: ASHRAE Guideline 14, from memory)."""
_WINTER_K = 5.0
_FLAME = frozenset({Fuel.GAS, Fuel.OIL, Fuel.PROPANE, Fuel.WOOD})


@dataclass(frozen=True, slots=True)
class ThirdOpinion:
    """What the bills say of the heat loss; `fit` is None where they cannot be used, and `sentence` says why."""

    fuel: str
    fit: BillFit | None
    loss_w_k: float
    low_w_k: float
    high_w_k: float
    calculated_w_k: float
    efficiency_frac: float
    agrees: bool | None
    sentence: str
    warnings: tuple[str, ...] = ()


def third_opinion(
    house: HouseFile, case: LoadCase, year: WeatherYear, calendar_year: int | None = None
) -> ThirdOpinion | None:
    """The heat loss by bills beside the calculated one; None for a house file without bills.

    Parameters
    ----------
    house, case
        The house and its load case.
    year
        Weather of the place; gives the temperatures of bills without a mean of their own.
    calendar_year
        The one calendar year that the weather file holds; None for a typical year.
    """
    if not house.bills:
        return None
    calculated_w_k = calculated_loss_w_k(case, year)
    fuel = heating_fuel(house)
    bills = [bill for bill in house.bills if bill.fuel is fuel]
    efficiency, spread = _efficiency(house, fuel)
    try:
        fit = _fit(bills, year, calendar_year, fuel)
    except BillsError as error:
        nothing = float("nan")
        sentence = f"Bills of {fuel.value} cannot serve as a check: {error}."
        return ThirdOpinion(fuel.value, None, nothing, nothing, nothing, calculated_w_k, efficiency, None, sentence)
    loss, low, high = _with_spread(fit, efficiency, spread)
    room = CALCULATED_SPREAD_FRAC * calculated_w_k
    agrees = low <= calculated_w_k + room and high >= calculated_w_k - room
    warnings = _warnings(bills, fit, calendar_year, fuel)
    if not agrees:
        warnings = (_disagreement(loss, calculated_w_k), *warnings)
    sentence = f"From {fit.periods} bills of {fuel.value} over at least eleven months."
    return ThirdOpinion(fuel.value, fit, loss, low, high, calculated_w_k, efficiency, agrees, sentence, tuple(warnings))


def calculated_loss_w_k(case: LoadCase, year: WeatherYear) -> float:
    """Heat loss per kelvin as a meter would show it: fabric at design, outdoor air as it is over the winter [W/K]."""
    difference_k = case.heating_c - case.design.heating_99_c
    fabric_w = sum(sum(parts.values()) - parts["air"] for parts in heating_parts_w(case))
    gap_k = case.heating_c - year.dry_bulb_c
    cold = gap_k > _WINTER_K
    if not cold.any():
        return fabric_w / difference_k
    flow_m3_s = case.air.sensible_flow_m3_s(gap_k[cold], year.wind_m_s[cold])
    air_w_k = float(np.average(flow_m3_s, weights=gap_k[cold])) * sensible_factor_j_m3k(case.pressure_pa, 0.005)
    return fabric_w / difference_k + air_w_k


def heating_fuel(house: HouseFile) -> Fuel:
    """The fuel whose bills are looked at: that of the existing heat if billed, else the one billed most often."""
    billed = [bill.fuel for bill in house.bills]
    heat = house.existing_heat
    if heat is not None and heat.fuel in billed:
        return heat.fuel
    return max(sorted(set(billed)), key=lambda fuel: (fuel in _FLAME, billed.count(fuel)))


@cache
def _heat_of_unit_kwh() -> dict[str, float]:
    text = resources.files("compare.data.house").joinpath("fuels.csv").read_text(encoding="utf-8")
    return {row["fuel"]: float(row["heat_kwh"]) for row in csv.DictReader(text.splitlines())}


def _efficiency(house: HouseFile, fuel: Fuel) -> tuple[float, float]:
    heat = house.existing_heat
    if fuel not in _FLAME:
        return 1.0, 0.0
    return (heat.efficiency_frac if heat is not None else 0.8), EFFICIENCY_SPREAD_FRAC


def _fit(bills: Sequence[Bill], year: WeatherYear, calendar_year: int | None, fuel: Fuel) -> BillFit:
    if overlaps([(bill.start.toordinal(), bill.end.toordinal()) for bill in bills]):
        raise BillsError("two of them overlap in time; write each reading period once")
    unit_kwh = _heat_of_unit_kwh()[fuel.value]
    return fit_bills([_period(bill, year, calendar_year, unit_kwh) for bill in bills], cooling=fuel is Fuel.ELECTRIC)


def _period(bill: Bill, year: WeatherYear, calendar_year: int | None, unit_kwh: float) -> BillPeriod:
    days = (bill.end - bill.start).days
    daily_c = daily_of(bill, year)
    covered = calendar_year is not None and bill.start.year == (bill.end - timedelta(days=1)).year == calendar_year
    if bill.mean_c is None or covered:
        return BillPeriod(days, bill.amount * unit_kwh, float(daily_c.mean()), daily_c)
    return BillPeriod(days, bill.amount * unit_kwh, bill.mean_c, None, float(daily_c.std()))


def daily_of(bill: Bill, year: WeatherYear) -> FloatArray:
    """Daily means of the weather year on the calendar days of a bill; 29 February takes the day before."""
    means_c = year.dry_bulb_c.reshape(-1, 24).mean(axis=1)
    days = [bill.start + timedelta(days=step) for step in range((bill.end - bill.start).days)]
    return np.array([means_c[_day_of_year(day)] for day in days])


def _day_of_year(day: date) -> int:
    plain = day.replace(day=28) if (day.month, day.day) == (2, 29) else day
    return (date(2001, plain.month, plain.day) - date(2001, 1, 1)).days


def _with_spread(fit: BillFit, efficiency: float, spread_frac: float) -> tuple[float, float, float]:
    """Loss and its interval, the fit's and the efficiency's spread taken as independent."""
    loss = fit.loss_w_k(efficiency)
    down = np.hypot(loss - w_k_of(fit.slope_low_kwh_d_k, efficiency), spread_frac * loss)
    up = np.hypot(w_k_of(fit.slope_high_kwh_d_k, efficiency) - loss, spread_frac * loss)
    return loss, max(loss - float(down), 0.0), loss + float(up)


def _warnings(bills: Sequence[Bill], fit: BillFit, calendar_year: int | None, fuel: Fuel) -> tuple[str, ...]:
    found = []
    if any(bill.mean_c is None for bill in bills) and calendar_year is None:
        found.append(
            "Bills without a mean temperature were set against a typical year; type the mean of each period, or use a "
            "weather file of the billed year."
        )
    if fit.scatter_frac > LOOSE_SCATTER_FRAC:
        found.append(f"The bills scatter by {fit.scatter_frac:.0%} round their line; read the heat loss loosely.")
    if fuel is Fuel.WOOD:
        found.append("Wood is delivered, not metered: its bills follow deliveries and not the weather.")
    return tuple(found)


def _disagreement(loss_w_k: float, calculated_w_k: float) -> str:
    ratio = loss_w_k / calculated_w_k
    way = "less" if ratio < 1.0 else "more"
    cure = (
        "rooms kept cooler than written, wood or portable heaters off the meter, or a tighter or better insulated house"
        if ratio < 1.0
        else "a leakier or less insulated house than written, a worse heater, or a warmer thermostat"
    )
    return (
        f"The bills show a heat loss {abs(ratio - 1.0):.0%} {way} than calculated, beyond what either may be off: "
        f"{cure}. Settle this before sizing."
    )
