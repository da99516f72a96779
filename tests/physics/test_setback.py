"""Setback: how the house file says it, the set points that follow, and the recovery of a layout."""

from __future__ import annotations

import numpy as np
import pytest

from compare.house.problems import HouseFileError
from compare.house.reading import read_house, read_house_text
from compare.house.services import Comfort
from compare.offer import Sources
from compare.physics.network import Network, Supply
from compare.physics.recovery import recoveries, setback_year
from compare.physics.set_points import SetPointSeries, set_points, steps_an_hour
from compare.years.case import prepare
from tests.house.houses import TWO_STOREYS
from tests.physics.layouts import layouts_of

SETBACK = '[comfort]\nheating = "70 F"\ncooling = "75 F"\n[comfort.setback]\nhours = "22-06"\nheating = "63 F"\n'


def comfort_of(text: str) -> Comfort:
    return read_house_text(TWO_STOREYS + text, "house.toml").comfort


def test_the_house_file_says_it_in_its_own_table():
    # 63 F = 17.22 C, 70 F = 21.11 C.
    back = comfort_of(SETBACK).setback
    assert back.heating_c == pytest.approx(17.2222, abs=1e-3)
    assert back.cooling_c is None
    assert back.hours == {22, 23, 0, 1, 2, 3, 4, 5}
    assert comfort_of("").setback is None


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        (SETBACK.replace('heating = "63 F"\n', ""), "comfort.setback", "needs heating, cooling or both"),
        (SETBACK.replace("63 F", "74 F"), "comfort", "must not be above heating"),
        (SETBACK.replace('heating = "63 F"', "cooling = 70"), "comfort", "must not be below cooling"),
        (SETBACK.replace('"22-06"', '""'), "comfort.setback", "leave some of the day"),
        (SETBACK.replace('"22-06"', '"00-24"'), "comfort.setback", "leave some of the day"),
        (SETBACK.replace('"22-06"', '"ten to six"'), "comfort.setback.hours", "spans of whole hours"),
        (SETBACK.replace("63 F", "20 F"), "comfort.setback.heating", "must be between"),
        (SETBACK.replace("hours", "hour"), "comfort.setback.hour", "no such key here"),
    ],
)
def test_faults_are_named(text, path, words):
    with pytest.raises(HouseFileError) as caught:
        comfort_of(text.replace("cooling = 70", 'cooling = "70 F"'))
    assert any(problem.path == path and words in problem.message for problem in caught.value.problems)


def test_set_points_by_the_clock():
    hourly = set_points(comfort_of(SETBACK), 48)
    night = [hour + 24 * day for day in (0, 1) for hour in (0, 1, 2, 3, 4, 5, 22, 23)]
    assert np.flatnonzero(hourly.heat_c < 20.0).tolist() == night
    assert np.all(hourly.cool_c == pytest.approx(23.889, abs=1e-3))
    quarter = set_points(comfort_of(SETBACK), 96, 900.0)
    assert np.array_equal(quarter.heat_c, np.repeat(set_points(comfort_of(SETBACK), 24).heat_c, 4))
    assert hourly.rises.tolist() == [6, 30]
    assert hourly.falls.tolist() == []
    steady = set_points(comfort_of(""), 24)
    assert np.ptp(steady.heat_c) == 0.0
    with pytest.raises(ValueError, match="whole part of an hour"):
        steps_an_hour(1000.0)


def _one_room(hours: int, outdoor_c: float) -> Network:
    """A room of 100 W/K with 2 MJ/K of air and furnishings and no other mass."""
    return Network(
        room_names=("room",),
        g0_w_k=np.array([100.0]),
        branch_g_w_k=np.zeros((1, 2)),
        branch_tau_s=np.full((1, 2), 3600.0),
        air_j_k=np.array([2.0e6]),
        q20_w=np.full((hours, 1), 100.0 * (outdoor_c - 20.0)),
        link_w_k=np.zeros((1, 1, 1)),
        leak_w_k=np.zeros((1, 1)),
        door_state=np.zeros(hours, dtype=np.int64),
        leak_level=np.zeros(hours, dtype=np.int64),
        outdoor_c=np.full(hours, outdoor_c),
    )


def _supply(hours: int, heat_w: float) -> Supply:
    one, whole = np.ones(1), np.ones(hours)
    return Supply(one, one, heat_w * whole, 0.0 * whole, 20.0 * whole, 30.0 * whole, np.zeros(1))


def test_recovery_time_by_hand():
    # First order: C dT/dt = Q - UA (T - To). UA 100, C 2e6, To 0, Q 4000: from 16 to 19.7 degC it takes
    # (C/UA) ln((40 - 16)/(40 - 19.7)) = 20,000 s x 0.1674 = 0.930 h; in quarter-hour implicit steps 1.0 h.
    hours, outdoor_c = 24 * 10, 0.0
    clock = np.arange(4 * hours) // 4 % 24
    points = SetPointSeries(np.where(clock < 6, 16.0, 20.0), np.full(4 * hours, 30.0))
    found = setback_year(_one_room(hours, outdoor_c), [_supply(hours, 4000.0)], points)
    by_hand_h = 2.0e6 / 100.0 * np.log((40.0 - 16.0) / (40.0 - 19.7)) / 3600.0
    assert by_hand_h == pytest.approx(0.930, abs=0.001)
    assert found.heating[0].median_h == pytest.approx(by_hand_h, abs=0.25)
    assert found.heating[0].hours.size == 10
    assert found.cooling[0].hours.size == 0
    assert found.cooling[0].median_h == found.cooling[0].longest_h == 0.0


def test_a_weak_heater_never_gets_there():
    hours = 24 * 10
    clock = np.arange(4 * hours) // 4 % 24
    points = SetPointSeries(np.where(clock < 6, 16.0, 20.0), np.full(4 * hours, 30.0))
    found = setback_year(_one_room(hours, 0.0), [_supply(hours, 1900.0)], points).heating[0]
    assert found.missed == found.hours.size == 10
    assert found.longest_h == np.inf


def test_a_larger_heater_recovers_no_later():
    hours = 24 * 10
    clock = np.arange(4 * hours) // 4 % 24
    points = SetPointSeries(np.where(clock < 6, 16.0, 20.0), np.full(4 * hours, 30.0))
    times = [
        setback_year(_one_room(hours, 0.0), [_supply(hours, heat_w)], points).heating[0].median_h
        for heat_w in (2100.0, 2500.0, 3000.0, 4000.0, 8000.0)
    ]
    assert times == sorted(times, reverse=True)


def test_cooling_counts_downwards():
    points = np.where(np.arange(48) < 24, 26.0, 24.0)
    short = np.concatenate([np.zeros(24), [2.0, 1.0, 0.2], np.zeros(21)])
    found = recoveries(short, -points, 3600.0)
    assert found.hours.tolist() == [3.0]
    assert found.starts.tolist() == [24]


@pytest.mark.slow
def test_setback_on_a_demo_house(scenarios):
    # Directions: a setback saves heat (5-15 % is commonly said of 8 h and 4 K; here more than 1 % and less than 25 %),
    # and mornings have something to recover while a steady thermostat has nothing.
    house = read_house(scenarios / "ranch.toml")
    case = prepare(house, scenarios)
    layout = layouts_of(case, Sources.bundled(), most=1)[0]
    comfort = house.comfort.model_copy(update={"setback": comfort_of(SETBACK).setback})
    steps = 4 * case.network.hours
    lowered = setback_year(case.network, layout, set_points(comfort, steps, 900.0))
    steady = setback_year(case.network, layout, set_points(house.comfort, steps, 900.0))
    heat, usual = (year.trace.supply_w.astype(np.float64).clip(0.0).sum() for year in (lowered, steady))
    assert 0.75 < heat / usual < 0.99
    assert lowered.heating[0].hours.size > 100
    assert 0.25 <= lowered.heating[0].median_h < 6.0
    assert steady.heating[0].hours.size == 0
