"""Outside walls as the owner will see them: line covers, holes, outdoor units. A sketch in black and white."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from compare.units import Kind, System, show
from compare.views.designer import DesignerView, Elevation, ElevationItem, ElevationOpening
from proposal.drawing import svg
from proposal.drawing.desk import INK, DeskPicture
from proposal.drawing.geometry import Box, Point, strip_boxes
from proposal.drawing.labels import APART_PX, Label, Wish, set_down
from proposal.drawing.lettering import Ink, Type, draw, width_px, wrap
from proposal.drawing.look import Look
from proposal.drawing.placing import Ground
from proposal.drawing.symbols import outdoor_unit
from proposal.drawing.words import ENGLISH, local

HEAD = Type(20.0, 500, serif=True)
NAME = Type(15.0, 600)
TAG = Type(12.5, 600)
SMALL = Type(12.5, 400)
MOST_PX_PER_M = 52.0
ROW_PX_PER_M = 30.0
"""At least so large where all walls stand in one row."""
EAVE_OUT_M = 0.35
EAVE_DEEP_M = 0.18
HEAD_PX = 40.0
NAME_PX = 30.0
ROOF_PX = 12.0
GROUND_PX = 40.0
GAP_PX = 26.0
SIDE_PX = 40.0


@dataclass(frozen=True, slots=True)
class _Face:
    """One wall in the picture."""

    wall: Elevation
    origin: Point
    """Left end of the ground line."""
    scale: float
    cell: Box

    def at(self, along_m: float, up_m: float) -> Point:
        return self.origin[0] + along_m * self.scale, self.origin[1] - up_m * self.scale

    def box(self, along: tuple[float, float], up: tuple[float, float]) -> Box:
        (x0, y1), (x1, y0) = self.at(along[0], up[0]), self.at(along[1], up[1])
        return Box(x0, y0, x1, y1)


def _rect(box: Box, **attributes: svg.Value | None) -> str:
    return svg.tag("rect", x=box.x0, y=box.y0, width=box.width, height=box.height, **attributes)


def _opening(face: _Face, opening: ElevationOpening) -> tuple[str, Box]:
    box = face.box((opening.from_m, opening.to_m), (opening.sill_m, opening.head_m))
    body = _rect(box, fill=INK.card, stroke=INK.ink3, stroke_width=1.1)
    if opening.door:
        x, y = box.x1 - min(8.0, box.width * 0.2), box.centre[1]
        return body + svg.tag("circle", cx=x, cy=y, r=1.6, fill=INK.ink3), box
    middle = box.centre
    body += svg.line((middle[0], box.y0), (middle[0], box.y1), stroke=INK.ink3, stroke_width=0.9)
    return body + svg.line((box.x0, middle[1]), (box.x1, middle[1]), stroke=INK.ink3, stroke_width=0.9), box


def _item(face: _Face, item: ElevationItem, hatch: str) -> tuple[str, Box]:
    box = face.box((item.from_m, item.to_m), (item.low_m, item.high_m))
    if item.kind == "outdoor unit":
        place = f"translate({svg.number(box.centre[0])} {svg.number(box.centre[1])})"
        stand = [
            svg.line((x, box.y1), (x, face.origin[1]), stroke=INK.ink, stroke_width=2.0)
            for x in (box.x0 + box.width * 0.15, box.x1 - box.width * 0.15)
        ]
        return svg.group([outdoor_unit((box.width, box.height), INK.ink, INK.card)], transform=place) + "".join(
            stand
        ), box
    if box.width < 4.0 or box.height < 4.0:
        box = Box(
            box.centre[0] - max(box.width, 4.0) / 2.0,
            box.centre[1] - max(box.height, 4.0) / 2.0,
            box.centre[0] + max(box.width, 4.0) / 2.0,
            box.centre[1] + max(box.height, 4.0) / 2.0,
        )
    return _rect(box, fill=INK.card) + _rect(box, fill=f"url(#{hatch})", stroke=INK.ink, stroke_width=1.2), box


def _words(item: ElevationItem, look: Look) -> str:
    if item.kind == "outdoor unit":
        return item.label
    sets = item.label.count(",") + 1
    upright = item.high_m - item.low_m > item.to_m - item.from_m
    width = (item.to_m - item.from_m) if upright else (item.high_m - item.low_m)
    size = local(show(width, Kind.SMALL_LENGTH, look.units, 0), look.words)
    key = f"cover_{'up' if upright else 'level'}_{'one' if sets == 1 else 'many'}"
    text = look.say(key, tags=item.label, n=f"{sets}", size=size)
    return " · ".join(part.replace(" ", "\u00a0") for part in text.split(" · "))


def _draw(face: _Face, look: Look, hatch: str) -> tuple[str, list[Label], list[Box], list[str]]:
    wall, name = face.wall, look.say(f"wall_{face.wall.side}")
    body = face.box((0.0, wall.length_m), (0.0, wall.eave_m))
    parts = [_rect(body, fill=INK.card, stroke=INK.ink, stroke_width=1.8)]
    eave = face.box((-EAVE_OUT_M, wall.length_m + EAVE_OUT_M), (wall.eave_m, wall.eave_m + EAVE_DEEP_M))
    parts.append(_rect(eave, fill=INK.ink))
    parts.append(
        svg.line((face.cell.x0, face.origin[1]), (face.cell.x1, face.origin[1]), stroke=INK.ink, stroke_width=2.4)
    )
    parts += [
        svg.line(face.at(0.0, floor), face.at(wall.length_m, floor), stroke=INK.line, stroke_width=1.0)
        for floor in wall.floor_m
    ]
    head = Box(face.cell.x0, face.cell.y0, face.cell.x0 + width_px(name, NAME), face.cell.y0 + NAME_PX - 6.0)
    hard, soft = [head, eave, face.box((-9.0, wall.length_m + 9.0), (-0.07, 0.07))], []
    for opening in wall.openings:
        drawn, box = _opening(face, opening)
        parts.append(drawn)
        soft.append(box)
    targets = []
    for item in sorted(wall.items, key=lambda one: one.kind != "cover"):
        drawn, box = _item(face, item, hatch)
        parts.append(drawn)
        hard.append(box)
        targets.append((item, box))
    edges = [box for x in (body.x0, body.x1) for box in strip_boxes((x, body.y0), (x, body.y1), 2.0)]
    ground = Ground(face.cell, [*hard], [*soft, *edges])
    labels, notes = [], []
    for item, box in targets:
        text = _words(item, look)
        style = TAG if item.kind == "outdoor unit" else SMALL
        down = set_down(Wish(box, text, style, INK.ink, None, item.kind), ground, leader=True)
        if down is None:
            notes.append(f"{name}: {text}")
            continue
        ground.take(down.found.box.grown(APART_PX))
        if down.line:
            parts.append(svg.line(*down.line, stroke=INK.ink, stroke_width=1.0))
            ground.hard += strip_boxes(*down.line, 1.0)
            ground.leaders.append(down.line)
        parts.append(down.found.block.draw(down.found.box, INK.card))
        labels.append(Label(text, down.found.box))
    parts.append(draw(name, (face.cell.x0, face.cell.y0 + 18.0), NAME, Ink(INK.ink)))
    return "".join(parts), labels, hard, notes


def _scale(view: DesignerView, width_px: float, longest_m: float) -> float:
    """Scale of all walls: small enough for one row where that leaves their labels room, else for the longest wall."""
    count, length_m = len(view.elevations), sum(wall.length_m for wall in view.elevations)
    row_px = width_px - count * 2 * SIDE_PX - (count - 1) * GAP_PX
    if count > 1 and row_px / length_m >= ROW_PX_PER_M:
        return min(row_px / length_m, MOST_PX_PER_M)
    return min((width_px - 2 * SIDE_PX) / longest_m, MOST_PX_PER_M)


def elevations_picture(
    view: DesignerView, width_px: float = 1000.0, words: Mapping[str, str] = ENGLISH
) -> DeskPicture:
    """Every wall that carries something, one under the other, at one scale."""
    look = Look(theme=INK, units=System(view.units), width_px=width_px, words=words)
    hatch = "e" + hashlib.sha256(f"{view.option_id}{width_px}".encode()).hexdigest()[:8]
    title = look.say("walls_title")
    parts = [
        svg.tag("defs", [svg.hatch_pattern(hatch, 4.0, cross=False, stroke=INK.ink, stroke_width=1.2)]),
        draw(title, (0.0, 22.0), HEAD, Ink(INK.ink)),
    ]
    longest = max((wall.length_m for wall in view.elevations), default=1.0)
    scale = _scale(view, width_px, longest)
    x, y, row_px = 0.0, HEAD_PX, 0.0
    labels: list[Label] = []
    clear: list[Box] = []
    notes: list[str] = []
    for wall in view.elevations:
        high = (wall.eave_m + EAVE_DEEP_M) * scale
        wide = wall.length_m * scale + 2 * SIDE_PX
        if x > 0.0 and x + wide > width_px:
            x, y = 0.0, y + row_px + GAP_PX
        row_px = NAME_PX + ROOF_PX + high + GROUND_PX
        cell = Box(x, y, x + wide, y + row_px)
        face = _Face(wall, (x + SIDE_PX, y + NAME_PX + ROOF_PX + high), scale, cell)
        drawn, set_labels, hard, left = _draw(face, look, hatch)
        parts.append(drawn)
        labels += set_labels
        clear += hard
        notes += left
        x = cell.x1 + GAP_PX
    y += row_px + GAP_PX
    told = look.say("walls_told")
    for text in [*([" · ".join(notes)] if notes else []), told]:
        for line in wrap(text, SMALL, width_px):
            parts.append(draw(line, (0.0, y), SMALL, Ink(INK.ink2)))
            y += 17.0
    picture = svg.document((width_px, y), title, told, parts)
    return DeskPicture(picture, width_px, y, tuple(labels), tuple(clear), tuple(notes))
