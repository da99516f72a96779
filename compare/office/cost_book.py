"""The cost book: what materials, hours and rates cost the company. Office side only."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from enum import IntEnum
from pathlib import Path

from compare.prices.table import Row, TableError, packaged, parse_rows, read_file, read_table

COLUMNS = ("item", "group", "unit", "low", "mid", "high", "source", "date")
LABOUR_RATES = {"labour technician", "labour electrician"}
GROUPS = ("equipment", "material", "fee", "subcontract", "labour technician", "labour electrician", "rate")
FALLING = frozenset({"rate_productive_share"})
"""Rows whose low-cost end is the larger number: the more hours are productive, the less each costs."""
ABOVE_ZERO = frozenset({"rate_productive_share", "rate_technician_wage", "rate_electrician"})


class Case(IntEnum):
    """Which of the three figures of a row."""

    LOW = 0
    MID = 1
    HIGH = 2


@dataclass(frozen=True, slots=True)
class CostRow:
    """One row: dollars (unit begins with usd), person-hours (unit begins with h) or a share (unit frac)."""

    item: str
    group: str
    unit: str
    figures: tuple[Decimal, Decimal, Decimal]
    source: str
    date: dt.date

    @property
    def is_placeholder(self) -> bool:
        """Whether the company has not put in its own figure yet."""
        return self.source.lower().startswith("placeholder")

    @property
    def is_labour(self) -> bool:
        """Whether the row counts hours."""
        return self.group in LABOUR_RATES


@dataclass(frozen=True, slots=True)
class CostBook:
    """Rows by item."""

    rows: dict[str, CostRow]

    def row(self, item: str) -> CostRow:
        """Return a row, or raise `LookupError` naming it."""
        if item not in self.rows:
            raise LookupError(f"cost book: no row '{item}'; add it")
        return self.rows[item]

    def figure(self, item: str, case: Case) -> Decimal:
        """Return one of the three figures of a row."""
        return self.row(item).figures[case]

    def technician_usd_h(self, case: Case) -> Decimal:
        """Cost of a productive person-hour: wage x (1 + burden) / productive share, dollars an hour."""
        wage_usd_h = self.figure("rate_technician_wage", case)
        burden_frac = self.figure("rate_labour_burden", case)
        return wage_usd_h * (1 + burden_frac) / self.figure("rate_productive_share", case)

    def hour_usd(self, item: str, case: Case) -> Decimal:
        """Cost of an hour of the trade that does this task, dollars an hour."""
        if self.row(item).group == "labour electrician":
            return self.figure("rate_electrician", case)
        return self.technician_usd_h(case)


def _parse(row: Row) -> CostRow:
    item, group, unit = row.text("item"), row.text("group"), row.text("unit")
    low, mid, high = figures = (row.number("low"), row.number("mid"), row.number("high"))
    problems = []
    if group not in GROUPS:
        problems.append(f"{row.where}: group '{group}' is not one of {', '.join(GROUPS)}")
    if not (high <= mid <= low if item in FALLING else low <= mid <= high):
        order = "low >= mid >= high" if item in FALLING else "low <= mid <= high"
        problems.append(f"{row.where}: {item} needs {order}, has {low}, {mid}, {high}")
    if unit == "frac" and max(figures) >= 1:
        problems.append(f"{row.where}: {item} is a share and must be under 1; write 40 % as 0.40")
    if item in ABOVE_ZERO and min(figures) == 0:
        problems.append(f"{row.where}: {item} must be above zero")
    if problems:
        raise TableError(problems)
    return CostRow(item, group, unit, figures, row.text("source"), row.date("date"))


def _read(text: str, name: str) -> list[tuple[str, CostRow]]:
    table = read_table(text, name, COLUMNS)
    parsed = parse_rows(table, _parse)
    seen: set[str] = set()
    pairs = [(source.where, row) for source, row in zip(table.rows, parsed, strict=True)]
    problems = []
    for where, row in pairs:
        if row.item in seen:
            problems.append(f"{where}: item '{row.item}' stands twice; keep one row")
        seen.add(row.item)
    if problems:
        raise TableError(problems)
    return pairs


def generic_book() -> CostBook:
    """Return the generic, invented cost book shipped with the program; every row is a placeholder."""
    pairs = _read(packaged("compare.data.office", "cost_book.csv"), "cost_book.csv")
    return CostBook({row.item: row for _, row in pairs})


def load_book(path: Path | None = None) -> CostBook:
    """Return the generic book with the rows of a company's own file in place of the generic ones.

    Raises
    ------
    TableError
        Every fault with file and line: unknown or repeated item, wrong unit or group, negative, non-finite or badly
        ordered figures, a share of 1 or more, a bad date, an empty source.
    """
    book = generic_book()
    if path is None:
        return book
    rows = dict(book.rows)
    problems: list[str] = []
    for where, row in _read(read_file(path), str(path)):
        problems.extend(_misfits(where, row, book))
        rows[row.item] = row
    if problems:
        raise TableError(problems)
    return CostBook(rows)


def _misfits(where: str, row: CostRow, book: CostBook) -> list[str]:
    if row.item not in book.rows:
        return [f"{where}: item '{row.item}' is not in the cost book; correct the name or take the row out"]
    known = book.rows[row.item]
    problems = []
    if row.unit != known.unit:
        problems.append(f"{where}: {row.item} is in '{known.unit}', not '{row.unit}'; convert the figures")
    if row.group != known.group and not (row.is_labour and known.is_labour):
        problems.append(f"{where}: {row.item} belongs to group '{known.group}', not '{row.group}'")
    return problems
