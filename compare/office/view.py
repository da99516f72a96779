"""OfficeView: what the manager may see of a comparison. Every field is named here; nothing else passes."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from compare.views.plan_view import ViewModel


class RiskLine(ViewModel):
    """One risk of a return visit."""

    risk: str
    probability_frac: Decimal
    cost_usd: Decimal
    expected_usd: Decimal
    subjects: tuple[str, ...]
    """Rooms or units that carry it, worst first."""


class DiscountLine(ViewModel):
    """What a discount does."""

    discount_frac: Decimal
    price_usd: Decimal
    gross_profit_usd: Decimal
    margin_frac: Decimal
    profit_lost_frac: Decimal
    needs_approval: bool


class CostLine(ViewModel):
    """Direct cost of one priced line, by kind; the columns sum to the option's cost, unrounded parts apart."""

    item: str
    label: str
    amount: Decimal
    unit: str
    note: str
    price_usd: Decimal
    equipment_usd: Decimal
    materials_usd: Decimal
    labour_usd: Decimal
    hours_h: Decimal


class CostGroup(ViewModel):
    """Direct cost of one group of the cost book: equipment, material, fee, subcontract, labour."""

    group: str
    low_usd: Decimal
    mid_usd: Decimal
    high_usd: Decimal


class RebateLine(ViewModel):
    """What one dated rebate gives, or lacks."""

    id: str
    programme: str
    amount_usd: Decimal
    missing: tuple[str, ...]
    condition: str
    valid_to: dt.date
    checked_on: dt.date
    step_up_usd: Decimal | None = None
    """Extra price of units large enough for its size rule; None where the rule is met or out of reach."""
    step_up_oversize_ratio: float | None = None


class LifetimeLine(ViewModel):
    """Cost to the family over the horizon, present value."""

    horizon_y: int
    price_usd: Decimal
    rebate_usd: Decimal
    energy_usd: Decimal
    cleaning_usd: Decimal
    replacement_usd: Decimal
    left_usd: Decimal
    total_usd: Decimal


class MarginLine(ViewModel):
    """The manager's figures of one option at its price."""

    direct_usd: Decimal
    gross_profit_usd: Decimal
    margin_frac: Decimal
    markup_frac: Decimal
    hours_h: Decimal
    crew_days: Decimal
    profit_per_crew_day_usd: Decimal
    revenue_per_crew_day_usd: Decimal
    contribution_usd: Decimal
    expected_callback_usd: Decimal
    risk_adjusted_usd: Decimal
    risk_adjusted_frac: Decimal
    largest_discount_frac: Decimal
    """Without approval."""


class ComfortLine(ViewModel):
    """What the margin is weighed against."""

    comfort_score: float
    cold_rooms: tuple[str, ...]
    """Bedrooms more than 2 degF under their target at 6 a.m. on the coldest mornings."""
    draughty_rooms: tuple[str, ...]
    loudest_bed_dba: float | None
    oversize_ratio: float
    static_spare_frac: float | None
    """Least share of a ducted unit's static that stays free."""
    most_starts_per_y: float


class OfficeOption(ViewModel):
    """One option."""

    id: str
    family: str
    name: str
    place: int
    """0 when it is left out."""
    total: float
    price_low_usd: Decimal
    price_usd: Decimal
    price_high_usd: Decimal
    paid_usd: Decimal
    """After rebates, if approved."""
    cost: tuple[CostGroup, ...]
    lines: tuple[CostLine, ...]
    margin: MarginLine
    discounts: tuple[DiscountLine, ...]
    risks: tuple[RiskLine, ...]
    rebates: tuple[RebateLine, ...]
    lifetime: LifetimeLine
    comfort: ComfortLine


class SizeRuleLine(ViewModel):
    """What a rebate's least size does to the choice."""

    rebate: str
    winner_plain: str
    winner_with: str
    winner_free: str
    cheapest_with: str
    cheapest_free: str
    decides: bool
    text: str


class OfficeView(ViewModel):
    """All a manager may see of one comparison."""

    house: str
    place: str
    on: dt.date
    placeholder_costs: int
    """Rows of the cost book that are still generic."""
    floor_frac: Decimal
    options: tuple[OfficeOption, ...]
    """By rank, then those left out."""
    size_rules: tuple[SizeRuleLine, ...]

    def option(self, option_id: str) -> OfficeOption:
        """The option with that id; KeyError if none has it."""
        for option in self.options:
            if option.id == option_id:
                return option
        raise KeyError(option_id)
