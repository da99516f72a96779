"""Below its minimum output a unit cycles: run share, part-load loss, starts an hour; and the power of every hour.

Two laws give starts. The room law follows from an energy balance of the room and the thermostat's differential:
on time C dT / (Q_min - L), off time C dT / L. The thermostat law of Henderson and Rengarajan (ASHRAE Transactions
102(1), 1996) knows only the run share and the most cycles an hour.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.performance import Performance, running_power_w
from compare.equipment.rules import rule

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class CyclingLaw:
    """Constants of the cycling laws; the defaults are the rules file's.

    `degradation_frac` is Cd of the linear loss. With `time_constant_s` set, the loss follows the response of a
    one-time-constant start-up at `cycles_per_hour_max` instead.
    """

    degradation_frac: float = rule("part_load", "degradation_frac")
    time_constant_s: float | None = None
    cycles_per_hour_max: float = rule("part_load", "cycles_per_hour_max")
    differential_k: float = rule("part_load", "differential_k")
    starts_cap_per_hour: float = rule("part_load", "starts_per_hour_cap")


DEFAULT_LAW = CyclingLaw()


@dataclass(frozen=True, slots=True, eq=False)
class PartLoad:
    """One hour or many: all arrays in the shape of the load.

    `run_frac` is the share of the hour that the compressor runs (1 when it modulates), `plf_frac` the part-load
    factor, `power_w` the mean power of the hour without standby, `met_w` the output delivered.
    """

    met_w: FloatArray
    power_w: FloatArray
    run_frac: FloatArray
    plf_frac: FloatArray
    below_min: npt.NDArray[np.bool_]


def load_share(load_w: npt.ArrayLike, min_w: npt.ArrayLike) -> FloatArray:
    """Load over minimum output [-], held to 0..1; 1 where the unit has no output at all."""
    load, low = np.asarray(load_w, dtype=np.float64), np.asarray(min_w, dtype=np.float64)
    share = np.divide(load, low, out=np.ones(np.broadcast(load, low).shape), where=low > 0.0)
    return np.clip(share, 0.0, 1.0)


def plf_frac(share: npt.ArrayLike, law: CyclingLaw = DEFAULT_LAW) -> FloatArray:
    """Part-load factor [-] at a load share x below minimum output.

    Linear: 1 - Cd (1 - x), the rating procedure's form. With a time constant tau: PLF = 1 - A (1 - exp(-1/A)),
    A = 4 tau N (1 - x/PLF), iterated (the one-time-constant start-up with a thermostat; from memory).
    """
    x = np.asarray(share, dtype=np.float64)
    if law.time_constant_s is None:
        return 1.0 - law.degradation_frac * (1.0 - x)
    tau_n = 4.0 * law.time_constant_s / 3600.0 * law.cycles_per_hour_max
    plf = np.ones(x.shape)
    for _ in range(60):
        a = np.maximum(tau_n * (1.0 - np.clip(x / plf, 0.0, 1.0)), 1e-9)
        plf = 1.0 - a * (1.0 - np.exp(-1.0 / a))
    return plf


def part_load(perf: Performance, load_w: npt.ArrayLike, law: CyclingLaw = DEFAULT_LAW) -> PartLoad:
    """Power and run share for the output asked in each hour.

    Parameters
    ----------
    perf
        What the unit can do in each hour.
    load_w
        Mean output asked of it in each hour [W], >= 0, same shape; more than the maximum is not met.
    law
        Constants of the cycling loss.
    """
    load = np.maximum(np.asarray(load_w, dtype=np.float64), 0.0)
    met_w = np.minimum(load, perf.max_w)
    share = np.where(met_w > 0.0, load_share(met_w, perf.min_w), 0.0)
    plf = plf_frac(share, law)
    below = (met_w > 0.0) & (met_w < perf.min_w)
    cycling_w = share * perf.min_power_w / plf
    power_w = np.where(below, cycling_w, np.where(met_w > 0.0, running_power_w(perf, met_w), 0.0))
    return PartLoad(met_w, power_w, share, np.where(below, plf, 1.0), below)


def power_w(perf: Performance, load_w: npt.ArrayLike, law: CyclingLaw = DEFAULT_LAW) -> FloatArray:
    """Mean power of each hour [W] without standby; see `part_load`."""
    return part_load(perf, load_w, law).power_w


def room_starts_per_hour(
    load_w: npt.ArrayLike, min_w: npt.ArrayLike, capacity_j_k: npt.ArrayLike, law: CyclingLaw = DEFAULT_LAW
) -> FloatArray:
    """Compressor starts an hour by the energy balance of the room; 0 at and above minimum output.

    Parameters
    ----------
    load_w, min_w
        Load and least output, both delivered to the room [W].
    capacity_j_k
        Heat capacity that the unit swings [J/K]; for several indoor units on one outdoor unit the
        load-weighted mean of the single rooms', because they do not call together.
    law
        Differential and cap of the starts.

    Notes
    -----
    N_max = Q_min / (4 C dT), held to the cap; starts = 4 N_max x (1 - x).
    """
    low = np.asarray(min_w, dtype=np.float64)
    capacity = np.asarray(capacity_j_k, dtype=np.float64)
    if np.any(capacity <= 0.0):
        raise ValueError("capacity_j_k must be above 0: take the floor area of the rooms that the unit serves")
    most = np.minimum(3600.0 * low / (4.0 * capacity * law.differential_k), law.starts_cap_per_hour)
    x = load_share(load_w, low)
    return 4.0 * most * x * (1.0 - x)


def thermostat_starts_per_hour(run_frac: npt.ArrayLike, law: CyclingLaw = DEFAULT_LAW) -> FloatArray:
    """Starts an hour by the thermostat law 4 N x (1 - x) of Henderson and Rengarajan (1996), x the run share."""
    x = np.clip(np.asarray(run_frac, dtype=np.float64), 0.0, 1.0)
    return 4.0 * law.cycles_per_hour_max * x * (1.0 - x)


def on_time_s(run_frac: float, cycles_per_hour_max: float) -> float:
    """Length of one run [s] by the thermostat law, 3600 / (4 N (1 - x)); endless at x = 1."""
    return float("inf") if run_frac >= 1.0 else 3600.0 / (4.0 * cycles_per_hour_max * (1.0 - run_frac))


def off_time_s(run_frac: float, cycles_per_hour_max: float) -> float:
    """Length of one pause [s] by the thermostat law, 3600 / (4 N x); endless at x = 0."""
    return float("inf") if run_frac <= 0.0 else 3600.0 / (4.0 * cycles_per_hour_max * run_frac)


def room_capacity_j_k(floor_area_m2: npt.ArrayLike) -> FloatArray:
    """Heat capacity that a thermostat cycle swings [J/K] for a floor area [m2]: air, furnishings, surfaces.

    1.0 Btu/F per ft2 of floor (range 0.7 to 1.4); our judgement from minute-by-minute runs of a room model.
    """
    return np.asarray(floor_area_m2, dtype=np.float64) * rule("part_load", "capacity_j_m2k")
