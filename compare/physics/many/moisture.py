"""Cooling below the least output: moisture that drains in pauses goes back into the air, and units ask for more."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import FOUR, ONE, SMALL, THREE, TWO, ZERO, T
from compare.physics.many.part import part
from compare.physics.many.rows import (
    ASKED,
    BELOW,
    FIRST,
    KEEP,
    KEEP_SLOPE,
    LOAD,
    OWN_ROWS,
    REST,
    SENSIBLE,
    SHARE,
    SLOPE,
    SUM,
    WARM,
)

WET_STEPS = 2
"""Steps of Newton's method for a load to which moisture comes back."""
LEAST_SLOPE = np.float32(0.25)


@part
def wet_hours(w, machine, m0, least_k):  # type: ignore[no-untyped-def]
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


@part
def moist(w, z0, runs_on):  # type: ignore[no-untyped-def]
    """The moist share of a unit's cooling that may come back; what no moisture comes back to is the rest."""
    for t in range(T):
        asked, felt = w[z0 + ASKED + t], w[z0 + SENSIBLE + t]
        asked_at = asked if asked > SMALL else SMALL
        share = (asked - felt) / asked_at * (runs_on * w[BELOW + t])
        share = share if share > ZERO else ZERO
        w[z0 + SHARE + t] = share
        w[REST + t] -= asked if share > ZERO else ZERO


@part
def kept_of(w, machine, m0, least_k, kept):  # type: ignore[no-untyped-def]
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


@part
def add_wet(w, z0):  # type: ignore[no-untyped-def]
    """A unit's total with moisture coming back, and what of it follows the load."""
    for t in range(T):
        s, felt = w[z0 + SHARE + t], w[z0 + SENSIBLE + t]
        by = ONE / (ONE - s * w[KEEP + t])
        total = felt * by
        w[z0 + ASKED + t] = total if s > ZERO else w[z0 + ASKED + t]
        w[SUM + t] += total if s > ZERO else ZERO
        w[SLOPE + t] -= total * by * s * w[KEEP_SLOPE + t]


@part
def nearer(w, newton):  # type: ignore[no-untyped-def]
    """The load by a step of Newton's method, or as it was added up."""
    for t in range(T):
        slope, load = w[SLOPE + t], w[LOAD + t]
        slope = slope if slope > LEAST_SLOPE else LEAST_SLOPE
        w[LOAD + t] = load + (w[SUM + t] - load) / slope if newton else w[SUM + t]


@part
def dry(i, g, w, machine, m0, units, kept):  # type: ignore[no-untyped-def]
    """What drains from the coils in pauses goes back into the air, so that units ask for more."""
    _, lead, _, runs_on, _, least_k, unit_count = units
    a_count = np.uint64(unit_count[i])
    if not wet_hours(w, machine, m0, least_k[i]):
        return
    for z in range(a_count):
        if lead[z, i] == g:
            moist(w, z * OWN_ROWS + FIRST, runs_on[z, i])
    for step in range(WET_STEPS + 1):
        kept_of(w, machine, m0, least_k[i], kept)
        for z in range(a_count):
            if lead[z, i] == g:
                add_wet(w, z * OWN_ROWS + FIRST)
        nearer(w, step < WET_STEPS)
