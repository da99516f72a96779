"""Bedrooms on a scale of degrees with their doors shut at night and with them open, beside their own targets.

A dot is the room with its door shut, a ring with it open, an upright stroke its target. The way between dot and ring
is hatched.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, DoorsOutcome
from proposal.drawing import svg
from proposal.drawing.chart import PLAIN, SMALL, STRONG, Axis, Chart, bar_hatch, grid, name_of, round_step, text
from proposal.drawing.lettering import shorten, width_px
from proposal.drawing.look import Look, Table, recommended
from proposal.drawing.rooms import temperature
from proposal.drawing.steps import shown

ROW_PX = 24.0
HEAD_PX = 26.0
KEY_PX = 28.0
AXIS_PX = 24.0
MOST_NAME_FRAC = 0.3


@dataclass(frozen=True, slots=True)
class DoorsWords:
    """Words of the chart; `figures` holds the fields `shut` and `open`."""

    title: str
    room: str
    layout: str
    shut: str
    open: str
    target: str
    figures: str


@dataclass(frozen=True, slots=True)
class _Row:
    layout: str
    room: str
    shut_c: float
    open_c: float
    target_c: float | None

    def told(self, words: DoorsWords, look: Look) -> str:
        """As in `shut 43 °F, open 55 °F`."""
        pair = {"shut": temperature(self.shut_c, look), "open": temperature(self.open_c, look)}
        return words.figures.replace("{shut}", pair["shut"]).replace("{open}", pair["open"])


def _rows(view: CustomerView, one: DoorsOutcome, layout: str) -> list[_Row]:
    names = {shape.index: shape.name for shape in view.plan.rooms}
    targets = {room.room: room.morning_target_c for room in view.option(one.option).rooms}
    return [_Row(layout, names[r.room], r.shut_c, r.open_c, targets.get(r.room)) for r in one.rooms]


def _axis(rows: Sequence[_Row], place: tuple[float, float], look: Look) -> Axis:
    values = [shown(v, look.units) for row in rows for v in (row.shut_c, row.open_c, row.target_c) if v is not None]
    step = round_step(max(values) - min(values) + 4.0, 5)
    start = step * ((min(values) - 1.0) // step)
    return Axis(place[0], place[1], step * -(-(max(values) + 1.0) // step), step, start)


def _mark(kind: str, at: tuple[float, float], look: Look, colour: str) -> str:
    """Dot, ring or stroke, as in the key."""
    if kind == "target":
        return svg.line((at[0], at[1] - 8.0), (at[0], at[1] + 8.0), stroke=look.theme.ink, stroke_width=2.0)
    fill = colour if kind == "shut" else look.theme.card
    return svg.tag("circle", cx=at[0], cy=at[1], r=5.2, fill=fill, stroke=colour, stroke_width=1.8)


def _key(words: DoorsWords, look: Look) -> str:
    x, parts = 6.0, []
    for kind in ("shut", "open", "target"):
        word = getattr(words, kind)
        parts += [_mark(kind, (x, 10.0), look, look.theme.ink), text(word, (x + 13.0, 14.8), SMALL, look.theme.ink)]
        x += width_px(word, SMALL) + 40.0
    return "".join(parts)


def _line(row: _Row, y: float, axis: Axis, look: Look, ink: tuple[str, str]) -> str:
    colour, hatch = ink
    ends = [axis.at(shown(value, look.units)) for value in (row.shut_c, row.open_c)]
    low, high = sorted(ends)
    parts = []
    if high - low > 1.0:
        box: dict[str, svg.Value | None] = {"x": low, "y": y - 4.5, "width": high - low, "height": 9.0}
        parts += [svg.tag("rect", fill=look.theme.card, **box), svg.tag("rect", fill=f"url(#{hatch})", **box)]
    if row.target_c is not None:
        parts.append(_mark("target", (axis.at(shown(row.target_c, look.units)), y), look, colour))
    parts += [_mark("open", (ends[1], y), look, colour), _mark("shut", (ends[0], y), look, colour)]
    return "".join(parts)


def _scale(axis: Axis, bottom: float, look: Look) -> str:
    unit, parts = "°F" if look.units is System.US else "°C", []
    for mark in axis.marks():
        told = f"{mark:g}\u00a0{unit}" if mark == axis.marks()[-1] else f"{mark:g}"
        parts.append(text(told, (axis.at(mark), bottom + 16.0), SMALL, look.theme.ink2, "middle"))
    return "".join(parts)


def doors_chart(
    view: CustomerView, outcomes: Sequence[DoorsOutcome], names: Mapping[str, str], words: DoorsWords, look: Look
) -> Chart:
    """Bedrooms of some layouts with their doors either way, a block of rows for each layout.

    Raises
    ------
    ValueError
        Without a bedroom.
    """
    blocks = [_rows(view, one, name_of(one.option, names)) for one in outcomes]
    every = [row for rows in blocks for row in rows]
    if not every:
        raise ValueError("doors_chart: no bedroom with a door; leave the picture out")
    name_px = min(max(width_px(row.room, PLAIN) for row in every) + 16.0, look.width_px * MOST_NAME_FRAC)
    told_px = max(width_px(row.told(words, look), PLAIN) for row in every) + 20.0
    axis = _axis(every, (name_px, look.width_px - told_px), look)
    seed = f"{[one.option for one in outcomes]}{look.width_px}{look.theme.name}"
    hatch = "d" + hashlib.sha256(seed.encode("utf-8")).hexdigest()[:8]
    bottom = KEY_PX + HEAD_PX * len(blocks) + ROW_PX * len(every) + 2.0
    parts = [svg.tag("defs", [bar_hatch(hatch, look.theme)]), _key(words, look)]
    parts.append(grid(axis, (KEY_PX + HEAD_PX - 2.0, bottom), look.theme))
    y = KEY_PX
    for one, rows in zip(outcomes, blocks, strict=True):
        colour = look.theme.plum if recommended(view, view.option(one.option)) else look.theme.ink
        parts.append(text(name_of(one.option, names), (0.0, y + 17.0), STRONG, colour))
        y += HEAD_PX
        for row in rows:
            middle = y + ROW_PX / 2.0
            parts.append(text(shorten(row.room, PLAIN, name_px - 8.0), (0.0, middle + 4.8), PLAIN, look.theme.ink))
            parts.append(_line(row, middle, axis, look, (colour, hatch)))
            parts.append(text(row.told(words, look), (look.width_px, middle + 4.8), PLAIN, look.theme.ink, "end"))
            y += ROW_PX
    parts.append(_scale(axis, bottom, look))
    finding = " ".join(f"{row.layout}, {row.room}: {row.told(words, look)}." for row in every)
    picture = svg.document((look.width_px, bottom + AXIS_PX), words.title, finding, parts)
    return Chart(picture, bottom + AXIS_PX, _table(every, words, look))


def _table(rows: Sequence[_Row], words: DoorsWords, look: Look) -> Table:
    body = tuple(
        (
            row.layout,
            row.room,
            temperature(row.shut_c, look),
            temperature(row.open_c, look),
            look.say("none") if row.target_c is None else temperature(row.target_c, look),
        )
        for row in rows
    )
    return Table(words.title, (words.layout, words.room, words.shut, words.open, words.target), body)
