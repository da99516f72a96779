"""Need against output: hours of load of each outdoor unit over its output band."""

from __future__ import annotations

from compare.equipment.performance import Mode
from compare.options.tags import outdoor_tag, zone_tags
from compare.views.customer import UnitBand
from compare.years.bench import Result
from compare.years.case import HouseCase
from compare.years.hills import Hill


def unit_bands(case: HouseCase, result: Result) -> tuple[UnitBand, ...]:
    """One band per outdoor unit and mode that it is used in."""
    return tuple(_band(case, result, hill) for hill in result.year.hills)


def _band(case: HouseCase, result: Result, hill: Hill) -> UnitBand:
    option, group = result.option, result.option.outdoor.groups[hill.place]
    tags = zone_tags(option.zones)
    heads = tuple(tags[zone] for zone in group.zones)
    return UnitBand(
        label=f"{outdoor_tag(hill.place)} with {', '.join(heads)}",
        tags=heads,
        rooms=tuple(case.plan.rooms[room].name for zone in group.zones for room in option.zones[zone].rooms),
        mode="heating" if hill.mode is Mode.HEAT else "cooling",
        edges_w=hill.edges_w,
        hours=hill.hours,
        design_load_w=hill.ends.design_load_w,
        smallest_w=hill.ends.smallest_w,
        largest_w=hill.ends.largest_w,
        on_off_share=hill.on_off_share,
        starts_per_year=result.score.measures.units[hill.place].starts_per_y,
    )
