"""Cooling below the least output: moisture that drains in pauses goes back into the air, and units ask for more."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import FOUR, ONE, QUARTER, SMALL, THREE, TWO, ZERO
from compare.physics.many.part import part
from compare.physics.many.rows import ASKED, FELT, OWN_ROWS, SHARE
from compare.physics.many.vector_calls import any_of, larger, load16, pick, smaller, spread16, store

WET_STEPS = 2
"""Steps of Newton's method for a load to which moisture comes back."""
LEAST_SLOPE = QUARTER


@part
def moist(i, load, below, members, n0, n1, runs_on, w):  # type: ignore[no-untyped-def]
    """The moist share of each unit's cooling that may come back; the load of those to which none does."""
    rest = load
    for n in range(n0, n1):
        z = np.uint64(members[i, n])
        asked, felt = load16(w, z * OWN_ROWS + ASKED), load16(w, z * OWN_ROWS + FELT)
        share = pick(below, (asked - felt) / larger(asked, SMALL) * runs_on[z, i], ZERO)
        share = larger(share, ZERO)
        store(w, z * OWN_ROWS + SHARE, share)
        rest -= pick(share > ZERO, asked, ZERO)
    return rest


@part
def kept_at(load, per_low, kept):  # type: ignore[no-untyped-def]
    """Share of the moisture that stays removed at a load, and how it grows with the load."""
    k0, k1, k2, k3, k4 = kept
    x = smaller(load * per_low, ONE)
    y = x * (x * (x * (x * k4 + k3) + k2) + k1) + k0
    slope = x * (x * (x * (k4 * FOUR) + k3 * THREE) + k2 * TWO) + k1
    on = y > ZERO
    return pick(on, smaller(y, ONE), ZERO), pick(on, slope * per_low, ZERO)


@part
def dry(i, load, low, per_low, members, n0, n1, units, kept, w):  # type: ignore[no-untyped-def]
    """The load where what drains from the coils in pauses goes back into the air."""
    below = (load > ZERO) & (load < low)
    if not any_of(below):
        return load
    rest = moist(i, load, below, members, n0, n1, units[2], w)
    keep, grows = kept_at(load, per_low, kept)
    for _ in range(WET_STEPS):
        if not any_of(below & (keep > ZERO)):
            break
        whole, slope = rest, spread16(ONE)
        for n in range(n0, n1):
            own = np.uint64(members[i, n]) * OWN_ROWS
            share = load16(w, own + SHARE)
            by = ONE / (ONE - share * keep)
            asked = load16(w, own + FELT) * by
            whole += pick(share > ZERO, asked, ZERO)
            slope -= asked * by * share * grows
        load += (whole - load) / larger(slope, LEAST_SLOPE)
        keep, grows = kept_at(load, per_low, kept)
    for n in range(n0, n1):
        own = np.uint64(members[i, n]) * OWN_ROWS
        share = load16(w, own + SHARE)
        asked = pick(share > ZERO, load16(w, own + FELT) / (ONE - share * keep), ZERO)
        store(w, own + ASKED, pick(share > ZERO, asked, load16(w, own + ASKED)))
        rest += asked
    return rest
