"""Prices of the generic cost book against published figures.

The book is a placeholder, so these are wide checks that it lies in the right decade and order, not that it is right.
Each row names its source and how strong it is.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compare.office.compile import job_cost
from compare.office.cost_book import Case, load_book
from compare.prices.job import JobDescription
from compare.prices.price_list import Price, load_price_list, price
from compare.prices.takeoff import take_off
from tests.prices.jobs import ducted, head, pairs, shared

BTU_H_TON = 12000.0
ONE_HEAD = pairs(head("living", 12))
FOUR_HEADS = shared(36, *(head(f"h{i}", 9, "shared", 35.0, 15.0) for i in range(4)))
DUCTED = pairs(ducted("attic", 18, 4))


def priced(job: JobDescription) -> Price:
    return price(take_off(job), load_price_list())


def test_wage_is_the_published_median():
    # US Bureau of Labor Statistics, Occupational Outlook Handbook, heating and cooling mechanics: 27.55 $/h, May 2023
    assert load_book().figure("rate_technician_wage", Case.MID) == Decimal("27.55")


@pytest.mark.parametrize(
    ("job", "capacity_btu_h", "published_usd_ton"),
    [
        # Massachusetts Clean Energy Center, blog of September 2020, price per ton of capacity at 5 F: supplemental
        # 3,900 (2018-19), whole-home pilot above 6,600 (84 projects, 2019-20). Capacity at 5 F of the generic units.
        # Tolerance 35 %: other years (prices rose by about a quarter to 2024, from memory), other houses.
        (ONE_HEAD, 13_600.0, 3_900.0),
        (FOUR_HEADS, 34_000.0, 6_600.0),
    ],
)
def test_price_per_ton_at_five_fahrenheit(job, capacity_btu_h, published_usd_ton):
    usd_ton = float(priced(job).mid_usd) / (capacity_btu_h / BTU_H_TON)
    assert usd_ton == pytest.approx(published_usd_ton, rel=0.35)


@pytest.mark.parametrize(
    ("job", "units", "low_usd", "high_usd"),
    [
        (FOUR_HEADS, 4, 3_500.0, 5_200.0),  # per indoor unit; consumer cost page, undated, weak
        (DUCTED, 1, 9_000.0, 20_000.0),  # general ducted system; trade page, weak
    ],
)
def test_mid_price_lies_in_the_published_range(job, units, low_usd, high_usd):
    assert low_usd <= float(priced(job).mid_usd) / units <= high_usd


@pytest.mark.parametrize("job", [ONE_HEAD, FOUR_HEADS, DUCTED])
def test_range_of_a_job_is_no_wider_than_published_ranges(job):
    # published ranges of one kind of job span a factor of 1.5 (3,500 to 5,200) to 2.2 (9,000 to 20,000); weak
    got = priced(job)
    assert 1.3 <= float(got.high_usd / got.low_usd) <= 2.2


def test_site_hours_of_a_single_head():
    # trade journal and trade pages, weak: two technicians 4 to 8 h on site = 8 to 16 person-hours, without permit trips
    book = load_book()
    hours = job_cost(take_off(ONE_HEAD), book).mid.hours_h - book.figure("task_permit_inspection", Case.MID)
    assert 8 <= hours <= 16
