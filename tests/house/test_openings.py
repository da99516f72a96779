"""Windows, outside doors and furniture on the plan: sizes kept, in their walls, order from geometry alone."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely.geometry import LineString, Polygon

from compare.house.openings import DOOR_HEIGHT_M, WINDOW_HEIGHT_M
from tests import houses

NAMES = ["ranch", "colonial", "cabin", "accessory_unit", "open_bungalow"]


@pytest.mark.parametrize("name", NAMES)
def test_every_opening_lies_in_a_wall_of_its_room_and_none_meet(name: str) -> None:
    plan = houses.prepared(name).plan
    assert plan.wall_openings
    for opening in plan.wall_openings:
        wall = Polygon(plan.rooms[opening.room].outline_m).exterior
        assert wall.buffer(1e-6).contains(LineString([opening.start_m, opening.end_m]))
        assert 0.0 <= opening.sill_m < opening.head_m <= plan.rooms[opening.room].height_m + 1e-9
    for one, other in combinations(plan.wall_openings, 2):
        if one.room == other.room:
            lines = [LineString([item.start_m, item.end_m]) for item in (one, other)]
            assert lines[0].distance(lines[1]) > 0.0


def test_widths_come_from_areas_and_usual_heights() -> None:
    """Area over 1.2 m for windows and over 80 in. for doors (common practice)."""
    house, plan = houses.prepared("ranch").house, houses.prepared("ranch").plan
    windows = sum(o.width_m for o in plan.wall_openings if not o.door)
    doors = sum(o.width_m for o in plan.wall_openings if o.door)
    assert windows == pytest.approx(sum(w.area_m2 for w in house.windows) / WINDOW_HEIGHT_M)
    assert doors == pytest.approx(sum(d.area_m2 for d in house.doors if d.room) / DOOR_HEIGHT_M)


def test_a_written_width_is_kept_and_a_wide_one_is_narrowed() -> None:
    window = {"room": "Studio", "wall": "S", "width": 1.5, "height": 1.0}
    plan = houses.plan({**houses.studio(), "window": [window]})
    (opening,) = plan.wall_openings
    assert opening.width_m == pytest.approx(1.5)
    assert opening.head_m - opening.sill_m == pytest.approx(1.0)
    assert (opening.start_m[0] + opening.end_m[0]) / 2 == pytest.approx(3.0)
    wide = houses.plan({**houses.studio(), "window": [{**window, "width": 3.6, "count": 2}]})
    assert sum(o.width_m for o in wide.wall_openings) <= 0.9 * 6.0 + 1e-9


def test_the_order_of_the_file_does_not_matter() -> None:
    small, large = ({"room": "Studio", "wall": "S", "area": area} for area in (0.8, 2.0))
    door = {"room": "Studio", "wall": "S", "area": 1.9}
    one = houses.plan({**houses.studio(), "window": [small, large], "door": [door]})
    other = houses.plan({**houses.studio(), "window": [large, small], "door": [door]})
    assert one.wall_openings == other.wall_openings


@pytest.mark.parametrize("name", NAMES)
def test_furniture_stands_in_its_room_at_its_point(name: str) -> None:
    plan = houses.prepared(name).plan
    assert len(plan.furnishings) == sum(len(room.beds) + len(room.seats) for room in plan.rooms)
    for piece in plan.furnishings:
        floor = Polygon(piece.corners_m)
        assert floor.is_valid
        outside = floor.difference(Polygon(plan.rooms[piece.room].outline_m)).area
        assert outside <= 0.10 * floor.area


def test_a_bed_has_its_head_at_the_nearest_wall() -> None:
    """The ranch's pillows lie a foot from the west walls of their rooms: the beds face east."""
    plan = houses.prepared("ranch").plan
    beds = [piece for piece in plan.furnishings if piece.kind == "bed"]
    assert [piece.facing_deg for piece in beds] == pytest.approx([90.0] * 3)
    double = max(beds, key=lambda piece: Polygon(piece.corners_m).area)
    assert math.dist(double.corners_m[0], double.corners_m[1]) == pytest.approx(1.52)


def test_an_outdoor_place_for_two() -> None:
    spot = {"name": "wide", "at": [-1, 2], "side": "W", "units": 2}
    plan = houses.plan({**houses.studio(), "outdoor_spot": [spot]})
    assert plan.outdoor_spots[0].capacity == 2
