"""Dated rebates: what is given, what is missing, and V2, a family's three-head bid on 6 kBtu/h of bedrooms.

V2 is a homeowner's thread (an energy adviser's forum, okay-if-mini-split-24kbtu...): 24,000 Btu/h outdoors with heads
of 7 + 7 + 9 on about 6,000 Btu/h, $9,200 less a $2,300 rebate that asked for that size. What follows is arithmetic.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from compare.prices.rebates import COLUMNS, Rebate, RebateFacts, RebateKind, load_rebates, outcome, outcomes
from compare.prices.table import TableError

DAY = dt.date(2026, 11, 25)
V2 = Rebate(
    id="v2",
    programme="Invented programme of the thread",
    kind=RebateKind.FIXED,
    amount=Decimal(2300),
    most_usd=Decimal(2300),
    size_from_kbtuh=Decimal(24),
    cover_from_frac=Decimal(0),
    valid_from=dt.date(2026, 1, 1),
    valid_to=dt.date(2026, 12, 31),
    condition="on approval",
    source="thread",
    checked_on=DAY,
)
BID = RebateFacts(Decimal(9200), Decimal(24), Decimal(1), DAY)


def test_v2_the_family_pays_6900():
    got = outcome(V2, BID)
    assert got.given
    assert BID.price_usd - got.amount_usd == 6900
    assert round((7 + 7 + 9) / 6, 1) == 3.8  # connected heads over the load


def test_v2_a_layout_that_fits_the_house_gets_nothing_and_is_told_why():
    got = outcome(V2, replace(BID, price_usd=Decimal(7200), size_kbtuh=Decimal(12)))
    assert (got.given, got.amount_usd, got.short_kbtuh) == (False, 0, 12)
    assert got.missing == ("asks for 24 kBtu/h outdoors, the layout has 12",)
    # 300 dollars dearer to the family than the oversized bid, though 2,000 cheaper to build
    assert Decimal(7200) - got.amount_usd > Decimal(9200) - outcome(V2, BID).amount_usd
    assert outcome(V2.without_size_rule(), replace(BID, size_kbtuh=Decimal(12))).amount_usd == 2300


@pytest.mark.parametrize(
    ("day", "given"),
    [("2025-12-31", False), ("2026-01-01", True), ("2026-12-31", True), ("2027-01-01", False)],
)
def test_first_and_last_day_count(day, given):
    assert outcome(V2, replace(BID, on=dt.date.fromisoformat(day))).given is given


KINDS = [
    (RebateKind.FIXED, "500", "1000", "500"),
    (RebateKind.FIXED, "1500", "1000", "1000"),
    (RebateKind.PER_TON, "600", "9999", "1200"),  # 24 kBtu/h are two tons
    (RebateKind.SHARE, "0.30", "2000", "2000"),
    (RebateKind.SHARE, "0.10", "2000", "920"),
    (RebateKind.FIXED, "20000", "99999", "9200"),  # never more than the price
]


@pytest.mark.parametrize(("kind", "amount", "most", "wanted"), KINDS)
def test_amounts(kind, amount, most, wanted):
    rebate = replace(V2, kind=kind, amount=Decimal(amount), most_usd=Decimal(most))
    assert outcome(rebate, BID).amount_usd == Decimal(wanted)


@pytest.mark.parametrize(("cover", "given"), [("0.79", False), ("0.80", True)])
def test_a_whole_home_programme_asks_for_cover(cover, given):
    # state programme: 80 % of the peak load for the standard rebate (efficiencymaine.com, heat-pump-rrv-faq)
    rebate = replace(V2, cover_from_frac=Decimal("0.80"), size_from_kbtuh=Decimal(0))
    got = outcome(rebate, replace(BID, cover_frac=Decimal(cover)))
    assert got.given is given
    assert given or got.missing == ("asks for 80% of the design load, the layout covers 79%",)


def test_everything_missing_is_told_at_once():
    late = replace(BID, on=dt.date(2030, 1, 1), size_kbtuh=Decimal(6))
    assert len(outcome(V2, late).missing) == 2


def test_the_shipped_federal_credit_ended_with_2025():
    # 26 USC 25C ended for property placed in service after 31 December 2025 (from memory)
    credit = {rebate.id: rebate for rebate in load_rebates()}["us_25c"]
    assert outcome(credit, replace(BID, on=dt.date(2025, 12, 31))).amount_usd == 2000
    assert outcomes((credit,), BID)[0].missing == ("ended on 2025-12-31",)


ROW = "a,Prog,fixed,100,100,0,0,2026-01-01,2026-12-31,on approval,office,2026-11-25"
FAULTS = {
    "kind": (ROW.replace("fixed", "maybe"), "own.csv:2: kind 'maybe' is not one of fixed, per ton, share"),
    "share": (ROW.replace("fixed,100", "share,30"), "amount is a share, at most 1"),
    "cover": (ROW.replace("100,0,0", "100,0,80"), "cover_from_frac is a share"),
    "dates": (ROW.replace("2026-12-31", "2025-12-31"), "valid_to lies before valid_from"),
    "twice": (f"{ROW}\n{ROW}", "id 'a' stands twice"),
    "negative": (ROW.replace("100,100", "-1,100"), "amount = -1 is negative"),
    "no date": (ROW.replace("2026-11-25", "soon"), "checked_on = 'soon' is not a date"),
}


@pytest.mark.parametrize("case", FAULTS)
def test_faults_name_line_and_cure(case, tmp_path):
    rows, words = FAULTS[case]
    path = tmp_path / "own.csv"
    path.write_text(f"{','.join(COLUMNS)}\n{rows}\n", encoding="utf-8")
    with pytest.raises(TableError, match=words):
        load_rebates(path)
