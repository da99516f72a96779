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
class MeanRadiant:
    """Read-out of a room's mean radiant temperature (inner faces weighted by area).

    It is `held_c + air_frac (air - 20) + sum(branch_frac (mass - air))`, with the masses of `RoomFabric`.
    """

    held_c: FloatArray
    """With the air held at 20 degC, shape (hours,)."""
    air_frac: float
    """Share of a lasting change of air temperature that it follows."""
    branch_frac: FloatArray
    """Shape (2,)."""

    def at_c(self, air_c: FloatArray, mass_c: FloatArray) -> FloatArray:
        """Mean radiant temperature from air temperatures (hours,) and branch temperatures (hours, 2)."""
        lag_k = (mass_c - air_c[:, None]) @ self.branch_frac
        result: FloatArray = self.held_c + self.air_frac * (air_c - HELD_C) + lag_k
        return result


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
    mean_radiant: MeanRadiant | None = None
    """Read-out of mean radiant temperature, where it was computed."""

    def masses_c(self, air_c: FloatArray, step_s: float, start_c: float = HELD_C) -> FloatArray:
        """Temperatures of the branches that go with given air temperatures; shape (hours, 2), implicit steps."""
        decay = 1.0 / (1.0 + step_s / self.branch_tau_s)
        masses_c = np.empty((air_c.shape[0], BRANCHES))
        now_c = np.full(BRANCHES, start_c)
        for hour, room_c in enumerate(air_c):
            now_c = decay * now_c + (1.0 - decay) * room_c
            masses_c[hour] = now_c
        return masses_c
