"""From the heat that a year's run delivers to the electricity, starts and hours below minimum of one outdoor unit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.hours import ModeHours, mode_hours, over_heads
from compare.equipment.performance import Mode
from compare.equipment.system import OutdoorSystem
from compare.equipment.table import to_c

FloatArray = npt.NDArray[np.float64]

LEAST_LOAD_W = 1.0
"""A zone that gets less than this in the mean of an hour does not call; keeps rounding noise out of running hours."""
MILD_C = (to_c(40.0), to_c(55.0))
"""Outdoor range of a mild day for starts an hour [degC]."""


@dataclass(frozen=True, slots=True)
class UnitEnergy:
    """Energy of one outdoor unit over a year. Fan and cycling loss are contained in heating and cooling."""

    heat_delivered_kwh: float
    cool_delivered_kwh: float
    """Sensible cooling that reached rooms, positive."""
    heating_kwh: float
    cooling_kwh: float
    fan_kwh: float
    cycling_loss_kwh: float
    standby_kwh: float
    base_pan_kwh: float

    @property
    def electricity_kwh(self) -> float:
        """All electricity of the unit."""
        return self.heating_kwh + self.cooling_kwh + self.standby_kwh + self.base_pan_kwh

    @property
    def cop(self) -> float:
        """Heat and sensible cooling delivered over all electricity; 0 for a unit that uses none."""
        total = self.electricity_kwh
        return (self.heat_delivered_kwh + self.cool_delivered_kwh) / total if total > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class UnitCycling:
    """How one outdoor unit runs over a year."""

    running_h: float
    """Hours in which any indoor unit calls."""
    below_min_h: float
    starts: float
    thermostat_starts: float
    """Starts by the thermostat law, a second value."""
    mild_starts_per_hour: float
    """Mean over running hours with 40 to 55 degF outdoors; 0 without such hours."""
    most_starts_per_hour: float

    @property
    def below_min_frac(self) -> float:
        """Hours below minimum output over running hours."""
        return self.below_min_h / self.running_h if self.running_h > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class UnitLimits:
    """What one outdoor unit could not do over a year."""

    conflict_h: float
    """Hours in which one zone wants heat and another cold; the larger one is met."""
    conflict_kwh: float
    short_h: float
    """Hours in which the sum asked for exceeds the outdoor unit's most output."""
    short_kwh: float


@dataclass(frozen=True, slots=True, eq=False)
class UnitYear:
    """One outdoor unit's year, with its hours in both modes and its electricity by hour [W]."""

    energy: UnitEnergy
    cycling: UnitCycling
    limits: UnitLimits
    heating: ModeHours
    cooling: ModeHours
    power_w: FloatArray
    """All electricity in the mean of each step, for rates by time of use."""


def unit_year(
    system: OutdoorSystem, supply_w: npt.ArrayLike, outdoor_c: npt.ArrayLike, step_h: float = 1.0
) -> UnitYear:
    """Electricity, starts and hours below minimum of one outdoor unit.

    Parameters
    ----------
    system
        Outdoor unit and its heads.
    supply_w
        Heat delivered to the rooms of each head in each step, sensible cooling negative [W],
        shape (steps, heads).
    outdoor_c
        Outdoor dry bulb [degC], shape (steps,).
    step_h
        Length of a step [h].

    Raises
    ------
    ValueError
        When the shapes do not fit together or a number is not finite.
    """
    supply = np.asarray(supply_w, dtype=np.float64)
    outdoor = np.asarray(outdoor_c, dtype=np.float64)
    if supply.shape != (outdoor.shape[0], len(system.heads)):
        raise ValueError(f"supply_w has shape {supply.shape}, expected ({outdoor.shape[0]}, {len(system.heads)})")
    if not (np.isfinite(supply).all() and np.isfinite(outdoor).all()):
        raise ValueError("supply_w and outdoor_c must be finite in every step")
    supply = np.where(np.abs(supply) >= LEAST_LOAD_W, supply, 0.0)
    heat, cold = np.maximum(supply, 0.0), np.maximum(-supply, 0.0)
    all_heat, all_cold = over_heads(heat), over_heads(cold)
    heats = all_heat >= all_cold
    warm = mode_hours(system, np.where(heats[:, None], heat, 0.0), outdoor, Mode.HEAT)
    cool = mode_hours(system, np.where(heats[:, None], 0.0, cold), outdoor, Mode.COOL)
    rest_w = (1.0 - np.maximum(warm.run_frac, cool.run_frac)) * system.auxiliary.rest_w(outdoor, len(system.heads))
    pan_w = system.auxiliary.pan_w(outdoor)
    given = _Given(np.where(heats, all_heat, 0.0), np.where(heats, 0.0, all_cold), rest_w, pan_w)
    return UnitYear(
        energy=_energy(warm, cool, given, step_h),
        cycling=_cycling(warm, cool, outdoor, step_h),
        limits=_limits(warm, cool, np.minimum(all_heat, all_cold), step_h),
        heating=warm,
        cooling=cool,
        power_w=warm.power_w + cool.power_w + rest_w + pan_w,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Given:
    """Delivered and auxiliary power by step [W]."""

    heat_w: FloatArray
    cool_w: FloatArray
    rest_w: FloatArray
    pan_w: FloatArray


def _energy(warm: ModeHours, cool: ModeHours, given: _Given, step_h: float) -> UnitEnergy:
    kwh = step_h / 1000.0
    lost_w = warm.power_w * (1.0 - warm.plf_frac) + cool.power_w * (1.0 - cool.plf_frac)
    return UnitEnergy(
        heat_delivered_kwh=float(given.heat_w @ warm.met_frac) * kwh,
        cool_delivered_kwh=float(given.cool_w @ cool.met_frac) * kwh,
        heating_kwh=float(warm.power_w.sum()) * kwh,
        cooling_kwh=float(cool.power_w.sum()) * kwh,
        fan_kwh=float((warm.fan_w + cool.fan_w).sum()) * kwh,
        cycling_loss_kwh=float(lost_w.sum()) * kwh,
        standby_kwh=float(given.rest_w.sum()) * kwh,
        base_pan_kwh=float(given.pan_w.sum()) * kwh,
    )


def _cycling(warm: ModeHours, cool: ModeHours, outdoor_c: FloatArray, step_h: float) -> UnitCycling:
    starts = warm.starts_per_hour + cool.starts_per_hour
    running = (warm.load_w + cool.load_w) > 0.0
    mild = running & (outdoor_c >= MILD_C[0]) & (outdoor_c <= MILD_C[1])
    return UnitCycling(
        running_h=float(running.sum()) * step_h,
        below_min_h=float((warm.below_min | cool.below_min).sum()) * step_h,
        starts=float(starts.sum()) * step_h,
        thermostat_starts=float((warm.thermostat_starts_per_hour + cool.thermostat_starts_per_hour).sum()) * step_h,
        mild_starts_per_hour=float(starts[mild].mean()) if mild.any() else 0.0,
        most_starts_per_hour=float(starts.max(initial=0.0)),
    )


def _limits(warm: ModeHours, cool: ModeHours, lost_w: FloatArray, step_h: float) -> UnitLimits:
    short_w = sum(hours.load_w * (1.0 - hours.met_frac) for hours in (warm, cool))
    short = np.asarray(short_w, dtype=np.float64)
    return UnitLimits(
        conflict_h=float((lost_w > 0.0).sum()) * step_h,
        conflict_kwh=float(lost_w.sum()) * step_h / 1000.0,
        short_h=float((short > LEAST_LOAD_W).sum()) * step_h,
        short_kwh=float(short.sum()) * step_h / 1000.0,
    )
