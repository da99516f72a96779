"""What every room has around it: wall pieces to the outside by side, and walls shared with other rooms."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from compare.house.drawing import Drawing, Drawn, Report
from compare.house.plan import Boundary
from compare.house.rooms import Above, Beyond, Side
from compare.house.stretches import Stretch, stretches_of

STEP_M = 0.3
"""Ceilings that differ by more leave a strip of the higher wall above the lower room."""

_BEYOND = {
    Beyond.GARAGE: Boundary.GARAGE,
    Beyond.BASEMENT: Boundary.BASEMENT,
    Beyond.NEIGHBOUR: Boundary.ADIABATIC,
}
_OVER = {Above.ATTIC: Boundary.ATTIC, Above.ROOF: Boundary.OUTDOORS, Above.NEIGHBOUR: Boundary.ADIABATIC}


@dataclass(frozen=True, slots=True)
class WallKey:
    """Wall pieces that count as one wall: of one room, one facing, one far side."""

    room: int
    side: Side
    plan_deg: float
    boundary: Boundary


@dataclass(frozen=True, slots=True)
class WallSize:
    """Gross size of a wall; `foot_m` is the length that stands on the floor."""

    area_m2: float
    foot_m: float


@dataclass(frozen=True, slots=True)
class Walls:
    """All walls of the house, in canonical order."""

    outer: Mapping[WallKey, WallSize]
    shared: Mapping[tuple[int, int], tuple[Stretch, ...]]
    """Stretches between two rooms, seen from the one that stands later in the canonical order on a level."""
    shared_m2: Mapping[tuple[int, int], float]
    """Gross area of the wall between two rooms."""

    def of(self, room: int, side: Side) -> dict[WallKey, WallSize]:
        """Outer walls of a room that face a side of the plan."""
        return {key: size for key, size in self.outer.items() if key.room == room and key.side is side}


@dataclass(frozen=True, slots=True)
class _Strip:
    key: WallKey
    length_m: float
    height_m: float
    on_floor: bool


def _beyond(drawing: Drawing, report: Report) -> dict[tuple[int, Side], tuple[Boundary, int]]:
    """Walls that the file says do not face the open air, with the place in the file."""
    found: dict[tuple[int, Side], tuple[Boundary, int]] = {}
    for item, wall in enumerate(drawing.house.walls):
        place = drawing.at(wall.room).index, wall.side
        if place in found:
            report.add(("wall", item, "side"), "this side of the room is described twice", wall.side.value)
        found[place] = _BEYOND[wall.beyond], item
    return found


def _above(drawing: Drawing, drawn: Drawn) -> Above:
    return drawn.room.above or drawing.house.levels[drawn.top].above


def _covered_m(stretch: Stretch, upper: list[Stretch]) -> float:
    """Length of a stretch over which rooms of the level above stand behind the same edge."""
    spans = [(max(stretch.low_m, up.low_m), min(stretch.high_m, up.high_m)) for up in upper if up.edge == stretch.edge]
    return math.fsum(high - low for low, high in spans if high > low)


def _upper_strips(drawing: Drawing, drawn: Drawn, own: list[Stretch]) -> Iterator[_Strip]:
    """Parts of a room's walls that rise over a lower room beside it."""
    upper = (
        [s for s in stretches_of(drawing, drawn, drawn.top) if s.other is not None] if drawn.top > drawn.level else []
    )
    for stretch in own:
        if stretch.other is None:
            continue
        lower = drawing.rooms[stretch.other]
        step = drawn.height_m - lower.height_m
        if lower.level != drawn.level or step <= STEP_M:
            continue
        length = stretch.length_m - _covered_m(stretch, upper)
        boundary = _OVER[_above(drawing, lower)]
        if length > 0.0:
            key = WallKey(drawn.index, stretch.edge.side, stretch.edge.plan_deg, boundary)
            yield _Strip(key, length, step, on_floor=False)


def _outer_strips(drawing: Drawing, drawn: Drawn, own: list[Stretch]) -> Iterator[_Strip]:
    for stretch in own:
        if stretch.other is None:
            key = WallKey(drawn.index, stretch.edge.side, stretch.edge.plan_deg, Boundary.OUTDOORS)
            yield _Strip(key, stretch.length_m, drawn.height_m, on_floor=True)
    yield from _upper_strips(drawing, drawn, own)


def _moved(key: WallKey, beyond: Mapping[tuple[int, Side], tuple[Boundary, int]]) -> WallKey:
    """A wall with the far side that the file gives it."""
    given = beyond.get((key.room, key.side))
    if given is None or key.boundary is not Boundary.OUTDOORS:
        return key
    return WallKey(key.room, key.side, key.plan_deg, given[0])


def _shared_height_m(one: Drawn, other: Drawn) -> float:
    """Height of the wall between two rooms; beside a tall room from below it is the upper room's own."""
    return min(one.height_m, other.height_m) if one.level == other.level else max((one, other), key=_level).height_m


def _level(drawn: Drawn) -> int:
    return drawn.level


def find_walls(drawing: Drawing, report: Report) -> Walls:
    """Every outer and shared wall; a described side without an outside wall goes to the report."""
    beyond = _beyond(drawing, report)
    strips: dict[WallKey, list[_Strip]] = defaultdict(list)
    between: dict[tuple[int, int], list[Stretch]] = defaultdict(list)
    for drawn in drawing.rooms:
        own = stretches_of(drawing, drawn, drawn.level)
        for strip in _outer_strips(drawing, drawn, own):
            strips[_moved(strip.key, beyond)].append(strip)
        for stretch in own:
            if stretch.other is not None and stretch.other < drawn.index:
                between[stretch.other, drawn.index].append(stretch)
    for (room, side), (boundary, item) in beyond.items():
        if not any((key.room, key.side, key.boundary) == (room, side, boundary) for key in strips):
            report.add(("wall", item, "side"), "the room has no outside wall on this side", side.value)
    return Walls(
        {key: _size(strips[key]) for key in sorted(strips, key=_wall_order)},
        {pair: tuple(sorted(between[pair], key=_stretch_order)) for pair in sorted(between)},
        {
            (a, b): math.fsum(s.length_m for s in between[a, b]) * _shared_height_m(drawing.rooms[a], drawing.rooms[b])
            for a, b in sorted(between)
        },
    )


def _size(strips: list[_Strip]) -> WallSize:
    area = math.fsum(strip.length_m * strip.height_m for strip in strips)
    return WallSize(area, math.fsum(strip.length_m for strip in strips if strip.on_floor))


def _wall_order(key: WallKey) -> tuple[int, float, str]:
    return key.room, key.plan_deg, key.boundary.value


def _stretch_order(stretch: Stretch) -> tuple[float, float, float]:
    return (*stretch.edge.start_m, stretch.low_m)
