"""Small parts of the page: buttons that say an event, fields of forms that add or begin something."""

from __future__ import annotations

import json
from typing import Any

from dash import html
from dash.development.base_component import Component

from dashboard.survey.fields import Choices, Spec
from dashboard.table.tap import Inside


def saying(
    inside: Inside, css: str = "", *, pressed: bool | None = None, enabled: bool = True, **event: str | bool
) -> Component:
    """A button that says an event."""
    told: dict[str, Any] = {"data-say": json.dumps(event)}
    if pressed is not None:
        told["aria-pressed"] = str(pressed).lower()
    return html.Button(inside, className=css, type="button", disabled=not enabled, **told)


def switch(words: str, *, on: bool, what: str) -> Component:
    """A switch that says yes or no in words."""
    track = html.Span([html.Span("Yes" if on else "No"), html.Span(className="knob")], className="track")
    told: dict[str, Any] = {"data-say": json.dumps({"what": what, "on": not on}), "aria-checked": str(on).lower()}
    return html.Button([html.Span(words), track], className="switch", type="button", role="switch", **told)


def form_field(
    key: str, label: str, *, value: str = "", choices: Choices = (), unit: str = "", ghost: str = ""
) -> Spec:
    """A field of a form: it belongs to no place of the file yet."""
    listed = [list(choice) for choice in choices]
    return {
        "id": key,
        "label": label,
        "kind": "choice" if listed else "text",
        "value": value or (listed[0][0] if listed else ""),
        "unit": unit,
        "choices": listed,
        "ghost": ghost,
        "fault": "",
        "wide": False,
        "empty": False,
        "figures": bool(unit),
        "mark": "",
    }
