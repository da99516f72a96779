"""The hourly air flow of a house put into a few levels, so that its network needs few matrices."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

_ROUNDS = 60


@dataclass(frozen=True, slots=True, eq=False)
class LeakLevels:
    """A series of conductances as level values and an index by hour, with what the rounding costs.

    `heat_error_frac` is the error of the year's sum of conductance times temperature difference (zero by
    construction up to rounding); `hour_error_frac` is the root mean square error of an hour's air heat as a share of
    its root mean square.
    """

    level_w_k: FloatArray
    """(L,), rising."""
    index: IntArray
    """(H,)"""
    heat_error_frac: float
    hour_error_frac: float


def leak_levels(conductance_w_k: FloatArray, difference_k: FloatArray, levels: int) -> LeakLevels:
    """Quantise an hourly conductance, shape (hours,), weighing hours by the square of their temperature difference.

    Levels start at quantiles and are then moved to the least weighted square error (Lloyd's rule). Each final value
    is the mean weighted by the temperature difference, so that every level carries its hours' heat exactly.
    """
    if levels < 1:
        raise ValueError(f"the number of leakage levels must be at least 1, not {levels}")
    difference = np.maximum(np.abs(difference_k), 0.1)
    values = np.quantile(conductance_w_k, (np.arange(levels) + 0.5) / levels)
    index = _nearest(conductance_w_k, values)
    for _ in range(_ROUNDS):
        values = _means(conductance_w_k, difference**2, index, values)
        moved = _nearest(conductance_w_k, values)
        if np.array_equal(moved, index):
            break
        index = moved
    values = _means(conductance_w_k, difference, index, values)
    heat_w, rounded_w = conductance_w_k * difference, values[index] * difference
    mean_square = float(np.mean(heat_w**2))
    return LeakLevels(
        level_w_k=values,
        index=index,
        heat_error_frac=float(abs(rounded_w.sum() - heat_w.sum()) / heat_w.sum()) if heat_w.sum() else 0.0,
        hour_error_frac=float(np.sqrt(np.mean((rounded_w - heat_w) ** 2) / mean_square)) if mean_square else 0.0,
    )


def _nearest(values_w_k: FloatArray, levels_w_k: FloatArray) -> IntArray:
    edges = 0.5 * (levels_w_k[1:] + levels_w_k[:-1])
    return np.searchsorted(edges, values_w_k).astype(np.int64)


def _means(values_w_k: FloatArray, weights_k: FloatArray, index: IntArray, before_w_k: FloatArray) -> FloatArray:
    """Weighted mean of the members of each level; a level without members keeps its value."""
    count = len(before_w_k)
    weight = np.bincount(index, weights_k, count)
    total = np.bincount(index, weights_k * values_w_k, count)
    means = np.where(weight > 0.0, total / np.maximum(weight, 1e-12), before_w_k)
    return np.maximum.accumulate(means)
