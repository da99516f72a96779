"""The network of a house: symmetric links, door states, conserved leakage, and the secant step."""

import numpy as np
import pytest

from compare.climate.year import Site, WeatherSource, WeatherYear
from compare.house.plan import LinkKind
from compare.physics.assemble import (
    NetworkOptions,
    laws_of,
    leaks_of,
    link_errors,
    network_of,
    partition_matrix_w_k,
    relinearised,
)
from compare.physics.leakage import Envelope, tightness_from_blower_door
from compare.physics.room import RoomFabric
from compare.physics.steady import steady_heat_w, steady_state_c
from compare.physics.ventilation import HouseAir
from tests.physics.small_house import small_plan

HOURS = 24 * 20
AIR = HouseAir(tightness_from_blower_door(8.0, 149.0, Envelope(1, 3, crawlspace=False, eaves_m=2.5)))
OPTIONS = NetworkOptions(AIR)
WALL_W_K = (7.0 - 0.81 * 2.03) * 1.8
"""Wall between hall and bedroom without the leaf of its door."""


def _weather(mean_c=0.0):
    hours = np.arange(HOURS)
    dry_c = mean_c + 6.0 * np.cos((hours - 15) / 24 * 2 * np.pi) + 12.0 * (hours >= HOURS // 2)
    flat = np.zeros(HOURS)
    return WeatherYear(
        site=Site(40.0, -105.0, -7.0, 1600.0, "invented"),
        dry_bulb_c=dry_c,
        dew_point_c=dry_c - 4.0,
        pressure_pa=np.full(HOURS, 83_500.0),
        global_horizontal_w_m2=flat,
        direct_normal_w_m2=flat,
        diffuse_horizontal_w_m2=flat,
        wind_m_s=3.0 + 2.0 * np.sin(hours / 7.0),
        sky_c=dry_c - 12.0,
        source=WeatherSource.SYNTHETIC,
        provenance="invented for a test",
        latent_ok=False,
        key="test",
    )


def _fabrics(plan, hours=HOURS):
    return [
        RoomFabric(
            g0_w_k=10.0 + index,
            branch_g_w_k=np.array([20.0, 60.0]),
            branch_tau_s=np.array([3600.0, 36000.0]),
            air_j_k=2e5,
            q20_w=np.full(hours, -150.0 * (1 + index % 2)),
            reduction_error_frac=0.01,
            mean_radiant=None,
        )
        for index, _ in enumerate(plan.rooms)
    ]


def test_links_are_symmetric_without_diagonal():
    for stair in (False, True):
        plan = small_plan(stair=stair)
        network = network_of(plan, _fabrics(plan), _weather(10.0), OPTIONS)
        assert network.link_w_k.shape[0] == (4 if stair else 2)
        np.testing.assert_array_equal(network.link_w_k, np.swapaxes(network.link_w_k, 1, 2))
        assert not np.diagonal(network.link_w_k, axis1=1, axis2=2).any()
        assert (network.link_w_k >= partition_matrix_w_k(plan)).all()
        assert network.door_state.max() == network.link_w_k.shape[0] - 1


def test_doors_follow_night_and_day():
    # Shut at night, open 0.7 of the day: the mean of the two conductances by time.
    plan = small_plan()
    network = network_of(plan, _fabrics(plan), _weather(), OPTIONS)
    law = laws_of(plan, 1600.0, OPTIONS)[1]
    open_w_k = law.open_w_k15 * np.sqrt(law.first_k)
    day, night = network.link_w_k[0, 1, 2] - WALL_W_K, network.link_w_k[1, 1, 2] - WALL_W_K
    assert night == pytest.approx(law.shut_w_k)
    assert day == pytest.approx(0.7 * open_w_k + 0.3 * law.shut_w_k)
    np.testing.assert_array_equal(network.door_state[:24], [1] * 7 + [0] * 15 + [1] * 2)


def test_leakage_of_rooms_sums_to_the_house():
    plan = small_plan()
    weather = _weather()
    network = network_of(plan, _fabrics(plan), weather, OPTIONS)
    leaks = leaks_of(weather, OPTIONS)
    np.testing.assert_allclose(network.leak_w_k.sum(axis=1), leaks.level_w_k)
    difference_k = 21.1 - weather.dry_bulb_c
    flow = AIR.sensible_flow_m3_s(difference_k, weather.wind_m_s)
    # dry air of 1.204 kg/m3 x 1006 J/kgK at sea level, thinner by the standard atmosphere at 1,600 m (0.824); 1.5 %
    exact_w = (flow * 1.204 * 1006.0 * 0.824 * difference_k).sum()
    assert (network.leak_w_k.sum(axis=1)[network.leak_level] * difference_k).sum() == pytest.approx(exact_w, rel=0.015)
    assert leaks.heat_error_frac < 1e-9
    assert leaks.hour_error_frac < 0.1


def test_rooms_left_alone_come_to_one_temperature_without_loss():
    # Conservation: no fabric loss, no leakage, links only -> all rooms end at the held room's temperature.
    plan = small_plan(stair=True)
    network = network_of(plan, _fabrics(plan), _weather(), OPTIONS)
    tight = type(network)(
        **{name: getattr(network, name) for name in network.__slots__ if name not in ("g0_w_k", "q20_w", "leak_w_k")}
        | {"g0_w_k": np.zeros(5), "q20_w": np.zeros((HOURS, 5)), "leak_w_k": np.zeros_like(network.leak_w_k)}
    )
    np.testing.assert_allclose(steady_state_c(tight, 3, held_c={0: 21.0}), 21.0, atol=1e-9)


def test_steady_heat_closes_the_balance():
    # What all rooms need to stay at 21 degC equals fabric plus leakage losses: links cancel.
    plan = small_plan(stair=True)
    network = network_of(plan, _fabrics(plan), _weather(), OPTIONS)
    hour = 5
    need_w = steady_heat_w(network, hour, np.array([21.0, 19.0, 20.0, 17.0, 22.0]))
    room_c = np.array([21.0, 19.0, 20.0, 17.0, 22.0])
    fabric_w = network.g0_w_k * (room_c - 20.0) - network.q20_w[hour]
    leak_w = network.leak_w_k[network.leak_level[hour]] * (room_c - network.outdoor_c[hour])
    assert need_w.sum() == pytest.approx((fabric_w + leak_w).sum())
    np.testing.assert_allclose(steady_state_c(network, hour, gain_w=need_w), room_c, atol=1e-9)


def test_opening_a_door_warms_the_closed_room():
    # Metamorphic: a closed bedroom beside a held living room never gets colder when its door opens.
    shut, ajar = small_plan(night_open_frac=0.0), small_plan(night_open_frac=0.5)
    cold = [
        steady_state_c(network_of(plan, _fabrics(plan), _weather(), OPTIONS), 3, held_c={0: 21.0})[2]
        for plan in (shut, ajar)
    ]
    assert cold[1] > cold[0]


def test_relinearised_uses_the_run():
    plan = small_plan(stair=True)
    weather = _weather()
    network = network_of(plan, _fabrics(plan), weather, OPTIONS)
    room_c = np.tile(np.array([21.0, 20.5, 17.0, 16.0, 19.0], dtype=np.float32), (HOURS, 1))
    again = relinearised(network, plan, 1600.0, OPTIONS, room_c)
    law = laws_of(plan, 1600.0, OPTIONS)[1]
    day = 0.7 * law.open_w_k15 * np.sqrt(3.5) + 0.3 * law.shut_w_k
    assert again.link_w_k[0, 1, 2] - WALL_W_K == pytest.approx(day, rel=1e-5)
    np.testing.assert_array_equal(again.link_w_k, np.swapaxes(again.link_w_k, 1, 2))
    errors = link_errors(plan, 1600.0, OPTIONS, weather.dry_bulb_c, room_c)
    assert [error.label for error in errors] == [link.label for link in plan.links]
    assert max(error.error_frac for error in errors) < 1e-5


def test_error_of_the_linear_law_is_seen():
    plan = small_plan()
    weather = _weather()
    swing = 2.0 + 1.5 * np.sin(np.arange(HOURS) / 24 * 2 * np.pi)
    room_c = np.column_stack([np.full(HOURS, 21.0), np.full(HOURS, 21.0), 21.0 - swing, 21.0 - swing])
    door = [
        e
        for e, link in zip(link_errors(plan, 1600.0, OPTIONS, weather.dry_bulb_c, room_c), plan.links, strict=True)
        if link.kind is LinkKind.DOOR
    ]
    assert 0.05 < door[0].error_frac < 0.4


def test_unequal_input_is_refused():
    plan = small_plan()
    with pytest.raises(ValueError, match="room fabrics"):
        network_of(plan, _fabrics(plan)[:-1], _weather(), OPTIONS)
    with pytest.raises(ValueError, match="480 hours"):
        network_of(plan, _fabrics(plan, 24), _weather(), OPTIONS)
