"""One block of 64 lanes as the arrays that the measuring kernel takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
import numpy.typing as npt

from compare.physics.many.sizes import LANES, SHARED
from compare.physics.network import Network, Supply
from compare.physics.year import StepMatrices
from compare.search.kinds import Kinds, Stacked
from compare.search.strip import Lane

LaneArray = npt.NDArray[np.float32]
FloatArray = npt.NDArray[np.float64]
RowArray = npt.NDArray[np.uint32]

ROWS_AT_ONCE = 2
"""The kernel takes so many rooms at once."""
STARTS_CAP_H = 6.0


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

    @property
    def common(self) -> bool:
        """Whether every lane is the same house."""
        return int(self.inverse.shape[3]) == 1

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
class Profiles:
    """Distinct supplies of a block, P of them, and which of them each supply of each lane is, (Z, 64)."""

    numbers: LaneArray
    kinds: RowArray
    row: RowArray


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """The lanes of one block side by side, the last one repeated up to 64."""

    rows: tuple[Lane, ...]
    ids: RowArray
    """(Z, 64) kinds: `units` indoor units first, then the rest; 0 where a lane has fewer."""
    units: int
    groups: int

    @classmethod
    def of(cls, kinds: Kinds, rows: Sequence[Lane], more: Sequence[Sequence[Supply]]) -> Block:
        """Lanes, each with further supplies of its own."""
        rests = [
            (*row.rests, *(kinds.supply(supply) for supply in (*row.supplies, *own)))
            for row, own in zip(rows, more, strict=True)
        ]
        idle = LANES - len(rows)
        rows = [*rows, *[rows[-1]] * idle]
        rests = [*rests, *[rests[-1]] * idle]
        ids = np.concatenate([_filled([row.units for row in rows], 0), _filled(rests, 0)]).astype(np.uint32)
        if not ids.shape[0]:
            ids = np.zeros((1, LANES), dtype=np.uint32)
        units = max(len(row.units) for row in rows)
        return cls(tuple(rows), np.ascontiguousarray(ids), units, max(len(row.machines) for row in rows))

    def supplies(
        self, stacked: Stacked, own_w_k: FloatArray, profile: RowArray
    ) -> tuple[tuple[object, ...], tuple[object, ...]]:
        """Rooms of every supply; its profile and set points."""
        share, sensor = (_by_room(table[self.ids]) for table in (stacked.share, stacked.sensor))
        raw = stacked.mix_w_k[self.ids]
        largest = (raw / own_w_k).max(axis=2, initial=0.0)
        mix = _by_room(raw / (1.0 + largest[:, :, None]))
        used = np.asarray(np.maximum(np.maximum(share, sensor), mix).max(axis=2) > 0.0)
        lists = np.zeros((used.shape[0], used.shape[1] + 1), dtype=np.uint32)
        for z in range(used.shape[0]):
            places = np.concatenate([np.flatnonzero(used[z]), np.flatnonzero(~used[z])])
            lists[z, 0], lists[z, 1:] = used[z].sum(), places
        mixers = np.flatnonzero((mix > 0.0).any(axis=(1, 2))).astype(np.uint32)
        held = stacked.held[self.ids]
        held = np.column_stack([held, (held == held[:, :1]).all(axis=1)]).astype(np.uint32)
        return (share, sensor, mix, lists, mixers), (profile, held)

    def machines(
        self, stacked: Stacked, shake: Shake, profile: RowArray
    ) -> tuple[tuple[object, ...], tuple[object, ...]]:
        """Each indoor unit on its outdoor unit; the outdoor units."""
        ids = self.ids[: self.units]
        units = (
            np.ascontiguousarray(profile[: self.units]),
            _filled([row.lead for row in self.rows], self.groups).astype(np.uint32),
            _filled([row.weights for row in self.rows], 0.0).astype(np.float32),
            stacked.runs_on[ids],
            stacked.quiet_fan_w[ids],
            np.array([len(row.units) for row in self.rows], dtype=np.uint32),
        )
        machines = [row.machines for row in self.rows]
        known = {machine: place for place, machine in enumerate(dict.fromkeys(chain.from_iterable(machines)))}
        own = np.array([(m.row, m.fan_low_w, m.fan_high_w, m.start_per_h_w) for m in known]).reshape(-1, 4)
        which = _filled([[known[machine] for machine in row] for row in machines], 0).astype(np.int64)
        found, place = _machine_kinds(own[:, :3], which, shake.least)
        return units, (
            place,
            (own[which, 3] / shake.differential).astype(np.float32),
            np.float32(STARTS_CAP_H),
            np.array([len(row) for row in machines], dtype=np.uint32),
            found[:, 0].astype(np.uint32),
            np.ascontiguousarray(found[:, 1:], dtype=np.float32),
        )

    def profiles(self, stacked: Stacked, shake: Shake) -> Profiles:
        """Supplies that differ in anything: kind, part of a shared outdoor unit, factors of loss and least output."""
        if not any(row.shared for row in self.rows) and (shake.loss == 1.0).all() and (shake.least == 1.0).all():
            ids, row = np.unique(self.ids, return_inverse=True)
            return Profiles(stacked.numbers[ids], stacked.kinds[ids], _shaped(row, self.ids.shape))
        whole, heat, cool = (
            np.concatenate([_filled(values, blank), np.full((self.ids.shape[0] - self.units, LANES), blank)])
            for values, blank in (
                ([[row.machines[g].row for g in row.lead] for row in self.rows], 0.0),
                ([[part for part, _ in row.parts] for row in self.rows], np.inf),
                ([[part for _, part in row.parts] for row in self.rows], np.inf),
            )
        )
        factors = (np.broadcast_to(factor, self.ids.shape) for factor in (shake.loss, shake.least))
        keys = np.stack([self.ids, whole, heat, cool, *factors], axis=-1)
        found, row = np.unique(keys.reshape(-1, 6), axis=0, return_inverse=True)
        ids = found[:, 0].astype(np.int64)
        numbers, kinds = stacked.numbers[ids].copy(), stacked.kinds[ids].copy()
        numbers[:, 11:15] = found[:, 2:6]
        shares = np.isfinite(found[:, 2])
        kinds[shares, 0], kinds[shares, 2] = SHARED, found[shares, 1]
        return Profiles(numbers, kinds, _shaped(row, self.ids.shape))

    def outdoor_rows(self) -> RowArray:
        """(G, 64, 2) sound curves of the outdoor units."""
        rows = [row.outdoor_rows for row in self.rows]
        known = {both: place for place, both in enumerate(dict.fromkeys(chain.from_iterable(rows)))}
        which = _filled([[known[both] for both in row] for row in rows], 0).astype(np.int64)
        return np.array(list(known), dtype=np.uint32).reshape(-1, 2)[which]


def padded_house(houses: Houses) -> tuple[LaneArray, ...]:
    """Arrays of a house, its rooms up to a multiple of `ROWS_AT_ONCE`."""
    more = -houses.inverse.shape[1] % ROWS_AT_ONCE
    inverse = np.pad(houses.inverse, ((0, 0), (0, more), (0, more), (0, 0))) if more else houses.inverse
    return np.ascontiguousarray(inverse), *houses.step, houses.source, houses.part


def _machine_kinds(own: FloatArray, which: npt.NDArray[np.int64], least: LaneArray) -> tuple[FloatArray, RowArray]:
    """Distinct outdoor units (O, 4): row, fans, factor of the least output; which of them each is, (G, 64)."""
    if (least == 1.0).all():
        found, place = np.unique(own, axis=0, return_inverse=True)
        return np.column_stack([found, np.ones(len(found))]), _shaped(place[which], which.shape)
    keys = np.concatenate([own[which], np.broadcast_to(least[:, None], (*which.shape, 1))], axis=2)
    found, place = np.unique(keys.reshape(-1, 4), axis=0, return_inverse=True)
    return found, _shaped(place, which.shape)


def _shaped(row: npt.NDArray[np.integer], shape: tuple[int, ...]) -> RowArray:
    return np.ascontiguousarray(row.reshape(shape), dtype=np.uint32)


def _by_room(table: npt.NDArray[np.floating]) -> LaneArray:
    """(Z, 64, R) as (Z, padded R, 64)."""
    lanes_last = table.transpose(0, 2, 1)
    more = -table.shape[2] % ROWS_AT_ONCE
    padded = np.pad(lanes_last, ((0, 0), (0, more), (0, 0))) if more else lanes_last
    return np.ascontiguousarray(padded, dtype=np.float32)


def _filled(values: Sequence[Sequence[float]], blank: float) -> FloatArray:
    """Rows of uneven length as columns, (longest, 64)."""
    counts = np.fromiter(map(len, values), dtype=np.int64, count=len(values))
    table = np.full((int(counts.max(initial=0)), counts.size), blank)
    lane = np.repeat(np.arange(counts.size), counts)
    place = np.arange(lane.size) - np.repeat(np.cumsum(counts) - counts, counts)
    table[place, lane] = np.fromiter(chain.from_iterable(values), dtype=np.float64, count=lane.size)
    return table
