"""The one place that calls the stages in order: a house in, every layout compared, a recommendation out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np

from compare.equipment.catalogue import Catalogue, catalogue
from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.options.build import Offer, build_options
from compare.options.option import Option
from compare.physics.network import YearTrace
from compare.prices.price_list import PriceList, load_price_list
from compare.scoring.evidence import Calendar, Evidence
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import Ranked, Ranking, rank
from compare.scoring.scores import OptionScore, score_option
from compare.scoring.season import Season, season
from compare.scoring.shown import always_shown
from compare.scoring.weights import Weights, weights_from_priorities
from compare.years.case import HouseCase, prepare
from compare.years.energy import HouseNeed, delivered, need_of
from compare.years.gather import OptionRun, Shared, evidence_of, zones_of
from compare.years.run import run_years
from compare.years.supplies import SetPoints, SupplyFactory
from compare.zones.basis import DesignBasis
from compare.zones.ears import ears_of
from compare.zones.families import families
from compare.zones.sketch import Family, Rest

HEATER_C = 20.0
"""Set point of room heaters: 68 degF."""

Progress = Callable[[str, int, int], None]
"""Told what is being done, how many are done, how many there are."""


@dataclass(frozen=True, slots=True)
class Sources:
    """What a company may replace by its own: unit catalogue and price list."""

    units: Catalogue
    prices: PriceList

    @classmethod
    def bundled(cls) -> Sources:
        """The generic catalogue and the placeholder price list that come with the program."""
        return cls(catalogue(), load_price_list())


@dataclass(frozen=True, eq=False)
class Comparison:
    """Every option of one house, run and scored. Ranking under other weights costs nothing."""

    case: HouseCase
    sources: Sources
    runs: tuple[OptionRun, ...]
    evidence: tuple[Evidence, ...]
    scores: tuple[OptionScore, ...]
    need: HouseNeed
    season: Season

    def rank(self, weights: Weights | None = None) -> Ranking:
        """The order under some weights; the house file's priorities when None."""
        return rank(self.scores, weights or self.weights)

    @property
    def weights(self) -> Weights:
        """Weights of the house file's priorities."""
        return weights_from_priorities(self.case.house.priorities.model_dump())

    def shown(self, ranking: Ranking) -> tuple[Ranked, ...]:
        """The options that are always shown, in ranking order."""
        return always_shown(ranking, rulebook().numbers.tie_points)

    @cached_property
    def by_id(self) -> dict[str, OptionRun]:
        """Runs by option id."""
        return {run.option.key: run for run in self.runs}

    @property
    def options(self) -> tuple[Option, ...]:
        """All options."""
        return tuple(run.option for run in self.runs)


def compare_house(
    house: HouseFile,
    folder: Path | None = None,
    *,
    sources: Sources | None = None,
    progress: Progress | None = None,
) -> Comparison:
    """Compare every layout of a house.

    Parameters
    ----------
    house
        A validated house file.
    folder
        Where a weather file that it names is looked for.
    sources
        Catalogue and price list; the bundled ones when None.
    progress
        Told how far the work is.

    Raises
    ------
    HouseFileError, WeatherFileError, PlaceError, ValueError
        Each names the field and the cure.
    """
    tell = progress or (lambda _what, _done, _all: None)
    tell("house, weather and loads", 0, 1)
    case = prepare(house, folder)
    return compare_case(case, sources or Sources.bundled(), tell)


def compare_case(case: HouseCase, sources: Sources, tell: Progress) -> Comparison:
    """Compare every layout of a prepared house."""
    offer = Offer(_basis(case, sources), sources.prices, case.house.panel.free_spaces)
    layouts = families(case.plan, old_heat_rooms=old_heat_rooms(case))
    options = build_options(offer, layouts, lambda done: tell("units, ducts and prices", done, len(layouts)))
    factory = _factory(case)
    runs = _runs(case, options, factory, tell)
    need = _need(case, factory)
    numbers = rulebook().numbers
    year = season(Calendar(case.weather.dry_bulb_c), numbers)
    shared = Shared(
        case=case,
        season=year,
        numbers=numbers,
        need=need,
        reference_usd=_reference_usd(options),
        ears={key: ears_of(case.plan, zone, sources.units) for key, zone in zones_of(options).items()},
    )
    evidence = tuple(evidence_of(shared, run) for run in runs)
    scores = tuple(score_option(found, year) for found in evidence)
    return Comparison(case, sources, runs, evidence, scores, need, year)


def old_heat_rooms(case: HouseCase) -> tuple[int, ...]:
    """Rooms that the existing heat goes on heating; none when it is removed."""
    heat = case.house.existing_heat
    if heat is None or not heat.keep:
        return ()
    return tuple(i for i, room in enumerate(case.plan.rooms) if heat.rooms is None or room.name in heat.rooms)


def _basis(case: HouseCase, sources: Sources) -> DesignBasis:
    return DesignBasis(
        plan=case.plan,
        heat_load_w=case.heat_load_w,
        cool_load_w=case.cool_load_w,
        heat_outdoor_c=case.design.heating_99_c,
        cool_outdoor_c=case.design.cooling_1_c,
        units=sources.units,
        plan_north_deg=case.house.house.plan_north_deg,
    )


def _factory(case: HouseCase) -> SupplyFactory:
    comfort = case.house.comfort
    points = SetPoints.steady(case.weather.hours, comfort.heating_c, comfort.cooling_c, HEATER_C)
    return SupplyFactory(case.plan, case.weather.dry_bulb_c, points, case.heat_load_w)


def _runs(
    case: HouseCase, options: Sequence[Option], factory: SupplyFactory, tell: Progress
) -> tuple[OptionRun, ...]:
    """Every option's year, and a second one with heaters in bedrooms that came out cold (equal service)."""
    total = 2 * len(options)
    supplies = [factory.of_option(option) for option in options]
    traces = run_years(case, supplies, lambda done: tell("years", done, total))
    cold = [_cold_bedrooms(case, option, trace) for option, trace in zip(options, traces, strict=True)]
    topped = [place for place, rooms in enumerate(cold) if rooms]
    again = run_years(
        case, [(*supplies[place], *(factory.heater(room) for room in cold[place])) for place in topped]
    )
    second = dict(zip(topped, again, strict=True))
    runs = []
    for place, (option, trace) in enumerate(zip(options, traces, strict=True)):
        rests = [rest for _, rest in option.layout.rest if rest is not Rest.NEIGHBOUR]
        run = delivered(case, option, trace, rests)
        equal = run
        if place in second:
            equal = delivered(case, option, second[place], [*rests, *(Rest.HEATER for _ in cold[place])])
        runs.append(OptionRun(option, trace, run, equal))
        tell("years", 1, total)
    return tuple(runs)


def _cold_bedrooms(case: HouseCase, option: Option, trace: YearTrace) -> tuple[int, ...]:
    """Habitable rooms without a source whose 6 a.m. on the coldest mornings lies under their own target."""
    mornings = case.weather.dry_bulb_c.reshape(-1, 24)[:, int(rulebook().numbers.morning_h)]
    coldest = np.argsort(mornings, kind="stable")[: round(rulebook().numbers.coldest_mornings)]
    rooms = trace.room_c.reshape(-1, 24, len(case.plan.rooms))[coldest, int(rulebook().numbers.morning_h)].mean(axis=0)
    return tuple(
        room
        for room, rest in option.layout.rest
        if rest is Rest.NEIGHBOUR
        and case.plan.rooms[room].use is Use.BEDROOM
        and rooms[room] < case.plan.rooms[room].target_c
    )


def _need(case: HouseCase, factory: SupplyFactory) -> HouseNeed:
    ideal = [factory.ideal(index) for index, room in enumerate(case.plan.rooms) if room.habitable]
    return need_of(run_years(case, [ideal])[0])


def _reference_usd(options: Sequence[Option]) -> float:
    """Price of the single wall head, which every price is compared with."""
    singles = [float(o.price.mid_usd) for o in options if o.family is Family.SINGLE_HEAD]
    if not singles:
        raise ValueError("room: no room is habitable; give at least one a use such as living or bedroom")
    return min(singles)
