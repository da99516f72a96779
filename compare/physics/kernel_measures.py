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
KEPT = 129
"""Points of the latent share kept while cycling, over the run share."""
KEPT_LAST = np.int32(KEPT - 2)
KEPT_STEPS = np.float32(KEPT - 1)
LATENT_ROUNDS = 6
ONE = np.float32(1.0)
ZERO = np.float32(0.0)
HALF = np.float32(0.5)
TWO = np.float32(2.0)
FOUR = np.float32(4.0)
LEAST_W = np.float32(1.0)
HALF_W = np.float32(0.5)
DEGRADATION = np.float32(0.25)
LEAST_REACH = np.float32(0.05)
SMALL = np.float32(1e-6)
LARGE = np.float32(1e30)
U0, U1, U2, U3, U4, U5, U6, U7, U8, U9 = (np.uint64(k) for k in range(10))
DAY = np.uint64(24)
LAST_STEP = np.int32(GRID - 2)
STEPS = np.float32(GRID - 1)
CLASSES = np.float32(BINS - 1)
U10, U11, U12, U13 = (np.uint64(k) for k in range(10, 14))
HEAT, COOL, WARM, LOAD, REACH, PAUSE, RUN, OUT_PLACE, BELOW, KEEP, PLACE, UNIT, LOW, MID, HIGH, COP0, COP1, COP2 = (
    np.uint64(k) for k in range(18)
)
WET_LOAD, WET_LOW = np.uint64(18), np.uint64(19)
"""Rows of the workspace: of one outdoor unit, of the indoor unit at hand, of packed hours."""
FIRST, OWN_ROWS = np.uint64(20), np.uint64(8)
"""Rows of each supply follow: what it gives, then these."""
ASKED, SENSIBLE, LEAST, MOST, WET, WET_ASKED, WET_SHARE = (np.uint64(k) for k in range(1, 8))
PACK = np.uint64(16)

_jit = numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy", _nrt=False)  # type: ignore[call-overload]
"""For parts that make no arrays: nothing is counted up and down when one is passed on."""


# ---- rooms: lanes in the last axis ----


@_jit
def _reach(inverse, share, sensor, reach, pull, inv_own):  # type: ignore[no-untyped-def]
    """Degrees at each thermostat per watt of each supply, and one over those of its own."""
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
def _right_side(t, own, ca_dt, c_e, source, part, air, mass, rhs):  # type: ignore[no-untyped-def]
    for r in range(np.uint64(ca_dt.shape[0])):
        c0, c1, c2 = ca_dt[r], c_e[r, U0], c_e[r, U1]
        s = source[U0, t, r] if not own else ZERO
        for i in range(N):
            rhs[r, i] = (c0 * air[r, i] + c1 * mass[U0, r, i]) + (c2 * mass[U1, r, i] + s)
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
def _box(tt, t, limits, profile, same, set_points, held, box):  # type: ignore[no-untyped-def]
    """Limits and set points of the hour; one value where all lanes share it."""
    for z in range(np.uint64(profile.shape[0])):
        if same[z]:
            p = np.uint64(profile[z, U0])
            top, low = limits[tt, U0, p], -limits[tt, U1, p]
            for i in range(N):
                box[U0, z, i] = top
                box[U1, z, i] = low
        else:
            for i in range(N):
                p = np.uint64(profile[z, i])
                box[U0, z, i] = limits[tt, U0, p]
                box[U1, z, i] = -limits[tt, U1, p]
        if held[z, N]:
            s = np.uint64(held[z, U0])
            on, off = set_points[t, U0, s], set_points[t, U1, s]
            for i in range(N):
                box[U2, z, i] = on
                box[U3, z, i] = off
        else:
            for i in range(N):
                s = np.uint64(held[z, i])
                box[U2, z, i] = set_points[t, U0, s]
                box[U3, z, i] = set_points[t, U1, s]


@_jit
def _settle(m, pull, inv_own, box, supply, sensed, w, tolerance_w):  # type: ignore[no-untyped-def]
    """All thermostats together, by projected Gauss-Seidel from the hour before."""
    z_count = np.uint64(supply.shape[0])
    allowed, twos = tolerance_w * tolerance_w, z_count // U2 * U2
    sweeps = 0
    moving = ONE
    while moving > ZERO and sweeps < SWEEPS_MAX:
        moving = ZERO
        for z in range(z_count):
            for i in range(N):
                w[i] = sensed[z, i] - pull[m, z, z, i] * supply[z, i]
            for z2 in range(U0, twos, U2):
                for i in range(N):
                    w[i] += pull[m, z, z2, i] * supply[z2, i] + pull[m, z, z2 + U1, i] * supply[z2 + U1, i]
            if twos < z_count:
                for i in range(N):
                    w[i] += pull[m, z, twos, i] * supply[twos, i]
            for i in range(N):
                own, felt = inv_own[m, z, i], w[i]
                on, off, top, low = box[U2, z, i], box[U3, z, i], box[U0, z, i], box[U1, z, i]
                up, down = (on - felt) * own, (off - felt) * own
                q = up if up > ZERO else ZERO
                q = down if down < ZERO else q
                q = top if q > top else q
                q = low if q < low else q
                w[N + i] = q
            moved = ZERO
            for i in range(N):
                q = w[N + i]
                d = q - supply[z, i]
                d = d * d
                moved += ONE if d > allowed else ZERO
                supply[z, i] = q
            moving += moved
        sweeps += 1
        if z_count == 1:
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
def _masses(e, air, mass):  # type: ignore[no-untyped-def]
    for r in range(np.uint64(e.shape[0])):
        e1, e2 = e[r, U0], e[r, U1]
        for i in range(N):
            a = air[r, i]
            mass[U0, r, i] = a + e1 * (mass[U0, r, i] - a)
            mass[U1, r, i] = a + e2 * (mass[U1, r, i] - a)


@_jit
def _rooms(clock, row, use, cold_under, hot_over, air, counts, watched):  # type: ignore[no-untyped-def]
    for r in range(np.uint64(use.shape[0])):
        if use[r, clock]:
            low, high = cold_under[r], hot_over[r]
            for i in range(N):
                counts[r, U0, i] += ONE if air[r, i] < low else ZERO
                counts[r, U1, i] += ONE if air[r, i] > high else ZERO
        if row >= 0:
            for i in range(N):
                watched[np.uint64(row), r, i] = air[r, i]


# ---- units: hours in the last axis; every series is a row of one workspace ----


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
def _limits_of_unit(w, k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law):  # type: ignore[no-untyped-def]
    """Most heat and sensible cold that a unit brings to its rooms; its part of a shared outdoor unit at most."""
    a, b, fan, flow, loss = numbers[k, U4], numbers[k, U5], numbers[k, U3], numbers[k, U10], numbers[k, U13]
    ac, bc, cc = numbers[k, U6], numbers[k, U7], numbers[k, U8]
    base, slope, least = law[U0], law[U1], law[U2]
    row, out = np.uint64(kinds[k, U1]), np.uint64(kinds[k, U2])
    for t in range(T):
        h = t0 + t
        warm = ONE - (ONE - _reached(a, b, ZERO, outdoor_c[h], sun[h])) * loss
        cold = ONE - (ONE - _reached(ac, bc, cc, outdoor_c[h], sun[h])) * loss
        most = _fanned(pair[row, U3, h], -fan)
        at_least = most if most > ONE else ONE
        share = _sensible(at_least, flow, base, slope, least) / at_least
        heat = pair[row, U1, h]
        w[HEAT, t] = _fanned(heat, fan) * warm
        w[COOL, t] = most * share * cold
        w[WARM, t] = warm
        w[LOAD, t] = cold * share
    if kinds[k, U0] == SHARED:
        part, part_c = numbers[k, U11], numbers[k, U12]
        for t in range(T):
            top, low = whole[out, U0, U2, t0 + t] * part * w[WARM, t], whole[out, U1, U2, t0 + t] * part_c * w[LOAD, t]
            heat, cool = w[HEAT, t], w[COOL, t]
            w[HEAT, t] = heat if heat < top else top
            w[COOL, t] = cool if cool < low else low


@_jit
def _limits(t0, outdoor_c, sun, pair, whole, series, numbers, kinds, law, limits, w):  # type: ignore[no-untyped-def]
    """Limits of all supplies of the block over one chunk."""
    for k in range(np.uint64(numbers.shape[0])):
        kind = kinds[k, U0]
        if kind == FLAT:
            for t in range(T):
                w[HEAT, t] = numbers[k, U0]
                w[COOL, t] = numbers[k, U1]
        elif kind == SERIES:
            row = np.uint64(kinds[k, U1])
            for t in range(T):
                w[HEAT, t] = series[row, U0, t0 + t]
                w[COOL, t] = series[row, U1, t0 + t]
        else:
            _limits_of_unit(w, k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law)
        for t in range(T):
            limits[t, U0, k] = w[HEAT, t]
            limits[t, U1, k] = w[COOL, t]


@_jit
def _take(buf, z, i, w, z0, zone_sums):  # type: ignore[no-untyped-def]
    """One supply of one lane by the hour; its heat and cold are counted."""
    up, down = ZERO, ZERO
    for t in range(T):
        w[z0, t] = buf[t, z, i]
    for t in range(T):
        x = w[z0, t]
        up += x if x > ZERO else ZERO
        down -= x if x < ZERO else ZERO
    zone_sums[z, U0, i] += up
    zone_sums[z, U1, i] += down


@_jit
def _clear(w):  # type: ignore[no-untyped-def]
    for t in range(T):
        w[HEAT, t] = ZERO
        w[COOL, t] = ZERO
        w[LOAD, t] = ZERO
        w[REACH, t] = ZERO
        w[PAUSE, t] = ZERO


@_jit
def _add_asked(w, z0):  # type: ignore[no-untyped-def]
    for t in range(T):
        x = w[z0, t]
        w[HEAT, t] += x if x >= LEAST_W else ZERO
        w[COOL, t] -= x if x <= -LEAST_W else ZERO


@_jit
def _modes(w):  # type: ignore[no-untyped-def]
    """The mode with more asked is met; 1 where there are hours of heating, 2 more where of cooling."""
    any_heat, any_cool = ZERO, ZERO
    for t in range(T):
        x, y = w[HEAT, t], w[COOL, t]
        warm = ONE if x >= y else ZERO
        w[WARM, t] = warm
        any_heat += x * warm
        any_cool += y * (ONE - warm)
    if any_heat <= ZERO:
        for t in range(T):
            w[WARM, t] = ZERO
    return (U1 if any_heat > ZERO else U0) + (U2 if any_cool > ZERO else U0)


@_jit
def _heating(w, z0, numbers, k, t0, outdoor_c, sun, pair, row, least_k, loss, weight):  # type: ignore[no-untyped-def]
    a, b, low, high = numbers[k, U4], numbers[k, U5], numbers[k, U2], numbers[k, U3]
    for t in range(T):
        h = t0 + t
        d = ONE - (ONE - _reached(a, b, ZERO, outdoor_c[h], sun[h])) * loss
        q, least, most = w[z0, t], pair[row, U0, h], pair[row, U1, h]
        x = q / d
        x = x if q >= LEAST_W else ZERO
        w[z0 + ASKED, t] = x
        w[z0 + SENSIBLE, t] = x
        w[z0 + LEAST, t] = _fanned(least, low) * least_k
        w[z0 + MOST, t] = _fanned(most, high)
        w[REACH, t] += weight * d * w[WARM, t]


@_jit
def _cooling(w, z0, numbers, k, t0, outdoor_c, sun, pair, row, least_k, loss, weight, law):  # type: ignore[no-untyped-def]
    """Total cooling asked for a sensible one; hours of heating keep theirs."""
    a, b, c, fan, fan_high = numbers[k, U6], numbers[k, U7], numbers[k, U8], numbers[k, U2], numbers[k, U3]
    quiet, full = numbers[k, U9], numbers[k, U10]
    base, slope, least = law[U0], law[U1], law[U2]
    for t in range(T):
        h = t0 + t
        d = ONE - (ONE - _reached(a, b, c, outdoor_c[h], sun[h])) * loss
        q, heats = w[z0, t], w[WARM, t]
        asked, felt, old_lo, old_hi = w[z0 + ASKED, t], w[z0 + SENSIBLE, t], w[z0 + LEAST, t], w[z0 + MOST, t]
        x = -q / d
        x = x if q <= -LEAST_W else ZERO
        lo, hi = _fanned(pair[row, U2, h], -fan), _fanned(pair[row, U3, h], -fan_high)
        lo = lo if lo > ONE else ONE
        hi = hi if hi > TWO else TWO
        low, high = _sensible(lo, quiet, base, slope, least) * least_k, _sensible(hi, full, base, slope, least)
        lo = lo * least_k
        span = high - low
        span = span if span > SMALL else SMALL
        under, over = x * lo / low, lo + (x - low) / span * (hi - lo)
        total = under if x <= low else over
        total = total if x > ZERO else ZERO
        w[z0 + ASKED, t] = asked if heats > HALF else total
        w[z0 + SENSIBLE, t] = felt if heats > HALF else x
        w[z0 + LEAST, t] = old_lo if heats > HALF else lo
        w[z0 + MOST, t] = old_hi if heats > HALF else hi
        w[REACH, t] += (ONE - heats) * weight * d


@_jit
def _join(w, z0, fan_w):  # type: ignore[no-untyped-def]
    """What a unit asks of its outdoor unit, and what its fan takes in pauses."""
    for t in range(T):
        x = w[z0 + ASKED, t]
        w[LOAD, t] += x
        w[PAUSE, t] += fan_w if x > ZERO else ZERO


@_jit
def _outputs(w, t0, both, whole, row, fan_low, fan_high, least_k):  # type: ignore[no-untyped-def]
    """Least, middle and most output of an outdoor unit in its mode, and the COP at each."""
    hot, cold = U0 if both != U2 else U1, U1 if both != U1 else U0
    for k in range(U6):
        fan = fan_low if k in (U0, U3) else fan_high
        sign = ONE if k >= U3 else -ONE
        for t in range(T):
            warm, by_heat, by_cold = w[WARM, t], whole[row, hot, k, t0 + t], whole[row, cold, k, t0 + t]
            base = by_heat if warm > HALF else by_cold
            more = fan if warm > HALF else sign * fan
            w[LOW + k, t] = _fanned(base, more)
    for t in range(T):
        a, b, c = w[LOW, t], w[MID, t], w[HIGH, t]
        x, y, z = w[COP0, t], w[COP1, t], w[COP2, t]
        x = x if x > SMALL else LARGE
        y = y if y > SMALL else LARGE
        z = z if z > SMALL else LARGE
        w[LOW, t] = a * least_k
        w[COP0, t] = a / x
        w[COP1, t] = b / y
        w[COP2, t] = c / z


@_jit
def _power(w, t0, cold, start_k, cap, sums):  # type: ignore[no-untyped-def]
    """Power, cycling and starts of one outdoor unit over the chunk."""
    power, runs_sum, cold_runs, heat_sum, cold_sum = ZERO, ZERO, ZERO, ZERO, ZERO
    running, below_sum, starts, heat_at, cold_at = ZERO, ZERO, ZERO, ZERO, ZERO
    for t in range(T):
        low, mid, high, asked = w[LOW, t], w[MID, t], w[HIGH, t], w[LOAD, t]
        warm, reach, pause = w[WARM, t], w[REACH, t], w[PAUSE, t]
        heat, cool, chill = w[HEAT, t], w[COOL, t], cold[t0 + t]
        mid = mid if mid > low else low
        c0, c1, c2 = w[COP0, t], w[COP1, t], w[COP2, t]
        met = asked if asked < high else high
        on = ONE if met > ZERO else ZERO
        low_at = low if low > SMALL else SMALL
        x = met / low_at
        x = (x if x < ONE else ONE) * on
        below = on if met < low else ZERO
        lo_span, hi_span = mid - low, high - mid
        lo_span = lo_span if lo_span > SMALL else LARGE
        hi_span = hi_span if hi_span > SMALL else LARGE
        lo_cop = c0 + (met - low) / lo_span * (c1 - c0)
        hi_cop = c1 + (met - mid) / hi_span * (c2 - c1)
        cop = lo_cop if met <= mid else hi_cop
        cop = c0 if met < low else cop
        loss = ONE - DEGRADATION * (ONE - x) * below
        cop_at = cop if cop > SMALL else LARGE
        asked_at = asked if asked > SMALL else SMALL
        scale = met / asked_at
        scale = scale if asked > SMALL else ONE
        at_room = asked * reach
        runs = ONE if at_room > LEAST_W else ZERO
        most = start_k * low * reach
        most = most if most < cap else cap
        span = high - low
        span = span if span > SMALL else SMALL
        o = (asked - low) / span
        o = o if o > ZERO else ZERO
        given = (heat * warm + cool * (ONE - warm)) * scale
        power += met / (cop_at * loss) + (ONE - x) * below * pause
        runs_sum += x
        cold_runs += x * chill
        heat_sum += given * warm
        cold_sum += given * (ONE - warm)
        running += runs
        below_sum += runs * below
        starts += FOUR * most * x * (ONE - x) * below * runs
        heat_at += at_room * warm
        cold_at += at_room * (ONE - warm)
        w[RUN, t] = x
        w[OUT_PLACE, t] = o if o < ONE else ONE
    sums[U0], sums[U1], sums[U2], sums[U3], sums[U4] = power, runs_sum, cold_runs, heat_sum, cold_sum
    sums[U5], sums[U6], sums[U7], sums[U8], sums[U9] = running, below_sum, starts, heat_at, cold_at


@_jit
def _wet_hours(w, wet):  # type: ignore[no-untyped-def]
    """Hours of cooling below the least output, packed; how many, up to a multiple of 16."""
    found = ZERO
    for t in range(T):
        load, low, warm = w[LOAD, t], w[LOW, t], w[WARM, t]
        b = ONE - warm
        b = b if load > ZERO else ZERO
        b = b if load < low else ZERO
        w[BELOW, t] = b
        found += b
    if found <= ZERO:
        return U0
    count = U0
    for t in range(T):
        if w[BELOW, t] > ZERO:
            wet[count] = t
            w[WET_LOAD, count], w[WET_LOW, count] = w[LOAD, t], w[LOW, t]
            count += U1
    most = (count + PACK - U1) // PACK * PACK
    for j in range(count, most):
        wet[j] = T
        w[WET_LOAD, j], w[WET_LOW, j] = ZERO, ONE
    return most


@_jit
def _packed(w, z0, wet, count, runs_on):  # type: ignore[no-untyped-def]
    """A unit's packed hours: total and sensible cooling, and the moist share that may come back."""
    for j in range(count):
        t = np.uint64(wet[j])
        asked, felt = w[z0 + ASKED, t] if t < T else ZERO, w[z0 + SENSIBLE, t] if t < T else ZERO
        w[z0 + WET, j], w[z0 + WET_ASKED, j] = felt, asked
        w[z0 + WET_SHARE, j] = (asked - felt) / asked * runs_on if asked > ZERO else ZERO


@_jit
def _kept_of(w, kept, count):  # type: ignore[no-untyped-def]
    for j in range(count):
        x = w[WET_LOAD, j] / w[WET_LOW, j]
        f = (x if x < ONE else ONE) * KEPT_STEPS
        k = np.int32(f)
        k = k if k < KEPT_LAST else KEPT_LAST
        low_at, high_at = kept[np.uint32(k)], kept[np.uint32(k) + np.uint32(1)]
        w[KEEP, j] = low_at + (f - np.float32(k)) * (high_at - low_at)


@_jit
def _drier(w, z0, count):  # type: ignore[no-untyped-def]
    """A unit's total with moisture coming back; the load moves by as much."""
    moved = ZERO
    for j in range(count):
        s, asked, felt, keep = w[z0 + WET_SHARE, j], w[z0 + WET_ASKED, j], w[z0 + WET, j], w[KEEP, j]
        d = felt / (ONE - s * keep) - asked
        d = d if s > ZERO else ZERO
        w[z0 + WET_ASKED, j] = asked + d
        w[WET_LOAD, j] += d
        d = d if d > ZERO else -d
        moved += ONE if d > HALF_W else ZERO
    return moved


@_jit
def _spread(w, z0, wet, count):  # type: ignore[no-untyped-def]
    """Packed totals back to their hours."""
    for j in range(count):
        t = np.uint64(wet[j])
        if t < T:
            now = w[z0 + WET_ASKED, j]
            w[LOAD, t] += now - w[z0 + ASKED, t]
            w[z0 + ASKED, t] = now


@_jit
def _place(w, z0):  # type: ignore[no-untyped-def]
    """Where an indoor unit stands in its range while it runs, and for what share of the hour."""
    for t in range(T):
        low, asked = w[z0 + LEAST, t], w[z0 + ASKED, t]
        span = w[z0 + MOST, t] - low
        x = w[RUN, t]
        x_at = x if x > SMALL else SMALL
        span = span if span > SMALL else SMALL
        f = (asked / x_at - low) / span
        f = f if f > ZERO else ZERO
        w[PLACE, t] = f if f < ONE else ONE
        w[UNIT, t] = x if asked > ZERO else ZERO


@_jit
def _classes(w, spans, s, count, i, z, hist):  # type: ignore[no-untyped-def]
    """Classes of one unit in one set of hours."""
    for m in range(count):
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            if w[UNIT, t] > ZERO:
                b = np.uint64(w[PLACE, t] * CLASSES + np.float32(0.9999))
                hist[i, s, z, U1 if w[WARM, t] > HALF else U0, b] += np.uint16(1)


@_jit
def _heard(w, spans, s, count, curves, c, gain, i, e, energy):  # type: ignore[no-untyped-def]
    """Sound energy of one unit in the hours of one set, added to the nights that they belong to."""
    for m in range(count):
        total = ZERO
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            u = w[UNIT, t]
            if u > ZERO:
                f = w[PLACE, t] * STEPS
                k = np.int32(f)
                k = k if k < LAST_STEP else LAST_STEP
                part, n = f - np.float32(k), np.uint64(k)
                total += (curves[c, n] + part * (curves[c, n + U1] - curves[c, n])) * u
        energy[i, e, np.uint64(spans[s, m, U2])] += total * gain


@_jit
def _heard_outside(w, spans, s, count, curves, cool, heat, i, energy):  # type: ignore[no-untyped-def]
    for m in range(count):
        total = ZERO
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            u = w[RUN, t]
            if u > ZERO:
                f = w[OUT_PLACE, t] * STEPS
                k = np.int32(f)
                k = k if k < LAST_STEP else LAST_STEP
                part, n = f - np.float32(k), np.uint64(k)
                c = heat if w[WARM, t] > HALF else cool
                total += (curves[c, n] + part * (curves[c, n + U1] - curves[c, n])) * u
        energy[i, np.uint64(spans[s, m, U2])] += total


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
def _group(  # type: ignore[no-untyped-def]
    w, i, g, t0, profile, lead, weight, runs_on, quiet_w, a_count, least_k, loss, row, start_k, fan_low, fan_high, cap,
    numbers, kinds, law, outdoor_c, sun, cold, pair, whole, kept, wet, sums,
):  # fmt: skip
    """One outdoor unit of one lane over a chunk; whether it ran at all."""
    _clear(w)
    for z in range(a_count):
        if lead[z, i] == g:
            _add_asked(w, FIRST + z * OWN_ROWS)
    both = _modes(w)
    if both == U0:
        return False
    for z in range(a_count):
        if lead[z, i] == g:
            z0, k = FIRST + z * OWN_ROWS, np.uint64(profile[z, i])
            own = np.uint64(kinds[k, U1])
            if both != U2:
                _heating(w, z0, numbers, k, t0, outdoor_c, sun, pair, own, least_k, loss, weight[z, i])
            if both != U1:
                _cooling(w, z0, numbers, k, t0, outdoor_c, sun, pair, own, least_k, loss, weight[z, i], law)
            _join(w, z0, quiet_w[z, i])
    _outputs(w, t0, both, whole, np.uint64(row[g, i]), fan_low[g, i], fan_high[g, i], least_k)
    packed = _wet_hours(w, wet) if both != U1 else U0
    if packed > U0:
        for z in range(a_count):
            if lead[z, i] == g:
                _packed(w, FIRST + z * OWN_ROWS, wet, packed, runs_on[z, i])
        for _ in range(LATENT_ROUNDS):
            _kept_of(w, kept, packed)
            moved = ZERO
            for z in range(a_count):
                if lead[z, i] == g:
                    moved += _drier(w, FIRST + z * OWN_ROWS, packed)
            if moved <= ZERO:
                break
        for z in range(a_count):
            if lead[z, i] == g:
                _spread(w, FIRST + z * OWN_ROWS, wet, packed)
    _power(w, t0, cold, start_k[g, i], cap, sums)
    return True


@_jit
def _units(  # type: ignore[no-untyped-def]
    w, i, g, a_count, lead, spans, span_count, zone_of, first_of, ear_of, curve_of, gain_of, ear_set,
    felt_in, out_rows, curves, ear_energy, out_energy, hist,
):  # fmt: skip
    """Where the units of one outdoor unit stand in their ranges, and what is heard of them."""
    s_count = np.uint64(hist.shape[1])
    cool, heat = np.uint64(out_rows[g, i, U0]), np.uint64(out_rows[g, i, U1])
    _heard_outside(w, spans, s_count, span_count[s_count], curves, cool, heat, i, out_energy)
    for z in range(a_count):
        if lead[z, i] == g:
            _place(w, FIRST + z * OWN_ROWS)
            kind = np.uint64(zone_of[z, i])
            for s in range(s_count):
                if felt_in[kind, s]:
                    _classes(w, spans, s, span_count[s], i, z, hist)
            for h in range(np.uint64(first_of[kind]), np.uint64(first_of[kind + U1])):
                e, c = np.uint64(ear_of[h]), np.uint64(curve_of[h])
                s = np.uint64(ear_set[e])  # type: ignore[assignment]
                _heard(w, spans, s, span_count[s], curves, c, gain_of[z, i], i, e, ear_energy)


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def run_lanes(  # type: ignore[no-untyped-def]
    lanes, house, index, slots, limits_of, units, groups, profiles, weather, tables, set_points, clock_sets, ears,
    watch, out, tolerance_w, warmup
):  # fmt: skip
    """Run all lanes through the year; returns the largest number of sweeps that an hour needed.

    Rooms R are padded to an even number, hours of `weather` and `tables` to whole chunks. Z supplies, of which the
    first A are indoor units; G outdoor units; P kinds of supply.

    lanes: how many of the 64 are measured. house: inverse (M, R, R, 1 or 64), ca_dt (R,), c_e (R, 2), e (R, 2),
    source (P, H, R), part (P, 64). index (H,): matrix of the hour. slots: share, sensor, mix (Z, R, 64), rooms that any
    lane uses (Z, R + 1) behind their number, supplies that mix. limits_of: kind of supply (Z, 64), whether all lanes
    share it (Z,), row of set points (Z, 65; the last says whether all lanes share it).
    units: kind (A, 64), outdoor unit, part of it, 1 where the fan runs on in pauses, its power then, factors of the
    least output (64,) and of the duct loss (64,), number of units (64,). groups: outdoor row (G, 64), most starts an
    hour per watt of least output, differences of fan power at low and high, cap of the starts.
    profiles: numbers (P, 14), kinds (P, 3), sensible law (3,). weather: outdoor temperature, sun, whether cold (H,).
    tables: indoor units (U, 4, H) least and most, heating and cooling; outdoor units (V, 2, 6, H) least, middle, most
    and their power, heating and cooling; limits (S, 2, H). set_points (H, 2, S). clock_sets, ears, watch, out: see
    `compare.search.lanes`.
    """
    inverse, ca_dt, c_e, e, source, part = house
    index_hours = np.uint64(index.shape[0])
    share, sensor, mix, used, mixers = slots
    profile, same, held = limits_of
    lane_profile, lead, weight, runs_on, quiet_w, least_k, loss_k, unit_count = units
    row, start_k, fan_low, fan_high, cap = groups
    numbers, kinds, law = profiles
    outdoor_c, sun, cold = weather
    pair, whole, series = tables
    masks, starts = clock_sets
    zone_of, first_of, ear_of, curve_of, gain_of, ear_set, felt_in, out_rows, curves, kept, group_count = ears
    watch_row, use, cold_under, hot_over = watch
    counts, watched, zone_sums, group_sums, ear_energy, out_energy, hist = out
    r_count, z_count = np.uint64(share.shape[1]), np.uint64(share.shape[0])
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
    sensed = np.zeros((z_count, N), f4)
    box, pass_on = np.zeros((U4, z_count, N), f4), np.zeros(U2 * N, f4)
    limits = np.zeros((T, U2, np.uint64(numbers.shape[0])), f4)
    buf = np.zeros((T, z_count, N), f4)
    w = np.zeros((FIRST + z_count * OWN_ROWS, T), f4)
    wet, sums = np.zeros(T, np.uint32), np.zeros(np.uint64(GROUP_SUMS), f4)
    spans, span_count = np.zeros((s_count, T, U3), np.uint32), np.zeros(s_count, np.uint64)
    days = index_hours // DAY

    most = 0
    chunks = (index_hours + T - U1) // T
    warm_from = index_hours - np.uint64(warmup)
    before = chunks - warm_from // T if warmup > 0 else U0
    for count in range(before + chunks):
        kept_now = count >= before
        c = count - before if kept_now else chunks - before + count
        t0 = c * T
        hours = index_hours - t0 if index_hours - t0 < T else T
        first = warm_from - t0 if count == U0 and before > U0 else U0
        _limits(t0, outdoor_c, sun, pair, whole, series, numbers, kinds, law, limits, w)
        for tt in range(first, hours):
            t = t0 + tt
            _box(tt, t, limits, profile, same, set_points, held, box)
            now = np.uint64(index[t])
            _right_side(t, own, ca_dt, c_e, source, part, air, mass, rhs)
            _mixed(mix, mix_sum, mixers, used, air, supply, rhs, pass_on)
            if own:
                _times_own(inverse, now, rhs, air)
            else:
                _times(inverse, now, rhs, air)
            _sense(sensor, used, air, sensed)
            sweeps = _settle(now, pull, inv_own, box, supply, sensed, pass_on, tolerance_w)
            _given(share, used, supply, rhs)
            if own:
                _times_own(inverse, now, rhs, air)
            else:
                _times(inverse, now, rhs, air)
            _masses(e, air, mass)
            most = sweeps if sweeps > most else most
            if kept_now:
                _rooms(t % DAY, watch_row[t], use, cold_under, hot_over, air, counts, watched)
                for z in range(z_count):
                    for i in range(N):
                        buf[tt, z, i] = supply[z, i]
        if not kept_now:
            continue
        for tt in range(hours, T):
            for z in range(z_count):
                for i in range(N):
                    buf[tt, z, i] = ZERO
        for s in range(s_count):
            span_count[s] = _spans_of(masks, starts, s, hours, days, t0, spans)
        cold_hours = ZERO
        for tt in range(hours):
            cold_hours += cold[t0 + tt]
        for i in range(np.uint64(lanes)):
            for z in range(z_count):
                _take(buf, z, i, w, FIRST + z * OWN_ROWS, zone_sums)
            a_count = np.uint64(unit_count[i])
            for g in range(np.uint64(group_count[i])):
                ran = _group(
                    w, i, g, t0, lane_profile, lead, weight, runs_on, quiet_w, a_count, least_k[i], loss_k[i], row,
                    start_k, fan_low, fan_high, cap, numbers, kinds, law, outdoor_c, sun, cold, pair, whole, kept, wet,
                    sums,
                )  # fmt: skip
                if not ran:
                    group_sums[g, U1, i] += hours
                    group_sums[g, U2, i] += cold_hours
                    continue
                sums[U1], sums[U2] = f4(hours) - sums[U1], cold_hours - sums[U2]
                for c in range(np.uint64(GROUP_SUMS)):  # type: ignore[assignment]
                    group_sums[g, c, i] += sums[c]
                _units(
                    w, i, g, a_count, lead, spans, span_count, zone_of, first_of, ear_of, curve_of,
                    gain_of, ear_set, felt_in, out_rows, curves, ear_energy, out_energy, hist,
                )  # fmt: skip
    return most
