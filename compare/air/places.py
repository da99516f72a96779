"""Candidate places of a room unit, and the plain reasons that rule one out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.blocked import free_middles, front_reason, low_wall_reason, opening_reason
from compare.air.geometry import Wall, centre, nearest_on, walls
from compare.air.tables import constant
from compare.house.plan import Boundary, Link, LinkKind, Plan, SurfaceKind

RULES = "siting_rules"
SHARES = (0.5, 0.25, 0.75)
SAME_M = 0.1
DOOR_NEAR_M = 0.4
COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


@dataclass(frozen=True, slots=True)
class Place:
    """A candidate place on the plan; bearings are plan bearings (0 = plan-north)."""

    x_m: float
    y_m: float
    bearing_deg: float
    outside_wall: bool
    label: str
    surveyed: bool
    wall: Wall | None = None


@dataclass(frozen=True, slots=True)
class RejectedPlace:
    """A place that was tried and not chosen, and why."""

    place: Place
    reason: str


def _side(wall: Wall, plan_north_deg: float) -> str:
    facing = COMPASS[round((wall.inward_deg + 180 + plan_north_deg) % 360 / 45) % 8]
    return f"{facing} {'outside' if wall.outside else 'inside'} wall"


def candidates(plan: Plan, room: int, kind: str, plan_north_deg: float = 0.0, cabinet_w_m: float = 0.8) -> list[Place]:
    """Surveyed places of the room, then generated ones along its walls, or points of its ceiling."""
    if kind == "ceiling_cassette":
        return _ceiling_places(plan, room)
    found = walls(plan, room, plan_north_deg)
    places = []
    for spot in plan.wall_places:
        if spot.room == room:
            here = (spot.x_m, spot.y_m)
            wall = min(found, key=lambda w: math.dist(nearest_on(w.a, w.b, here), here))
            label = spot.label or "surveyed place"
            places.append(Place(*here, wall.inward_deg, spot.outside_wall, label, surveyed=True, wall=wall))
    for wall in found:
        for along in _along(plan, room, wall, cabinet_w_m):
            x, y = wall.at(along)
            label = f"{_side(wall, plan_north_deg)}, {along / wall.length_m:.0%} along"
            places.append(Place(x, y, wall.inward_deg, wall.outside, label, surveyed=False, wall=wall))
    return places


def _along(plan: Plan, room: int, wall: Wall, cabinet_w_m: float) -> list[float]:
    """Middle and quarter points of a wall, and the middles between its windows and doors."""
    spots: list[float] = []
    for along in (*(share * wall.length_m for share in SHARES), *free_middles(plan, room, wall, cabinet_w_m)):
        if all(abs(along - other) > SAME_M for other in spots):
            spots.append(along)
    return spots


def _ceiling_places(plan: Plan, room: int) -> list[Place]:
    outline = plan.rooms[room].outline_m
    middle = centre(outline)
    thirds = [((x + 2 * middle[0]) / 3, (y + 2 * middle[1]) / 3) for x, y in outline]
    spots = [middle, *thirds]
    return [
        Place(x, y, 0.0, outside_wall=False, label=f"ceiling point {i}", surveyed=False)
        for i, (x, y) in enumerate(spots, 1)
    ]


def _on_wall(wall: Wall, link: Link) -> bool:
    spot = (link.x_m, link.y_m)
    return math.dist(nearest_on(wall.a, wall.b, spot), spot) <= DOOR_NEAR_M


def _door_reason(plan: Plan, room: int, place: Place, half_m: float) -> str | None:
    if place.wall is None:
        return None
    for link in plan.links:
        if room in (link.a, link.b) and link.kind is not LinkKind.STAIR and _on_wall(place.wall, link):
            gap = math.dist((link.x_m, link.y_m), (place.x_m, place.y_m))
            if gap < link.width_m / 2 + half_m + constant("door_margin_m", RULES):
                return "above a door" if link.kind is LinkKind.DOOR else "across an opening"
    return None


def _bed_reason(plan: Plan, room: int, place: Place) -> str | None:
    near = constant("bed_clear_m", RULES)
    if any(math.dist((bed.x_m, bed.y_m), (place.x_m, place.y_m)) < near for bed in plan.rooms[room].beds):
        return "above the head of a bed"
    return None


def _floor_reason(plan: Plan, room: int, place: Place) -> str | None:
    front = constant("console_front_m", RULES)
    spots = [(b.x_m, b.y_m) for b in plan.rooms[room].beds] + [(s.x_m, s.y_m) for s in plan.rooms[room].seats]
    if any(math.dist(spot, (place.x_m, place.y_m)) < front for spot in spots):
        return "bed or seat in front of it"
    return None


def _ceiling_reason(plan: Plan, room: int) -> str | None:
    tops = [s for s in plan.rooms[room].surfaces if s.kind is SurfaceKind.CEILING]
    if plan.rooms[room].surfaces and not any(s.boundary is Boundary.ATTIC for s in tops):
        return "no attic above the ceiling for the cabinet"
    return None


def _corner_reason(place: Place, half_m: float) -> str | None:
    if place.wall is None:
        return None
    need = half_m + constant("corner_margin_m", RULES)
    if place.wall.length_m < 2 * need:
        return "wall too short for the cabinet"
    spot = (place.x_m, place.y_m)
    if min(math.dist(spot, place.wall.a), math.dist(spot, place.wall.b)) < need - 1e-9:
        return "too near a corner"
    return None


def reason_against(plan: Plan, room: int, kind: str, place: Place, cabinet_w_m: float) -> str | None:
    """Why a place is ruled out before any comparison, or None."""
    half = cabinet_w_m / 2
    if kind == "ceiling_cassette":
        checks = [_ceiling_reason(plan, room)]
    else:
        checks = [_corner_reason(place, half), _door_reason(plan, room, place, half)]
        checks += _opening_checks(plan, room, kind, place, cabinet_w_m)
    checks.append(_floor_reason(plan, room, place) if kind == "floor_console" else _bed_reason(plan, room, place))
    return next((reason for reason in checks if reason is not None), None)


def _opening_checks(plan: Plan, room: int, kind: str, place: Place, cabinet_w_m: float) -> list[str | None]:
    """Windows stand where the plan supposes them, so a surveyed place is not ruled out by them."""
    if place.wall is None:
        return []
    spot = (place.wall, (place.x_m, place.y_m))
    checks = [low_wall_reason(plan, room, kind)]
    if not place.surveyed:
        checks.append(opening_reason(plan, room, kind, spot, cabinet_w_m / 2))
    if kind == "floor_console":
        checks.append(front_reason(plan, room, spot, cabinet_w_m))
    return checks
