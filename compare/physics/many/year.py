"""The year of 64 lanes: chunk after chunk, rooms stepped and then units measured."""

from __future__ import annotations

from typing import Any

import numba
import numpy as np

from compare.physics.many.heard import TURNS, high_nights, high_place, spans_of
from compare.physics.many.numbers import DAY, U0, U1, U2, U4, ZERO, N, T, V
from compare.physics.many.part import stamp
from compare.physics.many.rooms import (
    carry,
    held_at,
    hour,
    keep_given,
    limit_rows,
    mixing,
    reached_by,
    rows_of,
    watch_rooms,
)
from compare.physics.many.rows import HEARD_ROWS, MACHINE_ROWS, OWN_ROWS, UNIT_ROWS
from compare.physics.many.sizes import BINS, GROUP_SUMS
from compare.physics.many.tables import machine_rows, supply_rows
from compare.physics.many.units import add_up, at_rest_all, empty, hang, listen, outdoor
from compare.physics.many.vector_calls import load64, store

EMPTIED = np.uint64(8)
"""Chunks after which sums in single precision go to those in double."""


@numba.njit(nogil=True, fastmath=True, error_model="numpy", forceinline=True)
def _year(  # type: ignore[no-untyped-def]
    lanes, house, index, slots, limits_of, units, groups, profiles, weather, tables, held_points, clock_sets, ears,
    watch, out, tolerance_w, warmup
):  # fmt: skip
    """Run all lanes through the year; returns the largest number of sweeps that an hour needed.

    Rooms R are padded to an even number, hours of `weather` and `tables` to whole chunks. Z supplies, of which the
    first A are indoor units; G outdoor units; P kinds of supply; O kinds of outdoor unit with their indoor fans.

    lanes: how many of the 64 are measured. house: inverse (M, R, R, 1 or 64), ca_dt (R,), c_e (R, 2), e (R, 2),
    source (P, H, R), part (P, 64). index (H,): matrix of the hour. slots: share, sensor, mix (Z, R, 64), rooms that any
    lane uses (Z, R + 1) behind their number, supplies that mix. limits_of: kind of
    supply (Z, 64), row of set points (Z, 65; the last says whether all lanes share it).
    units: kind (A, 64), outdoor unit, part of it, 1 where the fan runs on in pauses, its power then, number of units
    (64,). groups: kind of outdoor unit (G, 64), most starts an hour per watt of least output, cap of the starts, number
    of outdoor units (64,), row of each kind (O,), its fans (low, high) and factor of the least output (O, 3).
    profiles: numbers (P, 15), kinds (P, 3), sensible law (3,). weather: outdoor temperature, sun, whether cold (H,).
    tables: indoor units (U, 4, H) least and most, heating and cooling; outdoor units (V, 2, 6, H) least, middle, most
    and their power, heating and cooling; limits (S, 2, H). held_points: set points (H, 2, S), hours in which
    any is not that of the hour before (H,). clock_sets, ears, watch, out: see
    `compare.search.lanes`.
    """
    inverse, ca_dt, c_e, e, source, part = house
    index_hours = np.uint64(index.shape[0])
    share, sensor, mix, used, mixers = slots
    profile, held = limits_of
    place, start_k, cap, group_count, machine_row, machine_fans = groups
    outdoor_c, sun, cold = weather
    masks, starts = clock_sets
    zone_of, gain_of, first_of, set_of, ears_of, out_rows, energy, kept = ears
    sound = (zone_of, gain_of, first_of, set_of, ears_of, energy)
    lead, unit_count = units[1], units[5]
    watch_row, use, cold_under, hot_over, quantile, loud_quantiles = watch
    days = index_hours // DAY
    counts, watched, rest_sums, group_sums, loud, high = out
    r_count, z_count = np.uint64(share.shape[1]), np.uint64(share.shape[0])
    p_count, o_count = np.uint64(profiles[0].shape[0]), np.uint64(machine_row.shape[0])
    s_count = np.uint64(masks.shape[0])
    own = inverse.shape[3] > 1
    f4 = np.float32

    m_count = np.uint64(inverse.shape[0])
    pull, inv_own = np.zeros((m_count, z_count, z_count, N), f4), np.zeros((m_count, z_count, N), f4)
    reach, mix_sum = np.zeros((m_count, r_count, z_count, N), f4), np.zeros((z_count, N), f4)
    reached_by(inverse, share, sensor, reach, pull, inv_own)
    mixing(mix, mix_sum)
    air, mass = np.full(r_count * N, f4(20.0), f4), np.full(U2 * r_count * N, f4(20.0), f4)
    rhs, supply, sensed = np.zeros(r_count * N, f4), np.zeros(z_count * N, f4), np.zeros(z_count * N, f4)
    tops, lows, piece = np.zeros(z_count * V * N, f4), np.zeros(z_count * V * N, f4), np.zeros(z_count * V * N, f4)
    on, off = np.zeros(z_count * N, f4), np.zeros(z_count * N, f4)
    flat_house = (inverse.reshape(inverse.size), ca_dt, c_e, e, source, part.reshape(part.size), own)
    flat_slots = (sensor.copy().reshape(sensor.size), mix.copy().reshape(mix.size), used, mixers)
    laid = (
        pull.reshape(pull.size),
        inv_own.reshape(inv_own.size),
        reach.reshape(reach.size),
        mix_sum.reshape(mix_sum.size),
    )
    state = (air, mass, rhs, supply, sensed)
    counts_at, watched_at = counts.reshape(counts.size), watched.reshape(watched.size)
    profile_rows, piece_rows = np.zeros(z_count * N, np.uint32), np.zeros(V, np.uint32)
    rows_of(profile, profile_rows, piece_rows)
    pair, whole, series = tables
    flat_tables = (pair.reshape(pair.size), whole.reshape(whole.size), series.reshape(series.size))
    table_hours = np.uint64(pair.shape[2])
    unit, machine = np.zeros(p_count * UNIT_ROWS, f4), np.zeros(o_count * U2 * MACHINE_ROWS, f4)
    given = np.zeros(z_count * N * T, f4)
    a_count = np.uint64(lead.shape[0])
    members, firsts = np.zeros((N, a_count), np.uint32), np.zeros((N, np.uint64(group_sums.shape[0]) + U1), np.uint32)
    hang(lead, unit_count, group_count, members, firsts)
    hung, unit_of = (members, firsts), (units[0], units[2], units[3], units[4])
    w, noise = np.zeros(a_count * OWN_ROWS, f4), np.zeros((a_count + U2) * HEARD_ROWS, f4)
    slot, bins = np.zeros((a_count + U2) * T, np.int32), np.zeros(a_count * T, np.int32)
    turns = np.zeros(V, f4)
    for k in range(V):
        turns[k] = f4(k % TURNS)
    g_count = np.uint64(group_sums.shape[0])
    sums = np.zeros(N * g_count * np.uint64(GROUP_SUMS) * V, f4)
    hist = np.zeros((N, np.uint64(high.shape[1]), np.uint64(high.shape[2]), np.uint64(2 * BINS + 1) * TURNS), np.uint16)
    heard, largest = np.zeros((N, np.uint64(loud.shape[1]) + U1, days), f4), np.zeros(days, f4)
    spans, span_count = np.zeros((s_count, T, U4), np.uint32), np.zeros(s_count, np.uint64)

    set_points, fresh = held_points
    held_at(U0 if warmup == 0 else index_hours - np.uint64(warmup), set_points, held, on, off)

    most = 0
    chunks = (index_hours + T - U1) // T
    warm_from = index_hours - np.uint64(warmup)
    before = chunks - warm_from // T if warmup > 0 else U0
    carry(
        warm_from % index_hours, own, e, ca_dt, c_e, source, flat_house[5], air, mass, rhs, U0, laid[2], supply, z_count
    )
    for count in range(before + chunks):
        kept_now = count >= before
        c = count - before if kept_now else chunks - before + count
        t0 = c * T
        hours = index_hours - t0 if index_hours - t0 < T else T
        first = warm_from - t0 if count == U0 and before > U0 else U0
        supply_rows(t0, (outdoor_c, sun), flat_tables, table_hours, profiles, unit)
        for p in range(first // V * V, hours, V):
            limit_rows(unit, profile_rows, p, tops, lows)
            for tt in range(first - p if first > p else U0, hours - p if hours - p < V else V):
                t = t0 + p + tt
                then = t + U1 if t + U1 < index_hours else U0
                if fresh[t]:
                    held_at(t, set_points, held, on, off)
                sweeps = hour(
                    then, tt, tolerance_w, flat_house, np.uint64(index[t]), flat_slots, laid,
                    (tops, lows, on, off), state,
                )  # fmt: skip
                most = sweeps if sweeps > most else most
                if kept_now:
                    watch_rooms(t % DAY, watch_row[t], use, cold_under, hot_over, air, counts_at, watched_at)
                    for z in range(z_count):
                        store(piece, (z * V + tt) * N, load64(supply, z * N))
            if kept_now:
                keep_given(piece, piece_rows, p, z_count, given)
        if not kept_now:
            continue
        for z in range(z_count):
            for i in range(N):
                for tt in range(hours, T):
                    given[(z * N + i) * T + tt] = ZERO
        machine_rows(t0, flat_tables[1], table_hours, machine_row, machine_fans, machine)
        for s in range(s_count):
            span_count[s] = spans_of(masks, starts, s, hours, days, t0, spans)
        for i in range(np.uint64(lanes)):
            add_up(given, i, a_count, rest_sums)
            for g in range(np.uint64(group_count[i])):
                heats, cools = outdoor(
                    given, i, g, t0, (w, noise, slot, bins, turns), unit, machine, cold, hung, unit_of,
                    (place, start_k, cap), kept, sums, (i * g_count + g) * np.uint64(GROUP_SUMS) * V,
                )  # fmt: skip
                if heats | cools:
                    listen(i, g, heats, cools, noise, slot, bins, hung, spans, span_count, sound, out_rows, heard, hist)
        if c % EMPTIED == EMPTIED - U1:
            empty(sums, np.uint64(lanes), group_count, group_sums)
    empty(sums, np.uint64(lanes), group_count, group_sums)
    at_rest_all(cold, index_hours, np.uint64(lanes), group_count, group_sums)
    high_place(hist, quantile, np.uint64(lanes), high)
    high_nights(heard, loud_quantiles, np.uint64(lanes), largest, loud)
    return most


def _kernel(sources: str) -> Any:  # numba's dispatcher has no types
    """The kernel, kept on disk for these sources: what a function closes over is part of its key there."""

    def run_lanes(  # type: ignore[no-untyped-def]
        lanes, house, index, slots, limits_of, units, groups, profiles, weather, tables, held_points, clock_sets, ears,
        watch, out, tolerance_w, warmup
    ):  # fmt: skip
        assert sources
        return _year(
            lanes, house, index, slots, limits_of, units, groups, profiles, weather, tables, held_points, clock_sets,
            ears, watch, out, tolerance_w, warmup
        )  # fmt: skip

    return numba.njit(cache=True, nogil=True, fastmath=True, error_model="numpy")(run_lanes)


run_lanes = _kernel(stamp())
"""Run all lanes through the year; see `_year`."""
