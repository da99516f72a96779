"""Layouts before any unit is chosen: which rooms get a supply of their own, from what, and what the others live on.

A *zone sketch* is a room unit in one room or a concealed ducted unit with branches into several. A *layout sketch* is a
set of them plus what each other room lives on. Its id is made from its zones by canonical room index, so that neither
names nor rank reach it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class ZoneKind(StrEnum):
    """The two ways a heat pump can serve rooms."""

    ROOM_UNIT = "room unit"
    DUCTED = "concealed ducted unit"


class Rest(StrEnum):
    """What a room without its own supply lives on."""

    NEIGHBOUR = "a neighbour's air"
    HEATER = "room heater"
    OLD_HEAT = "old heat"


MARKS = {Rest.HEATER: "e", Rest.OLD_HEAT: "o"}
"""How a layout's id names what a room lives on."""


class Family(StrEnum):
    """Kinds of layout a homeowner tells apart; the words are those of the families table of scoring."""

    SINGLE_HEAD = "single_head"
    FEW_HEADS = "few_heads"
    HEADS_AND_HEATERS = "heads_and_heaters"
    HEAD_EACH = "head_each"
    DUCTED_ALL = "ducted_all"
    MIX = "mix"


@dataclass(frozen=True, slots=True, order=True)
class ZoneSketch:
    """Rooms with a supply from one indoor unit; `space` is an index into `Plan.unit_spaces` for ducted units."""

    rooms: tuple[int, ...]
    space: int = -1

    @property
    def kind(self) -> ZoneKind:
        """Ducted when it has a place for the concealed unit."""
        return ZoneKind.DUCTED if self.space >= 0 else ZoneKind.ROOM_UNIT

    @property
    def key(self) -> str:
        """Short stable id: `h3` a head in room 3; `d1.2.4@0` ducts from space 0 into rooms 1, 2 and 4."""
        if self.space < 0:
            return f"h{self.rooms[0]}"
        return f"d{'.'.join(map(str, self.rooms))}@{self.space}"


@dataclass(frozen=True, slots=True)
class LayoutSketch:
    """One way to serve the house, before units are chosen."""

    family: Family
    zones: tuple[ZoneSketch, ...]
    rest: tuple[tuple[int, Rest], ...]
    """(room, what it lives on) for every room without a supply, by room index."""
    key: str = field(init=False, compare=False, repr=False)
    """Stable id from the zones and the rest (neighbours' air needs no mention)."""

    def __post_init__(self) -> None:
        """The id, once."""
        parts = [zone.key for zone in sorted(self.zones, key=_place)]
        parts += [f"{MARKS[rest]}{room}" for room, rest in self.rest if rest in MARKS]
        object.__setattr__(self, "key", "-".join(parts))

    @property
    def served(self) -> frozenset[int]:
        """Rooms with a supply of their own."""
        return frozenset(room for zone in self.zones for room in zone.rooms)


def _place(zone: ZoneSketch) -> tuple[tuple[int, ...], int]:
    return zone.rooms, zone.space
