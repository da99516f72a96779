"""Ducts schematically in true width, with their grilles; runs are joined to one outline without seams."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from compare.views.plan_view import DuctRun, OptionDrawing, PlanView
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, distance_to_segment, inside, moved, strip_boxes, unit_vector
from proposal.drawing.look import Look
from proposal.drawing.symbols import arrows_out

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_LEAST_PX = 6.0
_COMPACT_LEAST_PX = 3.0
_AT_WALL_M = 0.3
GRILLE_M = (0.36, 0.16)
RETURN_M = 0.5


def _width_px(run: DuctRun, frame: LevelFrame, look: Look) -> float:
    return max(run.width_m * frame.px_per_m, _COMPACT_LEAST_PX if look.compact else _LEAST_PX)


def _joined(runs: Iterable[DuctRun], frame: LevelFrame, look: Look) -> BaseGeometry:
    from shapely import union_all
    from shapely.geometry import LineString

    shapes: list[Any] = [
        LineString(frame.outline(run.points_m)).buffer(
            _width_px(run, frame, look) / 2.0, cap_style="flat", join_style="mitre"
        )
        for run in runs
        if len(set(run.points_m)) > 1
    ]
    return union_all(shapes)


def _rings(shape: BaseGeometry) -> list[list[Point]]:
    parts: list[Any] = list(getattr(shape, "geoms", [shape]))
    rings: list[list[Point]] = []
    for part in parts:
        if not part.is_empty:
            rings += [list(ring.coords)[:-1] for ring in (part.exterior, *part.interiors)]
    return rings


def elsewhere(drawing: OptionDrawing, level: int) -> bool:
    """Whether the ducts of a level lie out of its rooms (attic, crawlspace): then they are drawn dashed."""
    units = [unit for unit in drawing.units if unit.level == level and unit.kind == "concealed unit"]
    return bool(units) and all(unit.room < 0 for unit in units)


def _duct_body(runs: list[DuctRun], frame: LevelFrame, look: Look, *, dashed: bool) -> str:
    if look.compact and dashed:
        lines = "".join(svg.points_path(frame.outline(run.points_m), closed=False) for run in runs)
        return svg.path(lines, fill="none", stroke=look.theme.ink, stroke_width=1.1, stroke_dasharray="2.6 1.8")
    rings = _rings(_joined(runs, frame, look))
    data = "".join(svg.points_path(ring, closed=True) for ring in rings)
    if not data:
        return ""
    return svg.path(
        data,
        fill="none" if dashed else look.theme.card,
        fill_rule="evenodd",
        stroke=look.theme.ink,
        stroke_width=0.9 if look.compact else 1.3,
        stroke_dasharray="6 3.4" if dashed else None,
    )


def _wall_way(end_m: Point, run: DuctRun, plan: PlanView) -> Point | None:
    """Direction into the served room where the duct ends at one of its walls; None in open ceiling."""
    room = next((room for room in plan.rooms if room.index == run.room), None)
    if room is None:
        return None
    walls = pairwise((*room.outline_m, room.outline_m[0]))
    near = [
        (distance_to_segment(end_m, start, end), (start, end))
        for start, end in walls
        if distance_to_segment(end_m, start, end) <= _AT_WALL_M
    ]
    if not near:
        return None
    start, end = min(near)[1]
    along = unit_vector(start, end)
    way = (-along[1], along[0])
    centre = (
        sum(x for x, _ in room.outline_m) / len(room.outline_m),
        sum(y for _, y in room.outline_m) / len(room.outline_m),
    )
    if (centre[0] - end_m[0]) * way[0] + (centre[1] - end_m[1]) * way[1] < 0.0:
        way = (-way[0], -way[1])
    return way


def _grille_box(centre: Point, way: Point, size: Point) -> str:
    """Box with three bars; `way` is the blowing direction."""
    across = (-way[1], way[0])
    wide, deep = size

    def corner(along_across: float, along_way: float) -> Point:
        return moved(moved(centre, across, along_across * wide), way, along_way * deep)

    outline = [corner(a, b) for a, b in ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))]
    bars = "".join(svg.points_path((corner(at, -0.5), corner(at, 0.5)), closed=False) for at in (-0.25, 0.0, 0.25))
    return svg.path(svg.points_path(outline, closed=True) + bars)


def _supply(run: DuctRun, plan: PlanView, frame: LevelFrame, look: Look, colour: str) -> Drawn:
    end_m = run.points_m[-1]
    end = frame.at(end_m)
    wide = max(GRILLE_M[0] * frame.px_per_m, 14.0)
    deep = max(GRILLE_M[1] * frame.px_per_m, 6.0)
    way_m = _wall_way(end_m, run, plan)
    room = next((room for room in plan.rooms if room.index == run.room), None)
    outline = frame.outline(room.outline_m) if room else ()
    if way_m is not None:
        way = (way_m[0], -way_m[1])
        across = (-way[1], way[0])
        arrows = []
        for lean in (-0.45, 0.0, 0.45):
            tail = moved(moved(end, way, deep / 2.0 + 3.0), across, lean * 14.0)
            tip = moved(moved(end, way, deep / 2.0 + 19.0), across, lean * 30.0)
            beyond = moved(tip, across, 5.0 * (1.0 if lean > 0.0 else -1.0))
            arrows.append((tail, tip if lean == 0.0 or inside(beyond, outline) else moved(tail, way, 16.0)))
    else:
        way = unit_vector(*(frame.at(point) for point in run.points_m[-2:])) if len(run.points_m) > 1 else (0.0, 1.0)
        deep, across = wide * 0.62, (-way[1], way[0])
        half = wide / 2.0
        arrows = [
            (moved(end, side, start + 3.0), moved(end, side, start + 15.0))
            for side, start in ((across, half), ((-across[0], -across[1]), half), (way, deep / 2.0))
        ]
    box = svg.group(
        [_grille_box(end, way, (wide, deep))], fill=look.theme.card, stroke=look.theme.ink, stroke_width=1.2
    )
    reach = [point for pair in arrows for point in pair]
    return Drawn(box + arrows_out(arrows, colour, 1.5), hard=(_hull([*reach, end]).grown(3.0),))


def _hull(points: list[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def return_box(run: DuctRun, frame: LevelFrame) -> Box:
    """Box of the return grille at the end of its run."""
    x, y = frame.at(run.points_m[-1])
    half = max(RETURN_M * frame.px_per_m, 16.0) / 2.0
    return Box(x - half, y - half, x + half, y + half)


def _return(run: DuctRun, frame: LevelFrame, look: Look) -> Drawn:
    box = return_box(run, frame)
    inner = box.grown(-box.width * 0.22)
    a, b, c, d = box.corners()
    body = svg.group(
        [
            svg.path(
                svg.points_path((a, b, c, d), closed=True)
                + svg.points_path((a, c), closed=False)
                + svg.points_path((b, d), closed=False)
            ),
            svg.tag("rect", x=inner.x0, y=inner.y0, width=inner.width, height=inner.height, fill="none"),
        ],
        fill=look.theme.card,
        stroke=look.theme.ink,
        stroke_width=1.2,
    )
    return Drawn(body, hard=(box.grown(2.0),))


def draw_ducts(plan: PlanView, drawing: OptionDrawing, frame: LevelFrame, look: Look, colour: str) -> Drawn:
    """Ducts of a storey, and (on the large plan) supply and return grilles."""
    runs = [run for run in drawing.ducts if run.level == frame.level.level and len(run.points_m) > 1]
    if not runs:
        return Drawn()
    dashed = elsewhere(drawing, frame.level.level)
    boxes = tuple(
        box
        for run in runs
        for start, end in pairwise(frame.outline(run.points_m))
        for box in strip_boxes(start, end, _width_px(run, frame, look) / 2.0)
    )
    body = _duct_body(runs, frame, look, dashed=dashed)
    ducts = Drawn(body, soft=boxes) if dashed else Drawn(body, hard=boxes)
    if look.compact:
        return ducts
    grilles = [
        _return(run, frame, look) if run.is_return else _supply(run, plan, frame, look, colour)
        for run in runs
        if run.room >= 0 or run.is_return
    ]
    return together([ducts, *grilles])
