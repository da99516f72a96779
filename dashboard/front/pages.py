"""Plain pages before the houses: the list of a folder, the code of a new device, the password of the desk."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable
from typing import Any

import flask
from flask import Flask, Response, render_template, request
from werkzeug import Response as Answer
from werkzeug.exceptions import BadRequest, Forbidden, HTTPException, NotFound

from dashboard import tokens
from dashboard.door import ENTER, LEAVE, PAIR, PAIRED, TABLET_LIFE_S, Keys, Site, host_name
from dashboard.front.shelf import Shelf
from dashboard.guard import MOST_BODY_BYTES, PLAIN_HEADERS, policy
from dashboard.password import fits
from dashboard.role import DESIGNERS, ROLE, Role
from dashboard.signin import LIFE_S, Tries
from proposal.fonts import web_folder

FORM_LIFE_S = 3600
_log = logging.getLogger("hplayouts.door")


class Front:
    """The pages over what opens the door; `shelf` None where one house alone is served."""

    def __init__(self, site: Site, keys: Keys | None, shelf: Shelf | None) -> None:
        self.site, self.keys, self.shelf = site, keys, shelf
        self.server = Flask(__name__, static_folder="static", static_url_path="/front/own")
        self.server.config["MAX_CONTENT_LENGTH"] = MOST_BODY_BYTES
        self.server.config["MAX_FORM_MEMORY_SIZE"] = MOST_BODY_BYTES
        self.server.config["MAX_FORM_PARTS"] = 10
        self.server.jinja_env.trim_blocks = self.server.jinja_env.lstrip_blocks = True
        self._looks()
        if shelf is not None:
            self.server.add_url_rule("/", "houses", self.houses)
        if keys is not None:
            self._ways_in()
        self.server.after_request(_dressed)
        self.server.register_error_handler(Exception, _plain)

    def _looks(self) -> None:
        server = self.server
        fonts, colours = tokens.fonts_css("/look/fonts"), tokens.tokens_css()
        server.add_url_rule("/look/fonts.css", "fonts", lambda: Response(fonts, mimetype="text/css"))
        server.add_url_rule("/look/tokens.css", "colours", lambda: Response(colours, mimetype="text/css"))

        @server.get("/look/fonts/<path:file_name>")
        def font(file_name: str) -> Response:
            return flask.send_from_directory(web_folder(), file_name, mimetype="font/woff2", max_age=86400)

        @server.get("/assets/<path:file_name>")
        def asset(file_name: str) -> Response:
            return flask.send_from_directory("../assets", file_name)

    def _ways_in(self) -> None:
        rules: tuple[tuple[str, str, Callable[[], Any]], ...] = (
            (PAIR, "GET", self.pair), (PAIR, "POST", self.pair_post), (ENTER, "GET", self.enter),
            (ENTER, "POST", self.enter_post), (LEAVE, "POST", self.leave),
        )  # fmt: skip
        for path, method, view in rules:
            self.server.add_url_rule(path, view.__name__, view, methods=[method])

    @property
    def _role(self) -> Role:
        role: Role = request.environ.get(ROLE, Role.STRANGER)
        return role

    @property
    def _secure(self) -> bool:
        return host_name(request.host) == self.site.https_name

    def houses(self) -> str:
        """The list of houses."""
        assert self.shelf is not None
        rows = self.shelf.listed()
        good = [row for row in rows if not row.problems]
        broken = [row for row in rows if row.problems]
        leave = self._role is Role.DESIGNER
        return render_template("houses.html", good=good, broken=broken, designer=self._role in DESIGNERS, leave=leave)

    def _form(self, template: str, code: int, said: str = "", **more: object) -> Response:
        """A form sealed to this browser."""
        assert self.keys is not None
        name = self.site.cookie("form")
        cookie = request.cookies.get(name, "") or secrets.token_urlsafe(24)
        page = render_template(template, seal=self.keys.seal.seal(cookie), said=said, **more)
        response = Response(page, code)
        self._hand(response, "form", cookie, FORM_LIFE_S)
        return response

    def _hand(self, response: Answer, what: str, value: str, life_s: float) -> None:
        response.set_cookie(
            self.site.cookie(what), value, max_age=int(life_s), path="/", secure=self._secure, httponly=True,
            samesite="Strict",
        )  # fmt: skip

    def _checked(self, *names: str) -> Keys:
        """Refuse a form with other fields, or one that was not made for this browser."""
        assert self.keys is not None
        if request.args or any(name not in names or len(given) != 1 for name, given in request.form.lists()):
            raise BadRequest
        if not self.keys.seal.fits(request.cookies.get(self.site.cookie("form"), ""), request.form.get("seal", "")):
            raise Forbidden
        return self.keys

    def _waits(self, tries: Tries, template: str) -> Response | None:
        wait_s = tries.begin()
        if wait_s <= 0.0:
            return None
        _log.warning("refused: too many tries")
        seconds = f"{round(wait_s) + 1}"
        response = self._form(template, 429, f"Too many tries. Wait {seconds} seconds, then try again.")
        response.headers["Retry-After"] = seconds
        return response

    def pair(self) -> Answer:
        """The form for a code."""
        return flask.redirect("/", 303) if self._role is not Role.STRANGER else self._form("pair.html", 200)

    def pair_post(self) -> Answer:
        """Take a code."""
        keys = self._checked("seal", "code")
        waiting = self._waits(keys.pair_tries, "pair.html")
        if waiting is not None:
            return waiting
        if not keys.codes.take(request.form.get("code", "")):
            _log.warning("a wrong code was given")
            return self._form(
                "pair.html", 401, "That code does not hold. It may be too old or used. Ask for a new one."
            )
        keys.pair_tries.right()
        _log.info("a device was paired")
        response = flask.redirect("/", 303)
        self._hand(response, "tablet", keys.tablets.begin(PAIRED), TABLET_LIFE_S)
        return response

    def enter(self) -> Answer:
        """The form for the desk's password."""
        assert self.keys is not None
        known = self._role in DESIGNERS
        return self._form(
            "enter.html", 200, known=known, leave=self._role is Role.DESIGNER, ready=bool(self.keys.hash())
        )

    def enter_post(self) -> Answer:
        """Take the desk's password."""
        keys = self._checked("seal", "password")
        waiting = self._waits(keys.enter_tries, "enter.html")
        if waiting is not None:
            return waiting
        kept = keys.hash()
        if not kept or not fits(kept, request.form.get("password", "")):
            _log.warning("a wrong password was given for the desk")
            return self._form("enter.html", 401, "That is not the password.", ready=bool(kept))
        keys.enter_tries.right()
        _log.info("a designer signed in")
        response = flask.redirect("/" if self.shelf is not None else "/desk/", 303)
        self._hand(response, "desk", keys.designers.begin(kept), LIFE_S)
        return response

    def leave(self) -> Answer:
        """Sign out of the desk."""
        keys = self._checked("seal")
        keys.designers.end(request.cookies.get(self.site.cookie("desk"), ""))
        response = flask.redirect("/", 303)
        self._hand(response, "desk", "", 0)
        return response


def _dressed(response: Response) -> Response:
    rules = policy(()).replace("form-action 'none'", "form-action 'self'").replace(" 'unsafe-inline'", "")
    response.headers.update({**PLAIN_HEADERS, "Content-Security-Policy": rules, "Referrer-Policy": "same-origin"})
    if not (request.path.startswith(("/look/", "/front/", "/assets/")) and response.status_code == 200):
        response.headers["Cache-Control"] = "no-store"
    return response


def _plain(error: Exception) -> Answer:
    """A short answer without a word about the inside; an address that ends here leads back to the start."""
    if isinstance(error, NotFound) and request.method == "GET" and request.path.startswith("/house/"):
        return Response(render_template("gone.html"), 404)
    if isinstance(error, HTTPException):
        code, said = error.code or 500, error.name
    else:
        _log.error("%s %r failed: %s", request.method, request.path, type(error).__name__, exc_info=error)
        code, said = 500, "Something went wrong. Nothing was changed."
    return Response(f"{said}\n", status=code, mimetype="text/plain")
