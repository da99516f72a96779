"""Labels of rooms and units on a storey: none covers another, nor a wall, a unit or a duct."""

from __future__ import annotations

from dataclasses import dataclass, replace

from compare.views.plan_view import OptionDrawing
from proposal.drawing import svg
from proposal.drawing.ducts import return_box
from proposal.drawing.frame import LevelFrame
from proposal.drawing.geometry import Box, Point, around, inside, strip_boxes
from proposal.drawing.lettering import Type, width_px, wrap
from proposal.drawing.look import Look
from proposal.drawing.placing import Block, Found, Ground, Line, beside, place_in_room, with_leader
from proposal.drawing.rooms import RoomState
from proposal.drawing.units import Placed

NAME = Type(14.0, 500)
WORD = Type(13.5, 500)
UNIT = Type(13.5, 600)
QUIET = Type(13.5, 400)
MARK = Type(13.0, 600)
LARGE_ROOM_M2 = 25.0
LEADER_REACH_PX = 250.0
_LONG_WORDS = 12
APART_PX = 4.0
SIZE_COSTS = (0.0, 250.0, 800.0, 1500.0)


@dataclass(frozen=True, slots=True)
class Label:
    """A label where it stands, as kept for checks."""

    text: str
    box: Box
    room: int = -1


@dataclass(frozen=True, slots=True)
class Lettered:
    """Labels of a storey: their SVG, their places, and what had to go into the list below the plan."""

    svg: str
    labels: tuple[Label, ...]
    notes: tuple[str, ...]


def _figure_sizes(state: RoomState) -> tuple[float, ...]:
    if not state.words:
        return (20.0, 17.0)
    return (39.0, 29.0, 23.0, 18.0) if state.shape.area_m2 >= LARGE_ROOM_M2 else (29.0, 23.0, 18.0)


def _lines(texts: tuple[str, ...], style: Type, fill: str) -> tuple[Line, ...]:
    return tuple(Line(text, style, fill) for text in texts)


def _halves(text: str, style: Type) -> tuple[str, ...]:
    """A text on two lines of nearly equal width, where it has a space."""
    return wrap(text, style, max(width_px(text, style) * 0.62, 50.0))


def _parts(word: str) -> tuple[str, ...]:
    """A long word group on two lines, a short one as it is."""
    return _halves(word, WORD) if len(word) > _LONG_WORDS else (word,)


def room_ladder(state: RoomState, look: Look) -> list[Block]:
    """Blocks for a room from the fullest to the smallest that still says something."""
    ink = look.theme.ink
    names = [((state.shape.name,), 0.0), (_halves(state.shape.name, NAME), 260.0)]
    words = [(state.words, 0.0), (tuple(part for word in state.words for part in _parts(word)), 320.0)]
    if state.words:
        words.append(((), 2500.0))
    figures: list[tuple[tuple[Line, ...], float]] = [((), 0.0)]
    if state.figure:
        figures = [
            ((Line(state.figure, Type(size, 500, serif=True), ink, figure=True),), SIZE_COSTS[step])
            for step, size in enumerate(_figure_sizes(state))
        ]
    ladder = [
        Block((*_lines(name, NAME, ink), *figure, *_lines(word, WORD, ink)), cost=first + second + third)
        for figure, first in figures
        for name, second in names
        for word, third in words
    ]
    return sorted({block.lines: block for block in reversed(ladder)}.values(), key=lambda block: block.cost)


def _note(mark: str, state: RoomState) -> str:
    head = " ".join(part for part in (mark, state.shape.name, state.figure) if part)
    return ", ".join((head, *state.words))


def letter_rooms(
    states: tuple[RoomState, ...], frame: LevelFrame, look: Look, ground: Ground, first: int = 1
) -> Lettered:
    """Name, figure and word in each room; where it is too small for its name, a number from `first` on and a note."""
    parts: list[str] = []
    labels: list[Label] = []
    notes: list[str] = []
    for state in states:
        if state.shape.level != frame.level.level:
            continue
        outline = frame.outline(state.shape.outline_m)
        found = place_in_room(room_ladder(state, look), outline, around(outline).grown(-3.0), ground)
        named = found is not None and any(line.style is NAME for line in found.block.lines)
        if not named:
            mark = str(len(notes) + first)
            small = Block((Line(mark, MARK, look.theme.ink2),))
            figure = Line(state.figure, Type(17.0, 500, serif=True), look.theme.ink, figure=True)
            ladder = [Block((small.lines[0], figure)), replace(small, cost=900.0)] if state.figure else [small]
            found = place_in_room(ladder, outline, around(outline), ground)
            notes.append(_note(mark if found else "", state))
        if found is not None:
            ground.take(found.box.grown(APART_PX))
            parts.append(found.block.draw(found.box, state.tint.fill))
            labels.append(_label(found, state.shape.index))
    return Lettered("".join(parts), tuple(labels), tuple(notes))


def _label(found: Found, room: int = -1) -> Label:
    return Label(" / ".join(line.text for line in found.block.lines), found.box, room)


@dataclass(frozen=True, slots=True)
class Wish:
    """A label that wants a place: its thing, its text, the polygon it should stay in."""

    target: Box
    text: str
    style: Type
    colour: str
    fence: tuple[Point, ...] | None
    kind: str


@dataclass(frozen=True, slots=True)
class UnitScene:
    """What stands on a storey, for its labels."""

    placed: tuple[Placed, ...]
    drawing: OptionDrawing
    outdoor: tuple[Box, ...]
    colour: str
    states: tuple[RoomState, ...]


def _unit_key(placed: Placed) -> str:
    if placed.kind != "concealed unit":
        return placed.kind
    return "concealed above" if placed.above_ceiling else "concealed unit" if placed.room >= 0 else "concealed below"


def _wishes(scene: UnitScene, frame: LevelFrame, look: Look) -> list[Wish]:
    placed, drawing, outdoor = scene.placed, scene.drawing, scene.outdoor
    outlines = {
        state.shape.index: frame.outline(state.shape.outline_m)
        for state in scene.states
        if state.shape.level == frame.level.level
    }
    colour = look.theme.ink
    wishes = [
        Wish(unit.box, look.say(_unit_key(unit)), UNIT, colour, outlines.get(unit.room), unit.kind) for unit in placed
    ]
    wishes += [
        Wish(return_box(run, frame), look.say("air_back"), UNIT, colour, outlines.get(run.room), "return")
        for run in drawing.ducts
        if run.is_return and run.level == frame.level.level
    ]
    if outdoor:
        word = look.say("outdoor_many" if len(outdoor) > 1 else "outdoor_one")
        wishes.append(Wish(outdoor[-1], word, QUIET, look.theme.ink2, None, "outdoor"))
    return wishes


def _halo(box: Box, states: tuple[RoomState, ...], frame: LevelFrame, look: Look) -> str:
    for state in states:
        if state.shape.level == frame.level.level and inside(box.centre, frame.outline(state.shape.outline_m)):
            return state.tint.fill
    return look.theme.card


def _blocks(wish: Wish) -> list[Block]:
    flat = Block((Line(wish.text, wish.style, wish.colour),), "start")
    lines = (text.strip(" ·") for text in wrap(wish.text, wish.style, flat.width * 0.62))
    broken = tuple(Line(text, wish.style, wish.colour) for text in lines if text)
    return [flat] if len(broken) < 2 else [flat, Block(broken, "start")]


@dataclass(frozen=True, slots=True)
class SetDown:
    """A label set down."""

    found: Found
    line: tuple[Point, Point] | None = None


def set_down(wish: Wish, ground: Ground, *, leader: bool, reach_px: float = LEADER_REACH_PX) -> SetDown | None:
    """The free place for a label beside its thing, or led to by a line."""
    blocks = _blocks(wish)
    for gap_px in (6.0, 12.0):
        for block in blocks:
            if found := beside(block, wish.target, gap_px, ground, wish.fence):
                return SetDown(found)
    if not leader:
        return None
    led = [with_leader(block, wish.target, ground, reach_px, wish.fence) for block in blocks]
    able = [one for one in led if one is not None]
    if not able:
        return None
    best = min(able, key=lambda one: one.found.cost)
    centre_x = wish.target.centre[0]
    anchor = "end" if best.found.box.x1 < centre_x else "start" if best.found.box.x0 > centre_x else "middle"
    return SetDown(replace(best.found, block=replace(best.found.block, anchor=anchor)), (best.start, best.end))


def letter_units(scene: UnitScene, frame: LevelFrame, look: Look, ground: Ground) -> Lettered:
    """A word at each unit, with a leader line where there is no room beside it.

    The second unit of a kind is named only if there is room at it; the first one always, in the list below if need be.
    """
    parts: list[str] = []
    labels: list[Label] = []
    notes: list[str] = []
    named: set[str] = set()
    for wish in _wishes(scene, frame, look):
        colour = wish.colour if wish.kind == "outdoor" else scene.colour
        coloured = replace(wish, colour=colour)
        free = ground if wish.kind != "outdoor" else Ground(ground.bounds, [*ground.hard, frame.house], ground.soft)
        down = set_down(coloured, free, leader=wish.kind not in named)
        if down is None:
            if wish.kind not in named:
                notes.append(wish.text)
            continue
        named.add(wish.kind)
        found = down.found
        ground.take(found.box.grown(APART_PX))
        if down.line:
            parts.append(svg.line(*down.line, stroke=colour, stroke_width=1.1))
            ground.hard += strip_boxes(*down.line, 1.0)
        parts.append(found.block.draw(found.box, _halo(found.box, scene.states, frame, look)))
        labels.append(_label(found))
    return Lettered("".join(parts), tuple(labels), tuple(notes))
