"""The plan sheet: heading, the house as large as the sheet allows, own targets and the keys to the tints."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from functools import lru_cache

from dash import html
from dash.development.base_component import Component

from dashboard.components import Drawing
from dashboard.session import Form, Page, Question
from dashboard.table.keys import keys
from dashboard.table.scene import Shown
from dashboard.table.tap import button, named
from dashboard.table.text import SCENES, SCENES_SHORT
from proposal.drawing.frame import Arrangement, arrange
from proposal.drawing.legend import outside_text, target_text
from proposal.drawing.look import Table
from proposal.drawing.plan import PlanPicture, plan_picture, plan_table
from proposal.words import weak_point
from proposal.words.options import LEFT_OUT

ROOM_PX = {
    (Form.PORTRAIT, False): (656.0, 366.0),
    (Form.PORTRAIT, True): (914.0, 420.0),
    (Form.LANDSCAPE, False): (538.0, 312.0),
    (Form.LANDSCAPE, True): (816.0, 400.0),
    (Form.NARROW, False): (332.0, 560.0),
    (Form.NARROW, True): (332.0, 900.0),
}
"""Width and height free for the house, by form of the page and whether it has storeys."""
WEAK_PX = 22.0
MOST_PICTURES = 64
DRAWN = {"id", "drawing", "rooms", "status", "faults", "facts"}
"""All of an option that its picture may show."""
LEAST_SHARE = 0.45
MOST_OVER_PERCENT = 10
"""How much wider than its place a picture may be drawn, and shrunk by the browser."""
TRIES = 18


def _arranged(shown: Shown, width_px: float) -> Arrangement:
    return arrange(shown.view.plan, shown.on_plan.drawing, shown.look(width_px), 0.0)


def _side_by_side(shown: Shown, width_px: float) -> bool:
    return len({frame.cell.y0 for frame in _arranged(shown, width_px).levels}) == 1


def drawn_width_px(shown: Shown, widest_px: float) -> float:
    """Width to draw at: a little more than there is where only that lets storeys stand side by side."""
    if shown.page.form is not Form.NARROW:
        steps = (widest_px * (1.0 + 0.01 * step) for step in range(MOST_OVER_PERCENT + 1))
        return next((float(int(width)) for width in steps if _side_by_side(shown, width)), widest_px)
    return widest_px


def fitting_width_px(shown: Shown, room_px: tuple[float, float]) -> float:
    """Largest width at which the house is no higher than its room; never below 45 % of the room's width."""
    widest_px, most_high_px = drawn_width_px(shown, room_px[0]), room_px[1]

    def fits(width_px: float) -> bool:
        return _arranged(shown, width_px).height_px <= most_high_px

    if fits(widest_px):
        return widest_px
    low, high = LEAST_SHARE * widest_px, widest_px
    for _ in range(TRIES):
        middle = (low + high) / 2.0
        low, high = (middle, high) if fits(middle) else (low, middle)
    return float(int(low))


class _Seen:
    """What a drawing shows, as a key: views of other priorities that show the same share one picture."""

    __slots__ = ("content", "shown")

    def __init__(self, shown: Shown) -> None:
        view, option = shown.view, shown.on_plan
        state = f"{shown.recommended(option)}{bool(weak_line(shown))}{shown.several_levels}"
        told = (view.house.model_dump_json(), view.plan.model_dump_json(), option.model_dump_json(include=DRAWN), state)
        self.content = hashlib.sha256("|".join(told).encode()).digest()
        self.shown = shown

    def __hash__(self) -> int:
        return hash(self.content)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Seen) and other.content == self.content


def house_picture(shown: Shown) -> PlanPicture:
    """The house at the size that its sheet allows; the latest pictures are kept."""
    plain = Page(Question(()), shown.page.form, shown.page.units, scene=shown.page.scene, shown=shown.on_plan.id)
    return _picture(_Seen(replace(shown, page=plain)), plain)


@lru_cache(maxsize=MOST_PICTURES)
def _picture(seen: _Seen, page: Page) -> PlanPicture:
    shown = seen.shown
    widest_px, most_high_px = ROOM_PX[page.form, shown.several_levels]
    if weak_line(shown):
        most_high_px -= WEAK_PX
    picture = _drawn(shown, (widest_px, most_high_px))
    over_px = picture.height_px - most_high_px
    return picture if over_px <= 1.0 else _drawn(shown, (widest_px, most_high_px - over_px))


def _drawn(shown: Shown, room_px: tuple[float, float]) -> PlanPicture:
    look = shown.look(fitting_width_px(shown, room_px))
    return plan_picture(shown.view, shown.on_plan.id, shown.page.scene, look)


def sheet_title(shown: Shown) -> str:
    """Season and hour; for an option other than the recommended one its name comes first."""
    option, look = shown.on_plan, shown.look(1.0)
    moment = look.say(shown.page.scene.value)
    if shown.recommended(option):
        return moment
    name = shown.name(option, short=True)
    return f"{name}: not enough here" if option.status == LEFT_OUT else name


def sheet_note(shown: Shown) -> str:
    """Outdoor temperature; with the hour in front where the heading names an option."""
    look = shown.look(1.0)
    outside = outside_text(shown.view, shown.page.scene, look)
    if shown.recommended(shown.on_plan):
        return outside
    return ", ".join(part for part in (SCENES[shown.page.scene].lower(), outside) if part)


def weak_line(shown: Shown) -> str:
    """Where the option on the plan loses; only where its card has no room for that, and not for the recommended one."""
    if not shown.landscape or shown.recommended(shown.on_plan):
        return ""
    return weak_point(shown.on_plan, shown.told)


def table_of(values: Table) -> Component:
    """The values of a picture for readers who do not see it."""
    head = html.Thead(html.Tr([html.Th(text, scope="col") for text in values.head]))
    rows = [html.Tr([html.Th(row[0], scope="row"), *(html.Td(cell) for cell in row[1:])]) for row in values.rows]
    return html.Div(html.Table([html.Caption(values.caption), head, html.Tbody(rows)]), className="unseen")


def scene_chooser(shown: Shown) -> Component:
    """Which moment the plan shows."""
    scenes = [
        button(words, f"scene:{scene.value}", "chip small", pressed=scene is shown.page.scene)
        for scene, words in (SCENES_SHORT if shown.landscape else SCENES).items()
    ]
    return html.Div(scenes, className="scenes", role="group", **named("Moment shown on the plan"))


def plan_sheet(shown: Shown) -> list[Component]:
    """All of the sheet."""
    picture = house_picture(shown)
    width_px, _ = ROOM_PX[shown.page.form, shown.several_levels]
    look = replace(shown.look(width_px), legend=True)
    return [
        html.Div(
            [
                html.H2(sheet_title(shown)),
                html.Span(sheet_note(shown), className="sheet-note"),
            ],
            className="sheet-head",
        ),
        *([html.P(weak, className="weak")] if (weak := weak_line(shown)) else []),
        Drawing(svg=picture.svg, className="house"),
        html.P(target_text(shown.view, shown.on_plan, shown.page.scene, look), className="targets"),
        keys(shown),
        table_of(plan_table(shown.view, shown.on_plan.id, shown.page.scene, look)),
    ]
