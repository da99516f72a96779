"""The survey as a Dash app of its own under `/desk/survey/`, behind the door of the site and the gate of the desk."""

from __future__ import annotations

from typing import Any

import flask
from dash import Dash, Input, Output, State
from werkzeug.exceptions import BadRequest

from dashboard.desk.gate import DESK, keep_desk_here
from dashboard.guard import protect
from dashboard.shell import COMPONENTS, Paths, index_of, shell_app
from dashboard.survey.heard import events_of
from dashboard.survey.page import filled, layout
from dashboard.survey.work import Survey

SURVEY = f"{DESK}/survey"
OUTPUTS = {
    "heard": Output("hear", "heard"),
    "seen": Output("hear", "seen"),
    "file": Output("hear", "file"),
    "waiting": Output("hear", "waiting"),
    "editor": Output("editor", "className"),
    "svg": Output("board", "svg"),
    "frame": Output("board", "frame"),
    "tool": Output("board", "tool"),
    "unit": Output("board", "unit"),
    "step": Output("board", "step"),
    "card": Output("card", "sections"),
    "sheet": Output("sheet", "sections"),
    **{name: Output(name, "children") for name in ("top", "start", "head", "tools", "under", "side", "loads")},
}


class SurveyPages:
    """The survey page as a server of its own; `wsgi` answers everything under `SURVEY`."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self.app = make_survey(survey)
        self.wsgi = self.app.server.wsgi_app

    @staticmethod
    def has(path: str) -> bool:
        """Whether an address is the survey's."""
        return path == SURVEY or path.startswith(f"{SURVEY}/")


def make_survey(survey: Survey) -> Dash:
    """The page over the drafts of a folder, behind the gate of the desk."""
    app = shell_app(__name__, "House survey", Paths(f"{SURVEY}/", f"{SURVEY}/"), index_of(scripts=[COMPONENTS]))
    app.layout = lambda: layout(survey)
    _answers(app, survey)

    app.server.add_url_rule(SURVEY, "survey", lambda: flask.redirect(f"{SURVEY}/"))

    keep_desk_here(app.server)
    protect(app.server, app.csp_hashes(), {}, {SURVEY: app.callback_map})
    return app


def _answers(app: Dash, survey: Survey) -> None:
    @app.callback(output=OUTPUTS, inputs={"said": Input("hear", "said"), "tablet": State("tablet", "data")})
    def answer(said: Any, tablet: Any) -> Any:  # noqa: ANN401
        try:
            look = survey.look(tablet) if said is None else survey.hear(tablet, events_of(said))
        except ValueError as error:
            raise BadRequest(str(error)) from None
        return filled(survey, look)
