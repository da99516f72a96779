"""One outdoor unit hour by hour in one mode: load, power, run share, starts, airflow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
import numpy.typing as npt

from compare.equipment.fan import fan_w, rated_fan
from compare.equipment.latent import latent_frac
from compare.equipment.partload import (
    CyclingLaw,
    PartLoad,
    part_load,
    room_starts_per_hour,
    thermostat_starts_per_hour,
)
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


LATENT_ROUNDS = 6
"""Rounds in which run share and returning moisture settle."""


@dataclass(frozen=True, slots=True, eq=False)
class ModeHours:
    """One mode's hours of an outdoor unit; arrays over hours, `airflow_m3_s` over hours and heads."""

    performance: Performance
    load_w: FloatArray
    """Asked of the outdoor unit, before duct loss; in cooling the total with moisture."""
    sensible_w: FloatArray
    """Its sensible part: all of it in heating."""
    met_frac: FloatArray
    """Share of the load that the outdoor unit can give."""
    delivered_frac: FloatArray
    """Share of the output that reaches the rooms; 1 where nothing is asked."""
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

    def spread(self, performance: Performance, hours: npt.NDArray[np.intp]) -> ModeHours:
        """These hours at their places among all hours of `performance`; nothing runs in the others."""
        count = performance.max_w.shape[0]

        def over_all(values: npt.NDArray[Any], rest: float = 0.0) -> npt.NDArray[Any]:
            found = np.zeros((count, *values.shape[1:]), dtype=values.dtype)
            if rest:
                found.fill(rest)
            found[hours] = values
            return found

        idle = {"met_frac": 1.0, "delivered_frac": 1.0, "plf_frac": 1.0}
        names = [part.name for part in fields(self) if part.name != "performance"]
        return ModeHours(performance, **{name: over_all(getattr(self, name), idle.get(name, 0.0)) for name in names})


def over_heads(values: FloatArray) -> FloatArray:
    """Sum over the heads of (hours, heads) values; column by column, as numpy is slow over rows of a few numbers."""
    heads = values.shape[1]
    if heads >= 8:  # numpy adds longer rows in another order
        return np.asarray(values.sum(axis=1))
    total = values[:, 0].copy()
    for head in range(1, heads):
        total += values[:, head]
    return total


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
    whole = system_performance(system, outdoor_c, mode)
    called = np.flatnonzero(over_heads(delivered_w) > 0.0)
    here = whole.at(called)
    own = []
    for head in system.heads:
        range_w, share = head_performance(head, outdoor_c, mode), head.delivered_frac(mode)
        share_here = share[called] if isinstance(share, np.ndarray) and share.ndim else share
        own.append(_HeadHours(head, here if range_w is whole else range_w.at(called), share_here))
    return _called_hours(system, delivered_w[called], here, own).spread(whole, called)


@dataclass(frozen=True, slots=True, eq=False)
class _HeadHours:
    """One head in the hours in which any head calls."""

    head: Head
    performance: Performance
    delivered_frac: float | FloatArray


def _called_hours(
    system: OutdoorSystem, delivered_w: FloatArray, perf: Performance, own: Sequence[_HeadHours]
) -> ModeHours:
    """The hours in which some head calls; arrays over these hours."""
    sensible, asked = _asked_w(delivered_w, own, perf)
    load, all_sensible = over_heads(asked), over_heads(sensible)
    run = part_load(perf, load, system.law)
    pause_w = _pause_fan_w(system, asked, run)
    starts = _room_starts(system.law, asked, perf, own)
    thermostat = thermostat_starts_per_hour(run.run_frac, system.law)
    flows = np.stack(
        [
            np.where(asked[:, k] > 0.0, running_airflow_m3_s(of.head, asked[:, k], run.run_frac, of.performance), 0.0)
            for k, of in enumerate(own)
        ],
        axis=1,
    )
    return ModeHours(
        performance=perf,
        load_w=load,
        sensible_w=all_sensible,
        delivered_frac=np.divide(over_heads(delivered_w), all_sensible, out=np.ones_like(load), where=load > 0.0),
        met_frac=np.divide(run.met_w, load, out=np.ones_like(load), where=load > 0.0),
        power_w=run.power_w + pause_w,
        run_frac=run.run_frac,
        plf_frac=run.plf_frac,
        below_min=run.below_min,
        starts_per_hour=np.where(run.below_min, starts, 0.0),
        thermostat_starts_per_hour=np.where(run.below_min, thermostat, 0.0),
        airflow_m3_s=flows,
        fan_w=run.run_frac * sum(_head_fan_w(head, flows[:, k]) for k, head in enumerate(system.heads)) + pause_w,
    )


def _asked_w(delivered_w: FloatArray, own: Sequence[_HeadHours], whole: Performance) -> tuple[FloatArray, FloatArray]:
    """Sensible and total output asked of the outdoor unit by each head, duct loss put back; (hours, heads) each.

    In cooling the total follows from the sensible share at the airflow; below the outdoor unit's minimum a fan that
    runs on in the pauses brings moisture back, which cools the air, so that less total is asked for.
    """
    sensible = np.stack([delivered_w[:, k] / of.delivered_frac for k, of in enumerate(own)], axis=1)
    if whole.mode is Mode.HEAT:
        return sensible, sensible
    total = np.stack([total_cooling_w(of.head, sensible[:, k], of.performance) for k, of in enumerate(own)], axis=1)
    runs_on = np.array([of.head.fan_in_pauses for of in own])
    load = over_heads(total)
    cycles = np.flatnonzero((load > 0.0) & (load < whole.min_w))
    if runs_on.any() and cycles.size:
        total[cycles] = _cycling_total_w(sensible[cycles], total[cycles], whole.min_w[cycles], runs_on)
    return sensible, total


def _cycling_total_w(
    sensible_w: FloatArray, steady_w: FloatArray, min_w: FloatArray, runs_on: npt.NDArray[np.bool_]
) -> FloatArray:
    """Total output of cycling hours with moisture coming back where the fan runs on; run share and total settle."""
    latent_share = 1.0 - np.divide(sensible_w, steady_w, out=np.ones_like(steady_w), where=steady_w > 0.0)
    wet, rest = np.where(runs_on, latent_share, 0.0), 1.0 - np.where(runs_on, 0.0, latent_share)
    total = steady_w
    for _ in range(LATENT_ROUNDS):
        kept = latent_frac(np.minimum(over_heads(total) / min_w, 1.0))
        total = sensible_w / (rest - wet * kept[:, None])
    return total


def _pause_fan_w(system: OutdoorSystem, asked: FloatArray, run: PartLoad) -> FloatArray:
    """Mean power of the fans that run on at quiet speed in the pauses of cycling hours."""
    watts = [(head.real_fan or rated_fan(head.pair.indoor)).quiet_w * head.fan_in_pauses for head in system.heads]
    pauses = np.where(run.below_min, 1.0 - run.run_frac, 0.0)
    mean_w: FloatArray = pauses * ((asked > 0.0) @ np.array(watts))
    return mean_w


def _room_starts(law: CyclingLaw, asked: FloatArray, perf: Performance, own: Sequence[_HeadHours]) -> FloatArray:
    """Starts by the energy balance of the rooms; several heads swing the load-weighted mean of their capacities."""
    hours = asked.shape[0]
    capacity = _weighted(np.array([of.head.capacity_j_k for of in own]), asked)
    shares = [np.broadcast_to(of.delivered_frac, hours) for of in own]
    reaches = _weighted(np.stack(shares, axis=1), asked)
    return room_starts_per_hour(over_heads(asked) * reaches, perf.min_w * reaches, capacity, law)


def _weighted(values: FloatArray, weights: FloatArray) -> FloatArray:
    """Mean over heads of (heads,) or (hours, heads) values, by each hour's loads; plain where nothing is asked."""
    if weights.shape[1] == 1:
        return np.broadcast_to(values[..., 0], weights.shape[0]).astype(np.float64)
    total = over_heads(weights)
    mean = np.broadcast_to(values.mean(axis=-1), total.shape).astype(np.float64)
    np.divide(over_heads(weights * values), total, out=mean, where=total > 0.0)
    return mean


def _head_fan_w(head: Head, flow_m3_s: FloatArray) -> FloatArray:
    """Fan power of a head while it runs [W], on its real ducts where they are known; 0 where it does not call."""
    rated = rated_fan(head.pair.indoor)
    real = head.real_fan or rated
    span = rated.high_w - rated.quiet_w
    share = (fan_w(head.pair.indoor, flow_m3_s) - rated.quiet_w) / span if span > 0.0 else np.zeros_like(flow_m3_s)
    return np.where(flow_m3_s > 0.0, real.quiet_w + share * (real.high_w - real.quiet_w), 0.0)
