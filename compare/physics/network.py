"""The thermal network of a house: rooms, what joins them, and the states of doors and air leakage by hour.

One network serves every layout. Per room there is one air node with its fabric (`compare.physics.room`); doors,
partitions, floors and stairs are conductances between air nodes; leakage is a conductance to outdoors in a few
levels. The matrix of an hour depends only on the pair (door state, leakage level).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """All arrays are float64; R rooms, H hours, S door states, L leakage levels.

    `link_w_k[s]` is a symmetric (R, R) matrix of conductances with a zero diagonal.
    """

    room_names: tuple[str, ...]
    g0_w_k: FloatArray
    """(R,)"""
    branch_g_w_k: FloatArray
    """(R, 2)"""
    branch_tau_s: FloatArray
    """(R, 2)"""
    air_j_k: FloatArray
    """(R,)"""
    q20_w: FloatArray
    """(H, R)"""
    link_w_k: FloatArray
    """(S, R, R)"""
    leak_w_k: FloatArray
    """(L, R)"""
    door_state: IntArray
    """(H,)"""
    leak_level: IntArray
    """(H,)"""
    outdoor_c: FloatArray
    """(H,)"""
    step_s: float = 3600.0

    @property
    def rooms(self) -> int:
        """Number of rooms."""
        return len(self.room_names)

    @property
    def hours(self) -> int:
        """Number of steps."""
        return int(self.outdoor_c.shape[0])


@dataclass(frozen=True, slots=True, eq=False)
class Supply:
    """What one served zone can deliver in each hour: the year kernel's view of a unit.

    The thermostat senses `sensor` (weights over rooms, sum 1) and gives heat to rooms by `share` (sum 1), heating up to
    `heat_limit_w` and cooling up to `cool_limit_w` (both >= 0, after duct loss). `mix_w_k` is the air that a running
    ducted fan carries from each room into the common return and back, as a conductance (zeros for room units).
    """

    share: FloatArray
    """(R,)"""
    sensor: FloatArray
    """(R,)"""
    heat_limit_w: FloatArray
    """(H,)"""
    cool_limit_w: FloatArray
    """(H,)"""
    heat_set_c: FloatArray
    """(H,)"""
    cool_set_c: FloatArray
    """(H,)"""
    mix_w_k: FloatArray
    """(R,)"""


@dataclass(frozen=True, slots=True, eq=False)
class YearTrace:
    """Result of one layout's year. Positive heat is heating, negative is cooling."""

    room_c: npt.NDArray[np.float32]
    """(H, R) air temperature at the end of each hour."""
    supply_w: npt.NDArray[np.float32]
    """(H, Z) heat delivered by each supply, mean of the hour."""
