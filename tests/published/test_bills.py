"""The fit through bills against two public sets of gas bills of real houses.

1. Sixteen months of a household's gas by degree-days, D. S. Moore, The Basic Practice of Statistics (W. H. Freeman,
   regression chapter), printed line: gas = 1.0892 + 0.1890 degree-days (from memory; its arithmetic re-run).
2. A private residence in Minnesota, D. T. Kaplan, Statistical Modeling: A Fresh Approach (2009), open data set
   "Utilities" (kept in the Rdatasets collection, commit 1c97ab8); two years before and two after 27 July 2005, when its
   notes say that a high-efficiency furnace and water heater came in.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import curve_fit

from compare.loads.bills import BillPeriod, fit_bills

FOLDER = Path(__file__).parent / "bills"
THERM_KWH = 29.3001


def _rows(name):
    return list(csv.DictReader((FOLDER / name).read_text(encoding="utf-8").splitlines()))


def _c(temp_f):
    return (temp_f - 32.0) / 1.8


@pytest.fixture(scope="module")
def household():
    """The degree-days as the distance of each month's mean from 65 F; use in hundreds of cubic feet."""
    return [
        BillPeriod(
            float(row["days"]),
            float(row["days"]) * float(row["gas_hundred_ft3_per_day"]),
            _c(65.0 - float(row["degree_days_f_per_day"])),
        )
        for row in _rows("sixteen_months.csv")
    ]


def test_printed_slope_of_the_textbook_household(household):
    """Printed 0.1890 per degree-day F, balance point 65 F there and found here: 2 %, and inside the interval."""
    fit = fit_bills(household)
    assert fit.slope_kwh_d_k / 1.8 == pytest.approx(0.1890, rel=0.02)
    assert fit.slope_low_kwh_d_k / 1.8 < 0.1890 < fit.slope_high_kwh_d_k / 1.8


def test_printed_base_of_the_textbook_household(household):
    """Printed 1.0892 hundred cubic feet a day with zero degree-days; 15 % (the balance point moves it)."""
    assert fit_bills(household).base_kwh_d == pytest.approx(1.0892, rel=0.15)


def test_printed_balance_of_the_textbook_household(household):
    """The book takes 65 F; the least squares find it within 2 K."""
    assert fit_bills(household).balance_c == pytest.approx(_c(65.0), abs=2.0)


def test_printed_r2_of_the_textbook_household(household):
    """Printed r2 0.991; 0.005."""
    assert fit_bills(household).r2_frac == pytest.approx(0.991, abs=0.005)


def _furnace(which):
    return [
        BillPeriod(
            float(row["days"]),
            float(row["days"]) * float(row["therms_per_day"]) * THERM_KWH,
            _c(float(row["mean_f"])),
        )
        for row in _rows("house_with_two_furnaces.csv")
        if row["furnace"] == which
    ]


@pytest.mark.parametrize("which", ["old", "new"])
def test_minnesota_house_against_a_general_least_squares(which):
    """scipy curve_fit on the same three-parameter model, weighed by days; slope 1 %, balance 0.3 K."""
    periods = _furnace(which)
    fit = fit_bills(periods)
    mean_c = np.array([period.mean_c for period in periods])
    use = np.array([period.use_kwh / period.days for period in periods])
    sigma = 1.0 / np.sqrt([period.days for period in periods])

    def model(temp_c, base, slope, balance):
        return base + slope * np.maximum(balance - temp_c, 0.0)

    best, _ = curve_fit(model, mean_c, use, p0=(10.0, 8.0, 16.0), sigma=sigma)
    assert fit.slope_kwh_d_k == pytest.approx(best[1], rel=0.01)
    assert fit.balance_c == pytest.approx(best[2], abs=0.3)


@pytest.mark.parametrize("which", ["old", "new"])
def test_minnesota_house_follows_the_line(which):
    """Monthly bills of one house: r2 above 0.95, as such fits usually show (common practice)."""
    assert fit_bills(_furnace(which)).r2_frac > 0.95


def test_minnesota_house_loses_as_much_before_and_after():
    """The notes name a new furnace and no work on the house: with 0.80 before and 0.92 after (usual seasonal
    efficiencies of an atmospheric and a condensing furnace, from memory) both give one heat loss; 10 %."""
    old, new = fit_bills(_furnace("old")), fit_bills(_furnace("new"))
    assert old.slope_kwh_d_k > new.slope_kwh_d_k
    assert old.loss_w_k(0.80) == pytest.approx(new.loss_w_k(0.92), rel=0.10)
