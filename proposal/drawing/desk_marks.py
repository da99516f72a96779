"""What only the designer's plan shows: dampers, lines, drains, sensors, draught at beds."""

from __future__ import annotations

import math
from itertools import pairwise

from compare.views.designer import ControlMark, DuctRow, LineMark
from compare.views.plan_view import Point as PlanPoint
from proposal.drawing import svg
from proposal.drawing.drawn import Drawn
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, distance, moved, strip_boxes, unit_vector
from proposal.drawing.lettering import Ink, Type, draw
from proposal.drawing.look import Look

DAMPER_M = 0.45
"""A damper sits this far along its branch from the plenum."""
SENSOR_PX = 9.0
_TAG = Type(11.0, 600)


def damper_spot(row: DuctRow) -> tuple[PlanPoint, PlanPoint]:
    """Where a branch's damper sits, in plan metres, and the way of the duct there."""
    left = DAMPER_M
    points = row.points_m
    for start, end in pairwise(points):
        length = distance(start, end)
        if length >= left or (start, end) == (points[-2], points[-1]):
            along = unit_vector(start, end)
            return moved(start, along, min(left, length * 0.5 if length < left else left)), along
        left -= length
    return points[0], (1.0, 0.0)


def draw_damper(row: DuctRow, frame: LevelFrame, look: Look) -> Drawn:
    """A circle on the duct with a handle line; the more it is shut, the more the handle lies across."""
    if len(row.points_m) < 2:
        return Drawn()
    spot, along_m = damper_spot(row)
    centre = frame.at(spot)
    along = (along_m[0], -along_m[1])
    turn = math.radians(row.damper_deg)
    way = (
        along[0] * math.cos(turn) - along[1] * math.sin(turn),
        along[0] * math.sin(turn) + along[1] * math.cos(turn),
    )
    radius = max(row.diameter_m * frame.px_per_m * 0.36, 4.5)
    theme = look.theme
    body = svg.tag("circle", cx=centre[0], cy=centre[1], r=radius, fill=theme.card, stroke=theme.ink, stroke_width=1.4)
    body += svg.line(
        moved(centre, way, -radius * 1.35), moved(centre, way, radius * 1.35), stroke=theme.ink, stroke_width=1.8
    )
    reach = radius * 1.4
    box = Box(centre[0] - reach, centre[1] - reach, centre[0] + reach, centre[1] + reach)
    return Drawn(body, hard=(box,))


def draw_line(line: LineMark, frame: LevelFrame, look: Look) -> Drawn:
    """Route of a line set, long dash and dot."""
    points = frame.outline(line.points_m)
    if len(points) < 2:
        return Drawn()
    body = svg.path(
        svg.points_path(points, closed=False),
        fill="none",
        stroke=look.theme.ink,
        stroke_width=1.7,
        stroke_dasharray="8 3 1.6 3",
    )
    boxes = [box for start, end in pairwise(points) for box in strip_boxes(start, end, 1.5)]
    return Drawn(body, hard=tuple(boxes))


def draw_drain(line: LineMark, frame: LevelFrame, look: Look) -> Drawn:
    """Dots with a chevron that points downhill."""
    start, end = (frame.at(point) for point in line.drain_m)
    along = unit_vector(start, end)
    beside = (-along[1], along[0])
    start, end = moved(start, beside, 7.0), moved(end, beside, 7.0)
    ink = look.theme.ink
    body = svg.line(start, end, stroke=ink, stroke_width=2.2, stroke_dasharray=".1 5", stroke_linecap="round")
    middle = moved(start, along, distance(start, end) * 0.62)
    wings = [moved(moved(middle, along, -5.0), beside, side * 4.5) for side in (1.0, -1.0)]
    body += svg.path(
        svg.points_path((wings[0], middle, wings[1]), closed=False), fill="none", stroke=ink, stroke_width=1.6
    )
    return Drawn(body, hard=strip_boxes(start, end, 4.5))


def draw_sensor(control: ControlMark, frame: LevelFrame, look: Look, into: Point) -> Drawn:
    """A circle with its tag, off the wall into the room."""
    x, y = moved(frame.at(control.at_m), into, SENSOR_PX + 4.0)
    theme = look.theme
    body = svg.tag("circle", cx=x, cy=y, r=SENSOR_PX, fill=theme.card, stroke=theme.ink, stroke_width=1.4)
    body += draw(control.tag, (x, y + 4.0), _TAG, Ink(theme.ink, anchor="middle"))
    reach = SENSOR_PX + 2.0
    return Drawn(body, hard=(Box(x - reach, y - reach, x + reach, y + reach),))
