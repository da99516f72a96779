"""Line sets, covers, drains and outdoor spots."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.siting import Siting
from compare.air.tables import constant
from compare.house.plan import OutdoorSpot, Plan, SpaceKind, UnitSpace

RULES = "line_rules"


@dataclass(frozen=True, slots=True)
class LineEnd:
    """The indoor end of a line set. `above_floor_m` is the height of its connections over the level's floor."""

    label: str
    x_m: float
    y_m: float
    level: int
    above_floor_m: float
    through_outside_wall: bool
    below_floor: bool = False
    needs_pump: bool = False


@dataclass(frozen=True, slots=True)
class LineRoute:
    """One line set from an indoor unit to an outdoor spot."""

    end: LineEnd
    spot: OutdoorSpot
    length_m: float
    lift_m: float
    """Height of the indoor end over the outdoor unit's valves (negative when below)."""
    cover_m: float
    """Visible run under a wall cover outside."""
    needs_pump: bool
    feasible: bool
    notes: tuple[str, ...]


def end_of_siting(plan: Plan, siting: Siting) -> LineEnd:
    """The line end of a room unit."""
    here = plan.rooms[siting.room]
    return LineEnd(
        label=here.name,
        x_m=siting.x_m,
        y_m=siting.y_m,
        level=here.level,
        above_floor_m=siting.height_m,
        through_outside_wall=siting.outside_wall and siting.kind != "ceiling_cassette",
        needs_pump=siting.needs_pump,
    )


def end_of_space(plan: Plan, space: UnitSpace, spot: tuple[float, float], *, needs_pump: bool) -> LineEnd:
    """The line end of a concealed unit standing at `spot` in its space."""
    storey = max((room.height_m for room in plan.rooms if room.level == space.level), default=2.44)
    heights = {SpaceKind.ATTIC: storey + 0.4, SpaceKind.CRAWLSPACE: -0.5, SpaceKind.BASEMENT: -0.6}
    return LineEnd(
        label=space.name,
        x_m=spot[0],
        y_m=spot[1],
        level=space.level,
        above_floor_m=heights.get(space.kind, storey - 0.2),
        through_outside_wall=False,
        below_floor=space.kind in (SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT),
        needs_pump=needs_pump,
    )


def floor_height_m(plan: Plan, level: int) -> float:
    """Height of a level's floor over grade: storeys below it, each with its floor, on the first floor's height."""
    lowest = min((room.level for room in plan.rooms), default=level)
    height = constant("floor_above_grade_m", RULES)
    for below in range(lowest, level):
        storey = max((room.height_m for room in plan.rooms if room.level == below), default=2.44)
        height += storey + constant("floor_build_m", RULES)
    return height


def _cover_m(end: LineEnd, above_grade_m: float, plan_run_m: float) -> float:
    """Outside-wall units run under cover all the way; others drop from the eave, or leave low."""
    down = max(above_grade_m - constant("outdoor_connection_m", RULES), 0.0)
    if end.through_outside_wall:
        return down + plan_run_m
    if end.below_floor:
        return constant("buried_cover_m", RULES)
    return down


def line_route(plan: Plan, end: LineEnd, spot: OutdoorSpot) -> LineRoute:
    """Length (plan run along the axes, lift, 10 % for bends), cover and limits of one line set to a spot.

    Limits are typical of small units, from memory; the unit's own manual governs.
    """
    run = abs(spot.x_m - end.x_m) + abs(spot.y_m - end.y_m)
    above_grade = floor_height_m(plan, end.level) + end.above_floor_m
    lift = above_grade - constant("outdoor_connection_m", RULES)
    raw = (run + abs(lift)) * (1 + constant("slack_frac", RULES))
    least, most = constant("line_min_m", RULES), constant("line_max_m", RULES)
    notes = []
    if raw < least:
        notes.append(f"{end.label}: line shorter than {least:.0f} m is coiled to the least length")
    if raw > most:
        notes.append(f"{end.label}: line of {raw:.0f} m to {spot.name} is beyond {most:.0f} m")
    too_high = abs(lift) > constant("lift_max_m", RULES)
    if too_high:
        notes.append(f"{end.label}: lift of {lift:.1f} m is beyond {constant('lift_max_m', RULES):.0f} m")
    if end.needs_pump:
        notes.append(f"{end.label}: condensate pump, lift within its limit, then unbroken fall of 1/8 in. per ft")
    return LineRoute(
        end=end,
        spot=spot,
        length_m=max(raw, least),
        lift_m=lift,
        cover_m=_cover_m(end, above_grade, run),
        needs_pump=end.needs_pump,
        feasible=raw <= most and not too_high,
        notes=tuple(notes),
    )


@dataclass(frozen=True, slots=True)
class OutdoorGroup:
    """Indoor ends that share one outdoor unit."""

    ends: tuple[LineEnd, ...]


@dataclass(frozen=True, slots=True)
class SpotPlan:
    """Outdoor units on their spots. `reasons` holds why it cannot be built."""

    routes: tuple[tuple[LineRoute, ...], ...]
    """Routes by group, in the order asked."""
    feasible: bool
    reasons: tuple[str, ...]


def _group_routes(plan: Plan, group: OutdoorGroup, spot: OutdoorSpot) -> tuple[LineRoute, ...]:
    return tuple(line_route(plan, end, spot) for end in group.ends)


def _spot_cost(routes: tuple[LineRoute, ...]) -> tuple[int, float, str]:
    unsuitable = sum(not route.feasible for route in routes)
    return unsuitable, sum(route.length_m for route in routes), routes[0].spot.name


def assign_spots(plan: Plan, groups: tuple[OutdoorGroup, ...]) -> SpotPlan:
    """Give each outdoor unit a spot: all pairings ranked by line length, the shortest still free taken first.

    Each spot holds as many units as its `capacity`. More units than places, or a line beyond its limits, is a reason.
    """
    room = sum(spot.capacity for spot in plan.outdoor_spots)
    if not plan.outdoor_spots:
        return SpotPlan((), feasible=False, reasons=("no outdoor spot is given for an outdoor unit",))
    reasons = []
    if len(groups) > room:
        reasons.append(f"{len(groups)} outdoor units, places for {room}")
    free = {index: spot.capacity for index, spot in enumerate(plan.outdoor_spots)}
    chosen: dict[int, tuple[LineRoute, ...]] = {}
    pairs = [
        (_spot_cost(routes), g, s, routes)
        for g, group in enumerate(groups)
        for s, spot in enumerate(plan.outdoor_spots)
        for routes in [_group_routes(plan, group, spot)]
    ]
    for _, g, s, routes in sorted(pairs, key=lambda pair: pair[:3]):
        if g not in chosen and free[s] > 0:
            chosen[g] = routes
            free[s] -= 1
    for g, group in enumerate(groups):
        if g not in chosen:
            spots = [_group_routes(plan, group, spot) for spot in plan.outdoor_spots]
            chosen[g] = min(spots, key=_spot_cost)
    routes_by_group = tuple(chosen[g] for g in range(len(groups)))
    too_far = [route for routes in routes_by_group for route in routes if not route.feasible]
    reasons += [note for route in too_far for note in route.notes if "beyond" in note]
    return SpotPlan(routes_by_group, feasible=not reasons, reasons=tuple(reasons))


def drain_needs_pump(fall_m: float | None, run_m: float) -> bool:
    """Whether a drain of `run_m` lacks the fall of 1/8 in. per ft (2006 IRC M1411.3); None means no fall is known."""
    if run_m < 0 or not math.isfinite(run_m):
        raise ValueError(f"run_m must be a length of 0 m or more, got {run_m}")
    return fall_m is None or fall_m < constant("drain_fall_frac") * run_m
