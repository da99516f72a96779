"""What is heard of each kind of unit, two listeners at a time, as the measuring kernel takes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.search.kinds import Stacked

LaneArray = npt.NDArray[np.float32]
RowArray = npt.NDArray[np.uint32]

TOGETHER = 2
"""Listeners that the kernel takes at once."""


@dataclass(frozen=True, slots=True, eq=False)
class Sound:
    """Rows of two listeners that hear one kind of unit in the same hours. K kinds, Q rows, L listeners.

    The rows of kind k are `first[k]` to `first[k + 1]`; behind those of all kinds stands one row for each curve, which
    is heard outdoors. Outdoors is listener L; behind it stands one that nobody is, where a row has one.
    """

    first: RowArray
    """(K + 1,)"""
    hours: RowArray
    """(Q,) row of the set of hours."""
    ears: RowArray
    """(Q, 2)"""
    energy: LaneArray
    """(Q, 40, 2, 2) sound energy at the start of each step of the output range, and how much more at its end; flat."""

    @property
    def outdoors(self) -> int:
        """Row of the first curve heard outdoors."""
        return int(self.first[-1])


def sound_of(stacked: Stacked, sets: Sequence[int], night: int, curves: LaneArray) -> Sound:
    """Rows of all kinds.

    Parameters
    ----------
    stacked
        All kinds of supply.
    sets
        Row of the hours of each listener, (L,).
    night
        Row of the hours in which outdoor units are judged.
    curves
        (C, 40, 2) all energy curves.
    """
    outside = len(sets)
    hours, ears, rows, first = [], [], [], [0]
    for kind in range(stacked.first.size - 1):
        heard = range(int(stacked.first[kind]), int(stacked.first[kind + 1]))
        for own in dict.fromkeys(sets[stacked.listener[k]] for k in heard):
            mine = [k for k in heard if sets[stacked.listener[k]] == own]
            for start in range(0, len(mine), TOGETHER):
                some = mine[start : start + TOGETHER]
                hours.append(own)
                ears.append(_listeners([int(stacked.listener[k]) for k in some], outside))
                rows.append(_curves([int(stacked.curve[k]) for k in some]))
        first.append(len(hours))
    for curve in range(curves.shape[0]):
        hours.append(night)
        ears.append(_listeners([outside], outside))
        rows.append(_curves([curve]))
    energy = curves[np.array(rows)].transpose(0, 2, 3, 1)
    return Sound(
        np.array(first, dtype=np.uint32),
        np.array(hours, dtype=np.uint32),
        np.array(ears, dtype=np.uint32),
        np.ascontiguousarray(energy, dtype=np.float32).ravel(),
    )


def _listeners(some: list[int], outside: int) -> list[int]:
    return [*some, *range(outside + 1, outside + 1 + TOGETHER - len(some))]


def _curves(some: list[int]) -> list[int]:
    return [*some, *[0] * (TOGETHER - len(some))]
