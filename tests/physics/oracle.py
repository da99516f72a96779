"""A second solution of the year, written to be checked by eye: double precision, one layout, dense matrices.

It keeps every mass as an unknown of its own (nothing is eliminated) and finds the thermostats by trying every
combination of "off, heating to set point, cooling to set point, at the heating limit, at the cooling limit" until one
satisfies all conditions. It shares no code with the kernel.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from compare.physics.network import Network, Supply

OFF, HEAT, COOL, TOP, LOW = range(5)


@dataclass
class OracleYear:
    room_c: np.ndarray
    supply_w: np.ndarray
    residual_w: np.ndarray
    """(H, R) heat balance of each room's air, from the flows themselves."""


def run(network: Network, supplies: Sequence[Supply], warmup: int, mix_scale: Sequence[float]) -> OracleYear:
    rooms, hours = network.rooms, network.hours
    dt = network.step_s
    capacity = np.concatenate(
        [network.air_j_k, (network.branch_g_w_k * network.branch_tau_s).T.ravel()]
    )  # air, first masses, second masses
    state = np.full(3 * rooms, 20.0)
    last = np.zeros(len(supplies))
    out = OracleYear(np.zeros((hours, rooms)), np.zeros((hours, len(supplies))), np.zeros((hours, rooms)))
    for step in range(hours + warmup):
        t = (step - warmup) % hours
        conductance = _conductances(network, t)
        leak = network.leak_w_k[network.leak_level[t]]
        forced = network.q20_w[t] + 20.0 * network.g0_w_k + leak * network.outdoor_c[t]
        mixing = _mixing(supplies, state[:rooms], last, mix_scale)
        base = capacity / dt * state
        base[:rooms] += forced + mixing
        system = np.diag(capacity / dt) + conductance
        gains = np.zeros((3 * rooms, len(supplies)))
        for zone, supply in enumerate(supplies):
            gains[:rooms, zone] = supply.share
        free = np.linalg.solve(system, base)
        reach = np.linalg.solve(system, gains) if supplies else np.zeros((3 * rooms, 0))
        heat = _thermostats(supplies, t, free[:rooms], reach[:rooms])
        new = free + reach @ heat
        if step >= warmup:
            out.room_c[t], out.supply_w[t] = new[:rooms], heat
            out.residual_w[t] = _balance(network, t, state, new, heat, supplies, mixing)
        state, last = new, heat
    return out


def _conductances(network: Network, t: int) -> np.ndarray:
    rooms = network.rooms
    links = network.link_w_k[network.door_state[t]]
    leak = network.leak_w_k[network.leak_level[t]]
    k = np.zeros((3 * rooms, 3 * rooms))
    k[:rooms, :rooms] = np.diag(network.g0_w_k + leak + links.sum(axis=1)) - links
    for branch in range(2):
        g = network.branch_g_w_k[:, branch]
        mass = slice((branch + 1) * rooms, (branch + 2) * rooms)
        k[:rooms, :rooms] += np.diag(g)
        k[mass, mass] += np.diag(g)
        k[:rooms, mass] -= np.diag(g)
        k[mass, :rooms] -= np.diag(g)
    return k


def _mixing(supplies: Sequence[Supply], air: np.ndarray, last: np.ndarray, scale: Sequence[float]) -> np.ndarray:
    total = np.zeros_like(air)
    for zone, supply in enumerate(supplies):
        flow = supply.mix_w_k * scale[zone]
        if last[zone] != 0.0 and flow.sum() > 0:
            total += flow * ((flow @ air) / flow.sum() - air)
    return total


def _thermostats(supplies: Sequence[Supply], t: int, free: np.ndarray, reach: np.ndarray) -> np.ndarray:
    count = len(supplies)
    if not count:
        return np.zeros(0)
    sensor = np.array([supply.sensor for supply in supplies])
    sensed, pull = sensor @ free, sensor @ reach
    on = np.array([supply.heat_set_c[t] for supply in supplies])
    off = np.array([supply.cool_set_c[t] for supply in supplies])
    top = np.array([supply.heat_limit_w[t] for supply in supplies])
    low = np.array([-supply.cool_limit_w[t] for supply in supplies])
    best, best_miss = np.zeros(count), np.inf
    for states in product(range(5), repeat=count):
        q = np.zeros(count)
        held = [z for z in range(count) if states[z] in (HEAT, COOL)]
        for z in range(count):
            q[z] = {TOP: top[z], LOW: low[z]}.get(states[z], 0.0)
        if held:
            want = np.array([on[z] if states[z] == HEAT else off[z] for z in held])
            rest = want - sensed[held] - pull[held] @ q
            q[held] = np.linalg.solve(pull[np.ix_(held, held)], rest)
        s = sensed + pull @ q
        miss = sum(_violation(states[z], q[z], s[z], on[z], off[z], top[z], low[z]) for z in range(count))
        if miss < best_miss:
            best, best_miss = q, miss
        if miss < 1e-9:
            break
    assert best_miss < 1e-6
    return best


def _violation(state: int, q: float, s: float, on: float, off: float, top: float, low: float) -> float:
    if state == OFF:
        return max(0.0, on - s) + max(0.0, s - off)
    if state == HEAT:
        return max(0.0, -q) + max(0.0, q - top)
    if state == COOL:
        return max(0.0, q) + max(0.0, low - q)
    if state == TOP:
        return max(0.0, s - on)
    return max(0.0, off - s)


def _balance(
    network: Network,
    t: int,
    old: np.ndarray,
    new: np.ndarray,
    heat: np.ndarray,
    supplies: Sequence[Supply],
    mixing: np.ndarray,
) -> np.ndarray:
    rooms = network.rooms
    air, masses = new[:rooms], new[rooms:].reshape(2, rooms)
    links = network.link_w_k[network.door_state[t]]
    leak = network.leak_w_k[network.leak_level[t]]
    flow = network.q20_w[t] - network.g0_w_k * (air - 20.0) + leak * (network.outdoor_c[t] - air) + mixing
    flow += (links * (air[None, :] - air[:, None])).sum(axis=1)
    flow += (network.branch_g_w_k.T * (masses - air)).sum(axis=0)
    for zone, supply in enumerate(supplies):
        flow += supply.share * heat[zone]
    return flow - network.air_j_k * (air - old[:rooms]) / network.step_s
