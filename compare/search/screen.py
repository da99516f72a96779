"""Choosing which layouts to simulate where there are too many: a sum of parts fitted on a sample.

Every unit, heater and place of a layout gets a value so that the sums fit the totals of a simulated sample best (ridge
regression). Such a sum ranks well but does not pick the very best, so it only screens; what passes is simulated, and
the answer says "best of N simulated of M".
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from compare.zones.sketch import LayoutSketch, Rest

FloatArray = npt.NDArray[np.float64]

RIDGE = 1.0
SEED = 20261125


def parts_of(layout: LayoutSketch) -> tuple[str, ...]:
    """What a layout is the sum of."""
    rest = [f"{how.name}{room}" for room, how in layout.rest if how is not Rest.NEIGHBOUR]
    return (*(zone.key for zone in layout.zones), *rest, f"{len(layout.zones)} units")


def sample_of(count: int, size: int) -> list[int]:
    """Places of a sample without repetition, the same in every run."""
    rng = np.random.Generator(np.random.PCG64(SEED))
    return sorted(int(k) for k in rng.permutation(count)[:size])


def predicted(layouts: Sequence[LayoutSketch], sample: Sequence[int], totals: FloatArray) -> FloatArray:
    """Totals of all layouts by the fitted parts.

    Parameters
    ----------
    layouts
        All of them.
    sample, totals
        Places of those that were simulated, and their totals.
    """
    columns = {part: k for k, part in enumerate(dict.fromkeys(p for layout in layouts for p in parts_of(layout)))}
    rows = np.zeros((len(layouts), len(columns)))
    for row, layout in enumerate(layouts):
        rows[row, [columns[part] for part in parts_of(layout)]] = 1.0
    known = rows[list(sample)]
    mean = float(totals.mean())
    value = np.linalg.solve(known.T @ known + RIDGE * np.eye(len(columns)), known.T @ (totals - mean))
    return np.asarray(mean + rows @ value, dtype=np.float64)
