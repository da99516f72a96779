"""The year kernel that keeps no traces: single precision, 64 layouts (or 64 draws of one house) side by side.

Same step as `compare.physics.kernel`; what measures need is accumulated on the way: energy by supply, power and
cycling by outdoor unit, cold and hot hours by room, room temperatures in watched hours, sound energy by night, and how
often each indoor unit stands where in its output range. Lanes stand last in every array and are always 64, so that
inner loops have a fixed length; computed indices are unsigned and a flat workspace holds what passes from one loop to
the next, because signed indices and many arrays in one loop keep the compiler from vectorising. Sums run in single
precision within a day and in double over the year.

Where every lane is the same house the matrices have one lane; where each lane is a house of its own (draws of uncertain
inputs) they have 64, and heat comes as a sum of parts with a factor each.

All parts stand in this one file, long as it is: the compiler's cache on disk looks only at the file of the outermost
function, and would keep old machine code of a part that is edited in another file.
"""

from __future__ import annotations

import numba
import numpy as np

LANES = 64
N = np.uint64(LANES)
SWEEPS_MAX = 40
GRID = 41
"""Points of a level curve over the output range."""
BINS = 65
"""Classes of the output range: the least output, and 64 above it."""
GROUP_SUMS = 10
"""Per outdoor unit: power, idle, idle in cold, heat, cold, running, below, starts, heat and cold at the unit."""
HEAD_COLUMNS = 5
OUTDOOR_COLUMNS = 7
ONE = np.float32(1.0)
ZERO = np.float32(0.0)
KEPT = 129
"""Points of the latent share kept while cycling, over the run share."""
KEPT_LAST = np.uint64(KEPT - 2)
KEPT_STEPS = np.float32(KEPT - 1)
LATENT_ROUNDS = 6
LEAST_W = np.float32(1.0)
HALF_W = np.float32(0.5)
DEGRADATION = np.float32(0.25)
SMALL = np.float32(1e-6)
LARGE = np.float32(1e30)
FOUR = np.float32(4.0)
U0, U1, U2, U3, U4, U5, U6, U7, U8, U9, U10, U11 = (np.uint64(k) for k in range(12))
LAST_STEP = np.uint64(GRID - 2)
STEPS = np.float32(GRID - 1)
CLASSES = np.float32(BINS - 1)


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _reach(inverse, share, sensor, reach, pull):  # type: ignore[no-untyped-def]
    n = np.uint64(share.shape[2])
    m_count, r_count = np.uint64(inverse.shape[0]), np.uint64(inverse.shape[1])
    z_count = np.uint64(share.shape[0])
    own = inverse.shape[3] > 1
    for m in range(m_count):
        for z in range(z_count):
            for r in range(r_count):
                for r2 in range(r_count):
                    if own:
                        for i in range(n):
                            reach[m, z, r, i] += inverse[m, r, r2, i] * share[z, r2, i]
                    else:
                        a_inv = inverse[m, r, r2, U0]
                        for i in range(n):
                            reach[m, z, r, i] += a_inv * share[z, r2, i]
        for z in range(z_count):
            for z2 in range(z_count):
                for r in range(r_count):
                    for i in range(n):
                        pull[m, z, z2, i] += sensor[z, r, i] * reach[m, z2, r, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _free(  # type: ignore[no-untyped-def]
    t, m, inverse, ca_dt, c_e, source, part, mixing, air, mass, supply, rhs, free, w
):
    n = np.uint64(air.shape[1])
    mix, mix_sum, has_mix = mixing
    r_count, z_count = np.uint64(air.shape[0]), np.uint64(supply.shape[0])
    own = inverse.shape[3] > 1
    for r in range(r_count):
        c0, c1, c2 = ca_dt[r], c_e[r, U0], c_e[r, U1]
        s = source[U0, t, r] if not own else ZERO
        for i in range(n):
            rhs[r, i] = c0 * air[r, i] + c1 * mass[U0, r, i] + c2 * mass[U1, r, i] + s
        if own:
            for p in range(np.uint64(source.shape[0])):
                s = source[p, t, r]
                for i in range(n):
                    rhs[r, i] += s * part[p, i]
    for z in range(z_count):
        if has_mix[z]:
            for i in range(n):
                w[i] = ZERO
            for r in range(r_count):
                for i in range(n):
                    w[i] += mix[z, r, i] * air[r, i]
            for i in range(n):
                w[i] = w[i] * mix_sum[z, i]
                w[N + i] = ONE if supply[z, i] != ZERO else ZERO
            for r in range(r_count):
                for i in range(n):
                    rhs[r, i] += w[N + i] * mix[z, r, i] * (w[i] - air[r, i])
    for r in range(r_count):
        for i in range(n):
            free[r, i] = ZERO
        if own:
            for r2 in range(r_count):
                for i in range(n):
                    free[r, i] += inverse[m, r, r2, i] * rhs[r2, i]
        else:
            for r2 in range(r_count):
                a_inv = inverse[m, r, r2, U0]
                for i in range(n):
                    free[r, i] += a_inv * rhs[r2, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _box(t, limits, profile, head, head_table, hours, loss_k, own, a_count, box):  # type: ignore[no-untyped-def]
    n = np.uint64(profile.shape[1])
    for z in range(np.uint64(profile.shape[0])):
        for i in range(n):
            k = (np.uint64(profile[z, i]) * hours + t) * U4
            box[U0, z, i] = limits[k]
            box[U1, z, i] = -limits[k + U1]
            box[U2, z, i] = limits[k + U2]
            box[U3, z, i] = limits[k + U3]
        if own and z < a_count:
            for i in range(n):
                h = np.uint64(head[z, i])
                cool_frac = head_table[((h * U2) * hours + t) * U5 + U4]
                warm_frac = head_table[((h * U2 + U1) * hours + t) * U5 + U4]
                box[U0, z, i] *= (ONE - (ONE - warm_frac) * loss_k[i]) / warm_frac
                box[U1, z, i] *= (ONE - (ONE - cool_frac) * loss_k[i]) / cool_frac


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _settle(m, sensor, free, pull, inv_own, box, supply, sensed, w, tolerance_w):  # type: ignore[no-untyped-def]
    n = np.uint64(supply.shape[1])
    z_count, r_count = np.uint64(supply.shape[0]), np.uint64(free.shape[0])
    for z in range(z_count):
        for i in range(n):
            sensed[z, i] = ZERO
        for r in range(r_count):
            for i in range(n):
                sensed[z, i] += sensor[z, r, i] * free[r, i]
    sweeps = 0
    change = tolerance_w + ONE
    while change > tolerance_w and sweeps < SWEEPS_MAX:
        change = ZERO
        for z in range(z_count):
            for i in range(n):
                w[i] = sensed[z, i]
            for z2 in range(z_count):
                if z2 != z:
                    for i in range(n):
                        w[i] += pull[m, z, z2, i] * supply[z2, i]
            for i in range(n):
                own = inv_own[m, z, i]
                up = (box[U2, z, i] - w[i]) * own
                down = (box[U3, z, i] - w[i]) * own
                q = up if up > ZERO else (down if down < ZERO else ZERO)
                top, low = box[U0, z, i], box[U1, z, i]
                q = top if q > top else q
                q = low if q < low else q
                w[N + i] = q
            worst = ZERO
            for i in range(n):
                d = w[N + i] - supply[z, i]
                d = d if d > ZERO else -d
                worst = d if d > worst else worst
                supply[z, i] = w[N + i]
            change = worst if worst > change else change
        sweeps += 1
        if z_count == 1:
            break
    return sweeps


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _modes(supply, lead, shared, sums, warm, mode, a_count, g_count):  # type: ignore[no-untyped-def]
    """Heat and cold asked of each outdoor unit, and which of the two it gives; the larger one is met."""
    n = np.uint64(supply.shape[1])
    for g in range(g_count):
        for i in range(n):
            sums[g, U0, i] = ZERO
            sums[g, U1, i] = ZERO
    for z in range(a_count):
        if shared:
            for i in range(n):
                q, k = supply[z, i], np.uint64(lead[z, i])
                sums[k, U0, i] += q if q >= LEAST_W else ZERO
                sums[k, U1, i] -= q if q <= -LEAST_W else ZERO
        else:
            for i in range(n):
                q = supply[z, i]
                sums[z, U0, i] = q if q >= LEAST_W else ZERO
                sums[z, U1, i] = -q if q <= -LEAST_W else ZERO
    for g in range(g_count):
        for i in range(n):
            warm[g, i] = np.uint32(1) if sums[g, U0, i] >= sums[g, U1, i] else np.uint32(0)
    for z in range(a_count):
        for i in range(n):
            mode[z, i] = warm[np.uint64(lead[z, i]), i] if shared else warm[z, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _asked(t, hours, supply, head, table, mode, least_k, loss_k, asked, sensible, w):  # type: ignore[no-untyped-def]
    """Output asked of each indoor unit: duct loss put back, sensible cooling turned into total."""
    n = np.uint64(asked.shape[1])
    n0, n1, n2, n3, n4 = U0, N, U2 * N, U3 * N, U4 * N
    for z in range(np.uint64(asked.shape[0])):
        largest = ZERO
        for i in range(n):
            q = supply[z, i] if supply[z, i] > ZERO else -supply[z, i]
            largest = q if q > largest else largest
        if largest < LEAST_W:
            for i in range(n):
                asked[z, i] = ZERO
                sensible[z, i] = ZERO
            continue
        for i in range(n):
            k = ((np.uint64(head[z, i]) * U2 + np.uint64(mode[z, i])) * hours + t) * U5
            w[n0 + i] = table[k]
            w[n1 + i] = table[k + U1]
            w[n2 + i] = table[k + U2]
            w[n3 + i] = table[k + U3]
            w[n4 + i] = table[k + U4]
        for i in range(n):
            w[n0 + i] = w[n0 + i] * least_k[i]
            w[n2 + i] = w[n2 + i] * least_k[i]
            w[n4 + i] = ONE - (ONE - w[n4 + i]) * loss_k[i]
        for i in range(n):
            q = supply[z, i]
            w[n4 + i] = (q if mode[z, i] == 1 else -q) / w[n4 + i] if (q >= LEAST_W or q <= -LEAST_W) else ZERO
        for i in range(n):
            q, least, low = w[n4 + i], w[n0 + i], w[n2 + i]
            span = w[n3 + i] - low
            span = span if span > SMALL else SMALL
            low_at = low if low > SMALL else SMALL
            under = q * least / low_at
            over = least + (q - low) / span * (w[n1 + i] - least)
            total = under if q <= low else over
            w[n0 + i] = total if q > ZERO else ZERO
            w[n1 + i] = q if q > ZERO else ZERO
        for i in range(n):
            asked[z, i] = w[n0 + i]
            sensible[z, i] = w[n1 + i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _moist(  # type: ignore[no-untyped-def]
    t, hours, lead, shared, outdoor, table, warm, least_k, runs_on, kept, asked, sensible, load, w
):
    """Cooling below the least output: a fan that runs on brings moisture back, so that less total is asked for."""
    n = np.uint64(asked.shape[1])
    g_count = np.uint64(outdoor.shape[0])
    n0, n1, n2 = U0, N, U2 * N
    last = (U3 + np.uint64(asked.shape[0])) * N
    for g in range(g_count):
        any_below = False
        for i in range(n):
            any_below = any_below or (warm[g, i] == 0 and load[g, i] > ZERO)
        if not any_below:
            continue
        any_below = False
        for i in range(n):
            k = ((np.uint64(outdoor[g, i]) * U2) * hours + t) * U7
            w[n0 + i] = table[k] * least_k[i]
        for i in range(n):
            below = warm[g, i] == 0 and load[g, i] > ZERO and load[g, i] < w[n0 + i]
            w[n1 + i] = ONE if below else ZERO
            any_below = any_below or below
        if not any_below:
            continue
        for z in range(np.uint64(asked.shape[0])):
            if not shared and z != g:
                continue
            for i in range(n):
                mine = lead[z, i] == g if shared else True
                wet = asked[z, i] - sensible[z, i]
                on = mine and w[n1 + i] > ZERO and asked[z, i] > ZERO
                w[(U3 + z) * N + i] = wet / asked[z, i] * runs_on[z, i] if on else ZERO
        for _ in range(LATENT_ROUNDS):
            for i in range(n):
                low = w[n0 + i] if w[n0 + i] > SMALL else SMALL
                x = load[g, i] / low
                f = (x if x < ONE else ONE) * KEPT_STEPS
                k = np.uint64(f)
                k = k if k < KEPT_LAST else KEPT_LAST
                w[n2 + i] = kept[k] + (f - np.float32(k)) * (kept[k + U1] - kept[k])
            for i in range(n):
                w[last + i] = load[g, i]
                load[g, i] = load[g, i] * (ONE - w[n1 + i])
            for z in range(np.uint64(asked.shape[0])):
                if not shared and z != g:
                    continue
                for i in range(n):
                    mine = lead[z, i] == g if shared else True
                    if mine and w[n1 + i] > ZERO:
                        share = w[(U3 + z) * N + i]
                        # without a fan that runs on the steady total stands
                        total = sensible[z, i] / (ONE - share * w[n2 + i]) if share > ZERO else asked[z, i]
                        asked[z, i] = total
                        load[g, i] += total
            moved = ZERO
            for i in range(n):
                d = load[g, i] - w[last + i]
                d = d if d > ZERO else -d
                moved = d if d > moved else moved
            if moved < HALF_W:
                break


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _power(  # type: ignore[no-untyped-def]
    t, hours, cold, outdoor, start_k, cap, table, warm, sums, load, run, place, least_k, loss_k, pause, day, w, v
):
    """Power, cycling and starts of each outdoor unit in one hour."""
    n = np.uint64(load.shape[1])
    n0, n1, n2, n3, n4, n5, n6, n7 = U0, N, U2 * N, U3 * N, U4 * N, U5 * N, U6 * N, U7 * N
    n8, n9, n10, n11 = U8 * N, U9 * N, U10 * N, U11 * N
    for g in range(np.uint64(outdoor.shape[0])):
        most_asked = ZERO
        for i in range(n):
            most_asked = load[g, i] if load[g, i] > most_asked else most_asked
        if most_asked <= ZERO:
            for i in range(n):
                run[g, i] = ZERO
                place[g, i] = ZERO
                day[g, U1, i] += ONE
                day[g, U2, i] += cold
            continue
        for i in range(n):
            k = ((np.uint64(outdoor[g, i]) * U2 + np.uint64(warm[g, i])) * hours + t) * U7
            w[n0 + i] = table[k]
            w[n1 + i] = table[k + U1]
            w[n2 + i] = table[k + U2]
            w[n3 + i] = table[k + U3]
            w[n4 + i] = table[k + U4]
            w[n5 + i] = table[k + U5]
            w[n6 + i] = table[k + U6]
        for i in range(n):
            w[n0 + i] = w[n0 + i] * least_k[i]
            w[n6 + i] = ONE - (ONE - w[n6 + i]) * loss_k[i]
            w[n7 + i] = load[g, i]
            w[n8 + i] = start_k[g, i]
            w[n9 + i] = pause[g, i]
        for i in range(n):
            heats = ONE if warm[g, i] == 1 else ZERO
            w[n10 + i] = heats
            w[n11 + i] = sums[g, U0, i] * heats + sums[g, U1, i] * (ONE - heats)
        for i in range(N):
            low, high, asked = w[n0 + i], w[n2 + i], w[n7 + i]
            mid = w[n1 + i] if w[n1 + i] > low else low
            c0, c1, c2 = w[n3 + i], w[n4 + i], w[n5 + i]
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
            scale = met / asked_at if asked > SMALL else ONE
            at_room = asked * w[n6 + i]
            runs = ONE if at_room > LEAST_W else ZERO
            most = w[n8 + i] * low * w[n6 + i]
            most = most if most < cap else cap
            span = high - low
            span_at = span if span > SMALL else SMALL
            o = (asked - low) / span_at
            o = o if o > ZERO else ZERO
            v[n0 + i] = met / (cop_at * loss) + (ONE - x) * below * w[n9 + i]
            v[n1 + i] = ONE - x
            v[n2 + i] = w[n11 + i] * scale
            v[n3 + i] = runs
            v[n4 + i] = runs * below
            v[n5 + i] = FOUR * most * x * (ONE - x) * below * runs
            v[n6 + i] = at_room
            v[n7 + i] = x
            v[n8 + i] = o if o < ONE else ONE
        for i in range(n):
            run[g, i] = v[n7 + i]
            place[g, i] = v[n8 + i]
        for i in range(n):
            day[g, U0, i] += v[n0 + i]
            day[g, U1, i] += v[n1 + i]
            day[g, U2, i] += v[n1 + i] * cold
        for i in range(n):
            day[g, U3, i] += v[n2 + i] * w[n10 + i]
            day[g, U4, i] += v[n2 + i] * (ONE - w[n10 + i])
        for i in range(n):
            day[g, U8, i] += v[n6 + i] * w[n10 + i]
            day[g, U9, i] += v[n6 + i] * (ONE - w[n10 + i])
        for i in range(n):
            day[g, U5, i] += v[n3 + i]
            day[g, U6, i] += v[n4 + i]
            day[g, U7, i] += v[n5 + i]

@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _places(  # type: ignore[no-untyped-def]
    t, hours, head, table, mode, lead, shared, run, least_k, asked, place, unit, w
):
    """Where each indoor unit stands in its own output range while it runs, and for what share of the hour."""
    n = np.uint64(asked.shape[1])
    n0, n1, n2 = U0, N, U2 * N
    for z in range(np.uint64(asked.shape[0])):
        most_asked = ZERO
        for i in range(n):
            most_asked = asked[z, i] if asked[z, i] > most_asked else most_asked
        if most_asked <= ZERO:
            for i in range(n):
                place[z, i] = ZERO
                unit[z, i] = ZERO
            continue
        for i in range(n):
            k = ((np.uint64(head[z, i]) * U2 + np.uint64(mode[z, i])) * hours + t) * U5
            w[n0 + i] = table[k]
            w[n1 + i] = table[k + U1]
        for i in range(n):
            w[n2 + i] = run[np.uint64(lead[z, i]), i] if shared else run[z, i]
        for i in range(n):
            least = w[n0 + i] * least_k[i]
            span = w[n1 + i] - least
            span = span if span > SMALL else SMALL
            x = w[n2 + i]
            f = (asked[z, i] / (x if x > SMALL else SMALL) - least) / span
            f = f if f > ZERO else ZERO
            w[n0 + i] = f if f < ONE else ONE
            w[n2 + i] = x if asked[z, i] > ZERO else ZERO
        for i in range(n):
            place[z, i] = w[n0 + i]
            unit[z, i] = w[n2 + i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _classes(clock, masks, place, asked, mode, hist):  # type: ignore[no-untyped-def]
    n = np.uint64(place.shape[1])
    for s in range(np.uint64(masks.shape[0])):
        if masks[s, clock]:
            for z in range(np.uint64(asked.shape[0])):
                for i in range(n):
                    if asked[z, i] > ZERO:
                        b = np.uint64(place[z, i] * CLASSES + np.float32(0.9999))
                        hist[s, np.uint64(mode[z, i]), z, b, i] += np.uint16(1)


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _sound(  # type: ignore[no-untyped-def]
    t, clock, ears, load, run, warm, place, unit, out_place, ear_turns, out_turns, w
):
    """Sound energy of all units at each bed and seat, and of all outdoor units outdoors, by night."""
    n = np.uint64(place.shape[1])
    ear_mask, ear_start, ear_zone, ear_curve, ear_gain, out_mask, out_start, out_curve, curves = ears
    days = np.uint64(out_turns.shape[0])
    day_h = np.uint64(24)
    for e in range(np.uint64(ear_mask.shape[0])):
        if ear_mask[e, clock]:
            d = ((t + days * day_h - np.uint64(ear_start[e])) // day_h) % days
            for i in range(n):
                w[i] = ZERO
            for p in range(np.uint64(ear_zone.shape[1])):
                for i in range(n):
                    z = np.uint64(ear_zone[e, p, i])
                    f = place[z, i] * STEPS
                    k = np.uint64(f)
                    k = k if k < LAST_STEP else LAST_STEP
                    part = f - np.float32(k)
                    c = np.uint64(ear_curve[e, p, i])
                    energy = curves[c, k] * (ONE - part) + curves[c, k + U1] * part
                    energy = energy * unit[z, i] * ear_gain[e, p, i]
                    w[i] += energy
            for i in range(n):
                ear_turns[e, d, i] += w[i]
    if out_mask[clock]:
        d = ((t + days * day_h - np.uint64(out_start)) // day_h) % days
        for g in range(np.uint64(load.shape[0]) - U1):
            for i in range(n):
                f = out_place[g, i] * STEPS
                k = np.uint64(f)
                k = k if k < LAST_STEP else LAST_STEP
                part = f - np.float32(k)
                c = np.uint64(out_curve[g, np.uint64(warm[g, i]), i])
                out_turns[d, i] += (curves[c, k] * (ONE - part) + curves[c, k + U1] * part) * run[g, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _move(m, reach, free, supply, e, air, mass):  # type: ignore[no-untyped-def]
    n = np.uint64(air.shape[1])
    for r in range(np.uint64(air.shape[0])):
        for i in range(n):
            air[r, i] = free[r, i]
        for z in range(np.uint64(supply.shape[0])):
            for i in range(n):
                air[r, i] += reach[m, z, r, i] * supply[z, i]
        e1, e2 = e[r, U0], e[r, U1]
        for i in range(n):
            mass[U0, r, i] = e1 * mass[U0, r, i] + (ONE - e1) * air[r, i]
            mass[U1, r, i] = e2 * mass[U1, r, i] + (ONE - e2) * air[r, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _rooms(clock, row, use, cold_under, hot_over, air, counts, watched):  # type: ignore[no-untyped-def]
    n = np.uint64(air.shape[1])
    for r in range(np.uint64(air.shape[0])):
        if use[r, clock]:
            low, high = cold_under[r], hot_over[r]
            for i in range(n):
                counts[r, U0, i] += ONE if air[r, i] < low else ZERO
                counts[r, U1, i] += ONE if air[r, i] > high else ZERO
        if row >= 0:
            for i in range(n):
                watched[np.uint64(row), r, i] = air[r, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _pool(lead, asked, load):  # type: ignore[no-untyped-def]
    n = np.uint64(load.shape[1])
    for g in range(np.uint64(load.shape[0])):
        for i in range(n):
            load[g, i] = ZERO
    for z in range(np.uint64(asked.shape[0])):
        for i in range(n):
            load[np.uint64(lead[z, i]), i] += asked[z, i]


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def _pauses(lead, shared, quiet_w, asked, pause):  # type: ignore[no-untyped-def]
    """Power of the fans that run on, in pauses, of each outdoor unit."""
    n = np.uint64(asked.shape[1])
    if shared:
        for g in range(np.uint64(pause.shape[0])):
            for i in range(n):
                pause[g, i] = ZERO
    for z in range(np.uint64(asked.shape[0])):
        if shared:
            for i in range(n):
                pause[np.uint64(lead[z, i]), i] += quiet_w[z, i] if asked[z, i] > ZERO else ZERO
        else:
            for i in range(n):
                pause[z, i] = quiet_w[z, i] if asked[z, i] > ZERO else ZERO


@numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")
def run_lanes(  # type: ignore[no-untyped-def]
    inverse, step, index, source, part, zones, limits, heads, groups, tables, ears, watch, out, numbers
):
    """Run all lanes through the year; returns the largest number of sweeps that an hour needed.

    inverse (M, R, R, 1 or 64); step: ca_dt (R,), c_e (R, 2), e (R, 2); index (H,); source (P, H, R); part (P, 64).
    zones: share, sensor, mix (Z, R, 64), profile (Z, 64). Indoor units come first, A of them.
    limits, flat (profiles, H, 4): heat limit, cool limit, heat set, cool set.
    heads: head row (A, 64), outdoor unit (A, 64; the number of outdoor units where it has none), whether any is
    shared (else outdoor unit k belongs to indoor unit k), factor of the least output (64,), of the duct loss (64,),
    1 where the fan runs on in pauses (A, 64), its power then (A, 64), latent share kept over the run share (129,).
    groups: outdoor row (G, 64), most starts an hour per watt of least output (G, 64), cap of the starts.
    tables, flat: heads (U, 2, H, 5) least, most, sensible at least, at most, delivered share; outdoor units
    (V, 2, H, 7) least, middle, most, COP at each, delivered share. Mode 1 heats, 0 cools.
    ears, watch, out, numbers: see `compare.search.lanes`.
    """
    share, sensor, mix, profile = zones
    n = np.uint64(share.shape[2])
    head, lead, shared, least_k, loss_k, runs_on, quiet_w, kept_frac = heads
    outdoor, start_k, cap = groups
    head_table, outdoor_table = tables
    watch_row, cold_hours, use, cold_under, hot_over = watch
    counts, watched, zone_sums, group_sums, ear_turns, out_turns, hist, masks = out
    tolerance_w, warmup = numbers
    m_count, r_count = np.uint64(inverse.shape[0]), np.uint64(inverse.shape[1])
    z_count, a_count, g_count = np.uint64(share.shape[0]), np.uint64(head.shape[0]), np.uint64(outdoor.shape[0])
    hours = np.uint64(index.shape[0])
    own = inverse.shape[3] > 1
    f4 = np.float32

    reach = np.zeros((m_count, z_count, r_count, N), f4)
    pull = np.zeros((m_count, z_count, z_count, N), f4)
    _reach(inverse, share, sensor, reach, pull)
    inv_own = np.zeros((m_count, z_count, N), f4)
    for m in range(m_count):
        for z in range(z_count):
            for i in range(n):
                if pull[m, z, z, i] > f4(1e-12):
                    inv_own[m, z, i] = ONE / pull[m, z, z, i]
    air, mass = np.full((r_count, N), f4(20.0), f4), np.full((U2, r_count, N), f4(20.0), f4)
    rhs, free = np.empty((r_count, N), f4), np.empty((r_count, N), f4)
    supply, sensed = np.zeros((z_count, N), f4), np.empty((z_count, N), f4)
    box = np.empty((U4, z_count, N), f4)
    w, v = np.zeros((np.uint64(16) + a_count) * N, f4), np.zeros(np.uint64(16) * N, f4)
    has_mix, mix_sum = np.zeros(z_count, np.uint8), np.zeros((z_count, N), f4)
    for z in range(z_count):
        for i in range(n):
            for r in range(r_count):
                mix_sum[z, i] += mix[z, r, i]
            if mix_sum[z, i] > ZERO:
                has_mix[z] = 1
                mix_sum[z, i] = ONE / mix_sum[z, i]
    mixing = (mix, mix_sum, has_mix)
    asked, mode = np.zeros((a_count, N), f4), np.zeros((a_count, N), np.uint32)
    sensible, pause = np.zeros((a_count, N), f4), np.zeros((g_count + U1, N), f4)
    place, unit = np.zeros((a_count + U1, N), f4), np.zeros((a_count + U1, N), f4)
    load, sums = np.zeros((g_count + U1, N), f4), np.zeros((g_count + U1, U2, N), f4)
    warm, run = np.zeros((g_count + U1, N), np.uint32), np.zeros((g_count + U1, N), f4)
    out_place = np.zeros((g_count + U1, N), f4)
    day, day_zone = np.zeros((g_count, GROUP_SUMS, N), f4), np.zeros((z_count, U2, N), f4)

    most = 0
    for count in range(hours + np.uint64(warmup)):
        kept = count >= np.uint64(warmup)
        t = count - np.uint64(warmup) if kept else hours + count - np.uint64(warmup)
        now, clock = np.uint64(index[t]), t % np.uint64(24)
        _free(t, now, inverse, step[0], step[1], source, part, mixing, air, mass, supply, rhs, free, w)
        _box(t, limits, profile, head, head_table, hours, loss_k, own, a_count, box)
        sweeps = _settle(now, sensor, free, pull, inv_own, box, supply, sensed, w, tolerance_w)
        most = sweeps if sweeps > most else most
        _move(now, reach, free, supply, step[2], air, mass)
        if not kept:
            continue
        _rooms(clock, watch_row[t], use, cold_under, hot_over, air, counts, watched)
        for z in range(z_count):
            for i in range(n):
                q = supply[z, i]
                day_zone[z, U0, i] += q if q > ZERO else ZERO
                day_zone[z, U1, i] -= q if q < ZERO else ZERO
        _modes(supply, lead, shared, sums, warm, mode, a_count, g_count + U1 if shared else g_count)
        _asked(t, hours, supply, head, head_table, mode, least_k, loss_k, asked, sensible, w)
        if shared:
            _pool(lead, asked, load)
        else:
            for z in range(a_count):
                for i in range(n):
                    load[z, i] = asked[z, i]
        _moist(
            t, hours, lead, shared, outdoor, outdoor_table, warm, least_k, runs_on, kept_frac, asked, sensible,
            load, w,
        )  # fmt: skip
        _pauses(lead, shared, quiet_w, asked, pause)
        _power(
            t, hours, cold_hours[t], outdoor, start_k, cap, outdoor_table, warm, sums, load, run, out_place, least_k,
            loss_k, pause, day, w, v,
        )  # fmt: skip
        _places(t, hours, head, head_table, mode, lead, shared, run, least_k, asked, place, unit, w)
        _classes(clock, masks, place, asked, mode, hist)
        _sound(t, clock, ears, load, run, warm, place, unit, out_place, ear_turns, out_turns, w)
        if clock == 23:
            for g in range(g_count):
                for c in range(np.uint64(GROUP_SUMS)):
                    for i in range(n):
                        group_sums[g, c, i] += day[g, c, i]
                        day[g, c, i] = ZERO
            for z in range(z_count):
                for k in range(U2):
                    for i in range(n):
                        zone_sums[z, k, i] += day_zone[z, k, i]
                        day_zone[z, k, i] = ZERO
    return most
