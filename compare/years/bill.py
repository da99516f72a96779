"""Where an option's electricity goes, unit by unit, and what the year costs in money and carbon."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.hours import ModeHours
from compare.equipment.partload import part_load
from compare.equipment.performance import Mode, frostless
from compare.equipment.system import OutdoorSystem, system_performance
from compare.equipment.year import UnitYear
from compare.options.tags import outdoor_tag, zone_tags
from compare.years.case import HouseCase
from compare.years.energy import OldHeat, fuels, systems_of
from compare.years.gather import OptionRun
from compare.years.rates import electricity_usd

FloatArray = npt.NDArray[np.float64]

HEATING_BELOW_C = (60.0 - 32.0) / 1.8
"""Standby below this outdoor temperature is charged to heating, above it to cooling (60 degF, our judgement)."""


@dataclass(frozen=True, slots=True)
class UnitBill:
    """One outdoor unit's year [kWh]. The parts of electricity add up to `electricity_kwh`."""

    name: str
    heat_kwh: float
    """Delivered to rooms."""
    cool_kwh: float
    """Sensible, delivered to rooms."""
    heating_kwh: float
    """Compressor and outdoor fan while heating, without defrost."""
    cooling_kwh: float
    fan_kwh: float
    """Indoor fans, pauses included."""
    defrost_kwh: float
    """What frost and defrosting add between 17 and 45 degF outdoors."""
    standby_kwh: float
    base_pan_kwh: float
    heat_cop: float
    """Heat delivered to rooms over all electricity in the cold part of the year; 0 without heat."""
    cool_cop: float
    cycling_loss_kwh: float
    """Contained in heating and cooling."""
    distribution_kwh: float
    """Electricity for what ducts lose, contained in heating and cooling."""

    @property
    def electricity_kwh(self) -> float:
        """All of it."""
        running = self.heating_kwh + self.cooling_kwh + self.fan_kwh + self.defrost_kwh
        return running + self.standby_kwh + self.base_pan_kwh


@dataclass(frozen=True, slots=True)
class YearBill:
    """A year of one option."""

    units: tuple[UnitBill, ...]
    heater_kwh: float
    """Room heaters, which are the backup of rooms without a unit."""
    old_fuel_kwh: float
    old_fuel_units: float
    """The same in units of its fuel: therm, gallon, cord or kWh."""
    old_fuel: str
    electricity_usd: float
    old_fuel_usd: float
    carbon_kg: float

    @property
    def electricity_kwh(self) -> float:
        """Units and room heaters."""
        return sum(unit.electricity_kwh for unit in self.units) + self.heater_kwh

    @property
    def usd(self) -> float:
        """All energy."""
        return self.electricity_usd + self.old_fuel_usd

    @property
    def heat_cop(self) -> float:
        """Heat of all heat pumps over their electricity in the cold part of the year; 0 without heat."""
        heat = sum(unit.heat_kwh for unit in self.units)
        used = sum(unit.heat_kwh / unit.heat_cop for unit in self.units if unit.heat_cop > 0.0)
        return heat / used if used > 0.0 else 0.0


def year_bill(case: HouseCase, found: OptionRun) -> YearBill:
    """Split an option's year; nothing is run again."""
    option, run = found.option, found.run
    tags = zone_tags(option.zones)
    systems = systems_of(case, option)
    names = [
        f"{outdoor_tag(place)} ({', '.join(tags[zone] for zone in group.zones)})"
        for place, group in enumerate(option.outdoor.groups)
    ]
    outdoor_c = case.weather.dry_bulb_c
    old, rates = OldHeat.of(case.house), case.house.rates
    old_kwh = run.old_kwh / old.efficiency_frac
    fuel = case.house.existing_heat.fuel.value if case.house.existing_heat is not None else "none"
    rows = zip(names, systems, run.units, strict=True)
    return YearBill(
        units=tuple(_unit(name, system, year, outdoor_c) for name, system, year in rows),
        heater_kwh=run.heater_kwh,
        old_fuel_kwh=old_kwh,
        old_fuel_units=old_kwh / fuels()[fuel].heat_kwh if old_kwh > 0.0 else 0.0,
        old_fuel=fuel,
        electricity_usd=electricity_usd(case.house, run.power_w),
        old_fuel_usd=old_kwh * old.usd_kwh,
        carbon_kg=run.electricity_kwh * rates.carbon_kg_kwh + old_kwh * old.carbon_kg_kwh,
    )


def _unit(name: str, system: OutdoorSystem, year: UnitYear, outdoor_c: FloatArray) -> UnitBill:
    energy = year.energy
    defrost_w = _defrost_w(system, year.heating, outdoor_c)
    cold = outdoor_c < HEATING_BELOW_C
    idle_w = year.power_w - year.heating.power_w - year.cooling.power_w
    heat_used = float((year.heating.power_w + np.where(cold, idle_w, 0.0)).sum()) / 1000.0
    cool_used = float((year.cooling.power_w + np.where(cold, 0.0, idle_w)).sum()) / 1000.0
    defrost = float(defrost_w.sum()) / 1000.0
    heating_fan, cooling_fan = (float(hours.fan_w.sum()) / 1000.0 for hours in (year.heating, year.cooling))
    return UnitBill(
        name=name,
        heat_kwh=energy.heat_delivered_kwh,
        cool_kwh=energy.cool_delivered_kwh,
        heating_kwh=energy.heating_kwh - heating_fan - defrost,
        cooling_kwh=energy.cooling_kwh - cooling_fan,
        fan_kwh=energy.fan_kwh,
        defrost_kwh=defrost,
        standby_kwh=energy.standby_kwh,
        base_pan_kwh=energy.base_pan_kwh,
        heat_cop=energy.heat_delivered_kwh / heat_used if energy.heat_delivered_kwh > 0.0 else 0.0,
        cool_cop=energy.cool_delivered_kwh / cool_used if energy.cool_delivered_kwh > 0.0 else 0.0,
        cycling_loss_kwh=energy.cycling_loss_kwh,
        distribution_kwh=_lost_kwh(system, year.heating, Mode.HEAT) + _lost_kwh(system, year.cooling, Mode.COOL),
    )


def _defrost_w(system: OutdoorSystem, heating: ModeHours, outdoor_c: FloatArray) -> FloatArray:
    """Power beyond that of the same unit without frost lines at the same output; heat not met is not counted."""
    dry = frostless(system_performance(system, outdoor_c, Mode.HEAT), system.output, outdoor_c)
    met_w = heating.load_w * heating.met_frac
    usual = part_load(heating.performance, met_w, system.law).power_w
    return np.maximum(usual - part_load(dry, met_w, system.law).power_w, 0.0)


def _lost_kwh(system: OutdoorSystem, hours: ModeHours, mode: Mode) -> float:
    """Electricity for output that does not reach the rooms, as a share of each hour's."""
    shares: Sequence[FloatArray | float] = [head.delivered_frac(mode) for head in system.heads]
    if all(np.ndim(share) == 0 and float(share) == 1.0 for share in shares):
        return 0.0
    kept = hours.delivered_frac
    return float((hours.power_w * (1.0 - kept)).sum()) / 1000.0
