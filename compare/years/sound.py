"""What every bed and seat hears hour by hour, and how strongly it feels the air, in one option's year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.air.noise.hours import hourly_level_dba, several_units_dba
from compare.air.noise.outdoors import outdoor_curve
from compare.equipment.hours import ModeHours
from compare.equipment.year import UnitYear
from compare.house.plan import Plan
from compare.options.option import Option
from compare.percentile import percentile
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import percentile_level_dba
from compare.scoring.season import Season, bed_hours, clock_hours, seat_hours
from compare.zones.ears import Ear

FloatArray = npt.NDArray[np.float64]

DRAUGHT_PERCENTILE = 95.0
LEAST_RUN_FRAC = 1e-9
"""Outdoors no background is added; a unit at rest counts as running for this share, so that its level is a number."""


@dataclass(frozen=True, slots=True, eq=False)
class UnitHours:
    """One indoor unit's hours: where in its output range it runs, and for what share of the hour. (H,) each."""

    fraction: FloatArray
    run_frac: FloatArray
    heating: npt.NDArray[np.bool_]

    def heard_in(self, listening: npt.NDArray[np.bool_]) -> HeardHours:
        """Those hours of a mask (H,) in which the unit runs."""
        where = np.flatnonzero(listening & ((self.run_frac > 0.0) | (self.fraction > 0.0) | self.heating))
        chosen = (self.fraction[where], self.run_frac[where], self.heating[where])
        return HeardHours(self.run_frac.size, where.astype(np.uint16), *chosen)


@dataclass(frozen=True, slots=True, eq=False)
class HeardHours:
    """The hours of one unit in which it runs while somebody listens: enough for sound and draught at other places."""

    hours: int
    """Of the whole year."""
    where: npt.NDArray[np.uint16]
    fraction: FloatArray
    run_frac: FloatArray
    heating: npt.NDArray[np.bool_]

    def unpacked(self) -> UnitHours:
        """The whole year again; in hours in which nobody listens the unit stands still."""
        fraction, run_frac = np.zeros(self.hours), np.zeros(self.hours)
        heating = np.zeros(self.hours, dtype=np.bool_)
        fraction[self.where], run_frac[self.where], heating[self.where] = self.fraction, self.run_frac, self.heating
        return UnitHours(fraction, run_frac, heating)


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
        chosen = np.flatnonzero(inside & (hours.heating == heating))
        if chosen.size:
            fraction = percentile(hours.fraction[chosen], DRAUGHT_PERCENTILE)
            worst = max(worst, float(ear.draught.rate_frac(fraction, heating=heating)))
    return worst


def outdoor_hours(years: Sequence[UnitYear]) -> tuple[UnitHours, ...]:
    """The hours of every outdoor unit; its load decides the place in the range."""
    found = []
    for year in years:
        heating = year.heating.load_w > 0.0
        share = np.where(heating, _range_share(year.heating), _range_share(year.cooling))
        run = np.where(heating, year.heating.run_frac, year.cooling.run_frac)
        found.append(UnitHours(share, run, heating))
    return tuple(found)


def outdoor_dba(option: Option, hours: Sequence[UnitHours], season: Season, numbers: Judgements) -> float:
    """95th percentile night of all outdoor units together, each at the distance of its own spot to the property line.

    `hours` are those of `outdoor_hours`, one for each outdoor unit.

    Nearer bedroom windows count where the survey gives them. Every unit is taken to stand at one wall.
    """
    if not option.routes:
        return float("nan")
    listening = outdoor_listening(numbers)
    night, energy = season.in_hours(listening), np.zeros(season.outdoor_c.shape)
    for group, running in zip(option.outdoor.groups, hours, strict=True):
        spot = option.routes[group.zones[0]].spot
        distance = min(spot.property_line_m, spot.bedroom_window_m or spot.property_line_m)
        for heating in (True, False):
            curve = outdoor_curve(group.outdoor.sound_power_dba, max(distance, 1.0), heating=heating)
            on = np.flatnonzero(night & (running.heating == heating) & (running.run_frac > 0.0))
            at_rest = LEAST_RUN_FRAC * 10 ** (curve.quiet_dba / 10)
            energy += at_rest
            energy[on] += running.run_frac[on] * 10 ** (curve.on_dba(running.fraction[on]) / 10) - at_rest
    return percentile_level_dba(10.0 * np.log10(energy), listening, season, numbers)


def outdoor_listening(numbers: Judgements) -> frozenset[int]:
    """Clock hours in which outdoor units are judged: the night."""
    return clock_hours(numbers.night_from_h, numbers.night_to_h)


def indoor_listening(plan: Plan, ears: Sequence[Ear], numbers: Judgements) -> frozenset[int]:
    """Clock hours in which the beds and seats that hear a unit are judged, wherever they stand in their rooms."""
    judged = ((bed_hours if ear.bed else seat_hours)(plan.rooms[ear.room], numbers) for ear in ears)
    return frozenset().union(*judged)


def _range_share(mode: ModeHours) -> FloatArray:
    span = np.maximum(mode.performance.max_w - mode.performance.min_w, 1e-9)
    return np.clip((mode.load_w - mode.performance.min_w) / span, 0.0, 1.0)
