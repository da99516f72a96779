"""Every room as drawn: level, outline, height, in the canonical order that all later stages share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import TYPE_CHECKING

from compare.house.areas import PointM, footprint, holes, outline_fault, overlap_m2, polygon
from compare.house.model import HouseFile
from compare.house.outline import Edge, canonical, edges_of, signed_area_m2
from compare.house.problems import Problem
from compare.house.rooms import Room
from compare.house.source import Loc
from compare.units import Kind, show

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

LEAST_ROOM_M2 = 0.5
MOST_ROOM_M2 = 1000.0
RISES_M = 0.6
"""A room this much higher than its level stands in the level above as well."""
SHAFT_M2 = 1.5
"""An enclosed space up to this size is a chimney or shaft: its walls lose nothing."""
COURT_M2 = 10.0
"""An enclosed space of at least this size is a courtyard: its walls face outdoors."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One room of the file with its shape; `index` is its place in the canonical order, `item` in the file."""

    index: int
    item: int
    room: Room
    level: int
    top: int
    """Highest level in which it stands: its own, or the one above for a tall room."""
    corners_m: tuple[PointM, ...]
    edges: tuple[Edge, ...]
    """Its edges, counter-clockwise."""
    height_m: float
    shape: Polygon = field(repr=False, compare=False)

    @property
    def loc(self) -> Loc:
        """Its place in the file."""
        return ("room", self.item)

    @property
    def area_m2(self) -> float:
        """Floor area."""
        return signed_area_m2(self.corners_m)

    def near(self, other: Drawn, gap_m: float) -> bool:
        """Whether the frames around two rooms come within a gap of each other."""
        (x0, y0, x1, y1), (u0, v0, u1, v1) = self.shape.bounds, other.shape.bounds
        return bool(u0 - gap_m <= x1 and x0 <= u1 + gap_m and v0 - gap_m <= y1 and y0 <= v1 + gap_m)

    def stands_in(self, level: int) -> bool:
        """Whether it takes up room on a level's plan."""
        return self.level <= level <= self.top


@dataclass(slots=True)
class Report:
    """Problems found so far, and how to say them in the house's own units."""

    house: HouseFile
    problems: list[Problem] = field(default_factory=list)

    def add(self, loc: Loc, message: str, value: object = None, suggestion: str = "") -> None:
        """Note a problem at a place of the file."""
        self.problems.append(self.house.source.problem(loc, message, value, suggestion))

    def area(self, area_m2: float) -> str:
        """An area in the units of the file."""
        return show(area_m2, Kind.AREA, self.house.units, 1)

    def length(self, length_m: float) -> str:
        """A length in the units of the file."""
        return show(length_m, Kind.LENGTH, self.house.units, 2)


@dataclass(frozen=True, slots=True)
class Drawing:
    """All rooms in canonical order, and the footprint of each level."""

    house: HouseFile
    rooms: tuple[Drawn, ...]
    covers: tuple[BaseGeometry, ...]
    shafts: tuple[tuple[Polygon, ...], ...]

    def at(self, name: str) -> Drawn:
        """The room of a name."""
        return next(drawn for drawn in self.rooms if drawn.room.name == name)

    def level(self, name: str) -> int:
        """Position of a level, counted from the lowest."""
        return next(i for i, level in enumerate(self.house.levels) if level.name == name)

    def on(self, level: int) -> Iterator[Drawn]:
        """Rooms that stand in a level, tall rooms of the level below among them."""
        return (drawn for drawn in self.rooms if drawn.stands_in(level))


def _top(house: HouseFile, level: int, height_m: float) -> int:
    """Highest level that a room of this height stands in."""
    top, spare_m = level, height_m - house.levels[level].height_m
    while spare_m > RISES_M and top + 1 < len(house.levels):
        top += 1
        spare_m -= house.levels[top].height_m
    return top


def _shaped(house: HouseFile, report: Report) -> list[Drawn]:
    """Rooms with sound outlines, in the order of the file."""
    levels = [level.name for level in house.levels]
    drawn: list[Drawn] = []
    for item, room in enumerate(house.rooms):
        level = levels.index(room.level)
        corners = canonical(room.corners_m())
        loc: Loc = ("room", item, "outline" if room.outline_m is not None else "size")
        fault = "the outline encloses no area" if len(corners) < 3 else outline_fault(corners)
        area = signed_area_m2(corners) if not fault else 0.0
        if not fault and not LEAST_ROOM_M2 <= area <= MOST_ROOM_M2:
            limits = f"{report.area(LEAST_ROOM_M2)} and {report.area(MOST_ROOM_M2)}"
            fault = f"the room has {report.area(area)}; must be between {limits}"
        if fault:
            report.add(loc, fault)
            continue
        height = room.height_m if room.height_m is not None else house.levels[level].height_m
        top, edges = _top(house, level, height), edges_of(corners)
        drawn.append(Drawn(0, item, room, level, top, corners, edges, height, polygon(corners)))
    return drawn


def _order(drawn: Drawn) -> tuple[int, float, float, float, tuple[PointM, ...]]:
    """Level, then lower left corner, then area, then the whole outline."""
    x, y = min(p[0] for p in drawn.corners_m), min(p[1] for p in drawn.corners_m)
    return drawn.level, x, y, drawn.area_m2, drawn.corners_m


def _overlaps(rooms: tuple[Drawn, ...], report: Report) -> None:
    for one, other in combinations(rooms, 2):
        if max(one.level, other.level) > min(one.top, other.top):
            continue
        if area := overlap_m2(one.shape, other.shape):
            first, second = sorted((one, other), key=lambda drawn: drawn.item)
            tall = " (it is higher than its level)" if first.level != second.level else ""
            message = f'overlaps room "{first.room.name}"{tall} by {report.area(area)}; move or resize one of them'
            report.add(second.loc, message, second.room.name)


def _shafts(level: int, cover: BaseGeometry, report: Report) -> tuple[Polygon, ...]:
    """Small enclosed spaces of a level; those too large for a shaft and too small for a courtyard are a problem."""
    shafts = []
    for hole in holes(cover):
        if hole.area <= SHAFT_M2:
            shafts.append(hole)
        elif hole.area < COURT_M2:
            x, y = (report.length(value) for value in (hole.centroid.x, hole.centroid.y))
            message = f"rooms enclose {report.area(hole.area)} around ({x}, {y}) that belongs to no room"
            report.add(("level", level), f'{message}; draw it as a room, with use = "storage" for instance')
    return tuple(shafts)


def draw(house: HouseFile, report: Report) -> Drawing:
    """Shape and order every room; faults go to the report."""
    shaped = sorted(_shaped(house, report), key=_order)
    rooms = tuple(replace(drawn, index=index) for index, drawn in enumerate(shaped))
    _overlaps(rooms, report)
    levels = range(len(house.levels))
    covers = tuple(footprint(d.shape for d in rooms if d.stands_in(level)) for level in levels)
    for level in levels:
        if not any(room.level == house.levels[level].name for room in house.rooms):
            report.add(("level", level), "no room stands on this level; take it out or draw its rooms")
    shafts = tuple(_shafts(level, covers[level], report) for level in levels)
    return Drawing(house, rooms, covers, shafts)
