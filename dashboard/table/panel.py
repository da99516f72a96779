"""What lies open between the plan and the cards: one thing at a time, with a way to close it."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from dashboard.session import Panel, Ready, TableSource
from dashboard.table.beside import beside_panel, beside_title
from dashboard.table.numbers import numbers_panel
from dashboard.table.on_wall import wall_panel
from dashboard.table.scene import Shown
from dashboard.table.tap import button
from dashboard.table.text import CLOSE, NUMBERS, ON_WALL


def panel(shown: Shown, source: TableSource) -> list[Component]:
    """The open panel; nothing where none is open."""
    which = shown.page.panel
    if which is Panel.NONE:
        return []
    if which is Panel.NUMBERS:
        status = source.status()
        own = status.question.habits if isinstance(status, Ready) else None
        title, inside = NUMBERS, numbers_panel(shown, own)
    elif which is Panel.COMPARE:
        title, inside = beside_title(shown), beside_panel(shown, source)
    else:
        title, inside = ON_WALL, wall_panel(shown)
    if not inside:
        return []
    head = html.Div([html.H2(title), button(CLOSE, "panel:", "button small")], className="panel-head")
    return [html.Div([head, *inside], className=f"panel-inside panel-{which.value}")]
