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
    U14,
    ZERO,
    T,
)
from compare.physics.many.part import part
from compare.physics.many.rows import (
    BOTTOM,
    COP_LOW,
    COP_MIDDLE,
    FELT_LEAST,
    HIGH,
    LEAST_COLD,
    LEAST_WARM,
    LOW,
    MACHINE_ROWS,
    MIDDLE,
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
    loss, least_k = numbers[k, U13], numbers[k, U14]
    base, slope, law_least = law[U0], law[U1], law[U2]
    u0 = k * UNIT_ROWS
    row, out, shared = np.uint64(kinds[k, U1]), np.uint64(kinds[k, U2]), kinds[k, U0] == SHARED
    for t in range(T):
        h = t0 + t
        warm = ONE - (ONE - reached(a, b, ZERO, outdoor_c[h], sun[h])) * loss
        least = fanned(pair[row, U0, h], fan_low) * least_k
        most = fanned(pair[row, U1, h], fan_high)
        span = most - least
        unit[u0 + REACH_WARM + t] = warm
        unit[u0 + PER_WARM + t] = ONE / warm
        unit[u0 + LEAST_WARM + t] = least
        unit[u0 + PER_RANGE_WARM + t] = ONE / (span if span > SMALL else SMALL)
        unit[u0 + TOP + t] = most * warm
    for t in range(T):
        h = t0 + t
        cold = ONE - (ONE - reached(ac, bc, cc, outdoor_c[h], sun[h])) * loss
        low, high = fanned(pair[row, U2, h], -fan_low), fanned(pair[row, U3, h], -fan_high)
        low, high = low if low > ONE else ONE, high if high > TWO else TWO
        felt_low, felt_high = sensible(low, quiet, base, slope, law_least), sensible(high, full, base, slope, law_least)
        per_felt = low / felt_low
        low, felt_low = low * least_k, felt_low * least_k
        span, felt_span = high - low, felt_high - felt_low
        unit[u0 + REACH_COLD + t] = cold
        unit[u0 + PER_COLD + t] = ONE / cold
        unit[u0 + LEAST_COLD + t] = low
        unit[u0 + PER_RANGE_COLD + t] = ONE / (span if span > SMALL else SMALL)
        unit[u0 + FELT_LEAST + t] = felt_low
        unit[u0 + PER_FELT + t] = per_felt
        unit[u0 + PER_MORE + t] = span / (felt_span if felt_span > SMALL else SMALL)
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
def supply_rows(t0, weather, tables, profiles, unit):  # type: ignore[no-untyped-def]
    """All supplies of the block over one chunk."""
    outdoor_c, sun = weather
    pair, whole, series = tables
    numbers, kinds, law = profiles
    for k in range(np.uint64(numbers.shape[0])):
        kind, row, u0 = kinds[k, U0], np.uint64(kinds[k, U1]), k * UNIT_ROWS
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
            unit[u0 + BOTTOM + t] = -unit[u0 + BOTTOM + t]


@part
def per_power(output, watts):  # type: ignore[no-untyped-def]
    """COP; 0 where nothing is used."""
    return output / (watts if watts > SMALL else LARGE)


@part
def machine_rows(t0, whole, rows, fans, machine):  # type: ignore[no-untyped-def]
    """Outdoor units with the fans of their indoor units, and a factor of their least output."""
    for o in range(np.uint64(rows.shape[0])):
        row, least_k = np.uint64(rows[o]), fans[o, U2]
        for m in range(U2):
            m0 = (o * U2 + m) * MACHINE_ROWS
            used_low, used_high = fans[o, U0], fans[o, U1]
            given_low, given_high = (-used_low, -used_high) if m == U1 else (used_low, used_high)
            for t in range(T):
                h = t0 + t
                low, middle = fanned(whole[row, m, U0, h], given_low), fanned(whole[row, m, U1, h], given_high)
                high = fanned(whole[row, m, U2, h], given_high)
                cop_low = per_power(low, fanned(whole[row, m, U3, h], used_low))
                cop_middle = per_power(middle, fanned(whole[row, m, U4, h], used_high))
                cop_high = per_power(high, fanned(whole[row, m, U5, h], used_high))
                low = low * least_k
                middle = middle if middle > low else low
                first, second, span = middle - low, high - middle, high - low
                machine[m0 + LOW + t] = low
                machine[m0 + MIDDLE + t] = middle
                machine[m0 + HIGH + t] = high
                machine[m0 + PER_LOW + t] = ONE / (low if low > SMALL else SMALL)
                machine[m0 + PER_SPAN + t] = ONE / (span if span > SMALL else SMALL)
                machine[m0 + COP_LOW + t] = cop_low
                machine[m0 + SLOPE_LOW + t] = (cop_middle - cop_low) / (first if first > SMALL else LARGE)
                machine[m0 + COP_MIDDLE + t] = cop_middle
                machine[m0 + SLOPE_MIDDLE + t] = (cop_high - cop_middle) / (second if second > SMALL else LARGE)
