"""Where each storey stands in the picture, and how metres become pixels."""

from __future__ import annotations

from dataclasses import dataclass

from compare.views.plan_view import LevelView, OptionDrawing, OutdoorMark, PlanView
from proposal.drawing.geometry import Box, Point, around
from proposal.drawing.look import Look

MOST_PX_PER_M = 62.0
"""A very small house is not blown up beyond this."""
SIDE_BY_SIDE_PX_PER_M = 34.0
"""Storeys stand side by side only if rooms stay at least this large; below, they are stacked."""
GAP_PX = 30.0
EDGE_PX = 8.0
TOP_STRIP_PX = 30.0
OUTDOOR_STRIP_PX = 48.0
OUTDOOR_SIDE_PX = 74.0
LEVEL_NAME_PX = 26.0
COMPACT_EDGE_PX = 3.0


@dataclass(frozen=True, slots=True)
class Margins:
    """Free strips round a storey."""

    left_px: float
    top_px: float
    right_px: float
    bottom_px: float


@dataclass(frozen=True, slots=True)
class LevelFrame:
    """One storey in the picture. Plan y runs up, picture y runs down."""

    level: LevelView
    house_m: Box
    px_per_m: float
    origin_px: Point
    """Where the top left corner of the house's box stands."""
    cell: Box
    """All that belongs to the storey, strips included."""

    def at(self, point_m: Point) -> Point:
        """A point of the plan in the picture."""
        return (
            self.origin_px[0] + (point_m[0] - self.house_m.x0) * self.px_per_m,
            self.origin_px[1] + (self.house_m.y1 - point_m[1]) * self.px_per_m,
        )

    def outline(self, points_m: tuple[Point, ...]) -> tuple[Point, ...]:
        """A polygon of the plan in the picture."""
        return tuple(self.at(point) for point in points_m)

    @property
    def house(self) -> Box:
        """Box of the house in the picture."""
        x, y = self.origin_px
        return Box(x, y, x + self.house_m.width * self.px_per_m, y + self.house_m.height * self.px_per_m)


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Every storey, and the height they take."""

    levels: tuple[LevelFrame, ...]
    height_px: float


def outdoor_side(mark: OutdoorMark, house_m: Box) -> str:
    """Side of the house's box beyond which an outdoor unit stands: N, E, S or W; empty inside the box."""
    x, y = mark.at_m
    beyond = {"N": y - house_m.y1, "E": x - house_m.x1, "S": house_m.y0 - y, "W": house_m.x0 - x}
    side, most_m = max(beyond.items(), key=lambda item: item[1])
    return side if most_m > 0.0 else ""


def _margins(level: int, drawing: OptionDrawing, house_m: Box, look: Look, *, several: bool) -> Margins:
    """Strips wide enough for outdoor units, for the north arrow, and for the name of a unit out of the rooms."""
    sides = {outdoor_side(mark, house_m) for mark in drawing.outdoor if mark.level == level}
    away = any(unit.room < 0 and unit.level == level for unit in drawing.units)
    if look.compact:
        edge = COMPACT_EDGE_PX
        return Margins(edge, edge, edge, edge)
    top = OUTDOOR_STRIP_PX if "N" in sides else EDGE_PX if several and not away else TOP_STRIP_PX
    return Margins(
        left_px=OUTDOOR_SIDE_PX if "W" in sides else EDGE_PX,
        top_px=top + (LEVEL_NAME_PX if several else 0.0),
        right_px=OUTDOOR_SIDE_PX if "E" in sides else EDGE_PX,
        bottom_px=OUTDOOR_STRIP_PX if "S" in sides else EDGE_PX,
    )


def arrange(plan: PlanView, drawing: OptionDrawing, look: Look, top_px: float) -> Arrangement:
    """Frames of all storeys below `top_px`, side by side where that leaves them large enough, else stacked."""
    house_m = around([point for room in plan.rooms for point in room.outline_m])
    several = len(plan.levels) > 1
    margins = [_margins(level.level, drawing, house_m, look, several=several) for level in plan.levels]
    gap = COMPACT_EDGE_PX if look.compact else GAP_PX
    free_px = look.width_px - gap * (len(margins) - 1) - sum(edge.left_px + edge.right_px for edge in margins)
    beside = free_px / len(margins) / house_m.width
    if look.compact or not several or beside >= SIDE_BY_SIDE_PX_PER_M:
        return _row(plan, margins, look, (house_m, min(beside, MOST_PX_PER_M), gap, top_px))
    return _stack(plan, margins, look, (house_m, gap, top_px))


def _row(plan: PlanView, margins: list[Margins], look: Look, place: tuple[Box, float, float, float]) -> Arrangement:
    house_m, scale, gap, top_px = place
    used = sum(edge.left_px + edge.right_px + house_m.width * scale for edge in margins) + gap * (len(margins) - 1)
    x = (look.width_px - used) / 2.0
    above = max(edge.top_px for edge in margins)
    below = max(edge.bottom_px for edge in margins)
    height = above + house_m.height * scale + below
    frames = []
    for level, edge in zip(plan.levels, margins, strict=True):
        width = edge.left_px + house_m.width * scale + edge.right_px
        cell = Box(x, top_px, x + width, top_px + height)
        frames.append(LevelFrame(level, house_m, scale, (x + edge.left_px, top_px + above), cell))
        x += width + gap
    return Arrangement(tuple(frames), height)


def _stack(plan: PlanView, margins: list[Margins], look: Look, place: tuple[Box, float, float]) -> Arrangement:
    """Upper storeys above lower ones, walls in line."""
    house_m, gap, top_px = place
    left = max(edge.left_px for edge in margins)
    right = max(edge.right_px for edge in margins)
    scale = min((look.width_px - left - right) / house_m.width, MOST_PX_PER_M)
    x = left + (look.width_px - left - right - house_m.width * scale) / 2.0
    y = top_px
    frames = []
    for level, edge in reversed(list(zip(plan.levels, margins, strict=True))):
        height = edge.top_px + house_m.height * scale + edge.bottom_px
        cell = Box(0.0, y, look.width_px, y + height)
        frames.append(LevelFrame(level, house_m, scale, (x, y + edge.top_px), cell))
        y += height + gap
    return Arrangement(tuple(reversed(frames)), y - gap - top_px)
