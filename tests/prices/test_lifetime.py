"""Cost over the years against the closed formulas of engineering economics and the standard library's sums."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.prices.items import families
from compare.prices.lifetime import (
    COLUMNS,
    Running,
    annuity,
    cleaning_usd_y,
    lifetime,
    lives_y,
    load_upkeep,
    present_value,
)
from compare.prices.price_list import load_price_list, price
from compare.prices.table import TableError
from compare.prices.takeoff import take_off
from tests.prices.jobs import ducted, head, pairs

UPKEEP = load_upkeep()


@pytest.mark.parametrize(("rate", "years"), [(0.03, 15), (0.05, 10), (0.0, 15), (0.10, 1)])
def test_annuity_is_the_uniform_present_worth(rate, years):
    # UPW = ((1+d)^n - 1) / (d (1+d)^n): NIST Handbook 135, life-cycle costing, discount formulas
    factor = years if rate == 0 else ((1 + rate) ** years - 1) / (rate * (1 + rate) ** years)
    assert annuity(100.0, years, rate) == pytest.approx(100.0 * factor, rel=1e-12)


def test_rising_annuity_is_the_modified_present_worth():
    # UPW* with payments that grow from the second year on: geometric series
    d, e, n = 0.03, 0.01, 15
    wanted = 100 * (1 - ((1 + e) / (1 + d)) ** n) / (d - e)
    assert annuity(100.0, n, d, e) == pytest.approx(wanted, rel=1e-12)


def test_single_present_worth():
    assert present_value(1000.0, 10, 0.03) == pytest.approx(744.09, abs=0.01)  # 1/1.03^10 = 0.74409 (tables)


@pytest.mark.parametrize(
    ("heads", "hidden", "wanted"),
    [(1, 0, 225 * 0.67), (4, 0, (225 + 3 * 125) * 0.67), (0, 1, 180 * 0.67 + 35), (1, 1, (225 + 180) * 0.67 + 35)],
)
def test_cleaning_by_hand(heads, hidden, wanted):
    assert cleaning_usd_y(Running(0.0, heads, hidden), UPKEEP) == pytest.approx(wanted)


def lines(*units, **more):
    return price(take_off(pairs(*units, **more)), load_price_list()).lines


def test_parts_sum_to_the_total_and_rebates_are_taken_off():
    cost = lifetime(lines(head("a", 12), ducted("h", 9, 3)), Running(500.0, 1, 1), UPKEEP, 1000.0)
    spent = cost.price_usd + cost.energy_usd + cost.cleaning_usd + cost.replacement_usd
    assert cost.total_usd == pytest.approx(spent - 1000.0 - cost.left_usd)
    assert cost.energy_usd == pytest.approx(annuity(500.0, 15, 0.03))


def test_units_that_last_the_horizon_are_not_bought_again_and_pumps_are():
    plain = lifetime(lines(head("a", 12)), Running(0.0, 1, 0), UPKEEP)
    assert plain.replacement_usd == 0.0
    pumped = lifetime(lines(replace(head("a", 12), condensate_pump=True)), Running(0.0, 1, 0), UPKEEP)
    pump = float(load_price_list().row("condensate_pump").mid_usd)
    assert pumped.replacement_usd == pytest.approx(pump / 1.03**8)  # life 8 years: once within 15
    assert pumped.left_usd - plain.left_usd == pytest.approx(pump * (16 - 15) / 8 / 1.03**15)


def test_ducts_and_circuits_are_worth_half_after_fifteen_of_thirty_years():
    cost = lifetime(lines(head("a", 12)), Running(0.0, 0, 0), UPKEEP)
    lasting = {"electrical", "lines", "ducts", "carpentry"}
    from compare.prices.items import items

    worth = sum(float(line.mid_usd) for line in lines(head("a", 12)) if items()[line.item].family in lasting)
    assert cost.left_usd == pytest.approx(worth / 2 / 1.03**15)


@given(st.floats(0, 5000), st.integers(0, 6), st.integers(0, 3), st.floats(0, 0.15))
def test_more_of_anything_never_costs_less(bill_usd, heads, hidden, rate):
    upkeep = replace(UPKEEP, discount_frac=rate)
    own = lines(head("a", 12))
    base = lifetime(own, Running(bill_usd, heads, hidden), upkeep).total_usd
    for more in (Running(bill_usd + 10, heads, hidden), Running(bill_usd, heads + 1, hidden)):
        assert lifetime(own, more, upkeep).total_usd >= base


def test_lives_are_of_known_families():
    assert set(lives_y()) <= set(families())
    # ASHRAE Handbook HVAC Applications, median service life, residential air-source heat pump: 15 years (from memory)
    assert lives_y()["wall heads"] == lives_y()["ducted units"] == 15


def rows(**changed: str) -> str:
    table = {
        "clean_first_head": "225",
        "clean_next_head": "125",
        "clean_ducted": "180",
        "clean_visits": "0.67",
        "filter_ducted": "35",
        "condensate_pump_life": "8",
        "discount_rate": "0.03",
        "energy_escalation": "0",
        "horizon": "15",
    }
    table |= changed
    return "\n".join([",".join(COLUMNS), *(f"{k},u,{v},{v},{v},office" for k, v in table.items() if v)]) + "\n"


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"horizon": ""}, "row 'horizon' is missing"),
        ({"horizon": "0"}, "horizon must be one year or more"),
        ({"horizon": "99"}, "more than 50 years"),
        ({"condensate_pump_life": "0"}, "condensate_pump_life must be one year or more"),
        ({"paint": "3"}, "item 'paint' does not belong here"),
        ({"discount_rate": "-1"}, "is negative"),
    ],
)
def test_faults_of_the_table(changed, words, tmp_path):
    path = tmp_path / "own.csv"
    path.write_text(rows(**changed), encoding="utf-8")
    with pytest.raises(TableError, match=words):
        load_upkeep(path)


def test_own_table_counts(tmp_path):
    path = tmp_path / "own.csv"
    path.write_text(rows(horizon="10", discount_rate="0"), encoding="utf-8")
    own = load_upkeep(path)
    assert lifetime(lines(head("a", 12)), Running(100.0, 0, 0), own).energy_usd == pytest.approx(1000.0)
    assert Decimal(own.horizon_y) == 10
