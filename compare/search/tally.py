"""From what the kernel counted to the measures of every lane, as arrays; lanes stand last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
import numpy.typing as npt

from compare.air.tables import constant
from compare.house.plan import RoomPlan
from compare.scoring.evidence import Source
from compare.scoring.judgements import Judgements
from compare.scoring.season import Season
from compare.search.counted import Counted
from compare.search.kinds import Stacked
from compare.search.listeners import DRAUGHT_GRID, energy_dba, night_hours
from compare.search.strip import Strip
from compare.search.watch import Watch
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]

SOURCES = tuple(Source)


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


@dataclass(frozen=True, slots=True, eq=False)
class Counts:
    """How to read what was counted."""

    watch: Watch
    season: Season
    numbers: Judgements
    rooms: Sequence[RoomPlan]
    kinds: Stacked


def tally_of(of: Counts, strips: Sequence[Strip], got: Counted) -> Tally:
    """Measures of some lanes."""
    temperatures = _temperatures(of, got)
    levels = _levels(of, got)
    units = _units(strips, got)
    sources = np.array([strip.source for strip in strips]).T
    open_ever = np.array([strip.open_ever for strip in strips]).T
    placed = np.array([bool(strip.option.routes) for strip in strips])
    night = got.loud[:, -1].astype(np.float64) / len(night_hours(of.numbers))
    run, rest, heaters, old = energy_of(strips, got)
    covers = _covers(strips)
    return Tally(
        source=sources,
        open_always=np.array([strip.open_always for strip in strips]).T,
        open_ever=open_ever,
        heat_cover=covers[0],
        cool_cover=covers[1],
        morning_drop_k=temperatures[0],
        cold_frac=temperatures[1],
        hot_frac=temperatures[2],
        draught_frac=_draught(of, strips, got),
        bed_dba=levels[0],
        seat_dba=levels[1],
        coldest_night_c=temperatures[3],
        below_frac=units[0],
        starts=units[1],
        unit_heat_kwh=units[2],
        run_kwh=run,
        rest_kwh=rest,
        heater_kwh=heaters,
        old_kwh=old,
        outdoor_dba=np.where(placed, energy_dba(night), np.nan),
        fatal=np.array([strip.fatal for strip in strips]) | _no_source(of.rooms, sources, open_ever),
    )


def energy_of(strips: Sequence[Strip], got: Counted) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Electricity of outdoor units that run (G, N), of all at rest, of room heaters; heat of the old heat [kWh]."""
    sums = got.group_sums
    idle, crankcase, pan = (_machines(strips, name, sums.shape[0]) for name in ("rest_w", "crankcase_w", "pan_kwh"))
    rest = ((sums[:, 1] * idle + sums[:, 2] * crankcase) / 1000.0 + pan).sum(axis=0)
    warm = got.rest_w_h[:, 0] / 1000.0
    old = np.zeros_like(warm, dtype=np.bool_)
    for lane, strip in enumerate(strips):
        if Rest.OLD_HEAT in strip.rests:
            old[: len(strip.rests), lane] = [rest is Rest.OLD_HEAT for rest in strip.rests]
    by_old = (warm * old).sum(axis=0)
    return sums[:, 0] / 1000.0, rest, warm.sum(axis=0) - by_old, by_old


def _covers(strips: Sequence[Strip]) -> FloatArray:
    """(2, R, N) output over load of each room's unit, heating and cooling; nan without a unit."""
    zones = np.array([strip.zone_of_room for strip in strips])
    groups = [group for strip in strips for group in strip.option.outdoor.groups]
    lane = np.repeat(np.arange(len(strips)), [len(strip.option.zones) for strip in strips])
    zone = np.fromiter(chain.from_iterable([group.zones for group in groups]), dtype=np.int64, count=lane.size)
    covers = list(chain.from_iterable([group.covers for group in groups]))
    table = np.full((2, len(strips), int(zones.max(initial=0)) + 2), np.nan)  # zone -1 is the last, which has none
    table[0, lane, zone] = [cover.heat_frac for cover in covers]
    table[1, lane, zone] = [cover.cool_frac for cover in covers]
    return np.asarray(table[:, np.arange(len(strips)), zones.T])


def _machines(strips: Sequence[Strip], name: str, groups: int) -> FloatArray:
    """One number of every outdoor unit, (G, N); 0 where a lane has fewer."""
    counts = np.array([len(strip.lane.machines) for strip in strips])
    table = np.zeros((counts.size, groups))
    values = [getattr(machine, name) for strip in strips for machine in strip.lane.machines]
    table[np.arange(groups) < counts[:, None]] = values
    return table.T


def _no_source(rooms: Sequence[RoomPlan], source: IntArray, open_ever: BoolArray) -> BoolArray:
    own = [SOURCES.index(s) for s in (Source.SERVED, Source.HEATER, Source.OLD_HEAT)]
    beds = np.array([room.use.value == "bedroom" and room.regular for room in rooms])
    without = beds[:, None] & ~np.isin(source, own) & ~open_ever
    return np.asarray(without.any(axis=0), dtype=np.bool_)


def _temperatures(of: Counts, got: Counted) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Morning drop, cold and hot shares, coldest night; each (R, N)."""
    season, rooms = of.season, of.rooms
    morning, _, night = got.air_c
    drop, cold, hot = (np.full(morning.shape, np.nan) for _ in range(3))
    for index, room in enumerate(rooms):
        if room.use_hours:
            drop[index] = np.maximum(0.0, room.target_c - morning[index])
            used = season.in_hours(room.use_hours)
            for row, out, base in ((0, cold, season.cool_enough), (1, hot, season.warm)):
                against = int(np.count_nonzero(used & base)) or int(np.count_nonzero(used))
                out[index] = np.minimum(1.0, got.counts[index, row] / against)
    return drop, cold, hot, night


def _levels(of: Counts, got: Counted) -> tuple[FloatArray, FloatArray]:
    """Level at the worst pillow and seat of each room, (R, N)."""
    rooms, lanes = len(of.rooms), got.air_c.shape[2]
    found = (np.full((rooms, lanes), np.nan), np.full((rooms, lanes), np.nan))
    background = 10.0 ** (constant("background_dba") / 10.0)
    for row, listener in enumerate(of.watch.listeners):
        levels = found[0 if listener.bed else 1]
        level = energy_dba(got.loud[:, row].astype(np.float64) / len(listener.hours) + background)
        levels[listener.room] = np.fmax(levels[listener.room], level)
    return found


def _units(strips: Sequence[Strip], got: Counted) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Share of hours below the least output, starts and heat, by outdoor unit."""
    sums = got.group_sums
    there = np.arange(sums.shape[0])[:, None] < np.array([len(strip.lane.machines) for strip in strips])
    below = np.where(there, sums[:, 6] / np.maximum(sums[:, 5], 1.0), np.nan)
    return below, np.where(there, sums[:, 7], np.nan), np.where(there, sums[:, 8], 0.0) / 1000.0


def _draught(of: Counts, strips: Sequence[Strip], got: Counted) -> FloatArray:
    """(R, N) the worse of bed and seat; nan where a room has neither."""
    listeners, kinds = of.watch.listeners, of.kinds
    place = got.high_place.astype(np.float64)
    counts = np.array([len(strip.lane.units) for strip in strips])
    lane = np.repeat(np.arange(len(strips)), counts)
    unit = np.arange(lane.size) - np.repeat(np.cumsum(counts) - counts, counts)
    kind = np.array([row for strip in strips for row in strip.lane.units], dtype=np.int64)
    heard = (kinds.first[kind + 1] - kinds.first[kind]).astype(np.int64)
    item = np.repeat(kinds.first[kind].astype(np.int64) - np.cumsum(heard) + heard, heard) + np.arange(heard.sum())
    lane, unit = np.repeat(lane, heard), np.repeat(unit, heard)
    worst = np.zeros((len(listeners), len(strips)))
    sets = np.array([of.watch.sets.index(listener.hours) for listener in listeners], dtype=np.int64)
    by = kinds.listener[item].astype(np.int64)
    for mode in (0, 1):
        at = place[lane, sets[by], unit, mode] if item.size else np.zeros(0)
        steps = np.clip(at, 0.0, 1.0) * (DRAUGHT_GRID - 1)
        low = np.minimum(steps.astype(np.int64), DRAUGHT_GRID - 2)
        rate = kinds.draught[item, mode, low]
        rate = rate + (steps - low) * (kinds.draught[item, mode, low + 1] - rate)
        np.maximum.at(worst, (by, lane), np.where(at >= 0.0, rate, 0.0))
    found = np.full((len(of.rooms), len(strips)), np.nan)
    for row, listener in enumerate(listeners):
        found[listener.room] = np.fmax(found[listener.room], worst[row])
    return found
