"""Doors, openings, windows and stairs: put where a wall is tapped, with the sizes and habits that are usual."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from compare.units import System
from dashboard.survey.draft.edits import Edit, EditError, Insert, Raw, Remove, Set
from dashboard.survey.draft.names import same
from dashboard.survey.draft.rooms import Done
from dashboard.survey.draft.shape import (
    Point,
    Shape,
    Stretch,
    items,
    nearest_wall,
    room_at,
    shapes_of,
    shared,
    snap,
    system_of,
)

MOST_AWAY_M = 0.9
"""A tap may lie this far from a wall that is meant."""
_M_IN_FT = 0.3048
SHUT_AT_NIGHT = frozenset({"bedroom", "work", "laundry", "storage"})
"""Rooms whose doors are first taken as shut at night; asked in the house."""
_STRAIGHT = frozenset({"N", "E", "S", "W"})


@dataclass(frozen=True, slots=True)
class Sizes:
    """First sizes, in units of the file or as text."""

    window: Point
    outside_door: Point
    door: tuple[str, str] = ("32 in", "80 in")
    bath_door: tuple[str, str] = ("28 in", "80 in")
    opening: tuple[str, str] = ("48 in", "80 in")


SIZES = {
    System.US: Sizes(window=(3, 4), outside_door=(3, 6.67)),
    System.SI: Sizes(
        window=(0.9, 1.2),
        outside_door=(0.9, 2.05),
        door=("80 cm", "203 cm"),
        bath_door=("70 cm", "203 cm"),
        opening=("120 cm", "203 cm"),
    ),
}
"""Common practice; the surveyor measures and corrects them."""


def _wall(raw: Raw, level: str, at: Point, shapes: list[Shape]) -> Stretch:
    system = system_of(raw)
    wall = nearest_wall(shapes, level, at, system)
    most = MOST_AWAY_M / (1.0 if system is System.SI else _M_IN_FT)
    if wall is None or wall.distance_u(at) > most:
        raise EditError("Tap nearer to a wall.")
    return wall


def _on_grid(wall: Stretch, at: Point, system: System) -> list[float]:
    """The point of a wall nearest to a tap, snapped along a straight wall."""
    x, y = wall.nearest(at)
    if wall.edge.side in {"N", "S"}:
        x = snap(x, system)
    elif wall.edge.side in {"E", "W"}:
        y = snap(y, system)
    x, y = wall.nearest((x, y))
    return [round(x, 4) + 0.0, round(y, 4) + 0.0]


def add_window(raw: Raw, level: str, at: Point) -> Done:
    """A window of the first size in the outside wall that was tapped."""
    wall = _wall(raw, level, at, shapes_of(raw))
    if wall.other:
        raise EditError(f"This wall stands between {wall.shape.name} and {wall.other}. Windows go in outside walls.")
    wide, high = SIZES[system_of(raw)].window
    item = {"room": wall.shape.name, "wall": wall.edge.side, "width": wide, "height": high}
    return Done([Insert("window", item)], f"A window in {_wall_words(wall)}.", f"window.{len(raw.get('window', []))}")


def _wall_words(wall: Stretch) -> str:
    return f"the {SIDE_WORDS[wall.edge.side]} wall of {wall.shape.name}"


SIDE_WORDS = {
    "N": "top",
    "E": "right",
    "S": "bottom",
    "W": "left",
    "NE": "top right",
    "SE": "bottom right",
    "SW": "bottom left",
    "NW": "top left",
}
"""Sides as they lie on the plan, whose top need not be north."""


def add_door(raw: Raw, level: str, at: Point) -> Done:
    """A door where a wall was tapped: between two rooms, or to the outside."""
    shapes = shapes_of(raw)
    wall = _wall(raw, level, at, shapes)
    sizes = SIZES[system_of(raw)]
    chosen = f"door.{len(raw.get('door', []))}"
    if not wall.other:
        wide, high = sizes.outside_door
        item: dict[str, Any] = {"room": wall.shape.name, "wall": wall.edge.side, "width": wide, "height": high}
        return Done([Insert("door", item)], f"An outside door in {_wall_words(wall)}.", chosen)
    item = _inside_door(wall, shapes, sizes) | {"at": _on_grid(wall, at, system_of(raw))}
    note = f"A door between {wall.shape.name} and {wall.other}. Ask if it is shut at night."
    return Done([Insert("door", item)], note, chosen)


def _inside_door(wall: Stretch, shapes: list[Shape], sizes: Sizes) -> dict[str, Any]:
    uses = {shape.use for shape in shapes if shape.name in {wall.shape.name, wall.other}}
    width, height = sizes.bath_door if "bath" in uses else sizes.door
    habits = (
        ("shut", "shut")
        if uses & {"laundry", "storage"}
        else (0.7, "shut")
        if uses & SHUT_AT_NIGHT
        else ("open", "open")
    )
    pair = [wall.shape.name, wall.other]
    return {"between": pair, "width": width, "height": height, "day": habits[0], "night": habits[1]}


def add_opening(raw: Raw, level: str, at: Point) -> Done:
    """An opening without a door in the inside wall that was tapped."""
    wall = _wall(raw, level, at, shapes_of(raw))
    if not wall.other:
        raise EditError("An opening joins two rooms. Tap the wall between them.")
    width, height = SIZES[system_of(raw)].opening
    item = {
        "between": [wall.shape.name, wall.other],
        "at": _on_grid(wall, at, system_of(raw)),
        "width": width,
        "height": height,
    }
    return Done(
        [Insert("opening", item)],
        f"An opening between {wall.shape.name} and {wall.other}.",
        f"opening.{len(raw.get('opening', []))}",
    )


def join_rooms(raw: Raw, one: str, other: str, kind: str) -> Done:
    """A door or opening between two rooms by their names, in the middle of the wall that they share."""
    shapes, system = shapes_of(raw), system_of(raw)
    walls = shared(shapes, one, other, system)
    if not walls:
        raise EditError(f"{one} and {other} share no wall. Move them together first, or choose two others.")
    longest = max(walls, key=lambda wall: wall.length_u)
    level = longest.shape.level
    return (add_door if kind == "door" else add_opening)(raw, level, longest.middle)


def in_wall(raw: Raw, room: str, side: str, kind: str) -> Done:
    """A window or outside door by the name of its room and the side of the plan."""
    if side not in SIDE_WORDS:
        raise EditError("Choose a side.")
    sizes = SIZES[system_of(raw)]
    wide, high = sizes.window if kind == "window" else sizes.outside_door
    item = {"room": room, "wall": side, "width": wide, "height": high}
    what = "A window" if kind == "window" else "An outside door"
    return Done(
        [Insert(kind, item)], f"{what} in the {SIDE_WORDS[side]} wall of {room}.", f"{kind}.{len(raw.get(kind, []))}"
    )


def move_joint(raw: Raw, table: str, position: int, level: str, at: Point) -> Done:
    """A door or opening dragged along its wall or to another, a window to another wall."""
    shapes = shapes_of(raw)
    wall = _wall(raw, level, at, shapes)
    item = dict(items(raw, table))[position]
    loc = (table, position)
    if "between" in item:
        if not wall.other:
            raise EditError("This door joins two rooms. Drop it on a wall between them.")
        edits: list[Edit] = []
        if {wall.shape.name, wall.other} != {same(end) for end in item["between"]}:
            edits.append(Set((*loc, "between"), [wall.shape.name, wall.other]))
        return Done([*edits, Set((*loc, "at"), _on_grid(wall, at, system_of(raw)))], f"The {table} is moved.")
    if wall.other:
        raise EditError("Drop it on an outside wall.")
    return Done(
        [Set((*loc, "room"), wall.shape.name), Set((*loc, "wall"), wall.edge.side)],
        f"The {table} is now in {_wall_words(wall)}.",
    )


def add_stair(raw: Raw, lower: str, upper: str) -> Done:
    """An open stair from a room to one of the level above."""
    item = {"lower": lower, "upper": upper, "width": "3 ft", "height": "8 ft"}
    return Done([Insert("stair", item)], f"A stair from {lower} up to {upper}.", f"stair.{len(raw.get('stair', []))}")


def remove(raw: Raw, table: str, position: int) -> Done:
    """One thing taken out."""
    if position not in dict(items(raw, table)):
        raise EditError("This is gone already.")
    return Done([Remove(table, position)], f"The {THINGS[table]} is deleted. Undo brings it back.", "")


THINGS = {
    "window": "window",
    "door": "door",
    "opening": "opening",
    "stair": "stair",
    "bed": "bed",
    "seat": "seat",
    "unit_space": "space for a hidden unit",
    "head_place": "place for a room unit",
    "outdoor_spot": "place outside",
    "wall": "note on a wall",
    "level": "storey",
    "control": "control",
    "rate_period": "rate period",
    "bill": "bill",
}
"""What each list of the file holds, in words."""


def under(raw: Raw, level: str, at: Point) -> Shape:
    """The room that was tapped."""
    found = room_at(shapes_of(raw), level, at)
    if found is None:
        raise EditError("Tap inside a room.")
    return found
