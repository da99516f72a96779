"""Bills as a third opinion: synthetic houses with a known heat loss, and what is said when bills cannot serve."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from compare.climate.embedded import embedded
from compare.climate.year import WeatherYear
from compare.house.reading import read_house_text
from compare.loads.bills import BillPeriod, BillsError, fit_bills, heating_drive_k
from compare.loads.calendar_year import calendar_year_of
from compare.loads.third_opinion import calculated_loss_w_k, daily_of, third_opinion
from tests.house.houses import TWO_STOREYS
from tests.loads.cases import small_case

YEAR = embedded("richmond")
DAILY_C = YEAR.dry_bulb_c.reshape(-1, 24).mean(axis=1)
MONTHS = [(date(2023, month, 1), date(2023 + month // 12, month % 12 + 1, 1)) for month in range(1, 13)]
LOSS_W_K, BALANCE_C, BASE_KWH = 250.0, 16.5, 12.0


def synthetic(efficiency=0.8, noise_frac=0.0, dice=None, daily=True):
    """Twelve months of a house whose loss, balance point and base use are known."""
    periods = []
    for start, end in MONTHS:
        days = DAILY_C[start.timetuple().tm_yday - 1 : start.timetuple().tm_yday - 1 + (end - start).days]
        use = BASE_KWH * len(days) + LOSS_W_K * 0.024 / efficiency * np.maximum(BALANCE_C - days, 0.0).sum()
        if dice is not None:
            use *= 1.0 + noise_frac * dice.standard_normal()
        periods.append(BillPeriod(len(days), float(use), float(days.mean()), days if daily else None))
    return periods


def test_a_known_house_comes_back_exactly():
    # Synthetic house: 250 W/K, balance point 16.5 degC, 12 kWh a day besides; degree-days; grid of 0.1 K; 0.1 %.
    fit = fit_bills(synthetic())
    assert fit.loss_w_k(0.8) == pytest.approx(LOSS_W_K, rel=1e-3)
    assert fit.balance_c == pytest.approx(BALANCE_C, abs=0.06)
    assert fit.base_kwh_d == pytest.approx(BASE_KWH, rel=1e-2)
    assert fit.r2_frac > 0.9999
    assert fit.by_degree_days


def test_mean_temperatures_alone_come_close():
    # Expected degree-days of normally scattered days (Schoenau and Kehrig 1990): 3 %. Without a scatter the
    # change-point form reads this mild place low (7 % here), because mild months hold cold days; never high.
    spread = [replace(p, daily_c=None, daily_spread_k=float(p.daily_c.std())) for p in synthetic()]
    fit = fit_bills(spread)
    assert not fit.by_degree_days
    assert fit.loss_w_k(0.8) == pytest.approx(LOSS_W_K, rel=0.03)
    assert 0.9 * LOSS_W_K < fit_bills(synthetic(daily=False)).loss_w_k(0.8) < LOSS_W_K


@pytest.mark.parametrize(("distance_k", "spread_k"), [(-6.0, 4.0), (0.0, 4.0), (3.0, 5.0), (20.0, 4.0)])
def test_expected_degree_days_by_integration(distance_k, spread_k):
    # scipy: integral of the positive part over a normal density; 1e-6 K.
    from scipy.integrate import quad
    from scipy.stats import norm

    period = BillPeriod(30.0, 0.0, 16.0 - distance_k, None, spread_k)
    by_integral, _ = quad(lambda k: k * norm.pdf(k, distance_k, spread_k), 0.0, distance_k + 12.0 * spread_k)
    assert heating_drive_k(period, 16.0) == pytest.approx(by_integral, abs=1e-6)


def test_the_interval_holds_the_truth_as_often_as_it_says():
    # Definition of a 95 % interval: 40 noisy years, 5 % scatter of each bill (so that cold bills scatter more); at
    # least 34 of them (binomial: under 1 in 100 below).
    dice = np.random.default_rng(7)
    held = 0
    for _ in range(40):
        fit = fit_bills(synthetic(noise_frac=0.05, dice=dice))
        slope = LOSS_W_K * 0.024 / 0.8
        held += fit.slope_low_kwh_d_k <= slope <= fit.slope_high_kwh_d_k
    assert held >= 34


def test_cooling_on_the_same_meter_is_told_apart():
    # Synthetic: 40 W/K of heating loss by a resistance heater and 3 kWh/(d K) of cooling above 22 degC; 3 %.
    periods = []
    for start, end in MONTHS:
        first = start.timetuple().tm_yday - 1
        days = DAILY_C[first : first + (end - start).days]
        heat, cool = np.maximum(15.0 - days, 0.0).sum(), np.maximum(days - 22.0, 0.0).sum()
        use = 10.0 * len(days) + 6.0 * heat + 3.0 * cool
        periods.append(BillPeriod(len(days), float(use), float(days.mean()), days))
    fit = fit_bills(periods, cooling=True)
    assert fit.slope_kwh_d_k == pytest.approx(6.0, rel=0.03)
    assert fit.cooling_kwh_d_k == pytest.approx(3.0, rel=0.03)


def test_drive_by_days_is_never_less_than_by_mean():
    # Jensen: the mean of a kinked function is at least the function of the mean.
    for period in synthetic():
        assert heating_drive_k(period, 16.5) >= heating_drive_k(replace(period, daily_c=None), 16.5) - 1e-12


@pytest.mark.parametrize(
    ("periods", "words"),
    [
        (synthetic()[:11], "at least 12 bills"),
        ([replace(period, mean_c=12.0, daily_c=None) for period in synthetic()], "too alike"),
        ([replace(p, use_kwh=20.0 * p.days + 10.0 * p.days * p.mean_c, daily_c=None) for p in synthetic()], "rise"),
    ],
)
def test_bills_that_cannot_serve_say_why(periods, words):
    with pytest.raises(BillsError, match=words):
        fit_bills(periods)


def _house(loss_w_k, means=False, extra="", fuel="gas", calculated_year: WeatherYear = YEAR):
    """A house file with a year of bills of a given heat loss at 80 %."""
    text = TWO_STOREYS + f'[existing_heat]\nfuel = "{fuel}"\nefficiency = 0.8\n'
    for start, end in MONTHS:
        first = start.timetuple().tm_yday - 1
        days = DAILY_C[first : first + (end - start).days]
        use_kwh = BASE_KWH * len(days) + loss_w_k * 0.024 / 0.8 * np.maximum(BALANCE_C - days, 0.0).sum()
        text += f'[[bill]]\nfrom = {start}\nto = {end}\nfuel = "{fuel}"\namount = {use_kwh / 29.3001:.4f}\n'
        if means:
            text += f'mean = "{days.mean():.2f} C"\n'
    return read_house_text(text + extra, "house.toml")


CASE = small_case()


def test_agreement_and_disagreement_in_plain_words():
    calculated_w_k = calculated_loss_w_k(CASE, YEAR)
    same = third_opinion(_house(calculated_w_k), CASE, YEAR, 2023)
    assert same.agrees
    assert same.loss_w_k == pytest.approx(calculated_w_k, rel=0.01)
    assert same.low_w_k < same.loss_w_k < same.high_w_k
    assert not same.warnings
    half = third_opinion(_house(0.5 * calculated_w_k), CASE, YEAR, 2023)
    assert half.agrees is False
    assert "50% less than calculated" in half.warnings[0]
    double = third_opinion(_house(2.0 * calculated_w_k), CASE, YEAR, 2023)
    assert "100% more than calculated" in double.warnings[0]


def test_a_typical_year_is_named_as_such_unless_means_are_typed():
    assert "typical year" in " ".join(third_opinion(_house(200.0), CASE, YEAR).warnings)
    typed = third_opinion(_house(200.0, means=True), CASE, YEAR)
    assert "typical year" not in " ".join(typed.warnings)
    assert typed.loss_w_k == pytest.approx(200.0, rel=0.08)


def test_no_bills_and_too_few_bills():
    bare = read_house_text(TWO_STOREYS, "house.toml")
    assert third_opinion(bare, CASE, YEAR) is None
    one = TWO_STOREYS + '[[bill]]\nfrom = 2023-01-01\nto = 2023-02-01\nfuel = "gas"\namount = 85\n'
    found = third_opinion(read_house_text(one, "house.toml"), CASE, YEAR)
    assert found.agrees is None
    assert "at least 12 bills" in found.sentence


def test_overlapping_bills_are_refused():
    twice = '[[bill]]\nfrom = 2023-01-15\nto = 2023-02-15\nfuel = "gas"\namount = 85\n'
    assert "overlap" in third_opinion(_house(200.0, extra=twice), CASE, YEAR, 2023).sentence


def test_days_of_a_bill_come_from_the_calendar():
    house = _house(200.0)
    assert daily_of(house.bills[0], YEAR) == pytest.approx(DAILY_C[:31])
    leap = house.bills[0].model_copy(update={"start": date(2024, 2, 1), "end": date(2024, 3, 1)})
    assert len(daily_of(leap, YEAR)) == 29
    assert daily_of(leap, YEAR)[-1] == DAILY_C[58]
    over = house.bills[0].model_copy(update={"start": date(2023, 12, 31), "end": date(2024, 1, 2)})
    assert daily_of(over, YEAR) == pytest.approx([DAILY_C[364], DAILY_C[0]])


def test_calculated_loss_follows_its_definition():
    # Direction and order: fabric at design plus air; a tighter house loses less.
    tight = replace(CASE.air.tightness, coefficient_m3_s=0.2 * CASE.air.tightness.coefficient_m3_s)
    lower = calculated_loss_w_k(replace(CASE, air=replace(CASE.air, tightness=tight)), YEAR)
    assert 0.0 < lower < calculated_loss_w_k(CASE, YEAR)


def _epw(years):
    return "\n".join(["head"] * 8 + [f"{year},1,1,1,0,x" for year in years])


def test_a_real_year_is_told_from_a_typical_one(tmp_path):
    real, typical, other = tmp_path / "real.epw", tmp_path / "typical.epw", tmp_path / "x.csv"
    real.write_text(_epw([2021] * 30))
    typical.write_text(_epw([1999, 2003] * 15))
    other.write_text("2021")
    assert calendar_year_of(real) == 2021
    assert calendar_year_of(typical) is None
    assert calendar_year_of(other) is None
    assert calendar_year_of(tmp_path / "absent.epw") is None


def test_open_weather_files_are_typical_years(shared_weather):
    # TMY3: each month of another year (NREL).
    assert calendar_year_of(next(iter(sorted(shared_weather.glob("burlington*.epw"))))) is None
