"""Rooms and thermostats, hour by hour: all lanes in one name."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import LARGE, ONE, U0, U1, U2, ZERO, N, T, V
from compare.physics.many.part import part
from compare.physics.many.rows import BOTTOM, TOP, UNIT_ROWS
from compare.physics.many.vector_calls import larger, largest, load64, magnitude, pick, smaller, spread64, store, turn

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
                        reach[m, r, z2, i] += inverse[m, r, r2, i if own else U0] * share[z2, r2, i]
            for z in range(z_count):
                for r in range(r_count):
                    for i in range(N):
                        pull[m, z, z2, i] += sensor[z, r, i] * reach[m, r, z2, i]
        for z in range(z_count):
            for i in range(N):
                if pull[m, z, z, i] > np.float32(1e-12):
                    inv_own[m, z, i] = ONE / pull[m, z, z, i]
                pull[m, z, z, i] = ZERO


@part
def mixing(mix, mix_sum):  # type: ignore[no-untyped-def]
    """One over the return air that each ducted unit mixes in all; 0 where none."""
    for z in range(np.uint64(mix.shape[0])):
        for i in range(N):
            for r in range(np.uint64(mix.shape[1])):
                mix_sum[z, i] += mix[z, r, i]
            mix_sum[z, i] = ONE / mix_sum[z, i] if mix_sum[z, i] > ZERO else ZERO


@part
def times(inverse, m, x, y, rows):  # type: ignore[no-untyped-def]
    """Y = A x for one house, two rows at a time."""
    for r in range(U0, rows, U2):
        one, two = spread64(ZERO), spread64(ZERO)
        row = (m * rows + r) * rows
        for k in range(rows):
            felt = load64(x, k * N)
            one += felt * inverse[row + k]
            two += felt * inverse[row + rows + k]
        store(y, r * N, one)
        store(y, (r + U1) * N, two)


@part
def times_own(inverse, m, x, y, rows):  # type: ignore[no-untyped-def]
    """Y = A x with a house in each lane."""
    for r in range(rows):
        one, row = spread64(ZERO), (m * rows + r) * rows
        for k in range(rows):
            one += load64(inverse, (row + k) * N) * load64(x, k * N)
        store(y, r * N, one)


@part
def carry(t, own, e, ca_dt, c_e, source, part, air, mass, rhs, m, reach, supply, z_count):  # type: ignore[no-untyped-def]
    """What the supplies add to the rooms; masses follow; then the right side of the hour `t` that comes next."""
    rooms, padded = np.uint64(ca_dt.shape[0]), np.uint64(air.shape[0]) // N
    for r in range(rooms):
        at, row, air_c = r * N, (m * padded + r) * z_count, load64(air, r * N)
        for z in range(z_count):
            air_c += load64(reach, (row + z) * N) * load64(supply, z * N)
        store(air, at, air_c)
        first, second = load64(mass, at), load64(mass, rooms * N + at)
        first = air_c + (first - air_c) * e[r, U0]
        second = air_c + (second - air_c) * e[r, U1]
        store(mass, at, first)
        store(mass, rooms * N + at, second)
        heat = air_c * ca_dt[r] + first * c_e[r, U0] + second * c_e[r, U1]
        if own:
            for p in range(np.uint64(source.shape[0])):
                heat += load64(part, p * N) * source[p, t, r]
        else:
            heat += source[U0, t, r]
        store(rhs, at, heat)


@part
def mixed(mix, mix_sum, mixers, used, air, supply, rhs):  # type: ignore[no-untyped-def]
    """Return air that running ducted fans carry between their rooms."""
    rooms = np.uint64(used.shape[1]) - U1
    for k in range(np.uint64(mixers.shape[0])):
        z = np.uint64(mixers[k])
        last, row, mean = np.uint64(used[z, U0]) + U1, z * rooms, spread64(ZERO)
        for n in range(U1, last):
            r = np.uint64(used[z, n])
            mean += load64(mix, (row + r) * N) * load64(air, r * N)
        mean *= load64(mix_sum, z * N)
        runs = pick(magnitude(load64(supply, z * N)) > ZERO, spread64(ONE), ZERO)
        for n in range(U1, last):
            r = np.uint64(used[z, n])
            flow = runs * load64(mix, (row + r) * N)
            store(rhs, r * N, load64(rhs, r * N) + flow * (mean - load64(air, r * N)))


@part
def sense(sensor, used, air, sensed):  # type: ignore[no-untyped-def]
    """What each thermostat feels."""
    rooms = np.uint64(used.shape[1]) - U1
    for z in range(np.uint64(used.shape[0])):
        felt, row = spread64(ZERO), z * rooms
        for n in range(U1, np.uint64(used[z, U0]) + U1):
            r = np.uint64(used[z, n])
            felt += load64(sensor, (row + r) * N) * load64(air, r * N)
        store(sensed, z * N, felt)


@part
def rows_of(profile, profile_rows, piece_rows):  # type: ignore[no-untyped-def]
    """Where the rows begin that are turned: of every lane's supplies, and of the hours of a piece."""
    for z in range(np.uint64(profile.shape[0])):
        for i in range(N):
            profile_rows[z * N + i] = np.uint64(profile[z, i]) * UNIT_ROWS
    for t in range(V):
        piece_rows[t] = t * N


@part
def limit_rows(unit, starts, t, tops, lows):  # type: ignore[no-untyped-def]
    """Limits of every supply in the hours of a piece, lanes side by side."""
    for z in range(np.uint64(starts.shape[0]) // N):
        for first in range(U0, N, V):
            lane, at = z * N + first, z * V * N + first
            turn(unit, starts, lane, TOP + t, tops, at, N)
            turn(unit, starts, lane, BOTTOM + t, lows, at, N)


@part
def keep_given(piece, starts, t, z_count, given):  # type: ignore[no-untyped-def]
    """What the supplies gave in the hours of a piece, hours in the last axis."""
    for z in range(z_count):
        for first in range(U0, N, V):
            lane = z * N + first
            turn(piece, starts, U0, z * V * N + first, given, lane * T + t, T)


@part
def held_at(t, set_points, held, on, off):  # type: ignore[no-untyped-def]
    """Set points of the hour."""
    for z in range(np.uint64(held.shape[0])):
        if held[z, N]:
            s = np.uint64(held[z, U0])
            store(on, z * N, spread64(set_points[t, U0, s]))
            store(off, z * N, spread64(set_points[t, U1, s]))
        else:
            for i in range(N):
                s = np.uint64(held[z, i])
                on[z * N + i] = set_points[t, U0, s]
                off[z * N + i] = set_points[t, U1, s]


@part
def settle(m, tt, pull, inv_own, tops, lows, on, off, supply, sensed, z_count, tolerance_w):  # type: ignore[no-untyped-def]
    """All thermostats together, by projected Gauss-Seidel from the hour before.

    It ends where the next sweep would move no supply by more than the tolerance, at the rate of the last two sweeps.
    """
    sweeps = 0
    moving = LARGE
    while moving > tolerance_w and sweeps < SWEEPS_MAX:
        moved = spread64(ZERO)
        for z in range(z_count):
            felt, row = load64(sensed, z * N), (m * z_count + z) * z_count
            for z2 in range(z_count):
                felt += load64(pull, (row + z2) * N) * load64(supply, z2 * N)
            before, own = load64(supply, z * N), load64(inv_own, (m * z_count + z) * N)
            up, down = (load64(on, z * N) - felt) * own, (load64(off, z * N) - felt) * own
            limits = (z * V + tt) * N
            wanted = smaller(larger(up, ZERO), down)
            q = larger(smaller(wanted, load64(tops, limits)), load64(lows, limits))
            store(supply, z * N, q)
            moved = larger(moved, magnitude(q - before))
        before_w = moving
        moving = largest(moved)
        sweeps += 1
        if z_count == U1 or (sweeps > 1 and moving * moving <= tolerance_w * before_w):
            break
    return sweeps


@part
def hour(then, tt, tolerance_w, house, now, slots, laid, limits, state):  # type: ignore[no-untyped-def]
    """An hour of all rooms, and the right side of the hour that comes then; how many sweeps it needed."""
    inverse, ca_dt, c_e, e, source, part, own = house
    sensor, mix, used, mixers = slots
    pull, inv_own, reach, mix_sum = laid
    tops, lows, on, off = limits
    air, mass, rhs, supply, sensed = state
    z_count = np.uint64(used.shape[0])
    mixed(mix, mix_sum, mixers, used, air, supply, rhs)
    if own:
        times_own(inverse, now, rhs, air, np.uint64(used.shape[1]) - U1)
    else:
        times(inverse, now, rhs, air, np.uint64(used.shape[1]) - U1)
    sense(sensor, used, air, sensed)
    sweeps = settle(now, tt, pull, inv_own, tops, lows, on, off, supply, sensed, z_count, tolerance_w)
    carry(then, own, e, ca_dt, c_e, source, part, air, mass, rhs, now, reach, supply, z_count)
    return sweeps


@part
def watch_rooms(clock, row, use, cold_under, hot_over, air, counts, watched):  # type: ignore[no-untyped-def]
    """Hours of use that are cold or hot, and temperatures in watched hours."""
    rooms = np.uint64(use.shape[0])
    for r in range(rooms):
        air_c = load64(air, r * N)
        if use[r, clock]:
            cold, hot = r * U2 * N, (r * U2 + U1) * N
            store(counts, cold, load64(counts, cold) + pick(air_c < cold_under[r], spread64(ONE), ZERO))
            store(counts, hot, load64(counts, hot) + pick(air_c > hot_over[r], spread64(ONE), ZERO))
        if row >= 0:
            store(watched, (np.uint64(row) * rooms + r) * N, air_c)
