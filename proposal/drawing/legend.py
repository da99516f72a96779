"""What stands round the plan: heading, outdoor temperature, north arrow, own targets, the keys to the tints."""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from proposal.drawing import svg
from proposal.drawing.geometry import Box, Point, moved
from proposal.drawing.lettering import Ink, Type, draw, width_px, wrap
from proposal.drawing.look import Look, Scene
from proposal.drawing.rooms import (
    BED_ADVICE_DBA,
    SEAT_ADVICE_DBA,
    hatch_definition,
    temperature,
    temperature_of,
)
from proposal.drawing.steps import SUMMER_WORDS, WINTER_WORDS, limits
from proposal.drawing.theme import Tint
from proposal.drawing.units import plan_way

TITLE = Type(20.0, 500, serif=True)
SMALL = Type(13.5, 400)
STRONG = Type(13.5, 600)
HEAD_PX = 34.0
LINE_PX = 19.0
SWATCH_PX = (32.0, 22.0)
KEY_ROW_PX = 40.0
LEAST_KEY_GAP_PX = 12.0
MOST_KEY_GAP_PX = 120.0
USE_ORDER = ("living", "dining", "kitchen", "bath", "work", "hobby", "bedroom", "hall", "entry", "laundry", "storage")
NORTH_PX = (26.0, 24.0)


@dataclass(frozen=True, slots=True)
class Strip:
    """A drawn strip and its height."""

    svg: str
    height_px: float


def outside_text(view: CustomerView, scene: Scene, look: Look) -> str:
    """Outdoor temperature of the scene in words; empty for sound."""
    if scene is Scene.SOUND:
        return ""
    if scene is Scene.AFTERNOON:
        return look.say("outside", value=temperature(view.house.cooling_1_c, look))
    cold = temperature(view.house.heating_99_c, look)
    return look.say("after_morning" if scene is Scene.EVENING else "outside", value=cold)


def caption(view: CustomerView, scene: Scene, look: Look) -> Strip:
    """Season and hour left, outdoor temperature right; under each other where they do not fit beside."""
    title, right = look.title or look.say(scene.value), outside_text(view, scene, look)
    beside = width_px(title, TITLE) + width_px(right, SMALL) + 16.0 <= look.width_px
    lines = wrap(title, TITLE, look.width_px)
    parts = [draw(line, (0.0, 20.0 + 25.0 * index), TITLE, Ink(look.theme.ink)) for index, line in enumerate(lines)]
    height = HEAD_PX + 25.0 * (len(lines) - 1)
    if right and beside:
        parts.append(draw(right, (look.width_px, 19.0), SMALL, Ink(look.theme.ink2, anchor="end")))
    elif right:
        parts.append(draw(right, (0.0, height + 6.0), SMALL, Ink(look.theme.ink2)))
        height += LINE_PX
    return Strip("".join(parts), height)


def north_arrow(at: Point, north_deg: float, look: Look) -> tuple[str, Box]:
    """A pointed arrow toward true north with its letter, and the box it takes (top left corner `at`)."""
    wide, high = NORTH_PX
    box = Box(at[0], at[1], at[0] + wide + 12.0, at[1] + high)
    centre = (at[0] + wide / 2.0, at[1] + high / 2.0)
    way = plan_way(0.0, north_deg)
    across = (-way[1], way[0])
    tip, foot = moved(centre, way, 10.0), moved(centre, way, -8.0)
    points = [tip, moved(foot, across, 6.0), moved(centre, way, -3.5), moved(foot, across, -6.0)]
    body = svg.path(svg.points_path(points, closed=True), fill=look.theme.ink)
    letter = draw(look.say("north"), (box.x1 - 11.0, centre[1] + 5.0), STRONG, Ink(look.theme.ink))
    return body + letter, box


def target_text(view: CustomerView, option: OptionCard, scene: Scene, look: Look) -> str:
    """The targets in one line: by use where all rooms of a use agree, else by room."""
    if scene is Scene.SOUND:
        return look.say("advice_sound", bed=f"{BED_ADVICE_DBA:.0f}", seat=f"{SEAT_ADVICE_DBA:.0f}")
    shapes = {shape.index: shape for shape in view.plan.rooms}
    by_use: dict[str, dict[str, str]] = {}
    plain = False
    for outcome in option.rooms:
        _, target_c = temperature_of(outcome, scene)
        shape = shapes[outcome.room]
        if target_c is None:
            plain = True
        else:
            by_use.setdefault(shape.use, {})[shape.name] = temperature(target_c, look)
    told = []
    for use, rooms in sorted(by_use.items(), key=lambda item: USE_ORDER.index(item[0])):
        if len(set(rooms.values())) == 1:
            told.append(f"{look.say(use)} {next(iter(rooms.values()))}")
        else:
            told += [f"{name} {value}" for name, value in rooms.items()]
    line = look.say("limits" if scene.summer else "targets", targets=", ".join(told)) if told else ""
    return f"{line} {look.say('plain_rooms')}".strip() if plain else line


@dataclass(frozen=True, slots=True)
class _Key:
    identity: str
    tint: Tint
    word: str
    reach: str


def reach(index: int, scene: Scene, look: Look) -> str:
    """How far from its own target a room of a step is, as in `2–3 °F below`."""
    ends, unit = limits(look.units), "°F" if look.units is System.US else "°C"
    step = 1.0 if look.units is System.US else 0.1
    side = "above" if scene.summer else "below"
    if index == 0:
        return look.say("on_target_summer" if scene.summer else "on_target", high=f"{ends[0]:g}", unit=unit)
    low = f"{ends[index - 1] + step:g}"
    if index == len(ends):
        return look.say(f"more_{side}", low=low, unit=unit)
    return look.say(f"range_{side}", low=low, high=f"{ends[index]:g}", unit=unit)


def _keys(scene: Scene, look: Look) -> list[_Key]:
    if scene is Scene.SOUND:
        return [
            _Key("plain", look.theme.plain, look.say("key_quiet"), ""),
            _Key("loud", look.theme.loud(louder=True), look.say("key_loud"), ""),
        ]
    words = SUMMER_WORDS if scene.summer else WINTER_WORDS
    tints = look.theme.summer if scene.summer else look.theme.winter
    letter = "s" if scene.summer else "w"
    return [
        _Key(f"{letter}{index}", tint, look.say(word), reach(index, scene, look))
        for index, (word, tint) in enumerate(zip(words, tints, strict=True))
    ]


def _key(key: _Key, at: Point, prefix: str, look: Look) -> str:
    x, y = at
    wide, high = SWATCH_PX
    box: dict[str, svg.Value | None] = {"x": x + 0.5, "y": y + 0.5, "width": wide, "height": high, "rx": 4.0}
    parts = []
    if key.tint.hatch.kind != "none":
        identity = f"{prefix}-key-{key.identity}"
        parts.append(svg.tag("defs", [hatch_definition(identity, key.tint, compact=False)]))
        parts.append(svg.tag("rect", fill=key.tint.fill, **box))
        parts.append(svg.tag("rect", fill=f"url(#{identity})", **box))
    else:
        parts.append(svg.tag("rect", fill=key.tint.fill, **box))
    parts.append(svg.tag("rect", fill="none", stroke=look.theme.rule, stroke_width=1.0, **box))
    text_x = x + wide + 9.0
    if key.reach:
        parts.append(draw(key.word, (text_x, y + 9.0), STRONG, Ink(look.theme.ink)))
        parts.append(draw(key.reach, (text_x, y + 25.0), SMALL, Ink(look.theme.ink2)))
    else:
        parts.append(draw(key.word, (text_x, y + 16.0), STRONG, Ink(look.theme.ink)))
    return "".join(parts)


def legend_lines(lines: tuple[str, ...], look: Look) -> Strip:
    """Lines of quiet text from y = 0, broken to the width of the picture."""
    parts, y = [], 0.0
    for text in lines:
        for line in wrap(text, SMALL, look.width_px):
            parts.append(draw(line, (0.0, y + 14.0), SMALL, Ink(look.theme.ink2)))
            y += LINE_PX
    return Strip("".join(parts), y)


def _key_places(keys: list[_Key], look: Look) -> tuple[list[tuple[float, int]], int]:
    """Left edge and row of each key, and the number of rows: one row where all fit, else two columns, else one."""
    wide = [max(width_px(key.word, STRONG), width_px(key.reach, SMALL)) + SWATCH_PX[0] + 10.0 for key in keys]
    gap = (look.width_px - sum(wide)) / max(len(keys) - 1, 1)
    if gap >= LEAST_KEY_GAP_PX:
        gap = min(gap, MOST_KEY_GAP_PX)
        return [(sum(wide[:index]) + gap * index, 0) for index in range(len(keys))], 1
    columns = 2 if max(wide) * 2.0 <= look.width_px + 8.0 else 1
    stride = min(max(max(wide) + 40.0, 1.0), look.width_px - max(wide))
    return [(stride * (index % columns), index // columns) for index in range(len(keys))], -(-len(keys) // columns)


def legend(lines: tuple[str, ...], scene: Scene, look: Look, prefix: str) -> Strip:
    """Lines of text (targets, notes), then the keys in one row, two rows or a column. Drawn from y = 0."""
    told = legend_lines(lines, look)
    parts, y = [told.svg], told.height_px + 9.0
    keys = _keys(scene, look)
    places, rows = _key_places(keys, look)
    for key, (x, row) in zip(keys, places, strict=True):
        parts.append(_key(key, (x, y + row * KEY_ROW_PX), prefix, look))
    return Strip("".join(parts), y + rows * KEY_ROW_PX - 8.0)
