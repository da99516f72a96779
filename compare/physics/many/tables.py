"""What all lanes share, over one chunk of hours: supplies, and outdoor units with the fans of their indoor units."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import (
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
    V,
)
from compare.physics.many.part import part
from compare.physics.many.rows import (
    BOTTOM,
    COP_LOW,
    COP_MIDDLE,
    FELT_LEAST,
    FELT_SHARE,
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
from compare.physics.many.vector_calls import larger, load16, pick, smaller, spread16, store

LEAST_REACH = np.float32(0.05)
"""Least share of an output that reaches the rooms."""


@part
def reached(a, b, c, outdoor_c, sun):  # type: ignore[no-untyped-def]
    """Share of an output that reaches the rooms through its ducts."""
    return smaller(larger(outdoor_c * b + sun * c + a, LEAST_REACH), ONE)


@part
def fanned(base, watts):  # type: ignore[no-untyped-def]
    """An output with the difference of its fan; 0 stays 0."""
    return pick(base > ZERO, larger(base + watts, ZERO), ZERO)


@part
def sensible(total, flow, law):  # type: ignore[no-untyped-def]
    """Sensible part of a total cooling output."""
    return smaller(larger(total * law[U0] + law[U1] * flow, total * law[U2]), total)


@part
def warm_rows(k, numbers, least_at, most_at, t0, weather, pair, unit):  # type: ignore[no-untyped-def]
    """An indoor unit that heats over the chunk, and the most that it brings to its rooms."""
    outdoor_c, sun = weather
    a, b, loss, u0 = numbers[k, U4], numbers[k, U5], numbers[k, U13], k * UNIT_ROWS
    for t in range(U0, T, V):
        h, u = t0 + t, u0 + t
        share = ONE - (ONE - reached(a, b, ZERO, load16(outdoor_c, h), load16(sun, h))) * loss
        least = fanned(load16(pair, least_at + h), numbers[k, U2]) * numbers[k, U14]
        most = fanned(load16(pair, most_at + h), numbers[k, U3])
        store(unit, u + REACH_WARM, share)
        store(unit, u + PER_WARM, ONE / share)
        store(unit, u + LEAST_WARM, least)
        store(unit, u + PER_RANGE_WARM, ONE / larger(most - least, SMALL))
        store(unit, u + TOP, most * share)


@part
def cold_rows(k, numbers, least_at, most_at, t0, weather, pair, law, unit):  # type: ignore[no-untyped-def]
    """The same for one that cools."""
    outdoor_c, sun = weather
    a, b, c = numbers[k, U6], numbers[k, U7], numbers[k, U8]
    quiet, full, loss, least_k, u0 = numbers[k, U9], numbers[k, U10], numbers[k, U13], numbers[k, U14], k * UNIT_ROWS
    for t in range(U0, T, V):
        h, u = t0 + t, u0 + t
        share = ONE - (ONE - reached(a, b, c, load16(outdoor_c, h), load16(sun, h))) * loss
        least = larger(fanned(load16(pair, least_at + h), -numbers[k, U2]), ONE)
        most = fanned(load16(pair, most_at + h), -numbers[k, U3])
        high, at_least = larger(most, TWO), larger(most, ONE)
        felt = sensible(least, quiet, law)
        low, felt_low = least * least_k, felt * least_k
        span, felt_span = high - low, sensible(high, full, law) - felt_low
        store(unit, u + REACH_COLD, share)
        store(unit, u + PER_COLD, ONE / share)
        store(unit, u + LEAST_COLD, low)
        store(unit, u + PER_RANGE_COLD, ONE / larger(span, SMALL))
        store(unit, u + FELT_LEAST, felt_low)
        store(unit, u + PER_FELT, least / felt)
        store(unit, u + PER_MORE, span / larger(felt_span, SMALL))
        store(unit, u + FELT_SHARE, sensible(at_least, full, law) / at_least)
        store(unit, u + BOTTOM, ZERO - most * load16(unit, u + FELT_SHARE) * share)


@part
def shared_limits(k, numbers, heat_at, cool_at, t0, whole, unit):  # type: ignore[no-untyped-def]
    """A unit's part of a shared outdoor unit limits what it brings to its rooms."""
    part_warm, part_cold, u0 = numbers[k, U11], numbers[k, U12], k * UNIT_ROWS
    for t in range(U0, T, V):
        h, u = t0 + t, u0 + t
        top = load16(whole, heat_at + h) * part_warm * load16(unit, u + REACH_WARM)
        low = load16(whole, cool_at + h) * part_cold * load16(unit, u + FELT_SHARE) * load16(unit, u + REACH_COLD)
        store(unit, u + TOP, smaller(load16(unit, u + TOP), top))
        store(unit, u + BOTTOM, larger(load16(unit, u + BOTTOM), ZERO - low))


@part
def supply_rows(t0, weather, tables, hours, profiles, unit):  # type: ignore[no-untyped-def]
    """All supplies of the block over one chunk; tables run over so many hours."""
    pair, whole, series = tables
    numbers, kinds, law = profiles
    for k in range(np.uint64(numbers.shape[0])):
        kind, row, u0 = kinds[k, U0], np.uint64(kinds[k, U1]), k * UNIT_ROWS
        if kind == FLAT:
            for t in range(U0, T, V):
                store(unit, u0 + TOP + t, spread16(numbers[k, U0]))
                store(unit, u0 + BOTTOM + t, spread16(-numbers[k, U1]))
        elif kind == SERIES:
            for t in range(U0, T, V):
                store(unit, u0 + TOP + t, load16(series, row * U2 * hours + t0 + t))
                store(unit, u0 + BOTTOM + t, ZERO - load16(series, (row * U2 + U1) * hours + t0 + t))
        else:
            at = row * U4 * hours
            warm_rows(k, numbers, at, at + hours, t0, weather, pair, unit)
            cold_rows(k, numbers, at + U2 * hours, at + U3 * hours, t0, weather, pair, law, unit)
            if kind == SHARED:
                out = np.uint64(kinds[k, U2]) * U12 * hours + U2 * hours
                shared_limits(k, numbers, out, out + U6 * hours, t0, whole, unit)


@part
def per_power(output, watts):  # type: ignore[no-untyped-def]
    """COP; 0 where nothing is used."""
    return pick(watts > SMALL, output / larger(watts, SMALL), ZERO)


@part
def machine_rows(t0, whole, hours, rows, fans, machine):  # type: ignore[no-untyped-def]
    """Outdoor units with the fans of their indoor units, and a factor of their least output."""
    for o in range(np.uint64(rows.shape[0])):
        used_low, used_high, least_k = fans[o, U0], fans[o, U1], fans[o, U2]
        for m in range(U2):
            m0, at = (o * U2 + m) * MACHINE_ROWS, (np.uint64(rows[o]) * U2 + m) * U6 * hours + t0
            given_low, given_high = (-used_low, -used_high) if m == U1 else (used_low, used_high)
            for t in range(U0, T, V):
                h, to = at + t, m0 + t
                low, middle = fanned(load16(whole, h), given_low), fanned(load16(whole, h + hours), given_high)
                high = fanned(load16(whole, h + U2 * hours), given_high)
                cop_low = per_power(low, fanned(load16(whole, h + U3 * hours), used_low))
                cop_middle = per_power(middle, fanned(load16(whole, h + U4 * hours), used_high))
                cop_high = per_power(high, fanned(load16(whole, h + U5 * hours), used_high))
                low = low * least_k
                middle = larger(middle, low)
                first, second = middle - low, high - middle
                store(machine, to + LOW, low)
                store(machine, to + MIDDLE, middle)
                store(machine, to + HIGH, high)
                store(machine, to + PER_LOW, ONE / larger(low, SMALL))
                store(machine, to + PER_SPAN, ONE / larger(high - low, SMALL))
                store(machine, to + COP_LOW, cop_low)
                store(machine, to + SLOPE_LOW, pick(first > SMALL, (cop_middle - cop_low) / larger(first, SMALL), ZERO))
                store(machine, to + COP_MIDDLE, cop_middle)
                store(
                    machine,
                    to + SLOPE_MIDDLE,
                    pick(second > SMALL, (cop_high - cop_middle) / larger(second, SMALL), ZERO),
                )
