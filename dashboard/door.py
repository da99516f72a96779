"""The door before all pages: which host names exist, who asks, what may be sent, and what strangers are told.

It stands in front of every page of the program, so that a page added later is behind it too. On this computer nothing
need be typed. Over a network a device must be paired first; the desk asks for its password besides.

After OWASP ASVS 5.0.0: 3.3.1-3.3.4 (cookies), 3.5.1-3.5.3 (forged requests), 8.3.1 (enforced on the server), 13.4.2,
16.5.1; OWASP Cross-Site Request Forgery Prevention Cheat Sheet (token in cookie and header; origin; fetch metadata).
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from werkzeug.wrappers import Request, Response

from dashboard.guard import LOCAL_HOSTS, MOST_BODY_BYTES, PLAIN_HEADERS
from dashboard.pairing import Codes
from dashboard.password import PasswordError, read_hash
from dashboard.role import HOSTS, ROLE, Role, from_here, is_near
from dashboard.signin import FormSeal, Sessions, Tries, same

Wsgi = Callable[..., Iterable[bytes]]
PASSWORD_FILE = ".desk-password"  # noqa: S105 - a file name
PASSWORD_CURE = "hplayouts password FOLDER"  # noqa: S105 - a command
PAIR, ENTER, LEAVE = "/pair", "/enter", "/leave"
FORMS = frozenset({PAIR, ENTER, LEAVE})
OPENED = ("/look/", "/front/")
"""Beginnings of addresses that a stranger may fetch beside the form: faces, colours, style."""
METHODS = frozenset({"GET", "HEAD", "OPTIONS", "POST"})
TABLET_LIFE_S = 12 * 3600.0
TOKEN_COOKIE, TOKEN_HEADER = "_csrf_token", "X-CSRFToken"
_TOKEN = re.compile(r"[A-Za-z0-9_-]{43}")
PAIRED = "paired"
UNTRUSTED = "cross-origin-opener-policy"
"""A header that browsers complain of, and do not follow, on addresses that they do not hold for safe."""


@dataclass(frozen=True, slots=True)
class Site:
    """Where the pages are reached. `lan`: from other devices too; `https_name`: the name that a proxy serves."""

    hosts: frozenset[str] = frozenset(LOCAL_HOSTS)
    port: int = 0
    lan: bool = False
    https_name: str = ""

    @property
    def safe(self) -> bool:
        """Whether other devices come by HTTPS."""
        return bool(self.https_name)

    def cookie(self, what: str) -> str:
        """Name of a cookie: browsers keep those of all ports of a host together."""
        return f"{'__Host-' if self.safe else ''}hplayouts_{what}_{self.port}"


@dataclass(frozen=True, slots=True)
class Keys:
    """What opens the door to other devices; `password` is the file with the desk's hash."""

    password: Path
    codes: Codes = field(default_factory=Codes)
    tablets: Sessions = field(default_factory=lambda: Sessions(life_s=TABLET_LIFE_S))
    designers: Sessions = field(default_factory=Sessions)
    pair_tries: Tries = field(default_factory=Tries)
    enter_tries: Tries = field(default_factory=Tries)
    seal: FormSeal = field(default_factory=FormSeal)

    def hash(self) -> str:
        """The desk's password as it is kept; empty where there is none that can be used."""
        try:
            return read_hash(self.password, PASSWORD_CURE)
        except PasswordError:
            return ""


def host_name(host: str) -> str:
    """A host without its port."""
    return (host.rsplit(":", 1)[0] if host.rpartition(":")[2].isdigit() else host).lower()


def _told(code: int, words: str) -> Response:
    return Response(f"{words}\n", code, {**PLAIN_HEADERS, "Cache-Control": "no-store"}, mimetype="text/plain")


def _without(name: str, start_response: Any) -> Any:  # noqa: ANN401
    """Answers without one header."""

    def start(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:  # noqa: ANN401
        return start_response(status, [pair for pair in headers if pair[0].lower() != name], *more)

    return start


class Door:
    """WSGI in front of WSGI."""

    def __init__(self, inside: Wsgi, site: Site, keys: Keys | None = None) -> None:
        self.inside, self.site, self.keys = inside, site, keys

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:  # noqa: ANN401, D102
        request = Request(environ)
        role = self.role(request)
        if not self._trusted(request):
            start_response = _without(UNTRUSTED, start_response)
        refused = self._refused(request, role)
        if refused is not None:
            return refused(environ, start_response)
        environ[ROLE], environ[HOSTS] = role, self.site.hosts
        return self.inside(environ, self._with_token(request, start_response))

    def _trusted(self, request: Request) -> bool:
        """Whether browsers hold the address for safe: this computer's own, or one by HTTPS."""
        return host_name(request.host) in {*LOCAL_HOSTS, self.site.https_name}

    def role(self, request: Request) -> Role:
        """Who asks."""
        if from_here(request.environ) and host_name(request.host) in LOCAL_HOSTS:
            return Role.HERE
        if not self.site.lan or self.keys is None or not self._paired(request, self.keys):
            return Role.STRANGER
        name, kept = request.cookies.get(self.site.cookie("desk"), ""), self.keys.hash()
        known = bool(name and kept) and self.keys.designers.find(name, kept) is not None
        return Role.DESIGNER if known else Role.TABLE

    def _paired(self, request: Request, keys: Keys) -> bool:
        name = request.cookies.get(self.site.cookie("tablet"), "")
        return bool(name) and keys.tablets.find(name, PAIRED) is not None

    def _refused(self, request: Request, role: Role) -> Response | None:
        if host_name(request.host) not in self.site.hosts:
            return _told(421, "Misdirected Request")
        if not is_near(request.environ.get("REMOTE_ADDR")):
            return _told(403, "Forbidden")
        if request.method not in METHODS:
            return _told(405, "Method Not Allowed")
        wrong = self._wrong_post(request) if request.method == "POST" else None
        return wrong or (self._stranger(request) if role is Role.STRANGER else None)

    def _wrong_post(self, request: Request) -> Response | None:
        if (request.content_length or 0) > MOST_BODY_BYTES:
            return _told(413, "Content Too Large")
        scheme = "https" if host_name(request.host) == self.site.https_name else request.scheme
        origin = request.headers.get("Origin")
        if origin and origin != f"{scheme}://{request.host}":
            return _told(400, "Bad Request")
        if request.headers.get("Sec-Fetch-Site", "same-origin") not in {"same-origin", "none"}:
            return _told(400, "Bad Request")
        if request.path in FORMS:
            return None
        token, given = request.cookies.get(TOKEN_COOKIE, ""), request.headers.get(TOKEN_HEADER, "")
        return None if _TOKEN.fullmatch(token) and same(token, given) else _told(400, "Bad Request")

    def _stranger(self, request: Request) -> Response | None:
        if not self.site.lan:
            return _told(403, "Forbidden")
        if request.path == PAIR or (request.method in {"GET", "HEAD"} and request.path.startswith(OPENED)):
            return None
        if request.path == "/" and request.method == "GET":
            return Response("", 303, {**PLAIN_HEADERS, "Location": PAIR, "Cache-Control": "no-store"})
        return _told(401, "Pair this device first.")

    def _with_token(self, request: Request, start_response: Any) -> Any:  # noqa: ANN401
        """Give a browser its token with the first page that it opens."""
        if request.method != "GET" or _TOKEN.fullmatch(request.cookies.get(TOKEN_COOKIE, "")):
            return start_response

        def start(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:  # noqa: ANN401
            kinds = [value for name, value in headers if name.lower() == "content-type"]
            if kinds and kinds[0].startswith("text/html"):
                secure = "; Secure" if host_name(request.host) == self.site.https_name else ""
                cookie = f"{TOKEN_COOKIE}={secrets.token_urlsafe(32)}; Path=/; SameSite=Strict{secure}"
                headers = [*headers, ("Set-Cookie", cookie)]
            return start_response(status, headers, *more)

        return start
