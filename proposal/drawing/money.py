"""Money of each layout in two columns: the installed price and the energy of a year, each from low to high.

One row a layout: ours solid plum, others hatched, a light dot for the figure itself. Both columns start at nothing.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from compare.views.customer import CustomerView, OptionCard
from proposal.drawing import svg
from proposal.drawing.chart import (
    SMALL,
    STRONG,
    Axis,
    Bar,
    Chart,
    bar,
    bar_hatch,
    dollars,
    name_lines,
    name_of,
    round_step,
    text,
)
from proposal.drawing.lettering import Ink, draw, width_px
from proposal.drawing.look import Look, Table, recommended

ROW_PX = 36.0
BAR_PX = 14.0
HEAD_PX = 26.0
AXIS_PX = 24.0
GAP_PX = 22.0
MOST_NAME_FRAC = 0.27
MARK_PX = 64.0
"""Least distance between two marks of an axis of dollars."""
LINE_PX = 16.0

Range = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class MoneyWords:
    """Words of the chart, and how an amount is written."""

    title: str
    price: str
    bill: str
    option: str
    low: str
    about: str
    high: str
    usd: Callable[[float], str]


def ranges_of(option: OptionCard) -> tuple[Range, Range]:
    """Price and yearly energy of a layout, each low, about and high [USD]."""
    facts = option.facts
    return (
        (facts.price_low_usd, facts.price_usd, facts.price_high_usd),
        (facts.bill_low_usd, facts.bill_usd, facts.bill_high_usd),
    )


@dataclass(frozen=True, slots=True)
class _Column:
    """One of the two columns."""

    axis: Axis
    head: str
    ranges: tuple[Range, ...]


def _row(column: _Column, index: int, words: MoneyWords, look: Look, place: tuple[str, bool]) -> str:
    theme, y = look.theme, HEAD_PX + ROW_PX * (index + 0.5)
    hatch, ours = place
    low, middle, high = (column.axis.at(value) for value in column.ranges[index])
    dot = svg.tag(
        "circle",
        cx=middle,
        cy=y,
        r=4.2,
        fill=theme.card,
        stroke=None if ours else theme.ink,
        stroke_width=None if ours else 1.5,
    )
    told = draw(words.usd(column.ranges[index][1]), (high + 7.0, y + 4.8), STRONG, Ink(theme.ink, theme.card))
    return bar(Bar(low, high, y - BAR_PX / 2.0, BAR_PX, ours), theme, hatch) + dot + told


def _round(axis: Axis) -> list[float]:
    """Round amounts up to the end of the axis, which need not be one."""
    return [axis.step * index for index in range(int(axis.end / axis.step + 1e-9) + 1)]


def _marks(column: _Column, bottom: float, look: Look) -> str:
    """Round amounts below, the head of the column above."""
    axis, theme = column.axis, look.theme
    lines = [svg.line((axis.at(mark), HEAD_PX), (axis.at(mark), bottom)) for mark in _round(axis)]
    parts = [
        svg.group(lines, stroke=theme.line, stroke_width=1.0),
        text(column.head, (axis.x0_px, 15.0), STRONG, theme.ink),
    ]
    for mark in _round(axis):
        anchor = "start" if mark == axis.start else "middle"
        parts.append(text(dollars(mark), (axis.at(mark), bottom + 16.0), SMALL, theme.ink2, anchor))
    return "".join(parts)


def _axis(most: float, place: tuple[float, float]) -> Axis:
    """From nothing to the highest amount, with as many round marks as keep apart."""
    most = max(most, 1.0)
    room = MARK_PX * most / (place[1] - place[0])
    step = next(step for parts in range(6, -1, -1) if (step := round_step(most, max(parts, 1))) >= room or not parts)
    return Axis(*place, most, step)


def _columns(ranges: Sequence[tuple[Range, Range]], name_px: float, words: MoneyWords, look: Look) -> list[_Column]:
    wide = (look.width_px - name_px - GAP_PX) / 2.0
    found = []
    for number, head in enumerate((words.price, words.bill)):
        own = tuple(pair[number] for pair in ranges)
        told_px = max(width_px(words.usd(middle), STRONG) for _, middle, _ in own) + 9.0
        x0 = name_px + number * (wide + GAP_PX)
        place = (x0, x0 + wide - told_px)
        found.append(_Column(_axis(max(high for _, _, high in own), place), head, own))
    return found


def _table(rows: Sequence[tuple[str, tuple[Range, Range]]], words: MoneyWords) -> Table:
    ends = (words.low, words.about, words.high)
    head = (words.option, *(f"{part}: {end}" for part in (words.price, words.bill) for end in ends))
    body = tuple((name, *(words.usd(value) for one in pair for value in one)) for name, pair in rows)
    return Table(words.title, head, body)


def money_chart(view: CustomerView, names: Mapping[str, str], words: MoneyWords, look: Look) -> Chart:
    """Price and yearly energy of each layout on a card.

    Raises
    ------
    ValueError
        Without a card.
    """
    options = [view.option(option_id) for option_id in view.cards]
    if not options:
        raise ValueError("money_chart: no layouts; give a view with cards")
    told = [name_of(option.id, names) for option in options]
    name_px = min(max(width_px(name, STRONG) for name in told) + 14.0, look.width_px * MOST_NAME_FRAC)
    columns = _columns([ranges_of(option) for option in options], name_px, words, look)
    hatch = "m" + hashlib.sha256(f"{told}{look.width_px}{look.theme.name}".encode()).hexdigest()[:8]
    bottom = HEAD_PX + ROW_PX * len(options)
    parts = [svg.tag("defs", [bar_hatch(hatch, look.theme)]), *(_marks(column, bottom, look) for column in columns)]
    for index, (option, name) in enumerate(zip(options, told, strict=True)):
        ours = recommended(view, option)
        lines = name_lines(name, STRONG, name_px - 10.0, 2)
        first = HEAD_PX + ROW_PX * (index + 0.5) + 4.8 - LINE_PX / 2.0 * (len(lines) - 1)
        ink = look.theme.plum if ours else look.theme.ink
        parts += [text(line, (0.0, first + LINE_PX * row), STRONG, ink) for row, line in enumerate(lines)]
        parts += [_row(column, index, words, look, (hatch, ours)) for column in columns]
    table = _table([(name, ranges_of(option)) for name, option in zip(told, options, strict=True)], words)
    finding = " ".join(f"{row[0]}: {row[2]}, {row[5]}." for row in table.rows)
    picture = svg.document((look.width_px, bottom + AXIS_PX), words.title, finding, parts)
    return Chart(picture, bottom + AXIS_PX, table)
