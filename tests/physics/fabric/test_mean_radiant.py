"""Mean radiant temperature of the reduced room against the surfaces of the full room."""

import numpy as np
import pytest

from compare.physics.fabric import drive_room, prepare_room, room_fabric
from tests.physics.fabric.rooms import corner_room, direct_run, made_up_drivers, steady_drivers


def test_floating_room_follows_the_full_surfaces():
    # Oracle: area-weighted inner faces of the dense run (ISO 7726 weighs by view, which area stands for); 0.3 K.
    prepared, drivers = prepare_room(corner_room()), made_up_drivers(hours=480)
    fabric = drive_room(prepared, drivers)
    direct = direct_run(prepared, drivers, warm_up_h=480)
    surfaces_c = direct.node_c @ prepared.full.inner_area_frac
    masses_c = fabric.masses_c(direct.air_c, drivers.step_s)
    read_c = fabric.mean_radiant.at_c(direct.air_c, masses_c)
    assert np.max(np.abs(read_c - surfaces_c)[240:]) < 0.3


def test_held_room_is_exact():
    # Same oracle with the air held at 20 degC: the series holds it without any fit; 1e-5 K.
    prepared, drivers = prepare_room(corner_room()), made_up_drivers(hours=480)
    fabric = drive_room(prepared, drivers)
    direct = direct_run(prepared, drivers, heat_c=20.0, cool_c=20.0, warm_up_h=480)
    surfaces_c = direct.node_c @ prepared.full.inner_area_frac
    assert np.max(np.abs(fabric.mean_radiant.held_c - surfaces_c)) < 1e-5


@pytest.mark.parametrize("outdoor_c", [-20.0, 0.0, 35.0])
def test_steady_room_lies_between_air_and_outdoors(outdoor_c):
    read = room_fabric(corner_room(), steady_drivers(outdoor_c)).mean_radiant
    held_c = read.held_c[-1]
    assert min(outdoor_c, 20.0) < held_c < max(outdoor_c, 20.0)
    assert 0.5 < read.air_frac < 1.0
    # Everything a degree warmer, air and outdoors alike, must lift it by that degree.
    warmer = room_fabric(corner_room(), steady_drivers(outdoor_c + 1.0)).mean_radiant
    assert warmer.held_c[-1] - held_c + read.air_frac == pytest.approx(1.0, abs=1e-9)
