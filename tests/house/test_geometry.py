"""Plan geometry against areas and lengths worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from compare.house.geometry import plan_of
from compare.house.plan import Boundary, LinkKind, Partition, Plan, RoomPlan, Surface, SurfaceKind
from compare.house.reading import house_of, read_house_text
from tests.house.houses import HEAD, TWO_STOREYS, tables


def room(plan: Plan, name: str) -> RoomPlan:
    return next(room for room in plan.rooms if room.name == name)


def parts(plan: Plan, name: str, kind: SurfaceKind) -> list[Surface]:
    return [surface for surface in room(plan, name).surfaces if surface.kind is kind]


def between(plan: Plan, one: str, other: str) -> list[Partition]:
    names = [room.name for room in plan.rooms]
    pair = {names.index(one), names.index(other)}
    return [part for part in plan.partitions if {part.a, part.b} == pair]


def house(*rooms: str, extra: str = "", below: str = "outdoors", height: float = 2.5) -> Plan:
    level = f'[[level]]\nname = "l"\nheight = {height}\nbelow = "{below}"\nabove = "roof"\n'
    drawn = "".join(f'[[room]]\nlevel = "l"\nuse = "hall"\n{text}\n' for text in rooms)
    return plan_of(read_house_text(HEAD + level + drawn + extra, "h"))


def rectangle(name: str, x: float, y: float, wide: float, deep: float, more: str = "") -> str:
    return f'name = "{name}"\nat = [{x}, {y}]\nsize = [{wide}, {deep}]\n{more}'


@pytest.fixture(scope="module")
def two() -> Plan:
    return plan_of(read_house_text(TWO_STOREYS, "two"))


def test_rooms_come_by_level_then_corner(two: Plan) -> None:
    assert [r.name for r in two.rooms] == ["Living", "Hall", "Kitchen", "Bed A", "Bed B", "Landing"]
    assert [r.area_m2 for r in two.rooms] == pytest.approx([48, 16, 24, 24, 27, 12])
    assert two.level_names == ("down", "up")


def test_outside_walls_and_holes(two: Plan) -> None:
    walls = {s.azimuth_deg: s.area_m2 for s in parts(two, "Living", SurfaceKind.WALL)}
    assert walls == pytest.approx({0.0: 6 * 2.5, 180.0: 6 * 2.5, 270.0: 8 * 2.5 - 4.0})
    walls = {s.azimuth_deg: s.area_m2 for s in parts(two, "Kitchen", SurfaceKind.WALL)}
    # two faces look east and two look north: the window is shared out by area among those of its side
    assert walls == pytest.approx({0.0: 4 * 2.5, 90.0: 8 * 2.5 - 2 * 1.2 * 1.1, 180.0: 4 * 2.5})
    (window,) = parts(two, "Kitchen", SurfaceKind.WINDOW)
    assert (window.area_m2, window.height_m, window.overhang_depth_m) == pytest.approx((2.64, 1.1, 0.6))
    (door,) = parts(two, "Hall", SurfaceKind.DOOR)
    assert (door.area_m2, door.azimuth_deg) == pytest.approx((1.8, 180.0))


def test_what_lies_above_and_below(two: Plan) -> None:
    (roof,) = parts(two, "Hall", SurfaceKind.CEILING)
    assert roof.area_m2 == pytest.approx(2 * 2), "the landing covers 6 of the hall's 8 m"
    assert roof.boundary is Boundary.ATTIC, "as the lower level says"
    assert not parts(two, "Living", SurfaceKind.CEILING)
    (kitchen,) = parts(two, "Kitchen", SurfaceKind.CEILING)
    assert kitchen.area_m2 == pytest.approx(24)
    (overhang,) = parts(two, "Bed B", SurfaceKind.FLOOR)
    assert overhang.area_m2 == pytest.approx(6 * 0.5)
    assert overhang.boundary is Boundary.OUTDOORS
    floor = between(two, "Living", "Bed B")[0]
    assert (floor.area_m2, floor.floor) == pytest.approx((24, True))
    assert two.rooms[floor.upper].name == "Bed B"


def test_slab_edge_is_the_outside_wall_at_the_floor(two: Plan) -> None:
    edges = {name: parts(two, name, SurfaceKind.FLOOR)[0].exposed_edge_m for name in ("Living", "Hall", "Kitchen")}
    assert edges == pytest.approx({"Living": 6 + 6 + 8, "Hall": 2 + 2, "Kitchen": 4 + 4 + 2 + 4 + 2})
    slab = parts(two, "Living", SurfaceKind.FLOOR)[0]
    assert slab.boundary is Boundary.GROUND
    assert slab.massive
    assert slab.edge_w_mk > 0.0


def test_partitions_lose_their_openings(two: Plan) -> None:
    assert between(two, "Living", "Hall")[0].area_m2 == pytest.approx(8 * 2.5)
    assert between(two, "Hall", "Kitchen")[0].area_m2 == pytest.approx(8 * 2.5 - 1.2 * 2.1)
    assert between(two, "Bed A", "Bed B")[0].area_m2 == pytest.approx(6 * 2.4)
    assert between(two, "Bed B", "Landing")[0].area_m2 == pytest.approx(2 * 2.4)


def test_walls_close_around_the_house(two: Plan) -> None:
    """All outward wall areas of a closed footprint sum to zero as vectors (divergence theorem)."""
    for level in range(2):
        upright = [s for r in two.rooms if r.level == level for s in r.surfaces if s.tilt_deg == 90.0]
        for turn in (math.sin, math.cos):
            assert sum(s.area_m2 * turn(math.radians(s.azimuth_deg)) for s in upright) == pytest.approx(0.0, abs=1e-9)


def test_links_and_open_spaces(two: Plan) -> None:
    kinds = [link.kind for link in two.links]
    assert kinds.count(LinkKind.DOOR) == 3
    stair = next(link for link in two.links if link.kind is LinkKind.STAIR)
    assert (two.rooms[stair.a].name, two.rooms[stair.b].name) == ("Hall", "Landing")
    assert (stair.x_m, stair.y_m) == pytest.approx((7, 3))
    assert two.open_spaces == ((0,), (1, 2), (3,), (4,), (5,)), "1.2 m (4 ft) makes one open space"
    door = next(link for link in two.links if link.label == "Living - Hall")
    assert (door.day_open_frac, door.night_open_frac, door.open_frac(night=True)) == (0.7, 1.0, 1.0)
    assert (door.x_m, door.y_m) == pytest.approx((6, 4))


def test_a_narrow_opening_makes_no_open_space() -> None:
    plan = house(
        rectangle("a", 0, 0, 4, 4),
        rectangle("b", 4, 0, 4, 4),
        rectangle("c", 8, 0, 4, 4),
        extra='[[opening]]\nbetween = ["a", "b"]\nwidth = 1.19\n[[opening]]\nbetween = ["c", "b"]\nwidth = 1.2\n',
    )
    assert plan.open_spaces == ((0,), (1, 2))


def test_plan_north_turns_every_bearing() -> None:
    text = TWO_STOREYS.replace("built = 1990", "built = 1990\nplan_north = 350")
    walls = {s.azimuth_deg for s in parts(plan_of(read_house_text(text, "t")), "Living", SurfaceKind.WALL)}
    assert walls == {350.0, 170.0, 260.0}


def test_a_turned_outline_keeps_its_areas_and_faces_where_it_is_turned() -> None:
    turn = math.radians(20.0)  # counter-clockwise on the plan: bearings fall by 20 degrees

    def at(x: float, y: float) -> list[float]:
        return [x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)]

    rooms = [
        f'name = "{name}"\noutline = {[at(x, 0), at(x + 4, 0), at(x + 4, 3), at(x, 3)]}'
        for name, x in (("a", 0), ("b", 4))
    ]
    plan = house(*rooms)
    assert between(plan, "a", "b")[0].area_m2 == pytest.approx(3 * 2.5)
    walls = {s.azimuth_deg: s.area_m2 for s in parts(plan, "a", SurfaceKind.WALL)}
    assert walls == pytest.approx({340.0: 10.0, 160.0: 10.0, 250.0: 7.5})


def test_rooms_drawn_inside_face_to_inside_face_share_their_wall() -> None:
    """A partition of 11.4 cm between rooms; its end behind a third room is no outside wall."""
    plan = house(rectangle("a", 0, 0, 3, 3), rectangle("b", 3.114, 0, 3, 3), rectangle("c", 0, 3.114, 6.114, 2))
    assert between(plan, "a", "b")[0].area_m2 == pytest.approx(7.5)
    assert between(plan, "a", "c")[0].area_m2 == pytest.approx(7.5)
    assert {s.azimuth_deg for s in parts(plan, "c", SurfaceKind.WALL)} == {0.0, 90.0, 270.0}
    assert {s.azimuth_deg for s in parts(plan, "a", SurfaceKind.WALL)} == {180.0, 270.0}


RING = (
    rectangle("s", 0, 0, 6, 2),
    rectangle("n", 0, 3, 6, 2),
    rectangle("w", 0, 2, 2.5, 1),
    rectangle("e", 3.5, 2, 2.5, 1),
)


def test_a_chimney_between_rooms_is_no_outside_wall() -> None:
    plan = house(*RING)
    assert {s.azimuth_deg for s in parts(plan, "s", SurfaceKind.WALL)} == {90.0, 180.0, 270.0}
    assert {s.azimuth_deg for s in parts(plan, "w", SurfaceKind.WALL)} == {270.0}


def test_a_courtyard_is_outdoors() -> None:
    plan = house(
        rectangle("s", 0, 0, 10, 2), rectangle("n", 0, 6, 10, 2), rectangle("w", 0, 2, 3, 4), rectangle("e", 7, 2, 3, 4)
    )
    north = next(s for s in parts(plan, "s", SurfaceKind.WALL) if s.azimuth_deg == 0.0)
    assert north.area_m2 == pytest.approx(4 * 2.5)


LOFT = (
    HEAD
    + """
[[level]]
name = "down"
height = "8 ft"
below = "outdoors"
above = "roof"
[[level]]
name = "loft"
height = "6.5 ft"
above = "roof"
[[room]]
name = "Great room"
level = "down"
use = "living"
at = [0, 0]
size = [7, 6]
height = "11.5 ft"
[[room]]
name = "Bedroom"
level = "down"
use = "bedroom"
at = [0, 6]
size = [7, 4]
[[room]]
name = "Open loft"
level = "loft"
use = "bedroom"
at = [0, 6]
size = [7, 4]
[[opening]]
between = ["Open loft", "Great room"]
width = 7
height = "6 ft"
[[door]]
between = ["Bedroom", "Great room"]
"""
)


def test_a_tall_room_stands_beside_the_loft() -> None:
    plan = plan_of(read_house_text(LOFT, "loft"))
    foot = 0.3048
    assert {s.azimuth_deg for s in parts(plan, "Open loft", SurfaceKind.WALL)} == {0.0, 90.0, 270.0}
    assert between(plan, "Open loft", "Great room")[0].area_m2 == pytest.approx(7 * 6.5 * foot - 7 * 6 * foot)
    assert between(plan, "Bedroom", "Great room")[0].area_m2 == pytest.approx(7 * 8 * foot)
    great = {s.azimuth_deg: s.area_m2 for s in parts(plan, "Great room", SurfaceKind.WALL)}
    assert great == pytest.approx({180.0: 7 * 11.5 * foot, 90.0: 6 * 11.5 * foot, 270.0: 6 * 11.5 * foot})
    assert parts(plan, "Great room", SurfaceKind.CEILING)[0].area_m2 == pytest.approx(42)
    assert not parts(plan, "Bedroom", SurfaceKind.CEILING)
    assert plan.open_spaces == ((0,), (1,), (2,)), "an open space lies on one level"


def test_a_wall_over_a_lower_room_faces_its_attic_or_the_open_air() -> None:
    rooms = rectangle("low", 4, 0, 4, 4), rectangle("high", 0, 0, 4, 4, "height = 3.5")
    plan = house(*rooms)
    strip = next(s for s in parts(plan, "high", SurfaceKind.WALL) if s.azimuth_deg == 90.0)
    assert strip.area_m2 == pytest.approx(4.0)
    assert strip.boundary is Boundary.OUTDOORS
    plan = house(rooms[0] + 'above = "vented attic"', rooms[1])
    strip = next(s for s in parts(plan, "high", SurfaceKind.WALL) if s.azimuth_deg == 90.0)
    assert strip.area_m2 == pytest.approx(4.0)
    assert strip.boundary is Boundary.ATTIC


def test_walls_to_a_neighbour_or_garage() -> None:
    extra = """
[[wall]]
room = "a"
side = "W"
beyond = "heated neighbour"
[[wall]]
room = "a"
side = "N"
beyond = "garage"
[[door]]
room = "a"
wall = "N"
area = 2
"""
    plan = house(rectangle("a", 0, 0, 4, 4), extra=extra, below="slab on ground")
    found = {s.azimuth_deg: s.boundary for s in parts(plan, "a", SurfaceKind.WALL)}
    assert found == {
        0.0: Boundary.GARAGE, 90.0: Boundary.OUTDOORS, 180.0: Boundary.OUTDOORS, 270.0: Boundary.ADIABATIC,
    }  # fmt: skip
    assert parts(plan, "a", SurfaceKind.DOOR)[0].boundary is Boundary.GARAGE
    assert parts(plan, "a", SurfaceKind.FLOOR)[0].exposed_edge_m == pytest.approx(8.0)


def test_hours_targets_and_furniture_by_use() -> None:
    text = TWO_STOREYS.replace('use = "kitchen"', 'use = "work"\nuse_hours = "08-10, 22-01"\ntarget = 19')
    plan = plan_of(read_house_text(text, "t"))
    work = room(plan, "Kitchen")
    assert work.use_hours == {8, 9, 22, 23, 0}
    assert work.target_c == 19.0
    assert [seat.kind for seat in work.seats] == ["desk"]
    bed = room(plan, "Bed A")
    assert bed.use_hours == {22, 23, 0, 1, 2, 3, 4, 5, 6}
    assert bed.target_c == pytest.approx((66 - 32) / 1.8)
    assert bed.sleepers == 2.0
    assert room(plan, "Bed B").sleepers == 1.0, "a bedroom without a bed gets one"
    assert room(plan, "Hall").use_hours == frozenset()
    assert room(plan, "Living").target_c == pytest.approx((70 - 32) / 1.8)


def test_overrides_of_single_windows_and_doors() -> None:
    text = TWO_STOREYS.replace('wall = "W"\narea = 4', 'wall = "W"\narea = 4\nu = 1.1\nshgc = 0.4\nshade = 0.6')
    window = parts(plan_of(read_house_text(text, "t")), "Living", SurfaceKind.WINDOW)[0]
    assert (window.u_w_m2k, window.shgc_frac, window.shade_frac) == (1.1, 0.4, 0.6)


def test_two_windows_side_by_side_equal_one() -> None:
    one = plan_of(read_house_text(TWO_STOREYS, "t"))
    raw: dict[str, Any] = tables(TWO_STOREYS)
    raw["window"][0]["area"] = 1.5
    raw["window"].append({"room": "Living", "wall": "W", "area": 2.5})
    two = plan_of(house_of(raw))
    assert [s for s in room(one, "Living").surfaces if s.kind is not SurfaceKind.WINDOW] == [
        s for s in room(two, "Living").surfaces if s.kind is not SurfaceKind.WINDOW
    ]
    assert sum(s.area_m2 for s in parts(two, "Living", SurfaceKind.WINDOW)) == pytest.approx(4.0)


def test_a_stair_between_rooms_with_a_gap_between_them() -> None:
    text = LOFT.replace("at = [0, 6]\nsize = [7, 4]\n[[opening]]", "at = [0, 6.1]\nsize = [7, 3.9]\n[[opening]]")
    plan = plan_of(read_house_text(text + '[[stair]]\nlower = "Great room"\nupper = "Open loft"\n', "t"))
    stair = next(link for link in plan.links if link.kind is LinkKind.STAIR)
    assert stair.y_m == pytest.approx(6.05)


def test_a_room_unit_hangs_outside_where_the_plan_says_so() -> None:
    extra = (
        '[[head_place]]\nroom = "a"\nat = [0, 2]\nthrows = "E"\n[[head_place]]\nroom = "a"\nat = [4, 2]\nthrows = "W"\n'
    )
    plan = house(rectangle("a", 0, 0, 4, 4), rectangle("b", 4, 0, 4, 4), extra=extra)
    assert [(place.x_m, place.throws_deg, place.outside_wall) for place in plan.wall_places] == [
        (0.0, 90.0, True),
        (4.0, 270.0, False),
    ]


def test_the_space_and_sleepers_of_a_room() -> None:
    plan = plan_of(read_house_text(TWO_STOREYS, "t"))
    assert plan.space_of(2) == (1, 2)
    assert room(plan, "Living").habitable
    assert not room(plan, "Hall").habitable


def test_the_price_of_the_old_fuel() -> None:
    def price(more: str) -> float | None:
        return read_house_text(TWO_STOREYS + more, "t").fuel_price_usd

    assert price("") is None
    assert price('[existing_heat]\nfuel = "none"\n') is None
    assert price('[existing_heat]\nfuel = "gas"\nprice = 1.4\n') == 1.4
    assert price('[existing_heat]\nfuel = "oil"\n[rates]\noil = 4.2\n') == 4.2


def test_bills_are_read() -> None:
    text = TWO_STOREYS + '[[bill]]\nfrom = 2025-01-01\nto = 2025-02-01\nfuel = "gas"\namount = 85.0\ncost = 120\n'
    (bill,) = read_house_text(text, "t").bills
    assert ((bill.end - bill.start).days, bill.amount, bill.cost_usd) == (31, 85.0, 120.0)


def test_a_step_in_a_shared_wall_is_no_outside_wall() -> None:
    """A neighbour whose wall steps back by 5 cm halfway: the step lies within the partition."""
    step = 'name = "b"\noutline = [[4, 0], [8, 0], [8, 4], [4.05, 4], [4.05, 2], [4, 2]]\n'
    plan = house(rectangle("a", 0, 0, 4, 4), step)
    assert between(plan, "a", "b")[0].area_m2 == pytest.approx(4 * 2.5)
    walls = {s.azimuth_deg: s.area_m2 for s in parts(plan, "b", SurfaceKind.WALL)}
    assert walls == pytest.approx({0.0: 3.95 * 2.5, 90.0: 10.0, 180.0: 10.0})
