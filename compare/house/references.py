"""Names in a house file: each given once, and every reference to one that exists.

Works on the raw tables, so that it reports in the same run as faults of single fields.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any

from compare.house.model import MOST_WINDOWS_A_ROOM
from compare.house.problems import Problem, nearest
from compare.house.source import Loc, Source

Raw = dict[str, Any]

_NAMED = ("level", "room", "unit_space", "outdoor_spot")
ROOM_KEYS: dict[str, tuple[str, ...]] = {
    "wall": ("room",),
    "window": ("room",),
    "door": ("room", "between"),
    "opening": ("between",),
    "stair": ("lower", "upper"),
    "bed": ("room",),
    "seat": ("room",),
    "head_place": ("room",),
    "unit_space": ("serves",),
    "control": ("room", "sensor_room"),
}
"""Keys that hold names of rooms, by table."""
LEVEL_KEYS: dict[str, tuple[str, ...]] = {"room": ("level",), "unit_space": ("level",)}


def same_name(text: str) -> str:
    """The form in which names are compared: composed, without blanks at the ends."""
    return unicodedata.normalize("NFC", text).strip(" ")


def _items(raw: Raw, table: str) -> Iterator[tuple[Loc, Raw]]:
    items = raw.get(table)
    for position, item in enumerate(items if isinstance(items, list) else ()):
        if isinstance(item, dict):
            yield (table, position), item


def _names(raw: Raw, table: str) -> Iterator[tuple[Loc, str]]:
    for loc, item in _items(raw, table):
        if isinstance(item.get("name"), str):
            yield (*loc, "name"), same_name(item["name"])


def _texts(loc: Loc, value: object) -> Iterator[tuple[Loc, str]]:
    """Names at a key that holds one name or a list of names."""
    if isinstance(value, str):
        yield loc, same_name(value)
    elif isinstance(value, list):
        for position, part in enumerate(value):
            if isinstance(part, str):
                yield (*loc, position), same_name(part)


def _references(raw: Raw, keys: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[Loc, str]]:
    for table, names in keys.items():
        for loc, item in _items(raw, table):
            for key in names:
                yield from _texts((*loc, key), item.get(key))


def _duplicates(raw: Raw, source: Source) -> Iterator[Problem]:
    for table in _NAMED:
        first: dict[str, Loc] = {}
        for loc, name in _names(raw, table):
            earlier = first.setdefault(name.casefold(), loc)
            if earlier != loc:
                line = source.line_of(earlier)
                where = f" (line {line})" if line else ""
                yield source.problem(loc, f"another {table} has this name{where}; give each its own", name)


def _unknown(raw: Raw, source: Source) -> Iterator[Problem]:
    rooms = [name for _, name in _names(raw, "room")]
    levels = [name for _, name in _names(raw, "level")]
    for loc, name in _references(raw, ROOM_KEYS):
        if name not in rooms:
            yield source.problem(loc, "no room has this name", name, nearest(name, rooms))
    for loc, name in _references(raw, LEVEL_KEYS):
        if name not in levels:
            yield source.problem(loc, "no level has this name", name, nearest(name, levels))
    heat = raw.get("existing_heat")
    listed = heat.get("rooms") if isinstance(heat, dict) else None
    for loc, name in _texts(("existing_heat", "rooms"), listed):
        if name not in rooms and listed != "all":
            yield source.problem(loc, "no room has this name", name, nearest(name, rooms))


def _to_itself(raw: Raw, source: Source) -> Iterator[Problem]:
    for table in ("door", "opening"):
        for loc, item in _items(raw, table):
            ends = [name for _, name in _texts(loc, item.get("between"))]
            if len(ends) == 2 and ends[0] == ends[1]:
                yield source.problem((*loc, "between"), f"the {table} leads from a room to itself", ends)


def _crowded(raw: Raw, source: Source) -> Iterator[Problem]:
    count: dict[str, int] = {}
    for loc, item in _items(raw, "window"):
        if isinstance(item.get("room"), str):
            name = same_name(item["room"])
            count[name] = count.get(name, 0) + 1
            if count[name] == MOST_WINDOWS_A_ROOM + 1:
                message = f"a room may have at most {MOST_WINDOWS_A_ROOM} window entries; use count for equal windows"
                yield source.problem((*loc, "room"), message, name)


def reference_problems(raw: Raw, source: Source) -> list[Problem]:
    """Names given twice, names that nothing bears, doors from a room to itself, rooms with too many windows."""
    return [problem for check in (_duplicates, _unknown, _to_itself, _crowded) for problem in check(raw, source)]
