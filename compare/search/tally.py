"""From what the kernel counted to the measures of every lane, as arrays; lanes stand last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.air.tables import constant
from compare.house.plan import RoomPlan
from compare.physics.kernel_measures import BINS
from compare.scoring.evidence import Source
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import morning_hour
from compare.scoring.season import Season
from compare.search.lanes import Counted, Watch
from compare.search.listeners import DRAUGHT_GRID, energy_dba, night_hours
from compare.search.strip import Strip
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]

SOURCES = tuple(Source)
DRAUGHT_QUANTILE = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class Tally:
    """Measures of N lanes; R rooms, G outdoor units. nan where a measure does not exist."""

    source: IntArray
    """(R, N) place in `SOURCES`."""
    open_always: BoolArray
    open_ever: BoolArray
    heat_cover: FloatArray
    cool_cover: FloatArray
    morning_drop_k: FloatArray
    cold_frac: FloatArray
    hot_frac: FloatArray
    draught_frac: FloatArray
    bed_dba: FloatArray
    seat_dba: FloatArray
    coldest_night_c: FloatArray
    below_frac: FloatArray
    """(G, N) nan where a lane has fewer outdoor units."""
    starts: FloatArray
    unit_heat_kwh: FloatArray
    run_kwh: FloatArray
    """(G, N) electricity of each outdoor unit while it runs."""
    rest_kwh: FloatArray
    """(N,) standby, crankcase and base pan of all."""
    heater_kwh: FloatArray
    """(N,) room heaters."""
    old_kwh: FloatArray
    """(N,) heat of the old heat."""
    outdoor_dba: FloatArray
    fatal: BoolArray
    """(N,) rejected by design or by a bedroom without any source."""


def tally_of(
    watch: Watch, season: Season, numbers: Judgements, rooms: Sequence[RoomPlan], strips: Sequence[Strip], got: Counted
) -> Tally:
    """Measures of one block."""
    temperatures = _temperatures(watch, season, numbers, rooms, got)
    levels = _levels(watch, len(rooms), got)
    units = _units(strips, got)
    sources = np.array([[SOURCES.index(s) for s in strip.source] for strip in strips], dtype=np.int64).T
    open_ever = np.array([strip.open_ever for strip in strips]).T
    night = got.out_energy.astype(np.float64) / len(night_hours(numbers))
    placed = np.array([bool(strip.option.routes) for strip in strips])
    heaters = [_rests_kwh(strip, got, lane) for lane, strip in enumerate(strips)]
    return Tally(
        source=sources,
        open_always=np.array([strip.open_always for strip in strips]).T,
        open_ever=open_ever,
        heat_cover=np.array([strip.heat_cover for strip in strips]).T,
        cool_cover=np.array([strip.cool_cover for strip in strips]).T,
        morning_drop_k=temperatures[0],
        cold_frac=temperatures[1],
        hot_frac=temperatures[2],
        draught_frac=_draught(watch, len(rooms), strips, got),
        bed_dba=levels[0],
        seat_dba=levels[1],
        coldest_night_c=temperatures[3],
        below_frac=units[0],
        starts=units[1],
        unit_heat_kwh=units[2],
        run_kwh=units[3],
        rest_kwh=units[4],
        heater_kwh=np.array([h for h, _ in heaters]),
        old_kwh=np.array([o for _, o in heaters]),
        outdoor_dba=np.where(placed, energy_dba(np.percentile(night, 100.0 * numbers.high_percentile_frac, axis=0)),
                             np.nan),
        fatal=np.array([strip.fatal for strip in strips]) | _no_source(rooms, sources, open_ever),
    )  # fmt: skip


def _rests_kwh(strip: Strip, got: Counted, lane: int) -> tuple[float, float]:
    """Heat of room heaters (those that top up among them) and of the old heat in one lane."""
    own = got.zone_w_h[got.units :, 0, lane] / 1000.0
    old = sum(float(own[k]) for k, rest in enumerate(strip.rests) if rest is Rest.OLD_HEAT)
    return float(own.sum()) - old, old


def _no_source(rooms: Sequence[RoomPlan], source: IntArray, open_ever: BoolArray) -> BoolArray:
    own = [SOURCES.index(s) for s in (Source.SERVED, Source.HEATER, Source.OLD_HEAT)]
    beds = np.array([room.use.value == "bedroom" and room.regular for room in rooms])
    without = beds[:, None] & ~np.isin(source, own) & ~open_ever
    return np.asarray(without.any(axis=0), dtype=np.bool_)


def _temperatures(
    watch: Watch, season: Season, numbers: Judgements, rooms: Sequence[RoomPlan], got: Counted
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Morning drop, cold and hot shares, coldest night; each (R, N)."""
    watched = got.watched_c.astype(np.float64)
    lanes = watched.shape[2]
    drop, cold, hot, night = (np.full((len(rooms), lanes), np.nan) for _ in range(4))
    for index, room in enumerate(rooms):
        if room.use_hours:
            at = watched[watch.mornings[:, morning_hour(room, numbers)], index]
            drop[index] = np.maximum(0.0, room.target_c - at.mean(axis=0))
            used = season.in_hours(room.use_hours)
            for row, out, base in ((0, cold, season.cool_enough), (1, hot, season.warm)):
                against = int(np.count_nonzero(used & base)) or int(np.count_nonzero(used))
                out[index] = np.minimum(1.0, got.counts[index, row] / against)
        if index in watch.coldest:
            share = 100.0 * numbers.coldest_night_percentile_frac
            night[index] = np.percentile(watched[watch.coldest[index], index], share, axis=0)
    return drop, cold, hot, night


def _levels(watch: Watch, rooms: int, got: Counted) -> tuple[FloatArray, FloatArray]:
    """Level at the worst pillow and seat of each room, (R, N)."""
    lanes = got.watched_c.shape[2]
    found = (np.full((rooms, lanes), np.nan), np.full((rooms, lanes), np.nan))
    background = 10.0 ** (constant("background_dba") / 10.0)
    for row, listener in enumerate(watch.listeners):
        mean = got.ear_energy[row].astype(np.float64) / len(listener.hours) + background
        levels = found[0 if listener.bed else 1]
        levels[listener.room] = np.fmax(levels[listener.room], energy_dba(np.percentile(mean, 95.0, axis=0)))
    return found


def _units(
    strips: Sequence[Strip], got: Counted
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Share of hours below the least output, starts, heat, running electricity by outdoor unit; rest of all."""
    sums = got.group_sums
    there = np.array([[g < len(s.lane.machines) for s in strips] for g in range(sums.shape[0])])
    running = np.maximum(sums[:, 5], 1.0)
    below = np.where(there, sums[:, 6] / running, np.nan)
    starts = np.where(there, sums[:, 7], np.nan)
    heat = np.where(there, sums[:, 8], 0.0) / 1000.0
    run = np.where(there, sums[:, 0], 0.0) / 1000.0
    rest = np.zeros(len(strips))
    for lane, strip in enumerate(strips):
        for g, machine in enumerate(strip.lane.machines):
            idle = float(sums[g, 1, lane]) * machine.rest_w + float(sums[g, 2, lane]) * machine.crankcase_w
            rest[lane] += idle / 1000.0 + machine.pan_kwh
    return below, starts, heat, run, rest


def _draught(watch: Watch, rooms: int, strips: Sequence[Strip], got: Counted) -> FloatArray:
    """(R, N) the worse of bed and seat; nan where a room has neither."""
    place = _high_place(got)
    grid = np.linspace(0.0, 1.0, DRAUGHT_GRID)
    found = np.full((rooms, len(strips)), np.nan)
    for row, listener in enumerate(watch.listeners):
        chosen = watch.sets.index(listener.hours)
        for lane, strip in enumerate(strips):
            worst = 0.0
            for heard in strip.lane.heard[row]:
                for mode in (0, 1):
                    at = place[chosen, mode, heard.zone, lane]
                    if at >= 0.0:
                        worst = max(worst, float(np.interp(at, grid, heard.draught[mode])))
            old = found[listener.room, lane]
            found[listener.room, lane] = worst if np.isnan(old) else max(old, worst)
    return found


def _high_place(got: Counted) -> FloatArray:
    """95th percentile of the place in the output range, (sets, 2, A, N); -1 where a unit never runs then."""
    classes = got.classes.astype(np.float64)
    total = classes.sum(axis=3)
    upto = classes.cumsum(axis=3)
    wanted = DRAUGHT_QUANTILE * np.maximum(total - 1.0, 0.0)
    at = (upto > wanted[:, :, :, None]).argmax(axis=3)
    before = np.where(at > 0, np.take_along_axis(upto, np.maximum(at - 1, 0)[:, :, :, None], axis=3)[:, :, :, 0], 0.0)
    own = np.take_along_axis(classes, at[:, :, :, None], axis=3)[:, :, :, 0]
    inside = np.clip((wanted - before) / np.maximum(own, 1.0), 0.0, 1.0)
    value = np.where(at == 0, 0.0, (at - 1 + inside) / (BINS - 1))
    return np.where(total > 0.0, value, -1.0)
