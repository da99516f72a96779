"""Dated rebates with their conditions: what a job gets, and in words why not. Public figures, no cost behind them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from pathlib import Path

from compare.prices.table import Row, TableError, cents, packaged, parse_rows, read_file, read_table

COLUMNS = (
    "id",
    "programme",
    "kind",
    "amount",
    "most_usd",
    "size_from_kbtuh",
    "cover_from_frac",
    "valid_from",
    "valid_to",
    "condition",
    "source",
    "checked_on",
)
TON_KBTUH = Decimal(12)


class RebateKind(StrEnum):
    """What the amount of a rebate is."""

    FIXED = "fixed"
    """Dollars for the job."""
    PER_TON = "per ton"
    """Dollars for each 12,000 Btu/h of nominal outdoor size."""
    SHARE = "share"
    """A share of the price."""


@dataclass(frozen=True, slots=True)
class Rebate:
    """One programme's offer; a size or cover of zero sets no condition."""

    id: str
    programme: str
    kind: RebateKind
    amount: Decimal
    most_usd: Decimal
    size_from_kbtuh: Decimal
    """Least nominal size of all outdoor units together, thousands of Btu/h."""
    cover_from_frac: Decimal
    """Least output at the heating design temperature over the design load."""
    valid_from: dt.date
    valid_to: dt.date
    condition: str
    source: str
    checked_on: dt.date

    def without_size_rule(self) -> Rebate:
        """The same offer as if it set no least size."""
        return replace(self, size_from_kbtuh=Decimal(0))


@dataclass(frozen=True, slots=True)
class RebateFacts:
    """What a rebate asks of a job."""

    price_usd: Decimal
    size_kbtuh: Decimal
    cover_frac: Decimal
    on: dt.date
    """Day of installation, as far as it is known."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one rebate gives one job; `missing` says in words what it lacks, `condition` what remains to be approved."""

    id: str
    programme: str
    amount_usd: Decimal
    missing: tuple[str, ...]
    short_kbtuh: Decimal
    """Nominal size that is missing for the size rule; zero when it is met."""
    condition: str
    valid_to: dt.date
    checked_on: dt.date

    @property
    def given(self) -> bool:
        """Whether all that can be checked is met; approval is the programme's."""
        return not self.missing


def outcome(rebate: Rebate, facts: RebateFacts) -> Outcome:
    """What a job gets from a rebate: to the cent, never more than its price."""
    missing = []
    if facts.on < rebate.valid_from:
        missing.append(f"begins on {rebate.valid_from.isoformat()}")
    if facts.on > rebate.valid_to:
        missing.append(f"ended on {rebate.valid_to.isoformat()}")
    short = max(Decimal(0), rebate.size_from_kbtuh - facts.size_kbtuh)
    if short:
        missing.append(f"asks for {rebate.size_from_kbtuh:f} kBtu/h outdoors, the layout has {facts.size_kbtuh:f}")
    if facts.cover_frac < rebate.cover_from_frac:
        asked, has = rebate.cover_from_frac, facts.cover_frac
        missing.append(f"asks for {asked:.0%} of the design load, the layout covers {has:.0%}")
    amount = Decimal(0) if missing else min(_amount_usd(rebate, facts), facts.price_usd)
    return Outcome(
        rebate.id,
        rebate.programme,
        cents(amount),
        tuple(missing),
        short,
        rebate.condition,
        rebate.valid_to,
        rebate.checked_on,
    )


def _amount_usd(rebate: Rebate, facts: RebateFacts) -> Decimal:
    per = {
        RebateKind.FIXED: Decimal(1),
        RebateKind.PER_TON: facts.size_kbtuh / TON_KBTUH,
        RebateKind.SHARE: facts.price_usd,
    }
    return min(rebate.amount * per[rebate.kind], rebate.most_usd)


def outcomes(rebates: Iterable[Rebate], facts: RebateFacts) -> tuple[Outcome, ...]:
    """Every rebate's outcome for one job."""
    return tuple(outcome(rebate, facts) for rebate in rebates)


def _parse(row: Row) -> Rebate:
    try:
        kind = RebateKind(row.text("kind"))
    except ValueError:
        words = ", ".join(RebateKind)
        raise TableError([f"{row.where}: kind '{row.text('kind')}' is not one of {words}"]) from None
    first, last = row.date("valid_from"), row.date("valid_to")
    shares = ("amount", "cover_from_frac") if kind is RebateKind.SHARE else ("cover_from_frac",)
    above = [column for column in shares if row.number(column) > 1]
    problems = [f"{row.where}: {column} is a share, at most 1; write 30 % as 0.30" for column in above]
    if last < first:
        problems.append(f"{row.where}: valid_to lies before valid_from; correct the dates")
    if problems:
        raise TableError(problems)
    return Rebate(
        row.text("id"),
        row.text("programme"),
        kind,
        row.number("amount"),
        row.number("most_usd"),
        row.number("size_from_kbtuh"),
        row.number("cover_from_frac"),
        first,
        last,
        row.text("condition"),
        row.text("source"),
        row.date("checked_on"),
    )


def load_rebates(path: Path | None = None) -> tuple[Rebate, ...]:
    """Rebates of a company's own table, or of the one shipped with the program.

    Raises
    ------
    TableError
        Every fault with file and line.
    """
    name = str(path) if path else "rebates.csv"
    text = read_file(path) if path else packaged("compare.data.prices", "rebates.csv")
    found = parse_rows(read_table(text, name, COLUMNS), _parse)
    ids = [rebate.id for rebate in found]
    twice = sorted({one for one in ids if ids.count(one) > 1})
    if twice:
        raise TableError([f"{name}: id '{one}' stands twice; keep one row" for one in twice])
    return found
