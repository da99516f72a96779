"""From a house file to what the leakage models ask."""

from dataclasses import replace
from pathlib import Path

import pytest

from compare.climate.year import DesignConditions
from compare.house.geometry import plan_of
from compare.house.reading import read_house
from compare.loads.case import load_case_of
from compare.physics.fabric.spaces import Ground
from compare.physics.house_air import air_of_house, envelope_of, network_options_of

SCENARIOS = Path(__file__).parents[2] / "scenarios"
RANCH = read_house(SCENARIOS / "ranch.toml")
RANCH_PLAN = plan_of(RANCH)


def test_envelope_of_the_ranch():
    # Read off the file: one level of 8 ft over a vented crawlspace, shelter class 3, no chimney in use.
    envelope = envelope_of(RANCH, RANCH_PLAN)
    assert envelope.storeys == 1
    assert envelope.crawlspace
    assert envelope.shelter == 3
    assert envelope.eaves_m == pytest.approx(8.0 * 0.3048)
    assert not envelope.flue


def test_two_storeys_stand_higher():
    colonial = read_house(SCENARIOS / "colonial.toml")
    envelope = envelope_of(colonial, plan_of(colonial))
    assert envelope.storeys == 2
    assert envelope.eaves_m > 4.5


def test_blower_door_of_the_file():
    # 10 air changes an hour at 50 Pa of the heated volume.
    air = air_of_house(RANCH, RANCH_PLAN)
    volume_m3 = sum(room.area_m2 * room.height_m for room in RANCH_PLAN.rooms)
    assert air.tightness.flow_50_m3_s == pytest.approx(10.0 * volume_m3 / 3600.0)
    assert air.ventilation.unbalanced_m3_s == 0.0


def test_set_points_reach_network_and_loads():
    place = DesignConditions(-5.6, 33.3, 23.9, 11.1, "typed", 37.5, -77.3, -5.0, 50.0)
    options = network_options_of(RANCH, RANCH_PLAN)
    case = load_case_of(RANCH, RANCH_PLAN, place, Ground(14.0, 10.0, 20.0))
    # 70 and 75 degF
    for holder in (options, case):
        assert holder.heating_c == pytest.approx(21.11, abs=0.01)
        assert holder.cooling_c == pytest.approx(23.89, abs=0.01)
    assert replace(options, levels=3).levels == 3
