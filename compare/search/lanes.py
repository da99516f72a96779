"""Lanes side by side: arrays of the measuring kernel built, the year run, and what it counted."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.equipment.latent import latent_polynomial
from compare.physics.many.sizes import GROUP_SUMS, LANES
from compare.physics.network import Supply
from compare.physics.year import WARMUP_H
from compare.scoring.judgements import Judgements
from compare.scoring.season import Season, first_hour
from compare.search.block import Block, Houses, Shake, padded_house
from compare.search.counted import Counted, joined
from compare.search.kinds import Kinds, Stacked
from compare.search.listeners import night_hours
from compare.search.sound import Sound, sound_of
from compare.search.strip import Lane
from compare.search.watch import Watch

__all__ = ["Counted", "Houses", "Runner", "Shake", "Tables"]

LaneArray = npt.NDArray[np.float32]
FloatArray = npt.NDArray[np.float64]
RowArray = npt.NDArray[np.uint32]

DRAUGHT_QUANTILE = 0.95
LOUD_QUANTILE = 0.95
WORTH_A_THREAD = 16
"""Fewer lanes are not worth a block of their own."""
TOLERANCE_W = 2.0
"""Largest change of any supply that one more sweep of the thermostats would make."""


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """What the kernel looks up, the same for all lanes; hours run on to whole chunks."""

    weather: tuple[LaneArray, LaneArray, LaneArray]
    """Outdoor temperature, sun on a roof, 1 where a crankcase heater may run."""
    heads: LaneArray
    """(U, 4, H)"""
    outdoors: LaneArray
    """(V, 2, 6, H)"""
    sensible_law: LaneArray
    """(3,)"""
    curves: LaneArray
    """(C, 40, 2) sound energy over the output range, and how it grows."""


@dataclass(frozen=True, eq=False)
class Runner:
    """Runs blocks of lanes on the houses of one case."""

    watch: Watch
    season: Season
    numbers: Judgements
    kinds: Kinds
    tables: Tables
    _sounds: dict[Stacked, Sound] = field(default_factory=dict)

    def run_many(
        self,
        houses: Houses,
        rows: Sequence[Lane],
        further: Sequence[Sequence[Supply]] | None = None,
        threads: int = 1,
        *,
        energy_alone: bool = False,
    ) -> Counted:
        """Any number of lanes on one house, sorted into blocks of alike; the result is in the order of the rows.

        Where energy alone is asked nothing is heard and no room is watched.
        """
        more = further or [()] * len(rows)
        rooms = self.kinds.stacked.rooms
        order = sorted(range(len(rows)), key=lambda k: _alike(rows[k], more[k], rooms))
        blocks = _blocks(rows, order, threads)

        def run(block: Sequence[int]) -> Counted:
            return self.run(houses, [rows[k] for k in block], None, [more[k] for k in block], energy_alone=energy_alone)

        if threads == 1 or len(blocks) == 1:
            found = [run(block) for block in blocks]
        else:
            with ThreadPoolExecutor(threads) as pool:
                found = list(pool.map(run, blocks))
        return joined(found, np.argsort(np.array(order)))

    def run(
        self,
        houses: Houses,
        rows: Sequence[Lane],
        shake: Shake | None = None,
        further: Sequence[Sequence[Supply]] | None = None,
        *,
        energy_alone: bool = False,
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
        energy_alone
            Nothing is heard and no room is watched.
        """
        from compare.physics.many.year import run_lanes

        block = Block.of(self.kinds, rows, further or [()] * len(rows))
        factors = shake or Shake.none(LANES)
        stacked = self.kinds.stacked
        profiles = block.profiles(stacked, factors)
        out = self._blank(block, houses.inverse.shape[1])
        tables, watch = self.tables, self.watch
        rows_at = np.full_like(watch.row, -1) if energy_alone else watch.row
        run_lanes(
            len(rows),
            padded_house(houses),
            houses.index,
            *block.supplies(stacked, houses.own_w_k, profiles.row),
            *block.machines(stacked, factors, profiles.row),
            (profiles.numbers, profiles.kinds, tables.sensible_law),
            tables.weather,
            (tables.heads, tables.outdoors, stacked.series),
            (stacked.set_points, stacked.fresh),
            (_clock_mask([*watch.sets, night_hours(self.numbers)]) & np.uint8(not energy_alone), self._starts()),
            self._ears(block, stacked, factors),
            (rows_at, watch.use, watch.cold_under_c, watch.hot_over_c, np.float32(DRAUGHT_QUANTILE), self._loud()),
            out,
            np.float32(TOLERANCE_W),
            min(WARMUP_H, houses.index.shape[0]),
        )
        counts, watched, rests, groups, loud, high = out
        return Counted(counts, self.watch.read(watched), rests, groups, loud, high, block.units).first(len(rows))

    def _starts(self) -> RowArray:
        sets = [*self.watch.sets, night_hours(self.numbers)]
        return np.array([first_hour(hours) for hours in sets], dtype=np.uint32)

    def _loud(self) -> LaneArray:
        """Quantile of the nights that counts for each listener, and outdoors."""
        inside = [LOUD_QUANTILE] * len(self.watch.listeners)
        return np.array([*inside, self.numbers.high_percentile_frac], dtype=np.float32)

    def _ears(self, block: Block, stacked: Stacked, shake: Shake) -> tuple[object, ...]:
        ids = block.ids[: block.units]
        gain = np.where(stacked.ducted[ids], shake.ducted_gain, np.float32(1.0)).astype(np.float32)
        sound = self._sound(stacked)
        outdoors = (block.outdoor_rows() + sound.outdoors).astype(np.uint32)
        return ids, gain, sound.first, sound.hours, sound.ears, outdoors, sound.energy, _kept()

    def _sound(self, stacked: Stacked) -> Sound:
        """What is heard of all kinds so far."""
        found = self._sounds.get(stacked)
        if found is None:  # blocks run in threads: each goes on with what it has made or found itself
            sets = [self.watch.sets.index(listener.hours) for listener in self.watch.listeners]
            found = sound_of(stacked, sets, len(self.watch.sets), self.tables.curves)
            self._sounds.clear()
            self._sounds[stacked] = found
        return found

    def _blank(
        self, block: Block, rooms: int
    ) -> tuple[LaneArray, LaneArray, FloatArray, FloatArray, LaneArray, LaneArray]:
        """What the kernel counts into."""
        watch, single = self.watch, np.float32
        return (
            np.zeros((rooms, 2, LANES), dtype=single),
            np.zeros((watch.hours.size, rooms, LANES), dtype=single),
            np.zeros((block.ids.shape[0] - block.units, 2, LANES)),
            np.zeros((block.groups, GROUP_SUMS, LANES)),
            np.zeros((LANES, len(watch.listeners) + 1), dtype=single),
            np.zeros((LANES, len(watch.sets), block.units, 2), dtype=single),
        )


def _alike(row: Lane, more: Sequence[Supply], rooms: Sequence[tuple[int, ...]]) -> tuple[object, ...]:
    """Lanes near each other in this order share their number of units, mostly their rooms, and then their rows."""
    units = row.units
    return row.shared, len(units), len(row.rests) + len(more), [rooms[unit] for unit in units], units


def _blocks(rows: Sequence[Lane], order: Sequence[int], threads: int) -> list[list[int]]:
    """Blocks of at most 64 and of like size, as many as keep every thread busy.

    No block has both shared and unshared outdoor units.
    """
    blocks = []
    for shared in (False, True):
        own = [k for k in order if rows[k].shared == shared]
        pieces = -(-len(own) // LANES)
        pieces = -(-pieces // threads) * threads if len(own) >= threads * WORTH_A_THREAD else pieces
        cuts = np.linspace(0, len(own), pieces + 1).round().astype(int)
        blocks += [own[first:last] for first, last in itertools.pairwise(cuts)]
    return blocks


def _clock_mask(sets: Sequence[frozenset[int]]) -> npt.NDArray[np.uint8]:
    return np.array([[hour in hours for hour in range(24)] for hours in sets], dtype=np.uint8).reshape(len(sets), 24)


@cache
def _kept() -> tuple[np.float32, ...]:
    """Latent output kept while cycling over the run share x, as a polynomial of x that is 0 where it is negative."""
    return tuple(np.float32(c) for c in latent_polynomial())
