"""Sets of rooms that one ducted unit can serve, and why it cannot serve others.

A set is offered when its rooms lie on one level, are connected (ducts reach from one to the next without crossing a
third room), are at most `MOST_IN_GROUP`, and when a place for the unit on their level reaches all of them. Whether the
unit then has the capacity and the static pressure is found by designing it; see `compare.options.findings`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

from compare.house.plan import Plan, SpaceKind, Use
from compare.zones.families import PASSING

MOST_IN_GROUP = 6
"""Habitable rooms of one ducted unit (our judgement: the largest concealed units have about so many branches)."""
MOST_GROUPS = 3
"""Ducted units of one level."""
ROOMY = frozenset({SpaceKind.ATTIC, SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT})
"""Places that take more than one unit."""
MOST_LISTED = 14
"""Rooms of a level up to which every set is named; beyond, sets of at most `MOST_IN_GROUP` rooms are."""


class Refusal(StrEnum):
    """Why a set of rooms gets no ducted unit of its own."""

    LEVELS = "its rooms lie on different levels"
    MANY = f"more than {MOST_IN_GROUP} rooms for one unit"
    APART = "its rooms are apart: ducts would have to cross another room"
    NO_PLACE = "no place for a concealed unit on its level"
    UNREACHED = "no place for the unit reaches all of its rooms"


@dataclass(frozen=True, slots=True)
class RefusedSet:
    """A set of rooms that was looked at and not offered."""

    rooms: tuple[int, ...]
    reason: Refusal


class DuctedSets:
    """What ducted units can serve in one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._near = _connections(plan)
        self.reach = {room: self._places_of(room) for room in range(len(plan.rooms))}

    def _places_of(self, room: int) -> frozenset[int]:
        level = self._plan.rooms[room].level
        spaces = enumerate(self._plan.unit_spaces)
        return frozenset(k for k, s in spaces if s.level == level and (not s.serves or room in s.serves))

    def refusal(self, rooms: Sequence[int]) -> Refusal | None:
        """Why these rooms cannot be one unit's; None when they can."""
        levels = {self._plan.rooms[room].level for room in rooms}
        if len(levels) > 1:
            return Refusal.LEVELS
        if len(rooms) > MOST_IN_GROUP:
            return Refusal.MANY
        if not any(space.level in levels for space in self._plan.unit_spaces):
            return Refusal.NO_PLACE
        if not self._connected(rooms):
            return Refusal.APART
        return None if self.places(rooms) else Refusal.UNREACHED

    def places(self, rooms: Iterable[int]) -> list[int]:
        """Places (indices of `Plan.unit_spaces`) that reach all of these rooms."""
        return sorted(frozenset.intersection(*(self.reach[room] for room in rooms)))

    def room_for(self, places: Iterable[int]) -> bool:
        """Whether these units fit in their places: a ceiling drop or a closet takes one."""
        used = Counter(places)
        return all(count == 1 or self._plan.unit_spaces[k].kind in ROOMY for k, count in used.items())

    def refused(self, rooms: Iterable[int]) -> list[RefusedSet]:
        """Every set of these rooms, level by level, that is not offered to a ducted unit, with the reason."""
        by_level: dict[int, list[int]] = {}
        for room in sorted(rooms):
            by_level.setdefault(self._plan.rooms[room].level, []).append(room)
        found = []
        for own in by_level.values():
            most = len(own) if len(own) <= MOST_LISTED else MOST_IN_GROUP
            for size in range(1, most + 1):
                for pick in combinations(own, size):
                    reason = self.refusal(pick)
                    if reason is not None:
                        found.append(RefusedSet(pick, reason))
        return found

    def _connected(self, rooms: Sequence[int]) -> bool:
        left, queue = set(rooms), [rooms[0]]
        while queue:
            room = queue.pop()
            if room in left:
                left.discard(room)
                queue += [other for other in self._near[room] if other in left]
        return not left


def _connections(plan: Plan) -> dict[int, set[int]]:
    """Rooms that ducts can join without crossing a third: a common wall, or a common hall."""
    near: dict[int, set[int]] = {room: set() for room in range(len(plan.rooms))}
    passages = {i for i, room in enumerate(plan.rooms) if room.use in PASSING or room.use is Use.HALL}
    along: dict[int, set[int]] = {room: set() for room in passages}
    for part in plan.partitions:
        if part.floor:
            continue
        near[part.a].add(part.b)
        near[part.b].add(part.a)
        for hall, other in ((part.a, part.b), (part.b, part.a)):
            if hall in passages:
                along[hall].add(other)
    for rooms in along.values():
        for room in rooms:
            near[room] |= rooms - {room}
    for link in plan.links:
        if plan.rooms[link.a].level == plan.rooms[link.b].level:
            near[link.a].add(link.b)
            near[link.b].add(link.a)
    return near
