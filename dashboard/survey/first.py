"""The first screen: a new house of a type or without rooms, or one of the folder."""

from __future__ import annotations

from typing import Any

from dash import html

from dashboard.survey.begin import house_types
from dashboard.survey.components import Sheet
from dashboard.survey.fields import Spec
from dashboard.survey.parts import form_field, saying
from dashboard.survey.small import small_house
from dashboard.survey.work import Look, Survey


def start_form() -> Spec:
    """How a new house begins."""
    types = [[one.key, f"{one.name}, {one.area_u2:,.0f} ft²", small_house(one.raw)] for one in house_types()]
    pictures = {
        **form_field("type", "Begin with", choices=[(key, words) for key, words, _ in types]),
        "kind": "pictures",
        "choices": [*types, ["blank", "An empty plan", small_house({})]],
    }
    fields = [
        pictures,
        form_field("name", "Name of the house", ghost="as its owner calls it"),
        form_field("zip", "ZIP code"),
        form_field("area", "Floor area, if known", ghost="as drawn"),
        form_field("built", "Year built"),
        form_field("units", "Units", choices=(("US", "feet and °F"), ("SI", "meters and °C"))),
    ]
    add = {"form": "start", "what": "start", "button": "Begin this house", "fields": fields, "main": True}
    line = "The types are invented. Choose the nearest; its rooms are then moved and measured on the spot."
    return {"key": "new", "title": "A new house", "line": line, "rows": [], "adds": [add]}


def first_screen(survey: Survey, look: Look) -> dict[str, Any]:
    """Everything that the first screen shows, by region."""
    names, drafts = survey.shelf.names(), survey.shelf.drafts()
    houses = []
    for name in sorted({*names, *drafts}):
        state = "" if name not in drafts else "not saved yet" if name not in names else "with changes not saved yet"
        houses.append(
            html.Li(
                saying(
                    [html.B(name.removesuffix(".toml")), html.Span(state, className="quiet")],
                    "house-row",
                    what="open",
                    file=name,
                )
            )
        )
    note = (
        [html.P(look.note, className="note-line wrong" if look.wrong else "note-line", role="status")]
        if look.note
        else []
    )
    listed = (
        html.Ul(houses, className="houses") if houses else html.P("This folder has no house yet.", className="explains")
    )
    start = [
        html.H1("Which house do you survey?", className="start-title"),
        html.P(
            "A tape, the power bills and about 20 minutes. What you enter is kept on this computer at each step.",
            className="lead",
        ),
        *note,
        html.Div(
            [
                html.Section(Sheet(id="begin", sections=[start_form()], folds=False), className="begin"),
                html.Section([html.H2("Houses of this folder"), listed], className="part"),
            ],
            className="start-sides",
        ),
    ]
    top = [
        html.Div([html.Span("Survey", className="whose")], className="house-name"),
        html.A("Leave the survey", href="/", className="button"),
    ]
    return {
        "heard": look.heard,
        "seen": -1,
        "file": "",
        "waiting": False,
        "editor": "editor away",
        "top": top,
        "start": start,
        "head": [],
        "tools": [],
        "under": [],
        "svg": "",
        "frame": {},
        "tool": "choose",
        "unit": "ft",
        "step": 0.5,
        "card": [],
        "side": [],
        "loads": [],
        "sheet": [],
    }
