"""The Standard 140 adapter itself, and the energy balance of its box in the year kernel, under invented weather."""

from dataclasses import replace

import numpy as np
import pytest

from compare.physics.fabric import drive_room
from compare.physics.validation.standard140 import Row, case_figures, run_case
from compare.physics.validation.standard140_box import (
    AIR_J_K,
    LEAK_W_K_PER_AIR_CHANGE,
    box_gains,
    box_room,
    prepared_box,
)
from compare.physics.validation.standard140_cases import case_named, cases
from tests.physics.fabric.rooms import branch_run, made_up_drivers

DRIVERS = made_up_drivers(hours=720)


@pytest.mark.parametrize("name", ["600", "900", "200", "640"])
def test_energy_of_the_year_is_conserved(name):
    # First law over the whole run: heat supplied + heat of the fabric + leakage = heat stored in the air, each hour and
    # in sum; masses follow the air by their own law. Traces are single precision: 1e-4 of the largest flow.
    case = case_named(name)
    fabric = drive_room(prepared_box(case), DRIVERS, box_gains(case, DRIVERS))
    room_c, supply_w = run_case(case, fabric, DRIVERS)
    leak_w_k = LEAK_W_K_PER_AIR_CHANGE * case.air_changes_per_h
    masses_c = fabric.masses_c(np.concatenate([room_c, room_c]), DRIVERS.step_s)[DRIVERS.hours :]
    flow_w = (
        supply_w
        + fabric.q20_w
        - fabric.g0_w_k * (room_c - 20.0)
        + leak_w_k * (DRIVERS.dry_bulb_c - room_c)
        + ((masses_c - room_c[:, None]) * fabric.branch_g_w_k).sum(axis=1)
    )
    stored_w = fabric.air_j_k * np.diff(room_c) / DRIVERS.step_s
    largest_w = np.max(np.abs(supply_w))
    assert np.max(np.abs(flow_w[1:] - stored_w)[48:]) < 1e-3 * largest_w
    assert abs((flow_w[1:] - stored_w)[48:].sum()) < 1e-4 * np.abs(supply_w).sum()


def test_kernel_takes_the_same_step_as_plain_code():
    # Oracle: the published hourly step in a plain loop, double precision; 0.01 K and 0.1 % after the first two weeks.
    case = case_named("900")
    fabric = drive_room(prepared_box(case), DRIVERS, box_gains(case, DRIVERS))
    room_c, supply_w = run_case(case, fabric, DRIVERS)
    given = {"heat_c": 20.0, "cool_c": 27.0, "leak_w_k": 18.0, "warm_up_h": 336}
    plain_c, plain_w = branch_run(fabric, fabric.branch_g_w_k, fabric.branch_tau_s, DRIVERS, **given)
    assert np.max(np.abs(room_c - plain_c)[336:]) < 0.01
    assert supply_w[336:].clip(0).sum() == pytest.approx(plain_w[336:].clip(0).sum(), rel=1e-3)


def test_box_has_the_published_size():
    room = box_room(case_named("600"))
    assert room.volume_m3 == pytest.approx(129.6)
    windows_m2 = sum(s.area_m2 for s in room.surfaces if s.shgc_frac > 0.0 or s.kind.value == "window")
    assert windows_m2 == pytest.approx(12.0)
    assert sum(s.area_m2 for s in room.surfaces) == pytest.approx(2 * 48.0 + 2 * 8 * 2.7 + 2 * 6 * 2.7)
    by_density_j_k = 129.6 * 0.987 * 1006.0  # density at 1650 m and 20 degC
    assert by_density_j_k == pytest.approx(AIR_J_K, rel=0.01)


def test_free_case_gives_temperatures_and_the_others_loads():
    assert set(case_figures(case_named("900FF"), DRIVERS)) == {
        "lowest temperature",
        "mean temperature",
        "highest temperature",
    }
    assert len(case_figures(case_named("195"), DRIVERS)) == 4


def test_faults_are_named():
    with pytest.raises(KeyError, match=r"case '960'.*600FF"):
        case_named("960")
    with pytest.raises(ValueError, match=r"opening 'skylight' is not one of none, panel south"):
        prepared_box(replace(case_named("600"), opening="skylight"))
    assert len({case.name for case in cases()}) == 24


def test_distance_from_a_range():
    row = Row("x", "annual heating", "MWh", 1.1, 0.8, 1.0, "test")
    assert row.inside is False
    assert row.off_frac == pytest.approx(0.1)
    assert replace(row, value=0.9).off_frac == 0.0
    assert replace(row, low=None, high=None).inside is None
