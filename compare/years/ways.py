"""One layout both ways: an outdoor unit for each indoor unit, or one that serves several."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from compare.equipment.circuit import SPACES_240_V
from compare.equipment.outdoor import OutdoorGroup
from compare.equipment.performance import Mode, performance
from compare.equipment.table import to_c
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.years.bench import Result
from compare.years.sharing import shares_outdoor

MILD_HEAT_C = to_c(47.0)
MILD_COOL_C = to_c(82.0)
"""Outdoor temperatures at which least outputs are compared (rating points)."""


@dataclass(frozen=True, slots=True)
class Calling:
    """Least output [W] of the outdoor units that have to run when these zones call, at 47 and at 82 degF outdoors."""

    zones: tuple[str, ...]
    heat_min_w: float
    cool_min_w: float


@dataclass(frozen=True, slots=True)
class Failure:
    """What still runs, by tag, when one outdoor unit stands still."""

    outdoor: str
    still_runs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One grouping of a layout's indoor units."""

    key: str
    outdoor: tuple[str, ...]
    price_low_usd: float
    price_mid_usd: float
    price_high_usd: float
    pads: int
    circuits_a: tuple[float, ...]
    breaker_spaces: int
    line_m: float
    cover_m: float
    calling: tuple[Calling, ...]
    """Each zone alone, then all together."""
    conflict_h: float
    """Hours in which one zone wants heat and another cold on the same outdoor unit; the smaller wish is not met."""
    conflict_kwh: float
    failures: tuple[Failure, ...]
    electricity_kwh: float
    starts: float
    rejected_for: tuple[str, ...]
    """Fatal findings of this grouping."""


@dataclass(frozen=True, slots=True)
class BothWays:
    """A layout with an outdoor unit each, and with sharing where that can be built."""

    apart: Way
    together: Way | None
    why_not: tuple[str, ...]
    """Why nothing is shared, or which units keep an outdoor unit of their own."""


def both_ways(results: Iterable[Result], layout_key: str) -> BothWays:
    """Both groupings of a layout among the results of a comparison.

    Raises
    ------
    ValueError
        When no result holds the layout with single outdoor units.
    """
    found = [result for result in results if result.option.layout.key == layout_key]
    apart = next((one for one in found if not shares_outdoor(one.option)), None)
    if apart is None:
        raise ValueError(f"layout {layout_key!r} is not among the options with single outdoor units")
    together = next((one for one in found if shares_outdoor(one.option)), None)
    if together is None:
        return BothWays(way_of(apart), None, _why_not(apart.option))
    return BothWays(way_of(apart), way_of(together), together.option.outdoor.notes)


def _why_not(option: Option) -> tuple[str, ...]:
    if len(option.zones) < 2:
        return ("one indoor unit alone: nothing to share",)
    return ("no shared outdoor unit of the catalogue fits these indoor units and covers their load together",)


def way_of(result: Result) -> Way:
    """One grouping, with what its year shows."""
    option, price = result.option, result.option.price
    tags = zone_tags(option.zones)
    groups = option.outdoor.groups
    return Way(
        key=option.key,
        outdoor=tuple(f"{outdoor_tag(i)} {group.outdoor.label}" for i, group in enumerate(groups)),
        price_low_usd=float(price.low_usd),
        price_mid_usd=float(price.mid_usd),
        price_high_usd=float(price.high_usd),
        pads=len(groups),
        circuits_a=tuple(group.outdoor.circuit_a for group in groups),
        breaker_spaces=SPACES_240_V * len(groups),
        line_m=sum(route.length_m for route in option.routes),
        cover_m=sum(route.cover_m for route in option.routes),
        calling=_calling(option, tags),
        conflict_h=sum(unit.limits.conflict_h for unit in result.year.units),
        conflict_kwh=sum(unit.limits.conflict_kwh for unit in result.year.units),
        failures=tuple(
            Failure(outdoor_tag(i), tuple(tags[zone] for zone in option.outdoor.still_served(i)))
            for i in range(len(groups))
        ),
        electricity_kwh=result.score.measures.energy.electricity_kwh,
        starts=sum(unit.cycling.starts for unit in result.year.units),
        rejected_for=tuple(finding.text for finding in option.findings if finding.fatal),
    )


def _calling(option: Option, tags: tuple[str, ...]) -> tuple[Calling, ...]:
    alone = [Calling((tags[zone],), *_least_w([option.group_of(zone)])) for zone in range(len(tags))]
    if len(tags) == 1:
        return tuple(alone)
    return (*alone, Calling(tags, *_least_w(option.outdoor.groups)))


def _least_w(groups: Iterable[OutdoorGroup]) -> tuple[float, float]:
    heat = cool = 0.0
    for group in groups:
        heat += float(performance(group.output, np.array([MILD_HEAT_C]), Mode.HEAT).min_w[0])
        cool += float(performance(group.output, np.array([MILD_COOL_C]), Mode.COOL).min_w[0])
    return heat, cool
