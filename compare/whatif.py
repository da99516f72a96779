"""What-ifs of a house: doors at night, insulation first, set points, rates, bedrooms that nobody wants cooled.

Changes of the house give another house file (compare it again). Set points run the same units, as they were designed,
through the year at other temperatures. Rates and what is asked for only count anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.pipeline import Comparison, compare_house
from compare.scoring.judgements import rulebook
from compare.scoring.measures import Measures
from compare.scoring.ranking import Ranking
from compare.scoring.scores import OptionScore, score_measures
from compare.scoring.weights import Weights
from compare.search.flips import Flip, score_flips
from compare.search.house_flips import house_flips
from compare.years.bench import Bench, Result
from compare.years.energy import bill_of
from compare.years.gather import Shared
from compare.years.supplies import factory_of

ATTIC_U_W_M2K = 0.148
"""Ceiling under a vented attic after insulation to about R-38 (0.026 Btu/h ft2 F; common practice)."""
SEALED_SHARE = 0.75
"""Leakage that is left after the attic floor is sealed (our judgement)."""
RIVALS = 8
"""Best options whose years are run over a range of insulation and leakage."""
SET_POINT_GAP_K = 1.0
"""Least distance between the set points of heating and cooling, as in the house file."""
YEARS = 15.0
"""Years of electricity that are added to the price for the cross-check by cost (our judgement)."""


def doors_at_night(house: HouseFile, *, shut: bool) -> HouseFile:
    """The house with all its bedroom doors shut, or open, at night."""
    bedrooms = {room.name for room in house.rooms if room.use is Use.BEDROOM}
    doors = [
        door.model_copy(update={"night_open_frac": 0.0 if shut else 1.0})
        if door.between is not None and bedrooms & set(door.between)
        else door
        for door in house.doors
    ]
    return house.model_copy(update={"doors": doors})


def bedroom_doors_shut(house: HouseFile) -> bool | None:
    """Whether the bedroom doors are shut at night: all, none, or None for some (or no such door)."""
    bedrooms = {room.name for room in house.rooms if room.use is Use.BEDROOM}
    states = {
        door.night_open_frac < 0.5 for door in house.doors if door.between is not None and bedrooms & set(door.between)
    }
    return states.pop() if len(states) == 1 else None


def insulated_first(house: HouseFile) -> HouseFile:
    """The house after its attic floor is insulated and sealed; unchanged where it is better already."""
    fabric = house.fabric.model_copy(update={"ceiling_u_w_m2k": min(house.fabric.ceiling_u_w_m2k, ATTIC_U_W_M2K)})
    air = house.air.model_copy(update={"ach50_1_h": house.air.ach50_1_h * SEALED_SHARE})
    return house.model_copy(update={"fabric": fabric, "air": air})


def bedrooms_not_cooled(found: Comparison) -> Comparison:
    """The same years judged by a family that does not ask for cool bedrooms."""
    results = (replace(r, score=score_measures(_without_bedroom_cooling(r.score.measures))) for r in found.results)
    return replace(found, results=tuple(results))


def _without_bedroom_cooling(measures: Measures) -> Measures:
    rooms = tuple(
        replace(room, cool_load_w=0.0, hot_frac=0.0) if room.room.use is Use.BEDROOM and room.judged else room
        for room in measures.rooms
    )
    return replace(measures, rooms=rooms)


def with_set_points(house: HouseFile, heating_c: float, cooling_c: float) -> HouseFile:
    """The house held at other set points; thermostats and setbacks of its own stay where they still make sense.

    Raises
    ------
    ValueError
        Unless cooling is at least 1 K above heating.
    """
    if cooling_c < heating_c + SET_POINT_GAP_K:
        raise ValueError("comfort.cooling must be at least 1 K (2 °F) above comfort.heating")
    back = house.comfort.setback
    if back is not None:
        heat = None if back.heating_c is None else min(back.heating_c, heating_c)
        cool = None if back.cooling_c is None else max(back.cooling_c, cooling_c)
        back = back.model_copy(update={"heating_c": heat, "cooling_c": cool})
    comfort = house.comfort.model_copy(update={"heating_c": heating_c, "cooling_c": cooling_c, "setback": back})
    return house.model_copy(update={"comfort": comfort})


def at_set_points(
    found: Comparison, heating_c: float, cooling_c: float, ids: Iterable[str], told: Callable[[int], None] | None = None
) -> Comparison:
    """Some options of a comparison, with the same units, run through the year at other set points.

    Units keep the size that they were designed for: design temperatures indoors are those of the house file. Open doors
    are taken at the temperatures of the option's own earlier run, leakage at the house's earlier set points.

    Parameters
    ----------
    found
        The comparison at the house file's set points.
    ids
        Options to run; the result holds these and no others.
    told
        Told how many are done.
    """
    house = with_set_points(found.case.house, heating_c, cooling_c)
    options = replace(found.case.network_options, heating_c=heating_c, cooling_c=cooling_c)
    case = replace(found.case, house=house, plan=plan_of(house), network_options=options)
    numbers = rulebook().numbers
    bench = Bench(case, factory_of(case), found.season, numbers)
    need = bench.need()
    shared = Shared(case, found.season, numbers, need, found.kit.base.reference_usd, dict(found.ears))
    results = []
    for option_id in dict.fromkeys(ids):
        before = found.by_id[option_id].run
        results.append(bench.result(bench.rerun(before), shared, settled=True))
        if told is not None:
            told(len(results))
    return replace(found, case=case, results=tuple(results), need=need, proof=None, space=None)


def at_rate(found: Comparison, electricity_usd_kwh: float) -> Comparison:
    """The same years at another price of electricity; periods of the day keep their ratio to it. Nothing is run."""
    rates = found.case.house.rates
    ratio = electricity_usd_kwh / rates.electricity_usd_kwh
    periods = [
        period.model_copy(update={"electricity_usd_kwh": period.electricity_usd_kwh * ratio})
        for period in found.case.house.rate_periods
    ]
    changed = rates.model_copy(update={"electricity_usd_kwh": electricity_usd_kwh})
    house = found.case.house.model_copy(update={"rates": changed, "rate_periods": periods})
    return replace(
        found,
        case=replace(found.case, house=house),
        results=tuple(_billed(result, house) for result in found.results),
        proof=None,
        space=None,
    )


def _billed(result: Result, house: HouseFile) -> Result:
    bill_usd = bill_of(house, result.run.run)
    measures = result.score.measures
    return replace(
        result,
        evidence=replace(result.evidence, energy=replace(result.evidence.energy, bill_usd=bill_usd)),
        score=replace(result.score, measures=replace(measures, energy=replace(measures.energy, bill_usd=bill_usd))),
    )


def all_flips(found: Comparison, weights: Weights) -> tuple[Flip, ...]:
    """The smallest changes that put another kind of layout first: at most one of each kind."""
    ranking = found.rank(weights)
    if ranking.winner is None:
        return ()
    winner = ranking.winner.option
    flips = [*score_flips(found.scores, weights, found.kit.book)]
    rivals = _one_of_each_kind(found, ranking)
    flips += house_flips(found.kit, [found.by_id[key] for key in rivals], found.by_id[winner.option_id], weights)
    flips += _habits(found, weights, winner)
    flips += _rate(found, [found.by_id[key].score for key in rivals], winner)
    return tuple(flips)


def _one_of_each_kind(found: Comparison, ranking: Ranking) -> list[str]:
    """Ids of the best options: the first of each family, then the next best, settled ones only."""
    alive = found.settled_alive(ranking, len(found.results))
    first: dict[str, str] = {}
    for result in alive:
        first.setdefault(result.score.family, result.score.option_id)
    ids = [*first.values(), *(result.score.option_id for result in alive)]
    return list(dict.fromkeys(ids))[:RIVALS]


def _habits(found: Comparison, weights: Weights, winner: OptionScore) -> Iterator[Flip]:
    """Bedroom doors the other way at night; envelope work first. The house is compared anew, with new sizes."""
    house = found.case.house
    shut = bedroom_doors_shut(house)
    changes = [] if shut is None else [("doors", float(not shut), float(shut), doors_at_night(house, shut=not shut))]
    insulated = insulated_first(house)
    if insulated != house:
        changes.append(("envelope", 0.0, 1.0, insulated))
    for kind, before, after, other in changes:
        first = compare_house(other, found.folder, sources=found.sources).rank(weights).winner
        if first is not None and first.option.family != winner.family:
            yield Flip(kind, kind, before, after, "count", first.option.option_id, first.option.family, 1.0)


def _rate(found: Comparison, rivals: list[OptionScore], winner: OptionScore) -> Iterator[Flip]:
    """The electricity rate at which price and fifteen years of electricity put another kind in front of the winner.

    A cross-check by cost: no score depends on the rate. Only where the winner is the cheaper or the dearer one today.
    """
    rate = found.case.house.rates.electricity_usd_kwh
    crossings = []
    for rival in rivals:
        more_usd = rival.price_usd - winner.price_usd
        more_kwh = YEARS * (rival.measures.energy.electricity_kwh - winner.measures.energy.electricity_kwh)
        if rival.family != winner.family and more_usd * more_kwh < 0.0:
            at = -more_usd / more_kwh
            crossings.append((abs(at - rate) / rate, at, rival))
    if crossings:
        size, at, rival = min(crossings, key=lambda one: (one[0], one[2].option_id))
        yield Flip("rate", "electricity", rate, at, "usd_kwh", rival.option_id, rival.family, size)
