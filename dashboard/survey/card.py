"""The card of what is chosen: its fields, and for a room its doors, windows and furniture as well."""

from __future__ import annotations

from collections.abc import Callable

from dashboard.survey.draft.joints import SIDE_WORDS
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import items
from dashboard.survey.fields import HABITS, Page, Spec, Way, field, row
from dashboard.survey.mend import item_words
from dashboard.survey.sections import (
    joint_fields,
    room_fields,
    room_more,
    space_fields,
    window_fields,
    window_more,
)


def card(page: Page, chosen: str) -> list[Spec]:
    """One section for the chosen thing; empty when nothing is chosen."""
    table, _, position = chosen.partition(".")
    if not position.isdecimal() or int(position) not in dict(items(page.raw, table)):
        return []
    at = int(position)
    item = dict(items(page.raw, table))[at]
    if table == "room":
        return [_room(page, at, same(item.get("name")))]
    ways: dict[str, Callable[[], list[Spec]]] = {
        "door": lambda: joint_fields(page, "door", at),
        "opening": lambda: joint_fields(page, "opening", at),
        "window": lambda: [*window_fields(page, at), *window_more(page, at)],
        "unit_space": lambda: space_fields(page, at),
        "bed": lambda: [field(page, ("bed", at, key)) for key in ("sleepers", "regular")],
        "seat": lambda: [field(page, ("seat", at, "kind"))],
        "head_place": lambda: [field(page, ("head_place", at, key)) for key in ("throws", "outside_wall")],
        "outdoor_spot": lambda: [
            field(page, ("outdoor_spot", at, key)) for key in ("name", "property_line", "bedroom_window", "units")
        ],
    }
    if table not in ways:
        return []
    title = item_words(table, item)
    return [
        {"key": "chosen", "title": title, "line": "", "adds": [], "rows": [row(page, table, at, "", ways[table]())]}
    ]


def _room(page: Page, at: int, name: str) -> Spec:
    rows = [row(page, "room", at, "", room_fields(page, at, level=False))]
    rows[0]["split"] = True
    for table in ("door", "opening"):
        for position, item in items(page.raw, table):
            pair = item.get("between")
            ends = [same(end) for end in pair] if isinstance(pair, list) else []
            if name in ends:
                other = next((end for end in ends if end != name), name)
                rows.append(_door(page, table, position, other))
    for position, item in items(page.raw, "window"):
        if same(item.get("room")) == name:
            rows.append(_window(page, position, str(item.get("wall"))))
    more = row(page, "room", at, "Seldom asked", room_more(page, at), removable=False) | {"fault": ""}
    return {"key": "chosen", "title": name or "Room", "line": "", "adds": [], "rows": [*rows, more]}


def _door(page: Page, table: str, position: int, other: str) -> Spec:
    title = f"Door to {other}" if table == "door" else f"Opening to {other}"
    keys = ("night", "day") if table == "door" else ()
    specs = [field(page, (table, position, key), Way(choices=HABITS, kind="stops")) for key in keys]
    return row(page, table, position, title, specs or [field(page, (table, position, "width"))])


def _window(page: Page, position: int, side: str) -> Spec:
    specs = window_fields(page, position)[2:]
    return row(page, "window", position, f"Window, {SIDE_WORDS.get(side, side)} wall", specs)
