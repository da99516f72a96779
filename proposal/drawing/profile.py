"""How each layout does on what matters: a row for each thing that counts, a bar of 100 for each layout.

Points are shown to the nearest five, the bars with them: the method cannot tell less apart. The best of a row is bold.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from dataclasses import field as factory

from compare.views.customer import CustomerView, OptionCard
from proposal.drawing import svg
from proposal.drawing.chart import PLAIN, SMALL, STRONG, Bar, Chart, bar, bar_hatch, name_lines, name_of, text
from proposal.drawing.lettering import width_px
from proposal.drawing.look import Look, Table, recommended

STEP = 5.0
ROW_PX = 23.0
TOLD_ROW_PX = 37.0
"""With a second line that says what the row counts."""
BAR_PX = 11.0
LINE_PX = 17.0
GAP_PX = 10.0
VALUE_PX = 32.0
"""Room for `100` behind a bar."""
LEAST_COLUMN_PX = 74.0
MOST_LINES = 4


@dataclass(frozen=True, slots=True)
class ProfileWords:
    """Words of the chart: its title, the last row, and what stands there for a layout that is left out."""

    title: str
    together: str
    left_out: str
    counts: Mapping[str, str] = factory(default_factory=dict)
    """By criterion what its row counts, in a few words; nothing where it is not to be said."""


def to_step(points: float) -> float:
    """Points to the nearest five, halves away from nothing."""
    return STEP * int(points / STEP + 0.5)


def criteria_of(view: CustomerView, options: Sequence[OptionCard]) -> tuple[str, ...]:
    """What counts for the family and is known of every layout, the weightiest first."""
    known = [key for key, frac in view.weights.items() if frac > 0.0 and all(key in o.criteria for o in options)]
    return tuple(sorted(known, key=lambda key: -view.weights[key]))


@dataclass(frozen=True, slots=True)
class _Field:
    """Where the columns stand."""

    name_px: float
    column_px: float
    head_px: float
    hatch: str
    look: Look
    row_px: float = ROW_PX
    counts: Mapping[str, str] = factory(default_factory=dict)

    def x(self, column: int) -> float:
        return self.name_px + column * self.column_px

    @property
    def bed_px(self) -> float:
        """Width of a bar of 100."""
        return self.column_px - VALUE_PX - GAP_PX

    def y(self, row: int) -> float:
        """Middle of a row."""
        return self.head_px + self.row_px * (row + 0.5)


def _names(options: Sequence[OptionCard], names: Mapping[str, str], column_px: float) -> list[tuple[str, ...]]:
    return [name_lines(name_of(option.id, names), STRONG, column_px - GAP_PX, MOST_LINES) for option in options]


def _head(view: CustomerView, options: Sequence[OptionCard], lines: list[tuple[str, ...]], field: _Field) -> str:
    """Names over their columns, standing on one line."""
    theme, parts = field.look.theme, []
    for column, (option, own) in enumerate(zip(options, lines, strict=True)):
        ink = theme.plum if recommended(view, option) else theme.ink
        first = field.head_px - 8.0 - LINE_PX * (len(own) - 1)
        parts += [text(line, (field.x(column), first + LINE_PX * row), STRONG, ink) for row, line in enumerate(own)]
    return "".join(parts)


def _cell(points: float, at: tuple[int, int], field: _Field, *, ours: bool, best: bool) -> str:
    theme, (row, column) = field.look.theme, at
    x, y, top = field.x(column), field.y(row), field.y(row) - BAR_PX / 2.0
    bed = svg.tag(
        "rect", x=x, y=top, width=field.bed_px, height=BAR_PX, rx=3.5, fill="none", stroke=theme.line, stroke_width=1.0
    )
    end = x + field.bed_px * min(max(points, 0.0), 100.0) / 100.0
    body = bar(Bar(x, end, top, BAR_PX, ours), theme, field.hatch) if end > x else ""
    style = STRONG if best else SMALL
    ink = theme.ink if best else theme.ink2
    return bed + body + text(f"{points:.0f}", (x + field.bed_px + VALUE_PX, y + 4.8), style, ink, "end")


def _row(key: str, row: int, shown: Sequence[float], flags: Sequence[tuple[bool, bool]], field: _Field) -> str:
    """One row; `flags` say of each layout whether it is ours, and whether it is offered and may be the best."""
    look = field.look
    best = max((points for points, (_, offered) in zip(shown, flags, strict=True) if offered), default=None)
    up = 4.0 if key in field.counts else -4.8
    parts = [text(look.say(key), (0.0, field.y(row) - up), PLAIN, look.theme.ink)]
    if key in field.counts:
        parts.append(text(field.counts[key], (0.0, field.y(row) + 12.0), SMALL, look.theme.ink2))
    for column, (points, (ours, offered)) in enumerate(zip(shown, flags, strict=True)):
        parts.append(_cell(points, (row, column), field, ours=ours, best=offered and points == best))
    return "".join(parts)


def _last(options: Sequence[OptionCard], totals: Sequence[str], row: int, words: ProfileWords, field: _Field) -> str:
    """Fit of 100 under a line; `left out` where a layout is."""
    theme = field.look.theme
    y = field.y(row) + 6.0
    parts = [
        svg.line(
            (0.0, y - field.row_px / 2.0 - 1.0), (field.look.width_px, y - field.row_px / 2.0 - 1.0), stroke=theme.rule
        ),
        text(words.together, (0.0, y + 4.8), STRONG, theme.ink),
    ]
    for column in range(len(options)):
        at = (field.x(column) + field.bed_px + VALUE_PX, y + 4.8)
        parts.append(text(totals[column], at, STRONG, theme.ink, "end"))
    return "".join(parts)


def _name_px(criteria: Sequence[str], counts: Mapping[str, str], words: ProfileWords, look: Look) -> float:
    """Width of the names of the rows and of what they count."""
    names_px = [width_px(look.say(key), PLAIN) for key in criteria]
    return max(*names_px, *(width_px(told, SMALL) for told in counts.values()), width_px(words.together, STRONG)) + 16.0


def profile_chart(
    view: CustomerView, option_ids: Sequence[str], names: Mapping[str, str], words: ProfileWords, look: Look
) -> Chart:
    """Points of some layouts on everything that counts, side by side.

    Raises
    ------
    ValueError
        Where nothing that counts is known of every layout, or the picture is too narrow for its columns.
    """
    options = [view.option(option_id) for option_id in option_ids]
    criteria = criteria_of(view, options)
    if not options or not criteria:
        raise ValueError("profile_chart: nothing to show; give layouts that share a criterion with a weight")
    counts = {key: words.counts[key] for key in criteria if key in words.counts}
    name_px = _name_px(criteria, counts, words, look)
    column_px = (look.width_px - name_px + GAP_PX) / len(options)
    if column_px < LEAST_COLUMN_PX and counts:
        counts, name_px = {}, _name_px(criteria, {}, words, look)
        column_px = (look.width_px - name_px + GAP_PX) / len(options)
    if column_px < LEAST_COLUMN_PX:
        raise ValueError(f"profile_chart: {len(options)} layouts do not fit {look.width_px:.0f} px; give fewer")
    lines = _names(options, names, column_px)
    told = "|".join((*option_ids, *criteria))
    hatch = "c" + hashlib.sha256(f"{told}{look.width_px}{look.theme.name}".encode()).hexdigest()[:8]
    row_px = TOLD_ROW_PX if counts else ROW_PX
    field = _Field(name_px, column_px, LINE_PX * max(len(own) for own in lines) + 8.0, hatch, look, row_px, counts)
    flags = [(recommended(view, option), option.status != "left out") for option in options]
    totals = [words.left_out if option.status == "left out" else f"{option.total:.0f}" for option in options]
    parts = [svg.tag("defs", [bar_hatch(hatch, look.theme)]), _head(view, options, lines, field)]
    body = []
    for row, key in enumerate(criteria):
        shown = [to_step(option.criteria[key]) for option in options]
        parts.append(_row(key, row, shown, flags, field))
        body.append((look.say(key), *(f"{points:.0f}" for points in shown)))
    parts.append(_last(options, totals, len(criteria), words, field))
    body.append((words.together, *totals))
    height = field.y(len(criteria)) + row_px / 2.0 + 6.0
    head = (look.say("table_criterion"), *(name_of(option.id, names) for option in options))
    told = " ".join(f"{name_of(o.id, names)}: {total}." for o, total in zip(options, totals, strict=True))
    picture = svg.document((look.width_px, height), words.title, told, parts)
    return Chart(picture, height, Table(words.title, head, tuple(body)))
