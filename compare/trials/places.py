"""Beds and seats somewhere else in their room: the plan with the furniture moved, and places to choose from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from compare.air.geometry import Point, centre, inside, nearest_on, unit_vector
from compare.house.pieces import furnishings_of
from compare.house.plan import Plan, RoomPlan
from compare.trials.pieces import PieceAt, pieces_of
from compare.trials.walls import wall_sides

OFF_WALL_M = 0.65
"""A seat's head, or a pillow, this far from the wall behind it (our judgement)."""
EDGE_M = 0.3
"""Nearest to a wall that a piece is set."""
SAME_M = 0.05


@dataclass(frozen=True, slots=True, order=True)
class Move:
    """A bed or a seat, by its number in `pieces_of`, with its pillow or seat somewhere else in its room."""

    piece: int
    x_m: float
    y_m: float


@dataclass(frozen=True, slots=True)
class Choice:
    """A place to choose: the way the wall behind it faces; empty for the middle of the room."""

    facing: str
    at_m: Point


def moved_plan(plan: Plan, moves: Iterable[Move]) -> Plan:
    """The plan with some pieces somewhere else; their numbers stay.

    Raises
    ------
    ValueError
        For a piece that there is not, one moved twice, or a place outside the piece's room.
    """
    wanted = list(moves)
    found = pieces_of(plan)
    if len({move.piece for move in wanted}) != len(wanted):
        raise ValueError("each bed or seat is moved once")
    rooms = list(plan.rooms)
    for move in wanted:
        if not 0 <= move.piece < len(found):
            raise ValueError(f"piece {move.piece}: the house has beds and seats 0 to {len(found) - 1}")
        piece = found[move.piece]
        if not inside((move.x_m, move.y_m), plan.rooms[piece.room].outline_m):
            raise ValueError(f"piece {move.piece}: it stays in its room, {plan.rooms[piece.room].name}")
        rooms[piece.room] = _with(rooms[piece.room], piece, move)
    changed = tuple(rooms)
    return replace(plan, rooms=changed, furnishings=furnishings_of(changed, plan.links))


def _with(room: RoomPlan, piece: PieceAt, move: Move) -> RoomPlan:
    if piece.bed:
        beds = list(room.beds)
        beds[piece.number] = replace(beds[piece.number], x_m=move.x_m, y_m=move.y_m)
        return replace(room, beds=tuple(beds))
    seats = list(room.seats)
    seats[piece.number] = replace(seats[piece.number], x_m=move.x_m, y_m=move.y_m)
    return replace(room, seats=tuple(seats))


def within_room(plan: Plan, piece: int, at_m: Point) -> Move:
    """A piece as near to a pointed place as its room lets it, a little off the walls.

    Raises
    ------
    ValueError
        For a piece that there is not, or a place that is no number.
    """
    found = pieces_of(plan)
    if not 0 <= piece < len(found):
        raise ValueError(f"piece {piece}: the house has beds and seats 0 to {len(found) - 1}")
    if not all(math.isfinite(value) for value in at_m):
        raise ValueError("a place has two finite numbers")
    outline = plan.rooms[found[piece].room].outline_m
    if not inside(at_m, outline) or _gap_m(outline, at_m) < EDGE_M:
        at_m = _pulled_in(outline, at_m)
    return Move(piece, round(at_m[0], 2), round(at_m[1], 2))


def _gap_m(outline_m: tuple[Point, ...], at_m: Point) -> float:
    return min(math.dist(nearest_on(*edge, at_m), at_m) for edge in _edges(outline_m))


def _pulled_in(outline_m: tuple[Point, ...], at_m: Point) -> Point:
    """The nearest point that keeps its distance from every wall; the middle of a room too narrow for that."""
    feet = sorted(
        ((nearest_on(a, b, at_m), a, b) for a, b in _edges(outline_m)), key=lambda one: math.dist(one[0], at_m)
    )
    for foot, a, b in feet:
        length_m = math.dist(a, b)
        along = ((b[0] - a[0]) / length_m, (b[1] - a[1]) / length_m)
        share_m = min(max(math.dist(a, foot), EDGE_M), max(length_m - EDGE_M, EDGE_M))
        spot = (
            a[0] + share_m * along[0] - EDGE_M * along[1],
            a[1] + share_m * along[1] + EDGE_M * along[0],
        )
        if inside(spot, outline_m) and _gap_m(outline_m, spot) >= EDGE_M - 1e-6:
            return spot
    return centre(outline_m)


def _edges(outline_m: tuple[Point, ...]) -> Iterator[tuple[Point, Point]]:
    return zip(outline_m, outline_m[1:] + outline_m[:1], strict=True)


def choices(plan: Plan, piece: int, plan_north_deg: float) -> tuple[Choice, ...]:
    """Places for a piece that can be chosen without pointing: before the middle of each wall, and mid-room."""
    room = pieces_of(plan)[piece].room
    outline = plan.rooms[room].outline_m
    found: dict[str, tuple[float, Choice]] = {}
    for side in wall_sides(plan, room, plan_north_deg):
        x_m, y_m = side.wall.at(side.wall.length_m / 2.0)
        east, north = unit_vector(side.wall.inward_deg)
        spot = (round(x_m + OFF_WALL_M * east, 2), round(y_m + OFF_WALL_M * north, 2))
        longer = side.facing not in found or side.wall.length_m > found[side.facing][0]
        if inside(spot, outline) and longer:
            found[side.facing] = (side.wall.length_m, Choice(side.facing, spot))
    middle = tuple(round(value, 2) for value in centre(outline))
    mid = [Choice("", (middle[0], middle[1]))] if inside((middle[0], middle[1]), outline) else []
    return (*(choice for _, choice in found.values()), *mid)


def facing_at(plan: Plan, piece: int, plan_north_deg: float, at_m: Point) -> str:
    """The way the nearest wall of the piece's room faces; empty out in the middle."""
    room = pieces_of(plan)[piece].room
    sides = wall_sides(plan, room, plan_north_deg)
    near = min(sides, key=lambda side: math.dist(nearest_on(side.wall.a, side.wall.b, at_m), at_m), default=None)
    if near is None or math.dist(nearest_on(near.wall.a, near.wall.b, at_m), at_m) > 2.0 * OFF_WALL_M:
        return ""
    return near.facing


def piece_at(plan: Plan, level: int, at_m: Point, reach_m: float) -> int | None:
    """The bed or seat that somebody means who points at the plan: on the piece, or near its pillow or seat."""
    best: tuple[float, int] | None = None
    for number, (piece, stood) in enumerate(zip(pieces_of(plan), plan.furnishings, strict=True)):
        if plan.rooms[piece.room].level != level:
            continue
        away_m = math.dist(piece.at_m, at_m)
        within = len(stood.corners_m) > 2 and inside(at_m, stood.corners_m)
        if (within or away_m <= reach_m) and (best is None or away_m < best[0]):
            best = (away_m, number)
    return best[1] if best else None
