"""How a year was run: enough to run it again to the last digit, and far smaller than its hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.options.option import Option
from compare.physics.network import YearTrace
from compare.years.case import HouseCase
from compare.years.run import open_doors_w_k, run_years, settle_from
from compare.years.supplies import factory_of

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Origin:
    """How one option's year came about.

    Options that run side by side share the number of sweeps in which their thermostats settle. So a year of the common
    run comes out the same to the last digit only beside the same others, and they are kept with it.
    """

    case: HouseCase
    side_by_side: tuple[Option, ...]
    place: int = 0
    """Which of them this year is."""
    heaters: tuple[int, ...] = ()
    """Rooms with a heater besides the option's supplies; only of a year that ran alone."""
    open_w_k: FloatArray | None = None
    """Conductances of open doors in its first round, (door states, links); None where it ran with the common doors."""
    rounds: int = 0
    """Runs with doors of its own."""

    def again(self) -> YearTrace:
        """The year, run again."""
        factory = factory_of(self.case)
        heaters = [factory.heater(room) for room in self.heaters]
        supplies = [(*factory.of_option(option), *heaters) for option in self.side_by_side]
        if self.open_w_k is None:
            return run_years(self.case, supplies)[self.place]
        return settle_from(self.case, supplies[self.place], self.open_w_k, self.rounds)


@dataclass(frozen=True, slots=True, eq=False)
class Ran:
    """A year that has just been run, and how."""

    trace: YearTrace
    origin: Origin

    @property
    def doors(self) -> Doors:
        """Its doors, worked out at each call."""
        return Doors(self.origin, open_doors_w_k(self.origin.case, self.trace))


@dataclass(frozen=True, slots=True, eq=False)
class Doors:
    """Open doors at the temperatures of one year: all that a later year needs of it."""

    origin: Origin
    open_w_k: FloatArray
    """(door states, links)"""
