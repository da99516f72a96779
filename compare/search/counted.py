"""What the measuring kernel counted, and blocks of it put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

LaneArray = npt.NDArray[np.float32]
FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
Kind = TypeVar("Kind", bound=np.generic)


@dataclass(frozen=True, slots=True, eq=False)
class Counted:
    """What the year counted of N lanes; lanes last, but for sound and places."""

    counts: LaneArray
    """(R, 2, N) hours of use under and over."""
    air_c: FloatArray
    """(3, R, N) rooms on the coldest mornings, at the early hour, and in the coldest nights; see `Watch.read`."""
    rest_w_h: FloatArray
    """(S, 2, N) heat and cold of every supply that is no indoor unit."""
    group_sums: FloatArray
    """(G, 10, N)"""
    loud: LaneArray
    """(N, L + 1) sound energy of a loud night or evening, summed over its hours; after the listeners outdoors."""
    high_place: LaneArray
    """(N, sets, A, 2) high place of each unit in its output range, cooling and heating; -1 where it never runs then."""
    units: int
    """Indoor units that the block has room for."""

    def first(self, lanes: int) -> Counted:
        """The first lanes alone."""
        return Counted(
            self.counts[..., :lanes],
            self.air_c[..., :lanes],
            self.rest_w_h[..., :lanes],
            self.group_sums[..., :lanes],
            self.loud[:lanes],
            self.high_place[:lanes],
            self.units,
        )


def joined(blocks: Sequence[Counted], order: IntArray) -> Counted:
    """All lanes of some blocks, taken in an order."""
    units = max(block.units for block in blocks)
    rests = max(block.rest_w_h.shape[0] for block in blocks)
    groups = max(block.group_sums.shape[0] for block in blocks)
    return Counted(
        np.concatenate([b.counts for b in blocks], axis=-1)[..., order],
        np.concatenate([b.air_c for b in blocks], axis=-1)[..., order],
        np.concatenate([_longer(b.rest_w_h, 0, rests) for b in blocks], axis=-1)[..., order],
        np.concatenate([_longer(b.group_sums, 0, groups) for b in blocks], axis=-1)[..., order],
        np.concatenate([b.loud for b in blocks])[order],
        np.concatenate([_longer(b.high_place, 2, units) for b in blocks])[order],
        units,
    )


def _longer(values: npt.NDArray[Kind], axis: int, count: int) -> npt.NDArray[Kind]:
    """Zeros after the last entry of an axis, up to so many."""
    if values.shape[axis] == count:
        return values
    more = [(0, 0)] * values.ndim
    more[axis] = (0, count - values.shape[axis])
    return np.pad(values, more)
