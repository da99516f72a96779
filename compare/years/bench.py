"""From supplies to scored options: runs, tops up cold bedrooms, settles doors, gathers evidence, scores.

Hours are large. They live from the run of a year to its scores; what stays is a `KeptYear`, which can run them again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from compare.equipment.catalogue import Catalogue
from compare.house.plan import Use
from compare.options.option import Option
from compare.physics.network import Supply, YearTrace
from compare.physics.year import LANES
from compare.scoring.judgements import Judgements
from compare.scoring.scores import OptionScore, score_option
from compare.scoring.season import Season
from compare.years.case import HouseCase
from compare.years.energy import Delivered, HouseNeed, delivered, need_of, plain_rests
from compare.years.gather import OptionRun, Shared, evidence_of
from compare.years.heads import Outside
from compare.years.kept import KeptYear, kept_of, run_of
from compare.years.origin import Doors, Origin, Ran
from compare.years.run import SETTLE_ROUNDS, run_years, settle, settle_from
from compare.years.sharing import Spared, shares_outdoor
from compare.years.supplies import SupplyFactory
from compare.zones.ears import Ear, ears_of
from compare.zones.sketch import Rest


@dataclass(frozen=True, slots=True, eq=False)
class Result:
    """One option, scored; `settled` when its doors were taken at its own temperatures."""

    option: Option
    year: KeptYear
    score: OptionScore
    settled: bool


@dataclass(frozen=True, slots=True, eq=False)
class FreshYear:
    """An option's year that has just been run, with all its hours."""

    run: OptionRun
    equal: Delivered
    """With cold bedrooms topped up; the same as `run.run` where none is cold."""
    ran: Ran


class Bench:
    """Runs and scores the options of one house. Holds what they share; every method gives new results.

    Years can be run again from what is kept of them where the supplies are those of the house, `factory_of(case)`.
    """

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

    def first_years(self, options: Sequence[Option]) -> Iterator[FreshYear]:
        """Every option's year with the common doors, and a second one with heaters in bedrooms that came out cold.

        All are run before the first is given out; what their units did is worked out one by one.
        """
        ran = self.first(options)
        cold = [self._cold_bedrooms(option, one.trace) for option, one in zip(options, ran, strict=True)]
        places = [place for place, rooms in enumerate(cold) if rooms]
        topped = [self._supplies(options[place], cold[place]) for place in places]
        again = dict(zip(places, run_years(self.case, topped), strict=True))
        for place, option in enumerate(options):
            yield self._fresh(option, ran[place], again.pop(place, None))

    def first(self, options: Sequence[Option]) -> tuple[Ran, ...]:
        """Every option's year with the common doors and nothing further: enough to settle from.

        First single outdoor units, all at once; then the shared ones whose limit binds.
        """
        supplies = [self._supplies(option) for option in options]
        ran: dict[int, Ran] = {}
        apart = [place for place, option in enumerate(options) if not shares_outdoor(option)]
        ran.update(self._side_by_side(apart, options, supplies))
        for place in apart:
            self._spared.first[options[place].layout.key] = ran[place]
        left = []
        for place, option in enumerate(options):
            if place not in ran:
                found = self._spared.find(self._spared.first, option, supplies[place], doors_of=None)
                if found is None:
                    left.append(place)
                else:
                    ran[place] = found
                    self._spared.taken_over += 1
        ran.update(self._side_by_side(left, options, supplies))
        return tuple(ran[place] for place in range(len(options)))

    def settled(self, option: Option, first: Doors) -> FreshYear:
        """An option with the doors of its own temperatures, from the doors of a first run of it."""
        ran = self._settle(self._spared.settled, option, (), first)
        cold = self._cold_bedrooms(option, ran.trace)
        again = self._settle(self._spared.topped, option, cold, first).trace if cold else None
        return self._fresh(option, ran, again)

    def settled_alone(self, option: Option) -> FreshYear:
        """An option with the doors of its own temperatures, from its first run on."""
        return self.settled(option, self.first([option])[0].doors)

    def rerun(self, option: Option, doors: Doors) -> FreshYear:
        """An option that was run elsewhere, under this bench's house, with the doors of its earlier temperatures."""
        ran = self._with_doors(option, (), doors, rounds=1)
        cold = self._cold_bedrooms(option, ran.trace)
        again = self._with_doors(option, cold, ran.doors, rounds=1).trace if cold else None
        return self._fresh(option, ran, again)

    def _supplies(self, option: Option, heaters: Sequence[int] = ()) -> tuple[Supply, ...]:
        return (*self._factory.of_option(option), *(self._factory.heater(room) for room in heaters))

    def _side_by_side(
        self, places: Sequence[int], options: Sequence[Option], supplies: Sequence[tuple[Supply, ...]]
    ) -> dict[int, Ran]:
        self._spared.run += len(places)
        traces = run_years(self.case, [supplies[place] for place in places])
        found = {}
        for start in range(0, len(places), LANES):
            block = places[start : start + LANES]
            beside = tuple(options[place] for place in block)
            for lane, place in enumerate(block):
                found[place] = Ran(traces[start + lane], Origin(self.case, beside, lane))
        return found

    def _with_doors(self, option: Option, heaters: tuple[int, ...], doors: Doors, rounds: int) -> Ran:
        trace = settle_from(self.case, self._supplies(option, heaters), doors.open_w_k, rounds)
        return Ran(trace, Origin(self.case, (option,), 0, heaters, doors.open_w_k, rounds))

    def _settle(self, kept: dict[str, Ran], option: Option, heaters: tuple[int, ...], first: Doors) -> Ran:
        """An option's year with its own doors; that of the same layout with single outdoor units where it holds."""
        supplies = self._supplies(option, heaters)
        found = self._spared.find(kept, option, supplies, doors_of=first.origin)
        if found is not None:
            return found
        start = first
        if heaters:
            alone = Origin(self.case, (option,), 0, heaters)
            start = Ran(run_years(self.case, [supplies])[0], alone).doors
        self._spared.run += SETTLE_ROUNDS + bool(heaters)
        ran = self._with_doors(option, heaters, start, SETTLE_ROUNDS)
        if not shares_outdoor(option):
            kept[option.layout.key] = ran
        return ran

    def result(self, fresh: FreshYear, shared: Shared, *, settled: bool, name: str | None = None) -> Result:
        """Scores of a year under the option's id (or a name), and what stays of it."""
        option = fresh.run.option
        evidence = evidence_of(shared, fresh.run, fresh.equal)
        if name is not None:
            evidence = replace(evidence, option_id=name)
        kept = kept_of(shared, fresh.run, fresh.ran.doors, evidence.compressors)
        return Result(option, kept, score_option(evidence, self.season), settled)

    def ears(self, options: Sequence[Option], units: Catalogue) -> dict[str, tuple[Ear, ...]]:
        """What each bed and seat gets of every zone of the options, by zone key."""
        for option in options:
            for zone in option.zones:
                if zone.key not in self._ears:
                    self._ears[zone.key] = ears_of(self.case.plan, zone, units)
        return self._ears

    def _fresh(self, option: Option, ran: Ran, again: YearTrace | None) -> FreshYear:
        run = run_of(self.case, option, ran.trace)
        equal = run.run
        if again is not None:
            rests = plain_rests(option)
            further = again.supply_w.shape[1] - len(option.zones) - len(rests)
            equal = delivered(self.case, option, again, [*rests, *(Rest.HEATER,) * further])
        return FreshYear(run, equal, ran)

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
