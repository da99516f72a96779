"""How the answer must change with the input: scaling, mirror, splitting, nothing in and nothing out, passivity."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.house.plan import Boundary, SurfaceKind
from compare.physics.fabric import (
    Drivers,
    Gains,
    design_options,
    drive_room,
    held_heat_by_part_w,
    held_heat_w,
    house_options,
    prepare_room,
    room_fabric,
)
from compare.physics.fabric.forcing import sources
from compare.physics.fabric.layers import construction
from tests.physics.fabric.rooms import (
    ceiling,
    corner_room,
    floor,
    made_up_drivers,
    room,
    steady_drivers,
    wall,
    window,
)

DRIVERS = made_up_drivers()

surfaces = st.lists(
    st.one_of(
        st.builds(wall, st.floats(1.0, 30.0), st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(0.1, 3.0)),
        st.builds(window, st.floats(0.3, 12.0), st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(0.7, 6.0)),
        st.builds(ceiling, st.floats(4.0, 60.0), st.just(Boundary.OUTDOORS), st.floats(0.1, 1.5)),
        st.builds(floor, st.floats(4.0, 60.0), st.just(Boundary.OUTDOORS), st.floats(0.1, 1.5)),
    ),
    min_size=1,
    max_size=8,
)


@settings(max_examples=40, deadline=None)
@given(surfaces)
def test_passive(found):
    # A passive network only damps: no conductance is negative, every time constant is positive.
    prepared = prepare_room(room(*found))
    fabric = drive_room(prepared, DRIVERS)
    assert fabric.g0_w_k > 0.0
    assert np.all(fabric.branch_g_w_k >= 0.0)
    assert np.all(fabric.branch_tau_s > 0.0)
    assert np.all(prepared.modes.rate_per_s > 0.0)
    assert np.isfinite(fabric.q20_w).all()


@settings(max_examples=30, deadline=None)
@given(surfaces, st.floats(0.2, 5.0))
def test_areas_scale_everything(found, factor):
    # All areas and the floor times k: heat, conductances and air capacity times k, time constants as they were.
    small = room_fabric(room(*found), DRIVERS)
    grown = [replace(s, area_m2=factor * s.area_m2) for s in found]
    large = room_fabric(room(*grown, area_m2=20.0 * factor), DRIVERS)
    scale_w = np.max(np.abs(small.q20_w))
    assert np.allclose(large.q20_w, factor * small.q20_w, atol=1e-7 * factor * scale_w)
    assert large.g0_w_k == pytest.approx(factor * small.g0_w_k)
    assert large.air_j_k == pytest.approx(factor * small.air_j_k)
    assert np.allclose(large.branch_g_w_k, factor * small.branch_g_w_k, rtol=1e-4)
    assert np.allclose(large.branch_tau_s, small.branch_tau_s, rtol=1e-4)


@settings(max_examples=30, deadline=None)
@given(surfaces)
def test_mirrored_house_under_mirrored_sun(found):
    turned = [replace(s, azimuth_deg=(360.0 - s.azimuth_deg) % 360.0) for s in found]
    here = held_heat_w(prepare_room(room(*found)), DRIVERS)
    there = held_heat_w(prepare_room(room(*turned)), made_up_drivers(mirror=True))
    assert np.allclose(here, there, atol=1e-8 * (1.0 + np.max(np.abs(here))))


@settings(max_examples=30, deadline=None)
@given(surfaces, st.floats(0.1, 0.9))
def test_one_surface_split_in_two(found, share):
    first = found[0]
    split = [replace(first, area_m2=share * first.area_m2), replace(first, area_m2=(1.0 - share) * first.area_m2)]
    whole = held_heat_w(prepare_room(room(*found)), DRIVERS)
    parts = held_heat_w(prepare_room(room(*split, *found[1:])), DRIVERS)
    assert np.allclose(whole, parts, atol=1e-8 * (1.0 + np.max(np.abs(whole))))


@settings(max_examples=20, deadline=None)
@given(surfaces, st.randoms())
def test_order_of_surfaces_changes_nothing(found, chance):
    shuffled = list(found)
    chance.shuffle(shuffled)
    here, there = held_heat_w(prepare_room(room(*found)), DRIVERS), held_heat_w(prepare_room(room(*shuffled)), DRIVERS)
    assert np.allclose(here, there, atol=1e-8 * (1.0 + np.max(np.abs(here))))


@settings(max_examples=20, deadline=None)
@given(surfaces)
def test_nothing_in_nothing_out(found):
    # Indoors as outdoors, sky as warm as the air, no sun, no gains: no heat.
    assert np.max(np.abs(held_heat_w(prepare_room(room(*found)), steady_drivers(20.0)))) < 1e-9


@settings(max_examples=20, deadline=None)
@given(surfaces, st.floats(-30.0, 15.0), st.floats(0.1, 10.0))
def test_a_colder_day_never_lowers_the_loss(found, outdoor_c, colder_k):
    prepared = prepare_room(room(*found))
    mild_w = -held_heat_w(prepared, steady_drivers(outdoor_c))
    cold_w = -held_heat_w(prepared, steady_drivers(outdoor_c - colder_k))
    assert np.all(cold_w > mild_w)
    assert np.allclose(mild_w, prepared.modes.g0_w_k * (20.0 - outdoor_c))


@settings(max_examples=20, deadline=None)
@given(st.floats(0.1, 2.0), st.floats(0.01, 1.0))
def test_more_insulation_never_raises_the_loss(u_w_m2k, less_w_m2k):
    good = prepare_room(room(wall(20.0, 0.0, u_w_m2k), floor(20.0)))
    poor = prepare_room(room(wall(20.0, 0.0, u_w_m2k + less_w_m2k), floor(20.0)))
    assert poor.modes.g0_w_k > good.modes.g0_w_k


def test_parts_sum_to_the_whole():
    gains = Gains(np.full(240, 60.0), np.full(240, 40.0))
    prepared = prepare_room(corner_room())
    parts = held_heat_by_part_w(prepared, DRIVERS, gains, held_c=24.0)
    assert set(parts) == {"wall", "ceiling", "floor", "window glass", "sun through glass", "inside gains"}
    assert np.allclose(sum(parts.values()), held_heat_w(prepared, DRIVERS, gains, held_c=24.0), atol=1e-9)


def test_mean_heat_equals_the_steady_state_of_mean_sources():
    # Energy over a whole period: nothing is stored, so the mean is the steady state of the means (dense solve, numpy).
    prepared = prepare_room(corner_room())
    gains = Gains(np.linspace(0.0, 200.0, 240), np.linspace(100.0, 0.0, 240))
    full = prepared.full
    mean_w, to_air_w = np.zeros_like(full.capacity_j_k), 0.0
    for one in sources(full, DRIVERS, gains, 20.0):
        mean_w += one.weight_frac * one.heat_w.mean()
        to_air_w += one.air_frac * one.heat_w.mean()
    nodes_k = np.linalg.solve(full.conductance_w_k, mean_w)
    expected_w = full.air_coupling_w_k @ nodes_k + to_air_w
    assert held_heat_w(prepared, DRIVERS, gains).mean() == pytest.approx(expected_w, rel=1e-9)


def test_gains_all_reach_air_or_leave_through_the_envelope():
    # First law in the steady state: 100 W of gains = heat to the held air + heat through boundaries (dense balance).
    prepared = prepare_room(corner_room())
    gains = Gains(np.full(24, 100.0), np.zeros(24))
    q_w = held_heat_w(prepared, steady_drivers(20.0), gains)[-1]
    full = prepared.full
    source_w = np.zeros_like(full.capacity_j_k)
    source_w[full.star] = 100.0
    nodes_k = np.linalg.solve(full.conductance_w_k, source_w)
    boundary_w_k = full.conductance_w_k.sum(axis=1) - full.air_coupling_w_k
    assert q_w + boundary_w_k @ nodes_k == pytest.approx(100.0, rel=1e-9)
    assert 80.0 < q_w < 100.0


def test_sun_of_the_room_is_all_accounted_for():
    # Absorbed inside + given to air + out through glass = 1; nothing negative.
    full = prepare_room(corner_room()).full
    kept_frac = full.sun_node_frac.sum() + full.sun_air_frac
    assert np.all(full.sun_node_frac >= 0.0)
    assert 0.9 < kept_frac < 1.0


def test_interior_shade_scales_sun_only():
    bare = prepare_room(room(window(4.0, 180.0), floor(20.0)))
    shaded = prepare_room(room(window(4.0, 180.0, shade_frac=0.5), floor(20.0)))
    a, b = held_heat_by_part_w(bare, DRIVERS), held_heat_by_part_w(shaded, DRIVERS)
    assert np.allclose(b["sun through glass"], 0.5 * a["sun through glass"])
    assert np.allclose(b["window glass"], a["window glass"])


def test_an_overhang_takes_summer_sun_and_never_adds():
    bare = prepare_room(room(window(4.0, 180.0), floor(20.0)))
    shaded = prepare_room(room(window(4.0, 180.0, overhang_depth_m=0.8, overhang_above_m=0.2), floor(20.0)))
    a = held_heat_by_part_w(bare, DRIVERS)["sun through glass"].sum()
    b = held_heat_by_part_w(shaded, DRIVERS)["sun through glass"].sum()
    assert 0.2 * a < b < 0.9 * a


def test_unequal_arrays_are_refused():
    with pytest.raises(ValueError, match="sky_c has shape"):
        Drivers(np.zeros(24), np.zeros(23), {}, np.zeros(24), np.zeros(24))
    with pytest.raises(ValueError, match="dry_bulb_c holds a value that is not"):
        Drivers(np.full(24, np.nan), np.zeros(24), {}, np.zeros(24), np.zeros(24))
    with pytest.raises(ValueError, match=r"gains\.radiant_w has shape"):
        held_heat_w(prepare_room(corner_room()), DRIVERS, Gains(np.zeros(3), np.zeros(240)))


def test_missing_boundary_or_face_is_named():
    attic = prepare_room(room(ceiling(20.0, Boundary.ATTIC)))
    with pytest.raises(KeyError, match="vented attic"):
        held_heat_w(attic, DRIVERS)
    skewed = prepare_room(room(wall(10.0, 45.0)))
    with pytest.raises(KeyError, match=r"azimuth 45\.0"):
        held_heat_w(skewed, DRIVERS)


def test_furnishings_follow_the_floor_area():
    bare = replace(house_options(), furnishings_j_m2k=0.0)
    plain = prepare_room(corner_room(), options=bare).full.air_j_k
    assert prepare_room(corner_room()).full.air_j_k - plain == pytest.approx(20.0 * 9199.0)


def test_stated_layers_replace_the_u_value():
    # ISO 6946: the steady loss of a wall is that of its layers, whatever U-value the plan carries.
    layers = construction("masonry wall")
    options = replace(house_options(), layers={(SurfaceKind.WALL, Boundary.OUTDOORS): layers})
    a = prepare_room(room(wall(20.0, 0.0, 0.3), floor(20.0)), options=options)
    b = prepare_room(room(wall(20.0, 0.0, 2.0), floor(20.0)), options=options)
    assert a.modes.g0_w_k == pytest.approx(b.modes.g0_w_k)
    stretched = wall(20.0, 0.0, layers.u_w_m2k(0.15), massive=True)
    assert prepare_room(room(stretched, floor(20.0))).modes.g0_w_k == pytest.approx(a.modes.g0_w_k, rel=1e-6)


def test_design_winter_wind_raises_the_loss():
    calm, windy = prepare_room(corner_room()), prepare_room(corner_room(), options=design_options(winter=True))
    assert calm.modes.g0_w_k < windy.modes.g0_w_k < 1.15 * calm.modes.g0_w_k


def test_quarter_hours_give_the_same_mean():
    # The mean over a period does not depend on the step (steady state of the means); series only get smoother by less.
    prepared = prepare_room(corner_room())
    fine = Drivers(
        np.repeat(DRIVERS.dry_bulb_c, 4),
        np.repeat(DRIVERS.sky_c, 4),
        {},
        np.repeat(DRIVERS.sun_altitude_deg, 4),
        np.repeat(DRIVERS.sun_azimuth_deg, 4),
        step_s=900.0,
    )
    hourly_w, quarter_w = held_heat_w(prepared, replace(DRIVERS, sun={})), held_heat_w(prepared, fine)
    assert quarter_w.mean() == pytest.approx(hourly_w.mean(), rel=1e-9)
    assert np.corrcoef(quarter_w[3::4], hourly_w)[0, 1] > 0.99
