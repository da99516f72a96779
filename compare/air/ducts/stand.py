"""How a concealed unit stands in its space: plenum, unit and return in a row, and where the return grille is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.geometry import Point, inside, unit_vector
from compare.air.tables import constant
from compare.house.plan import LinkKind, Plan, SpaceKind, UnitSpace, Use

WITHIN_ROOMS = (SpaceKind.HALL_DROP, SpaceKind.CLOSET)
COMMON = frozenset({Use.HALL, Use.ENTRY, Use.LIVING, Use.DINING})
APART_M = 0.9
"""Least distance of the return grille from a supply outlet: less short-circuits the air (our judgement)."""
OFF_UNIT_M = 1.2
"""A return from an attic or from below turns once on its way to the grille (our judgement)."""
NOT_COMMON_COST = 20.0
CLASH_COST = 10.0
STEP_M = 0.3
MOST_STEPS = 9


@dataclass(frozen=True, slots=True)
class UnitStand:
    """Middle of the plenum, of the unit and of the return grille on the plan; `flow_deg` is where the air goes."""

    plenum_x_m: float
    plenum_y_m: float
    unit_x_m: float
    unit_y_m: float
    flow_deg: float
    return_x_m: float
    return_y_m: float
    return_room: int
    """Room of the return grille, -1 where none lies under it."""
    return_length_m: float
    """Length of the return box or duct from the unit to its grille."""
    row_m: float
    """Length that plenum, transition, unit and return box take in a row."""

    @property
    def return_clear_m(self) -> float:
        """Distance between plenum and return grille on the plan."""
        return math.dist((self.plenum_x_m, self.plenum_y_m), (self.return_x_m, self.return_y_m))


@dataclass(frozen=True, slots=True)
class Row:
    """Lengths of the parts along the air: plenum, unit depth, return box."""

    plenum_m: float
    unit_m: float
    box_m: float

    @property
    def ahead_m(self) -> float:
        """From the middle of the plenum to its end."""
        return self.plenum_m / 2

    @property
    def to_unit_m(self) -> float:
        """From the middle of the plenum back to the middle of the unit."""
        return self.plenum_m / 2 + constant("transition_m") + self.unit_m / 2

    @property
    def behind_m(self) -> float:
        """From the middle of the plenum back to the far side of the return box."""
        return self.to_unit_m + self.unit_m / 2 + self.box_m

    @property
    def length_m(self) -> float:
        """The whole row."""
        return self.ahead_m + self.behind_m


def room_at(plan: Plan, level: int, at: Point) -> int:
    """Room of a level that holds a point; -1 for none."""
    return next((i for i, room in enumerate(plan.rooms) if room.level == level and inside(at, room.outline_m)), -1)


def _flow_ways(space: UnitSpace) -> tuple[float, float]:
    along_x = (space.x1_m - space.x0_m) >= (space.y1_m - space.y0_m)
    return (90.0, 270.0) if along_x else (0.0, 180.0)


def _held(space: UnitSpace, start: Point, way: float, row: Row) -> Point:
    """The plenum moved along the space so that the row lies in it; a space too short centres the row."""
    east, north = unit_vector(way)
    along_x = abs(east) > 0.5
    low, high = (space.x0_m, space.x1_m) if along_x else (space.y0_m, space.y1_m)
    before, after = (row.behind_m, row.ahead_m) if east + north > 0 else (row.ahead_m, row.behind_m)
    value = start[0] if along_x else start[1]
    first, last = low + before, high - after
    value = min(max(value, first), last) if first <= last else (first + last) / 2
    return (value, start[1]) if along_x else (start[0], value)


def _back(point: Point, way: float, by_m: float) -> Point:
    east, north = unit_vector(way)
    return point[0] - by_m * east, point[1] - by_m * north


def _shut_off(plan: Plan, room: int) -> bool:
    """Whether a room is closed by doors: a return in it would not see the other rooms' air."""
    links = [link for link in plan.links if room in (link.a, link.b)]
    return all(link.kind is LinkKind.DOOR and link.open_frac(night=True) < 0.5 for link in links)


def _grille_cost(plan: Plan, room: int, spot: Point, outlets: tuple[Point, ...]) -> float:
    cost = 0.0
    if room < 0 or plan.rooms[room].use not in COMMON:
        cost += NOT_COMMON_COST if room < 0 or _shut_off(plan, room) else NOT_COMMON_COST / 2
    nearest = min((math.dist(spot, outlet) for outlet in outlets), default=math.inf)
    clash = APART_M - nearest
    return cost + (CLASH_COST * (1 + clash) if clash > 1e-9 else 0.0)


def _below_or_above(plan: Plan, space: UnitSpace, unit: Point, outlets: tuple[Point, ...]) -> tuple[Point, int]:
    """Grille of a unit outside the rooms: the nearest place in a hall or other common room, clear of supplies."""
    rooms = [i for i, room in enumerate(plan.rooms) if room.level == space.level]
    wanted = [i for i in rooms if plan.rooms[i].use in COMMON] or [i for i in rooms if not _shut_off(plan, i)] or rooms
    spots = []
    for index in wanted:
        corners = plan.rooms[index].outline_m
        x0, x1 = min(x for x, _ in corners), max(x for x, _ in corners)
        y0, y1 = min(y for _, y in corners), max(y for _, y in corners)
        for across in range(1, 10):
            for up in range(1, 10):
                spot = (x0 + (x1 - x0) * across / 10, y0 + (y1 - y0) * up / 10)
                if inside(spot, corners):
                    use_first = 0.0 if plan.rooms[index].use in (Use.HALL, Use.ENTRY) else 2.0
                    way = abs(spot[0] - unit[0]) + abs(spot[1] - unit[1])
                    way += CLASH_COST * max(0.0, OFF_UNIT_M - math.dist(spot, unit))
                    spots.append((use_first + way + _grille_cost(plan, index, spot, outlets), spot, index))
    _, spot, index = min(spots)
    return spot, index


def _within(
    plan: Plan, space: UnitSpace, held: Point, way: float, row: Row, outlets: tuple[Point, ...]
) -> tuple[float, Point, int, float]:
    """Grille under the return box, the box made longer where the grille would stand beside a supply outlet."""
    tries = []
    for step in range(MOST_STEPS):
        longer = step * STEP_M
        spot = _back(held, way, row.behind_m - row.box_m / 2 + longer)
        end = _back(held, way, row.behind_m + longer)
        fits = space.x0_m - 1e-6 <= end[0] <= space.x1_m + 1e-6 and space.y0_m - 1e-6 <= end[1] <= space.y1_m + 1e-6
        if step and not fits:
            break
        room = room_at(plan, space.level, spot)
        tries.append(
            (_grille_cost(plan, room, spot, outlets) + 0.5 * longer, spot, room, constant("return_duct_m") + longer)
        )
    return min(tries)


def stand_of(plan: Plan, space: UnitSpace, start: Point, row: Row, outlets: tuple[Point, ...]) -> UnitStand:
    """Place plenum, unit and return in a row along the space, the plenum near `start`.

    Of the two ways the one is taken whose return grille lies in a hall or another common room and clear of the supply
    outlets, with the plenum moved least.
    """
    trials = []
    for way in _flow_ways(space):
        held = _held(space, start, way, row)
        unit = _back(held, way, row.to_unit_m)
        moved = math.dist(held, start)
        if space.kind in WITHIN_ROOMS:
            cost, spot, room, length = _within(plan, space, held, way, row, outlets)
        else:
            spot, room = _below_or_above(plan, space, unit, outlets)
            cost = _grille_cost(plan, room, spot, outlets)
            run = abs(spot[0] - unit[0]) + abs(spot[1] - unit[1])
            length = max(run + constant("return_rise_m"), constant("return_duct_m"))
        trials.append((cost + moved, -way, held, unit, spot, room, length))
    _, way, held, unit, spot, room, length = min(trials)
    return UnitStand(*held, *unit, -way, *spot, room, length, row.length_m)
