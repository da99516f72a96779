"""Walls with their gaps, windows and outside doors. Outside walls 5 in., inside walls 3 in. (drawing convention)."""

from __future__ import annotations

from itertools import pairwise

from compare.views.plan_view import PlanView, WallLine
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, distance, distance_to_segment, moved, strip_boxes, unit_vector
from proposal.drawing.look import Look

OUTSIDE_M = 0.128
INSIDE_M = 0.079
_NEAR_M = 0.3
"""An opening belongs to a wall if both its ends lie this near to it."""
Gap = tuple[Point, Point]


def thickness_m(*, outside: bool) -> float:
    """Drawn thickness of a wall."""
    return OUTSIDE_M if outside else INSIDE_M


def thickness_px(frame: LevelFrame, look: Look, *, outside: bool) -> float:
    """Thickness in the picture; in the small house thin, but never lost."""
    least = (1.6 if outside else 1.0) if look.compact else (4.0 if outside else 2.6)
    return max(least, thickness_m(outside=outside) * frame.px_per_m)


def _place_m(point: Point, wall: WallLine) -> float:
    """How far along the wall a point stands."""
    along = unit_vector(wall.start_m, wall.end_m)
    return (point[0] - wall.start_m[0]) * along[0] + (point[1] - wall.start_m[1]) * along[1]


def solid_pieces(wall: WallLine, gaps: list[Gap]) -> list[Gap]:
    """What is left of a wall when openings are taken out."""
    length_m = distance(wall.start_m, wall.end_m)
    along = unit_vector(wall.start_m, wall.end_m)
    cuts = []
    for gap in gaps:
        if all(distance_to_segment(end, wall.start_m, wall.end_m) <= _NEAR_M for end in gap):
            low, high = sorted(min(max(_place_m(end, wall), 0.0), length_m) for end in gap)
            cuts.append((low, high))
    marks = [0.0]
    for low, high in sorted(cuts):
        marks += [max(low, marks[-1]), max(high, marks[-1])]
    marks.append(length_m)
    pairs = list(pairwise(marks))[::2]
    return [(moved(wall.start_m, along, a), moved(wall.start_m, along, b)) for a, b in pairs if b - a > 1e-6]


def _gaps(plan: PlanView, level: int, look: Look) -> tuple[list[Gap], list[Gap]]:
    """Inside gaps (doors and openings) and outside gaps (windows and outside doors) of a level."""
    kinds = {"opening"} if look.compact else {"opening", "door"}
    doors = [(door.start_m, door.end_m) for door in plan.doors if door.level == level and door.kind in kinds]
    if look.compact:
        return doors, []
    windows = [(window.start_m, window.end_m) for window in plan.windows if window.level == level]
    return doors, windows


def _wall(frame: LevelFrame, look: Look, wall: WallLine, gaps: list[Gap]) -> Drawn:
    width_px = thickness_px(frame, look, outside=wall.outside)
    parts: list[str] = []
    boxes: list[Box] = []
    for start_m, end_m in solid_pieces(wall, gaps):
        start, end = frame.at(start_m), frame.at(end_m)
        along = unit_vector(start, end)
        first = start if start_m != wall.start_m else moved(start, along, -width_px / 2.0)
        last = end if distance(end_m, wall.end_m) > 1e-6 else moved(end, along, width_px / 2.0)
        parts.append(svg.line(first, last, stroke_width=width_px))
        boxes += strip_boxes(start, end, width_px / 2.0)
    return Drawn("".join(parts), hard=tuple(boxes))


def _opening_in_outside_wall(frame: LevelFrame, look: Look, gap: Gap, *, door: bool) -> Drawn:
    """A white slot with one glass line; an outside door is a thin leaf in a bare gap."""
    width_px = thickness_px(frame, look, outside=True)
    start, end = frame.at(gap[0]), frame.at(gap[1])
    along = unit_vector(start, end)
    across = (-along[1], along[0])
    theme, edge_px = look.theme, min(1.0, width_px / 5.0)
    corners = [
        moved(point, across, side * (width_px - edge_px) / 2.0)
        for point, side in ((start, 1), (end, 1), (end, -1), (start, -1))
    ]
    if door:
        body = svg.line(start, end, stroke=theme.wall, stroke_width=max(1.4, width_px * 0.4))
    else:
        body = svg.path(
            svg.points_path(corners, closed=True), fill=theme.card, stroke=theme.wall, stroke_width=edge_px
        ) + svg.line(start, end, stroke=theme.wall, stroke_width=edge_px)
    return Drawn(body, hard=strip_boxes(start, end, width_px / 2.0))


def draw_walls(plan: PlanView, frame: LevelFrame, look: Look) -> Drawn:
    """All walls of a storey, outside ones last so that their corners close."""
    level = frame.level.level
    doors, windows = _gaps(plan, level, look)
    walls = sorted((wall for wall in plan.walls if wall.level == level), key=lambda wall: wall.outside)
    bare = together(_wall(frame, look, wall, windows if wall.outside else doors) for wall in walls)
    slots = together(
        _opening_in_outside_wall(frame, look, (window.start_m, window.end_m), door=window.door)
        for window in plan.windows
        if window.level == level and not look.compact
    )
    body = svg.group([bare.svg], stroke=look.theme.wall, fill="none") + slots.svg
    return Drawn(body, hard=bare.hard + slots.hard)


def wall_normal(start: Point, end: Point) -> Point:
    """Direction square to a wall."""
    along = unit_vector(start, end)
    return -along[1], along[0]
