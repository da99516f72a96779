"""Tables of views: what each role's view holds and no more, with harmless names."""

from __future__ import annotations

import io

import pytest
from openpyxl import load_workbook

from compare.commands.air import designer_view_of
from compare.jobs.customer_sheets import options_sheet, rooms_sheet, scope_sheet
from compare.jobs.sheets import STARTS, csv_text, xlsx_bytes
from compare.jobs.view_sheets import NAMES, view_sheets
from compare.prices.takeoff import take_off
from tests.jobs.small import winner


@pytest.fixture(scope="module")
def designer(small):
    return designer_view_of(small, winner(small))


def test_a_designers_workbook_has_a_sheet_for_each_list(designer):
    book = load_workbook(io.BytesIO(xlsx_bytes(view_sheets(designer, "option"))))
    assert {"option", "zones", "branches", "checks"} <= set(book.sheetnames)
    head = [cell.value for cell in book["branches"][1]]
    rows = [dict(zip(head, [cell.value for cell in row], strict=True)) for row in book["branches"].iter_rows(min_row=2)]
    branches = [branch for zone in designer.zones for branch in zone.branches]
    assert [row["room_name"] for row in rows] == [branch.room_name for branch in branches]
    assert [row["flow_m3_s"] for row in rows] == pytest.approx([branch.flow_m3_s for branch in branches])
    assert {row["zones tag"] for row in rows} == {zone.tag for zone in designer.zones}


def test_every_row_is_as_wide_as_its_table(designer, small):
    for sheet in (*view_sheets(designer), *view_sheets(small.customer_view())):
        assert len(set(sheet.columns)) == len(sheet.columns)
        assert all(len(row) == len(sheet.columns) for row in sheet.rows)
        assert csv_text(sheet).count("\n") >= len(sheet.rows)


def test_only_fields_of_the_view_are_there(designer):
    from compare.views.plan_view import ViewModel

    def fields(view) -> set[str]:
        names = set(type(view).model_fields)
        for name in type(view).model_fields:
            value = getattr(view, name)
            for item in value if isinstance(value, tuple) else (value,):
                if isinstance(item, ViewModel):
                    names |= fields(item)
        return names

    shown = {column for sheet in view_sheets(designer) for column in sheet.columns}
    repeated = {column for column in shown if " " in column and column.split(" ")[-1] in NAMES}
    assert shown - repeated <= fields(designer)
    assert not {c for c in shown if "cost" in c or "margin" in c}


def test_a_customers_tables_hold_prices_as_totals_and_quantities_without_price(small):
    option = small.by_id[winner(small)].option
    scope = scope_sheet(take_off(option.job))
    assert scope.columns == ("item", "amount", "unit", "for")
    assert len(scope.rows) == len(take_off(option.job))
    options = options_sheet(small.customer_view())
    assert len(options.rows) == len(small.customer_view().options)
    assert len(rooms_sheet(small.customer_view()).rows) == len(options.rows) * len(small.case.plan.rooms)


@pytest.mark.parametrize("name", ["=1+1", "@x", "+x", "-x", "=cmd|' /C calc'!A0"])
def test_a_hostile_room_name_is_harmless_in_every_table(name, small):
    view = small.customer_view()
    rooms = tuple(room.model_copy(update={"name": name}) for room in view.plan.rooms)
    cards = tuple(card.model_copy(update={"head_rooms": (name,), "places": (name,)}) for card in view.options)
    hostile = view.model_copy(update={"plan": view.plan.model_copy(update={"rooms": rooms}), "options": cards})
    sheets = (options_sheet(hostile), rooms_sheet(hostile), *view_sheets(hostile))
    book = load_workbook(io.BytesIO(xlsx_bytes(sheets)))
    cells = [cell for page in book for row in page.iter_rows() for cell in row]
    assert all(cell.data_type != "f" for cell in cells)
    assert not [cell.value for cell in cells if isinstance(cell.value, str) and cell.value[:1] in STARTS]
