"""Surfaces of each room: walls with their windows and doors taken out, ceilings and floors."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from compare.house.drawing import Drawing, Drawn, Report
from compare.house.outline import ANGLE_DIGITS
from compare.house.plan import Boundary, Surface, SurfaceKind
from compare.house.rooms import Above, Below, Door, Side, Window
from compare.house.services import Fabric, WallType
from compare.house.source import Loc
from compare.house.stack import Stack
from compare.house.walls import WallKey, Walls, WallSize

_UNDER = {
    Below.SLAB: Boundary.GROUND,
    Below.CRAWLSPACE: Boundary.CRAWLSPACE,
    Below.BASEMENT: Boundary.BASEMENT,
    Below.OUTDOORS: Boundary.OUTDOORS,
    Below.GARAGE: Boundary.GARAGE,
    Below.NEIGHBOUR: Boundary.ADIABATIC,
}
_FIT_M = 0.02
_OVER = {Above.ATTIC: Boundary.ATTIC, Above.ROOF: Boundary.OUTDOORS, Above.NEIGHBOUR: Boundary.ADIABATIC}


Places = Mapping[WallKey, WallSize]
"""Walls of one room and side that can take a hole."""


@dataclass(frozen=True, slots=True)
class _Hole:
    """A window or outside door to be cut into a wall."""

    loc: Loc
    room: int
    side: Side
    item: Window | Door

    @property
    def what(self) -> str:
        return "window" if isinstance(self.item, Window) else "door"


def _holes(drawing: Drawing) -> Iterator[_Hole]:
    for item, window in enumerate(drawing.house.windows):
        yield _Hole(("window", item), drawing.at(window.room).index, window.wall, window)
    for item, door in enumerate(drawing.house.doors):
        if door.room is not None and door.wall is not None:
            yield _Hole(("door", item), drawing.at(door.room).index, door.wall, door)


def azimuth_deg(drawing: Drawing, plan_deg: float) -> float:
    """True bearing of a bearing on the plan."""
    return round(plan_deg + drawing.house.house.plan_north_deg, ANGLE_DIGITS) % 360.0


def _open_air(walls: Walls, hole: _Hole) -> Places:
    """Walls that can take a hole: outdoors, for a door also to a garage or basement."""
    allowed = {Boundary.OUTDOORS}
    if isinstance(hole.item, Door):
        allowed |= {Boundary.GARAGE, Boundary.BASEMENT}
    return {key: size for key, size in walls.of(hole.room, hole.side).items() if key.boundary in allowed}


def _check_hole(drawing: Drawing, hole: _Hole, places: Places, walls: Walls, report: Report) -> bool:
    """Whether a hole fits its wall by itself."""
    drawn = drawing.rooms[hole.room]
    if not places:
        facing = sorted({key.side.value for key in walls.outer if key.room == hole.room})
        known = f"its outside walls face {', '.join(facing)}" if facing else "it has no outside wall at all"
        message = f'room "{drawn.room.name}" has no outside wall on this side; {known}'
        report.add((*hole.loc, "wall"), message, hole.side.value)
        return False
    if fault := _size_fault(hole, drawn, places, report):
        report.add(hole.loc, fault)
    return not fault


def _size_fault(hole: _Hole, drawn: Drawn, places: Places, report: Report) -> str:
    """Why a hole is too large for its wall, or an empty text when it is not."""
    item = hole.item
    gross, foot = (math.fsum(sizes) for sizes in zip(*((s.area_m2, s.foot_m) for s in places.values()), strict=True))
    if item.area_m2 > gross:
        return f"the {hole.what} of {report.area(item.area_m2)} is larger than its wall of {report.area(gross)}"
    if item.width_m is None or item.written_area_m2 is not None:
        return ""
    if item.height_m > drawn.height_m + _FIT_M:
        return f"the {hole.what} is higher than its room ({report.length(drawn.height_m)})"
    if 0.0 < foot < item.width_m - _FIT_M:
        return f"the {hole.what} is {report.length(item.width_m)} wide, its wall only {report.length(foot)} long"
    return ""


def _cut(drawing: Drawing, walls: Walls, report: Report) -> dict[WallKey, list[Surface]]:
    """Windows and doors as surfaces by the wall they sit in, shared among walls of one side by area."""
    cut: dict[WallKey, list[Surface]] = {key: [] for key in walls.outer}
    for hole in sorted(_holes(drawing), key=lambda hole: hole.loc):
        places = _open_air(walls, hole)
        if not _check_hole(drawing, hole, places, walls, report):
            continue
        gross = math.fsum(size.area_m2 for size in places.values())
        taken = math.fsum(surface.area_m2 for key in places for surface in cut[key])
        if taken + hole.item.area_m2 > gross * (1.0 + 1e-9):
            total = report.area(taken + hole.item.area_m2)
            message = f"windows and doors on this wall come to {total}, more than the wall of {report.area(gross)}"
            report.add(hole.loc, message)
            continue
        for key, size in places.items():
            share = hole.item.area_m2 * size.area_m2 / gross
            cut[key].append(_hole_surface(drawing, hole.item, key, share))
    return cut


def _hole_surface(drawing: Drawing, item: Window | Door, key: WallKey, area_m2: float) -> Surface:
    fabric, azimuth = drawing.house.fabric, azimuth_deg(drawing, key.plan_deg)
    if isinstance(item, Door):
        u = item.u_w_m2k if item.u_w_m2k is not None else fabric.door_u_w_m2k
        return Surface(
            SurfaceKind.DOOR, key.boundary, area_m2, azimuth, 90.0, u,
            solar_absorptance_frac=fabric.wall_absorptance_frac, height_m=item.height_m,
        )  # fmt: skip
    return Surface(
        SurfaceKind.WINDOW,
        key.boundary,
        area_m2,
        azimuth,
        90.0,
        item.u_w_m2k if item.u_w_m2k is not None else fabric.window_u_w_m2k,
        shgc_frac=item.shgc_frac if item.shgc_frac is not None else fabric.window_shgc_frac,
        shade_frac=item.shade_frac,
        overhang_depth_m=item.overhang_m,
        overhang_above_m=item.overhang_above_m,
        height_m=item.height_m,
    )


def _wall_surfaces(drawing: Drawing, walls: Walls, report: Report) -> dict[int, list[Surface]]:
    fabric, cut = drawing.house.fabric, _cut(drawing, walls, report)
    found: dict[int, list[Surface]] = {drawn.index: [] for drawn in drawing.rooms}
    for key, size in walls.outer.items():
        net = size.area_m2 - math.fsum(surface.area_m2 for surface in cut[key])
        wall = Surface(
            SurfaceKind.WALL,
            key.boundary,
            max(net, 0.0),
            azimuth_deg(drawing, key.plan_deg),
            90.0,
            fabric.ceiling_u_w_m2k if key.boundary is Boundary.ATTIC else fabric.wall_u_w_m2k,
            solar_absorptance_frac=fabric.wall_absorptance_frac,
            height_m=drawing.rooms[key.room].height_m,
            massive=fabric.wall_type is WallType.MASONRY,
        )
        found[key.room].extend([*([wall] if wall.area_m2 > 1e-9 else []), *cut[key]])
    return found


def _ceiling(fabric: Fabric, above: Above, area_m2: float) -> Surface:
    u = {Above.ATTIC: fabric.ceiling_u_w_m2k, Above.ROOF: fabric.roof_u_w_m2k}.get(above, fabric.inside_floor_u_w_m2k)
    absorptance = fabric.roof_absorptance_frac
    return Surface(SurfaceKind.CEILING, _OVER[above], area_m2, 0.0, 0.0, u, solar_absorptance_frac=absorptance)


def _floor(fabric: Fabric, below: Below, area_m2: float) -> Surface:
    if below is Below.SLAB:
        edge = fabric.slab_edge_w_mk
        return Surface(SurfaceKind.FLOOR, Boundary.GROUND, area_m2, 0.0, 180.0, 0.0, edge_w_mk=edge, massive=True)
    u = fabric.inside_floor_u_w_m2k if below is Below.NEIGHBOUR else fabric.floor_u_w_m2k
    return Surface(SurfaceKind.FLOOR, _UNDER[below], area_m2, 0.0, 180.0, u)


def _below(drawing: Drawing, drawn: Drawn) -> Below | None:
    level = drawing.house.levels[drawn.level]
    return drawn.room.below or level.below or (Below.OUTDOORS if drawn.level else None)


def _flat_surfaces(drawing: Drawing, drawn: Drawn, walls: Walls, stack: Stack, report: Report) -> Iterator[Surface]:
    """Ceiling and floor of a room, as far as no other room lies there."""
    fabric, house = drawing.house.fabric, drawing.house
    if open_top := stack.open_above_m2[drawn.index]:
        yield _ceiling(fabric, drawn.room.above or house.levels[drawn.top].above, open_top)
    if open_bottom := stack.open_below_m2[drawn.index]:
        below = _below(drawing, drawn)
        if below is None:
            allowed = ", ".join(f'"{word}"' for word in Below)
            report.add(("level", drawn.level), f"needs below = one of {allowed}")
            return
        floor = _floor(fabric, below, open_bottom)
        if below is Below.SLAB:
            edge = math.fsum(
                size.foot_m
                for key, size in walls.outer.items()
                if key.room == drawn.index and key.boundary is Boundary.OUTDOORS
            )
            floor = replace(floor, exposed_edge_m=edge * min(1.0, open_bottom / drawn.area_m2))
        yield floor


def _order(surface: Surface) -> tuple[str, float, float, str, float, float, float, float]:
    return (
        surface.kind.value,
        surface.azimuth_deg,
        surface.tilt_deg,
        surface.boundary.value,
        surface.area_m2,
        surface.u_w_m2k,
        surface.shgc_frac,
        surface.overhang_depth_m,
    )


def surfaces_of(drawing: Drawing, walls: Walls, stack: Stack, report: Report) -> list[tuple[Surface, ...]]:
    """Surfaces of every room in canonical order; holes that do not fit go to the report."""
    upright = _wall_surfaces(drawing, walls, report)
    return [
        tuple(sorted([*upright[d.index], *_flat_surfaces(drawing, d, walls, stack, report)], key=_order))
        for d in drawing.rooms
    ]
