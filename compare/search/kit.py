"""Everything that runs of many layouts of one house share: strips, tables, what is counted, what weighs the rooms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.equipment.catalogue import Catalogue
from compare.options.option import Option
from compare.physics.network import Supply
from compare.physics.year import step_matrices
from compare.scoring.judgements import Rulebook, rulebook
from compare.scoring.season import Season
from compare.search.block import Houses, Shake
from compare.search.counted import Counted
from compare.search.kinds import Kinds
from compare.search.lanes import Runner, Tables
from compare.search.listeners import EarTables, listeners_of
from compare.search.machines import MachineTables
from compare.search.points import RoomFacts
from compare.search.strip import Strip, Stripper
from compare.search.tally import Counts, Tally, energy_of, tally_of
from compare.search.watch import watch_of
from compare.years.case import HouseCase
from compare.years.energy import HouseNeed, OldHeat
from compare.years.gather import people_fracs
from compare.years.heads import Outside
from compare.years.supplies import SupplyFactory
from compare.zones.ears import Ear, ears_of

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Bearings:
    """What a comparison has worked out once for its house."""

    case: HouseCase
    factory: SupplyFactory
    season: Season
    need: HouseNeed
    reference: Option
    """This house's single wall head: every price is a ratio to its price."""
    ears: dict[str, tuple[Ear, ...]]
    """By zone key."""

    @property
    def reference_usd(self) -> float:
        """Middle price of the single wall head."""
        return float(self.reference.price.mid_usd)


@dataclass(eq=False)
class Kit:
    """Strips and runs of one house. Strips are made first; a runner then holds the tables they refer to."""

    base: Bearings
    book: Rulebook = field(default_factory=rulebook)

    def __post_init__(self) -> None:
        """Prepare the tables."""
        case, numbers = self.base.case, self.book.numbers
        listeners = listeners_of(case.plan, numbers)
        outside = Outside.of(case.weather)
        self.factory = self.base.factory.with_house(outside, case.house.controls)
        self._machines = MachineTables(case, outside)
        self._ears = EarTables(listeners, self.base.ears)
        self.kinds = Kinds(case.weather.hours, len(case.plan.rooms))
        self._stripper = Stripper(case, self.factory, self._machines, self._ears, self.kinds)
        self.watch = watch_of(case, self.base.season, numbers, listeners)
        self.facts = RoomFacts(
            case.plan.rooms,
            people_fracs(case),
            case.heat_load_w,
            np.array([room.cool_total_w for room in case.loads.rooms]),
        )
        self.old = OldHeat.of(case.house)

    def strip(self, option: Option) -> Strip:
        """One option as a strip."""
        return self._stripper.strip(option)

    def hear(self, options: Sequence[Option], units: Catalogue) -> None:
        """Work out what each bed and seat gets of the zones of further options."""
        for option in options:
            for zone in option.zones:
                if zone.key not in self.base.ears:
                    self.base.ears[zone.key] = ears_of(self.base.case.plan, zone, units)

    def runner(self) -> Runner:
        """Runs with the tables of all strips made so far."""
        machines = self._machines
        heads, outdoors = machines.tables
        tables = Tables(machines.weather, heads, outdoors, machines.sensible_law, self._ears.curves)
        return Runner(self.watch, self.base.season, self.book.numbers, self.kinds, tables)

    def common_houses(self) -> Houses:
        """The house with its common doors."""
        return Houses.one(self.base.case.network, step_matrices(self.base.case.network))

    def tally(self, strips: Sequence[Strip], got: Counted) -> Tally:
        """Measures of some lanes."""
        rooms = self.base.case.plan.rooms
        return tally_of(Counts(self.watch, self.base.season, self.book.numbers, rooms, self.kinds.stacked), strips, got)

    def topped_kwh(
        self,
        run: tuple[Runner, Houses, Shake | None],
        strips: Sequence[Strip],
        first: tuple[Tally, Counted],
        threads: int = 1,
    ) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Electricity of units (G, N), of rest and heaters, heat of the old heat, with every cold bedroom topped up.

        Lanes without a cold bedroom keep the figures of their first run.
        """
        runner, houses, shake = run
        tally, got = first
        more = self._cold(strips, got)
        cold = np.array([k for k, own in enumerate(more) if own], dtype=np.int64)
        found = tally.run_kwh.copy(), tally.rest_kwh.copy(), tally.heater_kwh.copy(), tally.old_kwh.copy()
        if not cold.size:
            return found
        if shake is None and houses.common:
            again = [strips[k] for k in cold]
            counted = runner.run_many(
                houses, [strip.lane for strip in again], [more[k] for k in cold], threads, energy_alone=True
            )
            mine = np.arange(cold.size)
        else:
            again = list(strips)
            counted = runner.run(houses, [strip.lane for strip in strips], shake, more, energy_alone=True)
            mine = cold
        energy = energy_of(again, counted)
        for own, new in zip(found, energy, strict=True):
            if new.ndim == 1:
                own[cold] = new[mine]
            else:
                own[: new.shape[0], cold] = new[:, mine]
        return found

    def _cold(self, strips: Sequence[Strip], got: Counted) -> list[tuple[Supply, ...]]:
        """For each lane the heaters of bedrooms that are cold in the morning."""
        rooms = self.base.case.plan.rooms
        cold = got.air_c[1] < np.array([room.target_c for room in rooms])[:, None]
        return [tuple(heater for room, heater in strip.top_up if cold[room, lane]) for lane, strip in enumerate(strips)]
