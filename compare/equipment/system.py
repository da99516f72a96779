"""One outdoor unit with its indoor units, as it stands in the house: heads, fans, duct loss, standby."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.equipment.fan import FanWatts, airflow_m3_s, rated_fan, sensible_frac
from compare.equipment.output import RatedOutput
from compare.equipment.partload import DEFAULT_LAW, CyclingLaw
from compare.equipment.performance import Mode, Performance, performance, with_fan
from compare.equipment.rules import rule
from compare.equipment.unit import Pair

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Head:
    """One indoor unit in its place.

    `pair` is the catalogue's pair of that indoor unit: its range of output also bounds the head on a shared outdoor
    unit. The delivered shares are what ducts leave of its output, one number or one for each hour (1 for room units).
    `capacity_j_k` is what a thermostat cycle swings in its rooms, see `room_capacity_j_k` of part load.
    `real_fan` is its fan on its real ducts; None means the rated fan. `fan_in_pauses` is true where the fan runs on at
    quiet speed while the compressor pauses, as it has to where the thermostat feels the unit's return air.
    """

    pair: Pair
    capacity_j_k: float
    delivered_heat_frac: float | FloatArray = 1.0
    delivered_cool_frac: float | FloatArray = 1.0
    real_fan: FanWatts | None = None
    fan_in_pauses: bool = False

    def __post_init__(self) -> None:
        if not self.capacity_j_k > 0.0:
            raise ValueError(f"capacity_j_k must be above 0, got {self.capacity_j_k!r}: use room_capacity_j_k(area)")
        shares = (np.asarray(self.delivered_heat_frac), np.asarray(self.delivered_cool_frac))
        if not all(np.all((share > 0.0) & (share <= 1.0)) for share in shares):
            raise ValueError("delivered_heat_frac and delivered_cool_frac must lie above 0 and not above 1")

    def delivered_frac(self, mode: Mode) -> float | FloatArray:
        """Share of the unit's output that reaches its rooms."""
        return self.delivered_heat_frac if mode is Mode.HEAT else self.delivered_cool_frac


@dataclass(frozen=True, slots=True)
class Auxiliary:
    """Power besides running; defaults are the rules file's. A base-pan heater counts only where it is fitted."""

    standby_outdoor_w: float = rule("auxiliary", "standby_outdoor_w")
    standby_indoor_w: float = rule("auxiliary", "standby_indoor_w")
    crankcase_w: float = rule("auxiliary", "crankcase_w")
    crankcase_below_c: float = rule("auxiliary", "crankcase_below_c")
    base_pan_fitted: bool = False
    base_pan_w: float = rule("auxiliary", "base_pan_w")
    base_pan_below_c: float = rule("auxiliary", "base_pan_below_c")

    def rest_w(self, outdoor_c: FloatArray, heads: int) -> FloatArray:
        """Power while the compressor rests [W]."""
        crankcase = np.where(outdoor_c < self.crankcase_below_c, self.crankcase_w, 0.0)
        return self.standby_outdoor_w + self.standby_indoor_w * heads + crankcase

    def pan_w(self, outdoor_c: FloatArray) -> FloatArray:
        """Power of the base-pan heater [W]."""
        watts = self.base_pan_w if self.base_pan_fitted else 0.0
        return np.where(outdoor_c < self.base_pan_below_c, watts, 0.0)


@dataclass(frozen=True, slots=True)
class OutdoorSystem:
    """An outdoor unit (its output) with its indoor units."""

    output: RatedOutput
    heads: tuple[Head, ...]
    law: CyclingLaw = DEFAULT_LAW
    auxiliary: Auxiliary = field(default_factory=Auxiliary)


@dataclass(frozen=True, slots=True, eq=False)
class Limits:
    """What a head can bring to its rooms in each hour [W], after duct loss, all >= 0."""

    heat_w: FloatArray
    cool_total_w: FloatArray
    cool_sensible_w: FloatArray


def head_performance(head: Head, outdoor_c: npt.ArrayLike, mode: Mode) -> Performance:
    """Range of output of one indoor unit on its own outdoor unit, with its real fan."""
    perf = performance(head.pair.output, outdoor_c, mode)
    return perf if head.real_fan is None else with_fan(perf, rated_fan(head.pair.indoor), head.real_fan)


def system_performance(system: OutdoorSystem, outdoor_c: npt.ArrayLike, mode: Mode) -> Performance:
    """Range of output of the outdoor unit with the real fans of all its heads."""
    perf = performance(system.output, outdoor_c, mode)
    for head in system.heads:
        if head.real_fan is not None:
            perf = with_fan(perf, rated_fan(head.pair.indoor), head.real_fan)
    return perf


def limits(head: Head, outdoor_c: npt.ArrayLike) -> Limits:
    """Most heating and cooling that a head brings to its rooms in each hour: what a year's run needs of it."""
    heat = head_performance(head, outdoor_c, Mode.HEAT).max_w * head.delivered_heat_frac
    cool = head_performance(head, outdoor_c, Mode.COOL)
    share = sensible_frac(head.pair.indoor.airflow_m3_s.high, np.maximum(cool.max_w, 1.0))
    total = cool.max_w * head.delivered_cool_frac
    return Limits(heat, total, total * share)


def total_cooling_w(head: Head, sensible_w: npt.ArrayLike, perf: Performance) -> FloatArray:
    """Total cooling [W] that a head runs at to give a sensible cooling [W], at the airflow each output needs.

    Airflow is linear in output, so sensible cooling is linear in total between least and most output; below the
    least the unit cycles at the least output's sensible share. Entering air 80/67 degF (from memory): in dry air
    less moisture is taken out and the true total is lower.
    """
    sensible = np.asarray(sensible_w, dtype=np.float64)
    least, most = np.maximum(perf.min_w, 1.0), np.maximum(perf.max_w, 2.0)
    flow = head.pair.indoor.airflow_m3_s
    low, high = least * sensible_frac(flow.quiet, least), most * sensible_frac(flow.high, most)
    between = least + (sensible - low) / np.maximum(high - low, 1e-9) * (most - least)
    return np.where(sensible <= low, sensible * least / low, between)


def running_airflow_m3_s(head: Head, output_w: npt.ArrayLike, run_frac: npt.ArrayLike, perf: Performance) -> FloatArray:
    """Airflow [m3/s] of a head while it runs.

    Parameters
    ----------
    head
        Indoor unit.
    output_w
        Its mean output of each hour before duct loss [W].
    run_frac
        Share of the hour that the outdoor unit runs; on a shared unit with a large minimum a small head is
        pushed to a higher output, and airflow, for a shorter time.
    perf
        The head's own range of output.
    """
    run = np.asarray(run_frac, dtype=np.float64)
    rate = np.asarray(output_w, dtype=np.float64) / np.maximum(run, 1e-6)
    return airflow_m3_s(head.pair.indoor, rate, perf.min_w, perf.max_w)


def outdoor_limits(output: RatedOutput, outdoor_c: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Most heating and most total cooling of an outdoor unit in each hour [W], before duct loss.

    What all indoor units of a shared outdoor unit get together; each head is also bounded by its own `limits`.
    """
    return performance(output, outdoor_c, Mode.HEAT).max_w, performance(output, outdoor_c, Mode.COOL).max_w
