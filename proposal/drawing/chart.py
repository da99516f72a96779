"""What all small charts share: numbers in the units of the picture, round axis marks, picture with its table."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from compare.units import Kind, System, from_si
from proposal.drawing import svg
from proposal.drawing.geometry import Point
from proposal.drawing.lettering import Ink, Type, draw, shorten, wrap
from proposal.drawing.look import Look, Table
from proposal.drawing.theme import Theme

SMALL = Type(13.5, 400)
PLAIN = Type(14.0, 500)
STRONG = Type(14.0, 600)
NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart as SVG with its height, and the same values as a table."""

    svg: str
    height_px: float
    table: Table


@dataclass(frozen=True, slots=True)
class Axis:
    """A level axis from zero."""

    x0_px: float
    x1_px: float
    end: float
    step: float
    start: float = 0.0

    def at(self, value: float) -> float:
        """Place of a value."""
        return self.x0_px + (value - self.start) / (self.end - self.start) * (self.x1_px - self.x0_px)

    def marks(self) -> list[float]:
        """Round values along the axis."""
        count = round((self.end - self.start) / self.step)
        return [self.start + self.step * index for index in range(count + 1)]


def round_step(span: float, most: int = 4) -> float:
    """The smallest of 1, 2, 2.5, 5 times a power of ten that cuts `span` into at most `most` parts."""
    if not span > 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(step * power for step in (1.0, 2.0, 2.5, 5.0, 10.0) if span / (step * power) <= most + 1e-9)


def axis_to(most: float, place: tuple[float, float], parts: int = 4) -> Axis:
    """An axis from zero that holds `most`."""
    step = round_step(max(most, 1e-9), parts)
    return Axis(place[0], place[1], step * math.ceil(most / step - 1e-9), step)


def capacity(value_w: float, look: Look) -> float:
    """Heat flow in kBtu/h or kW."""
    return from_si(value_w, Kind.CAPACITY, System.US) / 1000.0 if look.units is System.US else value_w / 1000.0


def capacity_unit(look: Look) -> str:
    """Unit of `capacity`."""
    return "kBtu/h" if look.units is System.US else "kW"


def dollars(value_usd: float) -> str:
    """Whole dollars with a comma for thousands."""
    return f"−${-value_usd:,.0f}" if value_usd < 0.0 else f"${value_usd:,.0f}"


def percent(share_frac: float) -> str:
    """Hours of a hundred, whole."""
    return f"{share_frac * 100.0:.0f}"


def name_of(option_id: str, names: Mapping[str, str]) -> str:
    """Name of a layout as the faces write it; its id where they gave none."""
    return names.get(option_id, option_id)


def text(words: str, at: Point, style: Type, fill: str, anchor: str = "start") -> str:
    """A line of text of a chart, without halo."""
    return draw(words, at, style, Ink(fill, anchor=anchor))


def name_lines(words: str, style: Type, room_px: float, most: int) -> tuple[str, ...]:
    """A name in at most so many lines; the last one is cut with an ellipsis where there would be more."""
    lines = wrap(words, style, room_px)
    if len(lines) > most:
        lines = (*lines[: most - 1], shorten(" ".join(lines[most - 1 :]), style, room_px))
    return tuple(shorten(line, style, room_px) for line in lines)


def grid(axis: Axis, rows: Point, theme: Theme) -> str:
    """Faint upright lines at the marks of the axis, from `rows[0]` to `rows[1]`."""
    lines = [svg.line((axis.at(mark), rows[0]), (axis.at(mark), rows[1])) for mark in axis.marks()]
    return svg.group(lines, stroke=theme.line, stroke_width=1.0)


def bar_hatch(identity: str, theme: Theme) -> str:
    """Hatch of bars that are not our recommendation."""
    return svg.hatch_pattern(identity, 6.0, cross=False, stroke=theme.rule, stroke_width=3.0)


@dataclass(frozen=True, slots=True)
class Bar:
    """Where a bar lies."""

    x0_px: float
    x1_px: float
    y_px: float
    high_px: float
    ours: bool


def bar(place: Bar, theme: Theme, hatch_id: str) -> str:
    """A bar: solid plum if it is ours, else hatched with an outline."""
    wide = max(place.x1_px - place.x0_px, 1.0)
    box: dict[str, svg.Value | None] = {
        "x": place.x0_px,
        "y": place.y_px,
        "width": wide,
        "height": place.high_px,
        "rx": min(3.5, place.high_px / 2.0),
    }
    if place.ours:
        return svg.tag("rect", fill=theme.plum, **box)
    return svg.tag("rect", fill=theme.card, **box) + svg.tag(
        "rect", fill=f"url(#{hatch_id})", stroke=theme.rule, stroke_width=1.2, **box
    )
