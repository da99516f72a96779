"""What comes along when rooms change: furniture in them, doors and places for units in their walls."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dashboard.survey.draft.edits import Edit, Raw, Set
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import Point, Shape, items, length_u, point_u, shared, system_of

_IN = ("bed", "seat", "head_place")


def followed(raw: Raw, old: Sequence[Shape], new: Sequence[Shape]) -> list[Edit]:
    """Edits for everything whose room or wall moved."""
    before, after = {one.name: one for one in old}, {one.name: one for one in new}
    moved = {name for name, shape in before.items() if after[name].corners != shape.corners}
    if len(before) != len(old):
        return []
    return [*_things(raw, before, after, moved), *_doors(raw, new, before, after, moved)]


def _things(raw: Raw, before: dict[str, Shape], after: dict[str, Shape], moved: set[str]) -> Iterator[Edit]:
    system = system_of(raw)
    for table in _IN:
        for position, item in items(raw, table):
            name, at = same(item.get("room")), point_u(item.get("at"), system)
            if name in moved and at is not None:
                there = _mapped(at, before[name], after[name])
                if there != at:
                    yield Set((table, position, "at"), list(there))


def _mapped(at: Point, before: Shape, after: Shape) -> Point:
    """A point kept at its distance from the nearer wall on each axis, and inside where it was inside."""
    x, y = (_kept(at[axis], _span(before, axis), _span(after, axis)) for axis in (0, 1))
    return x, y


def _span(shape: Shape, axis: int) -> Point:
    return shape.bounds[axis], shape.bounds[axis + 2]


def _kept(value: float, old: Point, new: Point) -> float:
    near = 0 if value - old[0] <= old[1] - value else 1
    moved = value + new[near] - old[near]
    inside = old[0] <= value <= old[1]
    return round(min(max(moved, new[0]), new[1]) if inside else moved, 4) + 0.0


def _shift(before: Shape, after: Shape) -> Point:
    """How far a room moved as a whole; nothing where only its walls did."""
    steps = [(new[0] - old[0], new[1] - old[1]) for old, new in zip(before.corners, after.corners, strict=True)]
    return steps[0] if all(math.dist(step, steps[0]) < 1e-6 for step in steps) else (0.0, 0.0)


def _doors(
    raw: Raw, new: Sequence[Shape], before: dict[str, Shape], after: dict[str, Shape], moved: set[str]
) -> Iterator[Edit]:
    """Doors and openings with a place: on the wall that the two rooms share now, as near as may be."""
    system = system_of(raw)
    for table in ("door", "opening"):
        for position, item in items(raw, table):
            pair, at = item.get("between"), point_u(item.get("at"), system)
            ends = [same(end) for end in pair] if isinstance(pair, list) else []
            if at is None or len(ends) != 2 or not moved & set(ends) or not set(ends) <= before.keys():
                continue
            wish = _wish(at, [end for end in ends if end in moved], before, after)
            walls = shared(new, ends[0], ends[1], system)
            spare = 0.5 * (length_u(item.get("width"), system) or 0.0)
            there = min(
                (wall.nearest(wish, spare) for wall in walls), key=lambda one: math.dist(one, wish), default=wish
            )
            there = round(there[0], 4) + 0.0, round(there[1], 4) + 0.0
            if math.dist(there, at) > 1e-6:
                yield Set((table, position, "at"), list(there))


def _wish(at: Point, moved: list[str], before: dict[str, Shape], after: dict[str, Shape]) -> Point:
    """Where a door would like to be: along with a room that moved as a whole, else where it is."""
    dx, dy = _shift(before[moved[0]], after[moved[0]])
    return at[0] + dx, at[1] + dy
