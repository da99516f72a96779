"""Facts about outdoor units and the whole option: cycling, price, energy, noise outdoors, what stands in sight."""

from __future__ import annotations

from collections.abc import Iterator

from compare.scoring.aggregate import unit_score, weighted_mean
from compare.scoring.criteria import Criterion, Kind
from compare.scoring.facts import Found, Pair
from compare.scoring.judgements import Judgements
from compare.scoring.points import Points
from compare.scoring.room_facts import take, worth
from compare.scoring.scores import OptionScore


def cycling_parts(points: Points, numbers: Judgements) -> tuple[float, float]:
    """The cycling score as the part of the hours and the part of the starts; they sum to the score."""
    worst = min(points.units, key=lambda unit: unit_score(unit, numbers))
    hours = weighted_mean((unit.hours, unit.heat_kwh) for unit in points.units)
    starts = weighted_mean((unit.starts, unit.heat_kwh) for unit in points.units)
    half, split = numbers.worst_share_frac, numbers.hours_share_frac
    return (
        split * (half * worst.hours + (1.0 - half) * hours),
        (1.0 - split) * (half * worst.starts + (1.0 - half) * starts),
    )


def _cycling(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = cycling_parts(better.points, numbers), cycling_parts(worse.points, numbers)
    low_good, low_bad = (max(u.below_min_frac for u in o.measures.units) for o in (better, worse))
    if low_bad - low_good > numbers.limit_hours_below_frac:
        pair = Pair("hours below minimum, worst unit", Kind.SHARE, low_good, low_bad)
        yield Found("below_minimum", (pair,), good[0] - bad[0])
    starts_good, starts_bad = (max(u.starts_per_y for u in o.measures.units) for o in (better, worse))
    if starts_bad > numbers.limit_starts * starts_good:
        pair = Pair("starts a year, busiest unit", Kind.STARTS, starts_good, starts_bad)
        yield Found("starts", (pair,), good[1] - bad[1])


def _noise(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = better.measures.outdoor_dba, worse.measures.outdoor_dba
    if bad - good > numbers.limit_noise_dba:
        points = worth(Criterion.NOISE, better.points, worse.points, take("outdoor"), numbers)
        yield Found("outdoor_noise", (Pair("level at the property line", Kind.LEVEL, good, bad),), points)


def _damp(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = better.measures.damp_frac, worse.measures.damp_frac
    if bad - good > numbers.limit_share_frac:
        points = worth(Criterion.COMFORT, better.points, worse.points, take("damp"), numbers)
        yield Found("damp", (Pair("damp hours", Kind.SHARE, good, bad),), points)


def price_differs(one_usd: float, other_usd: float, numbers: Judgements) -> bool:
    """Whether two prices differ by more than their error: more than 7 % of the larger and more than $1,000."""
    limit_usd = max(numbers.limit_price_frac * max(one_usd, other_usd), numbers.limit_price_least_usd)
    return abs(one_usd - other_usd) > limit_usd


def energy_differs(one: float, other: float, numbers: Judgements) -> bool:
    """Whether two yearly energies, bills or COPs differ by more than their error: 10 % of the larger."""
    return abs(one - other) > numbers.limit_energy_frac * max(one, other)


def _price(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = better.measures.price, worse.measures.price
    if good.mid_usd < bad.mid_usd and price_differs(good.mid_usd, bad.mid_usd, numbers):
        pairs = (
            Pair("installed price", Kind.MONEY, good.mid_usd, bad.mid_usd),
            Pair("low end", Kind.MONEY, good.low_usd, bad.low_usd),
            Pair("high end", Kind.MONEY, good.high_usd, bad.high_usd),
        )
        yield Found("price", pairs, better.points.cost - worse.points.cost)


def _energy(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = better.measures, worse.measures
    kwh_good, kwh_bad = good.energy.equal_service_kwh, bad.energy.equal_service_kwh
    less = kwh_good < kwh_bad and energy_differs(kwh_good, kwh_bad, numbers)
    if less and good.cop > bad.cop and energy_differs(good.cop, bad.cop, numbers):
        pairs = (
            Pair("electricity at equal service", Kind.ENERGY, kwh_good, kwh_bad),
            Pair("COP at equal service", Kind.RATIO, good.cop, bad.cop),
        )
        yield Found("energy", pairs, better.points.energy - worse.points.energy)


def _shown_only(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    good, bad = better.measures, worse.measures
    if good.visible_units < bad.visible_units:
        pair = Pair("visible indoor units", Kind.UNITS, float(good.visible_units), float(bad.visible_units))
        yield Found("visible_units", (pair,), better.points.sight - worse.points.sight)
    if good.outdoor_units < bad.outdoor_units:
        pair = Pair("outdoor units", Kind.UNITS, float(good.outdoor_units), float(bad.outdoor_units))
        yield Found("outdoor_units", (pair,), 0.0)
    bill_good, bill_bad = good.energy.bill_usd, bad.energy.bill_usd
    if bill_good < bill_bad and energy_differs(bill_good, bill_bad, numbers):
        yield Found("bill", (Pair("energy bill of a year", Kind.MONEY, bill_good, bill_bad),), 0.0)


def option_facts(better: OptionScore, worse: OptionScore, numbers: Judgements) -> Iterator[Found]:
    """Every fact about units and the whole option by which one option is better than another."""
    for rule in (_cycling, _noise, _damp, _price, _energy, _shown_only):
        yield from rule(better, worse, numbers)
