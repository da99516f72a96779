"""Odd cost figures that a customer must never see, and a search for them in any text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal

from compare.office.compile import assemblies, cost_of_parts, job_cost
from compare.office.cost_book import Case, CostBook, load_book
from compare.prices.price_list import Price
from compare.prices.takeoff import Quantity

FORBIDDEN_WORDS = {
    "cost", "costs", "margin", "markup", "supplier", "wholesale", "wage", "labour", "labor", "overhead", "profit"
}  # fmt: skip
"""Words of the office: no field of a customer's view is named with one."""

ODD_MARGIN = Decimal("0.41937")
ODD_USD = Decimal("0.0713")
"""Added to every figure of the book, so that its costs have decimals that occur nowhere else."""
LARGE_USD = Decimal(50)
CENT = Decimal("0.01")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")
TOKEN = "supplier-net-9c1f"


def odd_book() -> CostBook:
    """The generic cost book with a rare amount on top of each figure, and a source that nobody else writes."""
    rows = {}
    for place, (item, row) in enumerate(load_book().rows.items()):
        more = Decimal(0) if row.unit == "frac" else ODD_USD + place * Decimal("0.0011")
        rows[item] = replace(row, figures=tuple(figure + more for figure in row.figures), source=f"placeholder {TOKEN}")
    return CostBook(rows)


def secrets(book: CostBook, jobs: Iterable[tuple[Price, tuple[Quantity, ...]]]) -> set[Decimal]:
    """Every figure of the office: rows of the book, cost of each item and job, what is earned, the margin."""
    found = {figure for row in book.rows.values() if row.unit != "frac" for figure in row.figures}
    for parts in assemblies().values():
        found |= {cost_of_parts(parts, book, case).direct_usd for case in Case}
    for price, quantities in jobs:
        cost = job_cost(quantities, book)
        for case in (cost.low, cost.mid, cost.high):
            found |= {case.direct_usd, case.equipment_usd, case.materials_usd, case.labour_usd}
        found.add(price.mid_usd - cost.mid.direct_usd)
    return {figure for figure in found if figure != figure.to_integral_value()} | {ODD_MARGIN}


def _marks(figure: Decimal) -> set[Decimal]:
    """What gives a figure away: its first six digits, and large ones also to the cent."""
    marks = {Decimal(f"{figure:.5e}")}
    if abs(figure) >= LARGE_USD:
        marks.add(figure.quantize(CENT, ROUND_HALF_EVEN))
    return marks


def leaked(text: str, hidden: Iterable[Decimal]) -> set[Decimal]:
    """The hidden figures that stand anywhere in a text, also within its words.

    A number with more than two decimals must agree in six digits; a sum of dollars and cents gives a figure away by
    itself.
    """
    shown = {Decimal(number) for number in NUMBER.findall(text)}
    written = {n if n == n.quantize(CENT) else Decimal(f"{n:.5e}") for n in shown}
    return {figure for figure in hidden if _marks(figure) & written}
