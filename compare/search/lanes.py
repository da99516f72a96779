"""Lanes side by side: arrays of the measuring kernel built, the year run, and what it counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.equipment.latent import latent_frac
from compare.physics.network import Network, Supply
from compare.physics.year import WARMUP_H, StepMatrices, stable_mix
from compare.scoring.judgements import Judgements
from compare.scoring.season import Season, first_hour
from compare.search.listeners import Listener, hour_sets, night_hours
from compare.search.strip import Lane
from compare.years.case import HouseCase

LaneArray = npt.NDArray[np.float32]
FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

TOLERANCE_W = 2.0
"""Largest change of any supply in the last sweep of the thermostats."""
STARTS_CAP_H = 6.0


@dataclass(frozen=True, slots=True, eq=False)
class Watch:
    """What is counted and when, for one house."""

    listeners: tuple[Listener, ...]
    sets: tuple[frozenset[int], ...]
    """Distinct hours of the listeners."""
    row: npt.NDArray[np.int32]
    """(H,) row of the watched hour, -1 where none."""
    hours: IntArray
    """Watched hours."""
    cold_hour: LaneArray
    """(H,) 1 where a crankcase heater may run."""
    use: npt.NDArray[np.uint8]
    """(R, 24)"""
    cold_under_c: LaneArray
    hot_over_c: LaneArray
    coldest: dict[int, IntArray]
    """For each bedroom the rows of its coldest night hours."""
    mornings: IntArray
    """(days, 24) rows of the coldest days."""


@dataclass(frozen=True, slots=True, eq=False)
class Houses:
    """The network that the lanes run on: one for all, or one for each."""

    inverse: LaneArray
    """(M, R, R, 1 or N)"""
    step: tuple[LaneArray, LaneArray, LaneArray]
    index: npt.NDArray[np.uint32]
    source: LaneArray
    """(P, H, R)"""
    part: LaneArray
    """(P, N) factors, where each lane is a house of its own."""
    own_w_k: FloatArray
    """(R,) diagonal without links, for the bound on return-air mixing."""

    @classmethod
    def one(cls, network: Network, step: StepMatrices) -> Houses:
        """The same house in every lane."""
        own = step.ca_dt + network.g0_w_k + step.c_e.sum(axis=1)
        parts = tuple(np.ascontiguousarray(x, dtype=np.float32) for x in (step.ca_dt, step.c_e, step.e))
        return cls(
            np.ascontiguousarray(step.inverse[..., None], dtype=np.float32),
            (parts[0], parts[1], parts[2]),
            step.index,
            np.ascontiguousarray(step.source[None], dtype=np.float32),
            np.ones((1, 64), dtype=np.float32),
            own,
        )


@dataclass(frozen=True, slots=True, eq=False)
class Shake:
    """Factors of each lane on units: least output, duct loss, differential; and gains on ducted sound."""

    least: LaneArray
    loss: LaneArray
    differential: LaneArray
    ducted_gain: LaneArray

    @classmethod
    def none(cls, lanes: int) -> Shake:
        """Nothing shaken."""
        one = np.ones(lanes, dtype=np.float32)
        return cls(one, one, one, one)


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """What the year counted; lanes last."""

    counts: LaneArray
    """(R, 2, N) hours of use under and over."""
    watched_c: LaneArray
    """(W, R, N)"""
    zone_w_h: FloatArray
    """(Z, 2, N) heat and cold of every supply; indoor units stand first, further supplies from `units` on."""
    group_sums: FloatArray
    """(G, 10, N)"""
    ear_energy: LaneArray
    """(L, D, N) summed over the hours of a night or evening."""
    out_energy: LaneArray
    """(D, N)"""
    classes: npt.NDArray[np.uint16]
    """(sets, 2, A, bins, N)"""
    units: int
    """Indoor units that the block has room for."""

    @property
    def arrays(self) -> tuple[npt.NDArray[np.generic], ...]:
        """All arrays in the order in which the kernel takes them."""
        return (
            self.counts, self.watched_c, self.zone_w_h, self.group_sums, self.ear_energy, self.out_energy, self.classes,
        )  # fmt: skip

    def first(self, lanes: int) -> Counted:
        """The first lanes alone."""
        return Counted(
            self.counts[..., :lanes],
            self.watched_c[..., :lanes],
            self.zone_w_h[..., :lanes],
            self.group_sums[..., :lanes],
            self.ear_energy[..., :lanes],
            self.out_energy[..., :lanes],
            self.classes[..., :lanes],
            self.units,
        )


def watch_of(case: HouseCase, season: Season, numbers: Judgements, listeners: tuple[Listener, ...]) -> Watch:
    """What is counted in this house."""
    from compare.house.plan import Use
    from compare.scoring.season import bed_hours

    rooms = case.plan.rooms
    hours = season.outdoor_c.shape[0]
    mornings = season.cold_days[:, None] * 24 + np.arange(24)[None, :]
    nights = {
        i: season.coldest(bed_hours(room, numbers), numbers.coldest_night_frac)
        for i, room in enumerate(rooms)
        if room.use is Use.BEDROOM
    }
    wanted = np.unique(np.concatenate([mornings.ravel(), *nights.values()]))
    row = np.full(hours, -1, dtype=np.int32)
    row[wanted] = np.arange(wanted.size)
    return Watch(
        listeners=listeners,
        sets=hour_sets(listeners),
        row=row,
        hours=wanted,
        cold_hour=np.zeros(hours, dtype=np.float32),
        use=np.array([[h in room.use_hours for h in range(24)] for room in rooms], dtype=np.uint8),
        cold_under_c=np.array([room.target_c - numbers.cold_margin_k for room in rooms], dtype=np.float32),
        hot_over_c=np.full(len(rooms), case.house.comfort.cooling_c + numbers.hot_margin_k, dtype=np.float32),
        coldest={room: np.asarray(row[where], dtype=np.int64) for room, where in nights.items()},
        mornings=np.asarray(row[mornings], dtype=np.int64),
    )


@dataclass(frozen=True, eq=False)
class Runner:
    """Runs blocks of rows on the houses of one case."""

    watch: Watch
    season: Season
    numbers: Judgements
    heads: LaneArray
    outdoors: LaneArray
    curves: LaneArray

    def run(
        self,
        houses: Houses,
        rows: Sequence[Lane],
        shake: Shake | None = None,
        further: Sequence[Sequence[Supply]] | None = None,
    ) -> Counted:
        """One block.

        Parameters
        ----------
        houses
            One house, or one for each lane.
        rows
            What each lane holds.
        shake
            Factors on units; None leaves them alone.
        further
            Further supplies of each lane, after its own (room heaters that top up).
        """
        from compare.physics import kernel_measures as kernel

        lanes = kernel.LANES
        wanted = len(rows)
        rows = [*rows, *[rows[-1]] * (lanes - wanted)]
        factors = shake or Shake.none(lanes)
        more = further or [()] * wanted
        more = [*more, *[more[-1]] * (lanes - wanted)]
        units = max(len(row.head_rows) for row in rows)
        groups = max(len(row.machines) for row in rows)
        zones, limits = self._zones(houses, rows, more, units)
        shared = any(row.shared for row in rows)
        heads, machines = self._units(rows, factors, (units, groups), shared)
        out = self._blank(houses.inverse.shape[1], (zones[0].shape[0], units, groups, lanes))
        kernel.run_lanes(
            houses.inverse,
            houses.step,
            houses.index,
            houses.source,
            houses.part,
            zones,
            limits.ravel(),
            heads,
            machines,
            (self.heads.ravel(), self.outdoors.ravel()),
            self._ears(rows, factors, (units, groups)),
            (self.watch.row, self.watch.cold_hour, self.watch.use, self.watch.cold_under_c, self.watch.hot_over_c),
            (*out.arrays, _clock_mask(self.watch.sets)),
            (np.float32(TOLERANCE_W), min(WARMUP_H, houses.index.shape[0])),
        )
        return out.first(wanted)

    def _zones(
        self, houses: Houses, rows: Sequence[Lane], more: Sequence[Sequence[Supply]], units: int
    ) -> tuple[tuple[LaneArray, LaneArray, LaneArray, npt.NDArray[np.uint32]], LaneArray]:
        rooms, lanes = houses.inverse.shape[1], len(rows)
        rest = max(len(s.supplies) - len(s.head_rows) + len(m) for s, m in zip(rows, more, strict=True))
        share = np.zeros((units + rest, rooms, lanes), dtype=np.float32)
        sensor, mix = np.zeros_like(share), np.zeros_like(share)
        profile = np.zeros((units + rest, lanes), dtype=np.uint32)
        series = _Series(houses.index.shape[0])
        for lane, (row, own) in enumerate(zip(rows, more, strict=True)):
            heads = len(row.head_rows)
            placed = [*enumerate(row.supplies[:heads]), *enumerate((*row.supplies[heads:], *own), start=units)]
            for zone, supply in placed:
                share[zone, :, lane] = supply.share
                sensor[zone, :, lane] = supply.sensor
                if supply.mix_w_k.any():
                    mix[zone, :, lane] = stable_mix(supply.mix_w_k, houses.own_w_k)
                profile[zone, lane] = series.index_of(supply)
        return (share, sensor, mix, profile), series.table()

    def _units(
        self, rows: Sequence[Lane], shake: Shake, size: tuple[int, int], shared: bool
    ) -> tuple[tuple[object, ...], tuple[object, ...]]:
        units, groups = size
        lanes = len(rows)
        head = np.zeros((units, lanes), dtype=np.uint32)
        lead = np.full((units, lanes), groups, dtype=np.uint32)
        outdoor = np.zeros((groups, lanes), dtype=np.uint32)
        start = np.zeros((groups, lanes), dtype=np.float32)
        runs_on, quiet = (np.zeros((units, lanes), dtype=np.float32) for _ in range(2))
        for lane, row in enumerate(rows):
            head[: len(row.head_rows), lane] = row.head_rows
            lead[: len(row.lead), lane] = row.lead
            runs_on[: len(row.runs_on), lane] = row.runs_on
            quiet[: len(row.quiet_fan_w), lane] = row.quiet_fan_w
            outdoor[: len(row.machines), lane] = [machine.row for machine in row.machines]
            start[: len(row.machines), lane] = [machine.start_per_h_w for machine in row.machines]
        heads = (head, lead, shared, shake.least, shake.loss, runs_on, quiet, _kept())
        return heads, (outdoor, start / shake.differential, np.float32(STARTS_CAP_H))

    def _ears(self, rows: Sequence[Lane], shake: Shake, size: tuple[int, int]) -> tuple[object, ...]:
        units, groups = size
        listeners, lanes = self.watch.listeners, len(rows)
        most = max((len(heard) for row in rows for heard in row.heard), default=0) or 1
        zone = np.full((len(listeners), most, lanes), units, dtype=np.uint32)
        curve = np.zeros((len(listeners), most, lanes), dtype=np.uint32)
        gain = np.ones((len(listeners), most, lanes), dtype=np.float32)
        out_curve = np.zeros((groups, 2, lanes), dtype=np.uint32)
        for lane, row in enumerate(rows):
            for e, heard in enumerate(row.heard):
                for p, item in enumerate(heard):
                    zone[e, p, lane], curve[e, p, lane] = item.zone, item.curve
                    gain[e, p, lane] = shake.ducted_gain[lane] if row.ducted[item.zone] else 1.0
            for g, both in enumerate(row.outdoor_rows):
                out_curve[g, :, lane] = both
        night = night_hours(self.numbers)
        return (
            _clock_mask([listener.hours for listener in listeners]),
            np.array([listener.start for listener in listeners], dtype=np.uint32),
            zone,
            curve,
            gain,
            _clock_mask([night])[0],
            np.uint32(first_hour(night)),
            out_curve,
            self.curves,
        )

    def _blank(self, rooms: int, size: tuple[int, int, int, int]) -> Counted:
        from compare.physics.kernel_measures import BINS, GROUP_SUMS

        zones, units, groups, lanes = size
        watch = self.watch
        days = self.season.outdoor_c.shape[0] // 24
        return Counted(
            np.zeros((rooms, 2, lanes), dtype=np.float32),
            np.zeros((watch.hours.size, rooms, lanes), dtype=np.float32),
            np.zeros((zones, 2, lanes)),
            np.zeros((groups, GROUP_SUMS, lanes)),
            np.zeros((len(watch.listeners), days, lanes), dtype=np.float32),
            np.zeros((days, lanes), dtype=np.float32),
            np.zeros((len(watch.sets), 2, units, BINS, lanes), dtype=np.uint16),
            units,
        )


def _clock_mask(sets: Sequence[frozenset[int]]) -> npt.NDArray[np.uint8]:
    return np.array([[hour in hours for hour in range(24)] for hours in sets], dtype=np.uint8).reshape(len(sets), 24)


@cache
def _kept() -> LaneArray:
    """Latent output kept while cycling over the run share."""
    from compare.physics.kernel_measures import KEPT

    return latent_frac(np.linspace(0.0, 1.0, KEPT)).astype(np.float32)


class _Series:
    """Distinct limits and set points, told apart by identity; entry 0 gives nothing."""

    def __init__(self, hours: int) -> None:
        idle = np.zeros(hours)
        self._rows = [np.stack([idle, idle, idle - 100.0, idle + 100.0], axis=1).astype(np.float32)]
        self._index: dict[tuple[int, int, int, int], int] = {}

    def index_of(self, supply: Supply) -> int:
        series = (supply.heat_limit_w, supply.cool_limit_w, supply.heat_set_c, supply.cool_set_c)
        heat, cool, on, off = (id(one) for one in series)
        key = (heat, cool, on, off)
        if key not in self._index:
            self._index[key] = len(self._rows)
            self._rows.append(np.stack(series, axis=1).astype(np.float32))
        return self._index[key]

    def table(self) -> LaneArray:
        return np.stack(self._rows)
