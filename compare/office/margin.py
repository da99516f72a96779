"""Margin arithmetic, and what a job leaves once its risks are counted. Office side only.

Margin is a share of the *price*, mark-up a share of the *cost*: cost 1.00 sold at 1.50 is 50 % mark-up and 33.3 %
margin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from compare.office.cost_book import Case, CostBook

ZERO = Decimal(0)
ONE = Decimal(1)
CREW_PERSONS = Decimal(2)
CREW_DAY_H = Decimal(8)


def _share(name: str, value: Decimal) -> Decimal:
    if not (value.is_finite() and ZERO <= value < ONE):
        raise ValueError(f"{name} = {value}; give a share from 0 to below 1 (40 % is 0.40)")
    return value


def _amount(name: str, value: Decimal, above_zero: bool = False) -> Decimal:
    if not value.is_finite() or value < ZERO or (above_zero and value == ZERO):
        raise ValueError(f"{name} = {value}; give {'an amount above zero' if above_zero else 'zero or more'}")
    return value


def price_usd(cost_usd: Decimal, margin_frac: Decimal) -> Decimal:
    """Price at a gross margin: cost / (1 - margin), dollars, unrounded."""
    return _amount("cost_usd", cost_usd) / (ONE - _share("margin_frac", margin_frac))


def margin_frac(price_usd: Decimal, cost_usd: Decimal) -> Decimal:
    """Gross margin, a share of the price; negative when the job is sold under cost."""
    return (_amount("price_usd", price_usd, above_zero=True) - _amount("cost_usd", cost_usd)) / price_usd


def markup_frac(price_usd: Decimal, cost_usd: Decimal) -> Decimal:
    """Mark-up, a share of the cost."""
    return (_amount("price_usd", price_usd) - _amount("cost_usd", cost_usd, above_zero=True)) / cost_usd


def markup_of_margin_frac(margin_frac: Decimal) -> Decimal:
    """Mark-up that gives this margin: m / (1 - m)."""
    return _share("margin_frac", margin_frac) / (ONE - margin_frac)


def margin_of_markup_frac(markup_frac: Decimal) -> Decimal:
    """Margin that this mark-up gives: u / (1 + u)."""
    return _amount("markup_frac", markup_frac) / (ONE + markup_frac)


@dataclass(frozen=True, slots=True)
class Discount:
    """What a discount does: price and gross profit after it, and the share of the gross profit it takes."""

    price_usd: Decimal
    gross_profit_usd: Decimal
    margin_frac: Decimal
    profit_lost_frac: Decimal
    needs_approval: bool


def discounted(price_usd: Decimal, cost_usd: Decimal, discount_frac: Decimal, floor_frac: Decimal) -> Discount:
    """Take a discount off a price; below the margin `floor_frac` it needs approval.

    Raises
    ------
    ValueError
        A share outside 0 to below 1, or a price that leaves no gross profit to lose.
    """
    before_usd = price_usd - cost_usd
    if before_usd <= ZERO:
        raise ValueError("price_usd must be above cost_usd: without gross profit a discount has nothing to take from")
    after_usd = price_usd * (ONE - _share("discount_frac", discount_frac))
    left = margin_frac(after_usd, cost_usd)
    profit_usd = after_usd - cost_usd
    lost = (before_usd - profit_usd) / before_usd
    return Discount(after_usd, profit_usd, left, lost, left < _share("floor_frac", floor_frac))


def largest_discount_frac(price_usd: Decimal, cost_usd: Decimal, floor_frac: Decimal) -> Decimal:
    """Largest discount, a share of the price, that keeps the margin at or above the floor; never negative."""
    floor_price_usd = cost_usd / (ONE - _share("floor_frac", floor_frac))
    return max(ZERO, ONE - floor_price_usd / _amount("price_usd", price_usd, above_zero=True))


@dataclass(frozen=True, slots=True)
class Risk:
    """Something that may bring the crew back: cycling, draught, noise, static pressure, a cold room."""

    name: str
    probability_frac: Decimal
    cost_usd: Decimal


def expected_callback_usd(risks: Sequence[Risk]) -> Decimal:
    """Sum of probability x cost over the risks, dollars."""
    for risk in risks:
        _amount(f"{risk.name}: cost_usd", risk.cost_usd)
        if not (risk.probability_frac.is_finite() and ZERO <= risk.probability_frac <= ONE):
            raise ValueError(f"{risk.name}: probability_frac = {risk.probability_frac}; give a share from 0 to 1")
    return sum((risk.probability_frac * risk.cost_usd for risk in risks), ZERO)


@dataclass(frozen=True, slots=True)
class SellingCosts:
    """What each dollar of price pays before it is earned, shares of the price."""

    commission_frac: Decimal
    finance_fee_frac: Decimal
    warranty_reserve_frac: Decimal

    @property
    def total_frac(self) -> Decimal:
        """Sum of the shares."""
        return self.commission_frac + self.finance_fee_frac + self.warranty_reserve_frac


def selling_costs(book: CostBook, financed: bool = False) -> SellingCosts:
    """Return commission, fee (finance when `financed`, else card) and warranty reserve at the mid of the book."""
    fee = "rate_customer_finance_fee" if financed else "rate_card_fee"
    names = ("rate_sales_commission", fee, "rate_warranty_reserve")
    return SellingCosts(*(book.figure(name, Case.MID) for name in names))


@dataclass(frozen=True, slots=True)
class JobMargin:
    """A job in the manager's figures, dollars and shares of the price.

    `contribution_usd` is gross profit less commission, fee and warranty reserve. `risk_adjusted_usd` is gross profit
    less expected callbacks. A crew-day is two persons for eight hours.
    """

    price_usd: Decimal
    direct_usd: Decimal
    gross_profit_usd: Decimal
    margin_frac: Decimal
    markup_frac: Decimal
    crew_days: Decimal
    profit_per_crew_day_usd: Decimal
    contribution_usd: Decimal
    expected_callback_usd: Decimal
    risk_adjusted_usd: Decimal
    risk_adjusted_frac: Decimal


@dataclass(frozen=True, slots=True)
class JobMoney:
    """Price, direct cost and person-hours of one job."""

    price_usd: Decimal
    direct_usd: Decimal
    hours_h: Decimal


def job_margin(job: JobMoney, risks: Sequence[Risk], selling: SellingCosts) -> JobMargin:
    """Return the manager's figures of a job.

    Raises
    ------
    ValueError
        A price, cost or number of hours of zero, or a risk outside its range.
    """
    profit_usd = job.price_usd - job.direct_usd
    crew_days = _amount("hours_h", job.hours_h, above_zero=True) / (CREW_PERSONS * CREW_DAY_H)
    callbacks_usd = expected_callback_usd(risks)
    return JobMargin(
        price_usd=job.price_usd,
        direct_usd=job.direct_usd,
        gross_profit_usd=profit_usd,
        margin_frac=margin_frac(job.price_usd, job.direct_usd),
        markup_frac=markup_frac(job.price_usd, job.direct_usd),
        crew_days=crew_days,
        profit_per_crew_day_usd=profit_usd / crew_days,
        contribution_usd=profit_usd - job.price_usd * selling.total_frac,
        expected_callback_usd=callbacks_usd,
        risk_adjusted_usd=profit_usd - callbacks_usd,
        risk_adjusted_frac=(profit_usd - callbacks_usd) / job.price_usd,
    )
