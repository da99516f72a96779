"""The take-off items: what can be counted, in which unit, and which items move together in price."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from compare.prices.table import Row, TableError, packaged, parse_rows, read_table

COLUMNS = ("item", "unit", "family", "label")
UNITS = ("each", "ft", "lb", "job")


@dataclass(frozen=True, slots=True)
class Item:
    """One kind of quantity.

    Parameters
    ----------
    item : name used in take-off and price list.
    unit : each, ft, lb or job; the trade buys lines by the foot and refrigerant by the pound.
    family : items whose prices rise and fall together (see `compare.prices.spread`).
    label : words for documents.
    """

    item: str
    unit: str
    family: str
    label: str


def _parse(row: Row) -> Item:
    unit = row.text("unit")
    if unit not in UNITS:
        raise TableError([f"{row.where}: unit '{unit}' is not one of {', '.join(UNITS)}"])
    return Item(row.text("item"), unit, row.text("family"), row.text("label"))


@lru_cache(maxsize=1)
def items() -> dict[str, Item]:
    """Return every take-off item by name, in the order of the table."""
    table = read_table(packaged("compare.data.prices", "items.csv"), "items.csv", COLUMNS)
    return {item.item: item for item in parse_rows(table, _parse)}


@lru_cache(maxsize=1)
def families() -> tuple[str, ...]:
    """Return the families in the order of the table."""
    return tuple(dict.fromkeys(item.family for item in items().values()))
