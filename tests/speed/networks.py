"""Invented networks of any size with layouts on them, and a stopwatch."""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from compare.physics.network import Network, Supply

HOURS = 8760
OPEN_SPACE = 3
"""First rooms of a house that one head serves."""


def best_s(work: Callable[[], object], times: int = 5, clock: Callable[[], float] = time.perf_counter) -> float:
    """Shortest time of several goes: what the machine can do when nobody else uses it."""
    found = []
    for _ in range(times):
        start = clock()
        work()
        found.append(clock() - start)
    return min(found)


def processor_s(work: Callable[[], object], times: int = 5) -> float:
    """The same in processor time: of one thread, little disturbed by what else the machine does."""
    return best_s(work, times, time.process_time)


def network_of(rooms: int, hours: int = HOURS, seed: int = 1) -> Network:
    """A house of so many rooms in a row along a hall, with random fabric and sun."""
    rng = np.random.default_rng(seed)
    t = np.arange(hours)
    outdoor_c = 11.0 - 12.0 * np.cos(2 * np.pi * t / HOURS) + 5.0 * np.sin(2 * np.pi * (t - 9) / 24)
    links_w_k = np.zeros((2, rooms, rooms))
    for a in range(1, rooms):
        links_w_k[0, 0, a] = links_w_k[0, a, 0] = rng.uniform(30, 90)
        links_w_k[1, 0, a] = links_w_k[1, a, 0] = rng.uniform(5, 20)
    g0_w_k = rng.uniform(5, 20, rooms)
    sun_w = np.clip(np.sin(2 * np.pi * (t - 6) / 24), 0, 1)[:, None] * rng.uniform(0, 500, rooms)
    return Network(
        room_names=tuple(f"room {k}" for k in range(rooms)),
        g0_w_k=g0_w_k,
        branch_g_w_k=rng.uniform(20, 200, (rooms, 2)),
        branch_tau_s=np.column_stack([rng.uniform(1e3, 8e3, rooms), rng.uniform(2e4, 9e4, rooms)]),
        air_j_k=rng.uniform(1e5, 5e5, rooms),
        q20_w=-g0_w_k * (20.0 - outdoor_c[:, None]) + sun_w,
        link_w_k=links_w_k,
        leak_w_k=np.linspace(1.0, 9.0, 8)[:, None] * np.ones(rooms),
        door_state=((t % 24 < 7) | (t % 24 >= 22)).astype(np.int64),
        leak_level=rng.integers(0, 8, hours),
        outdoor_c=outdoor_c,
    )


def layouts_of(network: Network, count: int, seed: int = 2) -> list[list[Supply]]:
    """A head for the open space and two ducted groups of random rooms, so many times."""
    rng = np.random.default_rng(seed)
    limits = {watts: np.full(network.hours, float(watts)) for watts in range(1500, 5001, 500)}
    on_c, off_c = np.full(network.hours, 21.1), np.full(network.hours, 23.9)
    found = []
    for _ in range(count):
        closed = rng.permutation(np.arange(OPEN_SPACE, network.rooms))
        cut = int(rng.integers(1, len(closed)))
        groups = [np.array([0]), closed[:cut], closed[cut:]]
        found.append([_supply(network, g, limits[int(rng.choice(list(limits)))], (on_c, off_c)) for g in groups])
    return found


def _supply(network: Network, rooms: np.ndarray, limit_w: np.ndarray, set_c: tuple[np.ndarray, np.ndarray]) -> Supply:
    share = np.zeros(network.rooms)
    share[rooms] = 1.0 / len(rooms)
    return Supply(share, share, limit_w, limit_w, *set_c, share * (40.0 if len(rooms) > 1 else 0.0))
