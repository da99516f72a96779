"""How long a layout takes to bring rooms back after a setback, in quarter-hour steps.

Hourly steps lower the morning's peak and hide when it is over, so a recovery is always run fine (a trial calculation
put the peak about 7 % low at one hour).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.physics.network import Network, Supply, YearTrace
from compare.physics.set_points import SetPointSeries
from compare.physics.timestep import QUARTER_S, finer, finer_supplies
from compare.physics.year import simulate

FloatArray = npt.NDArray[np.float64]

WITHIN_K = 0.3
"""A thermostat within this of its set point has recovered (half a degree Fahrenheit; our judgement)."""


@dataclass(frozen=True, slots=True, eq=False)
class Recovery:
    """Recoveries of one supply, one entry per morning (or afternoon, for cooling) that had something to recover."""

    hours: FloatArray
    """Time from the set point's return until the sensed air is there; infinite where the next setback came first."""
    starts: npt.NDArray[np.int64]
    """Step at which each began."""

    @property
    def median_h(self) -> float:
        """Ordinary recovery; 0 when there never was one."""
        return float(np.median(self.hours)) if self.hours.size else 0.0

    @property
    def longest_h(self) -> float:
        """Longest recovery of the year; infinite where one was never finished."""
        return float(self.hours.max()) if self.hours.size else 0.0

    @property
    def missed(self) -> int:
        """Recoveries that were not finished before the next setback."""
        return int(np.isinf(self.hours).sum())


@dataclass(frozen=True, slots=True, eq=False)
class SetbackYear:
    """A layout's year with a setback, in fine steps: its run and the recoveries of each supply."""

    trace: YearTrace
    heating: tuple[Recovery, ...]
    cooling: tuple[Recovery, ...]


def setback_year(
    network: Network, supplies: Sequence[Supply], points: SetPointSeries, step_s: float = QUARTER_S
) -> SetbackYear:
    """Run a layout with set points that change by the clock.

    Parameters
    ----------
    network, supplies
        Hourly network and the layout's hourly supplies; their own set points are replaced.
    points
        Set points of the fine series (`set_points(comfort, hours * 4, 900.0)`).
    step_s
        Length of a step; 15 minutes unless asked otherwise.
    """
    fine = finer(network, step_s)
    given = finer_supplies(supplies, step_s, points)
    trace = simulate(fine, [given])[0]
    room_c = trace.room_c.astype(np.float64)
    sensed = [room_c @ supply.sensor for supply in given]
    return SetbackYear(
        trace,
        tuple(recoveries(points.heat_c - temp_c, points.heat_c, step_s) for temp_c in sensed),
        tuple(recoveries(temp_c - points.cool_c, -points.cool_c, step_s) for temp_c in sensed),
    )


def recoveries(short_k: FloatArray, demand_c: FloatArray, step_s: float) -> Recovery:
    """Recoveries of one thermostat.

    Parameters
    ----------
    short_k
        How far the sensed air falls short of the set point at the end of each step.
    demand_c
        Set point so signed that its rise begins a recovery.
    step_s
        Length of a step.
    """
    changes = np.flatnonzero(demand_c != np.roll(demand_c, 1))
    rises = changes[demand_c[changes] > np.roll(demand_c, 1)[changes]]
    hours, starts = [], []
    for start in rises:
        later = changes[changes > start]
        end = int(later[0]) if later.size else int(demand_c.size)
        there = np.flatnonzero(short_k[start:end] <= WITHIN_K)
        if there.size and there[0] == 0:
            continue
        hours.append((there[0] + 1) * step_s / 3600.0 if there.size else np.inf)
        starts.append(int(start))
    return Recovery(np.array(hours, dtype=np.float64), np.array(starts, dtype=np.int64))
