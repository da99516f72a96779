"""What stands in or beside the rooms: beds, seats, spaces for hidden units, places for units on walls and outside."""

from __future__ import annotations

from dashboard.survey.draft.edits import EditError, Insert, Raw, Set
from dashboard.survey.draft.joints import under
from dashboard.survey.draft.names import free_name, names
from dashboard.survey.draft.rooms import Box, Done
from dashboard.survey.draft.shape import Point, items, nearest_wall, shapes_of, snap, system_of

SPACE_WORDS = {
    "ceiling drop": "ceiling drop", "closet": "closet", "attic": "attic", "crawlspace": "crawlspace",
    "basement": "basement",
}  # fmt: skip
CLEAR_IN = {"ceiling drop": 9, "closet": 60, "attic": 36, "crawlspace": 20, "basement": 18}
"""First clear height by kind of space, inches; measured in the house (our judgement)."""
_IN_M, _FT_M = 0.0254, 0.3048
_OPPOSITE = {"N": "S", "S": "N", "E": "W", "W": "E", "NE": "SW", "SW": "NE", "NW": "SE", "SE": "NW"}


def _spot(raw: Raw, at: Point) -> list[float]:
    system = system_of(raw)
    return [snap(at[0], system), snap(at[1], system)]


def add_bed(raw: Raw, level: str, at: Point) -> Done:
    """A pillow where the plan was tapped."""
    room = under(raw, level, at)
    item = {"room": room.name, "at": _spot(raw, at), "sleepers": 1}
    return Done(
        [Insert("bed", item)], f"A bed in {room.name}. Say how many sleep in it.", f"bed.{len(raw.get('bed', []))}"
    )


def add_seat(raw: Raw, level: str, at: Point) -> Done:
    """A sofa, table or desk where the plan was tapped, by the use of the room."""
    room = under(raw, level, at)
    kind = {"kitchen": "table", "dining": "table", "work": "desk", "hobby": "desk", "bedroom": "desk"}.get(
        room.use, "sofa"
    )
    item = {"room": room.name, "at": _spot(raw, at), "kind": kind}
    return Done([Insert("seat", item)], f"A {kind} in {room.name}.", f"seat.{len(raw.get('seat', []))}")


def add_space(raw: Raw, level: str, kind: str, box: Box) -> Done:
    """A space where a hidden unit could go, drawn on the plan."""
    if kind not in SPACE_WORDS:
        raise EditError("Choose what kind of space it is.")
    x0, y0, x1, y1 = box
    unit_m = 1.0 if system_of(raw).value == "SI" else _FT_M
    sides = [f"{round((high - low) * unit_m / _IN_M)} in" for low, high in ((x0, x1), (y0, y1))]
    sides.sort(key=lambda text: -int(text.split()[0]))
    item = {
        "name": free_name(names(raw, "unit_space"), SPACE_WORDS[kind]),
        "kind": kind,
        "level": level,
        "at": [x0, y0],
        "size": [x1 - x0, y1 - y0],
        "clear": [*sides, f"{CLEAR_IN[kind]} in"],
    }
    note = f"Space for a hidden unit: {SPACE_WORDS[kind]}. Measure its clear height."
    return Done([Insert("unit_space", item)], note, f"unit_space.{len(raw.get('unit_space', []))}")


def add_outdoor(raw: Raw, level: str, at: Point) -> Done:
    """A place for an outdoor unit beside the outside wall nearest to a tap."""
    shapes = shapes_of(raw)
    wall = nearest_wall(shapes, level, at, system_of(raw))
    if wall is None or any(shape.level == level and shape.holds(at) for shape in shapes):
        raise EditError("Tap the ground outside the house.")
    taken = names(raw, "outdoor_spot")
    side = wall.edge.side
    item = {
        "name": free_name(taken, f"{_COMPASS[side]} side"),
        "at": _spot(raw, at),
        "side": side,
    }
    note = "A place outside. Measure how far the property line is."
    return Done([Insert("outdoor_spot", item)], note, f"outdoor_spot.{len(taken)}")


_COMPASS = {
    "N": "north",
    "E": "east",
    "S": "south",
    "W": "west",
    "NE": "north-east",
    "SE": "south-east",
    "SW": "south-west",
    "NW": "north-west",
}


def add_head_place(raw: Raw, level: str, at: Point) -> Done:
    """A place on a wall where a room unit could hang; it blows away from the wall."""
    shapes = shapes_of(raw)
    room = under(raw, level, at)
    wall = nearest_wall([room], level, at, system_of(raw))
    if wall is None:
        raise EditError("Tap a wall.")
    x, y = wall.nearest(at)
    outer = nearest_wall([shape for shape in shapes if shape.level == level], level, (x, y), system_of(raw))
    spot = _spot(raw, (x, y))
    item = {"room": room.name, "at": spot, "throws": _OPPOSITE[wall.edge.side]}
    note = f"A place for a room unit in {room.name}." + (
        "" if outer is None or outer.other else " It hangs on an outside wall."
    )
    return Done([Insert("head_place", item)], note, f"head_place.{len(raw.get('head_place', []))}")


def move_thing(raw: Raw, table: str, position: int, level: str, at: Point) -> Done:
    """Furniture or a place dragged elsewhere; in another room it belongs to that."""
    loc = (table, position)
    spot = _spot(raw, at)
    if table == "outdoor_spot":
        wall = nearest_wall(shapes_of(raw), level, at, system_of(raw))
        side = [Set((*loc, "side"), wall.edge.side)] if wall else []
        return Done([Set((*loc, "at"), spot), *side], "Moved.")
    if table == "unit_space":
        return Done([Set((*loc, "at"), spot)], "Moved.")
    room = under(raw, level, at)
    item = dict(items(raw, table))[position]
    edits = [Set((*loc, "at"), spot)]
    if item.get("room") != room.name:
        edits.append(Set((*loc, "room"), room.name))
    return Done([*edits], f"Now in {room.name}.")
