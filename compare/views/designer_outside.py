"""Lines, drains and outdoor units of a DesignerView, and each outside wall as one sees it from the garden."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from compare.air.lines import LineRoute, floor_height_m
from compare.air.noise.criteria import limit_dba
from compare.air.noise.outdoors import outdoor_curve
from compare.air.tables import constant
from compare.house.plan import OutdoorSpot, Plan
from compare.options.option import Option
from compare.options.tags import outdoor_tag
from compare.views.designer import Elevation, ElevationItem, ElevationOpening, LineMark, OutdoorSheet
from compare.views.designer_desk import Desk
from compare.views.plan_view import Point

RULES = "line_rules"
SIDES = ("N", "E", "S", "W")
CARE = (
    "lift paving, tamp gravel, level the pad and anchor it; risers keep it over snow and leaves",
    "disconnect in sight with a surge protector; work on wiring and refrigerant by licensed people",
)


@dataclass(frozen=True, slots=True)
class Box:
    """Extent of a house on the plan."""

    x0: float
    y0: float
    x1: float
    y1: float


def extent(plan: Plan) -> Box:
    """Extent of all rooms."""
    corners = [corner for room in plan.rooms for corner in room.outline_m]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(min(xs), min(ys), max(xs), max(ys))


def cover_width_m(sets: int) -> float:
    """Width of a line cover for a number of line sets side by side."""
    return constant("cover_first_m", RULES) + (sets - 1) * constant("cover_further_m", RULES)


def _outside(box: Box, at: Point) -> bool:
    return not (box.x0 < at[0] < box.x1 and box.y0 < at[1] < box.y1)


def _line_points(plan: Plan, route: LineRoute) -> tuple[Point, ...]:
    """Along the axes of the plan; of the two ways round, the one that leaves the house first."""
    start, end = (route.end.x_m, route.end.y_m), (route.spot.x_m, route.spot.y_m)
    box = extent(plan)
    turns = [(end[0], start[1]), (start[0], end[1])]
    turn = next((t for t in turns if _outside(box, t)), turns[0])
    return tuple(dict.fromkeys((start, turn, end)))


def _drain_points(plan: Plan, route: LineRoute) -> tuple[Point, ...]:
    """Straight to the nearest outside face of the level's extent, a little beyond it."""
    box, (x, y) = extent(plan), (route.end.x_m, route.end.y_m)
    step = 0.35
    ways = [
        (x - box.x0, (box.x0 - step, y)),
        (box.x1 - x, (box.x1 + step, y)),
        (y - box.y0, (x, box.y0 - step)),
        (box.y1 - y, (x, box.y1 + step)),
    ]
    return (x, y), min(ways)[1]


def line_marks(desk: Desk, option: Option, tags: tuple[str, ...]) -> Iterator[LineMark]:
    """One line set with its drain for each indoor unit."""
    outdoor = {zone: outdoor_tag(place) for place, group in enumerate(option.outdoor.groups) for zone in group.zones}
    for index, route in enumerate(option.routes):
        drain = _drain_points(desk.plan, route)
        run = math.dist(*drain)
        yield LineMark(
            tag=tags[index],
            outdoor=outdoor[index],
            level=route.end.level,
            points_m=_line_points(desk.plan, route),
            length_m=route.length_m,
            lift_m=route.lift_m,
            cover_m=route.cover_m,
            cover_width_m=cover_width_m(1),
            pump=route.needs_pump,
            drain_m=drain,
            drain_fall_m=run * constant("drain_fall_frac"),
            notes=route.notes,
        )


def outdoor_sheets(option: Option, tags: tuple[str, ...]) -> Iterator[OutdoorSheet]:
    """Outdoor units with their levels at the property line and the nearest bedroom window."""
    if not option.routes:
        return
    for place, group in enumerate(option.outdoor.groups):
        spot = option.routes[group.zones[0]].spot
        power = group.outdoor.sound_power_dba
        window = None
        if spot.bedroom_window_m is not None:
            window = outdoor_curve(power, max(spot.bedroom_window_m, 1.0), heating=True).high_dba
        yield OutdoorSheet(
            tag=outdoor_tag(place),
            serves=tuple(tags[zone] for zone in group.zones),
            spot=spot.name,
            side=spot.side,
            at_m=(spot.x_m, spot.y_m),
            property_line_m=spot.property_line_m,
            line_dba=outdoor_curve(power, max(spot.property_line_m, 1.0), heating=True).high_dba,
            window_dba=window,
            limit_dba=limit_dba("property_line_night"),
            notes=CARE,
        )


def elevations(desk: Desk, option: Option, tags: tuple[str, ...]) -> Iterator[Elevation]:
    """The four outside walls; a wall without any work on it is left out."""
    for side in SIDES:
        items = tuple(_items(desk.plan, option, tags, side))
        if items:
            yield Elevation(
                side=side,
                length_m=_length_m(desk.plan, side),
                floor_m=tuple(floor_height_m(desk.plan, level) for level in _levels(desk.plan)),
                eave_m=_eave_m(desk.plan),
                openings=tuple(_openings(desk.plan, side)),
                items=items,
            )


def _levels(plan: Plan) -> list[int]:
    return sorted({room.level for room in plan.rooms})


def _eave_m(plan: Plan) -> float:
    top = _levels(plan)[-1]
    return floor_height_m(plan, top) + max(room.height_m for room in plan.rooms if room.level == top)


def _length_m(plan: Plan, side: str) -> float:
    box = extent(plan)
    return box.x1 - box.x0 if side in "NS" else box.y1 - box.y0


def _along_m(plan: Plan, side: str, at: Point) -> float:
    """Distance from the left end of a side as one faces it from outside."""
    box = extent(plan)
    return {"S": at[0] - box.x0, "N": box.x1 - at[0], "E": at[1] - box.y0, "W": box.y1 - at[1]}[side]


def _face_of(plan: Plan, start: Point, end: Point) -> str:
    """Side that a piece of outside wall faces: the nearest face of the house's extent that runs the same way."""
    box = extent(plan)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    if abs(start[0] - end[0]) > abs(start[1] - end[1]):
        return "S" if middle[1] - box.y0 < box.y1 - middle[1] else "N"
    return "W" if middle[0] - box.x0 < box.x1 - middle[0] else "E"


def _openings(plan: Plan, side: str) -> Iterator[ElevationOpening]:
    for opening in plan.wall_openings:
        if _face_of(plan, opening.start_m, opening.end_m) != side:
            continue
        floor = floor_height_m(plan, plan.rooms[opening.room].level)
        low, high = sorted(_along_m(plan, side, at) for at in (opening.start_m, opening.end_m))
        yield ElevationOpening(
            from_m=low, to_m=high, sill_m=floor + opening.sill_m, head_m=floor + opening.head_m, door=opening.door
        )


def _side_of(plan: Plan, at: Point) -> str:
    """Side of the house beyond (or nearest to) which a point lies."""
    box = extent(plan)
    beyond = {"N": at[1] - box.y1, "E": at[0] - box.x1, "S": box.y0 - at[1], "W": box.x0 - at[0]}
    return max(beyond, key=lambda side: beyond[side])


def _items(plan: Plan, option: Option, tags: tuple[str, ...], side: str) -> Iterator[ElevationItem]:
    if not option.routes:
        return
    for place, group in enumerate(option.outdoor.groups):
        spot = option.routes[group.zones[0]].spot
        here = _side_of(plan, (spot.x_m, spot.y_m))
        at = _shifted(plan, spot, option, place, here)
        routes = [(tags[zone], option.routes[zone]) for zone in group.zones]
        yield from _covers(plan, routes, here, at, side)
        if here == side:
            half = constant("outdoor_width_m", RULES) / 2
            low = constant("outdoor_base_m", RULES)
            yield ElevationItem(
                kind="outdoor unit",
                label=outdoor_tag(place),
                from_m=at - half,
                to_m=at + half,
                low_m=low,
                high_m=low + constant("outdoor_height_m", RULES),
            )


def _shifted(plan: Plan, spot: OutdoorSpot, option: Option, place: int, side: str) -> float:
    """Middle of an outdoor unit along its wall; units that share a place stand side by side."""
    earlier = sum(option.routes[group.zones[0]].spot == spot for group in option.outdoor.groups[:place])
    return _along_m(plan, side, (spot.x_m, spot.y_m)) + earlier * (constant("outdoor_width_m", RULES) + 0.4)


def _covers(
    plan: Plan, routes: list[tuple[str, LineRoute]], here: str, at: float, side: str
) -> Iterator[ElevationItem]:
    """Covers on one side: down from each hole, along to the outdoor unit; lines from inside come down at the eave."""
    low = constant("outdoor_connection_m", RULES)
    inside = [tag for tag, route in routes if not route.end.through_outside_wall and not route.end.below_floor]
    if inside and here == side:
        yield _cover(inside, at, (low, _eave_m(plan)))
    for tag, route in routes:
        if not route.end.through_outside_wall:
            continue
        hole_side = _nearest_face(plan, (route.end.x_m, route.end.y_m))
        hole = floor_height_m(plan, route.end.level) + route.end.above_floor_m
        along = _along_m(plan, hole_side, (route.end.x_m, route.end.y_m))
        if hole_side == side:
            yield _cover([tag], along, (low, hole))
            target = at if here == side else (0.0 if _left_of(side) == here else _length_m(plan, side))
            if abs(along - target) > constant("outdoor_width_m", RULES) / 2:
                yield _level_cover(tag, along, target, low)
        elif here == side and hole_side in (_left_of(side), _right_of(side)):
            start = 0.0 if _left_of(side) == hole_side else _length_m(plan, side)
            yield _level_cover(tag, start, at, low)


def _nearest_face(plan: Plan, at: Point) -> str:
    box = extent(plan)
    off = {"N": box.y1 - at[1], "E": box.x1 - at[0], "S": at[1] - box.y0, "W": at[0] - box.x0}
    return min(off, key=lambda side: abs(off[side]))


def _left_of(side: str) -> str:
    """The side round the left corner as one faces a wall from outside."""
    return {"S": "W", "W": "N", "N": "E", "E": "S"}[side]


def _right_of(side: str) -> str:
    return {"S": "E", "E": "N", "N": "W", "W": "S"}[side]


def _cover(tags: list[str], at: float, heights: tuple[float, float]) -> ElevationItem:
    half = cover_width_m(len(tags)) / 2
    return ElevationItem(
        kind="cover", label=", ".join(tags), from_m=at - half, to_m=at + half, low_m=heights[0], high_m=heights[1]
    )


def _level_cover(tag: str, start: float, end: float, low: float) -> ElevationItem:
    half = cover_width_m(1) / 2
    first, last = sorted((start, end))
    return ElevationItem(kind="cover", label=tag, from_m=first, to_m=last, low_m=low - half, high_m=low + half)
