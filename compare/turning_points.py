"""What would change the answer of one comparison, found by search: every sort of change, the smallest of each.

Weights, prices, credit and curves are scored again (`search.flips`); insulation and leakage are simulated over a range
and once more in full (`search.house_flips`); doors and envelope work give another house that is compared anew: the
families, and the layouts that are best today, so that a winner of the enumeration is not lost on the way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from weakref import WeakKeyDictionary

from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.offer import options_of
from compare.options.option import Option
from compare.physics.many.sizes import LANES
from compare.pipeline import Comparison, compare_house
from compare.prices.items import families
from compare.scoring.judgements import Rulebook
from compare.scoring.ranking import Ranked, Ranking, best_of_families, rank
from compare.scoring.scores import OptionScore
from compare.scoring.weights import Weights
from compare.search.check import Checked, check_draws
from compare.search.draws import make_draws
from compare.search.flips import CONSIDERED, Flip, credit_flips, nearest, price_flips, score_flips, weight_flips
from compare.search.house_flips import house_flips
from compare.whatif import bedroom_doors_shut, doors_at_night, insulated_first
from compare.years.bench import Bench
from compare.years.gather import Shared

RIVALS = 8
"""Best options whose years are run over a range of insulation and leakage."""
YEARS = 15.0
"""Years of electricity that are added to the price for the cross-check by cost (our judgement)."""
OPEN_HALF = 0.5
QUICK = ("weight", "price", "credit", "rate")
"""Kinds of change that cost no simulation."""
MOST_RATE = 3.0
"""A price of power further off than this factor is not told as a change that may come (our judgement)."""


def flips_of(found: Comparison, weights: Weights | None = None) -> tuple[Flip, ...]:
    """The smallest changes that put another kind of layout first, at most one of each kind; kept once found.

    Takes seconds: insulation and leakage are simulated over a range, doors and envelope work compared anew.
    """
    chosen = weights or found.weights
    if chosen.fracs not in found.known_flips:
        found.known_flips[chosen.fracs] = _all_flips(found, chosen)
    return found.known_flips[chosen.fracs]


def _all_flips(found: Comparison, weights: Weights) -> tuple[Flip, ...]:
    ranking = found.rank(weights)
    if ranking.winner is None:
        return ()
    winner = ranking.winner.option
    flips = [*score_flips(found.scores, weights, found.kit.book)]
    rivals = _one_of_each_kind(found, ranking)
    flips += house_flips(found.kit, [found.by_id[key] for key in rivals], found.by_id[winner.option_id], weights)
    flips += _doors(found, weights, winner)
    flips += _envelope(found, weights, winner)
    rate = found.case.house.rates.electricity_usd_kwh
    flips += _rate(rate, [found.by_id[key].score for key in rivals], winner)
    return tuple(flips)


def quick_flips(found: Comparison, weights: Weights) -> tuple[Flip, ...]:
    """Changes that need no simulation, the smallest of each kind: some tenths of a second."""
    return quick_flips_of(found.scores, weights, found.kit.book, found.case.house.rates.electricity_usd_kwh)


def quick_flips_of(
    scores: Sequence[OptionScore], weights: Weights, book: Rulebook, rate_usd_kwh: float
) -> tuple[Flip, ...]:
    """The same from scores alone: what counts (0 to all), prices (half to twice), credit of heaters, price of power.

    Parameters
    ----------
    scores, weights, book
        As in `score_flips`.
    rate_usd_kwh
        What a kWh costs today.
    """
    alive = sorted((o for o in scores if not o.rejected), key=lambda o: (-o.total(weights), o.price_usd, o.option_id))
    if not alive:
        return ()
    found = (
        nearest(weight_flips(alive, weights)),
        nearest(price_flips(alive, weights, book)),
        nearest(credit_flips(alive[:CONSIDERED], weights, book)),
        nearest(_rate(rate_usd_kwh, _first_of_families(alive), alive[0])),
    )
    return tuple(flip for flip in found if flip is not None)


def _first_of_families(alive: Sequence[OptionScore]) -> list[OptionScore]:
    first: dict[str, OptionScore] = {}
    for option in alive:
        first.setdefault(option.family, option)
    return list(first.values())


def _one_of_each_kind(found: Comparison, ranking: Ranking) -> list[str]:
    """Ids of the best options: the first of each family, then the next best, settled ones only."""
    alive = found.settled_alive(ranking, len(found.results))
    first: dict[str, str] = {}
    for result in alive:
        first.setdefault(result.score.family, result.score.option_id)
    ids = [*first.values(), *(result.score.option_id for result in alive)]
    return list(dict.fromkeys(ids))[:RIVALS]


def _doors(found: Comparison, weights: Weights, winner: OptionScore) -> Iterator[Flip]:
    """Bedroom doors the other way at night, all of them; and the first single one that is enough alone.

    The house is compared anew, with new sizes. Where the doors are kept in both ways, both are tried for all.
    """
    house = found.case.house
    habit = bedroom_doors_shut(house)
    changed = False
    for shut in (True, False) if habit is None else (not habit,):
        other = doors_at_night(house, shut=shut)
        if other == house:
            continue
        first = _first(found, other, weights)
        if first is not None and first.family != winner.family:
            changed = True
            yield _other_house("doors", "doors", first, after=float(not shut))
            break
    if changed:
        yield from _one_door(found, weights, winner)


def _one_door(found: Comparison, weights: Weights, winner: OptionScore) -> Iterator[Flip]:
    """The first bedroom, in canonical order, whose door alone, kept the other way, puts another kind first."""
    names = [room.name for room in found.case.plan.rooms if room.use is Use.BEDROOM]
    houses = [(name, *_turned(found.case.house, name)) for name in names]
    doors = [(name, house, after) for name, house, after in houses if house is not None]
    for name, house, after in doors if len(doors) > 1 else ():
        first = _first(found, house, weights)
        if first is not None and first.family != winner.family:
            yield _other_house("door", name, first, after=after)
            return


def _turned(house: HouseFile, room: str) -> tuple[HouseFile | None, float]:
    """The house with the doors of one room kept the other way at night, and how they then stand; None without any."""
    mine = [door for door in house.doors if door.between is not None and room in door.between]
    if not mine:
        return None, 0.0
    after = float(all(door.night_open_frac < OPEN_HALF for door in mine))
    doors = [door.model_copy(update={"night_open_frac": after}) if door in mine else door for door in house.doors]
    return house.model_copy(update={"doors": doors}), after


def _first(found: Comparison, house: HouseFile, weights: Weights) -> OptionScore | None:
    winner = anew(found, house).rank(weights).winner
    return None if winner is None else winner.option


def anew(found: Comparison, house: HouseFile) -> Comparison:
    """Another state of a house, ranked from its loads on: its families, and the layouts that are best as it is."""
    other = compare_house(house, found.folder, sources=found.sources)
    known = {option.layout.key for option in other.options}
    best = (found.by_id[key].option.layout for key in _one_of_each_kind(found, found.rank()))
    layouts = {layout.key: layout for layout in best if layout.key not in known}
    options = options_of(other.case, other.sources, list(layouts.values())) if layouts else ()
    if not options:
        return other
    base, numbers = other.kit.base, other.kit.book.numbers
    bench = Bench(other.case, base.factory, other.season, numbers)
    ears = dict(other.ears) | bench.ears(options, other.sources.units)
    shared = Shared(other.case, other.season, numbers, other.need, base.reference_usd, ears)
    years = (bench.settled(option, ran.doors) for option, ran in zip(options, bench.first(options), strict=True))
    results = [bench.result(year, shared, settled=True) for year in years]
    return replace(other, results=(*other.results, *results), ears=ears)


def _other_house(kind: str, subject: str, first: OptionScore, after: float) -> Flip:
    return Flip(kind, subject, 1.0 - after, after, "count", first.option_id, first.family, 1.0)


def rechecked(found: Comparison) -> Checked:
    """The first draws by scaling against the same houses built anew and simulated in full, over the shown options.

    Raises
    ------
    ValueError
        When every option is rejected.
    """
    shown = [item.option.option_id for item in found.shown(found.rank()) if not item.option.rejected]
    if not shown:
        raise ValueError("every option is rejected: there is nothing to draw")
    draws = make_draws(families(), found.kit.book.numbers, LANES)
    return check_draws(found.kit, [found.by_id[key] for key in shown], draws, found.weights.array)


@dataclass(frozen=True, slots=True, eq=False)
class EnvelopeFirst:
    """The house after envelope work, compared anew: its loads, and every option with its new units."""

    heat_w: float
    cool_w: float
    """Total, at its peak hour."""
    options: dict[str, Option]
    scores: tuple[OptionScore, ...]

    def best_of_kinds(self, weights: Weights) -> tuple[Ranked, ...]:
        """The best option of each kind that is not rejected, best first."""
        return best_of_families([item for item in rank(self.scores, weights).ranked if item.place])


_AFTER: WeakKeyDictionary[Comparison, EnvelopeFirst] = WeakKeyDictionary()


def envelope_first(found: Comparison) -> EnvelopeFirst | None:
    """The house with its attic insulated and sealed first; None where it is so already. Kept once worked out."""
    house = insulated_first(found.case.house)
    if house == found.case.house:
        return None
    if found not in _AFTER:
        after = anew(found, house)
        loads = after.case.loads.house
        options = {option.key: option for option in after.options}
        _AFTER[found] = EnvelopeFirst(loads.heat_w, loads.cool_total_w, options, after.scores)
    return _AFTER[found]


def _envelope(found: Comparison, weights: Weights, winner: OptionScore) -> Iterator[Flip]:
    after = envelope_first(found)
    best = after.best_of_kinds(weights) if after is not None else ()
    if best and best[0].option.family != winner.family:
        yield _other_house("envelope", "envelope", best[0].option, after=1.0)


def _rate(rate_usd_kwh: float, rivals: list[OptionScore], winner: OptionScore) -> Iterator[Flip]:
    """The electricity rate at which price and fifteen years of electricity put another kind in front of the winner.

    A cross-check by cost: no score depends on the rate. Only against kinds that cost more than the winner today, and
    only a rate that may come.
    """
    rate = rate_usd_kwh
    crossings = []
    for rival in rivals:
        more_usd = rival.price_usd - winner.price_usd
        more_kwh = YEARS * (rival.measures.energy.electricity_kwh - winner.measures.energy.electricity_kwh)
        dearer = more_usd + rate * more_kwh > 0.0
        if rival.family != winner.family and more_usd * more_kwh < 0.0 and dearer:
            at = -more_usd / more_kwh
            if rate / MOST_RATE <= at <= rate * MOST_RATE:
                crossings.append((abs(at - rate) / rate, at, rival))
    if crossings:
        size, at, rival = min(crossings, key=lambda one: (one[0], one[2].option_id))
        yield Flip("rate", "electricity", rate, at, "usd_kwh", rival.option_id, rival.family, size)
