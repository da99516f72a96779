"""What a discount does to one option: price, margin, what is lost, and whether it needs approval."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from compare.office.margin import discounted, price_usd
from compare.office.view import OfficeOption

STEPS = (Decimal(0), Decimal("2.5"), Decimal(5), Decimal("7.5"), Decimal(10))
LARGEST_PCT = Decimal(50)
_NUMBER = re.compile(r"\d{1,2}(\.\d{1,2})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Effect:
    """A discount on one option. `lost_frac` is the share of the gross profit that it takes."""

    pct: Decimal
    price_usd: Decimal
    gross_profit_usd: Decimal
    margin_frac: Decimal
    lost_frac: Decimal
    per_crew_day_usd: Decimal
    risk_adjusted_usd: Decimal
    risk_adjusted_frac: Decimal
    needs_approval: bool
    floor_frac: Decimal
    floor_price_usd: Decimal
    largest_frac: Decimal


def percent_of(text: str) -> Decimal:
    """A discount as it is typed, in percent. ValueError for anything but 0 to 50 with two decimals at most."""
    kept = text.strip().removesuffix("%").strip().replace(",", ".")
    if not _NUMBER.fullmatch(kept) or Decimal(kept) > LARGEST_PCT:
        raise ValueError(f"discount: give a percentage from 0 to {LARGEST_PCT}")
    return Decimal(kept)


def effect(option: OfficeOption, pct: Decimal, floor_frac: Decimal) -> Effect | None:
    """What a discount does; None where the price leaves no gross profit to take it from."""
    margin = option.margin
    if option.price_usd <= margin.direct_usd:
        return None
    after = discounted(option.price_usd, margin.direct_usd, pct / 100, floor_frac)
    risk_adjusted_usd = after.gross_profit_usd - margin.expected_callback_usd
    return Effect(
        pct=pct,
        price_usd=after.price_usd,
        gross_profit_usd=after.gross_profit_usd,
        margin_frac=after.margin_frac,
        lost_frac=after.profit_lost_frac,
        per_crew_day_usd=after.gross_profit_usd / margin.crew_days,
        risk_adjusted_usd=risk_adjusted_usd,
        risk_adjusted_frac=risk_adjusted_usd / after.price_usd,
        needs_approval=after.needs_approval,
        floor_frac=floor_frac,
        floor_price_usd=floor_price_usd(option, floor_frac),
        largest_frac=margin.largest_discount_frac,
    )


def floor_price_usd(option: OfficeOption, floor_frac: Decimal) -> Decimal:
    """The lowest price without approval: that of the margin's floor, or today's price where it is below it."""
    return min(option.price_usd, price_usd(option.margin.direct_usd, floor_frac))
