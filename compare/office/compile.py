"""From cost book and margin policy to the price list that the customer side prices with. Office side only."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from pathlib import Path

from compare.office.cost_book import Case, CostBook, CostRow
from compare.office.margin import price_usd
from compare.prices.items import items
from compare.prices.price_list import PLACEHOLDER, PriceList, PriceRow, write_text
from compare.prices.table import TableError, cents, packaged, parse_rows, read_table
from compare.prices.takeoff import Quantity

COLUMNS = ("item", "part", "amount")
OWN = "company price list"
Parts = dict[str, Decimal]


@dataclass(frozen=True, slots=True)
class CaseCost:
    """Direct cost of some work in one case of the book: dollars and person-hours, unrounded."""

    equipment_usd: Decimal
    materials_usd: Decimal
    hours_h: Decimal
    labour_usd: Decimal

    @property
    def direct_usd(self) -> Decimal:
        """Equipment, materials (with fees and subcontracts) and labour."""
        return self.equipment_usd + self.materials_usd + self.labour_usd


@dataclass(frozen=True, slots=True)
class JobCost:
    """Direct cost of a take-off at the low, mid and high end of the book. Plain sums: the ends are extremes."""

    low: CaseCost
    mid: CaseCost
    high: CaseCost


@lru_cache(maxsize=1)
def assemblies() -> dict[str, Parts]:
    """Return what one unit of each take-off item is made of: cost-book rows and amounts."""
    table = read_table(packaged("compare.data.office", "assemblies.csv"), "assemblies.csv", COLUMNS)
    rows = parse_rows(table, lambda row: (row.where, row.text("item"), row.text("part"), row.number("amount")))
    found: dict[str, Parts] = {}
    for where, item, part, amount in rows:
        if part in found.setdefault(item, {}):
            raise TableError([f"{where}: part '{part}' of '{item}' stands twice; keep one row"])
        found[item][part] = amount
    strange, missing = sorted(set(found) - set(items())), sorted(set(items()) - set(found))
    if strange or missing:
        raise TableError([f"assemblies.csv: not take-off items: {strange}; items without parts: {missing}"])
    return found


def _money_per(row: CostRow, book: CostBook, case: Case) -> tuple[str, Decimal]:
    if row.is_labour:
        return "labour", row.figures[case] * book.hour_usd(row.item, case)
    return ("equipment" if row.group == "equipment" else "materials"), row.figures[case]


def cost_of_parts(parts: Mapping[str, Decimal], book: CostBook, case: Case) -> CaseCost:
    """Add up cost-book rows; `parts` holds the amount of each in the row's unit (hours "per 10 ft": tens of feet)."""
    money = {"equipment": Decimal(0), "materials": Decimal(0), "labour": Decimal(0)}
    hours_h = Decimal(0)
    for item, amount in parts.items():
        row = book.row(item)
        if row.group == "rate":
            raise ValueError(f"'{item}' is a rate and cannot be a part of an assembly")
        kind, each_usd = _money_per(row, book, case)
        money[kind] += amount * each_usd
        hours_h += amount * row.figures[case] if row.is_labour else 0
    return CaseCost(money["equipment"], money["materials"], hours_h, money["labour"])


def job_cost(quantities: Iterable[Quantity], book: CostBook) -> JobCost:
    """Return the direct cost of a take-off at the three ends of the book."""
    parts: Parts = {}
    for quantity in quantities:
        for part, amount in assemblies()[quantity.item].items():
            parts[part] = parts.get(part, Decimal(0)) + amount * quantity.amount
    low, mid, high = (cost_of_parts(parts, book, case) for case in Case)
    return JobCost(low, mid, high)


def compile_price_list(book: CostBook, margin_frac: Decimal | None = None) -> PriceList:
    """Price every take-off item: direct cost / (1 - gross margin), to the cent.

    The margin is policy and the same for the low, mid and high end of the cost; by default the book's target at mid.
    A row is a placeholder as long as one of the figures behind it is; its date is the oldest of theirs.

    Raises
    ------
    ValueError
        A margin outside 0 to below 1.
    """
    margin = book.figure("rate_gross_margin_target", Case.MID) if margin_frac is None else margin_frac
    rows: dict[str, PriceRow] = {}
    for item, parts in assemblies().items():
        low, mid, high = (cents(price_usd(cost_of_parts(parts, book, case).direct_usd, margin)) for case in Case)
        behind = _behind(parts, book)
        provenance = PLACEHOLDER if any(row.is_placeholder for row in behind) else OWN
        rows[item] = PriceRow(item, items()[item].unit, low, mid, high, provenance, min(row.date for row in behind))
    return PriceList("compiled price list", {item: rows[item] for item in items()})


def _behind(parts: Parts, book: CostBook) -> list[CostRow]:
    """Cost-book rows behind an item, with the rates its labour rests on and the margin."""
    names = set(parts) | {"rate_gross_margin_target"}
    groups = {book.row(part).group for part in parts}
    if "labour technician" in groups:
        names |= {"rate_technician_wage", "rate_labour_burden", "rate_productive_share"}
    if "labour electrician" in groups:
        names |= {"rate_electrician"}
    return [book.row(name) for name in sorted(names)]


def write_price_list(book: CostBook, path: Path, margin_frac: Decimal | None = None) -> None:
    """Compile the list and write it: the file holds the old or the new list whole, whatever fails."""
    text = write_text(compile_price_list(book, margin_frac))
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        with part.open("w", encoding="utf-8", newline="") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
