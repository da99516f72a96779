"""Levels of placed units at ears, and the plan geometry that places rest on."""

from dataclasses import replace

import pytest

from compare.air.ears import head_curve, line_curve, neighbour_curve, space_volume_m3, window_curve
from compare.air.from_catalogue import room_unit, sound_source
from compare.air.geometry import centre, clear_run_m, clear_width_m, inside, nearest_on
from compare.air.siting import place_room_unit
from compare.equipment.catalogue import catalogue
from compare.equipment.unit import UnitKind

from .ranch import BED_1, BED_2, HALL, LIVING, ranch_plan

PLAN = ranch_plan()
UNITS = catalogue()
PAIR = UNITS.pair(UnitKind.WALL, 15)
SOURCE = sound_source(UNITS, PAIR.indoor)
SITING = place_room_unit(PLAN, LIVING, room_unit(PAIR))


def test_seat_levels_are_plausible():
    """WHO 1999: living 35 dB(A). A mid-size head at quiet keeps it at the sofa and exceeds it at high speed."""
    curve = head_curve(PLAN, SITING, SITING.heads[0], SOURCE)
    assert curve.quiet_dba < 35 < curve.high_dba


def test_open_space_counts_as_one_room():
    joined = replace(PLAN, open_spaces=((LIVING, HALL), *PLAN.open_spaces[2:]))
    assert space_volume_m3(joined, LIVING) == pytest.approx(PLAN.rooms[LIVING].volume_m3 + PLAN.rooms[HALL].volume_m3)


def test_sound_through_an_opening_is_less_than_at_the_seat():
    hall = neighbour_curve(PLAN, SITING, SOURCE, HALL)
    assert hall is not None
    assert hall.high_dba < head_curve(PLAN, SITING, SITING.heads[0], SOURCE).high_dba + 3
    assert neighbour_curve(PLAN, SITING, SOURCE, BED_1) is None


def test_shut_by_night_open_by_day():
    head = place_room_unit(PLAN, BED_1, room_unit(UNITS.pair(UnitKind.WALL, 6)))
    night = neighbour_curve(PLAN, head, SOURCE, HALL)
    day = neighbour_curve(PLAN, head, SOURCE, HALL, night=False)
    assert night is not None
    assert day is not None
    assert day.high_dba - night.high_dba > 10
    assert neighbour_curve(PLAN, head, SOURCE, BED_2) is None


def test_outdoors():
    """Distance doubled: 6 dB less (spherical spreading)."""
    spot = replace(PLAN.outdoor_spots[0], bedroom_window_m=PLAN.outdoor_spots[0].property_line_m / 2)
    line, window = line_curve(spot, 60, heating=False), window_curve(spot, 60, heating=False)
    assert window is not None
    assert window.high_dba - line.high_dba == pytest.approx(6.02, abs=0.01)
    assert window_curve(PLAN.outdoor_spots[0], 60, heating=False) is None


ELL = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0))
NEXT = ((4.0, 0.0), (6.0, 0.0), (6.0, 2.0), (4.0, 2.0))


def test_plan_geometry():
    """Plain plane geometry of an L (own arithmetic): centroid of its two parts by area."""
    assert inside((1.0, 3.0), ELL)
    assert not inside((3.0, 3.0), ELL)
    assert centre(ELL) == pytest.approx(((8 * 2 + 4 * 1) / 12, (8 * 1 + 4 * 3) / 12))
    assert nearest_on((0, 0), (4, 0), (5, 1)) == (4, 0)
    assert clear_run_m([ELL], (0.0, 1.0), 90) == pytest.approx(4.0)
    assert clear_run_m([ELL], (0.0, 3.0), 90) == pytest.approx(2.0)
    assert clear_run_m([ELL, NEXT], (0.0, 1.0), 90) == pytest.approx(6.0)
    assert clear_run_m([ELL], (0.0, 1.0), 270) == pytest.approx(0.05)
    assert clear_width_m([ELL], (0.0, 1.0), 90) == pytest.approx(4.0)
