"""Constructions by layers in the house file: what is read, the U-value that follows, and what is refused."""

from __future__ import annotations

import pytest

from compare.house.defaults import assumptions
from compare.house.geometry import plan_of
from compare.house.layers import materials
from compare.house.model import house_schema
from compare.house.plan import Boundary, SurfaceKind
from compare.house.problems import HouseFileError
from compare.house.reading import read_house_text
from tests.house.houses import TWO_STOREYS

WALL = """
[[construction]]
of = "wall"
layers = [
  { material = "wood siding", thickness = "0.5 in" },
  { material = "fibre insulation", thickness = "3.5 in" },
  { material = "gypsum board", thickness = "0.5 in" },
]
"""


def house_with(text: str):
    return read_house_text(TWO_STOREYS + text, "house.toml")


def test_u_value_by_hand():
    # Series of resistances with the films of a rating, 0.12 and 0.03 m2K/W (ASHRAE Fundamentals 2021, ch. 26, from
    # memory): 0.15 + 0.0127/0.11 + 0.0889/0.045 + 0.0127/0.16 = 2.3204 m2K/W.
    house = house_with(WALL)
    assert house.fabric.wall_u_w_m2k == pytest.approx(1.0 / 2.3204, rel=1e-4)
    walls = [
        surface.u_w_m2k
        for room in plan_of(house).rooms
        for surface in room.surfaces
        if surface.kind is SurfaceKind.WALL and surface.boundary is Boundary.OUTDOORS
    ]
    assert walls
    assert all(u == house.fabric.wall_u_w_m2k for u in walls)


def test_what_is_stated_is_not_listed_as_assumed():
    assumed = {item.path for item in assumptions(house_with(WALL))}
    assert "fabric.wall_u" not in assumed
    assert "fabric.wall_u" in {item.path for item in assumptions(house_with(""))}


def test_a_thicker_layer_never_conducts_more():
    thick = house_with(WALL.replace("3.5 in", "5.5 in"))
    assert thick.fabric.wall_u_w_m2k < house_with(WALL).fabric.wall_u_w_m2k


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (WALL.replace("fibre insulation", "fiber insulation"), 'did you mean "fibre insulation"'),
        (WALL.replace('"3.5 in"', '"9 ft"'), "must be between"),
        (WALL.replace('of = "wall"', 'of = "walls"'), 'did you mean "wall"'),
        (WALL + WALL, "given twice"),
        (WALL + "[fabric]\nwall_u = 0.4\n", "leave one out"),
        ('[[construction]]\nof = "roof"\nlayers = []\n', "at least 1 items"),
        (WALL.replace('thickness = "3.5 in"', "thick = 3"), "no such key here"),
    ],
)
def test_faults_are_named(text, words):
    with pytest.raises(HouseFileError) as caught:
        house_with(text)
    assert words in str(caught.value)


def test_the_schema_lists_every_material():
    layer = house_schema()["definitions"]["LayerRow"]["properties"]["material"]
    assert set(layer["enum"]) == set(materials())


def test_every_material_is_plausible_and_has_a_source():
    # Ranges of building materials (ASHRAE Fundamentals 2021, ch. 26, Table 1, from memory).
    for material in materials().values():
        assert 0.02 <= material.conductivity_w_mk <= 3.0
        assert 20.0 <= material.density_kg_m3 <= 2600.0
        assert 700.0 <= material.specific_heat_j_kgk <= 2000.0
        assert material.source
