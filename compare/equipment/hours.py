"""One outdoor unit hour by hour in one mode: load, power, run share, starts, airflow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.fan import fan_w, rated_fan
from compare.equipment.partload import part_load, room_starts_per_hour, thermostat_starts_per_hour
from compare.equipment.performance import Mode, Performance
from compare.equipment.system import (
    Head,
    OutdoorSystem,
    head_performance,
    running_airflow_m3_s,
    system_performance,
    total_cooling_w,
)

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class ModeHours:
    """One mode's hours of an outdoor unit; arrays over hours, `airflow_m3_s` over hours and heads."""

    performance: Performance
    load_w: FloatArray
    """Asked of the outdoor unit, before duct loss; in cooling the total with moisture."""
    met_frac: FloatArray
    """Share of the load that the outdoor unit can give."""
    power_w: FloatArray
    """Mean of the hour with fan and cycling loss, without standby."""
    run_frac: FloatArray
    plf_frac: FloatArray
    below_min: npt.NDArray[np.bool_]
    starts_per_hour: FloatArray
    thermostat_starts_per_hour: FloatArray
    airflow_m3_s: FloatArray
    """While running; 0 where a head does not call."""
    fan_w: FloatArray
    """Mean of the hour, all heads."""


def mode_hours(system: OutdoorSystem, delivered_w: FloatArray, outdoor_c: FloatArray, mode: Mode) -> ModeHours:
    """Run one mode over all hours.

    Parameters
    ----------
    system
        Outdoor unit and heads.
    delivered_w
        Heat, or sensible cooling, that reaches the rooms of each head, >= 0 [W], shape (hours, heads).
    outdoor_c
        Outdoor dry bulb [degC], shape (hours,).
    mode
        Heating or cooling.
    """
    perf = system_performance(system, outdoor_c, mode)
    own = [head_performance(head, outdoor_c, mode) for head in system.heads]
    asked = _asked_w(system, delivered_w, own, mode)
    load = asked.sum(axis=1)
    run = part_load(perf, load, system.law)
    starts = _room_starts(system, asked, perf, mode)
    thermostat = thermostat_starts_per_hour(run.run_frac, system.law)
    flows = np.stack(
        [
            np.where(asked[:, k] > 0.0, running_airflow_m3_s(head, asked[:, k], run.run_frac, own[k]), 0.0)
            for k, head in enumerate(system.heads)
        ],
        axis=1,
    )
    return ModeHours(
        performance=perf,
        load_w=load,
        met_frac=np.divide(run.met_w, load, out=np.ones_like(load), where=load > 0.0),
        power_w=run.power_w,
        run_frac=run.run_frac,
        plf_frac=run.plf_frac,
        below_min=run.below_min,
        starts_per_hour=np.where(run.below_min, starts, 0.0),
        thermostat_starts_per_hour=np.where(run.below_min, thermostat, 0.0),
        airflow_m3_s=flows,
        fan_w=run.run_frac * sum(_head_fan_w(head, flows[:, k]) for k, head in enumerate(system.heads)),
    )


def _asked_w(system: OutdoorSystem, delivered_w: FloatArray, own: list[Performance], mode: Mode) -> FloatArray:
    """Output asked of the outdoor unit by each head: duct loss put back, sensible cooling turned into total."""
    columns = []
    for k, head in enumerate(system.heads):
        output = delivered_w[:, k] / head.delivered_frac(mode)
        columns.append(output if mode is Mode.HEAT else total_cooling_w(head, output, own[k]))
    return np.stack(columns, axis=1)


def _room_starts(system: OutdoorSystem, asked: FloatArray, perf: Performance, mode: Mode) -> FloatArray:
    """Starts by the energy balance of the rooms; several heads swing the load-weighted mean of their capacities."""
    hours = asked.shape[0]
    capacity = _weighted(np.array([head.capacity_j_k for head in system.heads]), asked)
    shares = [np.broadcast_to(head.delivered_frac(mode), hours) for head in system.heads]
    reaches = _weighted(np.stack(shares, axis=1), asked)
    return room_starts_per_hour(asked.sum(axis=1) * reaches, perf.min_w * reaches, capacity, system.law)


def _weighted(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Mean over heads of (heads,) or (hours, heads) values, by each hour's loads; plain where nothing is asked."""
    if weights.shape[1] == 1:
        return np.broadcast_to(values[..., 0], weights.shape[0]).astype(np.float64)
    total = weights.sum(axis=1)
    mean = np.broadcast_to(values.mean(axis=-1), total.shape).astype(np.float64)
    np.divide((weights * values).sum(axis=1), total, out=mean, where=total > 0.0)
    return mean


def _head_fan_w(head: Head, flow_m3_s: FloatArray) -> FloatArray:
    """Fan power of a head while it runs [W], on its real ducts where they are known; 0 where it does not call."""
    rated = rated_fan(head.pair.indoor)
    real = head.real_fan or rated
    span = rated.high_w - rated.quiet_w
    share = (fan_w(head.pair.indoor, flow_m3_s) - rated.quiet_w) / span if span > 0.0 else np.zeros_like(flow_m3_s)
    return np.where(flow_m3_s > 0.0, real.quiet_w + share * (real.high_w - real.quiet_w), 0.0)
