"""The kitchen-table page as a Dash app: a frame, two calls, headers and limits. All it shows is a `CustomerView`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import flask
from dash import ALL, Dash, Input, Output, State, no_update
from werkzeug.exceptions import BadRequest, NotFound

from dashboard import tokens
from dashboard.desk.gate import DESK, asked_here, keep_desk_here
from dashboard.guard import protect
from dashboard.session import Ready, TableSource
from dashboard.shell import Paths, index_of, shell_app
from dashboard.table.desk import PROPOSAL_PATH, Proposer, Table, main_classes, put_back, regions
from dashboard.table.hear import Heard
from dashboard.table.page import body, layout
from proposal.fonts import web_folder

if TYPE_CHECKING:
    from dashboard.desk.study import DeskSource

REGIONS = (
    "stale", "house-name", "buttons", "back", "work", "head", "plan", "habits", "turn", "scenes", "panel", "cards",
    "ask", "also",
)  # fmt: skip


def _values(ids: list[dict[str, str]], values: list[Any]) -> dict[str, Any]:
    if len(ids) != len(values) or not all(isinstance(item, dict) and isinstance(item.get("key"), str) for item in ids):
        raise BadRequest("not the controls of this page")
    return {item["key"]: value for item, value in zip(ids, values, strict=True)}


def _look_files(server: flask.Flask) -> None:
    """Fonts and colours, from this server."""

    @server.get("/look/fonts.css")
    def fonts() -> flask.Response:
        return flask.Response(tokens.fonts_css("/look/fonts"), mimetype="text/css")

    @server.get("/look/tokens.css")
    def colours() -> flask.Response:
        return flask.Response(tokens.tokens_css(), mimetype="text/css")

    @server.get("/look/fonts/<path:file_name>")
    def font(file_name: str) -> flask.Response:
        return flask.send_from_directory(web_folder(), file_name, mimetype="font/woff2", max_age=86400)


def _papers(server: flask.Flask, table: Table) -> None:
    """The proposal of a session, made when it is asked for."""

    @server.get(f"{PROPOSAL_PATH}/<session>.pdf")
    def proposal(session: str) -> flask.Response:
        try:
            pdf = table.paper(session)
        except ValueError:
            raise NotFound from None
        headers = {"Content-Disposition": 'attachment; filename="proposal.pdf"'}
        return flask.Response(pdf, mimetype="application/pdf", headers=headers)


def _answers(app: Dash, table: Table) -> None:
    @app.callback(
        output={
            "regions": {name: Output(name, "children") for name in REGIONS},
            "main": Output("main", "className"),
            "scheme": Output("look", "forceColorScheme"),
            "put": Output("screen", "put"),
            "idle": Output("wait", "disabled"),
        },
        inputs={
            "stops": Input({"kind": "stops", "key": ALL}, "value"),
            "switches": Input({"kind": "switch", "key": ALL}, "value"),
            "tap": Input("taps", "tap"),
            "form": Input("screen", "form"),
            "units": Input("units", "value"),
            "beat": Input("wait", "n_intervals"),
            "stop_ids": State({"kind": "stops", "key": ALL}, "id"),
            "switch_ids": State({"kind": "switch", "key": ALL}, "id"),
            "session": State("name", "data"),
        },
    )
    def answer(stops, switches, tap, form, units, beat, stop_ids, switch_ids, session):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202, ARG001, PLR0913, PLR0917
        heard = Heard(_values(stop_ids, stops), _values(switch_ids, switches), tap, form, units)
        try:
            shown = table.answer(session, heard)
        except ValueError as error:
            raise BadRequest(str(error)) from None
        put = put_back(shown)
        return {
            "regions": regions(table, shown, session),
            "main": main_classes(shown),
            "scheme": shown.page.look,
            "put": no_update if put is None else put,
            "idle": shown.page.waiting is None,
        }


def _progress(app: Dash, table: Table) -> None:
    @app.callback(
        Output("root", "children"),
        Output("tick", "disabled"),
        Input("tick", "n_intervals"),
        prevent_initial_call=True,
    )
    def progress(_ticks):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202
        status = table.source.status()
        return body(status, table.units(status)), isinstance(status, Ready)


def _with_desk(app: Dash, source: DeskSource, prefix: str) -> None:
    """The desk on the same server: first its gate, then what every request must satisfy."""
    from dashboard.desk.app import add_desk

    keep_desk_here(app.server)
    desk = add_desk(app.server, source, prefix)
    hashes = dict.fromkeys([*app.csp_hashes(), *desk.csp_hashes()])
    protect(app.server, list(hashes), app.callback_map, {DESK: desk.callback_map})


def make_app(
    source: TableSource, proposer: Proposer | None = None, desk: DeskSource | None = None, prefix: str = "/"
) -> Dash:
    """The page over a source of answers.

    Parameters
    ----------
    source
        Answers questions with customer views.
    proposer
        Makes the proposal; without one the page has no such button.
    desk
        What the designer's desk shows; without one there is no desk. It opens to designers only.
    prefix
        Where browsers find the page: `/`, or the address of one house of several.
    """
    table = Table(source, proposer=proposer)
    app = shell_app(__name__, "Heat pump layouts", Paths("/", prefix, "../assets"), index_of())
    has_desk = desk is not None
    app.layout = lambda: layout(status := source.status(), table.units(status), desk=has_desk and asked_here())
    _look_files(app.server)
    _papers(app.server, table)
    _answers(app, table)
    _progress(app, table)
    if desk is None:
        protect(app.server, app.csp_hashes(), app.callback_map)
        return app
    _with_desk(app, desk, prefix)
    return app
