"""Groups of rooms whose loads are asked for together: open spaces, levels, and the day and night half of a house.

The *halves* are by use and not by compass: what a family heats and cools together is the part it lives in by day and
the part it sleeps in, and these are what a layout splits between units. Bedrooms are the night half; living, dining,
kitchen, work and hobby rooms the day half; every other room (bath, hall, laundry ...) goes with the half that it shares
more partition with, with the day half when it touches neither. Sun by compass shows in the hour of each group's peak.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compare.house.plan import HABITABLE, Plan, Use

DAY, NIGHT = "day half", "night half"


@dataclass(frozen=True, slots=True)
class RoomGroup:
    """Rooms looked at together. `kind` is open space, level, half or served zone."""

    name: str
    kind: str
    rooms: tuple[int, ...]


def served_group(plan: Plan, rooms: Sequence[int], name: str = "") -> RoomGroup:
    """Rooms that one unit serves, or is thought to serve.

    Raises
    ------
    ValueError
        When the list is empty, names a room twice, or an index is not in the plan.
    """
    chosen = tuple(rooms)
    if not chosen or len(set(chosen)) != len(chosen) or not all(0 <= room < len(plan.rooms) for room in chosen):
        raise ValueError(f"served zone: {chosen} must be different rooms of the plan's {len(plan.rooms)}, at least one")
    return RoomGroup(name or " + ".join(plan.rooms[room].name for room in chosen), "served zone", chosen)


def usual_groups(plan: Plan) -> tuple[RoomGroup, ...]:
    """Open spaces of more than one room, levels where there are several, and the two halves where both exist."""
    spaces = [
        RoomGroup(" + ".join(plan.rooms[room].name for room in space), "open space", tuple(space))
        for space in plan.open_spaces
        if len(space) > 1
    ]
    return (*spaces, *_levels(plan), *_halves(plan))


def _levels(plan: Plan) -> tuple[RoomGroup, ...]:
    levels = sorted({room.level for room in plan.rooms})
    if len(levels) < 2:
        return ()
    return tuple(
        RoomGroup(
            plan.level_names[level] if level < len(plan.level_names) else f"level {level + 1}",
            "level",
            tuple(index for index, room in enumerate(plan.rooms) if room.level == level),
        )
        for level in levels
    )


def _halves(plan: Plan) -> tuple[RoomGroup, ...]:
    sides = half_of_rooms(plan)
    found = tuple(
        RoomGroup(name, "half", tuple(index for index, side in enumerate(sides) if side == name))
        for name in (DAY, NIGHT)
    )
    return found if all(group.rooms for group in found) else ()


def half_of_rooms(plan: Plan) -> tuple[str, ...]:
    """The half that each room belongs to, `day half` or `night half`."""
    sides: list[str | None] = [_own_side(room.use) for room in plan.rooms]
    shared = _shared_m2(plan)
    while True:
        moved = {index: _nearest_side(index, sides, shared) for index, side in enumerate(sides) if side is None}
        found = {index: side for index, side in moved.items() if side is not None}
        if not found:
            return tuple(side or DAY for side in sides)
        for index, side in found.items():
            sides[index] = side


def _own_side(use: Use) -> str | None:
    if use is Use.BEDROOM:
        return NIGHT
    return DAY if use in HABITABLE else None


def _shared_m2(plan: Plan) -> dict[tuple[int, int], float]:
    """Partition area by pair of rooms, floors counted too."""
    found: dict[tuple[int, int], float] = {}
    for part in plan.partitions:
        for pair in ((part.a, part.b), (part.b, part.a)):
            found[pair] = found.get(pair, 0.0) + part.area_m2
    return found


def _nearest_side(room: int, sides: Sequence[str | None], shared: dict[tuple[int, int], float]) -> str | None:
    """The half that a room shares more partition with; None while no neighbour has one."""
    areas = {DAY: 0.0, NIGHT: 0.0}
    for other, side in enumerate(sides):
        if side is not None:
            areas[side] += shared.get((room, other), 0.0)
    if not any(areas.values()):
        return None
    return DAY if areas[DAY] >= areas[NIGHT] else NIGHT
