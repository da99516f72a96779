"""Set points and the price of electricity: a row that tells them, and a panel in which they are stepped or typed."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.units import System
from dashboard.components import Stepper
from dashboard.habits import Habit, Habits, scale_of, shown, stepped
from dashboard.session import Panel
from dashboard.table.scene import Shown
from dashboard.table.tap import button, named
from dashboard.table.text import NUMBERS, ON_WALL
from dashboard.table.undo import number_words

ROWS: tuple[tuple[Habit, str, str], ...] = (
    (Habit.HEATING, "Heat to", "day and night in winter"),
    (Habit.COOLING, "Cool to", "on hot days"),
    (Habit.RATE, "Price of electricity", "cents a kWh, from your bill"),
)
HELP = (
    "The units stay the size that they are planned for; the year is worked out again at these temperatures. "
    "A price of power changes the bills and nothing else."
)
OWN = "Back to the house's own numbers"


def habits_row(told: Shown) -> list[Component]:
    """The numbers in one line, and the photo of a wall; a tap opens either."""
    question = told.page.waiting or told.page.question
    wall = _row(told, Panel.WALL, html.Span(ON_WALL, className="toggle-label"), ON_WALL)
    if question.habits is None:
        return [wall]
    line = " · ".join(number_words(question, habit, told.page.units) for habit, _, _ in ROWS)
    text: list[Component] = [html.Span(NUMBERS, className="toggle-label"), html.Span(line, className="toggle-detail")]
    return [_row(told, Panel.NUMBERS, text, f"{NUMBERS}: {line}"), wall]


def _row(told: Shown, which: Panel, text: Component | list[Component], label: str) -> Component:
    is_open = told.page.panel is which
    inside = html.Span(text, className="toggle-text")
    return button(inside, f"panel:{'' if is_open else which.value}", "row-button", pressed=is_open, label=label)


def stepper(habits: Habits, row: tuple[Habit, str, str], units: System) -> Component:
    """One number with its two buttons."""
    habit, label, detail = row
    scale = scale_of(habits, habit, units)
    return Stepper(
        label=label,
        detail=detail,
        tap=f"set:{habit.value}:",
        value=shown(habits, habit, units),
        down=stepped(habits, habit, -1, units),
        up=stepped(habits, habit, 1, units),
        least=scale.least,
        most=scale.most,
        unit=scale.unit,
    )


def numbers_panel(told: Shown, own: Habits | None) -> list[Component]:
    """All three, what the last change did, what they mean, and the way back."""
    question = told.page.waiting or told.page.question
    if question.habits is None:
        return []
    steppers = [stepper(question.habits, row, told.page.units) for row in ROWS]
    back = [button(OWN, "numbers:own", "button")] if own is not None and question.habits != own else []
    change = [html.P(told.page.change, className="stroke turn")] if told.page.change else []
    return [
        *change,
        html.Div(steppers, className="steppers", role="group", **named(NUMBERS)),
        html.Div([html.P(HELP, className="quiet"), *back], className="panel-foot"),
    ]
