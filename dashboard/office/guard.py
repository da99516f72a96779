"""The closed door of the office's page: every path is shut until a session opens it; every answer carries its headers.

After OWASP ASVS 5.0.0: 8.3.1 (enforced on the server), 3.3.1-3.3.4 (cookies), 3.5.1 (forged requests), 14.3.2
(no-store), 5.2.1 (size capped before reading), 16.5.1 and 16.5.3 (generic errors, fail closed).
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Collection

from flask import Flask, Response, g, request
from werkzeug import Response as Answer
from werkzeug.exceptions import BadRequest, Forbidden, HTTPException, MisdirectedRequest

from dashboard.guard import LOCAL_HOSTS, policy
from dashboard.office.place import Place
from dashboard.password import PasswordError, read_hash
from dashboard.signin import Session, Sessions, same

MOST_BODY_BYTES = 16 * 1024
COOKIE, SAFE_COOKIE = "hplayouts_office", "__Host-hplayouts_office"
CSRF_FIELD, CSRF_HEADER = "csrf", "X-Csrf"
KEPT_PREFIX = "/look/"
_log = logging.getLogger("hplayouts.office")


def headers(*, safe: bool) -> dict[str, str]:
    """Headers of every answer."""
    rules = policy(()).replace("form-action 'none'", "form-action 'self'").replace(" 'unsafe-inline'", "")
    found = {
        "Content-Security-Policy": rules,
        "X-Content-Type-Options": "nosniff",
        "X-Frame-Options": "DENY",
        "Referrer-Policy": "same-origin",
        "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin",
        "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
        "X-Robots-Tag": "noindex",
    }
    return found | ({"Strict-Transport-Security": "max-age=31536000"} if safe else {})


class Door:
    """Who may pass: `opened` names the endpoints that need no session."""

    def __init__(self, place: Place, sessions: Sessions, https_name: str, opened: Collection[str]) -> None:
        self._place, self._sessions, self._opened = place, sessions, frozenset(opened)
        self.https_name = https_name.lower()
        self.cookie = SAFE_COOKIE if self.safe else COOKIE
        self.refused: Callable[[], Response] = _stranger

    @property
    def safe(self) -> bool:
        """Whether browsers reach the page by HTTPS."""
        return bool(self.https_name)

    def session(self) -> Session | None:
        """The session of this request; None for a stranger. Without a readable password nobody is known."""
        name = request.cookies.get(self.cookie, "")
        try:
            return self._sessions.find(name, read_hash(self._place.password)) if name else None
        except PasswordError:
            return None

    def check(self) -> Response | None:
        """Refuse what no page of ours would send; send strangers to the sign-in form."""
        self._check_site()
        g.session = self.session()
        if request.endpoint in self._opened:
            return None
        if g.session is None:
            return self.refused() if request.method == "GET" and request.path == "/" else _stranger()
        if request.method not in {"GET", "HEAD", "OPTIONS"}:
            given = request.headers.get(CSRF_HEADER) or request.form.get(CSRF_FIELD, "")
            if not same(g.session.csrf, given):
                raise Forbidden
        return None

    def _check_site(self) -> None:
        host = request.host.rsplit(":", 1)[0] if request.host.rpartition(":")[2].isdigit() else request.host
        if host.lower() not in ({self.https_name} if self.safe else set(LOCAL_HOSTS)):
            raise MisdirectedRequest
        if request.method not in {"GET", "HEAD", "OPTIONS"}:
            origin = request.headers.get("Origin")
            scheme = "https" if self.safe else request.scheme
            if origin and origin != f"{scheme}://{request.host}":
                raise BadRequest
            if request.headers.get("Sec-Fetch-Site", "same-origin") not in {"same-origin", "none"}:
                raise BadRequest

    def hand_cookie(self, response: Answer, name: str, life_s: int) -> None:
        """Give the browser its cookie, or take it away with an empty name."""
        response.set_cookie(
            self.cookie, name, max_age=life_s, path="/", secure=self.safe, httponly=True, samesite="Strict"
        )


def _stranger() -> Response:
    return Response("Sign in first.\n", 401, {"WWW-Authenticate": "Form"}, mimetype="text/plain")


def _plain(error: Exception) -> Response:
    """A short answer without a word about the inside."""
    if isinstance(error, HTTPException):
        code, said = error.code or 500, error.name
        if error.response is not None and code < 400:
            return Response(status=code, headers={"Location": error.response.headers.get("Location", "/")})
    else:
        _log.error("%s %r failed: %s", request.method, request.path, type(error).__name__, exc_info=error)
        code, said = 500, "Something went wrong. Nothing was changed."
    return Response(f"{said}\n", status=code, mimetype="text/plain")


def protect(server: Flask, door: Door) -> None:
    """Put door, headers, size cap and plain errors on the office's server."""
    server.config["MAX_CONTENT_LENGTH"] = MOST_BODY_BYTES
    server.config["MAX_FORM_MEMORY_SIZE"] = MOST_BODY_BYTES
    server.config["MAX_FORM_PARTS"] = 20
    fixed = headers(safe=door.safe)

    def dress(response: Response) -> Response:
        response.headers.update(fixed)
        if not (request.path.startswith(KEPT_PREFIX) and response.status_code == 200):
            response.headers["Cache-Control"] = "no-store"
        return response

    check: Callable[[], Response | None] = door.check
    server.before_request(check)
    server.after_request(dress)
    server.register_error_handler(Exception, _plain)
