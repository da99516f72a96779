"""One counted quantity, and the feet in which the trade buys lines and ducts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from compare.prices.items import items

FT_M = Decimal("0.3048")
TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Quantity:
    """So much of one item, in the item's unit; `note` names the drawing item it was counted for."""

    item: str
    amount: Decimal
    unit: str
    note: str


Quantities = tuple[Quantity, ...]


def count(item: str, note: str, amount: int | Decimal = 1) -> Quantity:
    """Count so many of an item.

    Raises
    ------
    ValueError
        An item that is not in the table.
    """
    if item not in items():
        raise ValueError(f"{note}: there is no take-off item '{item}'; choose a kind and size from the item table")
    return Quantity(item, Decimal(amount), items()[item].unit, note)


def feet(length_m: float) -> Decimal:
    """A length in feet, to the tenth."""
    return (Decimal(repr(float(length_m))) / FT_M).quantize(TENTH, rounding=ROUND_HALF_UP)
