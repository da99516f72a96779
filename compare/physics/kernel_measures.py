"""The year kernel that keeps no traces: single precision, 64 layouts (or 64 draws of one house) side by side.

Same step as `compare.physics.kernel`. The year goes in chunks of four days. Within a chunk the rooms are stepped with
the lanes in the last axis of every array, and what each supply gives is kept; then each indoor and outdoor unit of each
lane is measured with the hours in the last axis, so that its table rows are read in a row. Both ways the inner loops
have a fixed length and no gathers. What is measured: energy by supply, power and cycling by outdoor unit, cold and hot
hours by room, room temperatures in watched hours, sound energy by night, and how often each indoor unit stands where in
its output range. Sums run in single precision within a chunk and in double over the year.

Where every lane is the same house the matrices have one lane; where each lane is a house of its own (draws of uncertain
inputs) they have 64, and heat comes as a sum of parts with a factor each. Rooms are padded to an even number,
because matrix rows are taken two at a time.

All parts stand in this one file, long as it is: the compiler's cache on disk looks only at the file of the outermost
function, and would keep old machine code of a part that is edited in another file.
"""

from __future__ import annotations

import numba
import numpy as np

LANES = 64
N = np.uint64(LANES)
CHUNK_H = 96
"""Hours that are stepped before they are measured: whole days, and a multiple of the vector length."""
T = np.uint64(CHUNK_H)
SWEEPS_MAX = 40
GRID = 41
"""Points of a level curve over the output range."""
BINS = 65
"""Classes of the output range: the least output, and 64 above it."""
GROUP_SUMS = 10
"""Per outdoor unit: power, idle, idle in cold, heat, cold, running, below, starts, heat and cold at the unit."""
PROFILE = 14
"""Numbers of a supply: see `compare.search.kinds`."""
FLAT, OWN, SHARED, SERIES = (np.uint32(k) for k in range(4))
"""Kinds of supply: constant limits, a unit, a unit on a shared outdoor unit, limits by the hour."""
WET_STEPS = 2
"""Steps of Newton's method for a load to which moisture comes back."""
ONE = np.float32(1.0)
ZERO = np.float32(0.0)
HALF = np.float32(0.5)
TWO = np.float32(2.0)
THREE, FOUR = np.float32(3.0), np.float32(4.0)
LEAST_W = np.float32(1.0)
LEAST_SLOPE = np.float32(0.25)
DEGRADATION = np.float32(0.25)
LEAST_REACH = np.float32(0.05)
SMALL = np.float32(1e-6)
LARGE = np.float32(1e30)
U0, U1, U2, U3, U4, U5, U6, U7, U8, U9 = (np.uint64(k) for k in range(10))
DAY = np.uint64(24)
LAST_STEP = np.int32(GRID - 2)
SOUND_STEPS = np.uint64(GRID - 1)
STEPS = np.float32(GRID - 1)
CLASSES = np.float32(BINS - 1)
U10, U11, U12, U13 = (np.uint64(k) for k in range(10, 14))
(
    HEAT, COOL, WARM, LOAD, REACH, PAUSE, RUN, LOUD, LOUDER, BELOW, REST, KEEP, KEEP_SLOPE, SUM, SLOPE, FIRST,
) = (np.uint64(k) * T for k in range(16))  # fmt: skip
"""Rows of the workspace: of one outdoor unit, of the unit that is heard, of moisture; then those of indoor units.

Workspaces are flat, with the rows' offsets as constants: so the compiler sees that rows do not overlap.
"""
ASKED, SENSIBLE, LEAST, MOST, SHARE, OWN_ROWS = (np.uint64(k) * T for k in range(6))
"""Rows of each indoor unit."""
(
    REACH_WARM, PER_WARM, LEAST_WARM, MOST_WARM, REACH_COLD, PER_COLD, LEAST_COLD, MOST_COLD, FELT_LEAST, FELT_MOST,
    PER_FELT, TOP, BOTTOM,
) = (np.uint64(k) * T for k in range(13))  # fmt: skip
"""Rows of a kind of supply: share that reaches the rooms and one over it, outputs, what is felt of them, limits."""
UNIT_ROWS = np.uint64(13)
COLD_BINS, WARM_BINS, NO_BIN = np.int32(0), np.int32(BINS), np.int32(2 * BINS)
"""Where the classes of cooling and of heating begin, and where an hour at rest is counted."""

_jit = numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy", _nrt=False, forceinline=True)  # type: ignore[call-overload]
"""For parts that make no arrays: nothing is counted up and down when one is passed on."""


# ---- rooms: lanes in the last axis ----


@_jit
def _reach(inverse, share, sensor, reach, pull, inv_own):  # type: ignore[no-untyped-def]
    """Degrees at each thermostat per watt of each other supply, and watts per degree of its own."""
    m_count, r_count = np.uint64(inverse.shape[0]), np.uint64(share.shape[1])
    z_count = np.uint64(share.shape[0])
    own = inverse.shape[3] > 1
    for m in range(m_count):
        for z2 in range(z_count):
            for r in range(r_count):
                for i in range(N):
                    reach[r, i] = ZERO
                for r2 in range(r_count):
                    for i in range(N):
                        reach[r, i] += inverse[m, r, r2, i if own else U0] * share[z2, r2, i]
            for z in range(z_count):
                for r in range(r_count):
                    for i in range(N):
                        pull[m, z, z2, i] += sensor[z, r, i] * reach[r, i]
        for z in range(z_count):
            for i in range(N):
                if pull[m, z, z, i] > np.float32(1e-12):
                    inv_own[m, z, i] = ONE / pull[m, z, z, i]
                pull[m, z, z, i] = ZERO


@_jit
def _times(inverse, m, x, y):  # type: ignore[no-untyped-def]
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


@_jit
def _times_own(inverse, m, x, y):  # type: ignore[no-untyped-def]
    """Y = A x with a house in each lane."""
    rows = np.uint64(x.shape[0])
    for r in range(rows):
        for i in range(N):
            y[r, i] = ZERO
        for k in range(U0, rows, U2):
            for i in range(N):
                y[r, i] += inverse[m, r, k, i] * x[k, i] + inverse[m, r, k + U1, i] * x[k + U1, i]


@_jit
def _masses(t, own, e, ca_dt, c_e, source, part, air, mass, rhs):  # type: ignore[no-untyped-def]
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


@_jit
def _mixed(mix, mix_sum, mixers, used, air, supply, rhs, w):  # type: ignore[no-untyped-def]
    """Return air that running ducted fans carry between their rooms."""
    for k in range(np.uint64(mixers.shape[0])):
        z = np.uint64(mixers[k])
        for i in range(N):
            w[i] = ZERO
        for n in range(np.uint64(used[z, U0])):
            r = np.uint64(used[z, n + U1])
            for i in range(N):
                w[i] += mix[z, r, i] * air[r, i]
        for i in range(N):
            w[i] = w[i] * mix_sum[z, i]
            w[N + i] = ONE if supply[z, i] != ZERO else ZERO
        for n in range(np.uint64(used[z, U0])):
            r = np.uint64(used[z, n + U1])
            for i in range(N):
                rhs[r, i] += w[N + i] * mix[z, r, i] * (w[i] - air[r, i])


@_jit
def _sense(sensor, used, free, sensed):  # type: ignore[no-untyped-def]
    for z in range(np.uint64(sensor.shape[0])):
        for i in range(N):
            sensed[z, i] = ZERO
        for n in range(np.uint64(used[z, U0])):
            r = np.uint64(used[z, n + U1])
            for i in range(N):
                sensed[z, i] += sensor[z, r, i] * free[r, i]


@_jit
def _box(tt, t, limits, profile, set_points, held, box, on_off):  # type: ignore[no-untyped-def]
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


@_jit
def _settle(m, pull, inv_own, box, on_off, supply, sensed, w, tolerance_w):  # type: ignore[no-untyped-def]
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


@_jit
def _given(share, used, supply, rhs):  # type: ignore[no-untyped-def]
    for z in range(np.uint64(share.shape[0])):
        for n in range(np.uint64(used[z, U0])):
            r = np.uint64(used[z, n + U1])
            for i in range(N):
                rhs[r, i] += share[z, r, i] * supply[z, i]


@_jit
def _rooms(clock, row, use, cold_under, hot_over, air, counts, watched):  # type: ignore[no-untyped-def]
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


# ---- units: hours in the last axis; what all lanes share stands in tables, made once a chunk ----


@_jit
def _reached(a, b, c, outdoor_c, sun):  # type: ignore[no-untyped-def]
    d = a + b * outdoor_c + c * sun
    d = d if d > LEAST_REACH else LEAST_REACH
    return d if d < ONE else ONE


@_jit
def _fanned(base, watts):  # type: ignore[no-untyped-def]
    """An output with the difference of its fan; 0 stays 0."""
    value = base + watts if base > ZERO else ZERO
    return value if value > ZERO else ZERO


@_jit
def _sensible(total, flow, base, slope, least):  # type: ignore[no-untyped-def]
    """Sensible part of a total cooling output."""
    value = base * total + slope * flow
    low = least * total
    value = value if value > low else low
    return value if value < total else total


@_jit
def _unit_rows(k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law, unit):  # type: ignore[no-untyped-def]
    """An indoor unit over the chunk: share that reaches the rooms, outputs, and the most that it brings to its rooms.

    Its part of a shared outdoor unit limits that.
    """
    a, b, ac, bc, cc = numbers[k, U4], numbers[k, U5], numbers[k, U6], numbers[k, U7], numbers[k, U8]
    fan_low, fan_high, quiet, full = numbers[k, U2], numbers[k, U3], numbers[k, U9], numbers[k, U10]
    loss = numbers[k, U13]
    base, slope, law_least = law[U0], law[U1], law[U2]
    u0 = k * UNIT_ROWS * T
    row, out, shared = np.uint64(kinds[k, U1]), np.uint64(kinds[k, U2]), kinds[k, U0] == SHARED
    for t in range(T):
        h = t0 + t
        warm = ONE - (ONE - _reached(a, b, ZERO, outdoor_c[h], sun[h])) * loss
        cold = ONE - (ONE - _reached(ac, bc, cc, outdoor_c[h], sun[h])) * loss
        most_warm, most = _fanned(pair[row, U1, h], fan_high), _fanned(pair[row, U3, h], -fan_high)
        low = _fanned(pair[row, U2, h], -fan_low)
        low = low if low > ONE else ONE
        high = most if most > TWO else TWO
        felt_low = _sensible(low, quiet, base, slope, law_least)
        unit[u0 + REACH_WARM + t] = warm
        unit[u0 + PER_WARM + t] = ONE / warm
        unit[u0 + LEAST_WARM + t] = _fanned(pair[row, U0, h], fan_low)
        unit[u0 + MOST_WARM + t] = most_warm
        unit[u0 + REACH_COLD + t] = cold
        unit[u0 + PER_COLD + t] = ONE / cold
        unit[u0 + LEAST_COLD + t] = low
        unit[u0 + MOST_COLD + t] = high
        unit[u0 + FELT_LEAST + t] = felt_low
        unit[u0 + FELT_MOST + t] = _sensible(high, full, base, slope, law_least)
        unit[u0 + PER_FELT + t] = low / felt_low
        unit[u0 + TOP + t] = most_warm * warm
    for t in range(T):
        most = _fanned(pair[row, U3, t0 + t], -fan_high)
        at_least = most if most > ONE else ONE
        unit[u0 + BOTTOM + t] = most * (_sensible(at_least, full, base, slope, law_least) / at_least)
    if shared:
        part, part_c = numbers[k, U11], numbers[k, U12]
        for t in range(T):
            most = _fanned(pair[row, U3, t0 + t], -fan_high)
            at_least = most if most > ONE else ONE
            share = _sensible(at_least, full, base, slope, law_least) / at_least
            top = whole[out, U0, U2, t0 + t] * part * unit[u0 + REACH_WARM + t]
            low = whole[out, U1, U2, t0 + t] * part_c * share
            heat, cool = unit[u0 + TOP + t], unit[u0 + BOTTOM + t]
            unit[u0 + TOP + t] = heat if heat < top else top
            unit[u0 + BOTTOM + t] = cool if cool < low else low
    for t in range(T):
        unit[u0 + BOTTOM + t] *= unit[u0 + REACH_COLD + t]


@_jit
def _supply_rows(t0, weather, tables, profiles, unit, limits):  # type: ignore[no-untyped-def]
    """All supplies of the block over one chunk; their limits once more with the supplies last."""
    outdoor_c, sun = weather
    pair, whole, series = tables
    numbers, kinds, law = profiles
    for k in range(np.uint64(numbers.shape[0])):
        kind, row, u0 = kinds[k, U0], np.uint64(kinds[k, U1]), k * UNIT_ROWS * T
        if kind == FLAT:
            for t in range(T):
                unit[u0 + TOP + t] = numbers[k, U0]
                unit[u0 + BOTTOM + t] = numbers[k, U1]
        elif kind == SERIES:
            for t in range(T):
                unit[u0 + TOP + t] = series[row, U0, t0 + t]
                unit[u0 + BOTTOM + t] = series[row, U1, t0 + t]
        else:
            _unit_rows(k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law, unit)
        for t in range(T):
            limits[t, U2 * k] = unit[u0 + TOP + t]
            limits[t, U2 * k + U1] = -unit[u0 + BOTTOM + t]


@_jit
def _machine_rows(t0, whole, rows, fans, machine):  # type: ignore[no-untyped-def]
    """Outdoor units with the fans of their indoor units: least, middle and most output and the COP at each."""
    for o in range(np.uint64(rows.shape[0])):
        row = np.uint64(rows[o])
        for m in range(U2):
            m0 = (o * U2 + m) * U6 * T
            for k in range(U6):
                fan = fans[o, U0] if k in (U0, U3) else fans[o, U1]
                fan = -fan if m == U1 and k < U3 else fan
                for t in range(T):
                    machine[m0 + k * T + t] = _fanned(whole[row, m, k, t0 + t], fan)
            for k in range(U3):
                for t in range(T):
                    power = machine[m0 + (k + U3) * T + t]
                    machine[m0 + (k + U3) * T + t] = machine[m0 + k * T + t] / (power if power > SMALL else LARGE)


@_jit
def _add_up(given, i, zone_sums):  # type: ignore[no-untyped-def]
    """Heat and cold of every supply of a lane."""
    for z in range(np.uint64(zone_sums.shape[0])):
        q0, up, down = (z * N + i) * T, ZERO, ZERO
        for t in range(T):
            x = given[q0 + t]
            up += x if x > ZERO else ZERO
            down -= x if x < ZERO else ZERO
        zone_sums[z, U0, i] += up
        zone_sums[z, U1, i] += down


@_jit
def _asked(given, q0, w, keep):  # type: ignore[no-untyped-def]
    """What the rooms ask of an outdoor unit, one indoor unit after the other; `keep` is 0 for the first."""
    for t in range(T):
        x = given[q0 + t]
        w[HEAT + t] = keep * w[HEAT + t] + (x if x >= LEAST_W else ZERO)
        w[COOL + t] = keep * w[COOL + t] - (x if x <= -LEAST_W else ZERO)


@_jit
def _modes(w):  # type: ignore[no-untyped-def]
    """The mode with more asked is met; 1 where there are hours of heating, 2 more where of cooling."""
    any_heat, any_cool = ZERO, ZERO
    for t in range(T):
        x, y = w[HEAT + t], w[COOL + t]
        warm = ONE if x >= y else ZERO
        w[WARM + t] = warm
        any_heat += x * warm
        any_cool += y * (ONE - warm)
    if any_heat <= ZERO:
        for t in range(T):
            w[WARM + t] = ZERO
    return (U1 if any_heat > ZERO else U0) + (U2 if any_cool > ZERO else U0)


@_jit
def _heating(given, q0, w, z0, unit, u0, shares, keep, again):  # type: ignore[no-untyped-def]
    """A unit's hours of heating: what it is asked, its range, and its part in its outdoor unit.

    `keep` is 0 where the outdoor unit's rows begin with it, `again` where its own do.
    """
    least_k, weight, fan_w = shares
    for t in range(T):
        warm, q, d = w[WARM + t], given[q0 + t], unit[u0 + REACH_WARM + t]
        x = warm * q * unit[u0 + PER_WARM + t]
        x = x if q >= LEAST_W else ZERO
        w[z0 + ASKED + t] = again * w[z0 + ASKED + t] + x
        w[z0 + LEAST + t] = again * w[z0 + LEAST + t] + warm * unit[u0 + LEAST_WARM + t] * least_k
        w[z0 + MOST + t] = again * w[z0 + MOST + t] + warm * unit[u0 + MOST_WARM + t]
        w[REACH + t] = keep * w[REACH + t] + weight * d * warm
        w[LOAD + t] = keep * w[LOAD + t] + x
        w[PAUSE + t] = keep * w[PAUSE + t] + (fan_w if x > ZERO else ZERO)


@_jit
def _cooling(given, q0, w, z0, unit, u0, shares, keep, again):  # type: ignore[no-untyped-def]
    """A unit's hours of cooling; the total output for a sensible one."""
    least_k, weight, fan_w = shares
    for t in range(T):
        cold, q, d = ONE - w[WARM + t], given[q0 + t], unit[u0 + REACH_COLD + t]
        x = -cold * q * unit[u0 + PER_COLD + t]
        x = x if q <= -LEAST_W else ZERO
        lo, hi = unit[u0 + LEAST_COLD + t] * least_k, unit[u0 + MOST_COLD + t]
        low, high = unit[u0 + FELT_LEAST + t] * least_k, unit[u0 + FELT_MOST + t]
        span = high - low
        span = span if span > SMALL else SMALL
        under, over = x * unit[u0 + PER_FELT + t], lo + (x - low) / span * (hi - lo)
        total = under if x <= low else over
        total = total if x > ZERO else ZERO
        w[z0 + ASKED + t] = again * w[z0 + ASKED + t] + total
        w[z0 + SENSIBLE + t] = x
        w[z0 + LEAST + t] = again * w[z0 + LEAST + t] + cold * lo
        w[z0 + MOST + t] = again * w[z0 + MOST + t] + cold * hi
        w[REACH + t] = keep * w[REACH + t] + weight * d * cold
        w[LOAD + t] = keep * w[LOAD + t] + total
        w[PAUSE + t] = keep * w[PAUSE + t] + (fan_w if total > ZERO else ZERO)


@_jit
def _power(w, m, machine, m0, cold, t0, least_k, start_k, cap, keep, slot, sums):  # type: ignore[no-untyped-def]
    """Power, cycling and starts of an outdoor unit in one mode; where it stands in its range, for its sound."""
    power, runs_sum, cold_runs, given_sum = ZERO, ZERO, ZERO, ZERO
    running, below_sum, starts, at_sum = ZERO, ZERO, ZERO, ZERO
    for t in range(T):
        low, mid, high = machine[m0 + t] * least_k, machine[m0 + U1 * T + t], machine[m0 + U2 * T + t]
        c0, c1, c2 = machine[m0 + U3 * T + t], machine[m0 + U4 * T + t], machine[m0 + U5 * T + t]
        mask = w[WARM + t] if m == U0 else ONE - w[WARM + t]
        asked, reach, pause, chill = w[LOAD + t] * mask, w[REACH + t], w[PAUSE + t], cold[t0 + t]
        mid = mid if mid > low else low
        met = asked if asked < high else high
        on = ONE if met > ZERO else ZERO
        low_at, span = low if low > SMALL else SMALL, high - low
        span = span if span > SMALL else SMALL
        part = ONE / (low_at * span)
        x = met * (span * part)
        x = (x if x < ONE else ONE) * on
        place = (asked - low) * (low_at * part)
        place = place if place > ZERO else ZERO
        place = place if place < ONE else ONE
        below = on if met < low else ZERO
        lower = met <= mid
        start = low if lower else mid
        spread = (mid - low) if lower else (high - mid)
        spread = spread if spread > SMALL else LARGE
        cop = (c0 if lower else c1) + (met - start) / spread * ((c1 - c0) if lower else (c2 - c1))
        cop = c0 if met < low else cop
        cop_at = (cop if cop > SMALL else LARGE) * (ONE - DEGRADATION * (ONE - x) * below)
        asked_at = asked if asked > SMALL else SMALL
        part = ONE / (cop_at * asked_at)
        scale = met * (cop_at * part) if asked > SMALL else ONE
        at_room = asked * reach
        runs = ONE if at_room > LEAST_W else ZERO
        most = start_k * low * reach
        most = most if most < cap else cap
        power += met * (asked_at * part) + (ONE - x) * below * pause
        runs_sum += x
        cold_runs += x * chill
        given_sum += w[HEAT + m * T + t] * mask * scale
        running += runs
        below_sum += runs * below
        starts += FOUR * most * x * (ONE - x) * below * runs
        at_sum += at_room
        w[RUN + t] = keep * w[RUN + t] + x
        f = place * STEPS
        n = np.int32(f)
        n = n if n < LAST_STEP else LAST_STEP
        slot[t] = n * np.int32(8)
        w[LOUD + t] = x
        w[LOUDER + t] = x * (f - np.float32(n))
    sums[U0] += power
    sums[U1] += runs_sum
    sums[U2] += cold_runs
    sums[U3 + m] += given_sum
    sums[U5] += running
    sums[U6] += below_sum
    sums[U7] += starts
    sums[U8 + m] += at_sum


@_jit
def _wet_hours(w, machine, m0, least_k):  # type: ignore[no-untyped-def]
    """Hours of cooling below the least output; whether there are any."""
    found = ZERO
    for t in range(T):
        load, low = w[LOAD + t], machine[m0 + t] * least_k
        b = ONE - w[WARM + t]
        b = b if load > ZERO else ZERO
        b = b if load < low else ZERO
        w[BELOW + t] = b
        w[REST + t] = load
        found += b
    return found > ZERO


@_jit
def _moist(w, z0, runs_on):  # type: ignore[no-untyped-def]
    """The moist share of a unit's cooling that may come back; what no moisture comes back to is the rest."""
    for t in range(T):
        asked, felt = w[z0 + ASKED + t], w[z0 + SENSIBLE + t]
        asked_at = asked if asked > SMALL else SMALL
        share = (asked - felt) / asked_at * (runs_on * w[BELOW + t])
        share = share if share > ZERO else ZERO
        w[z0 + SHARE + t] = share
        w[REST + t] -= asked if share > ZERO else ZERO


@_jit
def _kept_of(w, machine, m0, least_k, kept):  # type: ignore[no-untyped-def]
    """Share of the moisture that stays removed at the load so far, and how it grows with the load."""
    k0, k1, k2, k3, k4 = kept
    for t in range(T):
        low = machine[m0 + t] * least_k
        per = ONE / (low if low > SMALL else SMALL)
        x = w[LOAD + t] * per
        x = x if x < ONE else ONE
        y = k0 + x * (k1 + x * (k2 + x * (k3 + x * k4)))
        slope = k1 + x * (TWO * k2 + x * (THREE * k3 + x * (FOUR * k4)))
        on = y > ZERO
        w[KEEP + t] = (y if y < ONE else ONE) if on else ZERO
        w[KEEP_SLOPE + t] = slope * per if on else ZERO
        w[SUM + t] = w[REST + t]
        w[SLOPE + t] = ONE


@_jit
def _add_wet(w, z0):  # type: ignore[no-untyped-def]
    """A unit's total with moisture coming back, and what of it follows the load."""
    for t in range(T):
        s, felt = w[z0 + SHARE + t], w[z0 + SENSIBLE + t]
        by = ONE / (ONE - s * w[KEEP + t])
        total = felt * by
        w[z0 + ASKED + t] = total if s > ZERO else w[z0 + ASKED + t]
        w[SUM + t] += total if s > ZERO else ZERO
        w[SLOPE + t] -= total * by * s * w[KEEP_SLOPE + t]


@_jit
def _nearer(w, newton):  # type: ignore[no-untyped-def]
    """The load by a step of Newton's method, or as it was added up."""
    for t in range(T):
        slope, load = w[SLOPE + t], w[LOAD + t]
        slope = slope if slope > LEAST_SLOPE else LEAST_SLOPE
        w[LOAD + t] = load + (w[SUM + t] - load) / slope if newton else w[SUM + t]


@_jit
def _place(w, z0, slot):  # type: ignore[no-untyped-def]
    """Where an indoor unit stands in its range while it runs, and for what share of the hour."""
    for t in range(T):
        low, asked, x = w[z0 + LEAST + t], w[z0 + ASKED + t], w[RUN + t]
        span = w[z0 + MOST + t] - low
        x_at = x if x > SMALL else SMALL
        span = span if span > SMALL else SMALL
        p = (asked - low * x_at) / (x_at * span)
        p = p if p > ZERO else ZERO
        p = p if p < ONE else ONE
        u = x if asked > ZERO else ZERO
        f = p * STEPS
        n = np.int32(f)
        n = n if n < LAST_STEP else LAST_STEP
        slot[t] = n * np.int32(8)
        w[LOUD + t] = u
        w[LOUDER + t] = u * (f - np.float32(n))
        b = np.int32(p * CLASSES + np.float32(0.9999)) + (WARM_BINS if w[WARM + t] > HALF else COLD_BINS)
        slot[T + t] = b if u > ZERO else NO_BIN


@_jit
def _classes(slot, spans, s, count, i, z, hist):  # type: ignore[no-untyped-def]
    """Classes of one unit in one set of hours."""
    for m in range(count):
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            hist[i, s, z, np.uint64(slot[T + t])] += np.uint16(1)


@_jit
def _high_place(hist, quantile, lanes, high):  # type: ignore[no-untyped-def]
    """Quantile of the place in the output range, by mode, linear within a class; -1 where a unit never runs."""
    for i in range(lanes):
        for s in range(np.uint64(hist.shape[1])):
            for z in range(np.uint64(hist.shape[2])):
                for m in range(U2):
                    base, total = m * np.uint64(BINS), ZERO
                    for b in range(np.uint64(BINS)):
                        total += np.float32(hist[i, s, z, base + b])
                    if total <= ZERO:
                        high[i, s, z, m] = -ONE
                        continue
                    wanted, before, b = quantile * (total - ONE), ZERO, U0  # type: ignore[assignment]
                    own = np.float32(hist[i, s, z, base])
                    while before + own <= wanted:
                        before += own
                        b += U1  # type: ignore[assignment]
                        own = np.float32(hist[i, s, z, base + b])
                    inside = (wanted - before) / own
                    high[i, s, z, m] = (np.float32(b) - ONE + inside) / CLASSES if b > U0 else ZERO


@_jit
def _high_nights(heard, quantiles, lanes, largest, loud):  # type: ignore[no-untyped-def]
    """Quantile of the nights' sound energy at each listener, linear between its neighbours."""
    nights, listeners = np.uint64(heard.shape[0]), np.uint64(loud.shape[1])
    for i in range(lanes):
        for e in range(listeners):
            at = quantiles[e] * np.float32(nights - U1)
            low = np.uint64(at)
            kept = nights - low
            for n in range(kept):
                largest[n] = -ONE
            for d in range(nights):
                x, n = heard[d, i, e], U0  # type: ignore[assignment]
                while n < kept and x > largest[n]:
                    if n > U0:
                        largest[n - U1] = largest[n]
                    n += U1  # type: ignore[assignment]
                if n > U0:
                    largest[n - U1] = x
            below, above = largest[U0], largest[U1] if kept > U1 else largest[U0]
            loud[i, e] = below + (at - np.float32(low)) * (above - below)


@_jit
def _heard(w, slot, spans, s, count, energy, q, ears, gain, i, heard):  # type: ignore[no-untyped-def]
    """Sound energy of one unit at four listeners in the hours of one set, added to the nights that they belong to."""
    row = q * (SOUND_STEPS * U8)
    for m in range(count):
        a0, a1, a2, a3 = ZERO, ZERO, ZERO, ZERO
        b0, b1, b2, b3 = ZERO, ZERO, ZERO, ZERO
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            u, v = w[LOUD + t], w[LOUDER + t]
            if u < ZERO:  # never: but a second way out keeps the compiler from gathering for one listener at a time
                break
            n = row + np.uint64(np.uint32(slot[t]))
            a0 += u * energy[n]
            a1 += u * energy[n + U1]
            a2 += u * energy[n + U2]
            a3 += u * energy[n + U3]
            b0 += v * energy[n + U4]
            b1 += v * energy[n + U5]
            b2 += v * energy[n + U6]
            b3 += v * energy[n + U7]
        night = np.uint64(spans[s, m, U2])
        heard[night, i, np.uint64(ears[q, U0])] += (a0 + b0) * gain
        heard[night, i, np.uint64(ears[q, U1])] += (a1 + b1) * gain
        heard[night, i, np.uint64(ears[q, U2])] += (a2 + b2) * gain
        heard[night, i, np.uint64(ears[q, U3])] += (a3 + b3) * gain


@_jit
def _spans_of(masks, starts, s, hours, days, t0, spans):  # type: ignore[no-untyped-def]
    """Runs of hours of the chunk that belong to a set: from, to, and the night or evening of each."""
    count, start, last = U0, np.uint64(starts[s]), days
    for t in range(hours):
        night = ((t0 + t + days * DAY - start) // DAY) % days
        night = night if masks[s, t % DAY] else days
        if night not in (days, last):
            spans[s, count, U0], spans[s, count, U2] = t, night
            count += U1
        if night != days:
            spans[s, count - U1, U1] = t + U1
        last = night
    return count


@_jit
def _ask(given, i, g, w, unit, units, both):  # type: ignore[no-untyped-def]
    """All indoor units of an outdoor unit: their hours of heating, then those of cooling."""
    profile, lead, weight, _, quiet_w, least_k, unit_count = units
    keep = ZERO
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            z0, q0, u0 = z * OWN_ROWS + FIRST, (z * N + i) * T, np.uint64(profile[z, i]) * UNIT_ROWS * T
            shares, again = (least_k[i], weight[z, i], quiet_w[z, i]), ZERO
            if both != U2:
                _heating(given, q0, w, z0, unit, u0, shares, keep, again)
                keep, again = ONE, ONE
            if both != U1:
                _cooling(given, q0, w, z0, unit, u0, shares, keep, again)
                keep = ONE


@_jit
def _dry(i, g, w, machine, m0, units, kept):  # type: ignore[no-untyped-def]
    """What drains from the coils in pauses goes back into the air, so that units ask for more."""
    _, lead, _, runs_on, _, least_k, unit_count = units
    a_count = np.uint64(unit_count[i])
    if not _wet_hours(w, machine, m0, least_k[i]):
        return
    for z in range(a_count):
        if lead[z, i] == g:
            _moist(w, z * OWN_ROWS + FIRST, runs_on[z, i])
    for step in range(WET_STEPS + 1):
        _kept_of(w, machine, m0, least_k[i], kept)
        for z in range(a_count):
            if lead[z, i] == g:
                _add_wet(w, z * OWN_ROWS + FIRST)
        _nearer(w, step < WET_STEPS)


@_jit
def _outdoor(  # type: ignore[no-untyped-def]
    given, i, g, t0, w, slot, unit, machine, cold, units, groups, kept, spans, span_count, sound, out_rows,
    heard, sums,
):  # fmt: skip
    """One outdoor unit of one lane over a chunk; whether it ran at all."""
    lead, least_k, unit_count = units[1], units[5], units[6]
    place, start_k, cap = groups
    keep = ZERO
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            _asked(given, (z * N + i) * T, w, keep)
            keep = ONE
    both, m0 = _modes(w), np.uint64(place[g, i]) * (U2 * U6 * T)
    if both == U0:
        return False
    _ask(given, i, g, w, unit, units, both)
    if both != U1:
        _dry(i, g, w, machine, m0 + U6 * T, units, kept)
    keep = ZERO
    night, ears, energy = np.uint64(span_count.shape[0]) - U1, sound[2], sound[3]
    for c in range(np.uint64(GROUP_SUMS)):
        sums[c] = ZERO
    for m in range(U2):
        if both != U2 - m:
            _power(w, m, machine, m0 + m * (U6 * T), cold, t0, least_k[i], start_k[g, i], cap, keep, slot, sums)
            q = np.uint64(out_rows[g, i, U1 - m])
            _heard(w, slot, spans, night, span_count[night], energy, q, ears, ONE, i, heard)
            keep = ONE
    return True


@_jit
def _indoor(i, g, w, slot, units, spans, span_count, zone_of, gain_of, sound, heard, hist):  # type: ignore[no-untyped-def]
    """Where the units of one outdoor unit stand in their ranges, and what is heard of them."""
    lead, unit_count = units[1], units[6]
    first_of, set_of, ears, energy = sound
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            kind = np.uint64(zone_of[z, i])
            _place(w, z * OWN_ROWS + FIRST, slot)
            done = np.uint64(span_count.shape[0])
            for q in range(np.uint64(first_of[kind]), np.uint64(first_of[kind + U1])):
                s = np.uint64(set_of[q])
                if s != done:
                    _classes(slot, spans, s, span_count[s], i, z, hist)
                _heard(w, slot, spans, s, span_count[s], energy, q, ears, gain_of[z, i], i, heard)
                done = s


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def run_lanes(  # type: ignore[no-untyped-def]
    lanes, house, index, slots, limits_of, units, groups, profiles, weather, tables, set_points, clock_sets, ears,
    watch, out, tolerance_w, warmup
):  # fmt: skip
    """Run all lanes through the year; returns the largest number of sweeps that an hour needed.

    Rooms R are padded to an even number, hours of `weather` and `tables` to whole chunks. Z supplies, of which the
    first A are indoor units; G outdoor units; P kinds of supply; O kinds of outdoor unit with their indoor fans.

    lanes: how many of the 64 are measured. house: inverse (M, R, R, 1 or 64), ca_dt (R,), c_e (R, 2), e (R, 2),
    source (P, H, R), part (P, 64). index (H,): matrix of the hour. slots: share, sensor, mix (Z, R, 64), rooms that any
    lane uses (Z, R + 1) behind their number, supplies that mix. limits_of: kind of supply (Z, 64), row of set points
    (Z, 65; the last says whether all lanes share it).
    units: kind (A, 64), outdoor unit, part of it, 1 where the fan runs on in pauses, its power then, factor of the
    least output (64,), number of units (64,). groups: kind of outdoor unit (G, 64), most starts an hour per watt of
    least output, cap of the starts; number of outdoor units (64,); row and fans (low, high) of each kind (O,), (O, 2).
    profiles: numbers (P, 14), kinds (P, 3), sensible law (3,). weather: outdoor temperature, sun, whether cold (H,).
    tables: indoor units (U, 4, H) least and most, heating and cooling; outdoor units (V, 2, 6, H) least, middle, most
    and their power, heating and cooling; limits (S, 2, H). set_points (H, 2, S). clock_sets, ears, watch, out: see
    `compare.search.lanes`.
    """
    inverse, ca_dt, c_e, e, source, part = house
    index_hours = np.uint64(index.shape[0])
    share, sensor, mix, used, mixers = slots
    profile, held = limits_of
    place, start_k, cap, group_count, machine_row, machine_fans = groups
    outdoor_c, sun, cold = weather
    masks, starts = clock_sets
    zone_of, gain_of, first_of, set_of, ears_of, out_rows, energy, kept = ears
    sound = (first_of, set_of, ears_of, energy)
    watch_row, use, cold_under, hot_over, quantile, loud_quantiles = watch
    days = index_hours // DAY
    counts, watched, zone_sums, group_sums, loud, high = out
    r_count, z_count = np.uint64(share.shape[1]), np.uint64(share.shape[0])
    p_count, o_count = np.uint64(profiles[0].shape[0]), np.uint64(machine_row.shape[0])
    s_count = np.uint64(masks.shape[0])
    own = inverse.shape[3] > 1
    f4 = np.float32

    pull = np.zeros((np.uint64(inverse.shape[0]), z_count, z_count, N), f4)
    inv_own = np.zeros((np.uint64(inverse.shape[0]), z_count, N), f4)
    _reach(inverse, share, sensor, np.zeros((r_count, N), f4), pull, inv_own)
    mix_sum = np.zeros((z_count, N), f4)
    for z in range(z_count):
        for i in range(N):
            for r in range(r_count):
                mix_sum[z, i] += mix[z, r, i]
            mix_sum[z, i] = ONE / mix_sum[z, i] if mix_sum[z, i] > ZERO else ZERO
    air, mass = np.full((r_count, N), f4(20.0), f4), np.full((U2, r_count, N), f4(20.0), f4)
    rhs, supply = np.zeros((r_count, N), f4), np.zeros((z_count, N), f4)
    sensed, passing = np.zeros((z_count, N), f4), np.zeros(U2 * N, f4)
    pairs, box = np.zeros((T, p_count), np.uint64), np.zeros((z_count, N), np.uint64)
    limits, bounds, on_off = pairs.view(f4), box.view(f4), np.zeros((U2, z_count, N), f4)
    unit, machine = np.zeros(p_count * UNIT_ROWS * T, f4), np.zeros(o_count * U2 * U6 * T, f4)
    given, first_hour = np.zeros(z_count * N * T, f4), np.zeros((z_count, N), np.uint32)
    for z in range(z_count):
        for i in range(N):
            first_hour[z, i] = (z * N + i) * T
    w, slot = np.zeros(FIRST + z_count * OWN_ROWS, f4), np.zeros(U2 * T, np.int32)
    sums = np.zeros(np.uint64(GROUP_SUMS), f4)
    hist = np.zeros((N, np.uint64(high.shape[1]), np.uint64(high.shape[2]), np.uint64(2 * BINS + 1)), np.uint16)
    heard, largest = np.zeros((days, N, np.uint64(loud.shape[1]) + U3), f4), np.zeros(days, f4)
    spans, span_count = np.zeros((s_count, T, U3), np.uint32), np.zeros(s_count, np.uint64)

    most = 0
    chunks = (index_hours + T - U1) // T
    warm_from = index_hours - np.uint64(warmup)
    before = chunks - warm_from // T if warmup > 0 else U0
    _masses(warm_from % index_hours, own, e, ca_dt, c_e, source, part, air, mass, rhs)
    for count in range(before + chunks):
        kept_now = count >= before
        c = count - before if kept_now else chunks - before + count
        t0 = c * T
        hours = index_hours - t0 if index_hours - t0 < T else T
        first = warm_from - t0 if count == U0 and before > U0 else U0
        _supply_rows(t0, (outdoor_c, sun), tables, profiles, unit, limits)
        for tt in range(first, hours):
            t = t0 + tt
            _box(tt, t, pairs, profile, set_points, held, box, on_off)
            now = np.uint64(index[t])
            _mixed(mix, mix_sum, mixers, used, air, supply, rhs, passing)
            if own:
                _times_own(inverse, now, rhs, air)
            else:
                _times(inverse, now, rhs, air)
            _sense(sensor, used, air, sensed)
            sweeps = _settle(now, pull, inv_own, bounds, on_off, supply, sensed, passing, tolerance_w)
            _given(share, used, supply, rhs)
            if own:
                _times_own(inverse, now, rhs, air)
            else:
                _times(inverse, now, rhs, air)
            then = t + U1 if t + U1 < index_hours else U0
            _masses(then, own, e, ca_dt, c_e, source, part, air, mass, rhs)
            most = sweeps if sweeps > most else most
            if kept_now:
                _rooms(t % DAY, watch_row[t], use, cold_under, hot_over, air, counts, watched)
                for z in range(z_count):
                    for i in range(N):
                        given[np.uint64(first_hour[z, i]) + tt] = supply[z, i]
        if not kept_now:
            continue
        for z in range(z_count):
            for i in range(N):
                for tt in range(hours, T):
                    given[(z * N + i) * T + tt] = ZERO
        _machine_rows(t0, tables[1], machine_row, machine_fans, machine)
        for s in range(s_count):
            span_count[s] = _spans_of(masks, starts, s, hours, days, t0, spans)
        cold_hours = ZERO
        for tt in range(hours):
            cold_hours += cold[t0 + tt]
        for i in range(np.uint64(lanes)):
            _add_up(given, i, zone_sums)
            for g in range(np.uint64(group_count[i])):
                ran = _outdoor(
                    given, i, g, t0, w, slot, unit, machine, cold, units, (place, start_k, cap), kept, spans,
                    span_count, sound, out_rows, heard, sums,
                )  # fmt: skip
                if not ran:
                    group_sums[g, U1, i] += hours
                    group_sums[g, U2, i] += cold_hours
                    continue
                sums[U1], sums[U2] = f4(hours) - sums[U1], cold_hours - sums[U2]
                for c in range(np.uint64(GROUP_SUMS)):  # type: ignore[assignment]
                    group_sums[g, c, i] += sums[c]
                _indoor(i, g, w, slot, units, spans, span_count, zone_of, gain_of, sound, heard, hist)
    _high_place(hist, quantile, np.uint64(lanes), high)
    _high_nights(heard, loud_quantiles, np.uint64(lanes), largest, loud)
    return most
