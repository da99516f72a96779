"""The compiled price list, and the price of a take-off: prices only, never what lies behind them."""

from __future__ import annotations

import csv
import datetime as dt
import io
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from pathlib import Path

from compare.prices.items import items
from compare.prices.spread import Spread, range_usd, sampled_totals_usd
from compare.prices.table import CENT, Row, TableError, cents, packaged, parse_rows, read_file, read_table
from compare.prices.takeoff import Quantities, Quantity

COLUMNS = ("item", "unit", "low_usd", "mid_usd", "high_usd", "provenance", "date")
PLACEHOLDER = "placeholder, generic cost book; edit"
__all__ = ["Price", "PriceLine", "PriceList", "PriceRow", "load_price_list", "price", "sample_usd", "write_text"]


@dataclass(frozen=True, slots=True)
class PriceRow:
    """Installed unit price of one take-off item, dollars per unit; `provenance` begins with placeholder when it is."""

    item: str
    unit: str
    low_usd: Decimal
    mid_usd: Decimal
    high_usd: Decimal
    provenance: str
    date: dt.date

    @property
    def is_placeholder(self) -> bool:
        """Whether nobody has stood up for this figure yet."""
        return self.provenance.lower().startswith("placeholder")


@dataclass(frozen=True, slots=True)
class PriceList:
    """Unit prices by item; `name` tells where it came from."""

    name: str
    rows: dict[str, PriceRow]

    def row(self, item: str) -> PriceRow:
        """Return the row of an item, or raise `LookupError` naming the cure."""
        if item not in self.rows:
            raise LookupError(f"{self.name}: no price for '{item}'; add the row or compile the list again")
        return self.rows[item]


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One priced quantity; low and high are its share of the total's range, so each column sums to the total."""

    item: str
    label: str
    amount: Decimal
    unit: str
    unit_usd: Decimal
    low_usd: Decimal
    mid_usd: Decimal
    high_usd: Decimal
    note: str


@dataclass(frozen=True, slots=True)
class Price:
    """Installed price of a job, dollars; each column of `lines` sums to its total to the cent.

    `mid_usd` is the sum at mid prices. `low_usd` and `high_usd` come from joint sampling (`compare.prices.spread`).
    `is_estimate` is true when any line rests on a placeholder: a document with this price is headed Estimate.
    `oldest` is the date of the oldest price used, None when nothing was priced.
    """

    low_usd: Decimal
    mid_usd: Decimal
    high_usd: Decimal
    lines: tuple[PriceLine, ...]
    is_estimate: bool
    oldest: dt.date | None


def _parse(row: Row) -> PriceRow:
    name, unit = row.text("item"), row.text("unit")
    known = items()
    if name not in known:
        raise TableError([f"{row.where}: item '{name}' is not a take-off item; correct the name or take the row out"])
    if unit != known[name].unit:
        raise TableError([f"{row.where}: {name} is priced per '{known[name].unit}', not per '{unit}'"])
    low, mid, high = (row.number(column) for column in ("low_usd", "mid_usd", "high_usd"))
    if not low <= mid <= high:
        raise TableError([f"{row.where}: {name} needs low <= mid <= high, has {low}, {mid}, {high}"])
    if any(value != cents(value) for value in (low, mid, high)):
        raise TableError([f"{row.where}: {name} has a price with fractions of a cent; round it"])
    return PriceRow(name, unit, low, mid, high, row.text("provenance"), row.date("date"))


def load_price_list(path: Path | None = None) -> PriceList:
    """Load a price list, the one shipped with the program when no path is given.

    Raises
    ------
    TableError
        Any fault, each with file and line: foreign column (a list holds prices only), unknown or repeated item, wrong
        unit, negative or non-finite price, low above mid or mid above high, fractions of a cent.
    """
    name = str(path) if path else "price_list.csv"
    text = read_file(path) if path else packaged("compare.data.prices", "price_list.csv")
    rows: dict[str, PriceRow] = {}
    table = read_table(text, name, COLUMNS)
    for source, row in zip(table.rows, parse_rows(table, _parse), strict=True):
        if row.item in rows:
            raise TableError([f"{source.where}: item '{row.item}' stands twice; keep one row"])
        rows[row.item] = row
    if not rows:
        raise TableError([f"{name}: holds no prices"])
    return PriceList(name, rows)


def write_text(price_list: PriceList) -> str:
    """Return the list as CSV text, the form `load_price_list` reads."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in price_list.rows.values():
        figures = (f"{row.low_usd:.2f}", f"{row.mid_usd:.2f}", f"{row.high_usd:.2f}")
        writer.writerow((row.item, row.unit, *figures, row.provenance, row.date.isoformat()))
    return out.getvalue()


def price(quantities: Quantities, price_list: PriceList) -> Price:
    """Price a take-off.

    Raises
    ------
    LookupError
        An item without a price.
    ValueError
        A quantity in another unit than its price.
    """
    rows = [_matching(quantity, price_list) for quantity in quantities]
    plain = [_extremes(quantity, row) for quantity, row in zip(quantities, rows, strict=True)]
    mid = sum((p[1] for p in plain), Decimal(0))
    low_end, high_end = range_usd(_by_family(quantities, plain))
    low = _share([p[1] - p[0] for p in plain], mid - min(cents(Decimal(low_end)), mid))
    high = _share([p[2] - p[1] for p in plain], max(cents(Decimal(high_end)), mid) - mid)
    lines = tuple(
        PriceLine(
            item=quantity.item,
            label=items()[quantity.item].label,
            amount=quantity.amount,
            unit=quantity.unit,
            unit_usd=row.mid_usd,
            low_usd=own[1] - fall,
            mid_usd=own[1],
            high_usd=own[1] + rise,
            note=quantity.note,
        )
        for quantity, row, own, fall, rise in zip(quantities, rows, plain, low, high, strict=True)
    )
    return Price(
        low_usd=mid - sum(low, Decimal(0)),
        mid_usd=mid,
        high_usd=mid + sum(high, Decimal(0)),
        lines=lines,
        is_estimate=any(row.is_placeholder for row in rows),
        oldest=min((row.date for row in rows), default=None),
    )


def sample_usd(quantities: Quantities, price_list: PriceList) -> tuple[float, ...]:
    """Return the sampled totals of a take-off, dollars; draw k is the same luck for every take-off."""
    rows = [_matching(quantity, price_list) for quantity in quantities]
    plain = [_extremes(quantity, row) for quantity, row in zip(quantities, rows, strict=True)]
    return tuple(sampled_totals_usd(_by_family(quantities, plain)).tolist())


Extremes = tuple[Decimal, Decimal, Decimal]


def _matching(quantity: Quantity, price_list: PriceList) -> PriceRow:
    row = price_list.row(quantity.item)
    if row.unit != quantity.unit:
        raise ValueError(f"{quantity.item}: counted in '{quantity.unit}' but priced per '{row.unit}'")
    return row


def _extremes(quantity: Quantity, row: PriceRow) -> Extremes:
    low, mid, high = (cents(quantity.amount * unit) for unit in (row.low_usd, row.mid_usd, row.high_usd))
    return low, mid, high


def _by_family(quantities: Quantities, plain: list[Extremes]) -> dict[str, Spread]:
    sums: dict[str, Spread] = {}
    for quantity, (low, mid, high) in zip(quantities, plain, strict=True):
        family = items()[quantity.item].family
        old = sums.get(family, Spread(0.0, 0.0, 0.0))
        sums[family] = Spread(old.low_usd + float(low), old.mid_usd + float(mid), old.high_usd + float(high))
    return sums


def _share(room: list[Decimal], total: Decimal) -> list[Decimal]:
    """Split `total` cents in proportion to `room`; the cents left over go one each to the largest remainders."""
    whole = sum(room, Decimal(0))
    if not whole or not total:
        return [Decimal(0)] * len(room)
    exact = [part * total / whole for part in room]
    floors = [part.quantize(CENT, rounding=ROUND_FLOOR) for part in exact]
    left = int((total - sum(floors, Decimal(0))) / CENT)
    order = sorted(range(len(room)), key=lambda i: (floors[i] - exact[i], i))
    for i in order[:left]:
        floors[i] += CENT
    return floors
