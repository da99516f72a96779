"""The reduced room against the full room solved directly: exact with all branches, close with two."""

import numpy as np
import pytest

from compare.physics.fabric import Gains, drive_room, held_heat_w, prepare_room
from compare.physics.fabric.modes import run_periodic
from compare.physics.fabric.reduce import fit_branches, step_times_s
from tests.physics.fabric.rooms import branch_run, corner_room, direct_run, made_up_drivers, room, wall


@pytest.fixture(scope="module")
def prepared():
    return prepare_room(corner_room())


@pytest.fixture(scope="module")
def drivers():
    return made_up_drivers(hours=480)


@pytest.fixture(scope="module")
def gains(drivers):
    by_hour = np.where(np.arange(drivers.hours) % 24 > 17, 300.0, 50.0)
    return Gains(0.6 * by_hour, 0.4 * by_hour)


def test_all_branches_equal_the_direct_run(prepared, drivers, gains):
    # Oracle: dense implicit Euler over every node, floating air (numpy). The split is exact, so 1e-6 K after warm-up.
    fabric, modes = drive_room(prepared, drivers, gains), prepared.modes
    air_c, _ = branch_run(fabric, modes.branch_g_w_k, modes.branch_tau_s, drivers, warm_up_h=drivers.hours)
    direct = direct_run(prepared, drivers, gains, warm_up_h=drivers.hours)
    assert np.max(np.abs(air_c[-240:] - direct.air_c[-240:])) < 1e-6


def test_all_branches_equal_the_direct_run_under_set_points(prepared, drivers, gains):
    # Same oracle with ideal heating and cooling; 1e-6 of the largest heat.
    fabric, modes = drive_room(prepared, drivers, gains), prepared.modes
    _, heat_w = branch_run(
        fabric, modes.branch_g_w_k, modes.branch_tau_s, drivers, heat_c=20.0, cool_c=24.0, leak_w_k=9.0, warm_up_h=480
    )
    direct = direct_run(prepared, drivers, gains, heat_c=20.0, cool_c=24.0, leak_w_k=9.0, warm_up_h=480)
    assert np.max(np.abs(heat_w[-240:] - direct.heat_w[-240:])) < 1e-6 * np.max(np.abs(direct.heat_w))


@pytest.mark.parametrize(("count", "energy_frac", "temperature_k"), [(2, 0.003, 0.12), (1, 0.009, 0.48)])
def test_two_branches_are_close(prepared, drivers, gains, count, energy_frac, temperature_k):
    # Same oracle; bounds are three times what uniform trial rooms showed (0.1 % and 0.04 K; 0.3 % and 0.16 K with one).
    fabric = drive_room(prepared, drivers, gains, branches=count)
    given = {"heat_c": 20.0, "cool_c": 24.0, "leak_w_k": 9.0, "warm_up_h": 480}
    _, heat_w = branch_run(fabric, fabric.branch_g_w_k, fabric.branch_tau_s, drivers, **given)
    direct = direct_run(prepared, drivers, gains, **given)
    assert heat_w.clip(0).sum() == pytest.approx(direct.heat_w.clip(0).sum(), rel=energy_frac)
    floating_c, _ = branch_run(fabric, fabric.branch_g_w_k, fabric.branch_tau_s, drivers, warm_up_h=480)
    free = direct_run(prepared, drivers, gains, warm_up_h=480)
    assert np.max(np.abs(floating_c - free.air_c)) < temperature_k


def test_held_heat_equals_the_direct_run(prepared, drivers, gains):
    # Same oracle with the air held at 20 degC by ideal heat; what it must supply is minus the heat of the fabric.
    direct = direct_run(prepared, drivers, gains, heat_c=20.0, cool_c=20.0, warm_up_h=480)
    held_w = held_heat_w(prepared, drivers, gains)
    assert np.max(np.abs(held_w + direct.heat_w)) < 1e-5 * np.max(np.abs(held_w))


def test_held_at_another_temperature_by_superposition(prepared, drivers):
    # Linear fabric: a lasting rise of air by 4 K takes the steady conductance times 4 K.
    lifted_w = held_heat_w(prepared, drivers, held_c=24.0)
    assert np.allclose(lifted_w, held_heat_w(prepared, drivers) - 4.0 * prepared.modes.g0_w_k, atol=1e-9)


@pytest.mark.parametrize("hours", [24, 25, 47, 48, 240])
def test_periodic_run_equals_many_repeats(hours):
    # Oracle: the same implicit step in a plain loop until it repeats itself.
    draw = np.random.default_rng(hours)
    rate_per_s, forcing = np.array([3e-3, 1e-4, 2e-6]), draw.normal(size=(3, hours))
    state = np.zeros(3)
    for _ in range(4000 // hours + 1):
        last = []
        for hour in range(hours):
            state = (state + 3600.0 * forcing[:, hour]) / (1.0 + 3600.0 * rate_per_s)
            last.append(state)
    assert np.allclose(run_periodic(rate_per_s, forcing, 3600.0), np.array(last).T, rtol=1e-9, atol=1e-9)


def test_error_of_the_fit_is_the_largest_departure(prepared):
    # Recomputed from the modes: steady conductance plus decaying branches, at the times of the fit.
    modes, fitted = prepared.modes, fit_branches(prepared.modes, 2)
    times_s = step_times_s()
    full_w_k = modes.branch_g_w_k @ np.exp(-np.outer(modes.rate_per_s, times_s))
    short_w_k = fitted.g_w_k @ np.exp(-times_s / fitted.tau_s[:, None])
    worst = np.max(np.abs(full_w_k - short_w_k)) / (modes.g0_w_k + full_w_k[0])
    assert fitted.error_frac == pytest.approx(worst)
    assert fitted.error_frac < 0.01
    assert np.all(fitted.g_w_k >= 0.0)


def test_fit_is_as_good_as_a_library_optimiser(prepared):
    # Outside check: scipy.optimize least squares from many starts finds no better pair of branches (1 % of the sum).
    from scipy.optimize import least_squares

    modes, times_s = prepared.modes, step_times_s()
    target_w_k = modes.branch_g_w_k @ np.exp(-np.outer(modes.rate_per_s, times_s))

    def residual(x):
        return np.exp(x[:2]) @ np.exp(-times_s / np.exp(x[2:])[:, None]) - target_w_k

    best = min(
        least_squares(residual, [4.0, 4.0, np.log(a * 3600.0), np.log(b * 3600.0)]).cost
        for a, b in [(0.5, 5.0), (1.0, 20.0), (2.0, 80.0)]
    )
    fitted = fit_branches(modes, 2)
    ours = 0.5 * np.sum((fitted.g_w_k @ np.exp(-times_s / fitted.tau_s[:, None]) - target_w_k) ** 2)
    assert ours <= 1.01 * best + 1e-9


def test_only_one_or_two_branches(prepared):
    with pytest.raises(ValueError, match="count = 3"):
        fit_branches(prepared.modes, 3)


def test_a_room_without_surfaces_is_refused_by_name():
    with pytest.raises(ValueError, match=r"'corner room'.*at least one surface"):
        prepare_room(room())


def test_a_room_of_one_wall_works():
    assert prepare_room(room(wall(10.0, 0.0))).modes.g0_w_k > 0.0
