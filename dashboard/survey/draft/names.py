"""Names in a draft: what refers to a room or a level, and new names that nobody bears yet."""

from __future__ import annotations

import re
from collections.abc import Iterator

from compare.house.references import LEVEL_KEYS, ROOM_KEYS, same_name
from compare.house.values import LONGEST_NAME, name_fault
from dashboard.survey.draft.edits import Edit, EditError, Raw, Set, Swap
from dashboard.survey.draft.shape import items
from dashboard.survey.draft.spans import Loc

USE_NAMES = {
    "living": "Living room", "dining": "Dining room", "kitchen": "Kitchen", "bedroom": "Bedroom", "work": "Office",
    "hobby": "Hobby room", "bath": "Bath", "hall": "Hall", "entry": "Entry", "laundry": "Laundry", "storage": "Storage",
}  # fmt: skip
NUMBERED = frozenset({"bedroom"})
"""Uses whose rooms are numbered from the first on."""


def same(text: object) -> str:
    """The form in which names are compared: composed, without blanks at the ends; empty for what is no text."""
    return same_name(text) if isinstance(text, str) else ""


def names(raw: Raw, table: str) -> list[str]:
    """Names of a list, in its order."""
    return [same(item.get("name")) for _, item in items(raw, table)]


def checked_name(text: object, taken: list[str], what: str) -> str:
    """A name as typed.

    Raises
    ------
    EditError
        With what to write instead.
    """
    name = same(text)
    if fault := name_fault(name, LONGEST_NAME):
        raise EditError(f"The name of the {what} {fault}.")
    if name.casefold() in {other.casefold() for other in taken}:
        raise EditError(f"Another {what} is called “{name}”. Give each its own name.")
    return name


def free_name(taken: list[str], wish: str, *, numbered: bool = False) -> str:
    """A name like the wish that nobody bears."""
    bare, lower = re.sub(r" \d+$", "", wish)[:34], {name.casefold() for name in taken}
    if not numbered and wish.casefold() not in lower:
        return wish
    number = 1 if numbered else 2
    while f"{bare} {number}".casefold() in lower:
        number += 1
    return f"{bare} {number}"


def mentions(raw: Raw, keys: dict[str, tuple[str, ...]], name: str) -> Iterator[Loc]:
    """Places that name a room or level."""
    for table, own in keys.items():
        for position, item in items(raw, table):
            for key in own:
                value = item.get(key)
                listed = value if isinstance(value, list) else [value]
                if any(same(part) == name for part in listed):
                    yield (table, position, key)


def _heat_rooms(raw: Raw) -> list[object]:
    heat = raw.get("existing_heat")
    listed = heat.get("rooms") if isinstance(heat, dict) else None
    return listed if isinstance(listed, list) else []


def spellings(value: object, name: str) -> list[str]:
    """The ways in which a value writes a name."""
    listed = value if isinstance(value, list) else [value]
    return [part for part in listed if isinstance(part, str) and same(part) == name]


def renamed(raw: Raw, table: str, position: int, new: object) -> list[Edit]:
    """A room or level called otherwise, everywhere. Raises `EditError` for a name that cannot be."""
    item = dict(items(raw, table))[position]
    old, others = same(item.get("name")), [name for at, name in _placed(raw, table) if at != position]
    name = checked_name(new, others, table)
    edits: list[Edit] = [Set((table, position, "name"), name)]
    if not old or old in others:
        return edits
    for loc in mentions(raw, ROOM_KEYS if table == "room" else LEVEL_KEYS, old):
        value = raw[loc[0]][loc[1]][loc[2]]  # type: ignore[index]
        edits += [Swap(loc, spelled, name) for spelled in dict.fromkeys(spellings(value, old))]
    if table == "room":
        spelled = dict.fromkeys(spellings(_heat_rooms(raw), old))
        edits += [Swap(("existing_heat", "rooms"), one, name) for one in spelled]
    return edits


def _placed(raw: Raw, table: str) -> list[tuple[int, str]]:
    return [(position, same(item.get("name"))) for position, item in items(raw, table)]
