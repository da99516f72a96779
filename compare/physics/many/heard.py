"""Where indoor units stand in their range, how often, and what is heard of units by night and evening."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import DAY, FOUR, ONE, U0, U1, U2, U3, ZERO, T, V
from compare.physics.many.part import part
from compare.physics.many.rows import HEARD_ROWS, LAST_STEP, LOUD, LOUDER, SOUND_ROW, STEPS
from compare.physics.many.sizes import BINS, GRID
from compare.physics.many.vector_calls import (
    element,
    larger,
    load4,
    load16,
    pick,
    smaller,
    spread4,
    spread16,
    store,
    store_whole,
    twice,
    whole,
)

SOUND_STEPS = np.uint64(GRID - 1)
CLASSES = np.float32(BINS - 1)
COLD_BINS, WARM_BINS, NO_BIN = np.float32(0), np.float32(BINS), np.float32(2 * BINS)
"""Where the classes of cooling and of heating begin, and where an hour at rest is counted."""
TURNS = np.uint64(4)
"""Hours in a row count in places of their own: a processor waits for a number that it has just written."""


@part
def at_rest(noise, row, t):  # type: ignore[no-untyped-def]
    """Nothing is heard."""
    store(noise, row * HEARD_ROWS + LOUD + t, spread16(ZERO))
    store(noise, row * HEARD_ROWS + LOUDER + t, spread16(ZERO))


@part
def unplaced(bins, turns, row, t):  # type: ignore[no-untyped-def]
    """A unit stands nowhere in its range."""
    store_whole(bins, row * T + t, load16(turns, U0) + NO_BIN * FOUR)


@part
def stand(noise, slot, row, t, far, share):  # type: ignore[no-untyped-def]
    """Step of the output range in which a unit stands, and how far in it, for a share of the hour."""
    f = far * STEPS
    n = smaller(whole(f), LAST_STEP)
    store_whole(slot, row * T + t, n * np.float32(SOUND_ROW))
    store(noise, row * HEARD_ROWS + LOUD + t, share)
    store(noise, row * HEARD_ROWS + LOUDER + t, share * (f - n))


@part
def place(asked, x, per_x, low, per_range, warm, noise, slot, bins, turns, row, t):  # type: ignore[no-untyped-def]
    """Where an indoor unit stands in its range while it runs, and for what share of the hour."""
    far = smaller(larger((asked * per_x - low) * per_range, ZERO), ONE)
    share = pick(asked > ZERO, x, ZERO)
    stand(noise, slot, row, t, far, share)
    b = whole(far * CLASSES + np.float32(0.9999)) + pick(warm, spread16(WARM_BINS), COLD_BINS)
    store_whole(bins, row * T + t, pick(share > ZERO, b, NO_BIN) * FOUR + load16(turns, U0))


@part
def classes(bins, busy, spans, s, count, i, z, hist):  # type: ignore[no-untyped-def]
    """Classes of one unit in one set of hours."""
    for m in range(count):
        if not busy & np.uint64(spans[s, m, U3]):
            continue
        for t in range(np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])):
            hist[i, s, z, np.uint64(np.uint32(bins[z * T + t]))] += np.uint16(1)


@part
def counted(hist, i, s, z, b):  # type: ignore[no-untyped-def]
    """Hours of a class."""
    n = b * TURNS
    return np.float32(hist[i, s, z, n] + hist[i, s, z, n + U1] + hist[i, s, z, n + U2] + hist[i, s, z, n + U3])


@part
def high_place(hist, quantile, lanes, high):  # type: ignore[no-untyped-def]
    """Quantile of the place in the output range, by mode, linear within a class; -1 where a unit never runs."""
    for i in range(lanes):
        for s in range(np.uint64(hist.shape[1])):
            for z in range(np.uint64(hist.shape[2])):
                for m in range(U2):
                    base, total = m * np.uint64(BINS), ZERO
                    for b in range(np.uint64(BINS)):
                        total += counted(hist, i, s, z, base + b)
                    if total <= ZERO:
                        high[i, s, z, m] = -ONE
                        continue
                    wanted, before, b = quantile * (total - ONE), ZERO, U0  # type: ignore[assignment]
                    own = counted(hist, i, s, z, base)
                    while before + own <= wanted:
                        before += own
                        b += U1  # type: ignore[assignment]
                        own = counted(hist, i, s, z, base + b)
                    inside = (wanted - before) / own
                    high[i, s, z, m] = (np.float32(b) - ONE + inside) / CLASSES if b > U0 else ZERO


@part
def hear(noise, slot, row, busy, spans, s, count, energy, q, ears, gain, i, heard):  # type: ignore[no-untyped-def]
    """Sound energy of one unit at two listeners in the hours of one set, added to the nights that they belong to."""
    step0, noise0, slot0 = q * (SOUND_STEPS * SOUND_ROW), row * HEARD_ROWS, row * T
    for m in range(count):
        if not busy & np.uint64(spans[s, m, U3]):
            continue
        first, last = np.uint64(spans[s, m, U0]), np.uint64(spans[s, m, U1])
        even, odd = spread4(ZERO), spread4(ZERO)
        for t in range(first, last - U1, U2):
            at, then = np.uint64(np.uint32(slot[slot0 + t])), np.uint64(np.uint32(slot[slot0 + t + U1]))
            even += twice(noise[noise0 + t], noise[noise0 + LOUDER + t]) * load4(energy, step0 + at)
            odd += twice(noise[noise0 + t + U1], noise[noise0 + LOUDER + t + U1]) * load4(energy, step0 + then)
        if (last - first) & U1:
            end = last - U1
            at = np.uint64(np.uint32(slot[slot0 + end]))
            even += twice(noise[noise0 + end], noise[noise0 + LOUDER + end]) * load4(energy, step0 + at)
        both, night = (even + odd) * gain, np.uint64(spans[s, m, U2])
        heard[i, np.uint64(ears[q, U0]), night] += element(both, U0) + element(both, U2)
        heard[i, np.uint64(ears[q, U1]), night] += element(both, U1) + element(both, U3)


@part
def high_nights(heard, quantiles, lanes, largest, loud):  # type: ignore[no-untyped-def]
    """Quantile of the nights' sound energy at each listener, linear between its neighbours."""
    nights, listeners = np.uint64(heard.shape[2]), np.uint64(loud.shape[1])
    for i in range(lanes):
        for e in range(listeners):
            at = quantiles[e] * np.float32(nights - U1)
            low = np.uint64(at)
            kept = nights - low
            for n in range(kept):
                largest[n] = -ONE
            for d in range(nights):
                x, n = heard[i, e, d], U0  # type: ignore[assignment]
                while n < kept and x > largest[n]:
                    if n > U0:
                        largest[n - U1] = largest[n]
                    n += U1  # type: ignore[assignment]
                if n > U0:
                    largest[n - U1] = x
            below, above = largest[U0], largest[U1] if kept > U1 else largest[U0]
            loud[i, e] = below + (at - np.float32(low)) * (above - below)


@part
def spans_of(masks, starts, s, hours, days, t0, spans):  # type: ignore[no-untyped-def]
    """Runs of hours of the chunk that belong to a set: from, to, the night or evening of each, bits of its pieces."""
    count, start, last = U0, np.uint64(starts[s]), days
    turned = ((t0 + days * DAY - start) // DAY) % days
    for t in range(hours):
        clock = t % DAY
        if clock == start and t > U0:
            turned = turned + U1 if turned + U1 < days else U0
        night = turned if masks[s, clock] else days
        if night not in (days, last):
            spans[s, count, U0], spans[s, count, U2], spans[s, count, U3] = t, night, U0
            count += U1
        if night != days:
            spans[s, count - U1, U1] = t + U1
            spans[s, count - U1, U3] |= U1 << (t // V)
        last = night
    return count
