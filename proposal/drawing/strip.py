"""The strip of rooms: each room's temperature against its own target, doors as the family keeps them."""

from __future__ import annotations

import hashlib

from compare.units import System
from compare.views.customer import CustomerView
from proposal.drawing import svg
from proposal.drawing.chart import PLAIN, SMALL, STRONG, Axis, Chart, grid, round_step, text
from proposal.drawing.lettering import Ink, draw, shorten, width_px
from proposal.drawing.look import Look, Scene, Table
from proposal.drawing.plan import describe, plan_table
from proposal.drawing.rooms import RoomState, hatch_definition, room_states, temperature_of
from proposal.drawing.steps import shown

ROW_PX = 30.0
AXIS_PX = 26.0
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


def _row(state: RoomState, value: float, target: float | None, y: float, place: tuple[Axis, str, Look]) -> str:
    axis, hatch_id, look = place
    theme, x, parts = look.theme, axis.at(value), []
    if target is not None:
        goal = axis.at(target)
        low, high = sorted((x, goal))
        box: dict[str, svg.Value | None] = {"x": low, "y": y - 6.0, "width": high - low, "height": 12.0}
        parts.append(svg.tag("rect", fill=state.tint.fill, **box))
        if state.tint.hatch.kind != "none":
            parts.append(svg.tag("rect", fill=f"url(#{hatch_id})", **box))
        parts.append(svg.line((goal, y - 10.0), (goal, y + 10.0), stroke=theme.ink, stroke_width=2.0))
    parts.append(
        svg.tag(
            "circle",
            cx=x,
            cy=y,
            r=5.4,
            fill=theme.ink if target is not None else theme.card,
            stroke=theme.ink,
            stroke_width=1.6,
        )
    )
    told = f"{state.figure} {', '.join(state.words)}".strip()
    parts.append(draw(told, (look.width_px, y + 5.0), STRONG if state.words else PLAIN, Ink(theme.ink, anchor="end")))
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
    name_px = min(max(width_px(states[room].shape.name, PLAIN) for room, _, _ in pairs) + 14.0, look.width_px * 0.4)
    told_px = max(width_px(f"{state.figure} {', '.join(state.words)}", STRONG) for state in states.values()) + 18.0
    axis = _axis(values, (name_px, look.width_px - told_px))
    prefix = "t" + hashlib.sha256(f"{option_id}{scene}{look.width_px}{look.theme.name}".encode()).hexdigest()[:8]
    bottom = ROW_PX * len(pairs) + 4.0
    tints = {state.key: state.tint for state in states.values()}
    hatches = [hatch_definition(f"{prefix}-{key}", tint, compact=True) for key, tint in sorted(tints.items())]
    parts = [svg.tag("defs", hatches), grid(axis, (0.0, bottom), look.theme)]
    for index, (room, value_c, target_c) in enumerate(pairs):
        y, state = ROW_PX * index + ROW_PX / 2.0 + 2.0, states[room]
        name = shorten(state.shape.name, PLAIN, name_px - 10.0)
        parts.append(text(name, (0.0, y + 5.0), PLAIN, look.theme.ink))
        target = None if target_c is None else shown(target_c, look.units)
        parts.append(_row(state, shown(value_c, look.units), target, y, (axis, f"{prefix}-{state.key}", look)))
    unit = "°F" if look.units is System.US else "°C"
    for mark in axis.marks():
        last = f"\u00a0{unit}" if mark == axis.marks()[-1] else ""
        parts.append(text(f"{mark:g}{last}", (axis.at(mark), bottom + 17.0), SMALL, look.theme.ink2, "middle"))
    title, height = look.say(_TITLES[scene]), bottom + AXIS_PX
    description = f"{look.say('strip_desc')} {describe(view, option, scene, look)}"
    table = plan_table(view, option_id, scene, look)
    picture = svg.document((look.width_px, height), title, description, parts)
    return Chart(picture, height, Table(title, table.head, table.rows))
