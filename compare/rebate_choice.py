"""What rebates do to the choice: the price a family pays, and whether a programme's least size picks the layout."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from compare.options.option import Option
from compare.pipeline import Comparison
from compare.prices.items import items
from compare.prices.price_list import PriceList
from compare.prices.rebates import Outcome, Rebate, RebateFacts, outcomes
from compare.scoring.measures import price_ratio
from compare.scoring.ranking import rank
from compare.scoring.scores import OptionScore, score_measures
from compare.scoring.weights import Weights

LEAST_PAID_USD = Decimal(1)
"""A price that a rebate covers whole counts a dollar: scores divide by it."""


@dataclass(frozen=True, slots=True)
class Paid:
    """One option's price before and after what it gets."""

    option_id: str
    price_usd: Decimal
    rebate_usd: Decimal
    outcomes: tuple[Outcome, ...]
    size_kbtuh: Decimal
    oversize_ratio: float
    """Nominal outdoor size over the house's design load, the larger of heating and cooling."""

    @property
    def paid_usd(self) -> Decimal:
        """What the family pays if every rebate counted is approved."""
        return self.price_usd - self.rebate_usd


@dataclass(frozen=True, slots=True)
class SizeRule:
    """What one programme's least size does here."""

    rebate_id: str
    winner_plain: str
    """Best option without any rebate."""
    winner_with: str
    """Best option with the rebate as it stands."""
    winner_free: str
    """Best option if the rebate asked for no least size."""
    cheapest_with: str
    """Lowest price paid with the rebate as it stands."""
    cheapest_free: str
    """Lowest price paid if it asked for no least size."""

    @property
    def decides(self) -> bool:
        """Whether the size rule, not the house, picks the layout."""
        return self.winner_with != self.winner_free


@dataclass(frozen=True, slots=True)
class StepUp:
    """The least extra price for outdoor units large enough for a size rule, and what it brings."""

    option_id: str
    extra_usd: Decimal
    rebate_usd: Decimal
    size_kbtuh: Decimal
    oversize_ratio: float

    @property
    def pays(self) -> bool:
        """Whether the rebate is worth more than the larger units cost, before what they lose by cycling."""
        return self.rebate_usd > self.extra_usd


def size_kbtuh(option: Option) -> Decimal:
    """Nominal size of all outdoor units together, thousands of Btu/h."""
    return Decimal(sum(round(group.outdoor.size_kbtuh) for group in option.outdoor.groups))


def oversize_ratio(found: Comparison, kbtuh: Decimal) -> float:
    """Nominal size over the larger design load of the house."""
    loads = found.case.loads.house
    load_w = max(loads.heat_w, loads.cool_total_w)
    return float(kbtuh) * 1000.0 * 0.2930711 / load_w if load_w > 0.0 else math.inf


def house_cover_frac(found: Comparison, option: Option) -> float:
    """Heat that the units give at design over the whole house's load, each zone counted up to its own need."""
    load_w = found.case.loads.house.heat_w
    given_w = math.fsum(min(option.cover(i).heat_frac, 1.0) * zone.demand.heat_w for i, zone in enumerate(option.zones))
    return min(given_w / load_w, 1.0) if load_w > 0.0 else 1.0


def paid_prices(found: Comparison, rebates: Iterable[Rebate], on: dt.date) -> tuple[Paid, ...]:
    """Every option's price before and after the rebates of a day; programmes add up unless their condition says no."""
    offers = tuple(rebates)
    rows = []
    for option in found.options:
        kbtuh, price_usd = size_kbtuh(option), option.price.mid_usd
        cover = Decimal(repr(round(house_cover_frac(found, option), 6)))
        got = outcomes(offers, RebateFacts(price_usd, kbtuh, cover, on))
        total = min(sum((one.amount_usd for one in got), Decimal(0)), price_usd)
        rows.append(Paid(option.key, price_usd, total, got, kbtuh, oversize_ratio(found, kbtuh)))
    return tuple(rows)


def scores_as_paid(found: Comparison, paid: Sequence[Paid]) -> tuple[OptionScore, ...]:
    """Every option scored anew at the price that the family pays; all else as it was."""
    by_id = {one.option_id: one for one in paid}
    return tuple(_as_paid(score, by_id[score.option_id]) for score in found.scores)


def _as_paid(score: OptionScore, paid: Paid) -> OptionScore:
    old = score.measures.price
    off = float(min(paid.rebate_usd, paid.price_usd - LEAST_PAID_USD))
    price = replace(old, low_usd=old.low_usd - off, mid_usd=old.mid_usd - off, high_usd=old.high_usd - off)
    return score_measures(replace(score.measures, price=price, price_ratio=price_ratio(price)))


def size_rules(
    found: Comparison, rebates: Iterable[Rebate], on: dt.date, weights: Weights | None = None
) -> tuple[SizeRule, ...]:
    """What each rebate with a least size does to the choice, one by one, under some weights.

    Rebates without a least size are left out; so is everything where no option can be offered.
    """
    chosen = weights or found.weights
    plain = _winner(found.scores, chosen)
    return tuple(_rule(found, rebate, on, chosen, plain) for rebate in rebates if rebate.size_from_kbtuh and plain)


def _rule(found: Comparison, rebate: Rebate, on: dt.date, weights: Weights, plain: str) -> SizeRule:
    strict = paid_prices(found, (rebate,), on)
    free = paid_prices(found, (rebate.without_size_rule(),), on)
    alive = {score.option_id for score in found.scores if not score.rejected}
    return SizeRule(
        rebate_id=rebate.id,
        winner_plain=plain,
        winner_with=_winner(scores_as_paid(found, strict), weights),
        winner_free=_winner(scores_as_paid(found, free), weights),
        cheapest_with=_cheapest(strict, alive),
        cheapest_free=_cheapest(free, alive),
    )


def _winner(scores: Sequence[OptionScore], weights: Weights) -> str:
    best = rank(scores, weights).winner
    return best.option.option_id if best else ""


def _cheapest(paid: Iterable[Paid], alive: set[str]) -> str:
    return min((one for one in paid if one.option_id in alive), key=lambda one: (one.paid_usd, one.option_id)).option_id


def step_up(found: Comparison, option: Option, rebate: Rebate, on: dt.date) -> StepUp | None:
    """What it costs to reach a rebate's least size with larger units of the same kinds.

    None where the size is reached already, or no sizes on the price list reach it.
    """
    need = rebate.size_from_kbtuh - size_kbtuh(option)
    if need <= 0:
        return None
    best: dict[int, Decimal] = {0: Decimal(0)}
    for steps in _steps(option, found.sources.prices):
        best = _joined(best, list(steps))
    reached = [(usd, gain) for gain, usd in best.items() if gain >= need]
    if not reached:
        return None
    extra_usd, gain = min(reached)
    kbtuh = size_kbtuh(option) + gain
    cover = Decimal(repr(round(house_cover_frac(found, option), 6)))
    facts = RebateFacts(option.price.mid_usd + extra_usd, kbtuh, cover, on)
    got = outcomes((rebate,), facts)[0]
    return StepUp(option.key, extra_usd, got.amount_usd, kbtuh, oversize_ratio(found, kbtuh))


def _joined(best: dict[int, Decimal], steps: list[tuple[int, Decimal]]) -> dict[int, Decimal]:
    """Least extra price for each gain in size, one more outdoor unit taken in."""
    joined: dict[int, Decimal] = {}
    for gain, usd in best.items():
        for more, extra in steps:
            total = usd + extra
            if gain + more not in joined or total < joined[gain + more]:
                joined[gain + more] = total
    return joined


def _steps(option: Option, prices: PriceList) -> Iterator[Iterator[tuple[int, Decimal]]]:
    """For each outdoor unit the larger sizes of its kind: gain in size and in price, no gain first."""
    for line in option.price.lines:
        stem, _, size = line.item.rpartition("_")
        if stem.startswith(("pair_", "shared_outdoor")) and size.isdigit():
            yield _larger(stem, int(size), prices)


def _larger(stem: str, size: int, prices: PriceList) -> Iterator[tuple[int, Decimal]]:
    now = prices.row(f"{stem}_{size}").mid_usd
    for name in items():
        head, _, other = name.rpartition("_")
        if head == stem and other.isdigit() and int(other) >= size and name in prices.rows:
            yield int(other) - size, max(prices.row(name).mid_usd - now, Decimal(0))
