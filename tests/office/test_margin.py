"""Margin arithmetic against figures worked by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.office.cost_book import load_book
from compare.office.margin import (
    JobMoney,
    Risk,
    SellingCosts,
    discounted,
    expected_callback_usd,
    job_margin,
    largest_discount_frac,
    margin_frac,
    margin_of_markup_frac,
    markup_frac,
    markup_of_margin_frac,
    price_usd,
    selling_costs,
)

D = Decimal
NO_SELLING = SellingCosts(D(0), D(0), D(0))
shares = st.decimals("0", "0.95", places=4)
amounts = st.decimals("0.01", "1000000", places=2)


def test_price_is_cost_over_one_less_margin():
    assert round(price_usd(D("1.00"), D("0.40")), 4) == D("1.6667")
    assert margin_frac(D(15000), D(9000)) == D("0.4")
    assert D(15000) - D(9000) == 6000


def test_half_as_much_again_is_a_third_of_the_price():
    # cost 1.00 sold at 1.50: 50 % mark-up, 33.3 % margin (trade training page)
    assert markup_frac(D("1.50"), D("1.00")) == D("0.5")
    assert round(margin_frac(D("1.50"), D("1.00")), 3) == D("0.333")
    assert round(margin_of_markup_frac(D("0.5")), 3) == D("0.333")


@given(amounts, shares)
def test_margin_and_mark_up_come_back(cost, share):
    price = price_usd(cost, share)
    assert abs(margin_frac(price, cost) - share) < D("1e-9")
    assert abs(markup_frac(price, cost) - markup_of_margin_frac(share)) < D("1e-9")
    assert abs(margin_of_markup_frac(markup_of_margin_frac(share)) - share) < D("1e-9")
    assert share == 0 or markup_of_margin_frac(share) > share


def test_five_percent_off_takes_an_eighth_of_the_gross_profit():
    # by hand: 15,000 at 40 %: 750 of 6,000 = 12.5 %
    got = discounted(D(15000), D(9000), D("0.05"), D("0.30"))
    assert got.profit_lost_frac == D("0.125")
    assert got.gross_profit_usd == 5250
    assert got.price_usd == 14250
    assert not got.needs_approval


def test_floor_decides_who_may_grant_a_discount():
    # by hand: cost 9,000 at 30 % is 12,857.14, that is 14.29 % off 15,000
    largest = largest_discount_frac(D(15000), D(9000), D("0.30"))
    assert round(largest, 4) == D("0.1429")
    assert not discounted(D(15000), D(9000), largest - D("0.0001"), D("0.30")).needs_approval
    assert discounted(D(15000), D(9000), largest + D("0.0001"), D("0.30")).needs_approval
    assert largest_discount_frac(D(10000), D(9000), D("0.30")) == 0


def test_one_callback_takes_a_sixth_of_the_gross_profit():
    # by hand: 1,000 of 6,000 = 16.7 %
    got = job_margin(JobMoney(D(15000), D(9000), D(32)), [Risk("cold room", D(1), D(1000))], NO_SELLING)
    assert round(1 - got.risk_adjusted_usd / got.gross_profit_usd, 3) == D("0.167")
    assert got.risk_adjusted_usd == 5000


def test_job_in_the_managers_figures():
    # by hand: 32 person-hours are 2 crew-days; callbacks .1 x 850 + .02 x 2,500 = 135; selling 7 + 3 + 2 % of 15,000
    risks = [Risk("draught", D("0.1"), D(850)), Risk("static pressure", D("0.02"), D(2500))]
    got = job_margin(JobMoney(D(15000), D(9000), D(32)), risks, selling_costs(load_book()))
    assert got.gross_profit_usd == 6000
    assert got.margin_frac == D("0.4")
    assert round(got.markup_frac, 4) == D("0.6667")
    assert got.crew_days == 2
    assert got.profit_per_crew_day_usd == 3000
    assert got.expected_callback_usd == 135
    assert got.risk_adjusted_usd == 5865
    assert got.risk_adjusted_frac == D("0.391")
    assert got.contribution_usd == 4200


def test_finance_costs_more_than_a_card():
    book = load_book()
    assert selling_costs(book, financed=True).total_frac - selling_costs(book).total_frac == D("0.02")


BAD = {
    "all margin": (lambda: price_usd(D(1), D(1)), "margin_frac = 1; give a share from 0 to below 1"),
    "negative margin": (lambda: price_usd(D(1), D("-0.1")), "margin_frac = -0.1"),
    "no number": (lambda: price_usd(D(1), D("NaN")), "margin_frac = NaN"),
    "negative cost": (lambda: price_usd(D(-1), D("0.4")), "cost_usd = -1; give zero or more"),
    "no price": (lambda: margin_frac(D(0), D(1)), "price_usd = 0; give an amount above zero"),
    "no cost": (lambda: markup_frac(D(1), D(0)), "cost_usd = 0; give an amount above zero"),
    "no profit": (lambda: discounted(D(9), D(9), D("0.1"), D("0.3")), "price_usd must be above cost_usd"),
    "certain twice": (lambda: expected_callback_usd([Risk("noise", D(2), D(1))]), "noise: probability_frac = 2"),
    "negative risk": (lambda: expected_callback_usd([Risk("noise", D(0), D(-1))]), "noise: cost_usd = -1"),
    "no hours": (lambda: job_margin(JobMoney(D(2), D(1), D(0)), [], NO_SELLING), "hours_h = 0"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_figures_are_refused_by_name(case):
    call, words = BAD[case]
    with pytest.raises(ValueError, match=words):
        call()
