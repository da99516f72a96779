"""The first scenario against the rooms of the house type that it is built on (an independent table of areas)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from compare.house.geometry import plan_of
from compare.house.plan import Boundary, LinkKind, Plan, SurfaceKind
from compare.house.reading import read_house
from compare.units import Kind, System, from_si

FT_M = 0.3048
FT2_M2 = FT_M**2
IN_THE_FILE = {
    "Open living/dining/kitchen": "Open living",
    "Bedroom 1 (primary)": "Bedroom 1",
    "Laundry/closet": "Laundry",
}


@pytest.fixture(scope="module")
def plan(scenarios: Path) -> Plan:
    return plan_of(read_house(scenarios / "ranch.toml"))


def test_rooms_match_the_house_type(plan: Plan, shared_reference: Path) -> None:
    """Area, gross outside wall and glass of each room; the table rounds areas to 1 ft²."""
    house_type = json.loads((shared_reference / "house_types.json").read_text())["houses"]["ranch_1950s"]
    rooms = {room.name: room for room in plan.rooms}
    assert len(rooms) == len(house_type["rooms"])
    for row in house_type["rooms"]:
        room = rooms[IN_THE_FILE.get(row["room"], row["room"])]
        upright = [s for s in room.surfaces if s.tilt_deg == 90.0]
        glass = [s for s in upright if s.kind is SurfaceKind.WINDOW]
        assert room.area_m2 / FT2_M2 == pytest.approx(row["area"], abs=0.51)
        gross_m2 = sum(s.area_m2 for s in upright)
        assert gross_m2 / FT2_M2 == pytest.approx(row["gross_wall"], abs=1e-6)
        assert gross_m2 / room.height_m / FT_M == pytest.approx(row["ext_wall_ft"], abs=1e-6)
        assert sum(s.area_m2 for s in glass) / FT2_M2 == pytest.approx(row["glass"], abs=1e-6)


def test_glass_faces_the_sides_of_the_house_type(plan: Plan, shared_reference: Path) -> None:
    house_type = json.loads((shared_reference / "house_types.json").read_text())["houses"]["ranch_1950s"]
    rooms = {room.name: room for room in plan.rooms}
    bearing = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
    for row in house_type["plan"]["1"]:
        room = rooms[IN_THE_FILE.get(row["name"], row["name"])]
        found = {s.azimuth_deg: s.area_m2 / FT2_M2 for s in room.surfaces if s.kind is SurfaceKind.WINDOW}
        assert found == pytest.approx({bearing[side]: area for side, area in row["win"].items() if area})


def test_floors_and_ceilings_cover_the_house(plan: Plan) -> None:
    for kind, boundary in ((SurfaceKind.FLOOR, Boundary.CRAWLSPACE), (SurfaceKind.CEILING, Boundary.ATTIC)):
        areas = [s.area_m2 for room in plan.rooms for s in room.surfaces if s.kind is kind and s.boundary is boundary]
        assert sum(areas) / FT2_M2 == pytest.approx(46 * 26)


def test_the_wing_hangs_on_one_opening_of_42_inches(plan: Plan) -> None:
    opening = next(link for link in plan.links if link.kind is LinkKind.OPENING)
    assert (opening.x_m / FT_M, opening.y_m / FT_M) == pytest.approx((22, 12.75))
    assert plan.open_spaces == tuple((room,) for room in range(7)), "42 in. is less than 4 ft"
    assert sum(link.kind is LinkKind.DOOR for link in plan.links) == 5


def test_doors_stand_where_the_house_type_has_them(plan: Plan, shared_reference: Path) -> None:
    house_type = json.loads((shared_reference / "house_types.json").read_text())["houses"]["ranch_1950s"]
    names = [room.name for room in plan.rooms]
    found = {frozenset((names[k.a], names[k.b])): (k.x_m / FT_M, k.y_m / FT_M) for k in plan.links}
    for door in house_type["doors"]:
        ends = frozenset(IN_THE_FILE.get(name, name) for name in door["between"])
        assert found[ends] == pytest.approx(tuple(door["at"]))


def test_conductances_match_the_house_type(plan: Plan, shared_reference: Path) -> None:
    """Sum of U times area of each room against the table's UA less its air leakage, rounded to 0.1 Btu/h·°F."""
    house_type = json.loads((shared_reference / "house_types.json").read_text())["houses"]["ranch_1950s"]
    rooms = {room.name: room for room in plan.rooms}
    for row in house_type["rooms"]:
        room = rooms[IN_THE_FILE.get(row["room"], row["room"])]
        ua_w_k = sum(s.area_m2 * s.u_w_m2k for s in room.surfaces)
        assert from_si(ua_w_k, Kind.CONDUCTANCE, System.US) == pytest.approx(row["UA"] - row["UA_inf"], abs=0.11)
