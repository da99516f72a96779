"""What a surveyor does with rooms: add, move, push a wall, split, delete. Each gives edits and a sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from compare.house.references import ROOM_KEYS
from compare.units import System
from dashboard.survey.draft.edits import Edit, EditError, Insert, Raw, Remove, Set
from dashboard.survey.draft.follow import followed
from dashboard.survey.draft.names import NUMBERED, USE_NAMES, free_name, mentions, names, same
from dashboard.survey.draft.shape import (
    GRID_U,
    MOST_U,
    Point,
    Shape,
    items,
    shapes_of,
    snap,
    system_of,
)

LEAST_SIDE_FT = 1.5
_M_IN_FT = 0.3048
SIDES = {"E": (0, 1), "W": (0, -1), "N": (1, 1), "S": (1, -1)}
"""Axis and direction of each side."""
MOST_ROOMS = 60
_WORDS = {"wall": "wall note", "head_place": "place for a room unit"}


@dataclass(frozen=True, slots=True)
class Done:
    """What an operation does to the file, and what there is to be said of it."""

    edits: list[Edit]
    note: str = ""
    chosen: str | None = None
    """What should be chosen afterwards, as `room.3`; None leaves the choice."""


Box = tuple[float, float, float, float]


def least_side_u(system: System) -> float:
    """The smallest side of a room."""
    return LEAST_SIDE_FT * (_M_IN_FT if system is System.SI else 1.0)


def box_of(corner: Point, opposite: Point, system: System) -> Box:
    """A rectangle between two corners, on the grid; raises `EditError` where it is no room."""
    xs, ys = sorted((corner[0], opposite[0])), sorted((corner[1], opposite[1]))
    x0, x1 = (snap(value, system) for value in xs)
    y0, y1 = (snap(value, system) for value in ys)
    if min(x1 - x0, y1 - y0) < least_side_u(system) - 1e-9:
        raise EditError("That is too small for a room. Draw from one corner to the other.")
    if max(abs(value) for value in (x0, x1, y0, y1)) > MOST_U:
        raise EditError("That lies too far out.")
    return x0, y0, x1, y1


def add_room(raw: Raw, level: str, use: str, box: Box, name: str = "") -> Done:
    """A new rectangular room."""
    taken = names(raw, "room")
    if len(taken) >= MOST_ROOMS:
        raise EditError(f"A house has at most {MOST_ROOMS} rooms here.")
    given = name or free_name(taken, USE_NAMES.get(use, "Room"), numbered=use in NUMBERED)
    x0, y0, x1, y1 = box
    room = {"name": given, "level": level, "use": use, "at": [x0, y0], "size": [x1 - x0, y1 - y0]}
    return Done([Insert("room", room)], f"{given} is drawn.", f"room.{len(raw.get('room', []))}")


def beside(raw: Raw, shape: Shape, side: str, size: Point) -> Box:
    """Where a room of a size stands beside another: flush with its lower or left corner."""
    x0, y0, x1, y1 = shape.bounds
    wide, deep = size
    places = {"E": (x1, y0), "W": (x0 - wide, y0), "N": (x0, y1), "S": (x0, y0 - deep)}
    x, y = places[side]
    system = system_of(raw)
    return box_of((x, y), (x + wide, y + deep), system)


def _shape(raw: Raw, position: int) -> Shape:
    found = next((shape for shape in shapes_of(raw) if shape.position == position), None)
    if found is None:
        raise EditError("This room has no shape yet. Type its place and size.")
    return found


def _written(shape: Shape) -> list[Edit]:
    """A room's new corners in the form that the file has."""
    loc = ("room", shape.position)
    if not shape.box:
        return [Set((*loc, "outline"), [[x, y] for x, y in shape.corners])]
    x0, y0, x1, y1 = shape.bounds
    return [Set((*loc, "at"), [x0, y0]), Set((*loc, "size"), [x1 - x0, y1 - y0])]


def reshaped(raw: Raw, changes: Iterable[Shape]) -> list[Edit]:
    """Rooms in new shapes, and all that stands in them or in their walls brought along."""
    old = {shape.position: shape for shape in shapes_of(raw)}
    moved = {shape.position: shape for shape in changes}
    new = [moved.get(position, shape) for position, shape in old.items()]
    edits = [edit for shape in moved.values() for edit in _written(shape)]
    return edits + followed(raw, list(old.values()), new)


def _mapped(shape: Shape, change: Callable[[Point], Point]) -> Shape:
    corners = tuple((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in map(change, shape.corners))
    if max(abs(value) for corner in corners for value in corner) > MOST_U:
        raise EditError("That lies too far out.")
    return replace(shape, corners=corners)


def move_room(raw: Raw, position: int, by: Point) -> Done:
    """A room moved, snapped to the grid by its lower left corner."""
    shape, system = _shape(raw, position), system_of(raw)
    x0, y0, _, _ = shape.bounds
    dx, dy = snap(x0 + by[0], system) - x0, snap(y0 + by[1], system) - y0
    if not dx and not dy:
        return Done([])
    new = _mapped(shape, lambda at: (at[0] + dx, at[1] + dy))
    return Done(reshaped(raw, [new]), f"{shape.name} is moved.")


def push_wall(raw: Raw, position: int, side: str, to: float, *, together: bool) -> Done:
    """A side of a room pushed to a line of the grid; `together` takes along every room on the same line of wall."""
    if side not in SIDES:
        raise EditError("Only a straight wall can be pushed.")
    shape, system = _shape(raw, position), system_of(raw)
    axis, sign = SIDES[side]
    line = shape.bounds[axis + 2 if sign > 0 else axis]
    target = snap(to, system)
    if target == line:
        return Done([])
    shapes = [one for one in shapes_of(raw) if one.level == shape.level]
    moving = _on_line(shape, shapes, axis, line) if together else [(shape, sign)]
    changes = [_pushed(one, axis, line, target, which, system) for one, which in moving]
    others = len(changes) - 1
    note = f"{shape.name} is changed." if not others else f"The wall is moved, and {others} more with it."
    return Done(reshaped(raw, changes), note if others != 1 else "The wall between two rooms is moved.")


def _on_line(shape: Shape, shapes: Sequence[Shape], axis: int, line: float) -> list[tuple[Shape, int]]:
    """Rooms with an outermost side on a line of wall that hangs together with this room's."""
    across = 1 - axis

    def span(one: Shape) -> Point:
        return one.bounds[across], one.bounds[across + 2]

    def facing(one: Shape) -> int:
        return 1 if abs(one.bounds[axis + 2] - line) < 1e-6 else -1 if abs(one.bounds[axis] - line) < 1e-6 else 0

    found, fresh = {shape.position: shape}, [shape]
    while fresh:
        here = fresh.pop()
        low, high = span(here)
        for one in shapes:
            if one.position in found or not facing(one):
                continue
            if facing(one) != facing(here) and min(high, span(one)[1]) - max(low, span(one)[0]) > 1e-6:
                found[one.position] = one
                fresh.append(one)
    return [(one, facing(one)) for one in found.values()]


def _pushed(shape: Shape, axis: int, line: float, target: float, sign: int, system: System) -> Shape:
    far = shape.bounds[axis if sign > 0 else axis + 2]
    if sign * (target - far) < least_side_u(system) - 1e-9:
        raise EditError(f"{shape.name} would become too small.")

    def change(at: Point) -> Point:
        if abs(at[axis] - line) > 1e-6:
            return at
        return (target, at[1]) if axis == 0 else (at[0], target)

    return _mapped(shape, change)


def resize(raw: Raw, position: int, axis: int, size: float, *, together: bool) -> Done:
    """A typed width (axis 0) or depth (axis 1), not snapped: the east or north wall moves."""
    shape = _shape(raw, position)
    low, high = shape.bounds[axis], shape.bounds[axis + 2]
    target = round(low + size, 4)
    if size <= 0.0 or abs(target) > MOST_U:
        raise EditError("Type a size above zero.")
    shapes = [one for one in shapes_of(raw) if one.level == shape.level]
    moving = _on_line(shape, shapes, axis, high) if together else [(shape, 1)]
    system = system_of(raw)
    return Done(reshaped(raw, [_pushed(one, axis, high, target, which, system) for one, which in moving]))


def split_room(raw: Raw, position: int, axis: int) -> Done:
    """A rectangle cut in two equal parts; what stands in the second half goes with it."""
    shape, system = _shape(raw, position), system_of(raw)
    room = dict(items(raw, "room"))[position]
    if not shape.box:
        raise EditError("Only a rectangle can be split. Draw the second room instead.")
    x0, y0, x1, y1 = shape.bounds
    low, high = (x0, x1) if axis == 0 else (y0, y1)
    cut = snap(0.5 * (low + high), system)
    if min(cut - low, high - cut) < least_side_u(system):
        raise EditError("This room is too small to be split.")
    taken = names(raw, "room")
    name = free_name(taken, shape.name)
    second: Raw = {key: room[key] for key in ("level", "use", "height", "above", "below") if key in room}
    first_box, second_box = (
        ((x0, y0, cut, y1), (cut, y0, x1, y1)) if axis == 0 else ((x0, y0, x1, cut), (x0, cut, x1, y1))
    )
    second |= {"name": name, "at": list(second_box[:2]), "size": _size(second_box)}
    edits: list[Edit] = [Set(("room", position, "size"), _size(first_box)), Insert("room", _ordered(second))]
    edits += _to_second(raw, shape, name, axis, cut)
    return Done(edits, f"{shape.name} is split; the new part is {name}.", f"room.{len(raw['room'])}")


def _size(box: Box) -> list[float]:
    return [round(box[2] - box[0], 4), round(box[3] - box[1], 4)]


def _ordered(room: Raw) -> Raw:
    order = ("name", "level", "use", "at", "size", "height", "above", "below")
    return {key: room[key] for key in order if key in room}


def _to_second(raw: Raw, shape: Shape, name: str, axis: int, cut: float) -> list[Edit]:
    """Things that belong to the second part: windows of its outer side, points beyond the cut."""
    edits: list[Edit] = []
    far = "E" if axis == 0 else "N"
    system = system_of(raw)
    from dashboard.survey.draft.shape import point_u

    for table in ("window", "door", "wall"):
        key = "side" if table == "wall" else "wall"
        for position, item in items(raw, table):
            if same(item.get("room")) == shape.name and item.get(key) == far:
                edits.append(Set((table, position, "room"), name))
    for table in ("bed", "seat", "head_place"):
        for position, item in items(raw, table):
            at = point_u(item.get("at"), system)
            if same(item.get("room")) == shape.name and at and at[axis] > cut:
                edits.append(Set((table, position, "room"), name))
    for table in ("door", "opening"):
        for position, item in items(raw, table):
            pair, at = item.get("between"), point_u(item.get("at"), system)
            if isinstance(pair, list) and any(same(end) == shape.name for end in pair) and at and at[axis] > cut:
                edits.append(
                    Set((table, position, "between"), [name if same(end) == shape.name else end for end in pair])
                )
    return edits


def delete_room(raw: Raw, position: int) -> Done:
    """A room taken out with its doors, windows and furniture, and from every list that names it."""
    item = dict(items(raw, "room")).get(position)
    if item is None:
        raise EditError("This room is gone already.")
    name = same(item.get("name"))
    twins = names(raw, "room").count(name) > 1
    gone: dict[str, list[int]] = {}
    edits: list[Edit] = []
    for table, place, key in [] if twins or not name else sorted(set(mentions(raw, ROOM_KEYS, name))):
        value = raw[str(table)][place][key]
        if key == "serves":
            edits.append(Set((table, place, key), [one for one in value if same(one) != name]))
        elif place not in gone.setdefault(str(table), []):
            gone[str(table)].append(int(place))
    heat = raw.get("existing_heat")
    listed = heat.get("rooms") if isinstance(heat, dict) else None
    if isinstance(listed, list) and name in map(same, listed) and not twins:
        edits.append(Set(("existing_heat", "rooms"), [one for one in listed if same(one) != name]))
    for table, places in gone.items():
        edits += [Remove(table, place) for place in sorted(places, reverse=True)]
    edits.append(Remove("room", position))
    return Done(edits, _farewell(name or "The room", gone), "")


def _farewell(name: str, gone: dict[str, list[int]]) -> str:
    parts = [_counted(len(places), _WORDS.get(table, table)) for table, places in gone.items()]
    with_it = f", with {_listed(parts)}" if parts else ""
    return f"{name} is deleted{with_it}. Undo brings it back."


def _counted(count: int, word: str) -> str:
    return (
        f"{count} {word}"
        if count == 1
        else f"{count} {word.replace('place', 'places') if 'place' in word else word + 's'}"
    )


def _listed(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def grid_u(raw: Raw) -> float:
    """Step of the grid."""
    return GRID_U[system_of(raw)]
