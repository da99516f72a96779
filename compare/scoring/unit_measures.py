"""L1 to L3: how an outdoor unit runs at low load."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from compare.scoring.evidence import CompressorEvidence, FloatArray
from compare.scoring.judgements import Judgements
from compare.scoring.season import Season
from compare.scoring.starts import most_starts_per_h, run_frac, starts_per_h


@dataclass(frozen=True, slots=True)
class UnitMeasures:
    """One outdoor unit's year."""

    name: str
    rooms: tuple[int, ...]
    heads: int
    running_h: float
    below_min_frac: float
    """L1; 0 when the unit never runs."""
    starts_per_y: float
    """L2."""
    law_starts_per_y: float
    """L2 by the thermostat law with its fixed N; a second value, not scored."""
    mild_starts_per_h: float
    """L3; 0 when no running hour is mild."""
    peak_starts_per_h: float
    """Most starts in any hour if nothing capped them."""
    heat_kwh: float


@dataclass(frozen=True, slots=True, eq=False)
class _Mode:
    """Heating or cooling hours of a unit."""

    running: np.ndarray[tuple[int], np.dtype[np.bool_]]
    below: np.ndarray[tuple[int], np.dtype[np.bool_]]
    starts: FloatArray
    law_starts: FloatArray
    uncapped: FloatArray


def _mode(load_w: FloatArray, min_w: FloatArray, capacity_j_k: float, numbers: Judgements) -> _Mode:
    running = load_w > numbers.running_from_w
    x = np.where(running, run_frac(load_w, min_w), 0.0)
    most = most_starts_per_h(min_w, capacity_j_k, numbers.thermostat_swing_k)
    return _Mode(
        running=running,
        below=running & (load_w < min_w),
        starts=starts_per_h(np.minimum(most, numbers.max_starts_per_h), x),
        law_starts=starts_per_h(numbers.law_starts_per_h, x),
        uncapped=starts_per_h(most, x),
    )


def _check(unit: CompressorEvidence, hours: int) -> None:
    for name in ("heat_w", "cool_w", "heat_min_w", "cool_min_w"):
        values = getattr(unit, name)
        if values.shape != (hours,):
            raise ValueError(f"{unit.name}: {name} has shape {values.shape}: give one value for each of {hours} hours")
        if not np.isfinite(values).all() or values.min() < 0.0:
            raise ValueError(f"{unit.name}: {name} must be finite and not below 0 in every hour")


def measure_unit(unit: CompressorEvidence, season: Season, numbers: Judgements) -> UnitMeasures:
    """L1, L2 and L3 of one outdoor unit; an hour in which it both heats and cools is one running hour.

    Raises
    ------
    ValueError
        For arrays of the wrong length, negative or missing loads, or a heat capacity not above 0.
    """
    _check(unit, season.outdoor_c.shape[0])
    heat = _mode(unit.heat_w, unit.heat_min_w, unit.heat_capacity_j_k, numbers)
    cool = _mode(unit.cool_w, unit.cool_min_w, unit.heat_capacity_j_k, numbers)
    running = heat.running | cool.running
    count = int(np.count_nonzero(running))
    starts = heat.starts + cool.starts
    mild = running & season.mild
    return UnitMeasures(
        name=unit.name,
        rooms=unit.rooms,
        heads=unit.heads,
        running_h=float(count),
        below_min_frac=int(np.count_nonzero(heat.below | cool.below)) / count if count else 0.0,
        starts_per_y=math.fsum(starts),
        law_starts_per_y=math.fsum(heat.law_starts + cool.law_starts),
        mild_starts_per_h=float(starts[mild].mean()) if mild.any() else 0.0,
        peak_starts_per_h=float((heat.uncapped + cool.uncapped).max()),
        heat_kwh=math.fsum(unit.heat_w) / 1000.0,
    )
