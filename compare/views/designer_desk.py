"""What a DesignerView is made of, and the price of an option with one zone changed."""

from __future__ import annotations

from dataclasses import dataclass

from compare.equipment.catalogue import Catalogue
from compare.house.plan import Plan
from compare.options.job import job_of
from compare.options.option import Option
from compare.prices.price_list import PriceList, price
from compare.prices.takeoff import take_off
from compare.years.case import HouseCase
from compare.zones.basis import DesignBasis
from compare.zones.served import ServedZone


@dataclass(frozen=True, slots=True, eq=False)
class Desk:
    """A prepared house, what zones are designed on, the price list, and all options of its comparison."""

    case: HouseCase
    basis: DesignBasis
    prices: PriceList
    options: tuple[Option, ...]
    names: dict[str, str]
    """What each option is, by its id."""

    @property
    def plan(self) -> Plan:
        """The plan."""
        return self.case.plan

    @property
    def units(self) -> Catalogue:
        """The catalogue."""
        return self.basis.units


def repriced(desk: Desk, option: Option, index: int, zone: ServedZone) -> float:
    """Installed price [USD] of an option with one of its zones replaced."""
    zones = [*option.zones]
    zones[index] = zone
    job = job_of(desk.plan, option.layout, zones, option.outdoor, option.routes)
    return float(price(take_off(job), desk.prices).mid_usd)
