"""Steady temperatures of a network: what every room comes to if one hour's weather lasted for ever."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

from compare.physics.network import Network
from compare.physics.room import HELD_C

FloatArray = npt.NDArray[np.float64]


def steady_matrix_w_k(network: Network, door_state: int, leak_level: int) -> FloatArray:
    """Matrix A of A T = b: row r holds what a kelvin in each room takes out of room r, shape (rooms, rooms)."""
    links = network.link_w_k[door_state]
    matrix: FloatArray = np.diag(network.g0_w_k + network.leak_w_k[leak_level] + links.sum(axis=1)) - links
    return matrix


def steady_state_c(
    network: Network, hour: int, held_c: Mapping[int, float] | None = None, gain_w: FloatArray | None = None
) -> FloatArray:
    """Room temperatures [degC], shape (rooms,), with some rooms held and given gains added to each room's air.

    Uses the heat series, weather, door state and leakage level of `hour`. In the steady state the mass branches
    stand at room temperature and carry nothing.
    """
    held = held_c or {}
    matrix = steady_matrix_w_k(network, int(network.door_state[hour]), int(network.leak_level[hour]))
    leak_w_k = network.leak_w_k[network.leak_level[hour]]
    right_w = network.q20_w[hour] + HELD_C * network.g0_w_k + leak_w_k * network.outdoor_c[hour]
    right_w = right_w + (gain_w if gain_w is not None else 0.0)
    for room, temp_c in held.items():
        matrix[room] = 0.0
        matrix[room, room] = 1.0
        right_w[room] = temp_c
    return np.linalg.solve(matrix, right_w)


def steady_heat_w(network: Network, hour: int, room_c: FloatArray) -> FloatArray:
    """Heat each room needs to stay at given temperatures [W], shape (rooms,); negative is cooling."""
    matrix = steady_matrix_w_k(network, int(network.door_state[hour]), int(network.leak_level[hour]))
    leak_w_k = network.leak_w_k[network.leak_level[hour]]
    given_w = network.q20_w[hour] + HELD_C * network.g0_w_k + leak_w_k * network.outdoor_c[hour]
    return np.asarray(matrix @ room_c - given_w)
