"""Indoor and outdoor units of one lane over one chunk: sixteen hours in one name."""

from __future__ import annotations

import numpy as np

from compare.physics.many.heard import at_rest, classes, hear, place, stand, unplaced
from compare.physics.many.moisture import dry
from compare.physics.many.numbers import (
    FOUR,
    ONE,
    QUARTER,
    SMALL,
    U0,
    U1,
    U2,
    ZERO,
    N,
    T,
    V,
)
from compare.physics.many.part import part
from compare.physics.many.rows import (
    ASKED,
    COP_LOW,
    COP_MIDDLE,
    FELT,
    FELT_LEAST,
    HIGH,
    LEAST_COLD,
    LEAST_WARM,
    LOW,
    MACHINE_ROWS,
    MIDDLE,
    OWN_ROWS,
    PER_COLD,
    PER_FELT,
    PER_LOW,
    PER_MORE,
    PER_RANGE_COLD,
    PER_RANGE_WARM,
    PER_SPAN,
    PER_WARM,
    REACH_COLD,
    REACH_WARM,
    SLOPE_LOW,
    SLOPE_MIDDLE,
    UNIT_ROWS,
)
from compare.physics.many.sizes import GROUP_SUMS
from compare.physics.many.vector_calls import any_of, larger, load16, pick, smaller, spread16, store, total

LEAST_W = np.float32(1.0)
"""Less is not asked for."""
DEGRADATION = QUARTER
"""Loss of a cycling unit at no run at all."""


@part
def hang(lead, unit_count, group_count, members, firsts):  # type: ignore[no-untyped-def]
    """Indoor units of each lane by their outdoor unit, and where each outdoor unit's begin."""
    for i in range(N):
        n = U0
        for g in range(np.uint64(group_count[i])):
            firsts[i, g] = n
            for z in range(np.uint64(unit_count[i])):
                if lead[z, i] == g:
                    members[i, n] = z
                    n += U1
            firsts[i, g + U1] = n


@part
def add_up(given, i, a_count, rest_sums):  # type: ignore[no-untyped-def]
    """Heat and cold of every supply of a lane that is no unit."""
    for k in range(np.uint64(rest_sums.shape[0])):
        q0, up, down = ((a_count + k) * N + i) * T, spread16(ZERO), spread16(ZERO)
        for t in range(U0, T, V):
            x = load16(given, q0 + t)
            up += larger(x, ZERO)
            down -= smaller(x, ZERO)
        rest_sums[k, U0, i] += total(up)
        rest_sums[k, U1, i] += total(down)


@part
def add_to(sums, at, more):  # type: ignore[no-untyped-def]
    """Add to a sum, hour by hour of a piece."""
    store(sums, at, load16(sums, at) + more)


@part
def empty(sums, lanes, group_count, group_sums):  # type: ignore[no-untyped-def]
    """Sums of all outdoor units so far, added up in double precision; of their running, what they are less at rest."""
    g_count = np.uint64(group_sums.shape[0])
    for i in range(lanes):
        for g in range(np.uint64(group_count[i])):
            for k in range(np.uint64(GROUP_SUMS)):
                at = ((i * g_count + g) * np.uint64(GROUP_SUMS) + k) * V
                more = np.float64(total(load16(sums, at)))
                group_sums[g, k, i] += -more if k in (U1, U2) else more
                store(sums, at, spread16(ZERO))


@part
def at_rest_all(cold, hours, lanes, group_count, group_sums):  # type: ignore[no-untyped-def]
    """All hours of the year, and those in cold, of which units run some."""
    cold_hours = 0.0
    for t in range(hours):
        cold_hours += np.float64(cold[t])
    for i in range(lanes):
        for g in range(np.uint64(group_count[i])):
            group_sums[g, U1, i] += np.float64(hours)
            group_sums[g, U2, i] += cold_hours


@part
def asked(given, i, t, members, n0, n1):  # type: ignore[no-untyped-def]
    """Heat and cold that the rooms ask of an outdoor unit."""
    heat, cool = spread16(ZERO), spread16(ZERO)
    for n in range(n0, n1):
        x = load16(given, (np.uint64(members[i, n]) * N + i) * T + t)
        heat += pick(x >= LEAST_W, x, ZERO)
        cool -= pick(x <= -LEAST_W, x, ZERO)
    return heat, cool


@part
def heating(given, i, t, on, members, n0, n1, unit, units, w):  # type: ignore[no-untyped-def]
    """Hours of heating: load, share of it that reaches the rooms, and power of fans in pauses."""
    profile, weight, _, quiet_w = units
    load, reach, pause = spread16(ZERO), spread16(ZERO), spread16(ZERO)
    for n in range(n0, n1):
        z = np.uint64(members[i, n])
        q, u = load16(given, (z * N + i) * T + t), np.uint64(profile[z, i]) * UNIT_ROWS + t
        x = pick(on & (q >= LEAST_W), q * load16(unit, u + PER_WARM), ZERO)
        store(w, z * OWN_ROWS + ASKED, x)
        load += x
        reach += load16(unit, u + REACH_WARM) * weight[z, i]
        pause += pick(x > ZERO, spread16(quiet_w[z, i]), ZERO)
    return load, reach, pause


@part
def cooling(given, i, t, on, members, n0, n1, unit, units, w):  # type: ignore[no-untyped-def]
    """Hours of cooling, in total outputs for sensible ones: load, share that reaches the rooms, fans in pauses."""
    profile, weight, _, quiet_w = units
    load, reach, pause = spread16(ZERO), spread16(ZERO), spread16(ZERO)
    for n in range(n0, n1):
        z = np.uint64(members[i, n])
        q, u = load16(given, (z * N + i) * T + t), np.uint64(profile[z, i]) * UNIT_ROWS + t
        felt = pick(on & (q <= -LEAST_W), ZERO - q * load16(unit, u + PER_COLD), ZERO)
        low = load16(unit, u + FELT_LEAST)
        more = load16(unit, u + LEAST_COLD) + (felt - low) * load16(unit, u + PER_MORE)
        x = pick(felt <= low, felt * load16(unit, u + PER_FELT), more)
        store(w, z * OWN_ROWS + ASKED, pick(on, x, load16(w, z * OWN_ROWS + ASKED)))
        store(w, z * OWN_ROWS + FELT, felt)
        load += x
        reach += load16(unit, u + REACH_COLD) * weight[z, i]
        pause += pick(x > ZERO, spread16(quiet_w[z, i]), ZERO)
    return load, reach, pause


@part
def run(machine, m, load, reach, pause, wanted, start_k, cap):  # type: ignore[no-untyped-def]
    """An outdoor unit under a load: share of the hour that it runs, one over it, place in its range; and its sums.

    They are power, given to the rooms, whether it runs, whether below its least output, starts, given at the unit.
    """
    low, middle, high = load16(machine, m + LOW), load16(machine, m + MIDDLE), load16(machine, m + HIGH)
    met = smaller(load, high)
    x = smaller(met * load16(machine, m + PER_LOW), ONE)
    far = smaller(larger((load - low) * load16(machine, m + PER_SPAN), ZERO), ONE)
    lower = met <= middle
    slope = pick(lower, load16(machine, m + SLOPE_LOW), load16(machine, m + SLOPE_MIDDLE))
    cop = pick(lower, load16(machine, m + COP_LOW), load16(machine, m + COP_MIDDLE))
    cop += (larger(met, low) - pick(lower, low, middle)) * slope
    works = cop > SMALL
    cop = larger(cop * (x * DEGRADATION + (ONE - DEGRADATION)), SMALL)
    x_at, load_at = larger(x, SMALL), larger(load, SMALL)
    over = ONE / (cop * x_at * load_at)
    power = pick(works, met * (over * x_at * load_at), ZERO) + (ONE - x) * pause
    given = pick(load > SMALL, wanted * met * (over * cop * x_at), wanted)
    at_room = load * reach
    running = pick(at_room > LEAST_W, spread16(ONE), ZERO)
    below = pick(met < low, running, ZERO)
    most = smaller(low * reach * start_k, cap)
    starts = most * x * (ONE - x) * running * FOUR
    return x, over * cop * load_at, far, (power, given, running, below, starts, at_room)


@part
def measured(  # type: ignore[no-untyped-def]
    given, i, g, t0, work, unit, machine, cold, hung, units, groups, kept, sums, first_sum, n0, n1
):  # fmt: skip
    """One outdoor unit of one lane over a chunk; a bit for every piece in which it heats, and in which it cools."""
    w, noise, slot, bins, turns = work
    place_of, start_k, cap = groups
    members = hung[0]
    m0, outside = np.uint64(place_of[g, i]) * (U2 * MACHINE_ROWS), np.uint64(members.shape[1])
    none = spread16(ZERO)
    power, ran, ran_cold, heat_sum, cool_sum = none, none, none, none, none
    running, below, starts, heat_at, cool_at = none, none, none, none, none
    heating_in, cooling_in, bit = U0, U0, U1
    for t in range(U0, T, V):
        heat, cool = asked(given, i, t, members, n0, n1)
        warm, chilled = (heat >= cool) & (heat > ZERO), cool > heat
        heats, cools, x, per_x = any_of(warm), any_of(chilled), none, none
        chill = load16(cold, t0 + t)
        if heats:
            heating_in |= bit
            load, reach, pause = heating(given, i, t, warm, members, n0, n1, unit, units, w)
            x, per_x, far, of = run(machine, m0 + t, load, reach, pause, pick(warm, heat, ZERO), start_k[g, i], cap)
            stand(noise, slot, outside, t, far, x)
            power, ran, ran_cold, heat_sum = power + of[0], ran + x, ran_cold + x * chill, heat_sum + of[1]
            running, below, starts, heat_at = running + of[2], below + of[3], starts + of[4], heat_at + of[5]
        else:
            at_rest(noise, outside, t)
        if cools:
            cooling_in |= bit
            load, reach, pause = cooling(given, i, t, chilled, members, n0, n1, unit, units, w)
            m = m0 + MACHINE_ROWS + t
            load = dry(i, load, load16(machine, m + LOW), load16(machine, m + PER_LOW), members, n0, n1, units, kept, w)
            x_cold, per_cold, far, of = run(
                machine, m, load, reach, pause, pick(chilled, cool, ZERO), start_k[g, i], cap
            )
            stand(noise, slot, outside + U1, t, far, x_cold)
            power, ran, ran_cold, cool_sum = power + of[0], ran + x_cold, ran_cold + x_cold * chill, cool_sum + of[1]
            running, below, starts, cool_at = running + of[2], below + of[3], starts + of[4], cool_at + of[5]
            x, per_x = x + x_cold, pick(chilled, per_cold, per_x)
        else:
            at_rest(noise, outside + U1, t)
        for n in range(n0, n1):
            z = np.uint64(members[i, n])
            if heats or cools:
                u = np.uint64(units[0][z, i]) * UNIT_ROWS + t
                low = pick(warm, load16(unit, u + LEAST_WARM), load16(unit, u + LEAST_COLD))
                per_range = pick(warm, load16(unit, u + PER_RANGE_WARM), load16(unit, u + PER_RANGE_COLD))
                place(load16(w, z * OWN_ROWS + ASKED), x, per_x, low, per_range, warm, noise, slot, bins, turns, z, t)
            else:
                at_rest(noise, z, t)
                unplaced(bins, turns, z, t)
        bit += bit
    for k, more in enumerate((power, ran, ran_cold, heat_sum, cool_sum, running, below, starts, heat_at, cool_at)):
        add_to(sums, first_sum + np.uint64(k) * V, more)
    return heating_in, cooling_in


@part
def outdoor(given, i, g, t0, work, unit, machine, cold, hung, units, groups, kept, sums, first_sum):  # type: ignore[no-untyped-def]
    """The same; code without loops over its indoor units where it has but one."""
    n0, n1 = np.uint64(hung[1][i, g]), np.uint64(hung[1][i, g + U1])
    if n1 - n0 == U1:
        return measured(
            given, i, g, t0, work, unit, machine, cold, hung, units, groups, kept, sums, first_sum, n0, n0 + U1
        )  # fmt: skip
    return measured(given, i, g, t0, work, unit, machine, cold, hung, units, groups, kept, sums, first_sum, n0, n1)


@part
def listen(i, g, heats, cools, noise, slot, bins, hung, spans, span_count, ears, out_rows, heard, hist):  # type: ignore[no-untyped-def]
    """What is heard of an outdoor unit and of its indoor units, and how often those stand where in their ranges."""
    zone_of, gain_of, first_of, set_of, ears_of, energy = ears
    members, firsts = hung
    outside, night = np.uint64(members.shape[1]), np.uint64(span_count.shape[0]) - U1
    for m in range(U2):
        busy, own = cools if m else heats, np.uint64(out_rows[g, i, U1 - m])
        hear(noise, slot, outside + m, busy, spans, night, span_count[night], energy, own, ears_of, ONE, i, heard)
    for n in range(np.uint64(firsts[i, g]), np.uint64(firsts[i, g + U1])):
        z = np.uint64(members[i, n])
        kind, done = np.uint64(zone_of[z, i]), np.uint64(span_count.shape[0])
        for q in range(np.uint64(first_of[kind]), np.uint64(first_of[kind + U1])):
            s = np.uint64(set_of[q])
            if s != done:
                classes(bins, heats | cools, spans, s, span_count[s], i, z, hist)
            hear(noise, slot, z, heats | cools, spans, s, span_count[s], energy, q, ears_of, gain_of[z, i], i, heard)
            done = s
