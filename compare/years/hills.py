"""Need against output of each outdoor unit: its hours at each load, counted once so that the hours need not stay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from compare.equipment.performance import Mode, performance
from compare.options.option import Option
from compare.scoring.evidence import CompressorEvidence
from compare.years.case import HouseCase
from compare.years.gather import delivered_frac

CLASSES = 24
"""Load classes of the hills."""
LEAST_KWH = 50.0
"""A mode with less than this in a year is not drawn."""
RUNNING_W = 1.0


@dataclass(frozen=True, slots=True)
class Ends:
    """What a unit has to give at design, and its least and most output then, as delivered [W]."""

    design_load_w: float
    smallest_w: float
    largest_w: float


@dataclass(frozen=True, slots=True)
class Hill:
    """One outdoor unit in one mode."""

    place: int
    """Of the unit among those of its option."""
    mode: Mode
    ends: Ends
    edges_w: tuple[float, ...]
    hours: tuple[float, ...]
    """Of the load classes between the edges."""
    on_off_share: float
    """Running hours below the least output over all running hours."""


def hills_of(case: HouseCase, option: Option, units: Sequence[CompressorEvidence]) -> tuple[Hill, ...]:
    """One hill per outdoor unit and mode that it is used in."""
    return tuple(
        _hill(ends_of(case, option, place, mode), place, mode, unit)
        for place, unit in enumerate(units)
        for mode in (Mode.HEAT, Mode.COOL)
        if float((unit.heat_w if mode is Mode.HEAT else unit.cool_w).sum()) / 1000.0 >= LEAST_KWH
    )


def ends_of(case: HouseCase, option: Option, place: int, mode: Mode) -> Ends:
    """Design load and output of one outdoor unit of an option."""
    group, heating = option.outdoor.groups[place], mode is Mode.HEAT
    at_c = case.design.heating_99_c if heating else case.design.cooling_1_c
    output = performance(group.output, np.array([at_c]), mode)
    reach = delivered_frac(option, group, mode)
    demands = [option.zones[zone].demand for zone in group.zones]
    design = sum(demand.heat_w if heating else demand.cool_w for demand in demands)
    return Ends(design, float(output.min_w[0]) * reach, float(output.max_w[0]) * reach)


def _hill(ends: Ends, place: int, mode: Mode, unit: CompressorEvidence) -> Hill:
    heating = mode is Mode.HEAT
    load_w, min_w = (unit.heat_w, unit.heat_min_w) if heating else (unit.cool_w, unit.cool_min_w)
    running = load_w > RUNNING_W
    top = max(ends.largest_w, ends.design_load_w, float(load_w.max())) * 1.05
    edges = np.linspace(0.0, top, CLASSES + 1)
    above = np.searchsorted(edges, load_w[np.flatnonzero(running)], side="right")
    hours = np.bincount(above, minlength=CLASSES + 1)[1:]
    below = running & (load_w < min_w)
    return Hill(
        place=place,
        mode=mode,
        ends=ends,
        edges_w=tuple(float(edge) for edge in edges),
        hours=tuple(float(count) for count in hours),
        on_off_share=float(below.sum()) / max(int(running.sum()), 1),
    )
