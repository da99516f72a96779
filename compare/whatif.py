"""What-ifs of a house: doors at night, insulation first, set points, rates, bedrooms that nobody wants cooled.

Changes of the house give another house file (compare it again). Set points run the same units, as they were designed,
through the year at other temperatures. Rates and what is asked for only count anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.scoring.measures import Measures
from compare.scoring.scores import score_measures
from compare.years.bench import Bench, Result
from compare.years.energy import OldHeat
from compare.years.gather import Shared
from compare.years.supplies import factory_of

ATTIC_U_W_M2K = 0.148
"""Ceiling under a vented attic after insulation to about R-38 (0.026 Btu/h ft2 F; common practice)."""
SEALED_SHARE = 0.75
"""Leakage that is left after the attic floor is sealed (our judgement)."""
SET_POINT_GAP_K = 1.0
"""Least distance between the set points of heating and cooling, as in the house file."""


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
    if cooling_c < heating_c + SET_POINT_GAP_K - 1e-6:
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
        before = found.by_id[option_id]
        results.append(bench.result(bench.rerun(before.option, before.year.doors), shared, settled=True))
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
    results = tuple(_billed(result, found.case.house, house, ratio) for result in found.results)
    billed = replace(found, case=replace(found.case, house=house), results=results, proof=None, space=None)
    for name in ("kit", "sampler"):  # no price of electricity enters what was worked out there, so it stays known
        if name in vars(found):
            vars(billed)[name] = vars(found)[name]
    return billed


def _billed(result: Result, before: HouseFile, after: HouseFile, ratio: float) -> Result:
    """The bill with every price of power times a ratio; old heat counts at what its fuel then costs."""
    measures = result.score.measures
    old_kwh = measures.energy.old_fuel_kwh
    electricity_usd = measures.energy.bill_usd - old_kwh * OldHeat.of(before).usd_kwh
    bill_usd = electricity_usd * ratio + old_kwh * OldHeat.of(after).usd_kwh
    energy = replace(measures.energy, bill_usd=bill_usd)
    return replace(result, score=replace(result.score, measures=replace(measures, energy=energy)))
