"""Small parts of the page: buttons that say an event, fields of forms that add or begin something."""

from __future__ import annotations

import json
from typing import Any

from dash import html
from dash.development.base_component import Component

from dashboard.survey.fields import Choices, Spec
from dashboard.table.tap import named


def saying(inside: Any, css: str = "", *, pressed: bool | None = None, label: str = "", **event: Any) -> Component:  # noqa: ANN401
    """A button that says an event."""
    told: dict[str, Any] = {"data-say": json.dumps(event)}
    if pressed is not None:
        told["aria-pressed"] = str(pressed).lower()
    if label:
        told |= named(label)
    return html.Button(inside, className=css, type="button", **told)


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
