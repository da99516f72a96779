"""Humidity of a demo house through its year: ordinary ranges and directions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from compare.house.reading import read_house
from compare.physics.coil import coil_hours, no_coil
from compare.physics.house_air import air_of_house
from compare.physics.moisture_house import DampHouse
from compare.physics.ventilation import Ventilation
from compare.years.case import prepare

MONTH = np.repeat(np.arange(12), 730)


@pytest.fixture(scope="module")
def ranch(scenarios):
    case = prepare(read_house(scenarios / "ranch.toml"), scenarios)
    air = air_of_house(case.house, case.plan)
    return DampHouse(case.plan, air, case.weather, case.gains, case.house.people)


@pytest.fixture(scope="module")
def room_c(ranch):
    """Rooms held between 70 and 75 degF, a degree either way by season."""
    outdoor = ranch.year.dry_bulb_c
    held = np.clip(outdoor, 21.1, 23.9)
    return np.repeat(held[:, None], len(ranch.plan.rooms), axis=1)


def _coil(ranch):
    """Cooling that follows the heat outdoors: 3 kW sensible at 35 degC, total by a share of 0.75."""
    sensible_w = np.maximum(ranch.year.dry_bulb_c - 20.0, 0.0) * 200.0
    return coil_hours(sensible_w, sensible_w / 0.75)


def test_a_leaky_house_is_dry_in_winter(ranch, room_c):
    # Common experience in cold months: 20-45 % indoors in a leaky house (common practice).
    year = ranch.humidity(room_c, no_coil(8760))
    january = year.humidity_frac[MONTH == 0].mean()
    assert 0.18 < january < 0.45


def test_cooling_takes_water_out_in_summer(ranch, room_c):
    # A humid place (Richmond): without a coil July lies far above 60 %, with one below it by much.
    coils = (no_coil(8760), _coil(ranch))
    without, with_coil = (ranch.humidity(room_c, coil).humidity_frac[MONTH == 6].mean() for coil in coils)
    assert without > 0.65
    assert with_coil < without - 0.08
    assert ranch.humidity(room_c, _coil(ranch)).removed_kg.sum() > 200.0


def test_exhaust_brings_more_summer_moisture_than_recovery(ranch, room_c):
    # ASHRAE 62.2 flow as exhaust or balanced with moisture recovery: the latter is drier in July.
    found = []
    for fans in (Ventilation(unbalanced_m3_s=0.08), Ventilation(balanced_m3_s=0.04, moisture_recovery_frac=0.6)):
        damp = replace(ranch, air=replace(ranch.air, ventilation=fans))
        found.append(damp.humidity(room_c, _coil(ranch)).humidity_frac[MONTH == 6].mean())
    assert found[0] > found[1]
