"""Rooms and thermostats, hour by hour: lanes in the last axis."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import LARGE, ONE, U0, U1, U2, U3, U4, ZERO, N
from compare.physics.many.part import part

SWEEPS_MAX = 40


@part
def reached_by(inverse, share, sensor, reach, pull, inv_own):  # type: ignore[no-untyped-def]
    """Degrees of each room, and at each other thermostat, per watt of each supply; watts per degree at its own."""
    m_count, r_count = np.uint64(inverse.shape[0]), np.uint64(share.shape[1])
    z_count = np.uint64(share.shape[0])
    own = inverse.shape[3] > 1
    for m in range(m_count):
        for z2 in range(z_count):
            for r in range(r_count):
                for r2 in range(r_count):
                    for i in range(N):
                        reach[m, z2, r, i] += inverse[m, r, r2, i if own else U0] * share[z2, r2, i]
            for z in range(z_count):
                for r in range(r_count):
                    for i in range(N):
                        pull[m, z, z2, i] += sensor[z, r, i] * reach[m, z2, r, i]
        for z in range(z_count):
            for i in range(N):
                if pull[m, z, z, i] > np.float32(1e-12):
                    inv_own[m, z, i] = ONE / pull[m, z, z, i]
                pull[m, z, z, i] = ZERO


@part
def times(inverse, m, x, y):  # type: ignore[no-untyped-def]
    """Y = A x for one house; two rows and four columns at a time, the last two columns by themselves."""
    rows = np.uint64(x.shape[0])
    fours = rows // U4 * U4
    for r in range(U0, rows, U2):
        if fours < rows:
            a0, a1 = inverse[m, r, fours, U0], inverse[m, r, fours + U1, U0]
            b0, b1 = inverse[m, r + U1, fours, U0], inverse[m, r + U1, fours + U1, U0]
            for i in range(N):
                x0, x1 = x[fours, i], x[fours + U1, i]
                y[r, i] = a0 * x0 + a1 * x1
                y[r + U1, i] = b0 * x0 + b1 * x1
        for k in range(U0, fours, U4):
            a0, a1 = inverse[m, r, k, U0], inverse[m, r, k + U1, U0]
            a2, a3 = inverse[m, r, k + U2, U0], inverse[m, r, k + U3, U0]
            b0, b1 = inverse[m, r + U1, k, U0], inverse[m, r + U1, k + U1, U0]
            b2, b3 = inverse[m, r + U1, k + U2, U0], inverse[m, r + U1, k + U3, U0]
            keep = ONE if k > U0 or fours < rows else ZERO
            for i in range(N):
                x0, x1, x2, x3 = x[k, i], x[k + U1, i], x[k + U2, i], x[k + U3, i]
                y[r, i] = keep * y[r, i] + ((a0 * x0 + a1 * x1) + (a2 * x2 + a3 * x3))
                y[r + U1, i] = keep * y[r + U1, i] + ((b0 * x0 + b1 * x1) + (b2 * x2 + b3 * x3))


@part
def times_own(inverse, m, x, y):  # type: ignore[no-untyped-def]
    """Y = A x with a house in each lane."""
    rows = np.uint64(x.shape[0])
    for r in range(rows):
        for i in range(N):
            y[r, i] = ZERO
        for k in range(U0, rows, U2):
            for i in range(N):
                y[r, i] += inverse[m, r, k, i] * x[k, i] + inverse[m, r, k + U1, i] * x[k + U1, i]


@part
def masses(t, own, e, ca_dt, c_e, source, part, air, mass, rhs):  # type: ignore[no-untyped-def]
    """Masses follow their rooms; then the right side of the next hour `t`."""
    for r in range(np.uint64(ca_dt.shape[0])):
        e1, e2, c0, c1, c2 = e[r, U0], e[r, U1], ca_dt[r], c_e[r, U0], c_e[r, U1]
        s = source[U0, t, r] if not own else ZERO
        for i in range(N):
            a = air[r, i]
            first, second = a + e1 * (mass[U0, r, i] - a), a + e2 * (mass[U1, r, i] - a)
            mass[U0, r, i], mass[U1, r, i] = first, second
            rhs[r, i] = (c0 * a + c1 * first) + (c2 * second + s)
        if own:
            for p in range(np.uint64(source.shape[0])):
                s = source[p, t, r]
                for i in range(N):
                    rhs[r, i] += s * part[p, i]


@part
def mixed(mix, mix_sum, mixers, used, air, supply, rhs, w):  # type: ignore[no-untyped-def]
    """Return air that running ducted fans carry between their rooms, two rooms at a time."""
    for k in range(np.uint64(mixers.shape[0])):
        z = np.uint64(mixers[k])
        for i in range(N):
            w[i] = ZERO
        for n in range(U1, np.uint64(used[z, U0]) + U1, U2):
            r, r2 = np.uint64(used[z, n]), np.uint64(used[z, n + U1])
            for i in range(N):
                w[i] += mix[z, r, i] * air[r, i] + mix[z, r2, i] * air[r2, i]
        for i in range(N):
            w[i] = w[i] * mix_sum[z, i]
            w[N + i] = ONE if supply[z, i] != ZERO else ZERO
        for n in range(U1, np.uint64(used[z, U0]) + U1):
            r = np.uint64(used[z, n])
            for i in range(N):
                rhs[r, i] += w[N + i] * mix[z, r, i] * (w[i] - air[r, i])


@part
def sense(sensor, used, free, sensed):  # type: ignore[no-untyped-def]
    """What each thermostat feels."""
    for z in range(np.uint64(sensor.shape[0])):
        for i in range(N):
            sensed[z, i] = ZERO
        for n in range(U1, np.uint64(used[z, U0]) + U1, U2):
            r, r2 = np.uint64(used[z, n]), np.uint64(used[z, n + U1])
            for i in range(N):
                sensed[z, i] += sensor[z, r, i] * free[r, i] + sensor[z, r2, i] * free[r2, i]


@part
def fill_box(tt, t, limits, profile, set_points, held, box, on_off):  # type: ignore[no-untyped-def]
    """Limits and set points of the hour; a pair of limits moves as one word."""
    lanes = np.uint64(box.shape[1])
    for z in range(np.uint64(profile.shape[0])):
        for i in range(lanes):
            box[z, i] = limits[tt, np.uint64(profile[z, i])]
        if held[z, N]:
            s = np.uint64(held[z, U0])
            on, off = set_points[t, U0, s], set_points[t, U1, s]
            for i in range(lanes):
                on_off[U0, z, i] = on
                on_off[U1, z, i] = off
        else:
            for i in range(N):
                s = np.uint64(held[z, i])
                on_off[U0, z, i] = set_points[t, U0, s]
                on_off[U1, z, i] = set_points[t, U1, s]


@part
def settle(m, pull, inv_own, box, on_off, supply, sensed, w, tolerance_w):  # type: ignore[no-untyped-def]
    """All thermostats together, by projected Gauss-Seidel from the hour before.

    It ends where the next sweep would move no supply by more than the tolerance, at the rate of the last two sweeps.
    """
    z_count = np.uint64(supply.shape[0])
    twos = (z_count - U1) // U2 * U2 + U1
    sweeps = 0
    moving = LARGE
    while moving > tolerance_w and sweeps < SWEEPS_MAX:
        for i in range(N):
            w[N + i] = ZERO
        for z in range(z_count):
            for i in range(N):
                w[i] = sensed[z, i] + pull[m, z, U0, i] * supply[U0, i]
            for z2 in range(U1, twos, U2):
                for i in range(N):
                    w[i] += pull[m, z, z2, i] * supply[z2, i] + pull[m, z, z2 + U1, i] * supply[z2 + U1, i]
            if twos < z_count:
                for i in range(N):
                    w[i] += pull[m, z, twos, i] * supply[twos, i]
            for i in range(N):
                own, felt, moved, before = inv_own[m, z, i], w[i], w[N + i], supply[z, i]
                on, off, top, low = on_off[U0, z, i], on_off[U1, z, i], box[z, U2 * i], box[z, U2 * i + U1]
                up, down = (on - felt) * own, (off - felt) * own
                q = up if up > ZERO else ZERO
                q = down if down < ZERO else q
                q = top if q > top else q
                q = low if q < low else q
                supply[z, i] = q
                d = q - before
                d = d if d > ZERO else -d
                w[N + i] = d if d > moved else moved
        before = moving
        moving = ZERO
        for i in range(N):
            moving = w[N + i] if w[N + i] > moving else moving
        sweeps += 1
        if z_count == 1 or (sweeps > 1 and moving * moving <= tolerance_w * before):
            break
    return sweeps


@part
def give(m, reach, supply, air):  # type: ignore[no-untyped-def]
    """What the supplies add to the rooms, two supplies at a time."""
    z_count = np.uint64(supply.shape[0])
    twos = z_count // U2 * U2
    for r in range(np.uint64(air.shape[0])):
        for z in range(U0, twos, U2):
            for i in range(N):
                air[r, i] += reach[m, z, r, i] * supply[z, i] + reach[m, z + U1, r, i] * supply[z + U1, i]
        if twos < z_count:
            for i in range(N):
                air[r, i] += reach[m, twos, r, i] * supply[twos, i]


@part
def watch_rooms(clock, row, use, cold_under, hot_over, air, counts, watched):  # type: ignore[no-untyped-def]
    """Hours of use that are cold or hot, and temperatures in watched hours."""
    for r in range(np.uint64(use.shape[0])):
        if use[r, clock]:
            low, high = cold_under[r], hot_over[r]
            for i in range(N):
                counts[r, U0, i] += ONE if air[r, i] < low else ZERO
            for i in range(N):
                counts[r, U1, i] += ONE if air[r, i] > high else ZERO
        if row >= 0:
            for i in range(np.uint64(air.shape[1])):
                watched[np.uint64(row), r, i] = air[r, i]
