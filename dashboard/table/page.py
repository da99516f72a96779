"""The frame of the page: what stays in place while answers change."""

from __future__ import annotations

import dash_mantine_components as dmc
from dash import dcc, html
from dash.development.base_component import Component

from compare.units import System
from dashboard.components import Screen, Taps
from dashboard.role import within
from dashboard.session import Failed, Ready, Status, Working
from dashboard.store import new_name
from dashboard.table.controls import priority_rows, switches
from dashboard.table.states import empty, failed, working
from dashboard.table.tap import named
from dashboard.table.text import ASK, MATTERS, TO_DESK, WHAT_IF
from dashboard.tokens import mantine_theme

POLL_MS = 600
WAIT_MS = 400


def units_control(units: System) -> Component:
    """Fahrenheit or Celsius."""
    control: Component = dmc.SegmentedControl(
        id="units",
        value=units.value,
        data=[{"value": "US", "label": "°F"}, {"value": "SI", "label": "°C"}],
        classNames={"root": "units", "label": "units-label", "indicator": "units-indicator"},
        transitionDuration=0,
        **named("Units"),
    )
    return control


def board(status: Ready, units: System) -> Component:
    """Everything of a house with answers; the regions fill with the first answer."""
    return Taps(
        id="taps",
        className="board",
        children=[
            Screen(id="screen"),
            dcc.Interval(id="wait", interval=WAIT_MS, disabled=True),
            html.Header(
                [html.Div(id="house-name", className="house-name"), units_control(units), html.Div(id="buttons")],
                className="top",
            ),
            html.Div(id="work", className="work"),
            html.Div(id="stale", className="stale", role="status"),
            html.Main(
                [
                    html.Section(id="head", className="head"),
                    html.Div(id="back", className="back-place"),
                    html.Section(id="plan", className="sheet", **named("Plan")),
                    html.Div(
                        [
                            html.Section(
                                [
                                    html.H2(WHAT_IF),
                                    html.Div(switches(status.question, status.offers), className="switches"),
                                ]
                            ),
                            html.Div(id="habits", className="habits"),
                            html.Div(id="turn", role="status"),
                        ],
                        className="what-if",
                    ),
                    html.Section(id="scenes", className="scenes-place"),
                    html.Section(id="panel", className="panel"),
                    html.Section(id="cards", className="cards", **named("Layouts")),
                    html.Div(
                        [
                            html.Section(
                                [html.H2(MATTERS), html.Div(priority_rows(status.question), className="rows")],
                                className="matters",
                            ),
                            html.Section([html.H2(ASK), html.Div(id="ask")], className="ask"),
                        ],
                        className="bottom",
                    ),
                    html.Section(id="also", className="also"),
                ],
                id="main",
            ),
        ],
    )


def body(status: Status, units: System) -> Component:
    """The page of a status."""
    if isinstance(status, Ready):
        return board(status, units)
    if isinstance(status, Working):
        return working(status)
    return failed(status) if isinstance(status, Failed) else empty()


def layout(status: Status, units: System, *, desk: bool = False) -> Component:
    """The whole page; the browser gets a session name and nothing else to keep. `desk`: with a way to the desk."""
    way = [html.Nav(html.A(TO_DESK, href=within("/desk/"), className="button"), className="to-desk")] if desk else []
    page: Component = dmc.MantineProvider(
        id="look",
        theme=mantine_theme(),
        defaultColorScheme="auto",
        children=[
            dcc.Store(id="name", data=new_name()),
            dcc.Interval(id="tick", interval=POLL_MS, disabled=isinstance(status, Ready)),
            html.Div(body(status, units), id="root"),
            *way,
        ],
    )
    return page
