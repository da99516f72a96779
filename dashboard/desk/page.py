"""The desk page: its frame, which stays, and the regions that follow the open layout and the units."""

from __future__ import annotations

import json
import logging
from typing import Any

import dash_mantine_components as dmc
from dash import dcc, html
from dash.development.base_component import Component
from plotly.utils import PlotlyJSONEncoder as Plain

from compare.scoring.shown import families
from compare.units import System
from dashboard.components import Taps, Toggle
from dashboard.desk.air import budget_parts, path_parts, plan_part, schedule_part, walls_part
from dashboard.desk.charts import CONFIG
from dashboard.desk.curves import curves_part
from dashboard.desk.feasible import feasible_part
from dashboard.desk.files import papers_of
from dashboard.desk.filters import ALL, ORDERS, Filter
from dashboard.desk.issue import Issuer, issue_part
from dashboard.desk.layouts import pareto_figure
from dashboard.desk.loads import loads_part
from dashboard.desk.parts import section
from dashboard.desk.sources import assumptions_part, downloads_part, file_url
from dashboard.desk.study import Study
from dashboard.desk.told import judged
from dashboard.desk.trace import COLDEST, start_of, week_choices, week_figure, week_of
from dashboard.desk.units import checks_part, need_part, running_part, siting_parts, ways_part
from dashboard.role import within
from dashboard.session import Empty, Failed, Ready, Status, Working
from dashboard.table.choice import card_options
from dashboard.table.page import units_control
from dashboard.table.states import empty, failed, working
from dashboard.table.tap import button, named
from dashboard.table.text import DEMO, ESTIMATE
from dashboard.tokens import mantine_theme

REGIONS = ("options", "head", "left", "right", "below", "last")
POLL_MS = 700
_log = logging.getLogger("hplayouts.desk")
PLACES = (
    ("plan", "Plan"), ("need", "Need and output"), ("checks", "Checks"), ("loads", "Loads"), ("below", "Air and ducts"),
    ("outside", "Places"), ("all", "All layouts"), ("sure", "How sure"), ("trace", "Hours"), ("feasible", "Not taken"),
    ("curves", "Scores"), ("assumed", "Assumptions"), ("files", "Files"), ("issue", "Issue"),
)  # fmt: skip


def option_buttons(study: Study, option_id: str) -> list[Component]:
    """The main layouts, and the open one where it is another."""
    view = study.customer
    ids = [option.id for option in card_options(view)]
    if option_id not in ids:
        ids.append(option_id)
    return [button(study.names[key], f"open:{key}", pressed=key == option_id) for key in ids]


def head(study: Study, option_id: str, units: System) -> list[Component]:
    """The sentence and the thing to watch."""
    said = judged(study, option_id, units)
    lead = " ".join(part for part in (said.watch, said.certain) if part)
    crew = html.A(
        "Print crew sheet", href=file_url(option_id, "crew.pdf"), download="crew.pdf", className="button main"
    )
    has_crew = "crew.pdf" in papers_of(study, option_id)
    return [html.Div([html.H1(said.sentence), html.P(lead, className="lead")]), *([crew] if has_crew else [])]


def regions(study: Study, option_id: str, units: System) -> dict[str, Any]:
    """All that follows the open layout, as plain data; made once for each layout, units and state of the test."""
    key = option_id, units, study.tested.state, len(study.found.results)
    return dict(study.pages.get(key, lambda: json.loads(json.dumps(_regions(study, option_id, units), cls=Plain))))


def warm(study: Study) -> None:
    """Make the pages of the main layouts ready before anybody asks."""
    ids = [study.first, *(option.id for option in card_options(study.customer))]
    try:
        for option_id in dict.fromkeys(ids):
            regions(study, option_id, study.units)
    except Exception:
        _log.exception("a page of the desk could not be made ready")


def _regions(study: Study, option_id: str, units: System) -> dict[str, list[Component]]:
    view = study.design(option_id, units)
    ways, ducts, walls = ways_part(study, option_id, units), schedule_part(view, units), walls_part(view)
    return {
        "options": option_buttons(study, option_id),
        "head": head(study, option_id, units),
        "left": [plan_part(view), loads_part(study.loads, units, study.zones(option_id))],
        "right": [need_part(study, option_id, units), checks_part(view), *([ways] if ways else [])],
        "below": [
            *path_parts(view),
            *([ducts] if ducts else []),
            *budget_parts(view, units),
            *siting_parts(view, units),
            *([walls] if walls else []),
            running_part(study, option_id, units),
        ],
        "last": [
            feasible_part(study, view),
            curves_part(study, option_id),
            assumptions_part(study),
            downloads_part(study, option_id),
        ],
    }


def _select(key: str, label: str, value: str, data: list[tuple[str, str]]) -> Component:
    choices = [{"value": value, "label": words} for value, words in data]
    found: Component = dmc.Select(
        id=key, label=label, value=value, data=choices, allowDeselect=False, size="md", w=240,
        searchable=len(data) > 12,
        comboboxProps={"transitionProps": {"duration": 0}},
    )  # fmt: skip
    return found


def _layouts(study: Study) -> Component:
    kinds = [(ALL, "Every kind"), *((one.family, one.shown_as[:1].upper() + one.shown_as[1:]) for one in families())]
    price = dmc.NumberInput(
        id="most",
        label="Installed at most, $",
        value="",
        min=0,
        step=500,
        size="md",
        w=200,
        hideControls=True,
        debounce=400,
    )
    controls = html.Div(
        [
            _select("family", "Kind", ALL, kinds),
            price,
            _select("order", "Order", "fit", list(ORDERS.items())),
            Toggle(id="left-out", label="With those left out", detail="", yes="Yes", no="No", value=False),
        ],
        className="controls",
    )
    return section(
        "all",
        "All layouts: price against fit",
        "Solid: no other is at least as good on every criterion. Small dots: run on measures alone. "
        "A tap opens a layout.",
        dcc.Graph(id="pareto", figure=pareto_figure(study, Filter(), study.first), config=CONFIG, className="chart"),
        controls,
        html.Div(id="set"),
        html.Div(id="every-place"),
    )


def _trace(study: Study) -> Component:
    first = week_of(study, study.first, 0, start_of(study, COLDEST))
    rooms = [(f"{number}", room.name) for number, room in enumerate(study.found.case.plan.rooms)]
    controls = html.Div(
        [_select("room", "Room", "0", rooms), _select("week", "Week", COLDEST, week_choices(study))],
        className="controls",
    )
    return section(
        "trace",
        "Hour by hour",
        "One room in one week of the weather year, with the open layout.",
        controls,
        html.P(id="week-words", className="says", role="status"),
        dcc.Graph(id="hours", figure=week_figure(study, first, study.units), config=CONFIG, className="chart"),
        html.Div(id="days"),
    )


def board(study: Study, issuer: Issuer | None = None) -> Component:
    """Everything of a house with a comparison; the regions fill with the first answer."""
    house = study.customer.house
    mark = DEMO if house.demo else ESTIMATE if house.estimate else ""
    top = html.Header(
        [
            html.Div(
                [
                    html.Span(house.name, className="whose"), html.Span("design", className="quiet"),
                    *([html.Span(mark, className="mark")] if mark else []),
                ],
                className="house-name",
            ),
            units_control(study.units),
            button("Evening look", "look:dark", "button by-day"),
            button("Day look", "look:light", "button by-night"),
            html.A("Survey", href=f"/desk/survey/#{study.found.case.house.source.name}", className="button"),
            html.A("To the table", href=within("/"), className="button"),
        ],
        className="top",
    )  # fmt: skip
    places = html.Nav(
        [html.A(words, href=f"#{key}") for key, words in PLACES], className="places", **named("On this page")
    )
    return Taps(
        id="taps",
        className="desk",
        children=[
            dcc.Store(id="open", data=study.first),
            dcc.Store(id="grown", data=0),
            dcc.Interval(id="watch", interval=POLL_MS, disabled=True),
            top,
            html.Nav(id="options", className="options", **named("Layouts")),
            html.Div(id="head", className="head"),
            places,
            html.Main(
                [
                    html.Div([html.Div(id="left"), html.Div(id="right")], className="sides"),
                    html.Div(id="below"),
                    _layouts(study),
                    html.Div(id="sure-place"),
                    _trace(study),
                    html.Div(id="last"),
                    *([issue_part(issuer)] if issuer is not None else []),
                ]
            ),
        ],
    )


def body(status: Status, study: Study | None, issuer: Issuer | None = None) -> Component:
    """The page of a status."""
    if isinstance(status, Ready) and study is not None:
        return board(study, issuer)
    if isinstance(status, Failed):
        return failed(status)
    if isinstance(status, Empty):
        return empty()
    return working(status if isinstance(status, Working) else Working(0, 0))


def layout(status: Status, study: Study | None, issuer: Issuer | None = None) -> Component:
    """The whole page."""
    ready = isinstance(status, Ready) and study is not None
    page: Component = dmc.MantineProvider(
        id="look",
        theme=mantine_theme(),
        defaultColorScheme="auto",
        children=[
            dcc.Interval(id="tick", interval=POLL_MS, disabled=ready),
            html.Div(body(status, study, issuer), id="root"),
        ],
    )
    return page
