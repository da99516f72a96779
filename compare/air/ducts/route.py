"""Where a branch ends in its room and how long it is along the plan."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.geometry import Point, Wall, centre, inside, nearest_on, unit_vector, walls
from compare.air.tables import constant, row
from compare.house.plan import Plan, RoomPlan, UnitSpace

INSET_M = 0.2
PILLOW_CLEAR_M = 1.5
PILLOW_WEIGHT = 2.0
CORNER_M = 0.4
OFF_SPACE_WEIGHT = 3.0


@dataclass(frozen=True, slots=True)
class Run:
    """A branch along the plan: from the plenum to an outlet. `elbows` counts turns, the boot apart."""

    room: int
    outlet: str
    x_m: float
    y_m: float
    bearing_deg: float
    length_m: float
    elbows: int


@dataclass(frozen=True, slots=True)
class Routes:
    """All runs of a zone and the spot of the unit's plenum."""

    start_x_m: float
    start_y_m: float
    runs: tuple[Run, ...]


def _pillow_penalty(room: RoomPlan, spot: Point) -> float:
    near = min((math.dist(spot, (bed.x_m, bed.y_m)) for bed in room.beds), default=math.inf)
    return PILLOW_WEIGHT * max(0.0, PILLOW_CLEAR_M - near)


def _off_space(kind: str, space: UnitSpace, spot: Point) -> float:
    """A wall outlet belongs on the wall that the space touches: other walls mean a duct through a third room."""
    if kind != "wall":
        return 0.0
    off_x = max(space.x0_m - spot[0], 0.0, spot[0] - space.x1_m)
    off_y = max(space.y0_m - spot[1], 0.0, spot[1] - space.y1_m)
    return OFF_SPACE_WEIGHT * (off_x + off_y)


def _along_plan_m(a: Point, b: Point) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def _wall_spots(wall: Wall, start: Point) -> list[tuple[Point, float]]:
    if wall.length_m < 2 * CORNER_M:
        middle = wall.at(wall.length_m / 2)
        return [(middle, wall.inward_deg)]
    near = nearest_on(wall.at(CORNER_M), wall.at(wall.length_m - CORNER_M), start)
    spots = [near, *(wall.at(wall.length_m * share) for share in (0.25, 0.5, 0.75))]
    return [(spot, wall.inward_deg) for spot in spots]


def _spots(plan: Plan, room: int, kind: str, start: Point, found: list[Wall]) -> list[tuple[Point, float]]:
    here = plan.rooms[room]
    middle = centre(here.outline_m)
    if kind == "ceiling":
        halves = [((middle[0] + w.at(w.length_m / 2)[0]) / 2, (middle[1] + w.at(w.length_m / 2)[1]) / 2) for w in found]
        return [(spot, 0.0) for spot in (middle, *halves) if inside(spot, here.outline_m)]
    if kind == "floor":
        found = [wall for wall in found if wall.outside] or found
    spots = [spot for wall in found for spot in _wall_spots(wall, start)]
    if kind == "floor":
        return [(_inset(spot, turn), turn) for spot, turn in spots]
    return spots


def _inset(spot: Point, inward: float) -> Point:
    east, north = unit_vector(inward)
    return spot[0] + INSET_M * east, spot[1] + INSET_M * north


def _best_run(plan: Plan, room: int, space: UnitSpace, start: Point, found: list[Wall]) -> Run:
    place = row("duct_places", "kind", str(space.kind))
    kind, rise = place["diffuser"], float(place["branch_rise_m"])
    here = plan.rooms[room]
    if kind == "wall" and inside(start, here.outline_m):
        spot, turn = centre(here.outline_m), 0.0
        outlet = "register_ceiling"
    else:
        spots = _spots(plan, room, kind, start, found)
        spot, turn = min(
            spots,
            key=lambda s: (
                _along_plan_m(start, s[0]) + _pillow_penalty(here, s[0]) + _off_space(kind, space, s[0]),
                s[0],
                s[1],
            ),
        )
        outlet = f"register_{kind}"
    rise += here.height_m * abs(here.level - space.level)
    east, north = abs(spot[0] - start[0]), abs(spot[1] - start[1])
    elbows = (1 if min(east, north) > 0.3 else 0) + (1 if rise > 0.3 else 0)
    return Run(room, outlet, spot[0], spot[1], turn, max(east + north + rise, 0.3), elbows)


def _clamp(value: float, low: float, high: float, margin: float) -> float:
    if high - low <= 2 * margin:
        return (low + high) / 2
    return min(max(value, low + margin), high - margin)


def route(plan: Plan, space: UnitSpace, rooms: tuple[int, ...]) -> Routes:
    """Runs to each room, the unit standing within its space where its longest run is shortest.

    Raises ValueError when `rooms` is empty or names a room that is not in the plan.
    """
    if not rooms:
        raise ValueError("rooms is empty; a ducted zone needs at least one room")
    if any(not 0 <= room < len(plan.rooms) for room in rooms):
        raise ValueError(f"rooms {rooms} must be indices into the plan's {len(plan.rooms)} rooms")
    start = ((space.x0_m + space.x1_m) / 2, (space.y0_m + space.y1_m) / 2)
    margin = constant("plenum_length_m")
    stretches = {room: walls(plan, room) for room in rooms}
    for _ in range(4):
        runs = tuple(_best_run(plan, room, space, start, stretches[room]) for room in rooms)
        xs, ys = [run.x_m for run in runs], [run.y_m for run in runs]
        moved = (
            _clamp((min(xs) + max(xs)) / 2, space.x0_m, space.x1_m, margin),
            _clamp((min(ys) + max(ys)) / 2, space.y0_m, space.y1_m, margin),
        )
        if math.dist(moved, start) < 0.05:
            break
        start = moved
    runs = tuple(_best_run(plan, room, space, start, stretches[room]) for room in rooms)
    return Routes(start[0], start[1], runs)


def routes_from(plan: Plan, space: UnitSpace, rooms: tuple[int, ...], start: Point) -> Routes:
    """Runs to each room from a given plenum."""
    runs = tuple(_best_run(plan, room, space, start, walls(plan, room)) for room in rooms)
    return Routes(start[0], start[1], runs)


def branch_lengths_m(plan: Plan, space: UnitSpace, rooms: tuple[int, ...]) -> dict[int, float]:
    """Length of the branch to each room from one unit space: the cluster rule asks at most 25 ft."""
    return {run.room: run.length_m for run in route(plan, space, rooms).runs}
