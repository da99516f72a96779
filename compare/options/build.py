"""All options of a house: its layouts with designed zones, each with the outdoor groupings that make sense.

Zones are designed once and shared by every layout that holds them with the same borrowed rooms.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice

import numpy as np
import numpy.typing as npt

from compare.air.lines import LineEnd, LineRoute, OutdoorGroup, SpotPlan, assign_spots, end_of_siting, end_of_space
from compare.equipment.circuit import PanelCheck, panel_check
from compare.equipment.heater import heater_w
from compare.equipment.outdoor import MOST_ZONES, OutdoorPlan, ZoneUnit, paired, shared
from compare.options.findings import findings
from compare.options.job import job_of
from compare.options.option import Option
from compare.options.tags import zone_tags
from compare.prices.price_list import PriceList, price
from compare.prices.takeoff import take_off
from compare.zones.attach import attached_rooms
from compare.zones.basis import DesignBasis
from compare.zones.served import ServedZone, design_zone, sited
from compare.zones.sketch import LayoutSketch, Rest, ZoneSketch


@dataclass(frozen=True, slots=True, eq=False)
class Offer:
    """What options are built from, besides the plan: prices and the panel."""

    basis: DesignBasis
    prices: PriceList
    free_breaker_spaces: int | None


class ZoneShelf:
    """Zones by what they serve, designed at the first call."""

    def __init__(self, basis: DesignBasis) -> None:
        self._basis = basis
        self._site = cache(sited(basis))
        self._zones: dict[tuple[ZoneSketch, tuple[int, ...]], ServedZone] = {}

    def zone(self, sketch: ZoneSketch, attached: tuple[int, ...]) -> ServedZone:
        """The designed zone for these rooms and borrowers."""
        key = (sketch, attached)
        if key not in self._zones:
            self._zones[key] = design_zone(self._basis, sketch, attached, self._site)
        return self._zones[key]


def build_options(
    offer: Offer,
    layouts: Iterable[LayoutSketch],
    progress: Callable[[int], None] | None = None,
    *,
    sharing: bool = True,
) -> tuple[Option, ...]:
    """Every layout as one or two options: indoor units each with an outdoor unit, and sharing where that saves one.

    Without `sharing` only the first.
    """
    shelf = ZoneShelf(offer.basis)
    options: list[Option] = []
    for count, layout in enumerate(layouts, start=1):
        attached = attached_rooms(offer.basis.plan, layout)
        zones = tuple(shelf.zone(sketch, rooms) for sketch, rooms in zip(layout.zones, attached, strict=True))
        forms = assembled(offer, layout, zones)
        options.extend(forms if sharing else islice(forms, 1))
        if progress is not None:
            progress(count)
    return tuple(options)


def assembled(offer: Offer, layout: LayoutSketch, zones: tuple[ServedZone, ...]) -> Iterator[Option]:
    """A layout of designed zones with the outdoor groupings that make sense: own outdoor units first, then shared."""
    return (_option(offer, layout, zones, outdoor) for outdoor in _groupings(offer, zones))


def _groupings(offer: Offer, zones: tuple[ServedZone, ...]) -> Iterator[OutdoorPlan]:
    """Each indoor unit with its own outdoor unit, and sharing where it saves one and can be searched exactly."""
    plan = offer.basis.plan
    units = [
        ZoneUnit(f"{tag} {plan.rooms[zone.rooms[0]].name}", zone.pair, zone.demand)
        for tag, zone in zip(zone_tags(zones), zones, strict=True)
    ]
    apart = paired(units)
    yield apart
    if 1 < len(units) <= MOST_ZONES:
        together = shared(units, offer.basis.units)
        if together.count < apart.count:
            yield together


def _option(offer: Offer, layout: LayoutSketch, zones: tuple[ServedZone, ...], outdoor: OutdoorPlan) -> Option:
    plan = offer.basis.plan
    ends = [_line_end(offer, zone) for zone in zones]
    spots = assign_spots(plan, tuple(OutdoorGroup(tuple(ends[zone] for zone in g.zones)) for g in outdoor.groups))
    routes = _routes(outdoor, spots, len(zones))
    job = job_of(plan, layout, zones, outdoor, routes)
    return Option(
        layout=layout,
        zones=zones,
        outdoor=outdoor,
        routes=routes,
        job=job,
        price=price(take_off(job), offer.prices),
        findings=findings(plan, zones, outdoor, spots, _panel(offer, layout, outdoor)),
    )


def _panel(offer: Offer, layout: LayoutSketch, outdoor: OutdoorPlan) -> PanelCheck:
    heaters = heaters_w(layout, offer.basis.heat_load_w)
    return panel_check([group.outdoor for group in outdoor.groups], offer.free_breaker_spaces, heaters)


def heaters_w(layout: LayoutSketch, heat_load_w: Sequence[float] | npt.NDArray[np.float64]) -> tuple[float, ...]:
    """Rated power of every room heater that a layout brings."""
    return tuple(heater_w(float(heat_load_w[room])) for room, rest in layout.rest if rest is Rest.HEATER)


def _line_end(offer: Offer, zone: ServedZone) -> LineEnd:
    plan = offer.basis.plan
    if zone.siting is not None:
        return end_of_siting(plan, zone.siting)
    assert zone.ducts is not None
    start = (zone.ducts.start_x_m, zone.ducts.start_y_m)
    return end_of_space(plan, zone.ducts.space, start, needs_pump=zone.ducts.needs_pump)


def _routes(outdoor: OutdoorPlan, spots: SpotPlan, zones: int) -> tuple[LineRoute, ...]:
    if not spots.routes:
        return ()
    by_zone = {
        zone: route
        for group, routes in zip(outdoor.groups, spots.routes, strict=True)
        for zone, route in zip(group.zones, routes, strict=True)
    }
    return tuple(by_zone[zone] for zone in range(zones))
