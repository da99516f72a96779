"""Outdoor units at a property line or a window."""

from __future__ import annotations

import math

from compare.air.noise.hours import LevelCurve, speed_grid
from compare.air.tables import require_positive

LEAST_OUTPUT_DB = -5.0
"""Power at the least output against rated cooling (from memory)."""
RATED_HEAT_DB = 2.0
MOST_HEAT_DB = 3.0


def spread_loss_db(distance_m: float, walls: int = 0) -> float:
    """Lw - Lp over reflecting ground: 11 - 10 log Q + 20 log r, Q = 2, 4, 8 with 0, 1, 2 walls beside the unit."""
    require_positive(distance_m, "distance_m", "m")
    if walls not in (0, 1, 2):
        raise ValueError(f"walls must be 0, 1 or 2 reflecting walls, got {walls}")
    return 11 - 10 * math.log10(2 * 2**walls) + 20 * math.log10(distance_m)


def outdoor_curve(lw_rated_dba: float, distance_m: float, *, heating: bool, walls: int = 1) -> LevelCurve:
    """Level at a point against the share of the output range.

    Power runs from 5 dB under rated cooling at the least output to rated cooling (cooling) or 3 dB above it
    (heating) at the most, linear in the share (from memory).
    """
    top = lw_rated_dba + (MOST_HEAT_DB if heating else 0.0)
    grid = speed_grid()
    low = lw_rated_dba + LEAST_OUTPUT_DB
    levels = low + grid * (top - low) - spread_loss_db(distance_m, walls)
    return LevelCurve(tuple(grid.tolist()), tuple(levels.tolist()))
