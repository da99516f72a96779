from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from compare.jobs.changes import ChangeError, Wanted, agree, changes, load_quantities, write_change
from compare.jobs.status import Status, add_status
from compare.prices.price_list import load_price_list
from compare.prices.quantity import count
from compare.prices.table import TableError
from tests.jobs.small import DAY

ONE = (count("masonry_wall", "W1"), count("line_cover", "line to W1", Decimal("8.5")))


@pytest.fixture
def accepted(job):
    for state in (Status.DRAFT, Status.SHOWN, Status.ACCEPTED):
        add_status(job, state, DAY, "p")
    return job


def test_it_is_priced_to_the_cent_and_numbered(accepted):
    prices = load_price_list()
    first = write_change(accepted, Wanted("p", "brick wall", ONE, DAY), prices)
    second = write_change(accepted, Wanted("p", "another", ONE[:1], DAY), prices)
    wanted = prices.row("masonry_wall").mid_usd + round(Decimal("8.5") * prices.row("line_cover").mid_usd, 2)
    assert first.price_usd == wanted
    assert [change.number for change in changes(accepted)] == [1, 2]
    assert changes(accepted) == (first, second)


def test_it_is_agreed_once_and_not_before_it_was_written(accepted):
    write_change(accepted, Wanted("p", "brick wall", ONE, DAY), load_price_list())
    with pytest.raises(ChangeError, match="cannot be agreed before"):
        agree(accepted, 1, DAY - dt.timedelta(days=1))
    assert agree(accepted, 1, DAY).agreed_on == DAY
    with pytest.raises(ChangeError, match="was agreed on 2026-11-25"):
        agree(accepted, 1, DAY)
    with pytest.raises(ChangeError, match="has no change order 7"):
        agree(accepted, 7, DAY)


def test_only_an_accepted_job_is_changed(job):
    add_status(job, Status.DRAFT, DAY, "p")
    for proposal in ("p", "q"):
        with pytest.raises(ChangeError, match="only an accepted one"):
            write_change(job, Wanted(proposal, "x", ONE, DAY), load_price_list())
    assert changes(job) == ()


@pytest.mark.parametrize("reason", ["", "  ", "x" * 501])
def test_a_reason_is_needed(reason, accepted):
    with pytest.raises(ChangeError, match="write why the work changes"):
        write_change(accepted, Wanted("p", reason, ONE, DAY), load_price_list())


FAULTS = {
    "pad,0,O1": "change.csv:2: amount is 0",
    "paad,1,O1": "item 'paad' is not a take-off item",
    "pad,-1,O1": "amount = -1 is negative",
    "pad,1,": "column 'for' is empty",
    "": "holds no line",
}


@pytest.mark.parametrize("row", FAULTS)
def test_faults_of_the_table_name_line_and_cure(row, tmp_path):
    path = tmp_path / "change.csv"
    path.write_text(f"item,amount,for\n{row}\n", encoding="utf-8")
    with pytest.raises(TableError, match=FAULTS[row]):
        load_quantities(path)


def test_a_broken_order_is_told(accepted):
    write_change(accepted, Wanted("p", "brick wall", ONE, DAY), load_price_list())
    (accepted / "changes" / "change-001.json").write_text("{", encoding="utf-8")
    with pytest.raises(ChangeError, match="cannot be read"):
        changes(accepted)
