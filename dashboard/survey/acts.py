"""Each event as an operation on the draft: which edits it makes, and what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from compare.units import System
from dashboard.survey.begin import zip_edits
from dashboard.survey.draft.edits import Edit, EditError, Insert, Raw, Set, Unset
from dashboard.survey.draft.entry import FieldKind, Form, field_kind, value_of
from dashboard.survey.draft.joints import (
    add_door,
    add_opening,
    add_stair,
    add_window,
    in_wall,
    join_rooms,
    move_joint,
    remove,
)
from dashboard.survey.draft.names import checked_name, free_name, names, renamed, same
from dashboard.survey.draft.rooms import (
    SIDES,
    Done,
    add_room,
    beside,
    box_of,
    delete_room,
    move_room,
    push_wall,
    resize,
    split_room,
)
from dashboard.survey.draft.shape import Shape, items, length_u, shapes_of, system_of
from dashboard.survey.draft.spans import Loc
from dashboard.survey.draft.things import add_bed, add_head_place, add_outdoor, add_seat, add_space, move_thing
from dashboard.survey.fields import mark_of
from dashboard.survey.heard import Event, NotHeardError

GONE = "That has just changed. Look again, and do it once more."
_TAPS: dict[str, Callable[[Raw, str, tuple[float, float]], Done]] = {
    "door": add_door,
    "opening": add_opening,
    "window": add_window,
    "bed": add_bed,
    "seat": add_seat,
    "head": add_head_place,
    "outdoor": add_outdoor,
}
_IN_WALLS = frozenset({"door", "opening", "window"})


def act(raw: Raw, event: Event, level: str, *, together: bool, kind: str) -> Done:
    """What an event does to the draft.

    Raises
    ------
    EditError
        In plain words, when it cannot be done.
    NotHeardError
        When it is nothing that the page says.
    """
    what = event.what
    if what in _ACTS:
        return _ACTS[what](raw, event)
    if what == "draw":
        box = box_of(event.point("from"), event.point("to"), system_of(raw))
        return (
            add_space(raw, level, kind, box)
            if event.text("tool", 20) == "space"
            else add_room(raw, level, "bedroom" if kind not in _USES else kind, box)
        )
    if what == "tap":
        tool = event.text("tool", 20)
        if tool not in _TAPS:
            raise NotHeardError("no such tool")
        return _TAPS[tool](raw, level, event.point("at"))
    if what == "move":
        return _move(raw, event, level)
    if what == "push":
        return push_wall(raw, _room(event), event.text("side", 2), event.number_at("to"), together=together)
    if what == "set":
        return _set(raw, event, together=together)
    raise NotHeardError("no such event")


_USES = frozenset(
    {"living", "dining", "kitchen", "bedroom", "work", "hobby", "bath", "hall", "entry", "laundry", "storage"}
)


def _room(event: Event) -> int:
    table, position = event.ref()
    if table != "room":
        raise NotHeardError("no room")
    return position


def _move(raw: Raw, event: Event, level: str) -> Done:
    table, position = event.ref()
    if table == "room":
        return move_room(raw, position, event.point("by"))
    if position not in dict(items(raw, table)):
        raise EditError(GONE)
    at = event.point("at")
    return (
        move_joint(raw, table, position, level, at)
        if table in _IN_WALLS
        else move_thing(raw, table, position, level, at)
    )


def _same_item(raw: Raw, table: str, position: int, mark: str) -> None:
    """Refuse what was meant for a thing that stands elsewhere now."""
    item = dict(items(raw, table)).get(position)
    if item is None or (mark and mark_of(table, item) != mark):
        raise EditError(GONE)


def _set(raw: Raw, event: Event, *, together: bool) -> Done:
    if event.text("loc", 130) == "zip":
        return _zip(raw, event.parts.get("value"))
    loc = event.loc()
    if len(loc) > 2 and isinstance(loc[1], int):
        _same_item(raw, str(loc[0]), loc[1], event.text("mark"))
    kind = field_kind(loc)
    value = _in_inches(kind, value_of(kind, event.parts.get("value")), raw)
    if kind.form is Form.YES_NO and isinstance(value, str):
        value = {"true": True, "false": False}.get(value)
    if loc[0] in {"room", "level"} and loc[-1] == "name":
        return Done(renamed(raw, str(loc[0]), int(loc[1]), value if value is not None else ""))
    if loc[0] == "room" and loc[2:3] == ("size",) and len(loc) == 4:
        return _sized(raw, loc, value, together=together)
    if loc[0] == "room" and loc[2:3] == ("at",) and len(loc) == 4:
        return _placed(raw, loc, value)
    if loc[-1] == "outline":
        return _outline(raw, loc, value)
    if loc[-1] in {"serves", "rooms", "between"}:
        raise NotHeardError("not a field of its own")
    return Done(_written(raw, loc, value))


_MOST_FT = {"door.width": 20.0, "door.height": 20.0, "opening.height": 20.0}
"""Sizes that are spoken in inches; a bare number above these feet can mean nothing else."""


def _in_inches(kind: FieldKind, value: Any, raw: Raw) -> Any:  # noqa: ANN401 - any value of a file
    """`32` for the width of a door is 32 inches in a house measured in feet."""
    most = _MOST_FT.get(kind.quantity)
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if most is None or not number or system_of(raw) is System.SI or value <= most:
        return value
    return f"{value:g} in"


def _written(raw: Raw, loc: Loc, value: Any) -> list[Edit]:  # noqa: ANN401 - any value of a file
    """A value set, or its key taken out when it is empty; one part of a list keeps the others as they are written."""
    if isinstance(loc[-1], int):
        whole: Any = raw
        for step in loc[:-1]:
            whole = whole.get(step) if isinstance(whole, dict) else whole[step]
        parts = list(whole) if isinstance(whole, list) else [0] * (loc[-1] + 1)
        if value is None or loc[-1] >= max(len(parts), 3):
            raise EditError("Type a value.")
        parts += [0] * (loc[-1] + 1 - len(parts))
        parts[loc[-1]] = value
        return [Set(loc[:-1], parts)]
    holder: Any = raw
    for step in loc[:-1]:
        holder = holder.get(step, {}) if isinstance(holder, dict) else holder[step]
    if value is None:
        return [Unset(loc)] if isinstance(holder, dict) and loc[-1] in holder else []
    return (
        []
        if isinstance(holder, dict) and holder.get(loc[-1]) == value and type(holder[loc[-1]]) is type(value)
        else [Set(loc, value)]
    )


def _sized(raw: Raw, loc: Loc, value: object, *, together: bool) -> Done:
    """A typed width or depth: the wall moves, and what is on it; text with a unit stays as it is typed."""
    size = length_u(value, system_of(raw))
    drawn = any(shape.position == loc[1] for shape in shapes_of(raw))
    if size is None or size <= 0.0 or not drawn:
        return Done(_written(raw, loc, value))
    done = resize(raw, int(loc[1]), int(loc[3]), size, together=together)
    if isinstance(value, str):
        edits = [_as_typed(edit, loc, value) for edit in done.edits]
        return Done(edits, done.note)
    return done


def _as_typed(edit: Edit, loc: Loc, value: str) -> Edit:
    if isinstance(edit, Set) and edit.loc == loc[:3]:
        parts = list(edit.value)
        parts[int(loc[3])] = value
        return Set(edit.loc, parts)
    return edit


def _placed(raw: Raw, loc: Loc, value: object) -> Done:
    """A typed corner: the room moves as a whole, not snapped."""
    system = system_of(raw)
    wish, shape = length_u(value, system), _shape(raw, int(loc[1]))
    if wish is None or shape is None:
        return Done(_written(raw, loc, value))
    from dataclasses import replace

    from dashboard.survey.draft.rooms import reshaped

    by = wish - shape.bounds[int(loc[3])]
    moved = tuple((round(x + by, 4), y) if loc[3] == 0 else (x, round(y + by, 4)) for x, y in shape.corners)
    return Done(reshaped(raw, [replace(shape, corners=moved)]))


def _shape(raw: Raw, position: int) -> Shape | None:
    return next((shape for shape in shapes_of(raw) if shape.position == position), None)


def _outline(raw: Raw, loc: Loc, value: object) -> Done:
    """Corners typed as `0, 0, 12, 0, 12, 9`: pairs from left and from bottom."""
    system = system_of(raw)
    parts = [part.strip() for part in str(value or "").replace(";", ",").split(",") if part.strip()]
    numbers = [length_u(part, system) for part in parts]
    if len(numbers) < 6 or len(numbers) % 2 or len(numbers) > 80 or any(number is None for number in numbers):
        raise EditError(
            "Type the corners in order, each as two lengths: from the left, from the bottom. At least three corners."
        )
    pairs = [[numbers[k], numbers[k + 1]] for k in range(0, len(numbers), 2)]
    return Done([Set(loc, pairs)])


def _zip(raw: Raw, code: object) -> Done:
    if not isinstance(code, str) or len(code) > 20:
        raise NotHeardError("no ZIP code")
    if not code.strip():
        return Done([Unset(("site", "zip"))] if isinstance(raw.get("site"), dict) and "zip" in raw["site"] else [])
    edits = zip_edits(raw, code)
    return Done(edits, "The place is set; its weather follows." if edits else "")


def _remove(raw: Raw, event: Event) -> Done:
    table, position = event.ref()
    _same_item(raw, table, position, event.text("mark"))
    return delete_room(raw, position) if table == "room" else remove(raw, table, position)


def _split(raw: Raw, event: Event) -> Done:
    return split_room(raw, _room(event), 0 if event.text("axis", 2) == "x" else 1)


def _add(raw: Raw, event: Event) -> Done:
    forms = {
        "room": _add_room,
        "joint": _add_joint,
        "stair": _add_stair,
        "hole": _add_hole,
        "thing": _add_thing,
        "level": _add_level,
        "behind": _add_behind,
        "bill": _add_bill,
    }
    form = event.text("form", 20)
    if form not in forms:
        raise NotHeardError("no such form")
    return forms[form](raw, event.values())


def _length(values: dict[str, str], key: str, raw: Raw, what: str) -> float:
    size = length_u(values.get(key, "").strip() or None, system_of(raw))
    if size is None or size <= 0.0:
        raise EditError(f"Type the {what} as a number, such as 12 or 12 ft 6 in.")
    return size


def _add_room(raw: Raw, values: dict[str, str]) -> Done:
    use = values.get("use", "")
    if use not in _USES:
        raise NotHeardError("no such use")
    size = (_length(values, "wide", raw, "width"), _length(values, "deep", raw, "depth"))
    level = values.get("level") or next(iter(names(raw, "level")), "ground")
    shapes = [shape for shape in shapes_of(raw) if shape.level == level]
    name = checked_name(values["name"], names(raw, "room"), "room") if values.get("name", "").strip() else ""
    if not shapes:
        x0, y0 = 0.0, 0.0
        box = (x0, y0, size[0], size[1])
    else:
        wanted = same(values.get("beside"))
        found = next((shape for shape in shapes if shape.name == wanted), shapes[-1])
        side = values.get("side", "E")
        if side not in SIDES:
            raise NotHeardError("no such side")
        box = beside(raw, found, side, size)
        box = (box[0], box[1], round(box[0] + size[0], 4), round(box[1] + size[1], 4))
    return add_room(raw, level, use, box, name)


def _add_joint(raw: Raw, values: dict[str, str]) -> Done:
    one, other = same(values.get("one")), same(values.get("other"))
    if one == other:
        raise EditError("Choose two different rooms.")
    return join_rooms(raw, one, other, "door" if values.get("kind") == "door" else "opening")


def _add_stair(raw: Raw, values: dict[str, str]) -> Done:
    return add_stair(raw, same(values.get("lower")), same(values.get("upper")))


def _add_hole(raw: Raw, values: dict[str, str]) -> Done:
    kind = values.get("kind", "window")
    if kind not in {"window", "door"}:
        raise NotHeardError("no such thing")
    room = same(values.get("room"))
    if room not in names(raw, "room"):
        raise EditError("Choose a room.")
    done = in_wall(raw, room, values.get("side", ""), kind)
    insert = done.edits[0]
    assert isinstance(insert, Insert)
    item = dict(insert.item)
    for key in ("width", "height"):
        if values.get(key, "").strip():
            own = field_kind((kind, 0, key))
            item[key] = _in_inches(own, value_of(own, values[key]), raw)
    return Done([Insert(kind, item)], done.note, done.chosen)


def _add_thing(raw: Raw, values: dict[str, str]) -> Done:
    room = same(values.get("room"))
    shape = next((one for one in shapes_of(raw) if one.name == room), None)
    if shape is None:
        raise EditError("Choose a room that is drawn.")
    x0, y0, x1, y1 = shape.bounds
    middle = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
    return add_bed(raw, shape.level, middle) if values.get("kind") == "bed" else add_seat(raw, shape.level, middle)


def _add_level(raw: Raw, values: dict[str, str]) -> Done:
    taken = names(raw, "level")
    if len(taken) >= 4:
        raise EditError("A house has at most four storeys here.")
    given = values.get("name", "").strip()
    name = checked_name(given, taken, "storey") if given else free_name(taken, "upper")
    last = dict(items(raw, "level")).get(len(taken) - 1, {})
    height = last.get("height", 8 if system_of(raw).value == "US" else 2.4)
    return Done(
        [Insert("level", {"name": name, "height": height, "above": last.get("above", "vented attic")})],
        f"Storey {name} is added. Draw its rooms.",
    )


def _add_behind(_raw: Raw, values: dict[str, str]) -> Done:
    item = {"room": same(values.get("room")), "side": values.get("side", ""), "beyond": values.get("beyond", "")}
    return Done([Insert("wall", item)], f"Noted for {item['room']}.")


def _add_bill(raw: Raw, values: dict[str, str]) -> Done:
    item = {
        key: value_of(field_kind(("bill", 0, key)), values.get(key, "")) for key in ("from", "to", "fuel", "amount")
    }
    if any(value is None for value in item.values()):
        raise EditError("A bill needs its two dates and the units used.")
    number = len(raw.get("bill", [])) + 1
    return Done([Insert("bill", item)], f"Bill {number} is noted.")


_ACTS: dict[str, Callable[[Raw, Event], Done]] = {"remove": _remove, "split": _split, "add": _add}
