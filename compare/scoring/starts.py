"""How often a compressor starts when its load is under its least output: the room-swing law.

With load L, least output Q, room heat capacity C and total thermostat differential dT an energy balance gives
t_on = C dT / (Q - L) and t_off = C dT / L, so starts/h = 4 N x (1 - x) with x = L / Q and N = Q / (4 C dT). The same
form as the conventional thermostat curve (Henderson and Rengarajan, ASHRAE Transactions 102(1), 1996, read
second-hand), whose N is a fixed number.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from compare.scoring.judgements import Judgements

FloatArray = npt.NDArray[np.float64]

HOUR_S = 3600.0


def room_capacity_j_k(floor_area_m2: float, numbers: Judgements) -> float:
    """Heat capacity of the open space a unit serves that sees its on-off swings."""
    return numbers.room_capacity_j_k_m2 * floor_area_m2


def shared_capacity_j_k(capacities_j_k: Sequence[float], loads_w: Sequence[float]) -> float:
    """Capacity seen by several heads on one outdoor unit: the load-weighted mean of the single spaces'.

    Heads do not call together, so their rooms do not swing as one. Without any load the plain mean is taken.

    Raises
    ------
    ValueError
        When the lists differ in length or are empty.
    """
    if not capacities_j_k or len(capacities_j_k) != len(loads_w):
        raise ValueError("capacities_j_k and loads_w: give one of each per head")
    total_w = math.fsum(loads_w)
    if total_w <= 0.0:
        return math.fsum(capacities_j_k) / len(capacities_j_k)
    return math.fsum(c * w for c, w in zip(capacities_j_k, loads_w, strict=True)) / total_w


def most_starts_per_h(min_w: FloatArray, capacity_j_k: float, swing_k: float) -> FloatArray:
    """N: starts an hour at half load, before any cap.

    Raises
    ------
    ValueError
        When capacity or swing are not above 0.
    """
    if not (capacity_j_k > 0.0 and swing_k > 0.0):
        raise ValueError(f"heat_capacity_j_k {capacity_j_k:g} and swing {swing_k:g} K must be above 0")
    return np.asarray(min_w * HOUR_S / (4.0 * capacity_j_k * swing_k), dtype=np.float64)


def run_frac(load_w: FloatArray, min_w: FloatArray) -> FloatArray:
    """Load / least output, held within 0 and 1; 1 where the unit has no least output."""
    with np.errstate(divide="ignore", invalid="ignore"):
        x = np.where(min_w > 0.0, load_w / min_w, np.where(load_w > 0.0, 1.0, 0.0))
    return np.asarray(np.clip(x, 0.0, 1.0), dtype=np.float64)


def starts_per_h(most_per_h: FloatArray | float, x_frac: FloatArray) -> FloatArray:
    """Starts in each hour: 4 N x (1 - x), none at x = 0 and from x = 1 on."""
    return np.asarray(4.0 * most_per_h * x_frac * (1.0 - x_frac), dtype=np.float64)
