"""What joins rooms: partitions and floors between them, doors, openings and stairs, and what follows from those."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from compare.house.areas import GAP_M, PointM, distance_m, meeting_point
from compare.house.drawing import Drawing, Drawn, Report
from compare.house.plan import Link, LinkKind, Partition
from compare.house.rooms import Door, Opening
from compare.house.source import Loc
from compare.house.stack import Stack
from compare.house.stretches import Stretch
from compare.house.walls import Walls

OPEN_SPACE_M = 1.2
"""Openings without a door at least this wide (4 ft) make two rooms one open space. Our judgement."""

ON_WALL_M = 0.5
"""A door's point may lie this far from the wall that it belongs to."""

APART = "parts that share no wall, floor, door or stair"

_FIT_M = 0.02


def partitions_of(drawing: Drawing, walls: Walls, stack: Stack, links: Sequence[Link]) -> tuple[Partition, ...]:
    """Inside walls less their openings, and floors between rooms."""
    fabric = drawing.house.fabric
    open_m2: dict[tuple[int, int], list[float]] = defaultdict(list)
    for link in links:
        if link.kind is LinkKind.OPENING:
            open_m2[link.a, link.b].append(link.width_m * link.height_m)
    found = [
        Partition(a, b, max(area - math.fsum(sorted(open_m2[a, b])), 0.0), fabric.partition_u_w_m2k)
        for (a, b), area in walls.shared_m2.items()
    ]
    found += [
        Partition(min(low, up), max(low, up), area, fabric.inside_floor_u_w_m2k, floor=True, upper=up)
        for (low, up), area in stack.between_m2.items()
    ]
    return tuple(sorted(found, key=lambda part: (part.a, part.b, part.floor)))


def _place(stretches: Sequence[Stretch], at_m: PointM | None) -> tuple[Stretch, PointM]:
    """The stretch of shared wall that a door stands in, and the door's point."""
    if at_m is not None:
        return min(stretches, key=lambda stretch: stretch.distance_m(at_m)), at_m
    longest = max(stretches, key=lambda stretch: stretch.length_m)
    return longest, longest.middle_m


def _fits(item: Door | Opening, loc: Loc, stretch: Stretch, rooms: tuple[Drawn, Drawn], report: Report) -> bool:
    what = "door" if isinstance(item, Door) else "opening"
    if item.at_m is not None and stretch.distance_m(item.at_m) > ON_WALL_M:
        x, y = (report.length(value) for value in stretch.middle_m)
        report.add((*loc, "at"), f"not on a wall that the two rooms share; the middle of one is ({x}, {y})")
        return False
    if item.width_m > stretch.length_m + _FIT_M:
        message = f"the {what} is wider than the wall that the rooms share ({report.length(stretch.length_m)})"
        report.add((*loc, "width"), message, report.length(item.width_m))
        return False
    ceiling = min(drawn.height_m for drawn in rooms)
    if item.height_m > ceiling + _FIT_M:
        message = f"the {what} is higher than the lower ceiling ({report.length(ceiling)})"
        report.add((*loc, "height"), message, report.length(item.height_m))
        return False
    return True


def _joint(drawing: Drawing, walls: Walls, item: Door | Opening, loc: Loc, report: Report) -> Link | None:
    """A door or opening as a link, or None with its fault in the report."""
    one, other = sorted((drawing.at(name) for name in item.between or ()), key=lambda drawn: drawn.index)
    stretches = walls.shared.get((one.index, other.index), ())
    if not stretches:
        message = f'rooms "{one.room.name}" and "{other.room.name}" do not touch: they share no wall'
        report.add((*loc, "between"), message, list(item.between or ()))
        return None
    stretch, (x, y) = _place(stretches, item.at_m)
    if not _fits(item, loc, stretch, (one, other), report):
        return None
    label = f"{one.room.name} - {other.room.name}"
    if isinstance(item, Opening):
        kind = LinkKind.OPENING
        return Link(kind, one.index, other.index, item.width_m, item.height_m, 0.0, x_m=x, y_m=y, label=label)
    return Link(
        LinkKind.DOOR, one.index, other.index, item.width_m, item.height_m, item.undercut_m,
        item.day_open_frac, item.night_open_frac, x, y, label,
    )  # fmt: skip


def _stairs(drawing: Drawing, report: Report) -> Iterator[Link]:
    for position, stair in enumerate(drawing.house.stairs):
        lower, upper = drawing.at(stair.lower), drawing.at(stair.upper)
        loc: Loc = ("stair", position)
        if upper.level not in {lower.level + 1, lower.top + 1} or upper.index == lower.index:
            report.add(loc, f'"{upper.room.name}" is not on the level above "{lower.room.name}"')
        elif distance_m(lower.shape, upper.shape) > GAP_M:
            report.add(loc, f'"{upper.room.name}" lies neither over nor beside "{lower.room.name}"')
        else:
            x, y = stair.at_m or meeting_point(lower.shape, upper.shape)
            label = f"{lower.room.name} - {upper.room.name}"
            size = stair.width_m, stair.height_m
            yield Link(LinkKind.STAIR, lower.index, upper.index, *size, 0.0, x_m=x, y_m=y, label=label)


def _too_many(drawing: Drawing, walls: Walls, links: Iterable[Link], report: Report) -> None:
    """Doors and openings in one shared wall must fit side by side."""
    width_m: dict[tuple[int, int], float] = defaultdict(float)
    for link in links:
        if link.kind is not LinkKind.STAIR:
            width_m[link.a, link.b] += link.width_m
    for (a, b), wide in width_m.items():
        shared = math.fsum(stretch.length_m for stretch in walls.shared[a, b])
        if wide > shared + _FIT_M:
            one, other = drawing.rooms[a], drawing.rooms[b]
            message = f'doors and openings to "{one.room.name}" are {report.length(wide)} wide together'
            report.add(other.loc, f"{message}, the shared wall is {report.length(shared)} long", other.room.name)


def links_of(drawing: Drawing, walls: Walls, report: Report) -> tuple[Link, ...]:
    """Every door, opening and stair in canonical order; those that cannot be go to the report."""
    joints: list[tuple[Loc, Door | Opening]] = [
        *((("door", i), door) for i, door in enumerate(drawing.house.doors) if door.between is not None),
        *((("opening", i), opening) for i, opening in enumerate(drawing.house.openings)),
    ]
    found = [link for loc, item in joints if (link := _joint(drawing, walls, item, loc, report)) is not None]
    found += _stairs(drawing, report)
    ordered = tuple(sorted(found, key=_link_order))
    _too_many(drawing, walls, ordered, report)
    return ordered


def _link_order(link: Link) -> tuple[int, int, str, float, float, float, float, float]:
    return link.a, link.b, link.kind.value, link.x_m, link.y_m, link.width_m, link.height_m, link.night_open_frac


def groups(count: int, pairs: Iterable[tuple[int, int]]) -> tuple[tuple[int, ...], ...]:
    """Rooms that pairs join, directly or through others; each room once, groups in order of their first room."""
    leader = list(range(count))
    for a, b in pairs:
        old, new = max(leader[a], leader[b]), min(leader[a], leader[b])
        leader = [new if mark == old else mark for mark in leader]
    return tuple(tuple(i for i in range(count) if leader[i] == mark) for mark in sorted(set(leader)))


def open_spaces_of(drawing: Drawing, links: Sequence[Link]) -> tuple[tuple[int, ...], ...]:
    """Rooms of one level joined by wide openings without a door."""
    rooms = drawing.rooms
    wide = [
        (link.a, link.b)
        for link in links
        if link.kind is LinkKind.OPENING
        and link.width_m >= OPEN_SPACE_M - 1e-9
        and rooms[link.a].level == rooms[link.b].level
    ]
    return groups(len(rooms), wide)


def check_one_house(drawing: Drawing, partitions: Sequence[Partition], links: Sequence[Link], report: Report) -> None:
    """Every room must be joined to the rest by a shared wall, a floor, a door, an opening or a stair."""
    pairs = [(part.a, part.b) for part in partitions] + [(link.a, link.b) for link in links]
    parts = groups(len(drawing.rooms), pairs)
    main = max(parts, key=lambda part: (len(part), -part[0]), default=())
    for part in parts:
        if part != main:
            names = ", ".join(f'"{drawing.rooms[i].room.name}"' for i in part)
            first = min((drawing.rooms[i] for i in part), key=lambda drawn: drawn.item)
            message = f"the house falls into {len(parts)} {APART}; apart: {names}"
            report.add(first.loc, message)
