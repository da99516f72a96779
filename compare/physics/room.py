"""One room as the shared network sees it: a steady conductance, one or two mass branches, and a heat series.

The split into a clamped series and a passive reaction is exact for a linear fabric: `q20_w` is what all surfaces
(and the convective gains) give to the room air while that air is held at 20 degC; the reaction of the fabric to any
other air temperature is `g0` plus branches "mass to room air".
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

HELD_C = 20.0
"""Air temperature at which the heat series is taken [degC]."""

BRANCHES = 2
"""Mass branches a room has in the kernel."""


@dataclass(frozen=True, slots=True, eq=False)
class RoomFabric:
    """What the year kernel needs of one room (air leakage and links to other rooms come on top)."""

    g0_w_k: float
    """Steady conductance from room air through the fabric to its boundaries."""
    branch_g_w_k: FloatArray
    """Conductance air to each mass branch, shape (2,)."""
    branch_tau_s: FloatArray
    """Time constant of each branch, shape (2,)."""
    air_j_k: float
    """Heat capacity of the air and what follows it at once (furnishings)."""
    q20_w: FloatArray
    """Heat into the room air with the air held at 20 degC, shape (hours,)."""
    reduction_error_frac: float
    """Largest error of the fitted step response against the full room, as a share of its range."""
