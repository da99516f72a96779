"""The plan sheet: heading, the house as large as the sheet allows, own targets and the keys to the tints."""

from __future__ import annotations

from dataclasses import replace

from dash import html
from dash.development.base_component import Component

from dashboard.components import Drawing
from dashboard.session import Form
from dashboard.table.scene import Shown
from dashboard.table.text import SCENES
from proposal.drawing import svg
from proposal.drawing.frame import arrange
from proposal.drawing.legend import legend, outside_text, target_text
from proposal.drawing.look import Look, Scene, Table
from proposal.drawing.plan import PlanPicture, plan_picture, plan_table
from proposal.words import place
from proposal.words.options import LEFT_OUT

ROOM_PX = {
    (Form.PORTRAIT, False): (656.0, 326.0),
    (Form.PORTRAIT, True): (914.0, 420.0),
    (Form.LANDSCAPE, False): (562.0, 300.0),
    (Form.LANDSCAPE, True): (754.0, 322.0),
    (Form.NARROW, False): (332.0, 560.0),
    (Form.NARROW, True): (332.0, 900.0),
}
"""Width and height free for the house, by form of the page and whether it has storeys."""
LEAST_SHARE = 0.45
TRIES = 18


def fitting_width_px(shown: Shown, room_px: tuple[float, float]) -> float:
    """Largest width at which the house is no higher than its room; never below 45 % of the room's width."""
    widest_px, most_high_px = room_px
    view, drawing = shown.view, shown.on_plan.drawing

    def fits(width_px: float) -> bool:
        return arrange(view.plan, drawing, shown.look(width_px), 0.0).height_px <= most_high_px

    if fits(widest_px):
        return widest_px
    low, high = LEAST_SHARE * widest_px, widest_px
    for _ in range(TRIES):
        middle = (low + high) / 2.0
        low, high = (middle, high) if fits(middle) else (low, middle)
    return float(int(low))


def house_picture(shown: Shown) -> PlanPicture:
    """The house at the size that its sheet allows."""
    widest_px, most_high_px = ROOM_PX[shown.page.form, shown.several_levels]
    picture = _drawn(shown, (widest_px, most_high_px))
    over_px = picture.height_px - most_high_px
    return picture if over_px <= 1.0 else _drawn(shown, (widest_px, most_high_px - over_px))


def _drawn(shown: Shown, room_px: tuple[float, float]) -> PlanPicture:
    look = shown.look(fitting_width_px(shown, room_px))
    return plan_picture(shown.view, shown.on_plan.id, shown.page.scene, look)


def keys_svg(shown: Shown, look: Look) -> str:
    """The keys to the tints as a picture of their own."""
    scene = shown.page.scene
    strip = legend((), scene, look, f"keys-{look.theme.name}")
    return svg.document((look.width_px, strip.height_px), "Keys to the plan", look.say(scene.value), [strip.svg])


def sheet_title(shown: Shown) -> str:
    """Season and hour; for an option other than the recommended one its name comes first."""
    option, look = shown.on_plan, shown.look(1.0)
    moment = look.say(shown.page.scene.value)
    if option.id == shown.view.answer.winner:
        return moment
    name = shown.name(option, short=True)
    return f"{name}: not enough here" if option.status == LEFT_OUT else name


def sheet_note(shown: Shown) -> str:
    """Outdoor temperature; with the hour in front where the heading names an option."""
    look = shown.look(1.0)
    outside = outside_text(shown.view, shown.page.scene, look)
    if shown.on_plan.id == shown.view.answer.winner:
        return outside
    return ", ".join(part for part in (SCENES[shown.page.scene].lower(), outside) if part)


def table_of(values: Table) -> Component:
    """The values of a picture for readers who do not see it."""
    head = html.Thead(html.Tr([html.Th(text, scope="col") for text in values.head]))
    rows = [html.Tr([html.Th(row[0], scope="row"), *(html.Td(cell) for cell in row[1:])]) for row in values.rows]
    return html.Table([html.Caption(values.caption), head, html.Tbody(rows)], className="unseen")


def scene_chooser(shown: Shown) -> Component:
    """Which moment the plan shows."""
    scenes = [
        html.Button(
            words,
            className="chip small",
            **{"data-tap": f"scene:{scene.value}", "aria-pressed": str(scene is shown.page.scene).lower()},
        )
        for scene, words in SCENES.items()
    ]
    return html.Div(scenes, className="scenes", role="group", **{"aria-label": "Moment shown on the plan"})


def plan_sheet(shown: Shown) -> list[Component]:
    """All of the sheet."""
    picture = house_picture(shown)
    width_px, _ = ROOM_PX[shown.page.form, shown.several_levels]
    look = replace(shown.look(width_px), legend=True)
    words = shown.told.words
    return [
        html.Div(
            [
                html.H2(sheet_title(shown)),
                html.Span(place(shown.view, shown.on_plan, words), className="sheet-place"),
                html.Span(sheet_note(shown), className="sheet-note"),
            ],
            className="sheet-head",
        ),
        Drawing(svg=picture.svg, className="house"),
        html.P(target_text(shown.view, shown.on_plan, shown.page.scene, look), className="targets"),
        Drawing(svg=keys_svg(shown, look), hidden=True, className="keys"),
        table_of(plan_table(shown.view, shown.on_plan.id, shown.page.scene, look)),
    ]


def scene_of(text: str) -> Scene:
    """A scene as it came from a browser; raises `ValueError` for another word."""
    return Scene(text)
