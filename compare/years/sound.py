"""What every bed and seat hears hour by hour, and how strongly it feels the air, in one option's year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.air.noise.hours import hourly_level_dba, several_units_dba
from compare.air.noise.outdoors import all_units_dba, outdoor_curve
from compare.equipment.hours import ModeHours
from compare.equipment.year import UnitYear
from compare.options.option import Option
from compare.percentile import percentile
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import percentile_level_dba
from compare.scoring.season import Season, clock_hours
from compare.zones.ears import Ear

FloatArray = npt.NDArray[np.float64]

DRAUGHT_PERCENTILE = 95.0


@dataclass(frozen=True, slots=True, eq=False)
class UnitHours:
    """One indoor unit's hours: where in its output range it runs, and for what share of the hour. (H,) each."""

    fraction: FloatArray
    run_frac: FloatArray
    heating: npt.NDArray[np.bool_]


def unit_hours(option: Option, years: Sequence[UnitYear]) -> tuple[UnitHours, ...]:
    """The hours of every zone's indoor unit, in zone order; airflow decides the place in the range."""
    found: dict[int, UnitHours] = {}
    for group, year in zip(option.outdoor.groups, years, strict=True):
        for column, zone in enumerate(group.zones):
            found[zone] = _unit_hours(option, zone, column, year)
    return tuple(found[zone] for zone in range(len(option.zones)))


def _unit_hours(option: Option, zone: int, column: int, year: UnitYear) -> UnitHours:
    flow = option.zones[zone].pair.indoor.airflow_m3_s
    warm, cool = year.heating, year.cooling
    heating = warm.airflow_m3_s[:, column] > 0.0
    running = np.where(heating, warm.airflow_m3_s[:, column], cool.airflow_m3_s[:, column])
    run = np.where(heating, warm.run_frac, cool.run_frac)
    fraction = np.clip((running - flow.quiet) / (flow.high - flow.quiet), 0.0, 1.0)
    return UnitHours(fraction, np.where(running > 0.0, run, 0.0), heating)


def heard_dba(ears: Sequence[tuple[Ear, UnitHours]]) -> FloatArray:
    """Hourly level of several units at one head, background counted once."""
    levels = [hourly_level_dba(ear.level, hours.fraction, hours.run_frac) for ear, hours in ears]
    return levels[0] if len(levels) == 1 else several_units_dba(levels)


def felt_frac(ear: Ear, hours: UnitHours, season: Season, use_hours: frozenset[int]) -> float:
    """Draught rate at the 95th percentile airflow of the room's use hours, the worse of heating and cooling."""
    inside = season.in_hours(use_hours) & (hours.run_frac > 0.0)
    worst = 0.0
    for heating in (True, False):
        chosen = inside & (hours.heating == heating)
        if chosen.any():
            fraction = percentile(hours.fraction[chosen], DRAUGHT_PERCENTILE)
            worst = max(worst, float(ear.draught.rate_frac(fraction, heating=heating)))
    return worst


def outdoor_dba(option: Option, years: Sequence[UnitYear], season: Season, numbers: Judgements) -> float:
    """95th percentile night of all outdoor units together, each at the distance of its own spot to the property line.

    Nearer bedroom windows count where the survey gives them. Every unit is taken to stand at one wall.
    """
    if not option.routes:
        return float("nan")
    hourly = []
    for group, year in zip(option.outdoor.groups, years, strict=True):
        spot = option.routes[group.zones[0]].spot
        distance = min(spot.property_line_m, spot.bedroom_window_m or spot.property_line_m)
        for mode, heating in ((year.heating, True), (year.cooling, False)):
            curve = outdoor_curve(group.outdoor.sound_power_dba, max(distance, 1.0), heating=heating)
            hourly.append(_running_dba(curve.on_dba(_range_share(mode)), mode.run_frac))
    night = clock_hours(numbers.night_from_h, numbers.night_to_h)
    return percentile_level_dba(all_units_dba(hourly), night, season, numbers)


def _range_share(mode: ModeHours) -> FloatArray:
    span = np.maximum(mode.performance.max_w - mode.performance.min_w, 1e-9)
    return np.clip((mode.load_w - mode.performance.min_w) / span, 0.0, 1.0)


def _running_dba(on_dba: FloatArray, run_frac: FloatArray) -> FloatArray:
    return on_dba + 10.0 * np.log10(np.maximum(run_frac, 1e-9))
