"""How answers must change with their input: metamorphic relations (Segura et al., IEEE TSE 2016) and conservation.

Each property stands for a sentence of physics that needs no outside figure: linear parts scale, names and order do not
matter, nothing in gives nothing out, insulation never raises a loss, what is stored came in.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.climate.design_day import cooling_design_day
from compare.house.plan import Boundary, Link, LinkKind, Partition, Plan, SurfaceKind
from compare.loads.case import LoadCase
from compare.loads.cooling import cooling_days
from compare.loads.heating import heating_parts_w
from compare.loads.house_loads import design_loads
from compare.loads.second_opinion import second_opinion
from compare.physics import kernel_numpy
from compare.physics.doors import DoorModel, exchange_flow_m3_s, link_laws, shut_conductance_w_k
from compare.physics.fabric.drivers import Face, faces_of
from compare.physics.fabric.parts import inside_masses
from compare.physics.fabric.room import held_heat_w, prepare_room
from compare.physics.fabric.spaces import with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.leak_levels import leak_levels
from compare.physics.leakage import room_shares_frac, site_flow_m3_s
from compare.physics.network import Network
from compare.physics.steady import steady_heat_w, steady_state_c
from compare.physics.ventilation import Ventilation, combined_flow_m3_s
from compare.physics.year import TOLERANCE_W, simulate, step_matrices
from tests.physics.plans import cases
from tests.physics.test_year import supply, winter_house

heavy = settings(max_examples=15, deadline=None)
light = settings(max_examples=100, deadline=None)


def changed(case: LoadCase, change) -> LoadCase:
    """The case with every surface changed."""
    plan = case.plan
    rooms = tuple(replace(room, surfaces=tuple(change(face) for face in room.surfaces)) for room in plan.rooms)
    return replace(case, plan=replace(plan, rooms=rooms))


def transmission_w(case: LoadCase) -> float:
    return sum(sum(parts.values()) - parts["air"] for parts in heating_parts_w(case))


def heating_w(case: LoadCase) -> float:
    return sum(sum(parts.values()) for parts in heating_parts_w(case))


@light
@given(cases(), st.floats(0.2, 5.0))
def test_areas_times_k_give_transmission_times_k(case, factor):
    def grown(face):
        return replace(face, area_m2=face.area_m2 * factor, exposed_edge_m=face.exposed_edge_m * factor)

    assert transmission_w(changed(case, grown)) == pytest.approx(factor * transmission_w(case), rel=1e-9, abs=1e-6)


@light
@given(cases())
def test_no_difference_gives_no_heating_load(case):
    warm = replace(case.design, heating_99_c=case.heating_c)
    level = replace(case, design=warm, ground=replace(case.ground, mean_c=case.heating_c, swing_k=0.0))
    assert heating_w(level) == pytest.approx(0.0, abs=1e-7)


@light
@given(cases(), st.sampled_from(list(SurfaceKind)), st.floats(0.1, 1.0))
def test_more_insulation_never_raises_the_heating_of_the_house(case, kind, less):
    # Buried surfaces may be warmed by the ground in mild places, so the house is asked with the ground no warmer than
    # its rooms; the sum of the house counts, because a colder attic may cost a neighbour a little.
    cold = replace(case, ground=replace(case.ground, mean_c=min(case.ground.mean_c, 18.0), swing_k=2.0))
    better = changed(cold, lambda f: replace(f, u_w_m2k=f.u_w_m2k * less) if f.kind is kind else f)
    assert transmission_w(better) <= transmission_w(cold) + 1e-6


@light
@given(cases(), st.floats(0.0, 20.0))
def test_a_colder_design_day_never_lowers_a_rooms_load(case, colder_k):
    colder = replace(case, design=replace(case.design, heating_99_c=case.design.heating_99_c - colder_k))
    for parts, more in zip(heating_parts_w(case), heating_parts_w(colder), strict=True):
        assert sum(more.values()) >= sum(parts.values()) - 1e-6


@light
@given(cases(), st.floats(0.0, 3.0))
def test_a_warmer_house_never_needs_less_heat(case, warmer_k):
    warmer = replace(case, heating_c=case.heating_c + warmer_k)
    assert heating_w(warmer) >= heating_w(case) - 1e-6


@light
@given(cases(), st.floats(1.0, 3.0))
def test_a_leakier_house_never_needs_less_heat(case, times):
    tight = case.air.tightness
    leaky = replace(tight, coefficient_m3_s=tight.coefficient_m3_s * times)
    assert heating_w(replace(case, air=replace(case.air, tightness=leaky))) >= heating_w(case) - 1e-9


@light
@given(cases(), st.integers(0, 2**32 - 1))
def test_order_and_names_change_no_second_opinion(case, seed):
    other, order = shuffled(case, seed)
    ours, theirs = second_opinion(case).rooms, second_opinion(other).rooms
    for new, old in enumerate(order):
        assert theirs[new].heat_w == pytest.approx(ours[old].heat_w, rel=1e-9, abs=1e-9)
        assert theirs[new].cool_sensible_w == pytest.approx(ours[old].cool_sensible_w, rel=1e-9, abs=1e-9)


@heavy
@given(cases(), st.integers(0, 2**32 - 1))
def test_order_and_names_change_no_load(case, seed):
    other, order = shuffled(case, seed)
    ours, theirs = design_loads(case).rooms, design_loads(other).rooms
    for new, old in enumerate(order):
        assert theirs[new].heat_w == pytest.approx(ours[old].heat_w, rel=1e-9, abs=1e-9)
        assert theirs[new].cool_sensible_w == pytest.approx(ours[old].cool_sensible_w, rel=1e-9, abs=1e-6)
        assert theirs[new].cool_latent_w == pytest.approx(ours[old].cool_latent_w, rel=1e-9, abs=1e-9)


def shuffled(case: LoadCase, seed: int) -> tuple[LoadCase, list[int]]:
    """The same house with rooms, and surfaces in rooms, in another order and under other names."""
    dice = np.random.default_rng(seed)
    plan = case.plan
    order = [int(index) for index in dice.permutation(len(plan.rooms))]
    place = {old: new for new, old in enumerate(order)}
    rooms = tuple(
        replace(
            plan.rooms[old],
            name=f"other {new}",
            surfaces=tuple(plan.rooms[old].surfaces[i] for i in dice.permutation(len(plan.rooms[old].surfaces))),
        )
        for new, old in enumerate(order)
    )
    partitions = tuple(replace(part, a=place[part.a], b=place[part.b]) for part in plan.partitions)
    links = tuple(replace(link, a=place[link.a], b=place[link.b]) for link in plan.links)
    other = Plan(rooms, partitions, links, tuple((index,) for index in range(len(rooms))))
    return replace(case, plan=other), order


@heavy
@given(cases(most=2), st.floats(0.1, 0.9))
def test_one_surface_split_in_two_is_the_same_surface(case, share):
    def pieces(face):
        return [
            replace(face, area_m2=part * face.area_m2, exposed_edge_m=part * face.exposed_edge_m)
            for part in (share, 1.0 - share)
        ]

    plan = case.plan
    rooms = tuple(replace(r, surfaces=tuple(p for face in r.surfaces for p in pieces(face))) for r in plan.rooms)
    other = replace(case, plan=replace(plan, rooms=rooms))
    for ours, theirs in zip(design_loads(case).rooms, design_loads(other).rooms, strict=True):
        assert theirs.heat_w == pytest.approx(ours.heat_w, rel=1e-9, abs=1e-9)
        assert theirs.cool_sensible_w == pytest.approx(ours.cool_sensible_w, rel=1e-6, abs=1e-6)


@heavy
@given(cases(most=2))
def test_mirrored_house_under_a_mirrored_sun_path(case):
    # The bearings of every surface turned to the other hand, and the sun of each face taken from its mirror image.
    day = cooling_design_day(case.design)
    mirrored = changed(case, lambda face: replace(face, azimuth_deg=(360.0 - face.azimuth_deg) % 360.0))
    plain = _drivers(case, day, faces_of((*case.plan.rooms, *mirrored.plan.rooms)))
    path_deg = (360.0 - plain.sun_azimuth_deg) % 360.0
    turned = replace(plain, sun={_mirror(face): sun for face, sun in plain.sun.items()}, sun_azimuth_deg=path_deg)
    for index, (room, other) in enumerate(zip(case.plan.rooms, mirrored.plan.rooms, strict=True)):
        here = held_heat_w(prepare_room(room, inside_masses(case.plan, index)), plain, None, 24.0)
        there = held_heat_w(prepare_room(other, inside_masses(case.plan, index)), turned, None, 24.0)
        np.testing.assert_allclose(there, here, rtol=1e-9, atol=1e-6)


def _mirror(face: Face) -> Face:
    return Face.of(face.tilt_deg, (360.0 - face.azimuth_deg) % 360.0)


def _drivers(case, day, faces):
    return with_spaces(case.plan, drivers_from_year(day, faces), case.ground, day.first_day, rooms_c=24.0)


@heavy
@given(cases(most=2))
def test_sensible_parts_are_the_load_at_every_hour(case):
    # Conservation: the parts are the whole, and no hour of the peak day exceeds the stated peak.
    days, loads = cooling_days(case), design_loads(case)
    for index, room in enumerate(loads.rooms):
        assert sum(room.cool_parts_w.values()) == pytest.approx(days.sensible_w[:, index].max(), rel=1e-9, abs=1e-9)


@heavy
@given(cases())
def test_coincident_peaks_are_subadditive(case):
    # Together never more than apart, never less than the largest alone less what others give off.
    loads = design_loads(case)
    everyone = list(range(len(loads.rooms)))
    for cut in range(1, len(everyone)):
        first, second = everyone[:cut], everyone[cut:]
        parts = loads.group(first).cool_total_w + loads.group(second).cool_total_w
        assert loads.house.cool_total_w <= parts + 1e-6
    assert loads.house.heat_w == pytest.approx(sum(room.heat_w for room in loads.rooms))


@light
@given(st.floats(0.05, 8.0), st.floats(0.4, 3.0), st.floats(1.5, 3.0), st.floats(1.0, 4.0))
def test_door_heat_goes_with_the_power_one_and_a_half(difference_k, width_m, height_m, times):
    def heat(k):
        return float(exchange_flow_m3_s(width_m, height_m, k)) * k

    assert heat(times * difference_k) == pytest.approx(times**1.5 * heat(difference_k), rel=1e-9)


@light
@given(st.floats(0.0, 0.08), st.floats(0.0, 0.05), st.floats(0.5, 1.5))
def test_a_larger_gap_never_seals_a_shut_door(undercut_m, more_m, width_m):
    def shut(cut_m):
        return shut_conductance_w_k(Link(LinkKind.DOOR, 0, 1, width_m, 2.0, undercut_m=cut_m))

    assert shut(undercut_m + more_m) >= shut(undercut_m) - 1e-9


@light
@given(st.floats(0.02, 10.0), st.floats(0.6, 2.0))
def test_an_open_door_joins_more_than_a_shut_one(difference_k, width_m):
    link = Link(LinkKind.DOOR, 0, 1, width_m, 2.0)
    (law,) = link_laws([link], DoorModel())
    if difference_k >= 0.167:
        assert law.open_w_k15 * difference_k**0.5 > law.shut_w_k


@light
@given(cases(), st.floats(0.0, 30.0), st.floats(0.0, 15.0), st.floats(1.0, 2.0))
def test_leakage_rises_with_wind_and_difference(case, difference_k, wind_m_s, times):
    tight = case.air.tightness
    here = float(site_flow_m3_s(tight, difference_k, wind_m_s))
    assert float(site_flow_m3_s(tight, difference_k * times, wind_m_s)) >= here - 1e-12
    assert float(site_flow_m3_s(tight, difference_k, wind_m_s * times)) >= here - 1e-12
    assert float(site_flow_m3_s(tight, -difference_k, wind_m_s)) == pytest.approx(here)


@light
@given(cases())
def test_the_houses_leakage_is_the_sum_of_its_rooms(case):
    shares = room_shares_frac(case.plan.rooms)
    assert np.all(shares > 0.0)
    assert shares.sum() == pytest.approx(1.0, rel=1e-12)


@light
@given(st.floats(0.0, 0.3), st.floats(0.0, 0.2), st.floats(0.0, 0.2), st.floats(0.0, 0.95))
def test_fans_and_leaks_together(leak_m3_s, one_way_m3_s, balanced_m3_s, recovery):
    # Never less than any of them alone, never more than all; recovery only lowers the part that it passes.
    fans = Ventilation(one_way_m3_s, balanced_m3_s)
    whole = float(combined_flow_m3_s(leak_m3_s, fans, 0.0))
    assert max(leak_m3_s, one_way_m3_s) + balanced_m3_s - 1e-12 <= whole
    assert whole <= leak_m3_s + one_way_m3_s + balanced_m3_s + 1e-12
    saved = whole - float(combined_flow_m3_s(leak_m3_s, fans, recovery))
    assert saved == pytest.approx(balanced_m3_s * recovery, abs=1e-12)


@light
@given(st.integers(0, 2**32 - 1), st.integers(1, 8))
def test_leakage_levels_carry_the_years_heat(seed, levels):
    dice = np.random.default_rng(seed)
    conductance, difference = dice.uniform(5.0, 80.0, 400), dice.uniform(0.5, 40.0, 400)
    found = leak_levels(conductance, difference, levels)
    exact = float((conductance * difference).sum())
    assert float((found.level_w_k[found.index] * difference).sum()) == pytest.approx(exact, rel=1e-9)


seeds = st.integers(0, 500)
DAYS = 24 * 12


def small(seed: int, rooms: int = 3) -> Network:
    return winter_house(seed, rooms, DAYS)


def kernel_run(network: Network, layout):
    """A run in double precision by the slow kernel: room temperatures and supplies of one layout."""
    step = step_matrices(network)
    zones = max(len(layout), 1)
    shape = (zones, network.rooms, 1)
    share, sensor, mix = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    profile = np.zeros((zones, 1), dtype=np.uint32)
    tables = [[np.zeros(network.hours)], [np.zeros(network.hours)], [np.full(network.hours, -100.0)],
              [np.full(network.hours, 100.0)]]  # fmt: skip
    for zone, one in enumerate(layout):
        share[zone, :, 0], sensor[zone, :, 0] = one.share, one.sensor
        profile[zone, 0] = zone + 1
        for table, series in zip(
            tables, (one.heat_limit_w, one.cool_limit_w, one.heat_set_c, one.cool_set_c), strict=True
        ):
            table.append(series)
    room_out, supply_out = np.empty((network.hours, network.rooms, 1)), np.empty((network.hours, zones, 1))
    kernel_numpy.run_lanes(
        (step.inverse, step.ca_dt, step.c_e, step.e),
        (step.index, step.source),
        (share, sensor, mix, profile),
        tuple(np.stack(table, axis=1) for table in tables),
        TOLERANCE_W,
        0,
        room_out,
        supply_out,
    )
    return room_out[:, :, 0], supply_out[:, : len(layout), 0]


@heavy
@given(seeds)
def test_every_hour_of_every_room_is_in_balance(seed):
    # Conservation, target 0.01 W: gains + supplied + from neighbours and outdoors + from masses - stored = 0.
    network = small(seed)
    layout = [supply(network, [0], 2500.0, 2000.0), supply(network, [1, 2], 1500.0, 900.0)]
    room_c, supply_w = kernel_run(network, layout)
    air, masses = np.full(network.rooms, 20.0), np.full((2, network.rooms), 20.0)
    decay = (1.0 / (1.0 + network.step_s / network.branch_tau_s)).T
    worst = 0.0
    for hour in range(network.hours):
        new = room_c[hour]
        links = network.link_w_k[network.door_state[hour]]
        leak = network.leak_w_k[network.leak_level[hour]]
        new_masses = decay * masses + (1.0 - decay) * new
        flow = network.q20_w[hour] - network.g0_w_k * (new - 20.0) + leak * (network.outdoor_c[hour] - new)
        flow = flow + links @ new - links.sum(axis=1) * new
        flow = flow + (network.branch_g_w_k.T * (new_masses - new)).sum(axis=0)
        for zone, one in enumerate(layout):
            flow = flow + one.share * supply_w[hour, zone]
        worst = max(worst, float(np.abs(flow - network.air_j_k * (new - air) / network.step_s).max()))
        air, masses = new, new_masses
    assert worst < 0.01


@heavy
@given(seeds, st.floats(1.0, 3.0))
def test_a_larger_unit_never_leaves_a_room_colder(seed, times):
    network = small(seed)
    less, more = (simulate(network, [[supply(network, [0], heat, 0.0)]])[0] for heat in (800.0, 800.0 * times))
    assert np.all(more.room_c >= less.room_c - 0.02)


@heavy
@given(seeds, st.floats(0.0, 3.0))
def test_a_higher_set_point_never_saves_heat(seed, higher_k):
    network = small(seed)
    one = supply(network, [0], 4000.0, 0.0)
    warmer = replace(one, heat_set_c=one.heat_set_c + higher_k, cool_set_c=one.cool_set_c + higher_k)
    low, high = (simulate(network, [[s]])[0].supply_w.astype(np.float64).sum() for s in (one, warmer))
    assert high >= low - 1.0


@heavy
@given(seeds, st.floats(0.5, 8.0))
def test_a_colder_winter_never_saves_heat(seed, colder_k):
    network = small(seed)
    colder = replace(
        network,
        outdoor_c=network.outdoor_c - colder_k,
        q20_w=network.q20_w - colder_k * network.g0_w_k,
    )
    layout = [supply(network, [0], 1e5, 0.0)]
    mild, cold = (simulate(net, [layout])[0].supply_w.astype(np.float64).sum() for net in (network, colder))
    assert cold > mild


@heavy
@given(seeds, st.floats(0.3, 2.0))
def test_a_floating_house_is_linear(seed, factor):
    # Temperatures above 20 degC scale with every drive above 20 degC.
    network = small(seed)
    scaled = replace(
        network,
        q20_w=network.q20_w * factor,
        outdoor_c=20.0 + factor * (network.outdoor_c - 20.0),
    )
    one, other = (simulate(net, [()])[0].room_c.astype(np.float64) - 20.0 for net in (network, scaled))
    np.testing.assert_allclose(other, factor * one, atol=2e-3 * max(1.0, factor))


@heavy
@given(seeds)
def test_order_of_rooms_changes_no_year(seed):
    network = small(seed)
    order = np.random.default_rng(seed).permutation(network.rooms)
    turned = replace(
        network,
        g0_w_k=network.g0_w_k[order],
        branch_g_w_k=network.branch_g_w_k[order],
        branch_tau_s=network.branch_tau_s[order],
        air_j_k=network.air_j_k[order],
        q20_w=np.ascontiguousarray(network.q20_w[:, order]),
        link_w_k=network.link_w_k[:, order][:, :, order],
        leak_w_k=network.leak_w_k[:, order],
    )
    one = supply(network, [0], 2500.0, 2000.0)
    other = replace(one, share=one.share[order], sensor=one.sensor[order], mix_w_k=one.mix_w_k[order])
    here, there = simulate(network, [[one]])[0], simulate(turned, [[other]])[0]
    np.testing.assert_allclose(there.room_c, here.room_c[:, order], atol=2e-3)


@light
@given(seeds, st.floats(0.0, 1.0), st.floats(-25.0, 15.0))
def test_shutting_the_only_door_never_narrows_the_difference(seed, open_share, outdoor_c):
    # A served room and one behind its door, no gains: the steady difference grows as the door shuts.
    network = winter_house(seed, 2, 24)
    network = replace(
        network,
        q20_w=np.repeat((network.g0_w_k * (outdoor_c - 20.0))[None], 24, axis=0),
        outdoor_c=np.full(24, outdoor_c),
    )

    def gap(share):
        links = network.link_w_k[1] + share * (network.link_w_k[0] - network.link_w_k[1])
        temps = steady_state_c(replace(network, link_w_k=np.stack([links, links])), 0, {0: 21.0})
        return abs(float(temps[0] - temps[1]))

    assert gap(0.0) >= gap(open_share) - 1e-9


@light
@given(seeds, st.integers(0, 23))
def test_steady_heat_is_what_leaves_the_house(seed, hour):
    # Conservation: the sum over rooms has no inner flows left, only outdoors and the heat series.
    network = winter_house(seed, 4, 24)
    room_c = np.random.default_rng(seed).uniform(10.0, 25.0, 4)
    leak = network.leak_w_k[network.leak_level[hour]]
    lost = network.g0_w_k * (room_c - 20.0) + leak * (room_c - network.outdoor_c[hour]) - network.q20_w[hour]
    assert steady_heat_w(network, hour, room_c).sum() == pytest.approx(lost.sum(), rel=1e-9, abs=1e-9)


@light
@given(cases())
def test_slab_and_neighbours_use_no_u_value(case):
    # By definition of the method: a slab goes by its edge, a heated neighbour by nothing.
    def other(face):
        free = face.boundary in (Boundary.GROUND, Boundary.ADIABATIC)
        return replace(face, u_w_m2k=3.0 * face.u_w_m2k) if free and face.kind is not SurfaceKind.WALL else face

    assert transmission_w(changed(case, other)) == pytest.approx(transmission_w(case), rel=1e-12)


@light
@given(cases(), st.floats(0.2, 1.0))
def test_an_interior_shade_lowers_the_second_opinions_sun_alone(case, share):
    shaded = changed(case, lambda face: replace(face, shade_frac=share * face.shade_frac))
    for ours, theirs in zip(second_opinion(case).rooms, second_opinion(shaded).rooms, strict=True):
        assert theirs.cool_parts_w["sun"] == pytest.approx(share * ours.cool_parts_w["sun"], rel=1e-9, abs=1e-9)
        assert theirs.cool_parts_w["glass"] == pytest.approx(ours.cool_parts_w["glass"], rel=1e-12)


def test_partitions_move_no_heat_out_of_the_house():
    # Symmetry of the pair: what one room loses to the other, the other gains.
    network = winter_house(3, 4, 24)
    for links in network.link_w_k:
        np.testing.assert_array_equal(links, links.T)
        assert np.all(np.diag(links) == 0.0)
    assert Partition(0, 1, 5.0, 1.8).u_w_m2k == 1.8
