"""Direct cost of an option, part by part in whole cents, so that lines, groups and total agree to the cent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from compare.office.compile import assemblies
from compare.office.cost_book import Case, CostBook, CostRow
from compare.prices.quantity import Quantity
from compare.prices.table import cents

KINDS = ("equipment", "materials", "labour")
ORDER = ("equipment", "material", "fee", "subcontract", "labour technician", "labour electrician")


@dataclass(frozen=True, slots=True)
class PartCost:
    """One cost-book row in one counted quantity: dollars in whole cents for low, mid and high, and person-hours."""

    quantity: Quantity
    row: CostRow
    usd: tuple[Decimal, Decimal, Decimal]
    hours_h: Decimal

    @property
    def kind(self) -> str:
        """Equipment, materials (with fees and subcontracts) or labour."""
        if self.row.is_labour:
            return "labour"
        return "equipment" if self.row.group == "equipment" else "materials"


def part_costs(quantities: Iterable[Quantity], book: CostBook) -> tuple[PartCost, ...]:
    """Cost every part of every quantity, in the order of the take-off."""
    found = []
    for quantity in quantities:
        for part, each in assemblies()[quantity.item].items():
            row = book.row(part)
            amount = each * quantity.amount
            low, mid, high = (cents(amount * _unit_usd(row, book, case)) for case in Case)
            hours_h = amount * row.figures[Case.MID] if row.is_labour else Decimal(0)
            found.append(PartCost(quantity, row, (low, mid, high), hours_h))
    return tuple(found)


def _unit_usd(row: CostRow, book: CostBook, case: Case) -> Decimal:
    return row.figures[case] * (book.hour_usd(row.item, case) if row.is_labour else 1)


def total_usd(parts: Iterable[PartCost], case: Case = Case.MID) -> Decimal:
    """Direct cost."""
    return sum((part.usd[case] for part in parts), Decimal(0))


def total_hours_h(parts: Iterable[PartCost]) -> Decimal:
    """Person-hours at the mid of the book."""
    return sum((part.hours_h for part in parts), Decimal(0))


def by_group(parts: Iterable[PartCost]) -> dict[str, tuple[Decimal, Decimal, Decimal]]:
    """Low, mid and high of each cost-book group that occurs, in the book's order. Plain sums: the ends are extremes."""
    sums = {group: [Decimal(0)] * 3 for group in ORDER}
    for part in parts:
        sums[part.row.group] = [old + new for old, new in zip(sums[part.row.group], part.usd, strict=True)]
    return {group: (low, mid, high) for group, (low, mid, high) in sums.items() if high}


def hours_by_task(parts: Iterable[PartCost]) -> dict[str, Decimal]:
    """Person-hours of each task at the mid of the book, for comparing with what was booked."""
    sums: dict[str, Decimal] = {}
    for part in parts:
        if part.row.is_labour:
            sums[part.row.item] = sums.get(part.row.item, Decimal(0)) + part.hours_h
    return sums
