"""The chart along the air path: pressure left above, sound left below, one column per part as the air meets it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from compare.units import System
from compare.views.designer import DesignerView, DuctZone, SoundSheet
from proposal.drawing import svg
from proposal.drawing.chart import Chart, bar_hatch, round_step
from proposal.drawing.desk import INK
from proposal.drawing.desk_words import pressure, pressure_figure, pressure_unit
from proposal.drawing.geometry import Point
from proposal.drawing.lettering import Ink, Type, draw, width_px, wrap
from proposal.drawing.look import Look, Table
from proposal.drawing.words import ENGLISH, local, say

HEAD = Type(20.0, 500, serif=True)
NAME = Type(12.5, 500)
FIGURE = Type(12.5, 500)
SMALL = Type(12.5, 400)
STRONG = Type(13.0, 600)
LEFT_PX = 74.0
RIGHT_PX = 92.0
ABOVE_PX = 150.0
BELOW_PX = 150.0
TOP_PX = 84.0
NAMES_PX = 62.0
LINE_PX = 15.0
SHOWN_DB = 1.5
"""A dotted level gets its own figure from this difference on."""


@dataclass(frozen=True, slots=True)
class Column:
    """One part: pressure that it takes (None where it takes none), and the sound after it."""

    name: str
    pressure_pa: float
    after_dba: float | None
    at_register_dba: float | None


_PARTS: tuple[tuple[str, str, str], ...] = (
    ("return grille", "return grille", ""),
    ("filter", "filter", ""),
    ("return box", "return box", ""),
    ("unit", "", "unit"),
    ("plenum", "plenum", "plenum"),
    ("take-off", "take-off", "split"),
    ("damper", "", ""),
    ("straight duct", "straight duct", "rigid duct"),
    ("elbows", "elbows", "elbows"),
    ("flexible duct", "flexible duct", "flexible duct"),
    ("boot", "boot", "end reflection"),
    ("register", "register", "register"),
    ("room", "", "room"),
)
"""Name on the chart, part of the static budget, part of the sound budget."""


def columns(zone: DuctZone, sheet: SoundSheet | None) -> tuple[Column, ...]:
    """Columns of a zone. The damper takes nothing in the longest branch: it stands wide open there."""
    loss = {part.part: part.pressure_pa for part in (*zone.static, *zone.branch_parts)}
    after = {part.part: part for part in sheet.parts} if sheet else {}
    found = []
    for name, pressure_part, sound_part in _PARTS:
        heard = after.get(sound_part)
        if name == "register":
            heard = after.get("damper", heard)
        if name == "room":
            heard = after.get("return through the door", heard)
        found.append(
            Column(
                name,
                loss.get(pressure_part, 0.0),
                heard.after_dba if heard else None,
                heard.at_register_dba if heard else None,
            )
        )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Field:
    """Where one of the two charts stands."""

    top: float
    bottom: float
    least: float
    most: float
    step_px: float

    def y(self, value: float) -> float:
        return self.bottom - (value - self.least) / (self.most - self.least) * (self.bottom - self.top)

    def x(self, column: int) -> float:
        return LEFT_PX + column * self.step_px


def _grid(field: _Field, unit: str, look: Look, scale: float, decimals: int) -> str:
    """Round values at the left with faint level lines."""
    step = round_step((field.most - field.least) / scale, 4) * scale
    parts, value = [], step * -(-field.least // step)
    right = field.x(len(_PARTS))
    while value <= field.most + 1e-9:
        y = field.y(value)
        parts.append(svg.line((LEFT_PX, y), (right, y), stroke=look.theme.line, stroke_width=1.0))
        figure = f"{value / scale:.{decimals}f}"
        parts.append(draw(figure, (LEFT_PX - 8.0, y + 4.0), SMALL, Ink(look.theme.ink2, anchor="end")))
        value += step
    parts.append(draw(unit, (0.0, field.top - 12.0), SMALL, Ink(look.theme.ink2)))
    return "".join(parts)


def _bar(field: _Field, column: int, span: Point, look: Look, hatch: str, *, solid: bool) -> str:
    top, bottom = sorted((field.y(span[0]), field.y(span[1])))
    box: dict[str, svg.Value | None] = {
        "x": field.x(column) + field.step_px * 0.18,
        "y": top,
        "width": field.step_px * 0.64,
        "height": max(bottom - top, 1.0),
    }
    if solid:
        return svg.tag("rect", fill=look.theme.plum, **box)
    return svg.tag("rect", fill=look.theme.card, **box) + svg.tag(
        "rect", fill=f"url(#{hatch})", stroke=look.theme.ink, stroke_width=1.2, **box
    )


def _pressures(zone: DuctZone, found: tuple[Column, ...], field: _Field, look: Look, hatch: str) -> str:
    units, theme = look.units, look.theme
    parts, left = [], zone.available_pa
    taken = (-1e9, 0.0)
    path: list[Point] = [(field.x(0), field.y(left))]
    for number, column in enumerate(found):
        x0, x1 = field.x(number), field.x(number + 1)
        path.append((x0, field.y(left)))
        left -= column.pressure_pa
        path += [(x0 + field.step_px * 0.5, field.y(left)), (x1, field.y(left))]
        if column.pressure_pa >= 0.005 * zone.available_pa:
            figure = f"−{pressure_figure(column.pressure_pa, units)}"
            at = (x0 + field.step_px * 0.5, field.y(left + column.pressure_pa) - 7.0)
            half = width_px(figure, FIGURE) / 2.0
            if at[0] - half < taken[0] + 3.0 and abs(at[1] - taken[1]) < LINE_PX:
                at = (at[0], taken[1] - LINE_PX)
            taken = (at[0] + half, at[1])
            parts.append(draw(figure, at, FIGURE, Ink(theme.ink, anchor="middle", halo=theme.card)))
    line = svg.path(svg.points_path(path, closed=False), fill="none", stroke=theme.ink, stroke_width=1.8)
    count = len(found)
    rest = _bar(field, count, (0.0, left), look, hatch, solid=left >= 0.0)
    word = look.say("path_spare" if left >= 0.0 else "path_short", value=pressure_figure(abs(left), units))
    y = field.y(left) - 7.0 if left >= 0.0 else field.y(left) + 16.0
    parts.append(draw(word, (field.x(count) + field.step_px * 0.5, y), STRONG, Ink(theme.ink, anchor="middle")))
    zero = svg.line((LEFT_PX, field.y(0.0)), (field.x(count + 1), field.y(0.0)), stroke=theme.ink, stroke_width=1.0)
    return zero + line + rest + "".join(parts)


def _advice(sheet: SoundSheet, limit_y: float, look: Look) -> str:
    word = look.say("path_advice", value=f"{sheet.limit_dba:.0f}")
    return draw(word, (LEFT_PX + 6.0, limit_y - 6.0), SMALL, Ink(look.theme.ink, halo=look.theme.card))


def _sounds(sheet: SoundSheet, found: tuple[Column, ...], field: _Field, look: Look, hatch: str) -> str:
    theme = look.theme
    parts: list[str] = []
    path: list[Point] = []
    other: list[Point] = []
    for number, column in enumerate(found):
        if column.after_dba is None:
            continue
        x0, x1 = field.x(number), field.x(number + 1)
        path += [(x0, field.y(column.after_dba)), (x1, field.y(column.after_dba))]
        register = column.after_dba if column.at_register_dba is None else column.at_register_dba
        other += [(x0, field.y(register)), (x1, field.y(register))]
        level = field.y(column.after_dba)
        louder = register - column.after_dba > SHOWN_DB
        crowded = louder or 0.0 < level - field.y(sheet.limit_dba) < 22.0
        if louder:
            over = 0.0 < field.y(register) - field.y(sheet.limit_dba) < 20.0
            told = ((x0 + x1) / 2.0, field.y(sheet.limit_dba) - 5.0 if over else field.y(register) - 6.0)
            parts.append(draw(f"{register:.0f}", told, FIGURE, Ink(theme.ink2, anchor="middle", halo=theme.card)))
        at = ((x0 + x1) / 2.0, level + 15.0 if crowded else level - 6.0)
        parts.append(draw(f"{column.after_dba:.0f}", at, FIGURE, Ink(theme.ink, anchor="middle", halo=theme.card)))
    limit_y, count = field.y(sheet.limit_dba), len(found)
    parts.insert(
        0,
        svg.line((LEFT_PX, limit_y), (field.x(count + 1), limit_y), stroke=theme.ink, stroke_width=1.2,
                 stroke_dasharray="6 4"),
    )  # fmt: skip
    parts.append(_advice(sheet, limit_y, look))
    body = svg.path(svg.points_path(path, closed=False), fill="none", stroke=theme.ink, stroke_width=1.8)
    body += svg.path(
        svg.points_path(other, closed=False), fill="none", stroke=theme.ink, stroke_width=1.3,
        stroke_dasharray="1.2 4", stroke_linecap="round",
    )  # fmt: skip
    bar = _bar(field, count, (field.least, sheet.level_dba), look, hatch, solid=sheet.level_dba <= sheet.limit_dba)
    level = field.y(sheet.level_dba)
    crowded = 0.0 < level - limit_y < 22.0
    at = (field.x(count) + field.step_px * 0.5, limit_y - 7.0 if crowded else level - 7.0)
    word = look.say(f"path_{_ear(sheet)}", value=f"{sheet.level_dba:.0f}")
    parts.append(draw(word, at, STRONG, Ink(theme.ink, anchor="middle", halo=theme.card)))
    return body + bar + "".join(parts)


def _names(found: tuple[Column, ...], field: _Field, top: float, look: Look) -> tuple[str, float]:
    """Names of the parts and their height; in two rows by turns where the widest word does not fit its column."""
    turns = widest_name_px(look.words) > field.step_px - 6.0
    room_px = 2.0 * field.step_px - 26.0 if turns else field.step_px - 6.0
    told = [wrap(look.say(f"path_{column.name}"), NAME, room_px) for column in found]
    upper = max(map(len, told[::2])) * LINE_PX + 16.0 if turns else 0.0
    parts = []
    for number, (column, lines) in enumerate(zip(found, told, strict=True)):
        middle = field.x(number) + field.step_px * 0.5
        first = top + 18.0 + (upper if number % 2 else 0.0)
        for line, text in enumerate(lines):
            parts.append(draw(text, (middle, first + LINE_PX * line), NAME, Ink(look.theme.ink, anchor="middle")))
        if column.name == "damper":
            centre = (middle, first + 24.0 + LINE_PX * (len(lines) - 1) - (9.0 if turns else 0.0))
            parts.append(
                svg.tag(
                    "circle", cx=centre[0], cy=centre[1], r=6.5, fill="none", stroke=look.theme.ink, stroke_width=1.4
                )
            )
            parts.append(
                svg.line(
                    (centre[0] - 9.0, centre[1] + 5.0), (centre[0] + 9.0, centre[1] - 5.0),
                    stroke=look.theme.ink, stroke_width=1.6,
                )
            )  # fmt: skip
    lower = max(map(len, told[1::2])) * LINE_PX + 24.0
    return "".join(parts), max(NAMES_PX, upper + lower if turns else 0.0)


def _ear(sheet: SoundSheet) -> str:
    return "pillow" if ": bed" in sheet.ear else "seat"


def _place_of_ear(sheet: SoundSheet, look: Look) -> str:
    """As in `Bedroom 2: bed 1`; the room keeps its own name."""
    room, colon, what = sheet.ear.rpartition(": ")
    kind, _, number = what.partition(" ")
    word = look.words.get(f"ear_{kind}", kind)
    return f"{room}{colon}{word} {number}".strip()


def _told(zone: DuctZone, sheet: SoundSheet | None, look: Look) -> tuple[str, str]:
    spare = zone.available_pa - zone.static_pa
    value = local(pressure(abs(spare), look.units), look.words)
    title = look.say("path_title_spare" if spare >= 0.0 else "path_title_short", tag=zone.tag, value=value)
    longest = look.say("path_longest")
    if sheet is None:
        return title, longest
    title = look.say(f"path_title_{_ear(sheet)}", title=title, level=f"{sheet.level_dba:.0f} dB(A)")
    more = sheet.at_register_dba - sheet.level_dba
    return title, f"{longest} {look.say('path_sound', ear=_place_of_ear(sheet, look), more=f'{more:+.1f}')}"


def air_path(view: DesignerView, zone: DuctZone, width_px: float = 1000.0, words: Mapping[str, str] = ENGLISH) -> Chart:
    """Pressure and sound along the air path of one concealed unit, in black and white."""
    look = Look(theme=INK, units=System(view.units), width_px=width_px, words=words)
    sheet = next((one for one in zone.sound if one.speed == "high"), None)
    found = columns(zone, sheet)
    step = (width_px - LEFT_PX - RIGHT_PX + 10.0) / (len(found) + 0.2)
    scale = 249.08891 if look.units is System.US else 1.0
    left = zone.available_pa - zone.static_pa
    above = _Field(TOP_PX, TOP_PX + ABOVE_PX, min(0.0, 1.15 * left), zone.available_pa * 1.12, step)
    hatch = "a" + hashlib.sha256(f"{view.option_id}{zone.tag}{width_px}".encode()).hexdigest()[:8]
    title, told = _told(zone, sheet, look)
    parts = [
        svg.tag("defs", [bar_hatch(hatch, look.theme)]),
        draw(title, (0.0, 20.0), HEAD, Ink(look.theme.ink)),
        *(
            draw(line, (0.0, 40.0 + 15.0 * number), SMALL, Ink(look.theme.ink2))
            for number, line in enumerate(wrap(told, SMALL, width_px))
        ),
        _grid(above, local(pressure_unit(look.units), look.words), look, scale, 2 if look.units is System.US else 0),
        _pressures(zone, found, above, look, hatch),
    ]
    y = above.bottom + (24.0 if left < 0.0 else 4.0)
    names, names_px = _names(found, above, y, look)
    parts.append(names)
    height = y + names_px
    if sheet is not None:
        top = height + 24.0
        loudest = max(part.after_dba for part in sheet.parts)
        least = min(0.0, sheet.level_dba)
        below = _Field(top, top + BELOW_PX, least, max(loudest, sheet.limit_dba) * 1.12, step)
        parts += [_grid(below, "dB(A)", look, 1.0, 0), _sounds(sheet, found, below, look, hatch)]
        height = below.bottom + 12.0
    picture = svg.document((width_px, height), title, told, parts)
    return Chart(picture, height, _table(found, look))


def _table(found: tuple[Column, ...], look: Look) -> Table:
    rows = tuple(
        (
            look.say(f"path_{column.name}"),
            pressure_figure(column.pressure_pa, look.units),
            "" if column.after_dba is None else f"{column.after_dba:.1f}",
            "" if column.at_register_dba is None else f"{column.at_register_dba:.1f}",
        )
        for column in found
    )
    takes = look.say("path_takes", unit=local(pressure_unit(look.units), look.words))
    head = (look.say("path_part"), takes, look.say("path_after"), look.say("path_other"))
    return Table(look.say("path_caption"), head, rows)


def widest_name_px(words: Mapping[str, str] = ENGLISH) -> float:
    """Widest single word of the names, for checks of the column width."""
    names = (say(words, f"path_{name}") for name, _, _ in _PARTS)
    return max(width_px(word, NAME) for name in names for word in name.split(" "))
