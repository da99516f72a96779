"""The frame that the table, the desk and the survey share: one HTML shell around a Dash app of our own files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from dash import Dash

_SHELL = """<!DOCTYPE html>
<html lang="en-US">
<head>
{%metas%}
<title>{%title%}</title>
<link rel="icon" href="/assets/house.svg">
<link rel="stylesheet" href="/look/fonts.css">
<link rel="stylesheet" href="/look/tokens.css">
STYLES{%css%}
</head>
<body>
{%app_entry%}
<noscript>This page needs scripts. All of them come from this computer.</noscript>
<footer>{%config%}{%scripts%}SCRIPTS{%renderer%}</footer>
</body>
</html>"""
COMPONENTS = "/assets/components.js"
"""The components of our own, which the table has among its assets and other pages ask for."""
_VIEWPORT = {"name": "viewport", "content": "width=device-width, initial-scale=1"}


@dataclass(frozen=True, slots=True)
class Paths:
    """Where the server answers, where browsers find it, and the folder of the page's own files."""

    routes: str
    requests: str
    assets: str = "assets"


def index_of(styles: Sequence[str] = (), scripts: Sequence[str] = ()) -> str:
    """The page around an app, with further style sheets and scripts of this server."""
    links = "".join(f'<link rel="stylesheet" href="{address}">\n' for address in styles)
    tags = "".join(f'<script src="{address}"></script>' for address in scripts)
    return _SHELL.replace("STYLES", links).replace("SCRIPTS", tags)


def shell_app(name: str, title: str, paths: Paths, index: str, **further: Any) -> Dash:  # noqa: ANN401
    """A Dash app in the shell: everything from this server, no word of being busy in the title.

    `name` is the module of the page, whose folder relative paths start from.
    """
    return Dash(
        name,
        routes_pathname_prefix=paths.routes,
        requests_pathname_prefix=paths.requests,
        assets_folder=paths.assets,
        title=title,
        update_title=None,  # type: ignore[arg-type]
        index_string=index,
        meta_tags=[_VIEWPORT],
        serve_locally=True,
        suppress_callback_exceptions=True,
        enable_mcp=False,
        **further,
    )
