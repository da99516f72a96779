"""The plan sheet with a tool in hand: the answer over the plan, the glass on it, lists for whoever does not point."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from dash import html
from dash.development.base_component import Component

from compare.views.tried import PieceTarget, Targets, TriedView
from dashboard.components import Drawing
from dashboard.pointing import PointedHouse
from dashboard.session import Form
from dashboard.table.keys import keys
from dashboard.table.plan import ROOM_PX, fitting_width_px, house_picture, plan_sheet, sheet_note, table_of
from dashboard.table.scene import Shown
from dashboard.table.seat_words import piece_words, place_words, story_words
from dashboard.table.tap import button, named
from dashboard.table.touch import Chooser, glass
from dashboard.table.tried_words import answer, beneath, heading
from dashboard.tool import Tool
from proposal.drawing.frame import arrange
from proposal.drawing.legend import target_text
from proposal.drawing.plan import PlanPicture, plan_picture, plan_table
from proposal.words import capital, name

WHY_NOT_HERE = "Why not a unit here?"
WE_SIT_HERE = "We sit here"
TOOLS = {Tool.WALL: WHY_NOT_HERE, Tool.SEAT: WE_SIT_HERE}
START = {
    Tool.WALL: "Tap a wall of any room. We hang a unit there and run it through the year.",
    Tool.SEAT: "Tap a bed or a seat, then tap where it should stand. You can drag it too.",
}
PUT_THERE = "Now tap where it should stand, or choose a place."
PUT_AWAY = {Tool.WALL: "Put it away", Tool.SEAT: "Done"}
PUT_BACK = "Put it back"
ALONE = "Only this unit"
ROOMY_PX = (538.0, 404.0)
"""Width and height free for the house where the answer stands beside it."""


def tool_chips(shown: Shown) -> Component:
    """The two tools; the one in hand is pressed, and a tap on it puts it away."""
    now = shown.page.pointing.tool
    chips = [
        button(words, f"tool:{Tool.NONE if tool is now else tool}", "chip small", pressed=tool is now)
        for tool, words in TOOLS.items()
    ]
    return html.Div(chips, className="tools", role="group", **named("Try it on the plan"))


def tools_in_sheet(shown: Shown) -> bool:
    """Whether the tools stand under the plan; else they follow the moments, where the arrangement has room."""
    return shown.page.form is Form.PORTRAIT


def plan_with_tools(shown: Shown, house: PointedHouse) -> list[Component]:
    """The plan sheet, with a tool in hand or with the tools beside it."""
    if shown.page.pointing.tool is not Tool.NONE:
        return pointed_sheet(shown, house)
    parts = plan_sheet(shown)
    return [*parts[:-3], tool_chips(shown), *parts[-3:]] if tools_in_sheet(shown) else parts


def tried_of(shown: Shown, house: PointedHouse) -> TriedView | None:
    """The unit on the wall that was pointed at; None where none was."""
    pointing = shown.page.pointing
    if pointing.tool is not Tool.WALL or pointing.spot is None:
        return None
    return house.tried(shown.page.question, pointing.spot, shown.on_plan.id if pointing.beside else "")


def _shown_with(shown: Shown, tried: TriedView | None) -> Shown:
    """The page with the tried layout on the plan."""
    if tried is None or tried.card is None:
        return shown
    view = shown.view.model_copy(update={"options": (*shown.view.options, tried.card)})
    return Shown(view, replace(shown.page, shown=tried.card.id))


def answers_beside(shown: Shown) -> bool:
    """Whether the answer stands where the questions stand, beside the plan; else over the plan."""
    return shown.landscape and not shown.several_levels


def pointed_sheet(shown: Shown, house: PointedHouse) -> list[Component]:
    """All of the sheet while a tool is in hand."""
    tool = shown.page.pointing.tool
    tried, targets = tried_of(shown, house), house.targets(shown.page.question)
    on_plan = _shown_with(shown, tried)
    title = heading(tried) if tried is not None else TOOLS[tool]
    told = [] if answers_beside(shown) else [pointed_part(shown, house)]
    return [
        html.Div([html.H2(title), html.Span(sheet_note(on_plan), className="sheet-note")], className="sheet-head"),
        *told,
        *_picture(on_plan, tried, targets),
    ]


def pointed_part(shown: Shown, house: PointedHouse) -> Component:
    """The answer, the lists, and the way back."""
    tool, targets = shown.page.pointing.tool, house.targets(shown.page.question)
    if tool is Tool.WALL:
        told, lists = _wall_answer(shown, tried_of(shown, house)), _wall_lists(shown, targets)
    else:
        told, lists = _seat_answer(shown, targets, house), _seat_lists(shown, targets)
    away = button(PUT_AWAY[tool], f"tool:{Tool.NONE}", "chip")
    return html.Div([told, html.Div([*lists, away], className="pointed-row")], className="pointed")


def asked_or_pointed(shown: Shown, house: PointedHouse, asked: list[Component]) -> list[Component]:
    """What stands under *You may ask*: the questions, or in their place the answer to what was pointed at."""
    if shown.page.pointing.tool is Tool.NONE or not answers_beside(shown):
        return asked
    return [pointed_part(shown, house)]


def _roomy(shown: Shown) -> PlanPicture:
    """The house as large as the sheet is beside an answer."""
    look = shown.look(fitting_width_px(shown, ROOMY_PX))
    return plan_picture(shown.view, shown.on_plan.id, shown.page.scene, look)


def _picture(shown: Shown, tried: TriedView | None, targets: Targets) -> list[Component]:
    page, option = shown.page, shown.on_plan
    picture = _roomy(shown) if answers_beside(shown) else house_picture(shown)
    look = shown.look(picture.width_px)
    frames = arrange(shown.view.plan, option.drawing, look, 0.0).levels
    cross = (tried.level, tried.at_m) if tried is not None and tried.card is None else None
    pieces: tuple[PieceTarget, ...] = targets.pieces if page.pointing.tool is Tool.SEAT else ()
    over = glass(
        frames, (picture.width_px, picture.height_px), page.pointing.tool, (pieces, page.pointing.piece, cross)
    )
    legend = replace(shown.look(ROOM_PX[page.form, shown.several_levels][0]), legend=True)
    place = html.Div([Drawing(svg=picture.svg), over], className="house-place")
    chips = [tool_chips(shown)] if tools_in_sheet(shown) else []
    return [
        html.Div(place, className="house"),
        *chips,
        html.P(target_text(shown.view, option, page.scene, legend), className="targets"),
        keys(shown),
        table_of(plan_table(shown.view, option.id, page.scene, legend)),
    ]


def _said(text: str, small: str = "") -> Component:
    lines = [html.P(text, className="says"), *([html.P(small, className="beneath-says")] if small else [])]
    return html.Div(lines, className="stroke", role="status")


def _wall_answer(shown: Shown, tried: TriedView | None) -> Component:
    if tried is None:
        return _said(START[Tool.WALL])
    hot = shown.page.scene.summer
    return _said(answer(tried, shown.told, hot=hot), beneath(tried, shown.told, hot=hot))


def _seat_answer(shown: Shown, targets: Targets, house: PointedHouse) -> Component:
    number, question = shown.page.pointing.piece, shown.page.question
    piece = next((one for one in targets.pieces if one.piece == number), None)
    if piece is None:
        return _said(START[Tool.SEAT])
    said = f"{capital(piece_words(piece, targets))} stands {place_words(piece.by_wall)}."
    if not piece.moved:
        return _said(f"{said} {PUT_THERE}")
    return _said(said, story_words(house.story(question, shown.on_plan.id, piece.piece), piece, targets, shown.told))


def _wall_lists(shown: Shown, targets: Targets) -> list[Component]:
    pointing = shown.page.pointing
    rooms: dict[int, dict[str, Any]] = {}
    for wall in targets.walls:
        group = rooms.setdefault(wall.room, {"label": name(wall.room_name), "options": []})
        behind = f" to {name(wall.beyond)}" if wall.beyond else ""
        words = f"{name(wall.room_name)}, {wall.facing} wall{behind}"
        group["options"].append({"value": f"wall:{wall.room}.{wall.wall}", "label": words})
    now = "" if pointing.spot is None else f"wall:{pointing.spot.room}.{pointing.spot.wall}"
    found: list[Component] = [
        Chooser(label="Or choose a wall", options=[{"value": "", "label": "Choose a wall"}, *rooms.values()], value=now)
    ]
    if pointing.spot is not None:
        added = f"Added to {_lower(shown.name(shown.on_plan, short=True))}"
        found += [
            button(ALONE, "with:no", "chip", pressed=not pointing.beside),
            button(added, "with:yes", "chip", pressed=pointing.beside),
        ]
    return found


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _seat_lists(shown: Shown, targets: Targets) -> list[Component]:
    number = shown.page.pointing.piece
    options = [{"value": f"piece:{one.piece}", "label": _listed(one)} for one in targets.pieces]
    now = "" if number is None else f"piece:{number}"
    found: list[Component] = [
        Chooser(label="Bed or seat", options=[{"value": "", "label": "Choose a bed or seat"}, *options], value=now)
    ]
    piece = next((one for one in targets.pieces if one.piece == number), None)
    if piece is None:
        return found
    places = [
        {"value": f"put:{piece.piece},{x_m:.2f},{y_m:.2f}", "label": capital(place_words(choice.facing))}
        for choice in piece.choices
        for x_m, y_m in [choice.at_m]
    ]
    here = next((one["value"] for one in places if one["value"] == _put_at(piece)), "")
    found.append(Chooser(label="Place", options=[{"value": "", "label": "Choose a place"}, *places], value=here))
    if piece.moved:
        found.append(button(PUT_BACK, f"back:{piece.piece}", "chip"))
    return found


def _put_at(piece: PieceTarget) -> str:
    return f"put:{piece.piece},{piece.at_m[0]:.2f},{piece.at_m[1]:.2f}"


def _listed(piece: PieceTarget) -> str:
    return f"{name(piece.room_name)}: {piece.kind}"


def moved_rows(targets: Targets) -> list[Component]:
    """Beds and seats that stand elsewhere for now, each with a button that puts it back."""
    rows: list[Component] = []
    for piece in targets.pieces:
        if piece.moved:
            words = f"{capital(piece_words(piece, targets)).removeprefix('The ')} {place_words(piece.by_wall)}"
            back = button("Put back", f"back:{piece.piece}", "chip", label=f"Put back {piece_words(piece, targets)}")
            rows.append(html.Div([html.P(capital(words)), back], className="moved-row"))
    return rows
