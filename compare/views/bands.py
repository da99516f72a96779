"""Need against output: hours of load of each outdoor unit over its output band."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from compare.equipment.performance import Mode, performance
from compare.options.tags import outdoor_tag, zone_tags
from compare.views.customer import UnitBand
from compare.years.bench import Result
from compare.years.case import HouseCase
from compare.years.gather import delivered_frac

FloatArray = npt.NDArray[np.float64]

CLASSES = 24
"""Load classes of the hills."""
LEAST_KWH = 50.0
"""A mode with less than this in a year is not drawn."""
RUNNING_W = 1.0


def unit_bands(case: HouseCase, result: Result) -> tuple[UnitBand, ...]:
    """One band per outdoor unit and mode that it is used in."""
    groups = result.run.option.outdoor.groups
    found = [
        _band(case, result, place, mode)
        for place in range(len(groups))
        for mode in (Mode.HEAT, Mode.COOL)
        if float(_load_w(result, place, mode).sum()) / 1000.0 >= LEAST_KWH
    ]
    return tuple(found)


def _load_w(result: Result, place: int, mode: Mode) -> FloatArray:
    unit = result.evidence.compressors[place]
    return unit.heat_w if mode is Mode.HEAT else unit.cool_w


def _band(case: HouseCase, result: Result, place: int, mode: Mode) -> UnitBand:
    option, unit = result.run.option, result.evidence.compressors[place]
    group = option.outdoor.groups[place]
    heating = mode is Mode.HEAT
    load_w = _load_w(result, place, mode)
    min_w = unit.heat_min_w if heating else unit.cool_min_w
    at_c = case.design.heating_99_c if heating else case.design.cooling_1_c
    output = performance(group.output, np.array([at_c]), mode)
    reach = delivered_frac(option, group, mode)
    smallest, largest = float(output.min_w[0]) * reach, float(output.max_w[0]) * reach
    demands = [option.zones[zone].demand for zone in group.zones]
    design = sum(demand.heat_w if heating else demand.cool_w for demand in demands)
    running = load_w > RUNNING_W
    top = max(largest, design, float(load_w.max())) * 1.05
    hours, edges = np.histogram(load_w[running], bins=CLASSES, range=(0.0, top))
    below = running & (load_w < min_w)
    tags = zone_tags(option.zones)
    heads = tuple(tags[zone] for zone in group.zones)
    return UnitBand(
        label=f"{outdoor_tag(place)} with {', '.join(heads)}",
        tags=heads,
        rooms=tuple(case.plan.rooms[room].name for room in unit.rooms),
        mode="heating" if heating else "cooling",
        edges_w=tuple(float(edge) for edge in edges),
        hours=tuple(float(count) for count in hours),
        design_load_w=design,
        smallest_w=smallest,
        largest_w=largest,
        on_off_share=float(below.sum()) / max(int(running.sum()), 1),
        starts_per_year=result.score.measures.units[place].starts_per_y,
    )
