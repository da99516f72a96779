"""Charts of one row a layout: price from low to high, points by what matters, fit, sound at the pillow."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compare.views.customer import CustomerView, OptionCard
from proposal.drawing import svg
from proposal.drawing.chart import (
    PLAIN,
    SMALL,
    STRONG,
    Axis,
    Bar,
    Chart,
    axis_to,
    bar,
    bar_hatch,
    dollars,
    grid,
    name_lines,
    name_of,
    text,
)
from proposal.drawing.lettering import Ink, draw, width_px, wrap
from proposal.drawing.look import Look, Table, recommended
from proposal.drawing.rooms import BED_ADVICE_DBA

ROW_PX = 46.0
NOISE_ROW_PX = 36.0
BAR_PX = 17.0
AXIS_PX = 26.0
NOISE_TOP_PX = 46.0
_MOST_NAME_PX = 170.0
_DOLLARS_PX = 78.0
_KEY_LINE_PX = 22.0
_KEY_PX = 53.0


@dataclass(frozen=True, slots=True)
class RangeRow:
    """A range with its middle, what is written at its end, and whether it is ours."""

    name: str
    low: float
    middle: float
    high: float
    label: str
    ours: bool


@dataclass(frozen=True, slots=True)
class _Rows:
    """Where rows stand: room for names, the axis, the top of the first row."""

    axis: Axis
    name_px: float
    top_px: float
    prefix: str
    look: Look
    row_px: float = ROW_PX

    def middle(self, index: int) -> float:
        """Height of a row's middle."""
        return self.top_px + self.row_px * index + self.row_px / 2.0

    def bottom(self, count: int) -> float:
        """End of the last row."""
        return self.top_px + self.row_px * count


def _name_room(names: Sequence[str], look: Look) -> float:
    widest = max((width_px(name, STRONG) for name in names), default=0.0)
    return min(widest, _MOST_NAME_PX, look.width_px * 0.36) + 14.0


def _parts(place: tuple[float, float]) -> int:
    """How many parts an axis of dollars may have so that its figures keep apart."""
    return max(1, min(4, int((place[1] - place[0]) / _DOLLARS_PX)))


def _prefix(kind: str, look: Look, told: str) -> str:
    seed = f"{kind}|{told}|{look.width_px}|{look.theme.name}"
    return kind[0] + hashlib.sha256(seed.encode("utf-8")).hexdigest()[:8]


def _name(name: str, index: int, rows: _Rows, *, ours: bool) -> str:
    lines = name_lines(name, STRONG, rows.name_px - 10.0, 2)
    y = rows.middle(index) + 5.0 - 9.0 * (len(lines) - 1)
    fill = rows.look.theme.plum if ours else rows.look.theme.ink
    return "".join(text(line, (0.0, y + 18.0 * step), STRONG, fill) for step, line in enumerate(lines))


def _range(row: RangeRow, index: int, rows: _Rows) -> str:
    theme, y = rows.look.theme, rows.middle(index)
    low, middle, high = (rows.axis.at(value) for value in (row.low, row.middle, row.high))
    dot = svg.tag(
        "circle",
        cx=middle,
        cy=y,
        r=4.6,
        fill=theme.card,
        stroke=None if row.ours else theme.ink,
        stroke_width=None if row.ours else 1.6,
    )
    return (
        bar(Bar(low, high, y - BAR_PX / 2.0, BAR_PX, row.ours), theme, rows.prefix)
        + dot
        + draw(row.label, (high + 8.0, y + 5.0), STRONG, Ink(theme.ink, theme.card))
    )


def _marks(rows: _Rows, count: int, shown: Sequence[str]) -> str:
    y = rows.bottom(count) + 16.0
    return "".join(
        text(label, (rows.axis.at(mark), y), SMALL, rows.look.theme.ink2, "middle")
        for mark, label in zip(rows.axis.marks(), shown, strict=True)
    )


def _start(rows: _Rows, count: int) -> list[str]:
    return [
        svg.tag("defs", [bar_hatch(rows.prefix, rows.look.theme)]),
        grid(rows.axis, (rows.top_px + 2.0, rows.bottom(count)), rows.look.theme),
    ]


def range_chart(rows: Sequence[RangeRow], axis: Axis | None, heading: Table, look: Look) -> Chart:
    """Ranges under each other: ours solid plum, others hatched, a light dot for the middle.

    `heading` carries the title and the table of values; without an `axis` one is made from zero, in dollars.

    Raises
    ------
    ValueError
        Without rows.
    """
    if not rows:
        raise ValueError("range_chart: no rows; give at least one layout")
    name_px = _name_room([row.name for row in rows], look)
    label_px = max(width_px(row.label, STRONG) for row in rows) + 12.0
    place = (name_px, look.width_px - label_px)
    money = axis is None
    across = (
        axis_to(max(row.high for row in rows), place, _parts(place))
        if axis is None
        else Axis(*place, axis.end, axis.step, axis.start)
    )
    frame = _Rows(across, name_px, 0.0, _prefix("range", look, "".join(row.name for row in rows)), look)
    parts = _start(frame, len(rows))
    for index, row in enumerate(rows):
        parts += [_name(row.name, index, frame, ours=row.ours), _range(row, index, frame)]
    shown = [dollars(mark) if money else f"{mark:g}" for mark in across.marks()]
    parts.append(_marks(frame, len(rows), shown))
    height = frame.bottom(len(rows)) + AXIS_PX
    told = " ".join(f"{row.name}: {row.label}." for row in rows)
    return Chart(svg.document((look.width_px, height), heading.caption, told, parts), height, heading)


def fit_bar(total: float, look: Look, *, ours: bool) -> Chart:
    """The bar of a card: fit of 100, solid plum if ours, else hatched."""
    high = 10.0
    prefix = _prefix("fit", look, f"{total}{ours}")
    full = svg.tag(
        "rect",
        x=0.5,
        y=0.5,
        width=look.width_px - 1.0,
        height=high - 1.0,
        rx=4.5,
        fill=look.theme.sunk,
        stroke=look.theme.line,
    )
    share = min(max(total, 0.0), 100.0) / 100.0
    place = Bar(0.6, 0.6 + (look.width_px - 1.2) * share, 0.6, high - 1.2, ours)
    parts = [svg.tag("defs", [bar_hatch(prefix, look.theme)]), full, bar(place, look.theme, prefix)]
    shown = f"{total:.0f}"
    title = look.say("fit_desc", total=shown)
    table = Table(title, (look.say("table_option"), "100"), (("", shown),))
    return Chart(svg.document((look.width_px, high), title, title, parts), high, table)


def score_chart(view: CustomerView, option_ids: Sequence[str], names: Mapping[str, str], look: Look) -> Chart:
    """Points by what matters, up to three layouts under each other in each group."""
    options = [view.option(option_id) for option_id in option_ids]
    criteria = [key for key in view.weights if all(key in option.criteria for option in options)]
    bar_px, group_px = 14.0, 17.0 * len(options) + 22.0
    name_px = min(_name_room([look.say(key) for key in criteria], look) + 8.0, look.width_px * 0.42)
    axis = Axis(name_px, look.width_px - 44.0, 100.0, 25.0)
    prefix = _prefix("score", look, "".join(option_ids))
    beside = _keys_fit([name_of(option.id, names) for option in options], name_px, look)
    legend_px = 26.0 if beside else 8.0 + _KEY_LINE_PX * len(options)
    bottom = legend_px + group_px * len(criteria)
    parts = [svg.tag("defs", [bar_hatch(prefix, look.theme)]), grid(axis, (legend_px, bottom), look.theme)]
    parts.append(_score_key(options, view, names, (name_px, prefix), look))
    for row, key in enumerate(criteria):
        y = legend_px + group_px * row + 11.0
        middle = y + 17.0 * len(options) / 2.0
        lines = wrap(look.say(key), PLAIN, name_px - 10.0)[:2]
        for step, line in enumerate(lines):
            parts.append(text(line, (0.0, middle + 4.0 + 18.0 * step - 9.0 * (len(lines) - 1)), PLAIN, look.theme.ink))
        for index, option in enumerate(options):
            value, top = option.criteria[key], y + 17.0 * index
            parts.append(
                bar(Bar(axis.x0_px, axis.at(value), top, bar_px, recommended(view, option)), look.theme, prefix)
            )
            ink = Ink(look.theme.ink, look.theme.card)
            parts.append(draw(f"{value:.0f}", (axis.at(value) + 6.0, top + 12.0), STRONG, ink))
    parts += [
        text(f"{mark:g}", (axis.at(mark), bottom + 16.0), SMALL, look.theme.ink2, "middle") for mark in axis.marks()
    ]
    return _score_picture(view, options, (criteria, names), (parts, bottom + AXIS_PX), look)


def _score_key(
    options: Sequence[OptionCard], view: CustomerView, names: Mapping[str, str], place: tuple[float, str], look: Look
) -> str:
    """Which bar is whose, above the first group; one under the other where they do not fit beside each other."""
    beside = _keys_fit([name_of(option.id, names) for option in options], place[0], look)
    x, y, parts = (place[0] if beside else 0.0), 0.0, []
    for option in options:
        parts.append(bar(Bar(x, x + 24.0, y + 3.0, 13.0, recommended(view, option)), look.theme, place[1]))
        name = name_of(option.id, names)
        parts.append(text(name, (x + 31.0, y + 14.5), SMALL, look.theme.ink))
        if beside:
            x += _KEY_PX + width_px(name, SMALL)
        else:
            y += _KEY_LINE_PX
    return "".join(parts)


def _keys_fit(names: Sequence[str], start_px: float, look: Look) -> bool:
    """Whether the names of the bars fit on one line."""
    return start_px + sum(_KEY_PX + width_px(name, SMALL) for name in names) - 22.0 <= look.width_px


def _score_picture(
    view: CustomerView,
    options: Sequence[OptionCard],
    told: tuple[Sequence[str], Mapping[str, str]],
    drawn: tuple[list[str], float],
    look: Look,
) -> Chart:
    criteria, names = told
    del view
    head = (look.say("table_criterion"), *(name_of(option.id, names) for option in options))
    body = tuple((look.say(key), *(f"{option.criteria[key]:.0f}" for option in options)) for key in criteria)
    title = look.say("score_title")
    description = " ".join(
        look.say("score_desc", name=name_of(option.id, names), total=f"{option.total:.0f}") for option in options
    )
    picture = svg.document((look.width_px, drawn[1]), title, description, drawn[0])
    return Chart(picture, drawn[1], Table(title, head, body))


def noise_chart(view: CustomerView, names: Mapping[str, str], look: Look) -> Chart:
    """Sound at the pillow of each layout on a card, on a scale with everyday sounds and the health advice.

    Everyday sounds are usual comparisons (from memory); the advice is WHO 1999, 30 dB(A) in bedrooms at night.
    """
    options = [view.option(option_id) for option_id in view.cards]
    levels = [(option, option.facts.pillow_dba) for option in options if option.facts.pillow_dba is not None]
    title = look.say("noise_title")
    head = (look.say("table_option"), look.say("table_level"))
    body = tuple((name_of(option.id, names), f"{level:.0f}") for option, level in levels)
    name_px = _name_room([name_of(option.id, names) for option, _ in levels], look)
    top = max([50.0, *(level for _, level in levels)])
    axis = Axis(
        name_px + 10.0,
        look.width_px - 52.0,
        10.0 * -(-top // 10.0),
        10.0,
        min([20.0, *(10.0 * (v // 10) for _, v in levels)]),
    )
    frame = _Rows(axis, name_px, NOISE_TOP_PX, _prefix("noise", look, "".join(view.cards)), look, NOISE_ROW_PX)
    theme, bottom = look.theme, frame.bottom(len(levels))
    parts = [*_start(frame, len(levels)), _noise_words(axis, bottom, look)]
    for index, (option, level) in enumerate(levels):
        ours, x, y = recommended(view, option), axis.at(level), frame.middle(index)
        parts.append(_name(name_of(option.id, names), index, frame, ours=ours))
        parts.append(svg.line((axis.x0_px, y), (x, y), stroke=theme.rule, stroke_width=1.4))
        fill = theme.plum if ours else theme.card
        parts.append(
            svg.tag("circle", cx=x, cy=y, r=6.0, fill=fill, stroke=theme.plum if ours else theme.ink, stroke_width=1.8)
        )
        parts.append(draw(f"{level:.0f}", (x + 12.0, y + 5.0), STRONG, Ink(theme.ink, theme.card)))
    height = bottom + AXIS_PX
    told = " ".join(look.say("noise_desc", name=name, value=value) for name, value in body)
    return Chart(
        svg.document((look.width_px, height), title, told or look.say("no_sound"), parts),
        height,
        Table(title, head, body),
    )


def _noise_words(axis: Axis, bottom: float, look: Look) -> str:
    """Marks of the scale, everyday words above it where they fit, the advice as a dashed line with its words."""
    theme, free = look.theme, -1e9
    parts: list[str] = []
    over: list[str] = []
    for mark in axis.marks():
        unit = "\u00a0dB(A)" if mark == axis.marks()[-1] else ""
        parts.append(text(f"{mark:g}{unit}", (axis.at(mark), bottom + 16.0), SMALL, theme.ink2, "middle"))
        key = f"noise_{mark:g}"
        if key not in look.words:
            continue
        word = look.say(key)
        half = width_px(word, SMALL) / 2.0
        if axis.at(mark) - half > free and axis.at(mark) + half < look.width_px:
            ink = Ink(theme.ink2, theme.card, "middle")
            over.append(draw(word, (axis.at(mark), NOISE_TOP_PX - 6.0), SMALL, ink))
            free = axis.at(mark) + half + 10.0
    x = axis.at(BED_ADVICE_DBA)
    parts.append(svg.line((x, NOISE_TOP_PX), (x, bottom), stroke=theme.ink, stroke_width=1.4, stroke_dasharray="5 4"))
    advice = look.say("noise_advice", value=f"{BED_ADVICE_DBA:.0f}")
    parts.append(draw(advice, (x, 14.0), STRONG, Ink(theme.ink, theme.card, "middle")))
    return "".join(parts + over)
