"""The desk as a second Dash app on the server of the table, under `/desk/`; its gate keeps it to this computer."""

from __future__ import annotations

from typing import Any

import flask
from dash import Dash, Input, Output, State, ctx, html, no_update
from werkzeug.exceptions import BadRequest, NotFound

from compare.units import System
from dashboard.desk.charts import charts_css
from dashboard.desk.every import Hunt
from dashboard.desk.files import made, saved_name
from dashboard.desk.filters import filter_of
from dashboard.desk.gate import DESK
from dashboard.desk.issue import IssueError, Issuer, issued_words
from dashboard.desk.layouts import layouts_table, pareto_figure
from dashboard.desk.page import REGIONS, body, layout, regions
from dashboard.desk.study import DeskSource, Stage, Study
from dashboard.desk.sure import sure_part
from dashboard.desk.trace import room_of, start_of, week_figure, week_of, week_table, week_words
from dashboard.desk.whole import hunt_part
from dashboard.role import within
from dashboard.session import Ready
from dashboard.shell import COMPONENTS, Paths, index_of, shell_app

LONGEST = 200
LOOKS = frozenset({"dark", "light"})
STARTS = {"test:now": Study.test, "every:now": Study.search}
"""What begins in the background, by what is tapped."""


def _study(source: DeskSource) -> Study:
    study = source.study()
    if study is None:
        raise BadRequest("no answer yet")
    return study


def _tapped(tap: object) -> str:
    what = tap.get("what") if isinstance(tap, dict) else None
    if not isinstance(what, str) or len(what) > LONGEST:
        raise BadRequest("nothing to tap")
    return what


def _clicked(click: object) -> object:
    """The layout under a tap on the chart."""
    points = click.get("points") if isinstance(click, dict) else None
    first = points[0] if isinstance(points, list) and points else None
    return first.get("customdata") if isinstance(first, dict) else None


def _open(app: Dash, source: DeskSource) -> None:
    @app.callback(
        Output("open", "data"),
        Output("watch", "disabled"),
        Output("look", "forceColorScheme"),
        Input("taps", "tap"),
        Input("pareto", "clickData"),
        prevent_initial_call=True,
    )
    def choose(tap: Any, click: Any) -> Any:  # noqa: ANN401
        if tap is None and click is None:
            return no_update, no_update, no_update
        study = _study(source)
        if ctx.triggered_id == "pareto":
            return _checked(study, _clicked(click)), no_update, no_update
        what = _tapped(tap)
        if what in STARTS:
            STARTS[what](study)
            return no_update, False, no_update
        kind, _, rest = what.partition(":")
        if kind == "look" and rest in LOOKS:
            return no_update, no_update, rest
        if kind != "open":
            raise BadRequest("nothing to tap")
        return _checked(study, rest), no_update, no_update


def _checked(study: Study, option_id: object) -> str:
    if option_id is None:
        raise BadRequest("no such layout")
    try:
        return study.checked(option_id)
    except ValueError as error:
        raise BadRequest(str(error)) from None


def _system(units: object) -> System:
    try:
        return System(str(units))
    except ValueError:
        raise BadRequest("no such units") from None


def _show(app: Dash, source: DeskSource) -> None:
    @app.callback(
        {name: Output(name, "children") for name in REGIONS},
        Input("open", "data"),
        Input("units", "value"),
        Input("grown", "data"),
    )
    def design(option_id: Any, units: Any, _grown: Any) -> Any:  # noqa: ANN401
        study = _study(source)
        return regions(study, _checked(study, option_id), _system(units))

    @app.callback(
        Output("set", "children"),
        Output("pareto", "figure"),
        Input("family", "value"),
        Input("most", "value"),
        Input("order", "value"),
        Input("left-out", "value"),
        Input("open", "data"),
        Input("units", "value"),
        Input("grown", "data"),
    )
    def layouts(family, most, order, left_out, option_id, units, _grown):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202
        study = _study(source)
        here = _checked(study, option_id)
        try:
            wanted = filter_of(family, most, left_out, order)
        except (ValueError, TypeError) as error:
            raise BadRequest(str(error)) from None
        return layouts_table(study, wanted, here, _system(units)), pareto_figure(study, wanted, here)


def _hours(app: Dash, source: DeskSource) -> None:
    @app.callback(
        Output("week-words", "children"),
        Output("hours", "figure"),
        Output("days", "children"),
        Input("room", "value"),
        Input("week", "value"),
        Input("open", "data"),
        Input("units", "value"),
    )
    def hours(room: Any, week: Any, option_id: Any, units: Any) -> Any:  # noqa: ANN401
        study, system = _study(source), _system(units)
        here = _checked(study, option_id)
        try:
            found = week_of(study, here, room_of(study, room), start_of(study, week))
        except ValueError as error:
            raise BadRequest(str(error)) from None
        return week_words(found, system), week_figure(study, found, system), week_table(found, system)


def _tests(app: Dash, source: DeskSource) -> None:
    @app.callback(
        Output("sure-place", "children"),
        Output("every-place", "children"),
        Output("grown", "data"),
        Output("watch", "disabled", allow_duplicate=True),
        Input("watch", "n_intervals"),
        Input("units", "value"),
        State("grown", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def sure(_ticks: Any, units: Any, grown: Any) -> Any:  # noqa: ANN401
        study = _study(source)
        busy = study.tested.state in {Stage.DRAWING, Stage.TURNING} or study.hunt.state is Hunt.RUNNING
        size = int(study.hunt.state is Hunt.DONE)
        return sure_part(study, _system(units)), hunt_part(study), no_update if size == grown else size, not busy

    @app.callback(
        Output("root", "children"),
        Output("tick", "disabled"),
        Input("tick", "n_intervals"),
        prevent_initial_call=True,
    )
    def progress(_ticks: Any) -> Any:  # noqa: ANN401
        status, study = source.status(), source.study()
        ready = isinstance(status, Ready) and study is not None
        return body(status, study, _issuer(source)), ready


def _issuer(source: DeskSource) -> Issuer | None:
    found = source.file()
    return None if found is None else Issuer(*found)


def _issue(app: Dash, source: DeskSource) -> None:
    @app.callback(
        Output("issued", "children"),
        Input("issue-now", "n_clicks"),
        State("job", "value"),
        State("open", "data"),
        prevent_initial_call=True,
    )
    def issue(clicks: Any, job: Any, option_id: Any) -> Any:  # noqa: ANN401
        study, issuer = _study(source), _issuer(source)
        if issuer is None or not clicks:
            raise BadRequest("nothing to issue")
        try:
            return issued_words(issuer.issue(study, _checked(study, option_id), job))
        except IssueError as error:
            return [html.P(str(error), className="note")]


def _files(server: flask.Flask, source: DeskSource) -> None:
    @server.get(f"{DESK}/files/<option_id>/<name>")
    def file(option_id: str, name: str) -> flask.Response:
        study = source.study()
        try:
            if study is None:
                raise ValueError("no answer yet")
            kind, content = made(study, study.checked(option_id), name)
        except ValueError:
            raise NotFound from None
        headers = {"Content-Disposition": f'attachment; filename="{saved_name(study, name)}"'}
        return flask.Response(content, mimetype=kind, headers=headers)

    @server.get(f"{DESK}/look/charts.css")
    def chart_colours() -> flask.Response:
        return flask.Response(charts_css(), mimetype="text/css")

    @server.get(DESK)
    def desk() -> Any:  # noqa: ANN401
        return flask.redirect(within(f"{DESK}/"))


def add_desk(server: flask.Flask, source: DeskSource, prefix: str = "/") -> Dash:
    """The desk on a server that has the table at `prefix`; the caller gates and protects both."""
    index = index_of([f"{prefix.rstrip('/')}{DESK}/look/charts.css"], [COMPONENTS])
    requests = f"{prefix.rstrip('/')}{DESK}/"
    app = shell_app(__name__, "Design desk", Paths(f"{DESK}/", requests), index, server=server)
    app.layout = lambda: layout(source.status(), source.study(), _issuer(source))
    _files(server, source)
    _open(app, source)
    _show(app, source)
    _hours(app, source)
    _tests(app, source)
    _issue(app, source)
    return app
