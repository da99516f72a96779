"""What each room shows in a scene: tint, hatch, figure and word, judged against its own target."""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, OptionCard, RoomOutcome
from compare.views.plan_view import RoomShape
from proposal.drawing import svg
from proposal.drawing.frame import LevelFrame
from proposal.drawing.look import Look, Scene
from proposal.drawing.steps import judge, shown
from proposal.drawing.theme import Tint

BED_ADVICE_DBA = 30.0
SEAT_ADVICE_DBA = 35.0
"""WHO Guidelines for Community Noise (1999): bedrooms at night, living rooms; steady sound indoors."""
COMPACT_HATCH_FRAC = 0.72
COMPACT_HATCH_LEAST_OPACITY = 0.75


@dataclass(frozen=True, slots=True)
class RoomState:
    """One room in one scene."""

    shape: RoomShape
    key: str
    """Which tint: a step, `plain` or `loud`; rooms with the same key share a pattern."""
    tint: Tint
    figure: str
    words: tuple[str, ...]


def degrees(value_c: float, look: Look) -> str:
    """A temperature without its unit, as on the plan: `69°`, `20.6°`."""
    value = shown(value_c, look.units)
    return f"{value:.0f}°" if look.units is System.US else f"{value:.1f}°"


def temperature(value_c: float, look: Look) -> str:
    """A temperature with its unit: `69 °F`."""
    value, unit = shown(value_c, look.units), "°F" if look.units is System.US else "°C"
    return f"{value:.0f}\u00a0{unit}" if look.units is System.US else f"{value:.1f}\u00a0{unit}"


def temperature_of(outcome: RoomOutcome, scene: Scene) -> tuple[float, float | None]:
    """Temperature and own target of a room in a scene [°C]."""
    if scene is Scene.EVENING:
        return outcome.evening_c, outcome.evening_target_c
    if scene is Scene.AFTERNOON:
        return outcome.hot_c, outcome.hot_limit_c
    return outcome.morning_c, outcome.morning_target_c


def sound_of(outcome: RoomOutcome) -> tuple[float | None, bool]:
    """Sound in bed, else at the seat [dB(A)], and whether it is above the advice as shown."""
    if outcome.bed_dba is not None:
        return outcome.bed_dba, round(outcome.bed_dba) > BED_ADVICE_DBA
    if outcome.seat_dba is not None:
        return outcome.seat_dba, round(outcome.seat_dba) > SEAT_ADVICE_DBA
    return None, False


def _sound_state(shape: RoomShape, outcome: RoomOutcome, look: Look) -> RoomState:
    level_dba, louder = sound_of(outcome)
    tint = look.theme.loud(louder=louder)
    key = "loud" if louder else "plain"
    if level_dba is None:
        return RoomState(shape, key, tint, "", ())
    place = look.say("in_bed" if outcome.bed_dba is not None else "at_seat")
    return RoomState(shape, key, tint, f"{level_dba:.0f}", (place, look.say("key_loud")) if louder else (place,))


def set_point_c(view: CustomerView, scene: Scene) -> float:
    """Set point against which *too warm* or *too cool* is judged."""
    return view.house.cooling_set_c if scene.summer else view.house.heating_set_c


def room_states(view: CustomerView, option: OptionCard, scene: Scene, look: Look) -> tuple[RoomState, ...]:
    """State of every room that the option has an outcome for; others stay plain with no figure."""
    outcomes = {outcome.room: outcome for outcome in option.rooms}
    states = []
    for shape in view.plan.rooms:
        outcome = outcomes.get(shape.index)
        if outcome is None:
            states.append(RoomState(shape, "plain", look.theme.plain, "", ()))
        elif scene is Scene.SOUND:
            states.append(_sound_state(shape, outcome, look))
        else:
            value_c, target_c = temperature_of(outcome, scene)
            verdict = judge(value_c, target_c, set_point_c(view, scene), look.units, summer=scene.summer)
            tint = look.theme.tint(verdict.step, summer=scene.summer)
            key = "plain" if verdict.step is None else f"{'s' if scene.summer else 'w'}{verdict.step}"
            word = (look.say(verdict.word),) if verdict.word else ()
            states.append(RoomState(shape, key, tint, degrees(value_c, look), word))
    return tuple(states)


def pattern_id(prefix: str, key: str) -> str:
    """Id of a hatch pattern inside a picture."""
    return f"{prefix}-{key}"


def hatch_definition(identity: str, tint: Tint, *, compact: bool) -> str:
    """Pattern of a tint's hatch; the small house has it closer and stronger."""
    hatch = tint.hatch
    if hatch.kind == "none":
        return ""
    return svg.hatch_pattern(
        identity,
        hatch.spacing_px * (COMPACT_HATCH_FRAC if compact else 1.0),
        cross=hatch.kind == "cross",
        stroke=tint.hatch_colour,
        stroke_width=hatch.width_px * (1.5 if compact else 2.0),
        stroke_opacity=max(hatch.opacity, COMPACT_HATCH_LEAST_OPACITY) if compact else hatch.opacity,
    )


def definitions(states: tuple[RoomState, ...], prefix: str, *, compact: bool) -> str:
    """All patterns that the rooms need."""
    tints = {state.key: state.tint for state in states}
    found = [hatch_definition(pattern_id(prefix, key), tint, compact=compact) for key, tint in sorted(tints.items())]
    return svg.tag("defs", found) if any(found) else ""


def draw_rooms(states: tuple[RoomState, ...], frame: LevelFrame, prefix: str) -> str:
    """Tint and hatch of the rooms of a storey."""
    parts = []
    for state in states:
        if state.shape.level != frame.level.level:
            continue
        data = svg.points_path(frame.outline(state.shape.outline_m), closed=True)
        parts.append(svg.path(data, fill=state.tint.fill))
        if state.tint.hatch.kind != "none":
            parts.append(svg.path(data, fill=f"url(#{pattern_id(prefix, state.key)})"))
    return "".join(parts)
