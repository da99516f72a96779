"""An option: a layout whose zones are designed, grouped on outdoor units, routed and priced."""

from __future__ import annotations

from dataclasses import dataclass

from compare.air.lines import LineRoute
from compare.equipment.outdoor import OutdoorGroup, OutdoorPlan
from compare.equipment.selection import Cover
from compare.prices.job import JobDescription
from compare.prices.price_list import Price
from compare.zones.served import ServedZone
from compare.zones.sketch import Family, LayoutSketch


@dataclass(frozen=True, slots=True)
class Finding:
    """Something found while designing that rejects the option (`fatal`) or must be read out with it."""

    code: str
    fatal: bool
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One option. Zones stand in the order of the layout; `routes` has one line set per zone."""

    layout: LayoutSketch
    zones: tuple[ServedZone, ...]
    outdoor: OutdoorPlan
    routes: tuple[LineRoute, ...]
    """Empty where there is no spot for an outdoor unit."""
    job: JobDescription
    price: Price
    findings: tuple[Finding, ...]

    @property
    def key(self) -> str:
        """Stable id: the layout's, and how the zones are grouped where some share an outdoor unit."""
        shared = ["".join(f"{zone}" for zone in group.zones) for group in self.outdoor.groups if group.shared]
        return f"{self.layout.key}~{'_'.join(shared)}" if shared else self.layout.key

    @property
    def family(self) -> Family:
        """Family of its layout."""
        return self.layout.family

    def group_of(self, zone: int) -> OutdoorGroup:
        """The outdoor unit on which a zone hangs."""
        return next(group for group in self.outdoor.groups if zone in group.zones)

    def load_share(self, group: OutdoorGroup, zone: int) -> tuple[float, float]:
        """A zone's part of the design load at its outdoor unit, heating and cooling."""
        heat = {i: self.zones[i].demand.heat_w / self.zones[i].demand.delivered_heat_frac for i in group.zones}
        cool = {i: self.zones[i].demand.cool_w / self.zones[i].demand.delivered_cool_frac for i in group.zones}
        count = len(group.zones)
        heat_sum, cool_sum = sum(heat.values()), sum(cool.values())
        return (
            heat[zone] / heat_sum if heat_sum > 0.0 else 1.0 / count,
            cool[zone] / cool_sum if cool_sum > 0.0 else 1.0 / count,
        )

    def cover(self, zone: int) -> Cover:
        """Output at design conditions over a zone's load; on a shared unit the lower of head and outdoor unit."""
        group = self.group_of(zone)
        return group.covers[group.zones.index(zone)]

    @property
    def visible_units(self) -> int:
        """Indoor units that are seen in rooms."""
        return sum(zone.siting is not None for zone in self.zones)
