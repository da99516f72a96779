"""Comfort against margin after call-back risk: pure functions from marks to SVG."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dashboard.office.advice import Floors
from dashboard.office.marks import R_PX, Mark, Point, draw_mark
from proposal.drawing import svg
from proposal.drawing.lettering import Ink, Type, draw, shorten, width_px
from proposal.drawing.theme import Theme

SIZE_PX = (800.0, 500.0)
LEFT, RIGHT, TOP, BOTTOM = 66.0, 22.0, 34.0, 56.0
STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
MOST_LINES = 6
NAME, FIGURE, TITLE = Type(15.0, 500), Type(14.0), Type(14.0, 600)
LONGEST_NAME_PX = 150.0
MOST_LABELS = 30
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """A linear axis from `least` to `most` in steps, drawn between two places."""

    least: float
    most: float
    step: float
    start_px: float
    end_px: float

    def at(self, value: float) -> float:
        """Where a value stands."""
        return self.start_px + (value - self.least) / (self.most - self.least) * (self.end_px - self.start_px)

    @property
    def lines(self) -> list[float]:
        """Round values with a line."""
        first = math.ceil(self.least / self.step - 1e-9)
        last = math.floor(self.most / self.step + 1e-9)
        return [self.step * k for k in range(first, last + 1)]


@dataclass(frozen=True, slots=True)
class Picture:
    """All that the chart shows; an arrow goes from the first mark of its pair to the second."""

    title: str
    description: str
    marks: tuple[Mark, ...]
    arrows: tuple[tuple[Mark, Mark], ...]
    floors: Floors


def scale(values: Sequence[float], floor: float, most: float, place: tuple[float, float]) -> Scale:
    """An axis round the values and the floor, with some air, ending at `most` at the latest."""
    low, high = min((*values, floor)), max((*values, floor))
    span = max(high - low, 4.0)
    step = next((step for step in STEPS if (span * 1.25) / step <= MOST_LINES), 100.0)
    start = math.floor((low - 0.10 * span) / step) * step
    end = math.ceil((high + 0.12 * span) / step) * step
    return Scale(start, min(most, end) if most > start else end, step, *place)


def chart(picture: Picture, theme: Theme) -> str:
    """The whole picture."""
    width, height = SIZE_PX
    across = scale([m.comfort for m in picture.marks], picture.floors.comfort, 100.0, (LEFT, width - RIGHT))
    up = scale([m.margin_pct for m in picture.marks], picture.floors.margin_pct, 100.0, (height - BOTTOM, TOP))
    floor = (across.at(picture.floors.comfort), up.at(picture.floors.margin_pct))
    faint: dict[str, svg.Value] = {"stroke": theme.rule, "stroke_width": 0.8, "stroke_opacity": 0.3}
    inside = [
        svg.tag("defs", [svg.hatch_pattern("under", 9.0, cross=False, **faint)]),
        _under_floors(across, up, floor),
        _grid(across, up, theme),
        _floor_lines(across, up, floor, picture.floors, theme),
        *(_arrow(_at(one, across, up), _at(other, across, up), theme) for one, other in picture.arrows),
        *(draw_mark(mark, _at(mark, across, up), theme) for mark in sorted(picture.marks, key=_above)),
        *_names(picture, across, up, theme),
    ]
    return svg.document(SIZE_PX, picture.title, picture.description, inside)


def _at(mark: Mark, across: Scale, up: Scale) -> Point:
    return across.at(mark.comfort), up.at(mark.margin_pct)


def _above(mark: Mark) -> tuple[bool, bool, bool]:
    """Order of drawing: hollow marks, then filled ones, named ones over the others, plum last."""
    return not mark.hollow, bool(mark.label), mark.recommended


def _under_floors(across: Scale, up: Scale, floor: Point) -> str:
    """The part below either floor, hatched faintly."""
    left, right, bottom, top = across.start_px, across.end_px, up.start_px, up.end_px
    outline = [(left, top), (floor[0], top), floor, (right, floor[1]), (right, bottom), (left, bottom)]
    return svg.path(svg.points_path(outline, closed=True), fill="url(#under)")


def _grid(across: Scale, up: Scale, theme: Theme) -> str:
    base = up.start_px
    parts = [svg.line((across.start_px, base), (across.end_px, base), stroke=theme.rule, stroke_width=1.3)]
    parts.append(draw("Margin after call-back risk, %", (0.0, 14.0), TITLE, Ink(theme.ink)))
    parts.append(draw("Comfort score, 0 to 100", (across.end_px, base + 50.0), TITLE, Ink(theme.ink, anchor="end")))
    for value in up.lines:
        y = up.at(value)
        if y < base - 1.0:
            parts.append(svg.line((across.start_px, y), (across.end_px, y), stroke=theme.line, stroke_width=1.0))
        parts.append(draw(_round(value), (across.start_px - 12.0, y + 5.0), FIGURE, Ink(theme.ink2, anchor="end")))
    for value in across.lines:
        x = across.at(value)
        parts.append(svg.line((x, base), (x, base + 5.0), stroke=theme.rule, stroke_width=1.3))
        parts.append(draw(_round(value), (x, base + 24.0), FIGURE, Ink(theme.ink2, anchor="middle")))
    return "".join(parts)


def _round(value: float) -> str:
    return f"{value:.0f}".replace("-", "−")


def _floor_lines(across: Scale, up: Scale, floor: Point, floors: Floors, theme: Theme) -> str:
    dashed: dict[str, svg.Value] = {"stroke": theme.ink2, "stroke_width": 1.4, "stroke_dasharray": "6 4"}
    words = (f"comfort floor: {floors.comfort:.0f}", f"margin floor: {floors.margin_pct:.0f}\u00a0%")
    ink = Ink(theme.ink, halo=theme.paper)
    room = across.end_px - floor[0] > width_px(words[0], FIGURE) + 12.0
    by_line = (floor[0] + 8.0, up.end_px + 12.0) if room else (floor[0] - 8.0, up.end_px + 12.0)
    return "".join(
        (
            svg.line((floor[0], up.end_px), (floor[0], up.start_px), **dashed),
            svg.line((across.start_px, floor[1]), (across.end_px, floor[1]), **dashed),
            draw(words[0], by_line, FIGURE, ink if room else Ink(theme.ink, theme.paper, "end")),
            draw(words[1], (across.end_px - 4.0, floor[1] + 18.0), FIGURE, Ink(theme.ink, theme.paper, "end")),
        )
    )


def _arrow(start: Point, end: Point, theme: Theme) -> str:
    """From mark to mark, with a gap at both."""
    length = math.dist(start, end)
    if length < 3.0 * R_PX:
        return ""
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    first = (start[0] + along[0] * (R_PX + 5.0), start[1] + along[1] * (R_PX + 5.0))
    last = (end[0] - along[0] * (R_PX + 5.0), end[1] - along[1] * (R_PX + 5.0))
    turned = [math.atan2(along[1], along[0]) + math.radians(degrees) for degrees in (152.0, -152.0)]
    barbs = [(last[0] + 9.0 * math.cos(angle), last[1] + 9.0 * math.sin(angle)) for angle in turned]
    head = svg.points_path((barbs[0], last, barbs[1]), closed=False)
    look: dict[str, svg.Value] = {"stroke": theme.plum, "stroke_width": 1.8, "stroke_linecap": "round"}
    return svg.line(first, last, **look) + svg.path(head, fill="none", stroke_linejoin="round", **look)


def _names(picture: Picture, across: Scale, up: Scale, theme: Theme) -> Iterator[str]:
    """Names beside their marks, where they cover nothing; one that finds no free place is left to the table."""
    taken: list[Box] = [_round_box(_at(mark, across, up)) for mark in picture.marks]
    taken += [box for pair in picture.arrows for box in _along(_at(pair[0], across, up), _at(pair[1], across, up))]
    floor = (across.at(picture.floors.comfort), up.at(picture.floors.margin_pct))
    taken.append((across.end_px - 140.0, floor[1] + 4.0, across.end_px, floor[1] + 24.0))
    taken.append((floor[0], up.end_px, floor[0] + 130.0, up.end_px + 18.0))
    named = [mark for mark in picture.marks if mark.label][:MOST_LABELS]
    for mark in sorted(named, key=lambda m: (-m.margin_pct, m.comfort, m.label)):
        text = shorten(mark.label, NAME, LONGEST_NAME_PX)
        for anchor, at, box in _places(_at(mark, across, up), width_px(text, NAME)):
            if _inside(box, across, up) and not any(_touch(box, other) for other in taken):
                taken.append(box)
                yield draw(text, at, NAME, Ink(theme.ink, theme.paper, anchor))
                break


def _places(at: Point, wide: float) -> Iterator[tuple[str, Point, Box]]:
    """Right, left, above, below, then aslant, then further off."""
    x, y = at
    gap = R_PX + 7.0
    yield "start", (x + gap, y + 5.0), (x + gap, y - 9.0, x + gap + wide, y + 9.0)
    yield "end", (x - gap, y + 5.0), (x - gap - wide, y - 9.0, x - gap, y + 9.0)
    for dy in (-gap - 2.0, gap + 13.0):
        yield "middle", (x, y + dy), (x - wide / 2, y + dy - 14.0, x + wide / 2, y + dy + 4.0)
    for dy in (-gap, gap + 10.0, -gap - 16.0, gap + 26.0):
        yield "start", (x + 4.0, y + dy), (x + 4.0, y + dy - 14.0, x + 4.0 + wide, y + dy + 4.0)
        yield "end", (x - 4.0, y + dy), (x - 4.0 - wide, y + dy - 14.0, x - 4.0, y + dy + 4.0)


def _round_box(at: Point) -> Box:
    reach = R_PX + 1.0
    return at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach


def _along(start: Point, end: Point) -> Iterator[Box]:
    """Small boxes along an arrow, clear of its own marks."""
    steps = max(2, int(math.dist(start, end) // 8.0))
    for k in range(2, steps - 1):
        x = start[0] + (end[0] - start[0]) * k / steps
        y = start[1] + (end[1] - start[1]) * k / steps
        yield x - 2.0, y - 2.0, x + 2.0, y + 2.0


def _touch(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _inside(box: Box, across: Scale, up: Scale) -> bool:
    return box[0] >= across.start_px + 2 and box[2] <= across.end_px and box[1] >= up.end_px and box[3] <= up.start_px
