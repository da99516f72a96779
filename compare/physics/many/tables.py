"""What all lanes share, over one chunk of hours: supplies, and outdoor units with the fans of their indoor units."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import (
    LARGE,
    ONE,
    SMALL,
    TWO,
    U0,
    U1,
    U2,
    U3,
    U4,
    U5,
    U6,
    U7,
    U8,
    U9,
    U10,
    U11,
    U12,
    U13,
    ZERO,
    T,
)
from compare.physics.many.part import part
from compare.physics.many.rows import (
    BOTTOM,
    FELT_LEAST,
    FELT_MOST,
    LEAST_COLD,
    LEAST_WARM,
    MOST_COLD,
    MOST_WARM,
    PER_COLD,
    PER_FELT,
    PER_WARM,
    REACH_COLD,
    REACH_WARM,
    TOP,
    UNIT_ROWS,
)
from compare.physics.many.sizes import FLAT, SERIES, SHARED

LEAST_REACH = np.float32(0.05)
"""Least share of an output that reaches the rooms."""


@part
def reached(a, b, c, outdoor_c, sun):  # type: ignore[no-untyped-def]
    """Share of an output that reaches the rooms through its ducts."""
    d = a + b * outdoor_c + c * sun
    d = d if d > LEAST_REACH else LEAST_REACH
    return d if d < ONE else ONE


@part
def fanned(base, watts):  # type: ignore[no-untyped-def]
    """An output with the difference of its fan; 0 stays 0."""
    value = base + watts if base > ZERO else ZERO
    return value if value > ZERO else ZERO


@part
def sensible(total, flow, base, slope, least):  # type: ignore[no-untyped-def]
    """Sensible part of a total cooling output."""
    value = base * total + slope * flow
    low = least * total
    value = value if value > low else low
    return value if value < total else total


@part
def unit_rows(k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law, unit):  # type: ignore[no-untyped-def]
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
        warm = ONE - (ONE - reached(a, b, ZERO, outdoor_c[h], sun[h])) * loss
        cold = ONE - (ONE - reached(ac, bc, cc, outdoor_c[h], sun[h])) * loss
        most_warm, most = fanned(pair[row, U1, h], fan_high), fanned(pair[row, U3, h], -fan_high)
        low = fanned(pair[row, U2, h], -fan_low)
        low = low if low > ONE else ONE
        high = most if most > TWO else TWO
        felt_low = sensible(low, quiet, base, slope, law_least)
        unit[u0 + REACH_WARM + t] = warm
        unit[u0 + PER_WARM + t] = ONE / warm
        unit[u0 + LEAST_WARM + t] = fanned(pair[row, U0, h], fan_low)
        unit[u0 + MOST_WARM + t] = most_warm
        unit[u0 + REACH_COLD + t] = cold
        unit[u0 + PER_COLD + t] = ONE / cold
        unit[u0 + LEAST_COLD + t] = low
        unit[u0 + MOST_COLD + t] = high
        unit[u0 + FELT_LEAST + t] = felt_low
        unit[u0 + FELT_MOST + t] = sensible(high, full, base, slope, law_least)
        unit[u0 + PER_FELT + t] = low / felt_low
        unit[u0 + TOP + t] = most_warm * warm
    for t in range(T):
        most = fanned(pair[row, U3, t0 + t], -fan_high)
        at_least = most if most > ONE else ONE
        unit[u0 + BOTTOM + t] = most * (sensible(at_least, full, base, slope, law_least) / at_least)
    if shared:
        part, part_c = numbers[k, U11], numbers[k, U12]
        for t in range(T):
            most = fanned(pair[row, U3, t0 + t], -fan_high)
            at_least = most if most > ONE else ONE
            share = sensible(at_least, full, base, slope, law_least) / at_least
            top = whole[out, U0, U2, t0 + t] * part * unit[u0 + REACH_WARM + t]
            low = whole[out, U1, U2, t0 + t] * part_c * share
            heat, cool = unit[u0 + TOP + t], unit[u0 + BOTTOM + t]
            unit[u0 + TOP + t] = heat if heat < top else top
            unit[u0 + BOTTOM + t] = cool if cool < low else low
    for t in range(T):
        unit[u0 + BOTTOM + t] *= unit[u0 + REACH_COLD + t]


@part
def supply_rows(t0, weather, tables, profiles, unit, limits):  # type: ignore[no-untyped-def]
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
            unit_rows(k, numbers, kinds, t0, outdoor_c, sun, pair, whole, law, unit)
        for t in range(T):
            limits[t, U2 * k] = unit[u0 + TOP + t]
            limits[t, U2 * k + U1] = -unit[u0 + BOTTOM + t]


@part
def machine_rows(t0, whole, rows, fans, machine):  # type: ignore[no-untyped-def]
    """Outdoor units with the fans of their indoor units: least, middle and most output and the COP at each."""
    for o in range(np.uint64(rows.shape[0])):
        row = np.uint64(rows[o])
        for m in range(U2):
            m0 = (o * U2 + m) * U6 * T
            for k in range(U6):
                fan = fans[o, U0] if k in (U0, U3) else fans[o, U1]
                fan = -fan if m == U1 and k < U3 else fan
                for t in range(T):
                    machine[m0 + k * T + t] = fanned(whole[row, m, k, t0 + t], fan)
            for k in range(U3):
                for t in range(T):
                    power = machine[m0 + (k + U3) * T + t]
                    machine[m0 + (k + U3) * T + t] = machine[m0 + k * T + t] / (power if power > SMALL else LARGE)
