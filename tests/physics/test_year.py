"""The year kernel against the oracle, and the laws that any year must keep."""

from __future__ import annotations

import numpy as np
import pytest

from compare.physics import kernel_numpy
from compare.physics.network import Network, Supply
from compare.physics.year import LANES, _run_block, simulate, stable_mix, step_matrices

HOURS = 24 * 60


def winter_house(seed: int = 1, rooms: int = 4, hours: int = HOURS) -> Network:
    """An invented house of a few rooms through cold and warm weeks, with random sun."""
    rng = np.random.default_rng(seed)
    t = np.arange(hours)
    outdoor = 8.0 - 14.0 * np.cos(2 * np.pi * t / hours) + 6.0 * np.sin(2 * np.pi * (t - 9) / 24)
    links = np.zeros((2, rooms, rooms))
    for a in range(rooms - 1):
        day, night = rng.uniform(30, 90), rng.uniform(5, 20)
        links[0, a, a + 1] = links[0, a + 1, a] = day
        links[1, a, a + 1] = links[1, a + 1, a] = night
    g0 = rng.uniform(8, 40, rooms)
    sun = np.clip(np.sin(2 * np.pi * (t - 6) / 24), 0, 1)[:, None] * rng.uniform(0, 900, rooms)
    return Network(
        room_names=tuple(f"room {i}" for i in range(rooms)),
        g0_w_k=g0,
        branch_g_w_k=rng.uniform(20, 200, (rooms, 2)),
        branch_tau_s=np.column_stack([rng.uniform(1e3, 8e3, rooms), rng.uniform(2e4, 9e4, rooms)]),
        air_j_k=rng.uniform(1e5, 5e5, rooms),
        q20_w=-g0 * (20.0 - outdoor[:, None]) + sun,
        link_w_k=links,
        leak_w_k=np.linspace(1.0, 9.0, 3)[:, None] * np.ones(rooms),
        door_state=((t % 24 < 7) | (t % 24 >= 22)).astype(np.int64),
        leak_level=rng.integers(0, 3, hours),
        outdoor_c=outdoor,
    )


def supply(network: Network, rooms: list[int], heat_w: float, cool_w: float, mix_w_k: float = 0.0) -> Supply:
    share = np.zeros(network.rooms)
    share[rooms] = 1.0 / len(rooms)
    hours = network.hours
    outdoor = network.outdoor_c
    return Supply(
        share=share,
        sensor=share,
        heat_limit_w=heat_w * (1.0 + 0.01 * (outdoor - 8.0)),
        cool_limit_w=np.full(hours, cool_w),
        heat_set_c=np.full(hours, 21.1),
        cool_set_c=np.full(hours, 23.9),
        mix_w_k=share * mix_w_k,
    )


def layouts(network: Network) -> list[list[Supply]]:
    return [
        [],
        [supply(network, [0], 2500.0, 2000.0)],
        [supply(network, [0], 1500.0, 900.0), supply(network, [1, 2, 3], 2500.0, 2500.0, mix_w_k=60.0)],
        [supply(network, [0], 1500.0, 900.0), supply(network, [1], 800.0, 0.0), supply(network, [3], 900.0, 700.0)],
    ]


@pytest.mark.parametrize("seed", [1, 2])
def test_kernel_equals_oracle(seed: int) -> None:
    from tests.physics import oracle

    network = winter_house(seed)
    plans = layouts(network)
    traces = simulate(network, plans)
    step = step_matrices(network)
    own = step.ca_dt + network.g0_w_k + step.c_e.sum(axis=1)
    for plan, trace in zip(plans, traces, strict=True):
        scale = [float(np.max(stable_mix(s.mix_w_k, own)) / max(np.max(s.mix_w_k), 1e-30)) for s in plan]
        truth = oracle.run(network, plan, warmup=336, mix_scale=scale)
        assert np.max(np.abs(truth.residual_w)) <= 0.01
        assert np.max(np.abs(trace.room_c - truth.room_c)) < 0.02
        for zone in range(len(plan)):
            for sign in (1.0, -1.0):
                ours = np.clip(sign * trace.supply_w[:, zone].astype(float), 0, None).sum()
                theirs = np.clip(sign * truth.supply_w[:, zone], 0, None).sum()
                assert ours == pytest.approx(theirs, rel=1e-4, abs=50.0)


def test_numba_and_numpy_kernels_agree() -> None:
    network = winter_house(3)
    plans = layouts(network)
    step = step_matrices(network)
    fast = simulate(network, plans, step)
    slow = _run_block(network, step, plans, kernel_numpy.run_lanes)
    for one, other in zip(fast, slow, strict=True):
        assert np.max(np.abs(one.room_c - other.room_c)) < 1e-2


def test_layout_does_not_depend_on_its_neighbours_in_the_block() -> None:
    network = winter_house(4, hours=24 * 20)
    plans = layouts(network) * (LANES // 3)
    together = simulate(network, plans)
    for lane in (0, 1, 2, 3, LANES - 1, LANES, len(plans) - 1):
        alone = simulate(network, [plans[lane]])[0]
        assert np.max(np.abs(alone.room_c - together[lane].room_c)) < 2e-3
        assert alone.supply_w.shape == together[lane].supply_w.shape


def test_thermostats_hold_between_set_points_where_limits_allow() -> None:
    network = winter_house(5)
    trace = simulate(network, [[supply(network, [i], 1e6, 1e6) for i in range(network.rooms)]])[0]
    assert trace.room_c.min() > 21.1 - 0.02
    assert trace.room_c.max() < 23.9 + 0.02


def test_a_warm_neighbour_spares_the_thermostat() -> None:
    """The rule "free-float, then force the set point" would heat a room its neighbour keeps warm; ours does not."""
    network = winter_house(6, rooms=2)
    strong_link = np.zeros((2, 2, 2))
    strong_link[:, 0, 1] = strong_link[:, 1, 0] = 5_000.0
    network = Network(**{**{f: getattr(network, f) for f in network.__slots__}, "link_w_k": strong_link})
    both = simulate(network, [[supply(network, [0], 1e5, 0.0), supply(network, [1], 1e5, 0.0)]])[0]
    one = simulate(network, [[supply(network, [0], 1e5, 0.0)]])[0]
    total_both = np.clip(both.supply_w, 0, None).sum()
    total_one = np.clip(one.supply_w, 0, None).sum()
    assert total_both == pytest.approx(total_one, rel=0.02)


def test_no_difference_and_no_gains_gives_no_load() -> None:
    network = winter_house(7)
    still = {f: getattr(network, f) for f in network.__slots__}
    still["outdoor_c"] = np.full(network.hours, 20.0)
    still["q20_w"] = np.zeros_like(network.q20_w)
    calm = Network(**still)
    trace = simulate(calm, [[Supply(*(getattr(supply(calm, [0], 1e4, 1e4), f) for f in Supply.__slots__))]])[0]
    limits = supply(calm, [0], 1e4, 1e4)
    held = Supply(
        limits.share,
        limits.sensor,
        limits.heat_limit_w,
        limits.cool_limit_w,
        np.full(calm.hours, 20.0),
        np.full(calm.hours, 20.0),
        limits.mix_w_k,
    )
    trace = simulate(calm, [[held]])[0]
    assert np.max(np.abs(trace.supply_w)) < 1e-3
    assert np.max(np.abs(trace.room_c - 20.0)) < 1e-4


def test_more_capacity_never_cools_a_room_in_winter() -> None:
    network = winter_house(8)
    small, large = simulate(network, [[supply(network, [0], 800.0, 0.0)], [supply(network, [0], 1600.0, 0.0)]])
    assert (large.room_c - small.room_c).min() > -1e-3


def test_opening_a_door_warms_the_unserved_room() -> None:
    network = winter_house(9, rooms=2)
    shut = {f: getattr(network, f) for f in network.__slots__}
    shut["link_w_k"] = network.link_w_k * 0.2
    one = [supply(network, [0], 1e5, 1e5)]
    open_trace = simulate(network, [one])[0]
    shut_trace = simulate(Network(**shut), [one])[0]
    gap_open = np.abs(open_trace.room_c[:, 0] - open_trace.room_c[:, 1]).mean()
    gap_shut = np.abs(shut_trace.room_c[:, 0] - shut_trace.room_c[:, 1]).mean()
    assert gap_open < gap_shut


def test_bad_numbers_are_refused() -> None:
    network = winter_house(10)
    broken = {f: getattr(network, f) for f in network.__slots__}
    broken["g0_w_k"] = np.full(network.rooms, np.nan)
    with pytest.raises(ValueError, match="not finite"):
        step_matrices(Network(**broken))
