"""The house as a picture: rooms as they are in one scene of one option, with all that the option puts into them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from compare.views.customer import CustomerView, OptionCard
from proposal.drawing import svg
from proposal.drawing.doors import draw_doors
from proposal.drawing.drawn import Drawn, together
from proposal.drawing.ducts import draw_ducts
from proposal.drawing.frame import LEVEL_NAME_PX, Arrangement, LevelFrame, arrange
from proposal.drawing.furniture import draw_furniture
from proposal.drawing.geometry import Box
from proposal.drawing.labels import Label, UnitScene, letter_rooms, letter_units
from proposal.drawing.legend import (
    NORTH_PX,
    Strip,
    caption,
    legend,
    legend_lines,
    north_arrow,
    outside_text,
    target_text,
)
from proposal.drawing.lettering import Ink, Type, draw
from proposal.drawing.look import Look, Scene, Table, unit_colour
from proposal.drawing.placing import Ground
from proposal.drawing.rooms import (
    RoomState,
    definitions,
    draw_rooms,
    room_states,
    sound_of,
    temperature,
    temperature_of,
)
from proposal.drawing.steps import shown
from proposal.drawing.units import draw_outdoor, draw_units
from proposal.drawing.walls import draw_walls

LEVEL_NAME = Type(15.0, 600)


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """The plan as SVG, its size, and where its labels stand."""

    svg: str
    width_px: float
    height_px: float
    labels: tuple[Label, ...]
    kept_clear: tuple[Box, ...]
    """Walls, doors, ducts and units: no label may cover them."""
    notes: tuple[str, ...]
    """What is told below the plan because there was no room in it."""


@dataclass(frozen=True, slots=True)
class _Level:
    svg: str
    labels: tuple[Label, ...]
    clear: tuple[Box, ...]
    notes: tuple[str, ...]


def _level_name(frame: LevelFrame, look: Look) -> str:
    """Name of a storey as a heading; an ordinary one in the language of the picture."""
    name = look.words.get(f"level_{frame.level.name}", frame.level.name)
    return name[:1].upper() + name[1:]


def _head(frame: LevelFrame, view: CustomerView, look: Look, *, north: bool) -> Drawn:
    """Name of the storey where there are several; the north arrow on the first."""
    parts, boxes = [], []
    several = len(view.plan.levels) > 1
    if several:
        at = (frame.house.x0 - 2.0, frame.cell.y0 + 16.0)
        parts.append(draw(_level_name(frame, look), at, LEVEL_NAME, Ink(look.theme.ink)))
        boxes.append(Box(frame.cell.x0, frame.cell.y0, frame.cell.x1, frame.cell.y0 + LEVEL_NAME_PX - 4.0))
    if north:
        left = frame.house.x1 - NORTH_PX[0] - 12.0 if several else frame.house.x0 - 4.0
        body, box = north_arrow((left, frame.cell.y0), view.plan.north_deg, look)
        parts.append(body)
        boxes.append(box)
    return Drawn("".join(parts), hard=tuple(boxes))


@dataclass(frozen=True, slots=True)
class _Stage:
    """All that the storeys of one picture share."""

    view: CustomerView
    option: OptionCard
    scene: Scene
    states: tuple[RoomState, ...]
    look: Look
    prefix: str


def _compact_level(stage: _Stage, frame: LevelFrame) -> _Level:
    """The small house of cards: tints, walls, ducts, unit marks."""
    plan, drawing, look = stage.view.plan, stage.option.drawing, stage.look
    colour = unit_colour(stage.view, stage.option, look.theme)
    parts = [
        Drawn(draw_rooms(stage.states, frame, stage.prefix)),
        draw_walls(plan, frame, look),
        draw_ducts(plan, drawing, frame, look, colour),
        draw_units(plan, drawing.units, frame, look, colour)[0],
    ]
    return _Level(together(parts).svg, (), (), ())


def _full_level(stage: _Stage, frame: LevelFrame, first_note: int, *, north: bool) -> _Level:
    view, option, look = stage.view, stage.option, stage.look
    plan, drawing = view.plan, option.drawing
    colour = unit_colour(view, option, look.theme)
    units, placed = draw_units(plan, drawing.units, frame, look, colour, heating=not stage.scene.summer)
    outdoor, outdoor_boxes = draw_outdoor(drawing.outdoor, frame, look)
    drawn = together(
        [
            Drawn(draw_rooms(stage.states, frame, stage.prefix)),
            draw_furniture(plan, frame, look),
            draw_walls(plan, frame, look),
            draw_doors(plan, frame, look),
            draw_ducts(plan, drawing, frame, look, colour),
            units,
            outdoor,
            _head(frame, view, look, north=north),
        ]
    )
    ground = Ground(frame.cell, list(drawn.hard), list(drawn.soft), frame.house)
    rooms = letter_rooms(stage.states, frame, look, ground, first_note)
    scene = UnitScene(placed, drawing, outdoor_boxes, colour, stage.states)
    names = letter_units(scene, frame, look, ground)
    body = drawn.svg + rooms.svg + names.svg
    return _Level(body, rooms.labels + names.labels, drawn.hard, rooms.notes + names.notes)


def _prefix(view: CustomerView, option_id: str, scene: Scene, look: Look) -> str:
    """Start of the ids in a picture, so that several on one page do not share a pattern."""
    told = f"{view.house.name}|{option_id}|{scene}|{look.theme.name}|{look.width_px}|{look.compact}|{look.units}"
    return "p" + hashlib.sha256(told.encode("utf-8")).hexdigest()[:8]


def describe(view: CustomerView, option: OptionCard, scene: Scene, look: Look) -> str:
    """One sentence with the finding of the picture, for readers who do not see it."""
    names = {shape.index: shape.name for shape in view.plan.rooms}
    if scene is Scene.SOUND:
        levels = [(outcome.bed_dba, names[outcome.room]) for outcome in option.rooms if outcome.bed_dba is not None]
        if not levels:
            return look.say("no_sound")
        value, room = max(levels)
        return look.say("loudest", room=room, value=f"{value:.0f}")
    worst: tuple[float, str, str, str] | None = None
    for outcome in option.rooms:
        value_c, target_c = temperature_of(outcome, scene)
        if target_c is None:
            continue
        off = shown(target_c, look.units) - shown(value_c, look.units)
        off = -off if scene.summer else off
        if worst is None or off > worst[0]:
            worst = (off, names[outcome.room], temperature(value_c, look), temperature(target_c, look))
    if worst is None or worst[0] <= 0.0:
        return look.say("plan_fine")
    return look.say("plan_worst", room=worst[1], value=worst[2], target=worst[3])


def _below(stage: _Stage, notes: tuple[str, ...]) -> Strip:
    """Notes, targets and keys under the plan."""
    look, scene = stage.look, stage.scene
    told = " · ".join(note.replace(" ", "\u00a0") for note in notes)
    lines = tuple(text for text in (told, target_text(stage.view, stage.option, scene, look)) if text)
    if look.compact or not (look.legend or told):
        return Strip("", 0.0)
    if not look.legend:
        return legend_lines((told,), look)
    return legend(lines, scene, look, stage.prefix)


def plan_picture(view: CustomerView, option_id: str, scene: Scene, look: Look) -> PlanPicture:
    """The plan with the places of its labels; see `plan_svg`."""
    option = view.option(option_id)
    prefix = _prefix(view, option_id, scene, look)
    stage = _Stage(view, option, scene, room_states(view, option, scene, look), look, prefix)
    plain = look.compact or not look.caption
    head = Strip("", 0.0) if plain else caption(view, scene, look)
    arrangement: Arrangement = arrange(view.plan, option.drawing, look, head.height_px)
    first = min(arrangement.levels, key=lambda frame: (frame.cell.y0, frame.cell.x0))
    levels: list[_Level] = []
    for frame in arrangement.levels:
        count = sum(len(level.notes) for level in levels)
        levels.append(
            _compact_level(stage, frame) if look.compact else _full_level(stage, frame, count + 1, north=frame is first)
        )
    notes = tuple(note for level in levels for note in level.notes)
    below, y = _below(stage, notes), head.height_px + arrangement.height_px + 6.0
    parts = [
        definitions(stage.states, prefix, compact=look.compact),
        head.svg,
        *(level.svg for level in levels),
        svg.group([below.svg], transform=f"translate(0 {svg.number(y)})"),
    ]
    height = y + below.height_px if below.height_px else y - 6.0
    title = look.title or f"{look.say('plan_title', house=view.house.name)}: {look.say(scene.value)}"
    description = " ".join(
        part for part in (outside_text(view, scene, look), describe(view, option, scene, look)) if part
    )
    return PlanPicture(
        svg=svg.document((look.width_px, height), title, description, parts),
        width_px=look.width_px,
        height_px=height,
        labels=tuple(label for level in levels for label in level.labels),
        kept_clear=tuple(box for level in levels for box in level.clear),
        notes=notes,
    )


def plan_svg(view: CustomerView, option_id: str, scene: Scene = Scene.MORNING, look: Look | None = None) -> str:
    """The house in one scene of one option, as SVG.

    Parameters
    ----------
    view
        What the customer may see.
    option_id
        An option of the view; its units are plum if it is the clear or likely recommendation.
    scene
        The moment shown.
    look
        Theme, width in pixels, units, language; `compact` for the small house of cards.

    Raises
    ------
    KeyError
        If the view has no such option.
    """
    return plan_picture(view, option_id, scene, look or Look()).svg


def plan_table(view: CustomerView, option_id: str, scene: Scene = Scene.MORNING, look: Look | None = None) -> Table:
    """The same values as `plan_svg`, one row a room."""
    look = look or Look()
    option = view.option(option_id)
    names = {shape.index: shape.name for shape in view.plan.rooms}
    caption_text = look.title or look.say(scene.value)
    none = look.say("none")
    if scene is Scene.SOUND:
        head = (look.say("table_room"), look.say("table_bed"), look.say("table_seat"))
        rows = tuple(
            (
                names[outcome.room],
                *(none if value is None else f"{value:.0f}" for value in (outcome.bed_dba, outcome.seat_dba)),
            )
            for outcome in option.rooms
            if sound_of(outcome)[0] is not None
        )
        return Table(caption_text, head, rows)
    words = {state.shape.index: ", ".join(state.words) for state in room_states(view, option, scene, look)}
    found = []
    for outcome in option.rooms:
        value_c, target_c = temperature_of(outcome, scene)
        target = none if target_c is None else temperature(target_c, look)
        found.append((names[outcome.room], temperature(value_c, look), target, words[outcome.room] or none))
    columns = tuple(look.say(f"table_{key}") for key in ("room", "value", "target", "word"))
    return Table(caption_text, columns, tuple(found))
