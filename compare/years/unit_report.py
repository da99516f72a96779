"""Each outdoor unit of an option as its year shows it: need against output, cycling, ratings, refrigerant, lines."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.equipment.hours import ModeHours
from compare.equipment.implied import ImpliedRatings, implied_ratings
from compare.equipment.lines import PipeRun, line_problems
from compare.equipment.outdoor import OutdoorGroup
from compare.equipment.performance import Mode, performance
from compare.equipment.refrigerant import ChargeCheck
from compare.equipment.selection import Cover, Selection
from compare.equipment.table import to_c
from compare.equipment.year import UnitCycling, UnitYear
from compare.options.findings import charge_check
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.years.case import HouseCase
from compare.years.control import control_of
from compare.years.gather import OptionRun
from compare.years.habits import DAYS, months

FloatArray = npt.NDArray[np.float64]

MILD_C = (to_c(45.0), to_c(49.0))
"""Hours around 47 degF in which the duty is taken."""
MONTH_RUNS_FRAC = 0.10
"""A month counts as running from this share of its hours on (our judgement)."""


@dataclass(frozen=True, slots=True)
class NeedAndOutput:
    """One mode: range of what was asked while running against what the outdoor unit can do [W], before duct loss."""

    mode: Mode
    running_h: int
    need_low_w: float
    need_middle_w: float
    need_high_w: float
    """10th, 50th and 95th percentile of the running hours."""
    design_min_w: float
    design_max_w: float
    mild_min_w: float
    mild_max_w: float
    """At 47 degF when heating, at 82 degF when cooling."""
    below_min_frac: float
    """Share of running hours below minimum output."""


@dataclass(frozen=True, slots=True)
class Duty:
    """Share of the time that the compressor runs in hours with need."""

    at_47f_frac: float
    """Mean of heating hours with 45 to 49 degF outdoors; nan without such hours."""
    mildest_month: int
    """Mildest month with heating in a tenth of its hours, 1 to 12; 0 without one."""
    mildest_month_frac: float


@dataclass(frozen=True, slots=True, eq=False)
class HeadReport:
    """One indoor unit: how its size was chosen and where its thermostat feels the air."""

    tag: str
    label: str
    model: str
    rooms: tuple[str, ...]
    selection: Selection
    cover: Cover
    sensor: str
    heat_set_c: float
    cool_set_c: float


@dataclass(frozen=True, slots=True, eq=False)
class UnitReport:
    """One outdoor unit with its heads."""

    tag: str
    label: str
    model: str
    heads: tuple[HeadReport, ...]
    needs: tuple[NeedAndOutput, ...]
    duty: Duty
    cycling: UnitCycling
    ratings: ImpliedRatings
    cold_climate: bool
    connected_frac: float
    circuit_a: float
    volts: str
    charge: ChargeCheck
    lines: tuple[str, ...]
    """What is too long or too high."""
    conflict_h: float
    short_h: float


def unit_reports(case: HouseCase, found: OptionRun) -> tuple[UnitReport, ...]:
    """All outdoor units of an option's year, in order."""
    rows = zip(found.option.outdoor.groups, found.run.units, strict=True)
    return tuple(_report(case, found.option, (place, group), year) for place, (group, year) in enumerate(rows))


def _report(case: HouseCase, option: Option, at: tuple[int, OutdoorGroup], year: UnitYear) -> UnitReport:
    place, group = at
    outdoor_c = case.weather.dry_bulb_c
    needs = [_need(case, group, year.heating, Mode.HEAT), _need(case, group, year.cooling, Mode.COOL)]
    return UnitReport(
        tag=outdoor_tag(place),
        label=group.outdoor.label,
        model=group.outdoor.model,
        heads=tuple(_head(case, option, zone) for zone in group.zones),
        needs=tuple(need for need in needs if need.running_h),
        duty=_duty(year.heating, outdoor_c),
        cycling=year.cycling,
        ratings=implied_ratings(group.output),
        cold_climate=group.output.cold_climate,
        connected_frac=group.connected_frac,
        circuit_a=group.outdoor.circuit_a,
        volts=group.outdoor.volts,
        charge=charge_check(case.plan, option.zones, group, dict(enumerate(option.routes))),
        lines=_lines(option, group),
        conflict_h=year.limits.conflict_h,
        short_h=year.limits.short_h,
    )


def _need(case: HouseCase, group: OutdoorGroup, hours: ModeHours, mode: Mode) -> NeedAndOutput:
    running = hours.load_w > 0.0
    low, middle, high = np.percentile(hours.load_w[running], (10, 50, 95)) if running.any() else (0.0, 0.0, 0.0)
    heating = mode is Mode.HEAT
    design_c = case.design.heating_99_c if heating else case.design.cooling_1_c
    output = performance(group.output, np.array([design_c, to_c(47.0) if heating else to_c(82.0)]), mode)
    return NeedAndOutput(
        mode=mode,
        running_h=int(running.sum()),
        need_low_w=float(low),
        need_middle_w=float(middle),
        need_high_w=float(high),
        design_min_w=float(output.min_w[0]),
        design_max_w=float(output.max_w[0]),
        mild_min_w=float(output.min_w[1]),
        mild_max_w=float(output.max_w[1]),
        below_min_frac=float(hours.below_min[running].mean()) if running.any() else 0.0,
    )


def _duty(heating: ModeHours, outdoor_c: FloatArray) -> Duty:
    running = heating.load_w > 0.0
    mild = running & (outdoor_c >= MILD_C[0]) & (outdoor_c <= MILD_C[1])
    at_47 = float(heating.run_frac[mild].mean()) if mild.any() else float("nan")
    warmest, month_frac, month = -np.inf, 0.0, 0
    for number in range(1, len(DAYS) + 1):
        inside = months() == number
        mean_c = float(outdoor_c[inside].mean())
        if running[inside].mean() >= MONTH_RUNS_FRAC and mean_c > warmest:
            warmest, month = mean_c, number
            month_frac = float(heating.run_frac[inside & running].mean())
    return Duty(at_47, month, month_frac)


def _head(case: HouseCase, option: Option, zone: int) -> HeadReport:
    served, comfort = option.zones[zone], case.house.comfort
    control = control_of(case.plan, served, case.house.controls)
    return HeadReport(
        tag=zone_tags(option.zones)[zone],
        label=served.pair.label,
        model=served.pair.indoor.model,
        rooms=tuple(case.plan.rooms[room].name for room in served.rooms),
        selection=served.selection,
        cover=option.cover(zone),
        sensor=control.words,
        heat_set_c=comfort.heating_c if control.heat_c is None else control.heat_c,
        cool_set_c=comfort.cooling_c if control.cool_c is None else control.cool_c,
    )


def _lines(option: Option, group: OutdoorGroup) -> tuple[str, ...]:
    if not option.routes:
        return ("no place outdoors was found, so that lines have no length",)
    tags = zone_tags(option.zones)
    runs = [PipeRun(tags[z], option.routes[z].length_m, option.routes[z].lift_m) for z in group.zones]
    return line_problems(group.outdoor, runs)
