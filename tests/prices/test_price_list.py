from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.prices.items import items
from compare.prices.price_list import COLUMNS, PriceList, load_price_list, price, sample_usd, write_text
from compare.prices.table import TableError
from compare.prices.takeoff import Quantity, take_off
from tests.prices.jobs import ducted, head, pairs, shared

HEADER = ",".join(COLUMNS)
GOOD = "pad,each,60.00,116.67,200.00,company price list,2026-11-25"

counted = st.builds(
    lambda item, tenths: Quantity(item, Decimal(tenths) / 10, items()[item].unit, "x"),
    st.sampled_from(sorted(items())),
    st.integers(1, 2000),
)


def test_committed_list_prices_every_item_as_a_placeholder():
    price_list = load_price_list()
    assert list(price_list.rows) == list(items())
    assert all(row.provenance == "placeholder, generic cost book; edit" for row in price_list.rows.values())


def test_list_survives_writing_and_reading(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text(write_text(load_price_list()), encoding="utf-8")
    assert load_price_list(path).rows == load_price_list().rows


@settings(max_examples=60, deadline=None)
@given(st.lists(counted, max_size=25))
def test_lines_sum_to_the_total_to_the_cent(quantities):
    got = price(tuple(quantities), load_price_list())
    for total, column in ((got.low_usd, "low_usd"), (got.mid_usd, "mid_usd"), (got.high_usd, "high_usd")):
        figures = [getattr(line, column) for line in got.lines]
        assert sum(figures, Decimal(0)) == total
        assert all(figure == round(figure, 2) for figure in figures)
    assert got.low_usd <= got.mid_usd <= got.high_usd
    assert all(0 <= line.low_usd <= line.mid_usd <= line.high_usd for line in got.lines)


@settings(max_examples=40, deadline=None)
@given(st.lists(counted, min_size=1, max_size=25))
def test_range_is_narrower_than_the_sum_of_extremes(quantities):
    price_list = load_price_list()
    got = price(tuple(quantities), price_list)
    low = sum(q.amount * price_list.row(q.item).low_usd for q in quantities)
    high = sum(q.amount * price_list.row(q.item).high_usd for q in quantities)
    assert float(low) < float(got.low_usd) <= float(got.mid_usd)
    assert float(got.mid_usd) <= float(got.high_usd) < float(high)


def test_mid_is_amount_times_unit_price():
    got = price((Quantity("line_cover", Decimal("12.3"), "ft", "line"),), load_price_list())
    assert got.lines[0].unit_usd == Decimal("13.62")
    assert got.mid_usd == Decimal("167.53")  # 12.3 x 13.62 = 167.526 by hand


def test_same_take_off_gives_the_same_figures_and_shares_its_luck():
    quantities = take_off(pairs(head("living", 12), ducted("hall", 12, 3)))
    price_list = load_price_list()
    assert price(quantities, price_list) == price(quantities, price_list)
    more = (*quantities, Quantity("room_heater", Decimal(1), "each", "bath"))
    gaps = [b - a for a, b in zip(sample_usd(quantities, price_list), sample_usd(more, price_list), strict=True)]
    row = price_list.row("room_heater")
    assert min(gaps) >= float(row.low_usd) - 1e-6
    assert max(gaps) <= float(row.high_usd) + 1e-6


def test_order_of_the_lines_does_not_matter():
    quantities = take_off(pairs(head("living", 12), ducted("hall", 12, 3)))
    forward, backward = (price(q, load_price_list()) for q in (quantities, quantities[::-1]))
    assert forward.mid_usd == backward.mid_usd
    assert abs(forward.low_usd - backward.low_usd) <= Decimal("0.01")
    assert abs(forward.high_usd - backward.high_usd) <= Decimal("0.01")


def test_one_placeholder_makes_an_estimate_and_none_makes_none():
    generic = load_price_list()
    own = {name: replace(row, provenance="company price list") for name, row in generic.rows.items()}
    quantities = take_off(pairs(head("living", 12)))
    assert price(quantities, generic).is_estimate
    assert not price(quantities, PriceList("own", own)).is_estimate
    mixed = PriceList("own", {**own, "pad": generic.rows["pad"]})
    assert price(quantities, mixed).is_estimate
    assert not price((), generic).is_estimate
    assert price((), generic).oldest is None


def test_missing_price_and_wrong_unit_are_refused():
    with pytest.raises(LookupError, match="no price for 'pad'"):
        price((Quantity("pad", Decimal(1), "each", "x"),), PriceList("own", {}))
    with pytest.raises(ValueError, match="counted in 'ft' but priced per 'each'"):
        price((Quantity("pad", Decimal(1), "ft", "x"),), load_price_list())


FAULTS = {
    "unknown item": (GOOD.replace("pad", "pedestal"), "list.csv:2: item 'pedestal' is not a take-off item"),
    "wrong unit": (GOOD.replace("each", "ft"), "list.csv:2: pad is priced per 'each', not per 'ft'"),
    "negative": (GOOD.replace("60.00", "-60.00"), "list.csv:2: low_usd = -60.00 is negative"),
    "not finite": (GOOD.replace("200.00", "inf"), "list.csv:2: high_usd = 'inf' is not finite"),
    "no number": (GOOD.replace("200.00", "NaN"), "list.csv:2: high_usd = 'NaN' is not finite"),
    "formula": (GOOD.replace("200.00", "=2+2"), "list.csv:2: high_usd = '=2.2' is not a plain number"),
    "order": (GOOD.replace("116.67", "216.67"), "list.csv:2: pad needs low <= mid <= high"),
    "fraction of a cent": (GOOD.replace("116.67", "116.675"), "list.csv:2: pad has a price with fractions"),
    "date": (GOOD.replace("2026-11-25", "25.11.2026"), "list.csv:2: date = '25.11.2026' is not a date"),
    "no provenance": (GOOD.replace("company price list", ""), "list.csv:2: column 'provenance' is empty"),
    "twice": (f"{GOOD}\n{GOOD}", "list.csv:3: item 'pad' stands twice"),
    "cells": (GOOD.replace("60.00", "1,060.00"), "list.csv:2: 8 cells where the header has 7"),
    "open quote": (GOOD.replace("pad", '"pad'), "list.csv:2: not readable as CSV"),
    "empty": ("", "holds no prices"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_faults_name_file_and_line(fault, tmp_path):
    rows, words = FAULTS[fault]
    path = tmp_path / "list.csv"
    path.write_text(f"{HEADER}\n{rows}\n", encoding="utf-8")
    with pytest.raises(TableError, match=words):
        load_price_list(path)


@pytest.mark.parametrize("column", ["cost_usd", "margin_frac", "hours_h"])
def test_a_list_with_a_column_of_the_office_is_refused(column, tmp_path):
    path = tmp_path / "list.csv"
    path.write_text(f"{HEADER},{column}\n{GOOD},70\n", encoding="utf-8")
    with pytest.raises(TableError, match=f"column '{column}' does not belong"):
        load_price_list(path)


def test_missing_file_and_binary_file_are_told_plainly(tmp_path):
    with pytest.raises(TableError, match="no such file"):
        load_price_list(tmp_path / "none.csv")
    (tmp_path / "x.csv").write_bytes(b"\xff\xfe\x00\x81")
    with pytest.raises(TableError, match="cannot be read as UTF-8"):
        load_price_list(tmp_path / "x.csv")


def test_all_faults_of_a_list_are_told_at_once(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text(f"{HEADER}\n{GOOD.replace('pad', 'x')}\n# note\n\n{GOOD.replace('each', 'ft')}\n", encoding="utf-8")
    with pytest.raises(TableError) as caught:
        load_price_list(path)
    assert [problem.split(": ")[0].rsplit(":", 1)[1] for problem in caught.value.problems] == ["2", "5"]


def test_dearer_work_never_gets_cheaper():
    price_list = load_price_list()
    base = price(take_off(shared(24, head("a", 9, "shared"), head("b", 9, "shared"))), price_list)
    more = price(take_off(shared(24, *(head(n, 9, "shared") for n in "abc"))), price_list)
    assert base.low_usd < more.low_usd
    assert base.mid_usd < more.mid_usd
    assert base.high_usd < more.high_usd
