"""Change orders: written, priced from the list that the proposal froze, and agreed before the work begins."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from compare.jobs.canonical import canonical_text
from compare.jobs.disk import DISK, Disk, write_whole
from compare.jobs.status import Status, status_of
from compare.prices.items import items
from compare.prices.price_list import Price, PriceList, price
from compare.prices.quantity import Quantities, Quantity
from compare.prices.table import Row, TableError, parse_rows, read_file, read_table

FOLDER = "changes"
COLUMNS = ("item", "amount", "for")
LONGEST_REASON = 500


class ChangeError(ValueError):
    """A change order that cannot stand; the text names the cure."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change order. `agreed_on` is the day of the customer's signature, None while it is open."""

    number: int
    proposal: str
    written_on: dt.date
    agreed_on: dt.date | None
    reason: str
    lines: tuple[tuple[str, Decimal, str, Decimal], ...]
    """Item, amount, what it is for, price."""

    @property
    def price_usd(self) -> Decimal:
        """Sum of the lines."""
        return sum((line[3] for line in self.lines), Decimal(0))


@dataclass(frozen=True, slots=True)
class Wanted:
    """A change as it is written down: of which proposal, why, what, and when."""

    proposal: str
    reason: str
    quantities: Quantities
    on: dt.date


def load_quantities(path: Path) -> Quantities:
    """Quantities of a change from a CSV of item, amount and what it is for.

    Raises
    ------
    TableError
        Every fault with file and line.
    """

    def parse(row: Row) -> Quantity:
        name, amount = row.text("item"), row.number("amount")
        if name not in items():
            raise TableError([f"{row.where}: item '{name}' is not a take-off item; correct the name"])
        if not amount:
            raise TableError([f"{row.where}: amount is 0; take the row out"])
        return Quantity(name, amount, items()[name].unit, row.text("for"))

    found = parse_rows(read_table(read_file(path), str(path), COLUMNS), parse)
    if not found:
        raise TableError([f"{path}: holds no line"])
    return found


def write_change(job: Path, wanted: Wanted, prices: PriceList, disk: Disk = DISK) -> Change:
    """Write the next change order of an accepted job, open until it is agreed.

    Raises
    ------
    ChangeError
        A proposal that is not accepted, or a reason that is missing or too long.
    """
    proposal, reason = wanted.proposal, wanted.reason
    state = status_of(job, proposal)
    if state is None or state.status is not Status.ACCEPTED:
        raise ChangeError(f"proposal {proposal}: only an accepted one can be changed; before that issue a new proposal")
    if not reason.strip() or len(reason) > LONGEST_REASON:
        raise ChangeError(f"reason: write why the work changes, at most {LONGEST_REASON} signs")
    priced: Price = price(wanted.quantities, prices)
    lines = tuple((line.item, line.amount, line.note, line.mid_usd) for line in priced.lines)
    change = Change(len(changes(job)) + 1, proposal, wanted.on, None, reason, lines)
    _write(job, change, disk)
    return change


def agree(job: Path, number: int, on: dt.date, disk: Disk = DISK) -> Change:
    """Note the day on which the customer signed a change order.

    Raises
    ------
    ChangeError
        No such order, one that is agreed already, or a day before it was written.
    """
    found = next((change for change in changes(job) if change.number == number), None)
    if found is None:
        raise ChangeError(f"{job}: has no change order {number}")
    if found.agreed_on is not None:
        raise ChangeError(f"change order {number} was agreed on {found.agreed_on}")
    if on < found.written_on:
        raise ChangeError(f"change order {number} was written on {found.written_on}; it cannot be agreed before")
    agreed = Change(number, found.proposal, found.written_on, on, found.reason, found.lines)
    _write(job, agreed, disk)
    return agreed


def changes(job: Path) -> tuple[Change, ...]:
    """All change orders of a job by number.

    Raises
    ------
    ChangeError
        A file that cannot be read.
    """
    return tuple(_read(path) for path in sorted((job / FOLDER).glob("change-*.json")))


def _write(job: Path, change: Change, disk: Disk) -> None:
    body = {
        "number": change.number,
        "proposal": change.proposal,
        "written_on": change.written_on,
        "agreed_on": change.agreed_on,
        "reason": change.reason,
        "lines": [list(line) for line in change.lines],
        "price_usd": change.price_usd,
    }
    write_whole(job / FOLDER / f"change-{change.number:03d}.json", canonical_text(body), disk)


def _read(path: Path) -> Change:
    try:
        body = json.loads(path.read_text(encoding="utf-8"))
        agreed = body["agreed_on"]
        lines = tuple((str(i), Decimal(a), str(n), Decimal(usd)) for i, a, n, usd in body["lines"])
        change = Change(
            int(body["number"]),
            str(body["proposal"]),
            dt.date.fromisoformat(body["written_on"]),
            dt.date.fromisoformat(agreed) if agreed else None,
            str(body["reason"]),
            lines,
        )
    except (OSError, ValueError, KeyError, TypeError, ArithmeticError) as error:
        raise ChangeError(f"{path}: cannot be read ({error}); restore it from a copy") from None
    return change
