"""Hourly steps against one minute on demo houses, and the conservation of what is spread over finer steps."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import spearmanr

from compare.house.reading import read_house
from compare.offer import Sources
from compare.physics.network import YearTrace
from compare.physics.timestep import MINUTE_S, QUARTER_S, finer, finer_supplies, hourly, spread_hours
from compare.physics.year import simulate
from compare.years.case import prepare
from tests.physics.layouts import layouts_of


@given(st.integers(0, 2**32 - 1), st.sampled_from([2, 4, 5, 60]))
def test_every_hour_keeps_its_mean(seed, parts):
    # Conservation: energy of every hour, 1e-9.
    means = np.random.default_rng(seed).normal(0.0, 500.0, (48, 3))
    steps = spread_hours(means, parts)
    np.testing.assert_allclose(steps.reshape(48, parts, 3).mean(axis=1), means, atol=1e-6)


def test_a_straight_course_stays_straight():
    # A slow sine is followed to its own curvature: one degree of swing over a day within 0.01 K at every minute.
    at = (np.arange(24 * 60) + 0.5) / 60.0
    exact = np.sin(2.0 * np.pi * at / 24.0)
    means = exact.reshape(24, 60).mean(axis=1)[:, None]
    np.testing.assert_allclose(spread_hours(means, 60)[:, 0], exact, atol=0.01)


def test_a_run_put_back_into_hours():
    room_c = np.arange(8, dtype=np.float32)[:, None]
    supply_w = np.array([1.0, 3.0, 5.0, 7.0, 0.0, 0.0, 4.0, 4.0], dtype=np.float32)[:, None]
    back = hourly(YearTrace(room_c, supply_w), QUARTER_S)
    np.testing.assert_array_equal(back.room_c[:, 0], [3.0, 7.0])
    np.testing.assert_array_equal(back.supply_w[:, 0], [4.0, 2.0])


@pytest.mark.parametrize("step_s", [0.0, -60.0, 700.0, 7200.0])
def test_steps_that_do_not_fit_are_refused(step_s):
    with pytest.raises(ValueError, match="whole part of an hour"):
        spread_steps(step_s)


def spread_steps(step_s):
    return finer_supplies([], step_s)


@pytest.fixture(scope="module", params=["ranch", "cabin"])
def house(request, scenarios):
    case = prepare(read_house(scenarios / f"{request.param}.toml"), scenarios)
    return case, layouts_of(case, Sources.bundled(), most=24)


def test_only_an_hourly_network_can_be_made_finer(house):
    case, _ = house
    fine = finer(case.network, QUARTER_S)
    assert fine.hours == 4 * case.network.hours
    assert finer(case.network, 3600.0) is case.network
    with pytest.raises(ValueError, match="only an hourly one"):
        finer(fine, MINUTE_S)


def _fine_runs(case, layouts, step_s):
    """Hourly form of runs in fine steps, a few layouts at a time to bound memory."""
    network, found = finer(case.network, step_s), []
    for first in range(0, len(layouts), 8):
        block = layouts[first : first + 8]
        flat = iter(finer_supplies([supply for layout in block for supply in layout], step_s))
        fine = [[next(flat) for _ in layout] for layout in block]
        found += [hourly(trace, step_s) for trace in simulate(network, fine)]
    return found


def _energy(traces):
    supply = [trace.supply_w.astype(np.float64) for trace in traces]
    return np.array([s.clip(0.0).sum() for s in supply]), np.array([(-s).clip(0.0).sum() for s in supply])


@pytest.mark.slow
def test_hourly_against_one_minute(house):
    # Own one-minute run without setback: heating and cooling of every layout within 1 %, and layouts in the same order
    # of heating (Spearman 0.999). Cooling of layouts that cool the same rooms differs by less than the step's error, so
    # its order is asked only among layouts more than 0.5 % apart.
    case, layouts = house
    ours, fine = simulate(case.network, layouts), _fine_runs(case, layouts, MINUTE_S)
    (heat, cool), (fine_heat, fine_cool) = _energy(ours), _energy(fine)
    assert np.abs(heat / fine_heat - 1.0).max() < 0.01
    cooled = fine_cool > 0.01 * fine_cool.max()
    assert np.abs(cool[cooled] / fine_cool[cooled] - 1.0).max() < 0.01
    assert spearmanr(heat, fine_heat)[0] >= 0.999
    apart = np.abs(fine_cool[:, None] / fine_cool[None, :].clip(1.0) - 1.0) > 0.005
    assert np.array_equal((cool[:, None] > cool)[apart], (fine_cool[:, None] > fine_cool)[apart])
    shift_k = max(np.abs(a.room_c - b.room_c).mean() for a, b in zip(ours, fine, strict=True))
    assert shift_k < 0.25


@pytest.mark.slow
def test_a_quarter_hour_lies_between(house):
    # Own one-minute run: 15 min is at least as near as the hour (plus 0.05 %).
    case, layouts = house
    few = layouts[:8]
    runs = (simulate(case.network, few), _fine_runs(case, few, QUARTER_S), _fine_runs(case, few, MINUTE_S))
    hour, quarter, minute = (_energy(run)[0] for run in runs)
    assert np.all(np.abs(quarter / minute - 1.0) <= np.abs(hour / minute - 1.0) + 5e-4)


def test_warmup_does_not_depend_on_the_step(house):
    # A house that floats comes to the same January temperatures in fine steps (0.2 K in the first day's mean).
    case, _ = house
    hour = simulate(case.network, [()])[0].room_c[:24].mean(axis=0)
    quarter = hourly(simulate(finer(case.network, QUARTER_S), [()])[0], QUARTER_S).room_c[:24].mean(axis=0)
    np.testing.assert_allclose(hour, quarter, atol=0.2)


def test_held_series_are_shared(house):
    case, layouts = house
    made = finer_supplies([layouts[0][0], layouts[0][0]], QUARTER_S)
    assert made[0].heat_limit_w is made[1].heat_limit_w
    assert replace(made[0]).heat_limit_w.shape == (4 * case.network.hours,)
