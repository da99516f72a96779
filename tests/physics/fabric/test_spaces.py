"""Attic, crawlspace, basement, garage and ground temperatures."""

from dataclasses import replace

import numpy as np
import pytest

from compare.house.plan import Boundary, Plan
from compare.physics.fabric import FabricOptions, drive_room, inside_masses, prepare_room
from compare.physics.fabric.spaces import (
    Attic,
    Balance,
    Ground,
    attic_c,
    balance_of,
    ground_c,
    ground_of_year,
    space_c,
    with_spaces,
)
from compare.physics.fabric.tables import films
from tests.physics import small_house
from tests.physics.fabric.rooms import ceiling, floor, made_up_drivers, room, steady_drivers, wall

BELOW = Plan(
    rooms=(room(ceiling(20.0, Boundary.ATTIC), floor(20.0, Boundary.CRAWLSPACE)), room(floor(20.0, Boundary.GARAGE))),
    partitions=(),
    links=(),
    open_spaces=((0,), (1,)),
)


def test_buffer_space_follows_the_handbook_balance():
    # ASHRAE Fundamentals 2021, ch. 17: tb = (Cs Q to + sum(A U tx) + q) / (Cs Q + sum(A U)), here with q = 0.
    flow_l_s, wall_w_k, ground_w_k, rooms_w_k = 50.0, 30.0, 20.0, 40.0
    outdoors_w_k = 1.23 * flow_l_s + wall_w_k
    expected_c = (outdoors_w_k * -5.0 + ground_w_k * 10.0 + rooms_w_k * 20.0) / (outdoors_w_k + ground_w_k + rooms_w_k)
    balance = Balance(rooms_w_k, outdoors_w_k, ground_w_k, 1.0e6)
    assert balance.steady_c(20.0, -5.0, 10.0) == pytest.approx(expected_c)
    hourly_c = space_c(balance, steady_drivers(-5.0), np.full(24, 10.0))
    assert np.allclose(hourly_c, expected_c)


def test_attic_in_the_dark_lies_between_outdoors_and_rooms():
    found_c = attic_c(Attic(40.0, 200.0, 0.85), steady_drivers(-10.0))
    assert -10.0 < found_c[0] < -5.0  # well vented: close to outdoors (common practice)
    assert np.ptp(found_c) < 1e-9


def test_attic_under_sun_is_hotter_the_darker_its_roof():
    drivers = made_up_drivers()
    dark_c, light_c = attic_c(Attic(40.0, 200.0, 0.92), drivers), attic_c(Attic(40.0, 200.0, 0.30), drivers)
    afternoon = np.arange(drivers.hours) % 24 == 13
    assert np.all(dark_c[afternoon] > light_c[afternoon] + 2.0)
    assert np.all(dark_c[afternoon] > drivers.dry_bulb_c[afternoon])


def test_clear_night_sky_cools_an_attic_below_outdoors():
    outdoors = steady_drivers(10.0)
    clear = replace(outdoors, sky_c=np.full(24, -10.0))
    assert attic_c(Attic(0.0, 200.0, 0.85), clear)[0] < 10.0
    assert attic_c(Attic(0.0, 200.0, 0.85), outdoors)[0] == pytest.approx(10.0)


def test_ground_of_a_pure_yearly_swing():
    hours = np.arange(8760)
    air_c = 10.0 - 12.0 * np.cos(2.0 * np.pi * (hours / 24.0 - 20.0) / 365.0)
    ground = ground_of_year(air_c)
    assert ground.mean_c == pytest.approx(10.0, abs=1e-6)
    assert ground.swing_k == pytest.approx(12.0, rel=1e-3)
    assert ground.coldest_day == pytest.approx(20.0, abs=0.6)


def test_ground_swing_fades_and_lags_with_depth():
    # Half-space under a sinusoid (Carslaw and Jaeger): at depth z the swing falls by exp(-m) and lags by m radians,
    # m = z sqrt(pi / (365 d a)); at the depth of 2 pi / m times z it is in phase again and exp(-2 pi) of the surface.
    ground = Ground(10.0, 12.0, 20.0)
    per_m = np.sqrt(np.pi / (365.0 * 86400.0 * 6.0e-7))
    day = np.linspace(0.0, 364.0, 365)
    surface_c, wave_c = ground_c(ground, day, 0.0), ground_c(ground, day, 2.0 * np.pi / per_m)
    assert day[np.argmin(surface_c)] == pytest.approx(20.0, abs=1.0)
    assert np.allclose((wave_c - 10.0) / (surface_c - 10.0 + 1e-12), np.exp(-2.0 * np.pi), atol=1e-6)
    assert np.ptp(ground_c(ground, day)) < np.ptp(surface_c)


def test_spaces_of_a_plan():
    drivers = with_spaces(BELOW, made_up_drivers(), Ground(10.0, 8.0, 20.0))
    assert set(drivers.boundary_c) == {Boundary.ATTIC, Boundary.CRAWLSPACE, Boundary.GARAGE, Boundary.GROUND}
    for behind_c in drivers.boundary_c.values():
        assert behind_c.shape == drivers.dry_bulb_c.shape
        assert np.all((behind_c > -10.0) & (behind_c < 60.0))
    assert balance_of(BELOW, Boundary.BASEMENT) is None
    assert drive_room(prepare_room(BELOW.rooms[0]), drivers).g0_w_k == pytest.approx(20.0 * 0.5, rel=0.1)


def test_slab_edge_loss_is_the_stated_one():
    # ASHRAE Fundamentals 2021, ch. 17: slab edge loss = Fp p dt; with the core path shut off and other surfaces as warm
    # as the air; 5 % for the film, which differs from the rated one.
    slab = floor(20.0, Boundary.GROUND, exposed_edge_m=9.0, edge_w_mk=0.85)
    options = FabricOptions(films(), core_m2k_w=1e9)
    warm = (replace(wall(45.0, 0.0), boundary=Boundary.ADIABATIC), ceiling(20.0, Boundary.ADIABATIC))
    assert prepare_room(room(slab, *warm), options=options).modes.g0_w_k == pytest.approx(9.0 * 0.85, rel=0.05)
    interior = prepare_room(room(floor(20.0, Boundary.GROUND), *warm))
    assert interior.modes.g0_w_k == pytest.approx(20.0 / 5.0, rel=0.15)


def test_partitions_and_floors_add_mass_and_no_loss():
    plan = small_house.small_plan(stair=True)
    for index, one in enumerate(plan.rooms):
        masses = inside_masses(plan, index)
        bare, full = prepare_room(one), prepare_room(one, masses)
        assert full.full.capacity_j_k.sum() > bare.full.capacity_j_k.sum()
        assert full.modes.g0_w_k == pytest.approx(bare.modes.g0_w_k, rel=0.15)
    shared_m2 = sum(wall.area_m2 for wall in plan.partitions)
    assert sum(m.area_m2 for i in range(len(plan.rooms)) for m in inside_masses(plan, i)) == pytest.approx(
        2 * shared_m2
    )
