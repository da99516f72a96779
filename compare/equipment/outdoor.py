"""Outdoor units for a set of zones: each indoor unit with its own, or several on a shared one.

The grouping is an exact search over all ways to split the zones into groups (dynamic programming over subsets):
fewest outdoor units first, then the least of a price stand-in, unless another ranking is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from compare.equipment.catalogue import Catalogue
from compare.equipment.output import RatedOutput
from compare.equipment.rules import rule, rule_words
from compare.equipment.selection import Cover, Demand, cover
from compare.equipment.unit import OutdoorUnit, Pair, SharedUnit

MOST_ZONES = 12
"""More zones than this are not searched exactly (3^n steps)."""


@dataclass(frozen=True, slots=True)
class ZoneUnit:
    """One zone's chosen pair (its indoor unit is kept also on a shared outdoor unit) and its design loads."""

    name: str
    pair: Pair
    demand: Demand


@dataclass(frozen=True, slots=True)
class OutdoorGroup:
    """One outdoor unit with the zones that hang on it.

    `covers` holds each zone's cover: on a shared unit the lower of its indoor unit's and the outdoor unit's.
    """

    zones: tuple[int, ...]
    outdoor: OutdoorUnit
    output: RatedOutput
    connected_frac: float
    covers: tuple[Cover, ...]

    @property
    def shared(self) -> bool:
        """Whether several indoor units hang on it."""
        return self.outdoor.ports > 1


@dataclass(frozen=True, slots=True)
class OutdoorPlan:
    """All outdoor units of an option, with remarks on groups that could not be shared."""

    groups: tuple[OutdoorGroup, ...]
    notes: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """Number of outdoor units."""
        return len(self.groups)

    def still_served(self, failed: int) -> tuple[int, ...]:
        """Zones that still have heat and cooling when one outdoor unit (by its place in `groups`) stands still."""
        return tuple(sorted(zone for place, group in enumerate(self.groups) if place != failed for zone in group.zones))


Ranking = Callable[[OutdoorGroup], tuple[float, ...]]
"""A group's additive cost, compared as a tuple after summing over groups."""


def few_then_small(group: OutdoorGroup) -> tuple[float, ...]:
    """Default ranking: number of outdoor units, then the sum of their nominal sizes as a stand-in for price."""
    return (1.0, group.outdoor.size_kbtuh)


def paired(zones: Sequence[ZoneUnit]) -> OutdoorPlan:
    """Each indoor unit with its own outdoor unit."""
    return OutdoorPlan(tuple(_single(zones, place) for place in range(len(zones))))


def shared(zones: Sequence[ZoneUnit], units: Catalogue, ranking: Ranking = few_then_small) -> OutdoorPlan:
    """The best split of the zones into shared and single outdoor units.

    Parameters
    ----------
    zones
        Zones with their chosen units.
    units
        Catalogue with the shared outdoor units.
    ranking
        Additive cost of a group; sums are compared as tuples.

    Raises
    ------
    ValueError
        For more than `MOST_ZONES` zones.
    """
    count = len(zones)
    if count > MOST_ZONES:
        raise ValueError(f"{count} zones are too many for an exact grouping; at most {MOST_ZONES}")
    options = _subset_groups(zones, units)

    @cache
    def best(left: int) -> tuple[tuple[float, ...], tuple[int, ...]]:
        """Least cost of the zones still left, with the groups chosen; the first of them is in the first group."""
        if left == 0:
            return (), ()
        first = left & -left
        rest = left & ~first
        ways = [sub | first for sub in _subsets(rest) if sub | first in options]
        found = [
            (_plus(ranking(options[way]), cost), (way, *more)) for way in ways for cost, more in [best(left & ~way)]
        ]
        return min(found)

    chosen = best((1 << count) - 1)[1]
    return OutdoorPlan(tuple(options[mask] for mask in chosen), _left_alone(zones, [options[mask] for mask in chosen]))


def _subsets(mask: int) -> Iterator[int]:
    """Every subset of a bit mask, the empty one last."""
    sub = mask
    while sub:
        yield sub
        sub = (sub - 1) & mask
    yield 0


def _plus(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, ...]:
    return a if not b else tuple(x + y for x, y in zip(a, b, strict=True))


def _subset_groups(zones: Sequence[ZoneUnit], units: Catalogue) -> dict[int, OutdoorGroup]:
    groups = {1 << place: _single(zones, place) for place in range(len(zones))}
    most_ports = max((unit.outdoor.ports for unit in units.shared), default=0)
    for mask in range(1, 1 << len(zones)):
        if 2 <= mask.bit_count() <= most_ports:
            members = tuple(place for place in range(len(zones)) if mask >> place & 1)
            group = smallest_shared(zones, members, units)
            if group is not None:
                groups[mask] = group
    return groups


def _single(zones: Sequence[ZoneUnit], place: int) -> OutdoorGroup:
    pair, demand = zones[place].pair, zones[place].demand
    return OutdoorGroup((place,), pair.outdoor, pair.output, 1.0, (cover(pair.output, demand),))


def smallest_shared(zones: Sequence[ZoneUnit], members: tuple[int, ...], units: Catalogue) -> OutdoorGroup | None:
    """The smallest shared outdoor unit for some zones, or None when none fits them all.

    It fits when it has the ports, the sum of indoor sizes lies in its connected range, every indoor unit is of a
    kind and size that may be shared, and it covers the sum of the design loads.
    """
    chosen = [zones[place] for place in members]
    if any(sharing_problem(zone.pair) for zone in chosen):
        return None
    connected = sum(zone.pair.size_kbtuh for zone in chosen)
    for unit in units.shared:
        outdoor = unit.outdoor
        fits = outdoor.connected_least_kbtuh - 1e-9 <= connected <= outdoor.connected_most_kbtuh + 1e-9
        if fits and len(members) <= outdoor.ports:
            together = shared_cover(unit, [zone.demand for zone in chosen])
            if together.enough:
                return _group(unit, chosen, members, together)
    return None


def _group(unit: SharedUnit, chosen: list[ZoneUnit], members: tuple[int, ...], together: Cover) -> OutdoorGroup:
    connected = sum(zone.pair.size_kbtuh for zone in chosen)
    covers = []
    for zone in chosen:
        own = cover(zone.pair.output, zone.demand)
        covers.append(Cover(min(own.heat_frac, together.heat_frac), min(own.cool_frac, together.cool_frac)))
    return OutdoorGroup(members, unit.outdoor, unit.output, connected / unit.outdoor.size_kbtuh, tuple(covers))


def shared_cover(unit: SharedUnit, demands: Sequence[Demand]) -> Cover:
    """Design output of a shared outdoor unit over the sum of the loads at the indoor units.

    Loads are taken before duct loss, and at the coldest and hottest design temperatures among the zones.
    """
    heat_w = sum(demand.heat_w / demand.delivered_heat_frac for demand in demands)
    cool_w = sum(demand.cool_w / demand.delivered_cool_frac for demand in demands)
    whole = Demand(
        heat_w, cool_w, min(d.heat_outdoor_c for d in demands), max(d.cool_outdoor_c for d in demands)
    )  # fmt: skip
    return cover(unit.output, whole)


def sharing_problem(pair: Pair) -> str:
    """Why an indoor unit may not hang on a shared outdoor unit; empty when it may."""
    kinds = rule_words("shared", "kinds")
    if str(pair.kind) not in kinds:
        return f"{pair.label} is not offered for shared outdoor units (kinds: {', '.join(kinds)})"
    least, most = rule("shared", "head_size_least_kbtuh"), rule("shared", "head_size_most_kbtuh")
    if not least <= pair.size_kbtuh <= most:
        return f"{pair.label}: shared outdoor units take indoor sizes {least:g} to {most:g} kBtu/h"
    return ""


def _left_alone(zones: Sequence[ZoneUnit], groups: list[OutdoorGroup]) -> tuple[str, ...]:
    notes = []
    for group in groups:
        if not group.shared and len(zones) > 1:
            zone = zones[group.zones[0]]
            reason = sharing_problem(zone.pair) or "no shared outdoor unit fits it together with others"
            notes.append(f"{zone.name}: keeps its own outdoor unit; {reason}")
    return tuple(notes)
