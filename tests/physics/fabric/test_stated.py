"""Layers of the house file in the full room: same U-value to the rating, and the mass that the layers have."""

from __future__ import annotations

from dataclasses import replace

import pytest

from compare.house.geometry import plan_of
from compare.house.plan import Boundary, SurfaceKind
from compare.house.reading import read_house_text
from compare.loads.case import load_case_of
from compare.loads.cooling import prepared_rooms
from compare.loads.house_loads import design_loads
from compare.physics.fabric.room import drive_room
from compare.physics.fabric.stated import fabric_options_of
from tests.house.houses import TWO_STOREYS
from tests.loads.cases import GROUND, PLACE

MASONRY = """
[[construction]]
of = "wall"
layers = [
  { material = "insulation board", thickness = "60 mm" },
  { material = "concrete", thickness = "200 mm" },
]
"""


def case_with(text):
    house = read_house_text(TWO_STOREYS + text, "house.toml")
    return house, load_case_of(house, plan_of(house), PLACE, GROUND)


def test_layers_reach_the_walls():
    house, _ = case_with(MASONRY)
    made = fabric_options_of(house).layers[(SurfaceKind.WALL, Boundary.OUTDOORS)]
    assert [layer.name for layer in made.layers] == ["insulation board", "concrete"]
    # Rating films 0.15 m2K/W: U of the plan is that of the layers.
    assert made.u_w_m2k(0.15) == pytest.approx(house.fabric.wall_u_w_m2k)
    assert made.heat_capacity_j_m2k == pytest.approx(0.06 * 30 * 1400 + 0.2 * 2300 * 900)


def test_layers_follow_a_changed_u_value():
    # A what-if changes the U-value alone: the layers conduct to match and keep their mass.
    house, _ = case_with(MASONRY)
    better = house.model_copy(update={"fabric": house.fabric.model_copy(update={"wall_u_w_m2k": 0.2})})
    here, there = (fabric_options_of(h).layers[(SurfaceKind.WALL, Boundary.OUTDOORS)] for h in (house, better))
    assert there.u_w_m2k(0.15) == pytest.approx(0.2)
    assert there.heat_capacity_j_m2k == pytest.approx(here.heat_capacity_j_m2k)


def test_no_layers_is_the_usual_house():
    house, case = case_with("")
    assert fabric_options_of(house).layers == {}
    bare = replace(case, fabric=None)
    assert design_loads(case).house.cool_total_w == pytest.approx(design_loads(bare).house.cool_total_w, rel=1e-12)


def test_inside_concrete_lowers_the_peak_and_not_the_heating():
    # Direction: of two walls with one U-value the massive one has the lower cooling peak; steady heating is the same.
    _, heavy = case_with(MASONRY)
    light = replace(heavy, fabric=None)
    ours, theirs = design_loads(heavy).house, design_loads(light).house
    assert ours.heat_w == pytest.approx(theirs.heat_w, rel=1e-12)
    assert ours.cool_sensible_w < theirs.cool_sensible_w
    drivers = _drivers(heavy)
    slow, quick = (
        max((drive_room(room, drivers).branch_tau_s * drive_room(room, drivers).branch_g_w_k).sum() for room in rooms)
        for rooms in (prepared_rooms(heavy), prepared_rooms(light))
    )
    assert slow > quick


def _drivers(case):
    from compare.climate.design_day import cooling_design_day
    from compare.physics.fabric.drivers import faces_of
    from compare.physics.fabric.spaces import with_spaces
    from compare.physics.fabric.weather import drivers_from_year

    day = cooling_design_day(case.design)
    return with_spaces(case.plan, drivers_from_year(day, faces_of(case.plan.rooms)), case.ground, day.first_day)
