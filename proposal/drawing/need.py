"""The chart *need against output*: how often each load comes, over what the unit can give.

Hill: hours by load class, scaled to equal height, so it shows shape and not hours. Flag: design load. Bar: smallest to
largest output at the design hour. The part of the hill below the smallest output is hatched: there the unit goes on
and off.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from compare.views.customer import UnitBand
from proposal.drawing import svg
from proposal.drawing.chart import (
    NO_BREAK,
    PLAIN,
    SMALL,
    STRONG,
    Axis,
    Bar,
    Chart,
    axis_to,
    bar,
    bar_hatch,
    capacity,
    capacity_unit,
    grid,
    percent,
    text,
)
from proposal.drawing.hill import HILL_PX, curve, hill_points
from proposal.drawing.lettering import Ink, draw, shorten, width_px, wrap
from proposal.drawing.look import Look, Table
from proposal.drawing.theme import Theme

BAR_PX = 17.0
ROW_PX = 132.0
FIRST_PX = 24.0
AXIS_PX = 24.0
NARROW_HEAD_PX = 46.0
NARROW_PX = 520.0
"""Below this width the names stand over their rows instead of beside them."""
_NAME_PX = 168.0
_NAME_LINE_PX = 19.0


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One outdoor unit, and whether its bar may be plum."""

    band: UnitBand
    ours: bool = True
    heading: str = ""
    """Name in place of the band's own, such as *For comparison:*."""
    rooms_text: str = ""
    """What it serves in place of the list of rooms."""


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a row stands, and what it shares with the others."""

    y_px: float
    axis: Axis
    prefix: str
    look: Look
    first: bool


def _hue(band: UnitBand, theme: Theme) -> tuple[str, str, str]:
    """Line, text and wash of a mode."""
    if band.mode == "cooling":
        return theme.blue, theme.blue_text, theme.bluewash
    return theme.rust, theme.rust_text, theme.rustwash


def _hill(row: NeedRow, place: _Place) -> str:
    band, look = row.band, place.look
    foot = place.y_px + FIRST_PX + HILL_PX
    points = hill_points(band, place.axis, foot, look)
    if not points:
        return ""
    line, _, wash = _hue(band, look.theme)
    ridge = curve(points)
    closed = f"{ridge}L{svg.number(points[-1][0])} {svg.number(foot)}L{svg.number(points[0][0])} {svg.number(foot)}Z"
    clip, hatch = f"{place.prefix}-clip", f"{place.prefix}-below"
    low = place.axis.at(capacity(band.smallest_w, look))
    wide = max(low - place.axis.x0_px, 0.0)
    definitions = svg.tag(
        "defs",
        [
            svg.tag(
                "clipPath",
                [svg.tag("rect", x=place.axis.x0_px, y=place.y_px, width=wide, height=FIRST_PX + HILL_PX)],
                id=clip,
            ),
            svg.hatch_pattern(hatch, 6.0, cross=False, stroke=look.theme.ink2, stroke_width=1.6),
        ],
    )
    return (
        definitions
        + svg.path(closed, fill=wash)
        + svg.path(closed, fill=f"url(#{hatch})", clip_path=f"url(#{clip})")
        + svg.path(ridge, fill="none", stroke=line, stroke_width=1.8, stroke_linejoin="round")
    )


def _flag(row: NeedRow, place: _Place) -> str:
    """The design load with its value."""
    band, look = row.band, place.look
    x, foot = place.axis.at(capacity(band.design_load_w, look)), place.y_px + FIRST_PX + HILL_PX
    line, colour, _ = _hue(band, look.theme)
    value = f"{capacity(band.design_load_w, look):.1f}"
    word = look.say("need_hot" if band.mode == "cooling" else "need_cold")
    room = width_px(word, SMALL) + 6.0 < look.width_px - x
    anchor, side = ("start", 5.0) if room else ("end", -5.0)
    top = foot - HILL_PX - 2.0
    ink = Ink(colour, look.theme.card, anchor)
    return (
        svg.line((x, foot), (x, top), stroke=line, stroke_width=1.8)
        + draw(value, (x + side, top + 11.0), STRONG, ink)
        + draw(word, (x + side, top + 27.0), SMALL, ink)
    )


def _output(row: NeedRow, place: _Place) -> str:
    """The bar of what the unit can give, with its ends, joined to the hill by a dotted line."""
    band, look = row.band, place.look
    foot = place.y_px + FIRST_PX + HILL_PX
    y = foot + 9.0
    low, high = (place.axis.at(capacity(value, look)) for value in (band.smallest_w, band.largest_w))
    base = y + BAR_PX / 2.0 + 4.8
    parts = [
        svg.line((low, foot), (low, y), stroke=look.theme.ink2, stroke_width=1.4, stroke_dasharray="1.4 2.6"),
        bar(Bar(low, high, y, BAR_PX, row.ours), look.theme, f"{place.prefix}-bar"),
        draw(f"{capacity(band.largest_w, look):.1f}", (high + 6.0, base), STRONG, Ink(look.theme.ink, look.theme.card)),
    ]
    start = f"{capacity(band.smallest_w, look):.1f}"
    parts.append(draw(start, (low - 6.0, base), STRONG, Ink(look.theme.ink, look.theme.card, "end")))
    word = look.say("need_gives")
    if place.first and row.ours and width_px(word, SMALL) + 14.0 < high - low:
        parts.append(text(word, (low + 8.0, base - 0.3), SMALL, look.theme.card))
    return "".join(parts)


def _counted(row: NeedRow, look: Look) -> str:
    key = "need_cooling" if row.band.mode == "cooling" else "need_heating"
    return look.say(key, share=percent(row.band.on_off_share))


def _names(row: NeedRow, place: _Place) -> str:
    """Name and rooms left of the row; over it where the picture is narrow."""
    look = place.look
    rooms = row.rooms_text or ", ".join(row.band.rooms)
    narrow = look.width_px < NARROW_PX
    y = place.y_px - NARROW_HEAD_PX + 18.0 if narrow else place.y_px + FIRST_PX + 12.0
    lines = [shorten(rooms, SMALL, look.width_px)] if narrow else wrap(rooms, SMALL, _NAME_PX)[:3]
    parts = [text(row.heading or row.band.label, (0.0, y), STRONG, look.theme.ink)]
    parts += [
        text(line, (0.0, y + _NAME_LINE_PX * (index + 1)), SMALL, look.theme.ink2) for index, line in enumerate(lines)
    ]
    return "".join(parts)


def _row(row: NeedRow, place: _Place) -> str:
    look, axis = place.look, place.axis
    foot = place.y_px + FIRST_PX + HILL_PX
    parts = [_names(row, place), _hill(row, place)]
    parts.append(svg.line((axis.x0_px, foot), (axis.x1_px, foot), stroke=look.theme.rule, stroke_width=1.2))
    parts += [_flag(row, place), _output(row, place)]
    parts.append(
        draw(_counted(row, look), (axis.x0_px, foot + BAR_PX + 28.0), PLAIN, Ink(look.theme.ink, look.theme.card))
    )
    if place.first:
        _, colour, _ = _hue(row.band, look.theme)
        parts.append(
            draw(look.say("need_hill"), (axis.x0_px, place.y_px + FIRST_PX - 10.0), SMALL, Ink(colour, look.theme.card))
        )
    return "".join(parts)


def need_table(rows: Sequence[NeedRow], look: Look) -> Table:
    """The values of the chart, one row a unit."""
    unit = capacity_unit(look)
    head = (
        look.say("table_unit"),
        look.say("table_need", unit=unit),
        look.say("table_smallest", unit=unit),
        look.say("table_largest", unit=unit),
        look.say("table_onoff"),
    )
    body = tuple(
        (
            row.heading or row.band.label,
            *(
                f"{capacity(value, look):.1f}"
                for value in (row.band.design_load_w, row.band.smallest_w, row.band.largest_w)
            ),
            percent(row.band.on_off_share),
        )
        for row in rows
    )
    return Table(look.say("need_title"), head, body)


def _describe(rows: Sequence[NeedRow], look: Look) -> str:
    return " ".join(
        look.say(
            "need_desc",
            label=row.heading.rstrip(":") or row.band.label,
            share=percent(row.band.on_off_share),
            mode=look.say(f"mode_{row.band.mode}"),
        )
        for row in rows
    )


def need_chart(rows: Sequence[NeedRow], look: Look) -> Chart:
    """Need against output, one row a unit, on one axis.

    Parameters
    ----------
    rows
        Units of an option (see `UnitBand`), then any row for comparison with `ours=False`.
    look
        Theme, width and units.

    Raises
    ------
    ValueError
        Without rows.
    """
    if not rows:
        raise ValueError("need_chart: no rows; give at least one unit")
    most = max(
        capacity(value, look)
        for row in rows
        for value in (row.band.largest_w, row.band.design_load_w, row.band.edges_w[-1])
    )
    left = 34.0 if look.width_px < NARROW_PX else _NAME_PX + 14.0
    axis = axis_to(most * 1.03, (left, look.width_px - 40.0), 4)
    seed = "|".join(f"{row.band.label}{row.band.smallest_w}{row.ours}" for row in rows)
    prefix = "n" + hashlib.sha256(f"{seed}{look.width_px}{look.theme.name}".encode()).hexdigest()[:8]
    head = NARROW_HEAD_PX if look.width_px < NARROW_PX else 0.0
    bottom = (ROW_PX + head) * len(rows)
    parts = [grid(axis, (FIRST_PX - 6.0, bottom), look.theme)]
    for index, row in enumerate(rows):
        top = index * (ROW_PX + head)
        place = _Place(top + head, axis, f"{prefix}{index}", look, first=index == 0)
        if index:
            parts.append(svg.line((0.0, top + 2.0), (look.width_px, top + 2.0), stroke=look.theme.line))
        parts += [svg.tag("defs", [bar_hatch(f"{place.prefix}-bar", look.theme)]), _row(row, place)]
    for mark in axis.marks():
        last = mark == axis.marks()[-1]
        shown = f"{mark:g}{NO_BREAK}{capacity_unit(look)}" if last else f"{mark:g}"
        x = min(axis.at(mark), look.width_px - width_px(shown, SMALL) / 2.0)
        parts.append(text(shown, (x, bottom + 16.0), SMALL, look.theme.ink2, "middle"))
    height = bottom + AXIS_PX
    picture = svg.document((look.width_px, height), look.say("need_title"), _describe(rows, look), parts)
    return Chart(picture, height, need_table(rows, look))
