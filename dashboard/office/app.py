"""The office's page as a server: sign-in, all quotes, one quote, the discount, downloads. Plain pages, no framework.

Every path is closed unless it stands in `OPENED`; pages are made on the server for a session, and browsers keep none.
"""

from __future__ import annotations

import datetime as dt
import logging
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

import flask
from flask import Flask, Response, g, render_template, request
from werkzeug import Response as Answer
from werkzeug.exceptions import BadRequest, Forbidden, NotFound

from compare.office.ledger import complete
from compare.office.view_build import OfficeBasis
from dashboard import tokens
from dashboard.office import pages
from dashboard.office.advice import COMFORT_FLOOR, Floors
from dashboard.office.discount import percent_of
from dashboard.office.downloads import layouts_file, quotes_file
from dashboard.office.guard import Door, protect
from dashboard.office.place import Place
from dashboard.office.quotes import Quote, Quotes
from dashboard.office.words import amount, and_list, percent, usd, usd_cents
from dashboard.office.work import Completer, Work, missing
from dashboard.password import PasswordError, fits, read_hash
from dashboard.signin import LIFE_S, FormSeal, Sessions, Tries
from proposal.fonts import web_folder

OPENED = frozenset({"enter", "enter_post", "fonts", "colours", "font", "static"})
"""Endpoints that need no session: the sign-in form, faces, colours, and the style and script of the pages."""
FORM_COOKIE, LOOK_COOKIE = "hplayouts_office_form", "hplayouts_office_look"
FORM_LIFE_S = 3600
LOOKS = frozenset({"dark", "light"})
_log = logging.getLogger("hplayouts.office")


def _today() -> dt.date:
    return dt.datetime.now(dt.UTC).date()


@dataclass
class Office:
    """What the page rests on. `https_name`: the name under which a proxy of this computer serves it by HTTPS."""

    place: Place
    basis: Callable[[dt.date], OfficeBasis] = OfficeBasis
    comfort_floor: float = COMFORT_FLOOR
    https_name: str = ""
    today: Callable[[], dt.date] = _today
    completer: Completer = complete
    sessions: Sessions = field(default_factory=Sessions)
    tries: Tries = field(default_factory=Tries)
    seal: FormSeal = field(default_factory=FormSeal)


def make_server(office: Office) -> Flask:
    """The server over a place. Raises `PasswordError` when no password was set."""
    read_hash(office.place.password)
    server = Flask(__name__, static_url_path="/look/own")
    server.jinja_env.filters |= {"usd": usd, "cents": usd_cents, "share": percent, "amount": amount}
    server.jinja_env.filters["and_list"] = and_list
    server.jinja_env.trim_blocks = server.jinja_env.lstrip_blocks = True
    door = Door(office.place, office.sessions, office.https_name, OPENED)
    door.refused = lambda: _form(office, door, 401)
    _look_files(server)
    _sign_in(server, office, door)
    _Desk(office).add_to(server)
    protect(server, door)
    return server


def _look_files(server: Flask) -> None:
    """Fonts and colours, the same as those of the other pages."""

    @server.get("/look/fonts.css")
    def fonts() -> Response:
        return Response(tokens.fonts_css("/look/fonts"), mimetype="text/css")

    @server.get("/look/tokens.css")
    def colours() -> Response:
        return Response(tokens.tokens_css(), mimetype="text/css")

    @server.get("/look/fonts/<path:file_name>")
    def font(file_name: str) -> Response:
        return flask.send_from_directory(web_folder(), file_name, mimetype="font/woff2", max_age=86400)


def _form(office: Office, door: Door, code: int, said: str = "") -> Response:
    """The sign-in form, sealed to this browser."""
    cookie = request.cookies.get(FORM_COOKIE, "") or secrets.token_urlsafe(24)
    page = render_template("enter.html", seal=office.seal.seal(cookie), said=said, look=_look())
    response = Response(page, code)
    if code == 401:
        response.headers["WWW-Authenticate"] = "Form"
    response.set_cookie(FORM_COOKIE, cookie, max_age=FORM_LIFE_S, path="/", secure=door.safe, httponly=True,
                        samesite="Strict")  # fmt: skip
    return response


def _look() -> str:
    """The look that was chosen; empty where the device decides."""
    found = request.cookies.get(LOOK_COOKIE, "")
    return found if found in LOOKS else ""


def _only(*names: str) -> None:
    """Refuse a form or query with other fields, or a field twice."""
    for given in (request.form, request.args):
        if any(name not in names or len(values) != 1 for name, values in given.lists()):
            raise BadRequest


def _sign_in(server: Flask, office: Office, door: Door) -> None:
    @server.get("/enter")
    def enter() -> Answer:
        _only()
        return flask.redirect("/", 303) if g.session else _form(office, door, 200)

    @server.post("/enter")
    def enter_post() -> Answer:
        _only("seal", "password")
        if not office.seal.fits(request.cookies.get(FORM_COOKIE, ""), request.form.get("seal", "")):
            raise Forbidden
        password = request.form.get("password", "")
        wait_s = office.tries.begin()
        if wait_s > 0.0:
            _log.warning("sign-in refused: too many tries")
            waiting = _form(office, door, 429, f"Too many tries. Wait {round(wait_s) + 1} seconds, then try again.")
            waiting.headers["Retry-After"] = str(round(wait_s) + 1)
            return waiting
        try:
            kept = read_hash(office.place.password)
        except PasswordError:
            return _form(office, door, 401, "No password can be read. Set it again on this page's computer.")
        if not fits(kept, password):
            _log.warning("sign-in failed")
            return _form(office, door, 401, "That is not the password.")
        office.tries.right()
        _log.info("signed in")
        response = flask.redirect("/", 303)
        door.hand_cookie(response, office.sessions.begin(kept), int(LIFE_S))
        response.delete_cookie(FORM_COOKIE, path="/")
        return response

    @server.post("/leave")
    def leave() -> Answer:
        _only("csrf")
        office.sessions.end(request.cookies.get(door.cookie, ""))
        response = flask.redirect("/enter", 303)
        door.hand_cookie(response, "", 0)
        return response

    @server.post("/look")
    def look() -> Answer:
        _only("csrf", "to")
        to = request.form.get("to", "")
        if to not in LOOKS:
            raise BadRequest
        response = flask.redirect("/", 303)
        response.set_cookie(LOOK_COOKIE, to, path="/", secure=door.safe, httponly=True, samesite="Strict")
        return response


class _Desk:
    """The pages behind the door."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._quotes = Quotes(office.place)
        self._work = Work(office.place.office, lambda: office.basis(office.today()), office.completer)
        self._floor_frac: Decimal = office.basis(office.today()).floor_frac

    def add_to(self, server: Flask) -> None:
        """Add every path."""
        server.add_url_rule("/", "quotes", self.quotes)
        server.add_url_rule("/quote/<name>", "quote", self.quote)
        server.add_url_rule("/quote/<name>/discount", "discount", self.discount, methods=["POST"])
        server.add_url_rule("/quotes.<ending>", "quotes_file", self.quotes_file)
        server.add_url_rule("/quote/<name>/layouts.<ending>", "layouts_file", self.layouts_file)
        server.add_url_rule("/work", "work", self.work, methods=["POST"])
        server.add_url_rule("/work", "progress", self.progress)

    def _desk(self) -> pages.Desk:
        on = self._office.today()
        floors = Floors(self._office.comfort_floor, 100.0 * float(self._floor_frac))
        return pages.Desk(self._quotes.on(on), floors, self._floor_frac, on, tokens.PAGE)

    def _common(self) -> pages.Shown:
        return {"csrf": g.session.csrf, "look": _look(), "place": self._office.place.name}

    def quotes(self) -> str:
        """All quotes."""
        _only()
        desk = self._desk()
        work = {"work": self._work.now(), "missing": [quote.label for quote in missing(desk.quotes)]}
        return render_template("quotes.html", **pages.all_quotes(desk), **self._common(), **work)

    def _quote(self, desk: pages.Desk, name: str) -> Quote:
        for quote in desk.quotes:
            if quote.id == name and not quote.job.error:
                return quote
        raise NotFound

    def quote(self, name: str) -> str:
        """One quote, looking at one of its layouts."""
        _only("option", "discount")
        desk = self._desk()
        quote, pct = self._quote(desk, name), _percent(request.args.get("discount", "0"))
        try:
            option = pages.chosen_option(quote, request.args.get("option", ""))
        except KeyError:
            raise NotFound from None
        if option is None:
            return render_template("unworked.html", quote=quote, work=self._work.now(), **self._common())
        return render_template("quote.html", **pages.one_quote(quote, option, pct, desk), **self._common())

    def discount(self, name: str) -> str:
        """What a discount does, as a piece of the page."""
        _only("option", "discount", "csrf")
        desk = self._desk()
        quote = self._quote(desk, name)
        try:
            option = pages.chosen_option(quote, request.form.get("option", ""))
        except KeyError:
            raise NotFound from None
        if option is None:
            raise NotFound
        shown = pages.discount(option, _percent(request.form.get("discount", "")), desk)
        return render_template("discount.html", discount=shown)

    def quotes_file(self, ending: str) -> Response:
        """All quotes as a table."""
        _only()
        return _found(quotes_file(self._desk().quotes, ending))

    def layouts_file(self, name: str, ending: str) -> Response:
        """The layouts of one quote's house as a table."""
        _only()
        quote = self._quote(self._desk(), name)
        return _found(layouts_file(quote, quote.view, ending) if quote.view is not None else None)

    def work(self) -> Answer:
        """Begin to work out the quotes that have no costs yet."""
        _only("csrf")
        self._work.start(missing(self._desk().quotes))
        return flask.redirect("/", 303)

    def progress(self) -> str:
        """How far it is, as a piece of the page."""
        _only()
        return render_template("progress.html", work=self._work.now())


def _percent(text: str) -> Decimal:
    try:
        return percent_of(text)
    except ValueError:
        raise BadRequest from None


def _found(response: Response | None) -> Response:
    if response is None:
        raise NotFound
    _log.info("took away %s", request.path)
    return response
