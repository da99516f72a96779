"""The year kernel: one numba function that carries many layouts of one house through the hours, side by side.

Candidates stand in the last axis of every array ("lanes"), so that the inner loops are plain vector loops. The method
is implicit Euler on the shared network; per hour

1. free temperatures: `f = A^-1 (Ca/dt a + sum c_k e_k z_k + source)`, with the matrix of the hour's doors and leakage;
2. all thermostats together: find supplies `q` with `s = S f + W q` held between the set points where the limits allow
   (a box-constrained problem, projected Gauss-Seidel with a warm start from the hour before);
3. `a = f + G q`, then each mass branch follows its own room: `z_k <- e_k z_k + (1 - e_k) a`.

A single layout has no neighbours to run beside; for it the rooms stand in the last axis instead.

The module is imported only when a year is asked for, because numba takes time to import.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import numpy.typing as npt

from compare.physics.compiled import kept_code

Array = npt.NDArray[np.floating]
IntArray = npt.NDArray[np.uint32]

SWEEPS_MAX = 60

compiled = partial(kept_code, fastmath=True, error_model="numpy")


@compiled
def run_lanes(
    matrix: tuple[Array, Array, Array, Array],
    hours: tuple[IntArray, Array],
    zones: tuple[Array, Array, Array, IntArray],
    limits: tuple[Array, Array, Array, Array],
    tolerance_w: float,
    warmup: int,
    room_out: Array,
    supply_out: Array,
) -> int:
    """Run all lanes through the year; returns the largest number of sweeps an hour needed.

    matrix: inverse (M, R, R), ca_dt (R,), c_e (R, 2), e (R, 2). hours: matrix index (H,), source (H, R).
    zones: share (Z, R, N), sensor (Z, R, N), mix (Z, R, N), profile index (Z, N).
    limits: heat limit, cool limit, heat set, cool set, each (H, P) by profile.
    Outputs: room_out (H, R, N), supply_out (H, Z, N). The last `warmup` hours are run first and not kept.
    """
    inverse, ca_dt, c_e, e = matrix
    index, source = hours
    share, sensor, mix, profile = zones
    heat_limit, cool_limit, heat_set, cool_set = limits
    m_count = np.uint32(inverse.shape[0])
    r_count = np.uint32(inverse.shape[1])
    z_count = np.uint32(share.shape[0])
    n = np.uint32(share.shape[2])
    h_count = index.shape[0]
    kind = inverse.dtype

    reach = np.zeros((m_count, z_count, r_count, n), kind)
    pull = np.zeros((m_count, z_count, z_count, n), kind)
    per_own = np.empty((m_count, z_count, n), kind)
    for m in range(m_count):
        for z in range(z_count):
            for r in range(r_count):
                for r2 in range(r_count):
                    a_inv = inverse[m, r, r2]
                    for i in range(n):
                        reach[m, z, r, i] += a_inv * share[z, r2, i]
        for z in range(z_count):
            for z2 in range(z_count):
                for r in range(r_count):
                    for i in range(n):
                        pull[m, z, z2, i] += sensor[z, r, i] * reach[m, z2, r, i]
            for i in range(n):
                own = pull[m, z, z, i]
                per_own[m, z, i] = 1.0 / own if own > 1e-12 else 1e-30

    air = np.full((r_count, n), 20.0, kind)
    mass1 = np.full((r_count, n), 20.0, kind)
    mass2 = np.full((r_count, n), 20.0, kind)
    rhs = np.empty((r_count, n), kind)
    free = np.empty((r_count, n), kind)
    supply = np.zeros((z_count, n), kind)
    sensed = np.empty((z_count, n), kind)
    other = np.empty(n, kind)
    mixed = np.zeros((z_count, n), kind)
    has_mix = np.zeros(z_count, np.uint8)
    mix_sum = np.zeros((z_count, n), kind)
    for z in range(z_count):
        for r in range(r_count):
            for i in range(n):
                mix_sum[z, i] += mix[z, r, i]
                if mix[z, r, i] > 0:
                    has_mix[z] = 1

    most = 0
    for step in range(h_count + warmup):
        t = step - warmup if step >= warmup else h_count - warmup + step
        m = index[t]
        for r in range(r_count):
            s = source[t, r]
            c0 = ca_dt[r]
            c1 = c_e[r, 0]
            c2 = c_e[r, 1]
            for i in range(n):
                rhs[r, i] = c0 * air[r, i] + c1 * mass1[r, i] + c2 * mass2[r, i] + s
        for z in range(z_count):
            if has_mix[z]:
                for i in range(n):
                    mixed[z, i] = 0.0
                for r in range(r_count):
                    for i in range(n):
                        mixed[z, i] += mix[z, r, i] * air[r, i]
                for i in range(n):
                    mixed[z, i] = mixed[z, i] / mix_sum[z, i] if mix_sum[z, i] > 0 else 0.0
                for r in range(r_count):
                    for i in range(n):
                        running = 1.0 if supply[z, i] != 0.0 else 0.0
                        rhs[r, i] += running * mix[z, r, i] * (mixed[z, i] - air[r, i])
        for r in range(r_count):
            for i in range(n):
                free[r, i] = 0.0
            for r2 in range(r_count):
                a_inv = inverse[m, r, r2]
                for i in range(n):
                    free[r, i] += a_inv * rhs[r2, i]
        for z in range(z_count):
            for i in range(n):
                sensed[z, i] = 0.0
            for r in range(r_count):
                for i in range(n):
                    sensed[z, i] += sensor[z, r, i] * free[r, i]

        sweeps = 0
        change = tolerance_w + 1.0
        while change > tolerance_w and sweeps < SWEEPS_MAX:
            change = 0.0
            for z in range(z_count):
                for i in range(n):
                    other[i] = sensed[z, i]
                for z2 in range(z_count):
                    if z2 != z:
                        for i in range(n):
                            other[i] += pull[m, z, z2, i] * supply[z2, i]
                worst = 0.0
                for i in range(n):
                    p = profile[z, i]
                    up = (heat_set[t, p] - other[i]) * per_own[m, z, i]
                    down = (cool_set[t, p] - other[i]) * per_own[m, z, i]
                    top = heat_limit[t, p]
                    low = -cool_limit[t, p]
                    q = up if up > 0.0 else (down if down < 0.0 else 0.0)
                    q = top if q > top else (low if q < low else q)
                    d = q - supply[z, i]
                    d = d if d > 0.0 else -d
                    worst = d if d > worst else worst
                    supply[z, i] = q
                change = worst if worst > change else change
            sweeps += 1
            if z_count == 1:
                break
        most = sweeps if sweeps > most else most

        for r in range(r_count):
            for i in range(n):
                air[r, i] = free[r, i]
            for z in range(z_count):
                for i in range(n):
                    air[r, i] += reach[m, z, r, i] * supply[z, i]
            e1 = e[r, 0]
            e2 = e[r, 1]
            for i in range(n):
                mass1[r, i] = e1 * mass1[r, i] + (1.0 - e1) * air[r, i]
                mass2[r, i] = e2 * mass2[r, i] + (1.0 - e2) * air[r, i]
        if step >= warmup:
            for r in range(r_count):
                for i in range(n):
                    room_out[t, r, i] = air[r, i]
            for z in range(z_count):
                for i in range(n):
                    supply_out[t, z, i] = supply[z, i]
    return most


@compiled
def run_one(
    matrix: tuple[Array, Array, Array, Array],
    hours: tuple[IntArray, Array],
    zones: tuple[Array, Array, Array, IntArray],
    limits: tuple[Array, Array, Array, Array],
    tolerance_w: float,
    warmup: int,
    room_out: Array,
    supply_out: Array,
) -> int:
    """The same as `run_lanes` for one lane.

    What the thermostats sense follows each supply as it changes, so that supplies at rest or at a limit cost nothing.
    """
    inverse, ca_dt, c_e, e = matrix
    index, source = hours
    heat_limit, cool_limit, heat_set, cool_set = limits
    profile = zones[3]
    m_count, r_count, z_count = np.uint32(inverse.shape[0]), np.uint32(ca_dt.shape[0]), np.uint32(zones[0].shape[0])
    h_count = index.shape[0]
    kind = inverse.dtype
    share, sensor, mix = zones[0][:, :, 0].copy(), zones[1][:, :, 0].copy(), zones[2][:, :, 0].copy()
    reach, push = np.zeros((m_count, r_count, z_count), kind), np.zeros((m_count, z_count, z_count), kind)
    per_own = np.empty((m_count, z_count), kind)
    for m in range(m_count):
        for r in range(r_count):
            for z in range(z_count):
                for r2 in range(r_count):
                    reach[m, r, z] += inverse[m, r, r2] * share[z, r2]
        for z in range(z_count):
            for z2 in range(z_count):
                for r in range(r_count):
                    push[m, z2, z] += sensor[z, r] * reach[m, r, z2]
        for z in range(z_count):
            per_own[m, z] = 1.0 / push[m, z, z] if push[m, z, z] > 1e-12 else 1e-30
    mix_sum = mix.sum(axis=1)
    c1, c2, e1, e2 = c_e[:, 0].copy(), c_e[:, 1].copy(), e[:, 0].copy(), e[:, 1].copy()
    air, mass1, mass2 = np.full(r_count, 20.0, kind), np.full(r_count, 20.0, kind), np.full(r_count, 20.0, kind)
    rhs, free = np.empty(r_count, kind), np.empty(r_count, kind)
    supply, sensed = np.zeros(z_count, kind), np.empty(z_count, kind)

    most = 0
    for step in range(h_count + warmup):
        t = step - warmup if step >= warmup else h_count - warmup + step
        m = index[t]
        for r in range(r_count):
            rhs[r] = ca_dt[r] * air[r] + c1[r] * mass1[r] + c2[r] * mass2[r] + source[t, r]
        for z in range(z_count):
            if mix_sum[z] > 0.0 and supply[z] != 0.0:
                mixed = 0.0
                for r in range(r_count):
                    mixed += mix[z, r] * air[r]
                mixed /= mix_sum[z]
                for r in range(r_count):
                    rhs[r] += mix[z, r] * (mixed - air[r])
        for r in range(r_count):
            x = 0.0
            for r2 in range(r_count):
                x += inverse[m, r, r2] * rhs[r2]
            free[r] = x
        for z in range(z_count):
            felt = 0.0
            for r in range(r_count):
                felt += sensor[z, r] * free[r]
            sensed[z] = felt
        for z in range(z_count):
            x = supply[z]
            if x != 0.0:
                for z2 in range(z_count):
                    sensed[z2] += push[m, z, z2] * x
        sweeps = 0
        change = tolerance_w + 1.0
        while change > tolerance_w and sweeps < SWEEPS_MAX:
            change = 0.0
            for z in range(z_count):
                own = push[m, z, z]
                other = sensed[z] - own * supply[z]
                p = profile[z, 0]
                up = (heat_set[t, p] - other) * per_own[m, z]
                down = (cool_set[t, p] - other) * per_own[m, z]
                q = up if up > 0.0 else (down if down < 0.0 else 0.0)
                top, low = heat_limit[t, p], -cool_limit[t, p]
                q = top if q > top else (low if q < low else q)
                x = q - supply[z]
                if x != 0.0:
                    change = max(change, abs(x))
                    supply[z] = q
                    for z2 in range(z_count):
                        sensed[z2] += push[m, z, z2] * x
            sweeps += 1
            if z_count == 1:
                break
        most = max(sweeps, most)
        for r in range(r_count):
            x = free[r]
            for z in range(z_count):
                x += reach[m, r, z] * supply[z]
            air[r] = x
            mass1[r] = e1[r] * mass1[r] + (1.0 - e1[r]) * x
            mass2[r] = e2[r] * mass2[r] + (1.0 - e2[r]) * x
        if step >= warmup:
            for r in range(r_count):
                room_out[t, r, 0] = air[r]
            for z in range(z_count):
                supply_out[t, z, 0] = supply[z]
    return most


def run(
    matrix: tuple[Array, Array, Array, Array],
    hours: tuple[IntArray, Array],
    zones: tuple[Array, Array, Array, IntArray],
    limits: tuple[Array, Array, Array, Array],
    tolerance_w: float,
    warmup: int,
    room_out: Array,
    supply_out: Array,
) -> int:
    """All lanes through the year, one lane in its own kernel; arguments and result as of `run_lanes`."""
    chosen = run_one if zones[0].shape[2] == 1 else run_lanes
    return int(chosen(matrix, hours, zones, limits, tolerance_w, warmup, room_out, supply_out))
