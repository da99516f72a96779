"""The designer's plan: ducts with sizes and dampers, registers, return, lines, drains, controls. Ink only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from compare.units import System
from compare.views.designer import DesignerView, DuctZone
from compare.views.plan_view import RoomShape
from proposal.drawing import svg
from proposal.drawing.desk_marks import damper_spot, draw_damper, draw_drain, draw_line, draw_sensor
from proposal.drawing.desk_words import (
    branch_label,
    drain_label,
    line_label,
    plenum_label,
    register_label,
    return_label,
    unit_label,
)
from proposal.drawing.doors import draw_doors
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.ducts import draw_ducts, return_box
from proposal.drawing.frame import LEVEL_NAME_PX, LevelFrame, arrange
from proposal.drawing.furniture import draw_furniture
from proposal.drawing.geometry import Box, Point, around, distance, inside, moved, strip_boxes
from proposal.drawing.geometry import middle as middle_of
from proposal.drawing.labels import APART_PX, Label, Wish, set_down
from proposal.drawing.legend import north_arrow
from proposal.drawing.lettering import Ink, Type, draw, wrap
from proposal.drawing.look import Look
from proposal.drawing.placing import Block, Ground, Line, place_in_room
from proposal.drawing.theme import PRINT
from proposal.drawing.units import draw_outdoor, draw_units
from proposal.drawing.walls import draw_walls
from proposal.drawing.words import ENGLISH

INK = replace(
    PRINT,
    name="ink",
    ink="#000000",
    ink2="#333333",
    ink3="#555555",
    rule="#666666",
    line="#BBBBBB",
    plum="#000000",
    wall="#000000",
    furniture="#999999",
)
"""Black on white, for the crew."""
HEAD = Type(20.0, 500, serif=True)
ROOM = Type(14.0, 600)
TAG = Type(12.5, 600)
SMALL = Type(12.5, 400)
NOTE = Type(12.5, 400)
HEAD_PX = 34.0
REACH_PX = 330.0
LISTED = frozenset({"branch", "return", "unit"})
"""Things whose tag alone stands on the plan where their label finds no room."""
NOTE_LINE_PX = 17.0


@dataclass(frozen=True, slots=True)
class DeskPicture:
    """A drawing, its size, and its labels and the boxes that they keep clear of."""

    svg: str
    width_px: float
    height_px: float
    labels: tuple[Label, ...]
    kept_clear: tuple[Box, ...]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Letters:
    """Labels set down so far on a storey."""

    ground: Ground
    look: Look
    parts: list[str]
    labels: list[Label]
    notes: list[str]

    def put(self, wish: Wish) -> None:
        """Set a label down beside its thing or with a leader; else only its tag, and the rest in the list below."""
        down = set_down(wish, self.ground, leader=True, reach_px=REACH_PX)
        if down is None:
            self.notes.append(wish.text)
            tag = wish.text.replace("\u00a0", " ").split(" ")[0]
            if wish.kind in LISTED:
                down = set_down(replace(wish, text=tag, style=TAG), self.ground, leader=True, reach_px=REACH_PX)
            if down is None:
                return
        found = down.found
        self.ground.take(found.box.grown(APART_PX))
        if down.line:
            self.parts.append(svg.line(*down.line, stroke=wish.colour, stroke_width=1.0))
            self.ground.hard += strip_boxes(*down.line, 1.0)
            self.ground.leaders.append(down.line)
        self.parts.append(found.block.draw(found.box, self.look.theme.card))
        self.labels.append(Label(" / ".join(line.text for line in found.block.lines), found.box))


def _into(room: RoomShape | None, at_m: Point) -> Point:
    """Way in the picture from a wall into a room."""
    if room is None:
        return 0.0, 1.0
    for way in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
        if inside(moved(at_m, way, 0.3), room.outline_m) and not inside(moved(at_m, way, -0.3), room.outline_m):
            return way[0], -way[1]
    return 0.0, 1.0


def _things(view: DesignerView, frame: LevelFrame, look: Look) -> tuple[Drawn, Drawn, tuple[Box, ...]]:
    """All that is drawn on a storey: what labels keep clear of, the outdoor units, and their boxes."""
    plan, level = view.plan, frame.level.level
    rooms = {room.name: room for room in plan.rooms}
    units, _ = draw_units(plan, view.drawing.units, frame, look, look.theme.ink)
    outdoor, boxes = draw_outdoor(view.drawing.outdoor, frame, look)
    zones = [zone for zone in view.zones if zone.level == level]
    lines = [line for line in view.lines if line.level == level]
    drawn = together(
        [
            draw_furniture(plan, frame, look),
            draw_walls(plan, frame, look),
            draw_doors(plan, frame, look),
            *(draw_line(line, frame, look) for line in lines),
            *(draw_drain(line, frame, look) for line in lines),
            draw_ducts(plan, view.drawing, frame, look, look.theme.ink),
            *(draw_damper(row, frame, look) for zone in zones for row in zone.branches),
            units,
            *(
                draw_sensor(control, frame, look, _into(rooms.get(control.room_name), control.at_m))
                for control in view.controls
                if control.level == level
            ),
        ]
    )
    return drawn, outdoor, boxes


def _target(frame: LevelFrame, at_m: Point, half_px: float = 5.0) -> Box:
    x, y = frame.at(at_m)
    return Box(x - half_px, y - half_px, x + half_px, y + half_px)


def _zone_wishes(zone: DuctZone, view: DesignerView, frame: LevelFrame, look: Look) -> list[Wish]:
    ink = look.theme.ink
    wishes = []
    for mark in view.drawing.units:
        if mark.tag == zone.tag:
            half = min(mark.width_m, mark.depth_m) * frame.px_per_m / 2.0
            wishes.append(Wish(_target(frame, mark.at_m, half), unit_label(zone, look), TAG, ink, None, "unit"))
    run = next((run for run in view.drawing.ducts if run.is_return and run.level == zone.level), None)
    if run is not None:
        wishes.append(Wish(return_box(run, frame), return_label(zone.way_back, look), SMALL, ink, None, "return"))
    for row in zone.branches:
        if len(row.points_m) > 1:
            box = _target(frame, damper_spot(row)[0], 6.0)
            wishes.append(Wish(box, branch_label(row, look), SMALL, ink, None, "branch"))
    wishes.append(Wish(_target(frame, zone.plenum_m[-1], 4.0), plenum_label(zone, look), SMALL, ink, None, "plenum"))
    wishes += [
        Wish(_target(frame, row.outlet_m, 9.0), register_label(row, look), SMALL, ink, None, "register")
        for row in zone.branches
    ]
    return wishes


def _wishes(view: DesignerView, frame: LevelFrame, look: Look, outdoor: tuple[Box, ...]) -> list[Wish]:
    level, ink = frame.level.level, look.theme.ink
    wishes = [
        Wish(_target(frame, mark.at_m, 8.0), mark.tag, TAG, ink, None, "tag")
        for mark in view.drawing.units
        if mark.level == level and mark.kind != "concealed unit"
    ]
    for zone in view.zones:
        if zone.level == level:
            wishes += _zone_wishes(zone, view, frame, look)
    marks = [mark for mark in view.drawing.outdoor if mark.level == level]
    wishes += [Wish(box, mark.tag, TAG, ink, None, "tag") for mark, box in zip(marks, outdoor, strict=True)]
    for line in view.lines:
        if line.level == level and len(line.points_m) > 1:
            middle = middle_of(*max(pairwise(line.points_m), key=lambda pair: distance(*pair)))
            wishes.append(Wish(_target(frame, middle, 3.0), line_label(line, look), SMALL, ink, None, "line"))
            end = _target(frame, line.drain_m[-1], 6.0)
            wishes.append(Wish(end, drain_label(line, look), SMALL, ink, None, "drain"))
    return wishes


def _level(view: DesignerView, frame: LevelFrame, look: Look, *, first: bool) -> tuple[str, _Letters, tuple[Box, ...]]:
    drawn, outdoor, boxes = _things(view, frame, look)
    hard = [*drawn.hard, *outdoor.hard]
    head = ""
    if len(view.plan.levels) > 1:
        name = look.words.get(f"level_{frame.level.name}", frame.level.name)
        head += draw(name[:1].upper() + name[1:], (frame.house.x0, frame.cell.y0 + 16.0), ROOM, Ink(look.theme.ink))
        hard.append(Box(frame.cell.x0, frame.cell.y0, frame.cell.x1, frame.cell.y0 + LEVEL_NAME_PX - 4.0))
    if first:
        body, box = north_arrow((frame.house.x1 - 40.0, frame.cell.y0), view.plan.north_deg, look)
        head += body
        hard.append(box)
    ground = Ground(frame.cell, [*hard], list(drawn.soft), frame.house)
    letters = _Letters(ground, look, [], [], [])
    for room in view.plan.rooms:
        if room.level != frame.level.level:
            continue
        outline = frame.outline(room.outline_m)
        block = Block((Line(room.name, ROOM, look.theme.ink),))
        halves = wrap(room.name, ROOM, block.width * 0.62)
        ladder = [block, Block(tuple(Line(text, ROOM, look.theme.ink) for text in halves), cost=100.0)]
        found = place_in_room(ladder, outline, around(outline).grown(-3.0), ground)
        if found is None:
            middle = around(outline)
            letters.put(Wish(Box(*middle.centre, *middle.centre), room.name, ROOM, look.theme.ink, None, "room"))
            continue
        ground.take(found.box.grown(APART_PX))
        letters.parts.append(found.block.draw(found.box, look.theme.card))
        letters.labels.append(Label(room.name, found.box, room.index))
    for wish in _wishes(view, frame, look, boxes):
        letters.put(wish)
    return drawn.svg + outdoor.svg + head + "".join(letters.parts), letters, tuple(hard)


def desk_plan(
    view: DesignerView, width_px: float = 1000.0, words: Mapping[str, str] = ENGLISH, title: str | None = None
) -> DeskPicture:
    """The plan for the desk and the crew, in black and white; `title` stands in place of its own, empty for none."""
    look = Look(theme=INK, units=System(view.units), width_px=width_px, words=words)
    lines = wrap(look.say("air_title", option=view.option_name) if title is None else title, HEAD, width_px)
    title = " ".join(lines) or look.say("desk_desc")
    head = [draw(text, (0.0, 20.0 + 24.0 * number), HEAD, Ink(INK.ink)) for number, text in enumerate(lines)]
    top = HEAD_PX + 24.0 * (len(head) - 1) if head else 4.0
    arrangement = arrange(view.plan, view.drawing, look, top)
    parts: list[str] = [*head]
    labels: list[Label] = []
    clear: list[Box] = []
    notes: list[str] = []
    first = min(arrangement.levels, key=lambda frame: (frame.cell.y0, frame.cell.x0))
    for frame in arrangement.levels:
        body, letters, hard = _level(view, frame, look, first=frame is first)
        parts.append(body)
        labels += letters.labels
        clear += hard
        notes += letters.notes
    y = top + arrangement.height_px + 18.0
    demo = [look.say("desk_demo", house=view.house)] if view.demo else []
    tail = [*([" · ".join(notes)] if notes else []), look.say("desk_key"), *demo]
    for text in tail:
        for line in wrap(text, NOTE, width_px):
            parts.append(draw(line, (0.0, y), NOTE, Ink(INK.ink2)))
            y += NOTE_LINE_PX
    picture = svg.document((width_px, y), title, look.say("desk_desc"), parts)
    return DeskPicture(picture, width_px, y, tuple(labels), tuple(clear), tuple(notes))
