"""Electricity, old fuel, bills and carbon of an option's year, also with every cold bedroom topped up."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np
import numpy.typing as npt

from compare.equipment.system import OutdoorSystem
from compare.equipment.year import UnitYear, unit_year
from compare.house.model import HouseFile
from compare.house.services import Fuel
from compare.options.option import Option
from compare.physics.network import YearTrace
from compare.scoring.evidence import EnergyEvidence
from compare.years.case import HouseCase
from compare.years.heads import Outside, head_of
from compare.years.rates import electricity_usd
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]

W_H_KWH = 1e-3


@dataclass(frozen=True, slots=True)
class FuelFacts:
    """Heat of one unit of a fuel, and the carbon dioxide of a kWh of it."""

    heat_kwh: float
    carbon_kg_kwh: float


@cache
def fuels() -> dict[str, FuelFacts]:
    """Facts of each fuel by its word in the house file (table `fuels.csv`, with sources)."""
    text = resources.files("compare.data.house").joinpath("fuels.csv").read_text(encoding="utf-8")
    return {
        row["fuel"]: FuelFacts(float(row["heat_kwh"]), float(row["carbon_kg_kwh"]))
        for row in csv.DictReader(text.splitlines())
    }


@dataclass(frozen=True, slots=True, eq=False)
class HouseNeed:
    """What the house needs with every habitable room held at the set points, kWh a year."""

    heat_kwh: float
    cool_kwh: float


@dataclass(frozen=True, slots=True, eq=False)
class Delivered:
    """One option's year of deliveries: outdoor units, and heat of room heaters and old heat [kWh]."""

    units: tuple[UnitYear, ...]
    heater_kwh: float
    old_kwh: float
    heater_w: FloatArray | None = None
    """Power of all room heaters by the hour."""

    @property
    def heat_kwh(self) -> float:
        """Heat to rooms from everything."""
        return sum(unit.energy.heat_delivered_kwh for unit in self.units) + self.heater_kwh + self.old_kwh

    @property
    def cool_kwh(self) -> float:
        """Sensible cooling to rooms."""
        return sum(unit.energy.cool_delivered_kwh for unit in self.units)

    @property
    def electricity_kwh(self) -> float:
        """Electricity of units and room heaters."""
        return sum(unit.energy.electricity_kwh for unit in self.units) + self.heater_kwh

    @property
    def power_w(self) -> FloatArray:
        """The same by the hour."""
        series = [unit.power_w for unit in self.units]
        if self.heater_w is not None:
            series.append(self.heater_w)
        return np.asarray(sum(series, start=np.zeros(1)))


def need_of(trace: YearTrace) -> HouseNeed:
    """The house's need from a run with an ideal source in each habitable room."""
    supply = trace.supply_w.astype(np.float64)
    return HouseNeed(
        heat_kwh=float(np.maximum(supply, 0.0).sum()) * W_H_KWH,
        cool_kwh=float(np.maximum(-supply, 0.0).sum()) * W_H_KWH,
    )


def systems_of(case: HouseCase, option: Option) -> tuple[OutdoorSystem, ...]:
    """Every outdoor unit of an option with its heads on their real ducts."""
    outside, controls = Outside.of(case.weather), case.house.controls
    return tuple(
        OutdoorSystem(
            group.output, tuple(head_of(case.plan, option.zones[zone], outside, controls) for zone in group.zones)
        )
        for group in option.outdoor.groups
    )


def delivered(case: HouseCase, option: Option, trace: YearTrace, heaters: Sequence[Rest]) -> Delivered:
    """Turn one run into units' years.

    Parameters
    ----------
    case, option
        The house and the option.
    trace
        Its run: supplies of all zones in order, then of `heaters` in order.
    heaters
        What the further supplies are.
    """
    supply = trace.supply_w.astype(np.float64)
    zones = len(option.zones)
    outdoor_c = case.weather.dry_bulb_c
    units = tuple(
        unit_year(system, supply[:, list(group.zones)], outdoor_c)
        for system, group in zip(systems_of(case, option), option.outdoor.groups, strict=True)
    )
    by_kind = {kind: np.zeros(outdoor_c.shape) for kind in (Rest.HEATER, Rest.OLD_HEAT)}
    for column, kind in enumerate(heaters, start=zones):
        by_kind[kind] += np.maximum(supply[:, column], 0.0)
    heater_w, old_w = by_kind[Rest.HEATER], by_kind[Rest.OLD_HEAT]
    return Delivered(units, float(heater_w.sum()) * W_H_KWH, float(old_w.sum()) * W_H_KWH, heater_w)


def plain_rests(option: Option) -> tuple[Rest, ...]:
    """What the supplies after those of the zones are, as `SupplyFactory.of_option` orders them."""
    return tuple(rest for _, rest in option.layout.rest if rest is not Rest.NEIGHBOUR)


def bill_of(house: HouseFile, run: Delivered) -> float:
    """What a year of deliveries costs at the house's rates [USD]."""
    old = OldHeat.of(house)
    return electricity_usd(house, run.power_w) + run.old_kwh / old.efficiency_frac * old.usd_kwh


def energy_evidence(case: HouseCase, run: Delivered, equal: Delivered, need: HouseNeed) -> EnergyEvidence:
    """Energy as the option runs and at equal service, at the house's rates."""
    old = OldHeat.of(case.house)
    site_old_kwh = run.old_kwh / old.efficiency_frac
    rates = case.house.rates
    return EnergyEvidence(
        electricity_kwh=run.electricity_kwh,
        old_fuel_kwh=site_old_kwh,
        heat_kwh=run.heat_kwh,
        cool_kwh=run.cool_kwh,
        resistance_heat_kwh=run.heater_kwh,
        equal_service_kwh=equal.electricity_kwh + equal.old_kwh / old.efficiency_frac,
        equal_service_heat_kwh=need.heat_kwh,
        equal_service_cool_kwh=need.cool_kwh,
        bill_usd=bill_of(case.house, run),
        carbon_kg=run.electricity_kwh * rates.carbon_kg_kwh + site_old_kwh * old.carbon_kg_kwh,
    )


@dataclass(frozen=True, slots=True)
class OldHeat:
    """The heat that is there today: efficiency, price and carbon of a kWh in its fuel."""

    efficiency_frac: float
    usd_kwh: float
    carbon_kg_kwh: float

    @classmethod
    def of(cls, house: HouseFile) -> OldHeat:
        """From the house file; electric resistance where it says nothing."""
        heat, rates = house.existing_heat, house.rates
        if heat is None:
            return cls(1.0, rates.electricity_usd_kwh, rates.carbon_kg_kwh)
        listed = {
            Fuel.GAS: rates.gas_usd_therm,
            Fuel.OIL: rates.oil_usd_gal,
            Fuel.PROPANE: rates.propane_usd_gal,
            Fuel.WOOD: rates.wood_usd_cord,
        }
        unit_usd = heat.price_usd if heat.price_usd is not None else listed.get(heat.fuel, rates.electricity_usd_kwh)
        facts = fuels()[heat.fuel.value]
        electric = heat.fuel in (Fuel.ELECTRIC, Fuel.NONE)
        carbon = rates.carbon_kg_kwh if electric else facts.carbon_kg_kwh
        return cls(heat.efficiency_frac, unit_usd / facts.heat_kwh, carbon)
