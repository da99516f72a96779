"""OfficeView from a comparison and a cost book, field by field."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal

from compare.commands.tables import option_name
from compare.office.comfort import comfort_line
from compare.office.cost_book import Case, CostBook, load_book
from compare.office.costing import PartCost, by_group, part_costs, total_hours_h, total_usd
from compare.office.margin import (
    JobMargin,
    JobMoney,
    discounted,
    job_margin,
    largest_discount_frac,
    selling_costs,
)
from compare.office.risks import OptionRisk, RiskRule, load_rules, option_risks
from compare.office.view import (
    CostGroup,
    CostLine,
    DiscountLine,
    LifetimeLine,
    MarginLine,
    OfficeOption,
    OfficeView,
    RebateLine,
    RiskLine,
    SizeRuleLine,
)
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.prices.lifetime import Running, Upkeep, lifetime, load_upkeep
from compare.prices.price_list import PriceLine
from compare.prices.rebates import Rebate, load_rebates
from compare.prices.table import cents
from compare.prices.takeoff import take_off
from compare.rebate_choice import Paid, SizeRule, oversize_ratio, paid_prices, size_kbtuh, size_rules, step_up
from compare.scoring.ranking import Ranked

SHARE = Decimal("0.000001")
DISCOUNTS = (Decimal("0.025"), Decimal("0.05"), Decimal("0.10"))


@dataclass(frozen=True, slots=True)
class OfficeBasis:
    """All that the office view rests on besides the comparison."""

    on: dt.date
    """Day for which rebates and ages are looked at."""
    book: CostBook = field(default_factory=load_book)
    rules: tuple[RiskRule, ...] = field(default_factory=load_rules)
    rebates: tuple[Rebate, ...] = field(default_factory=load_rebates)
    upkeep: Upkeep = field(default_factory=load_upkeep)
    financed: bool = False

    @property
    def floor_frac(self) -> Decimal:
        """Margin below which a discount needs approval."""
        return self.book.figure("rate_gross_margin_floor", Case.MID)


def office_view(found: Comparison, basis: OfficeBasis) -> OfficeView:
    """All a manager may see of a comparison."""
    paid = {one.option_id: one for one in paid_prices(found, basis.rebates, basis.on)}
    ranking = found.rank()
    house = found.case.house
    return OfficeView(
        house=house.house.name,
        place=house.site.place,
        on=basis.on,
        placeholder_costs=sum(row.is_placeholder for row in basis.book.rows.values()),
        floor_frac=basis.floor_frac,
        options=tuple(office_option(found, basis, item, paid[item.option.option_id]) for item in ranking.ranked),
        size_rules=tuple(_size_rule(found, rule) for rule in size_rules(found, basis.rebates, basis.on)),
    )


def office_option(found: Comparison, basis: OfficeBasis, item: Ranked, paid: Paid) -> OfficeOption:
    """The office figures of one option."""
    result = found.by_id[item.option.option_id]
    option, measures = result.option, item.option.measures
    parts = part_costs(take_off(option.job), basis.book)
    risks = option_risks(measures, option, basis.book, basis.rules)
    money = JobMoney(option.price.mid_usd, total_usd(parts), total_hours_h(parts))
    margin = job_margin(money, [one.risk for one in risks], selling_costs(basis.book, basis.financed))
    return OfficeOption(
        id=option.key,
        family=option.family.value,
        name=option_name(option, [room.name for room in found.case.plan.rooms]),
        place=item.place,
        total=item.total,
        price_low_usd=option.price.low_usd,
        price_usd=option.price.mid_usd,
        price_high_usd=option.price.high_usd,
        paid_usd=paid.paid_usd,
        cost=tuple(
            CostGroup(group=name, low_usd=low, mid_usd=mid, high_usd=high)
            for name, (low, mid, high) in by_group(parts).items()
        ),
        lines=tuple(_lines(option.price.lines, parts)),
        margin=_margin(margin, money, basis.floor_frac),
        discounts=tuple(_discounts(money, basis.floor_frac)),
        risks=tuple(_risk(one) for one in risks),
        rebates=tuple(_rebates(found, basis, option, paid)),
        lifetime=_lifetime(option, measures.energy.bill_usd, basis.upkeep, paid),
        comfort=comfort_line(item.option, option, oversize_ratio(found, size_kbtuh(option))),
    )


def _share(value: Decimal) -> Decimal:
    return value.quantize(SHARE, rounding=ROUND_HALF_UP)


def _money(value: float | Decimal) -> Decimal:
    return cents(value if isinstance(value, Decimal) else Decimal(repr(value)))


def _lines(priced: tuple[PriceLine, ...], parts: tuple[PartCost, ...]) -> Iterator[CostLine]:
    """One line per priced quantity; take-off and price stand in the same order."""
    rest = list(parts)
    for line in priced:
        own = []
        while rest and (rest[0].quantity.item, rest[0].quantity.note) == (line.item, line.note):
            own.append(rest.pop(0))
        sums = {kind: total_usd(part for part in own if part.kind == kind) for kind in ("equipment", "materials")}
        yield CostLine(
            item=line.item,
            label=line.label,
            amount=line.amount,
            unit=line.unit,
            note=line.note,
            price_usd=line.mid_usd,
            equipment_usd=sums["equipment"],
            materials_usd=sums["materials"],
            labour_usd=total_usd(part for part in own if part.kind == "labour"),
            hours_h=total_hours_h(own),
        )


def _margin(margin: JobMargin, money: JobMoney, floor_frac: Decimal) -> MarginLine:
    return MarginLine(
        direct_usd=margin.direct_usd,
        gross_profit_usd=margin.gross_profit_usd,
        margin_frac=_share(margin.margin_frac),
        markup_frac=_share(margin.markup_frac),
        hours_h=money.hours_h,
        crew_days=_share(margin.crew_days),
        profit_per_crew_day_usd=_money(margin.profit_per_crew_day_usd),
        revenue_per_crew_day_usd=_money(money.price_usd / margin.crew_days),
        contribution_usd=_money(margin.contribution_usd),
        expected_callback_usd=_money(margin.expected_callback_usd),
        risk_adjusted_usd=_money(margin.risk_adjusted_usd),
        risk_adjusted_frac=_share(margin.risk_adjusted_frac),
        largest_discount_frac=_share(largest_discount_frac(money.price_usd, money.direct_usd, floor_frac)),
    )


def _discounts(money: JobMoney, floor_frac: Decimal) -> Iterator[DiscountLine]:
    """Usual discounts; none where there is no gross profit to take them from."""
    if money.price_usd <= money.direct_usd:
        return
    for frac in DISCOUNTS:
        after = discounted(money.price_usd, money.direct_usd, frac, floor_frac)
        yield DiscountLine(
            discount_frac=frac,
            price_usd=_money(after.price_usd),
            gross_profit_usd=_money(after.gross_profit_usd),
            margin_frac=_share(after.margin_frac),
            profit_lost_frac=_share(after.profit_lost_frac),
            needs_approval=after.needs_approval,
        )


def _risk(one: OptionRisk) -> RiskLine:
    risk = one.risk
    return RiskLine(
        risk=risk.name,
        probability_frac=risk.probability_frac,
        cost_usd=_money(risk.cost_usd),
        expected_usd=_money(risk.probability_frac * risk.cost_usd),
        subjects=tuple(name for name, _ in one.subjects),
    )


def _rebates(found: Comparison, basis: OfficeBasis, option: Option, paid: Paid) -> Iterator[RebateLine]:
    for rebate, got in zip(basis.rebates, paid.outcomes, strict=True):
        up = step_up(found, option, rebate, basis.on) if got.short_kbtuh else None
        yield RebateLine(
            id=got.id,
            programme=got.programme,
            amount_usd=got.amount_usd,
            missing=got.missing,
            condition=got.condition,
            valid_to=got.valid_to,
            checked_on=got.checked_on,
            step_up_usd=up.extra_usd if up else None,
            step_up_oversize_ratio=round(up.oversize_ratio, 3) if up else None,
        )


def _lifetime(option: Option, bill_usd: float, upkeep: Upkeep, paid: Paid) -> LifetimeLine:
    ducted = sum(zone.ducts is not None for zone in option.zones)
    running = Running(bill_usd, heads=len(option.zones) - ducted, ducted=ducted)
    cost = lifetime(option.price.lines, running, upkeep, float(paid.rebate_usd))
    return LifetimeLine(
        horizon_y=cost.horizon_y,
        price_usd=_money(cost.price_usd),
        rebate_usd=_money(cost.rebate_usd),
        energy_usd=_money(cost.energy_usd),
        cleaning_usd=_money(cost.cleaning_usd),
        replacement_usd=_money(cost.replacement_usd),
        left_usd=_money(cost.left_usd),
        total_usd=_money(cost.total_usd),
    )


def _size_rule(found: Comparison, rule: SizeRule) -> SizeRuleLine:
    rooms = [room.name for room in found.case.plan.rooms]

    def name(option_id: str) -> str:
        return option_name(found.by_id[option_id].option, rooms)

    if rule.decides:
        text = f"The least size that {rule.rebate_id} asks for picks the layout: with it {name(rule.winner_with)}; "
        text += f"without that rule {name(rule.winner_free)}."
    else:
        text = f"The least size that {rule.rebate_id} asks for does not change the choice."
    return SizeRuleLine(
        rebate=rule.rebate_id,
        winner_plain=rule.winner_plain,
        winner_with=rule.winner_with,
        winner_free=rule.winner_free,
        cheapest_with=rule.cheapest_with,
        cheapest_free=rule.cheapest_free,
        decides=rule.decides,
        text=text,
    )
