"""One percentile of a series, or of many, as `numpy.percentile` gives it, which takes far longer for short ones."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt


def percentile(values: npt.NDArray[np.float64], percent: float) -> float:
    """The percentile, linear between neighbours; equal to numpy's to the last digit.

    Parameters
    ----------
    values
        At least one finite number, one dimension.
    percent
        0 to 100.
    """
    last = len(values) - 1
    place = last * (percent / 100.0)
    below = int(place)
    if below >= last:
        return float(values.max())
    parted = np.partition(values, (below, below + 1))
    low, high = float(parted[below]), float(parted[below + 1])
    share, gap = place - below, high - low
    return high - gap * (1.0 - share) if share >= 0.5 else low + gap * share


def percentiles(values: npt.NDArray[np.float64], percent: float) -> npt.NDArray[np.float64]:
    """The percentile of each column, (N,), of (n, N) finite numbers; see `percentile`."""
    last = len(values) - 1
    place = last * (percent / 100.0)
    below = int(place)
    if below >= last:
        return np.asarray(values.max(axis=0))
    low, high = np.partition(values, (below, below + 1), axis=0)[below : below + 2]
    share, gap = place - below, high - low
    return np.asarray(high - gap * (1.0 - share) if share >= 0.5 else low + gap * share)
