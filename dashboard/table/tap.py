"""What can be tapped: buttons that say what they mean, heard in one place."""

from __future__ import annotations

from typing import Any

from dash import html
from dash.development.base_component import Component

Inside = str | Component | list[Component]


def named(text: str) -> dict[str, Any]:
    """The name of a part of the page for readers who do not see it."""
    return {"aria-label": text}


def button(inside: Inside, tap: str, css: str = "", *, pressed: bool | None = None, label: str = "") -> Component:
    """A button. `tap` is what it says when tapped; `pressed` for one of several of which one is chosen."""
    told: dict[str, Any] = {"data-tap": tap}
    if pressed is not None:
        told["aria-pressed"] = str(pressed).lower()
    if label:
        told |= named(label)
    return html.Button(inside, className=css, **told)
