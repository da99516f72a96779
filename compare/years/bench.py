"""From supplies to scored options: runs, tops up cold bedrooms, settles doors, gathers evidence, scores."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from compare.equipment.catalogue import Catalogue
from compare.house.plan import Use
from compare.options.option import Option
from compare.physics.network import Supply, YearTrace
from compare.scoring.evidence import Evidence
from compare.scoring.judgements import Judgements
from compare.scoring.scores import OptionScore, score_option
from compare.scoring.season import Season
from compare.years.case import HouseCase
from compare.years.energy import Delivered, HouseNeed, delivered, need_of
from compare.years.gather import OptionRun, Shared, evidence_of
from compare.years.heads import Outside
from compare.years.run import SETTLE_ROUNDS, rerun, run_years, settle
from compare.years.sharing import Spared, shares_outdoor
from compare.years.supplies import SupplyFactory
from compare.zones.ears import Ear, ears_of
from compare.zones.sketch import Rest

Done = Callable[[], None]


@dataclass(frozen=True, slots=True, eq=False)
class Result:
    """One option, run and scored; `settled` when its doors were taken at its own temperatures."""

    run: OptionRun
    evidence: Evidence
    score: OptionScore
    settled: bool


def without_hours(result: Result) -> Result:
    """The same result with its scores and room temperatures alone: for comparisons that are only ranked."""
    nothing = Delivered((), 0.0, 0.0)
    run = replace(result.run, run=nothing, equal=nothing)
    return replace(result, run=run, evidence=replace(result.evidence, rooms=(), compressors=()))


class Bench:
    """Runs and scores the options of one house. Holds what they share; every method gives new results."""

    def __init__(self, case: HouseCase, factory: SupplyFactory, season: Season, numbers: Judgements) -> None:
        self.case = case
        self.season = season
        self.numbers = numbers
        self._factory = factory.with_house(Outside.of(case.weather), case.house.controls)
        self._ears: dict[str, tuple[Ear, ...]] = {}
        self._spared = Spared()

    @property
    def years_run(self) -> int:
        """Years simulated for options so far, each round of doors counted."""
        return self._spared.run

    @property
    def years_taken_over(self) -> int:
        """Options on shared outdoor units that needed no year of their own so far, because no limit bound."""
        return self._spared.taken_over

    def need(self) -> HouseNeed:
        """What the house needs with every habitable room held at the set points."""
        ideal = [self._factory.ideal(index) for index, room in enumerate(self.case.plan.rooms) if room.habitable]
        trace = run_years(self.case, [ideal])[0]
        return need_of(settle(self.case, ideal, trace))

    def first_runs(self, options: Sequence[Option]) -> tuple[OptionRun, ...]:
        """Every option's year with the common doors, and a second one with heaters in bedrooms that came out cold."""
        supplies = [self._factory.of_option(option) for option in options]
        traces = self._first(options, supplies)
        rows = zip(options, supplies, traces, strict=True)
        topped = [self._topped(option, own, trace) for option, own, trace in rows]
        places = [place for place, supply in enumerate(topped) if supply is not None]
        again = dict(zip(places, run_years(self.case, [topped[place] or () for place in places]), strict=True))
        return tuple(
            self._run(option, trace, again.get(place))
            for place, (option, trace) in enumerate(zip(options, traces, strict=True))
        )

    def first_traces(self, options: Sequence[Option]) -> tuple[YearTrace, ...]:
        """Every option's year with the common doors and nothing further: enough to settle from."""
        return self._first(options, [self._factory.of_option(option) for option in options])

    def settled_run(self, found: OptionRun) -> OptionRun:
        """The same option with the doors of its own temperatures."""
        return self.settled(found.option, found.trace)

    def settled(self, option: Option, first: YearTrace) -> OptionRun:
        """An option with the doors of its own temperatures, from a first run of it."""
        supplies = self._factory.of_option(option)
        trace = self._settle(self._spared.settled, option, supplies, first)
        topped = self._topped(option, supplies, trace)
        again = None
        if topped is not None:
            again = self._settle(self._spared.topped, option, topped, first)
        return self._run(option, trace, again)

    def rerun(self, found: OptionRun) -> OptionRun:
        """An option that was run elsewhere, under this bench's house, with the doors of its earlier temperatures."""
        supplies = self._factory.of_option(found.option)
        trace = rerun(self.case, supplies, found.trace)
        topped = self._topped(found.option, supplies, trace)
        again = None if topped is None else rerun(self.case, topped, trace)
        return self._run(found.option, trace, again)

    def _first(self, options: Sequence[Option], supplies: Sequence[Sequence[Supply]]) -> tuple[YearTrace, ...]:
        """First single outdoor units, all at once; then the shared ones whose limit binds."""
        traces: dict[int, YearTrace] = {}
        apart = [place for place, option in enumerate(options) if not shares_outdoor(option)]
        traces.update(self._simulate(apart, supplies))
        for place in apart:
            self._spared.first[options[place].layout.key] = traces[place]
        left = []
        for place, option in enumerate(options):
            if place not in traces:
                found = self._spared.find(self._spared.first, option, supplies[place], doors_of=None)
                if found is None:
                    left.append(place)
                else:
                    traces[place] = found
                    self._spared.taken_over += 1
        traces.update(self._simulate(left, supplies))
        return tuple(traces[place] for place in range(len(options)))

    def _simulate(self, places: Sequence[int], supplies: Sequence[Sequence[Supply]]) -> dict[int, YearTrace]:
        self._spared.run += len(places)
        return dict(zip(places, run_years(self.case, [supplies[place] for place in places]), strict=True))

    def _settle(
        self, kept: dict[str, YearTrace], option: Option, supplies: Sequence[Supply], first: YearTrace
    ) -> YearTrace:
        """An option's year with its own doors; that of the same layout with single outdoor units where it holds."""
        found = self._spared.find(kept, option, supplies, doors_of=first)
        if found is not None:
            return found
        start = first if kept is self._spared.settled else run_years(self.case, [supplies])[0]
        self._spared.run += SETTLE_ROUNDS + (kept is not self._spared.settled)
        trace = settle(self.case, supplies, start)
        if not shares_outdoor(option):
            kept[option.layout.key] = trace
        return trace

    def result(self, run: OptionRun, shared: Shared, *, settled: bool) -> Result:
        """Evidence and scores of a run."""
        evidence = evidence_of(shared, run)
        return Result(run, evidence, score_option(evidence, self.season), settled)

    def ears(self, options: Sequence[Option], units: Catalogue) -> dict[str, tuple[Ear, ...]]:
        """What each bed and seat gets of every zone of the options, by zone key."""
        for option in options:
            for zone in option.zones:
                if zone.key not in self._ears:
                    self._ears[zone.key] = ears_of(self.case.plan, zone, units)
        return self._ears

    def _topped(self, option: Option, supplies: tuple[Supply, ...], trace: YearTrace) -> tuple[Supply, ...] | None:
        cold = self._cold_bedrooms(option, trace)
        return (*supplies, *(self._factory.heater(room) for room in cold)) if cold else None

    def _run(self, option: Option, trace: YearTrace, again: YearTrace | None) -> OptionRun:
        rests = [rest for _, rest in option.layout.rest if rest is not Rest.NEIGHBOUR]
        run = delivered(self.case, option, trace, rests)
        equal = run
        if again is not None:
            further = again.supply_w.shape[1] - len(option.zones) - len(rests)
            equal = delivered(self.case, option, again, [*rests, *(Rest.HEATER,) * further])
        return OptionRun(option, trace, run, equal)

    def _cold_bedrooms(self, option: Option, trace: YearTrace) -> tuple[int, ...]:
        """Bedrooms without a source whose 6 a.m. on the coldest mornings lies under their own target."""
        rooms = self.case.plan.rooms
        days = trace.room_c.reshape(-1, 24, len(rooms))[self.season.cold_days, int(self.numbers.morning_h)]
        morning_c = np.asarray(days, dtype=np.float64).mean(axis=0)
        return tuple(
            room
            for room, rest in option.layout.rest
            if rest is Rest.NEIGHBOUR and rooms[room].use is Use.BEDROOM and morning_c[room] < rooms[room].target_c
        )
