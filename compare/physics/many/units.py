"""Indoor and outdoor units of one lane, over one chunk: hours in the last axis, every series a row of one workspace."""

from __future__ import annotations

import numpy as np

from compare.physics.many.heard import classes, hear, hear_outdoors, place, stand
from compare.physics.many.moisture import dry
from compare.physics.many.numbers import FOUR, LARGE, ONE, SMALL, U0, U1, U2, U3, U4, U5, U6, U7, U8, ZERO, N, T
from compare.physics.many.part import part
from compare.physics.many.rows import (
    ASKED,
    COOL,
    FELT_LEAST,
    FELT_MOST,
    FIRST,
    HEAT,
    LEAST,
    LEAST_COLD,
    LEAST_WARM,
    LOAD,
    MOST,
    MOST_COLD,
    MOST_WARM,
    OWN_ROWS,
    PAUSE,
    PER_COLD,
    PER_FELT,
    PER_WARM,
    REACH,
    REACH_COLD,
    REACH_WARM,
    RUN,
    SENSIBLE,
    UNIT_ROWS,
    WARM,
)
from compare.physics.many.sizes import GROUP_SUMS

LEAST_W = np.float32(1.0)
"""Less is not asked for."""
DEGRADATION = np.float32(0.25)
"""Loss of a cycling unit at no run at all."""


@part
def add_up(given, i, zone_sums):  # type: ignore[no-untyped-def]
    """Heat and cold of every supply of a lane."""
    for z in range(np.uint64(zone_sums.shape[0])):
        q0, up, down = (z * N + i) * T, ZERO, ZERO
        for t in range(T):
            x = given[q0 + t]
            up += x if x > ZERO else ZERO
            down -= x if x < ZERO else ZERO
        zone_sums[z, U0, i] += up
        zone_sums[z, U1, i] += down


@part
def add_asked(given, q0, w, keep):  # type: ignore[no-untyped-def]
    """What the rooms ask of an outdoor unit, one indoor unit after the other; `keep` is 0 for the first."""
    for t in range(T):
        x = given[q0 + t]
        w[HEAT + t] = keep * w[HEAT + t] + (x if x >= LEAST_W else ZERO)
        w[COOL + t] = keep * w[COOL + t] - (x if x <= -LEAST_W else ZERO)


@part
def modes(w):  # type: ignore[no-untyped-def]
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


@part
def heating(given, q0, w, z0, unit, u0, shares, keep, again):  # type: ignore[no-untyped-def]
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


@part
def cooling(given, q0, w, z0, unit, u0, shares, keep, again):  # type: ignore[no-untyped-def]
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


@part
def power(w, m, machine, m0, cold, t0, least_k, start_k, cap, keep, slot, sums):  # type: ignore[no-untyped-def]
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
        stand(w, slot, t, place, x)
    sums[U0] += power
    sums[U1] += runs_sum
    sums[U2] += cold_runs
    sums[U3 + m] += given_sum
    sums[U5] += running
    sums[U6] += below_sum
    sums[U7] += starts
    sums[U8 + m] += at_sum


@part
def ask(given, i, g, w, unit, units, both):  # type: ignore[no-untyped-def]
    """All indoor units of an outdoor unit: their hours of heating, then those of cooling."""
    profile, lead, weight, _, quiet_w, least_k, unit_count = units
    keep = ZERO
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            z0, q0, u0 = z * OWN_ROWS + FIRST, (z * N + i) * T, np.uint64(profile[z, i]) * UNIT_ROWS * T
            shares, again = (least_k[i], weight[z, i], quiet_w[z, i]), ZERO
            if both != U2:
                heating(given, q0, w, z0, unit, u0, shares, keep, again)
                keep, again = ONE, ONE
            if both != U1:
                cooling(given, q0, w, z0, unit, u0, shares, keep, again)
                keep = ONE


@part
def outdoor(  # type: ignore[no-untyped-def]
    given, i, g, t0, w, slot, unit, machine, cold, units, groups, kept, spans, span_count, sound, out_rows,
    heard, sums,
):  # fmt: skip
    """One outdoor unit of one lane over a chunk; whether it ran at all."""
    lead, least_k, unit_count = units[1], units[5], units[6]
    place, start_k, cap = groups
    keep = ZERO
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            add_asked(given, (z * N + i) * T, w, keep)
            keep = ONE
    both, m0 = modes(w), np.uint64(place[g, i]) * (U2 * U6 * T)
    if both == U0:
        return False
    ask(given, i, g, w, unit, units, both)
    if both != U1:
        dry(i, g, w, machine, m0 + U6 * T, units, kept)
    keep = ZERO
    night, ears, energy = np.uint64(span_count.shape[0]) - U1, sound[2], sound[3]
    for c in range(np.uint64(GROUP_SUMS)):
        sums[c] = ZERO
    for m in range(U2):
        if both != U2 - m:
            power(w, m, machine, m0 + m * (U6 * T), cold, t0, least_k[i], start_k[g, i], cap, keep, slot, sums)
            q = np.uint64(out_rows[g, i, U1 - m])
            hear_outdoors(w, slot, spans, night, span_count[night], energy, q, np.uint64(ears[q, U0]), i, heard)
            keep = ONE
    return True


@part
def indoor(i, g, w, slot, units, spans, span_count, zone_of, gain_of, sound, heard, hist):  # type: ignore[no-untyped-def]
    """Where the units of one outdoor unit stand in their ranges, and what is heard of them."""
    lead, unit_count = units[1], units[6]
    first_of, set_of, ears, energy = sound
    for z in range(np.uint64(unit_count[i])):
        if lead[z, i] == g:
            kind = np.uint64(zone_of[z, i])
            place(w, z * OWN_ROWS + FIRST, slot)
            done = np.uint64(span_count.shape[0])
            for q in range(np.uint64(first_of[kind]), np.uint64(first_of[kind + U1])):
                s = np.uint64(set_of[q])
                if s != done:
                    classes(slot, spans, s, span_count[s], i, z, hist)
                hear(w, slot, spans, s, span_count[s], energy, q, ears, gain_of[z, i], i, heard)
                done = s
