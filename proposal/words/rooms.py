"""Rooms in a sentence, by what they are used for: `the open space`, `three bedrooms and the bath`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from compare.views.customer import CustomerView, OptionCard
from compare.views.plan_view import RoomShape
from proposal.words.language import Words, name

LIVING = ("living", "dining", "kitchen")
SINGLY = ("bath", "work", "hobby", "hall", "entry", "laundry", "storage")
MOST_PARTS = 3


def shapes(view: CustomerView, names: Sequence[str]) -> list[RoomShape]:
    """Rooms of these names, in the order of the plan."""
    wanted = set(names)
    return [room for room in view.plan.rooms if room.name in wanted]


def _is_open(view: CustomerView, rooms: Sequence[RoomShape]) -> bool:
    """Whether these living rooms are one space: joined by openings, or the only living room of the house."""
    indices = {room.index for room in rooms}
    joined = {frozenset(door.rooms) for door in view.plan.doors if door.kind == "opening"}
    if len(rooms) > 1:
        reached, left = {rooms[0].index}, indices - {rooms[0].index}
        while more := {index for index in left if any(frozenset((index, near)) in joined for near in reached)}:
            reached, left = reached | more, left - more
        return not left
    others = [room for room in view.plan.rooms if room.use in LIVING and room.index not in indices]
    return not others


def living_words(view: CustomerView, rooms: Sequence[RoomShape], words: Words) -> str:
    """`the open space` or `the living space`."""
    return words.say("rooms", "open_space" if _is_open(view, rooms) else "living_space")


def _bedrooms(view: CustomerView, rooms: Sequence[RoomShape], words: Words) -> str:
    if len(rooms) == 1:
        return name(rooms[0].name)
    every = sum(room.use == "bedroom" for room in view.plan.rooms)
    if len(rooms) == every:
        return words.say("rooms", "bedrooms_all")
    return words.say("rooms", "bedrooms_many", n=words.count(len(rooms)))


def _parts(view: CustomerView, rooms: Sequence[RoomShape], words: Words) -> list[str]:
    living = [room for room in rooms if room.use in LIVING]
    bedrooms = [room for room in rooms if room.use == "bedroom"]
    parts = [living_words(view, living, words)] if living else []
    parts += [_bedrooms(view, bedrooms, words)] if bedrooms else []
    for use in SINGLY:
        same = [room for room in rooms if room.use == use]
        if same:
            form = "one" if len(same) == 1 else "many"
            parts.append(words.say("rooms", f"{use}_{form}", n=words.count(len(same))))
    return parts


def room_group(view: CustomerView, names: Sequence[str], words: Words) -> str:
    """All the rooms, by use, as in `three bedrooms and the bath`."""
    rooms = shapes(view, names)
    parts = _parts(view, rooms, words)
    if len(parts) <= MOST_PARTS:
        return words.listed(parts)
    told = set(parts[: MOST_PARTS - 1])
    rest = [
        room for room in rooms if _parts(view, [room], words)[0] not in told and room.use not in (*LIVING, "bedroom")
    ]
    form = "one" if len(rest) == 1 else "many"
    return words.listed([*parts[: MOST_PARTS - 1], words.say("rooms", f"other_{form}", n=words.count(len(rest)))])


def main_group(view: CustomerView, names: Sequence[str], words: Words) -> str:
    """The rooms that matter most, as in `the bedrooms`: bedrooms before living rooms before all others."""
    rooms = shapes(view, names)
    bedrooms = [room for room in rooms if room.use == "bedroom"]
    every = sum(room.use == "bedroom" for room in view.plan.rooms)
    if len(bedrooms) > 1 and 2 * len(bedrooms) > every:
        return words.say("rooms", "bedrooms_all")
    habitable = [room for room in rooms if room.use in (*LIVING, "bedroom", "work", "hobby")] or rooms
    return room_group(view, [room.name for room in habitable], words)


def room_names(names: Sequence[str], words: Words, most: int = MOST_PARTS) -> str:
    """Rooms by their names in the house file; beyond `most` the rest is counted."""
    shown = [name(item) for item in names]
    if len(shown) > most:
        rest = len(shown) - most + 1
        form = "one" if rest == 1 else "many"
        shown = [*shown[: most - 1], words.say("lists", f"other_rooms_{form}", n=words.count(rest))]
    return words.listed(shown)


def coldest_door_open(view: CustomerView, option: OptionCard) -> bool | None:
    """Whether the door of the coldest bedroom stands open at night; None when it has no door or there is no bedroom."""
    found = [room.index for room in view.plan.rooms if room.name == option.facts.coldest_bedroom]
    doors = [door for door in view.plan.doors if door.kind == "door" and set(found) & set(door.rooms)]
    return any(door.open_by_night for door in doors) if doors else None


def served_rooms(option: OptionCard) -> tuple[str, ...]:
    """Every room with a source of its own, each once."""
    return tuple(dict.fromkeys(chain(option.head_rooms, option.ducted_rooms, option.heater_rooms)))
