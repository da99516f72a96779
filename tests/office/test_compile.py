"""The compiled list: equal to the committed one, and without a trace of what lies behind it."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from decimal import Decimal
from importlib.resources import files
from pathlib import Path

import pytest

from compare.office.compile import assemblies, compile_price_list, cost_of_parts, write_price_list
from compare.office.cost_book import Case, CostBook, load_book
from compare.prices.items import items
from compare.prices.price_list import load_price_list, price, write_text
from compare.prices.takeoff import take_off
from tests.prices.jobs import ducted, head, pairs


def test_committed_list_is_what_the_generic_book_compiles_to():
    committed = (files("compare.data.prices") / "price_list.csv").read_text(encoding="utf-8")
    assert committed == write_text(compile_price_list(load_book()))


def test_every_assembly_has_an_item_and_every_part_a_row():
    book = load_book()
    assert set(assemblies()) == set(items())
    used = {part for parts in assemblies().values() for part in parts}
    assert used <= set(book.rows)
    idle = {name for name, row in book.rows.items() if row.group != "rate"} - used
    assert idle == {"task_survey_design_quote"}  # office hours, carried by overhead


def test_row_is_a_placeholder_until_every_figure_behind_it_is_the_companys_own():
    book = load_book()
    new = dt.date(2026, 12, 1)
    rows = dict(book.rows)
    for name in ("material_pad", "material_condensate_pump", "rate_gross_margin_target"):
        rows[name] = replace(rows[name], source="supplier quote", date=new)
    price_list = compile_price_list(CostBook(rows))
    assert not price_list.row("pad").is_placeholder
    assert price_list.row("pad").date == new
    assert price_list.row("condensate_pump").is_placeholder  # its hours and wage are still generic
    assert price_list.row("condensate_pump").date == dt.date(2026, 11, 25)


def test_margin_out_of_range_is_refused():
    for bad in ("1", "-0.1", "NaN"):
        with pytest.raises(ValueError, match="margin_frac"):
            compile_price_list(load_book(), Decimal(bad))


def test_a_rate_cannot_be_a_part():
    with pytest.raises(ValueError, match="'rate_electrician' is a rate"):
        cost_of_parts({"rate_electrician": Decimal(1)}, load_book(), Case.MID)


def odd_book() -> tuple[CostBook, set[str]]:
    """A book of odd figures that cannot come about by chance, and all of them as text."""
    rows, canaries = {}, set()
    for number, row in enumerate(load_book().rows.values()):
        if row.unit.startswith("usd"):
            figures = tuple(Decimal(f"{base}{number:03d}.37") for base in (41, 53, 67))
        elif row.unit == "frac":
            start = Decimal("0.4") if row.item != "rate_productive_share" else Decimal("0.6")
            step = Decimal("0.01") if row.item != "rate_productive_share" else Decimal("-0.01")
            figures = tuple(start + step * i + Decimal(f"0.000{number:03d}37") for i in range(3))
        else:
            figures = tuple(Decimal(f"{base}.{number:03d}37") for base in (2, 3, 4))
        rows[row.item] = replace(row, figures=figures)
        canaries |= {str(figure) for figure in figures}
    return CostBook(rows), canaries


def leaks(text: str, canaries: set[str]) -> set[str]:
    """Planted figures found among the numbers of a text; a planted 41012.37 also counts as 41012.370 or 41012.37000."""
    numbers = {Decimal(number) for number in re.findall(r"\d+(?:\.\d+)?", text)}
    return {canary for canary in canaries if Decimal(canary) in numbers}


def test_planted_costs_do_not_reach_the_list_or_a_priced_take_off():
    book, canaries = odd_book()
    price_list = compile_price_list(book)
    priced = price(take_off(pairs(head("a", 12), ducted("hall", 9, 3), room_heaters=("bath",))), price_list)
    assert leaks(write_text(price_list) + repr(priced), canaries) == set()
    assert not [name for name in book.rows if name in write_text(price_list) + repr(priced)]


@pytest.mark.parametrize("cost", ["material_pad", "rate_technician_wage", "rate_gross_margin_target", "task_circuit"])
def test_the_search_finds_a_planted_leak(cost):
    book, canaries = odd_book()
    price_list = compile_price_list(book)
    leaked = replace(price_list.row("pad"), provenance=f"from {book.figure(cost, Case.MID)}")
    price_list.rows["pad"] = leaked
    assert leaks(write_text(price_list), canaries) == {str(book.figure(cost, Case.MID))}


def test_the_search_finds_a_list_compiled_without_margin():
    book, canaries = odd_book()
    assert leaks(write_text(compile_price_list(book, Decimal(0))), canaries)


@pytest.mark.parametrize("broken", ["open", "replace"])
def test_failed_writing_leaves_the_old_list_whole(broken, tmp_path, monkeypatch):
    path = tmp_path / "list.csv"
    path.write_text("old", encoding="utf-8")

    def fail(*args, **kwargs):
        raise OSError("disk full")

    with monkeypatch.context() as patch:
        patch.setattr(Path, broken, fail)
        with pytest.raises(OSError, match="disk full"):
            write_price_list(load_book(), path)
    assert [(p.name, p.read_text(encoding="utf-8")) for p in tmp_path.iterdir()] == [("list.csv", "old")]
    write_price_list(load_book(), path)
    assert load_price_list(path).rows == load_price_list().rows
