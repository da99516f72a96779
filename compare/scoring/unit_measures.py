"""L1 to L3: how an outdoor unit runs at low load."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from compare.equipment.partload import (
    DEFAULT_LAW,
    CyclingLaw,
    load_share,
    room_starts_per_hour,
    thermostat_starts_per_hour,
)
from compare.scoring.evidence import CompressorEvidence, FloatArray
from compare.scoring.judgements import Judgements
from compare.scoring.season import BoolArray, Season


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

    running: BoolArray
    below: BoolArray
    starts: FloatArray
    law_starts: FloatArray
    uncapped: FloatArray


def _mode(load_w: FloatArray, min_w: FloatArray, capacity_j_k: float | FloatArray, rules: _Rules) -> _Mode:
    running = load_w > rules.running_from_w
    below = running & (load_w < min_w)
    where = np.flatnonzero(below)
    law = rules.law
    endless = replace(law, starts_cap_per_hour=math.inf)
    load, low = load_w[where], min_w[where]
    capacity = capacity_j_k[where] if isinstance(capacity_j_k, np.ndarray) and capacity_j_k.ndim else capacity_j_k

    def in_these(values: FloatArray) -> FloatArray:
        found = np.zeros(load_w.shape)
        found[where] = values
        return found

    return _Mode(
        running=running,
        below=below,
        starts=in_these(room_starts_per_hour(load, low, capacity, law)),
        law_starts=in_these(thermostat_starts_per_hour(load_share(load, low), law)),
        uncapped=in_these(room_starts_per_hour(load, low, capacity, endless)),
    )


@dataclass(frozen=True, slots=True)
class _Rules:
    """What counts as running, and how often a unit starts."""

    running_from_w: float
    law: CyclingLaw


def _check(unit: CompressorEvidence, hours: int) -> None:
    for name in ("heat_w", "cool_w", "heat_min_w", "cool_min_w"):
        values = getattr(unit, name)
        if values.shape != (hours,):
            raise ValueError(f"{unit.name}: {name} has shape {values.shape}: give one value for each of {hours} hours")
        if not np.isfinite(values).all() or values.min() < 0.0:
            raise ValueError(f"{unit.name}: {name} must be finite and not below 0 in every hour")


def measure_unit(
    unit: CompressorEvidence, season: Season, numbers: Judgements, law: CyclingLaw = DEFAULT_LAW
) -> UnitMeasures:
    """L1, L2 and L3 of one outdoor unit; an hour in which it both heats and cools is one running hour.

    Raises
    ------
    ValueError
        For arrays of the wrong length, negative or missing loads, or a heat capacity not above 0.
    """
    _check(unit, season.outdoor_c.shape[0])
    rules = _Rules(numbers.running_from_w, law)
    heat = _mode(unit.heat_w, unit.heat_min_w, unit.heat_capacity_j_k, rules)
    cool = _mode(unit.cool_w, unit.cool_min_w, unit.heat_capacity_j_k, rules)
    running = heat.running | cool.running
    count = int(np.count_nonzero(running))
    starts = heat.starts + cool.starts
    mild = np.flatnonzero(running & season.mild)
    return UnitMeasures(
        name=unit.name,
        rooms=unit.rooms,
        heads=unit.heads,
        running_h=float(count),
        below_min_frac=int(np.count_nonzero(heat.below | cool.below)) / count if count else 0.0,
        starts_per_y=float(starts.sum()),
        law_starts_per_y=float((heat.law_starts + cool.law_starts).sum()),
        mild_starts_per_h=float(starts[mild].mean()) if mild.size else 0.0,
        peak_starts_per_h=float((heat.uncapped + cool.uncapped).max()),
        heat_kwh=float(unit.heat_w.sum()) / 1000.0,
    )
