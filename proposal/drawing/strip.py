"""The strip of rooms: each room's temperature against its own target, doors as the family keeps them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView
from proposal.drawing import svg
from proposal.drawing.chart import PLAIN, SMALL, STRONG, Axis, Chart, grid, round_step, text
from proposal.drawing.lettering import shorten, width_px
from proposal.drawing.look import Look, Scene, Table
from proposal.drawing.plan import describe, plan_table
from proposal.drawing.rooms import RoomState, hatch_definition, room_states, temperature_of
from proposal.drawing.steps import shown

ROW_PX = 30.0
AXIS_PX = 26.0
HEAD_PX = 20.0
NARROW_AXIS_PX = 150.0
_TITLES = {
    Scene.MORNING: "strip_title",
    Scene.EVENING: "strip_title_evening",
    Scene.AFTERNOON: "strip_title_hot",
}


def _axis(values: list[float], place: tuple[float, float]) -> Axis:
    """Degrees from a round value below the least to one above the most."""
    step = round_step(max(values) - min(values) + 4.0, 5)
    start = step * ((min(values) - 1.0) // step)
    end = step * -(-(max(values) + 1.0) // step)
    return Axis(place[0], place[1], end, step, start)


@dataclass(frozen=True, slots=True)
class _Rows:
    """Where the rows stand: beside their names, or (narrow) under them."""

    axis: Axis
    row_px: float
    head_px: float
    name_px: float
    prefix: str
    look: Look


def _told(state: RoomState) -> str:
    return f"{state.figure} {', '.join(state.words)}".strip()


def _rows(states: list[RoomState], values: list[float], prefix: str, look: Look) -> _Rows:
    widest = max(width_px(state.shape.name, PLAIN) for state in states) + 14.0
    told_px = max(width_px(_told(state), STRONG) for state in states) + 18.0
    if look.width_px - min(widest, look.width_px * 0.4) - told_px < NARROW_AXIS_PX:
        return _Rows(
            _axis(values, (10.0, look.width_px - 26.0)),
            ROW_PX + HEAD_PX,
            HEAD_PX,
            look.width_px - told_px,
            prefix,
            look,
        )
    name_px = min(widest, look.width_px * 0.4)
    return _Rows(_axis(values, (name_px, look.width_px - told_px)), ROW_PX, 0.0, name_px, prefix, look)


def _bar(state: RoomState, ends: tuple[float, float], y: float, rows: _Rows) -> str:
    """The way from the room to its target, tinted and hatched like the room, with a stroke at the target."""
    goal = ends[1]
    low, high = sorted(ends)
    box: dict[str, svg.Value | None] = {"x": low, "y": y - 6.0, "width": high - low, "height": 12.0}
    parts = [svg.tag("rect", fill=state.tint.fill, **box)]
    if state.tint.hatch.kind != "none":
        parts.append(svg.tag("rect", fill=f"url(#{rows.prefix}-{state.key})", **box))
    parts.append(svg.line((goal, y - 10.0), (goal, y + 10.0), stroke=rows.look.theme.ink, stroke_width=2.0))
    return "".join(parts)


def _row(state: RoomState, temps: tuple[float, float | None], top: float, rows: _Rows) -> str:
    look, theme = rows.look, rows.look.theme
    value, target = temps
    x, y = rows.axis.at(value), top + rows.head_px + ROW_PX / 2.0
    base = top + 15.0 if rows.head_px else y + 5.0
    style = STRONG if state.words else PLAIN
    dot = svg.tag(
        "circle",
        cx=x,
        cy=y,
        r=5.4,
        fill=theme.ink if target is not None else theme.card,
        stroke=theme.ink,
        stroke_width=1.6,
    )
    return (
        text(shorten(state.shape.name, PLAIN, rows.name_px - 10.0), (0.0, base), PLAIN, theme.ink)
        + ("" if target is None else _bar(state, (x, rows.axis.at(target)), y, rows))
        + dot
        + text(_told(state), (look.width_px, base), style, theme.ink, "end")
    )


def _marks(axis: Axis, bottom: float, look: Look) -> str:
    """Round degrees, each written only where it keeps clear of the one before."""
    unit, parts, free = "°F" if look.units is System.US else "°C", [], -1e9
    for mark in axis.marks():
        shown_mark = f"{mark:g}\u00a0{unit}" if mark == axis.marks()[-1] else f"{mark:g}"
        half = width_px(shown_mark, SMALL) / 2.0
        if axis.at(mark) - half > free:
            parts.append(text(shown_mark, (axis.at(mark), bottom + 17.0), SMALL, look.theme.ink2, "middle"))
            free = axis.at(mark) + half + 6.0
    return "".join(parts)


def strip_chart(view: CustomerView, option_id: str, scene: Scene, look: Look) -> Chart:
    """Temperature of each room of an option against its own target; not for sound.

    Raises
    ------
    ValueError
        For the scene of sound, or an option without room outcomes.
    """
    if scene is Scene.SOUND:
        raise ValueError("strip_chart: sound has no temperatures; use noise_chart or the plan")
    option = view.option(option_id)
    if not option.rooms:
        raise ValueError(f"strip_chart: option {option_id} has no room outcomes")
    states = {state.shape.index: state for state in room_states(view, option, scene, look)}
    pairs = [(outcome.room, *temperature_of(outcome, scene)) for outcome in option.rooms]
    values = [shown(value, look.units) for _, *both in pairs for value in both if value is not None]
    prefix = "t" + hashlib.sha256(f"{option_id}{scene}{look.width_px}{look.theme.name}".encode()).hexdigest()[:8]
    rows = _rows(list(states.values()), values, prefix, look)
    bottom = rows.row_px * len(pairs) + 4.0
    tints = {state.key: state.tint for state in states.values()}
    hatches = [hatch_definition(f"{prefix}-{key}", tint, compact=True) for key, tint in sorted(tints.items())]
    parts = [svg.tag("defs", hatches), grid(rows.axis, (0.0, bottom), look.theme)]
    for index, (room, value_c, target_c) in enumerate(pairs):
        target = None if target_c is None else shown(target_c, look.units)
        parts.append(_row(states[room], (shown(value_c, look.units), target), rows.row_px * index + 2.0, rows))
    parts.append(_marks(rows.axis, bottom, look))
    title, height = look.say(_TITLES[scene]), bottom + AXIS_PX
    description = f"{look.say('strip_desc')} {describe(view, option, scene, look)}"
    table = plan_table(view, option_id, scene, look)
    picture = svg.document((look.width_px, height), title, description, parts)
    return Chart(picture, height, Table(title, table.head, table.rows))
