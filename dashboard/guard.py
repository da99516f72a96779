"""What every answer of a page carries and what every request must satisfy, whatever the page does.

After OWASP ASVS 5.0.0: 3.4.3-3.4.6 (security headers), 5.2.1 (size capped before reading), 13.4.2 and 16.5.1 (no debug,
generic errors), 15.3.3 (only named fields). A request for another host name is refused, so that a foreign site cannot
reach a page on this computer by pointing a name at it.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from dash.exceptions import DependencyException
from flask import Flask, Response, request
from pydantic import BaseModel, ConfigDict, ValidationError
from werkzeug.exceptions import BadRequest, HTTPException, MisdirectedRequest, NotFound

from dashboard.role import HOSTS

MOST_BODY_BYTES = 64 * 1024
LOCAL_HOSTS = ("127.0.0.1", "localhost", "[::1]")
STATIC_PARTS = ("/assets/", "/_dash-component-suites/", "/look/")
CALLBACK_PATH = "/_dash-update-component"
CLOSED = ("/<path:path>", "/_reload-hash", "/_favicon.ico")
"""Doors of the framework that no page of ours uses; the first would answer any path with the page itself."""
Calls = Mapping[str, Any]
"""The calls of a page by their output, each with its `inputs` and `state`."""
_log = logging.getLogger("hplayouts.page")


class _Part(BaseModel):
    model_config = ConfigDict(extra="ignore", strict=True)
    id: str | dict[str, str | int | float | bool]
    property: str


class _Call(BaseModel):
    """The body of a callback, as far as it must have a shape before Dash looks at it."""

    model_config = ConfigDict(extra="ignore", strict=True)
    output: str
    outputs: _Part | list[_Part]
    inputs: list[_Part | list[_Part]]
    changedPropIds: list[str]  # noqa: N815 - the name in the request
    state: list[_Part | list[_Part]] = []


def policy(script_hashes: Sequence[str]) -> str:
    """The content security policy: everything from this server, no evaluation, no frame, no plug-in.

    The component library writes its styles into the page, hence inline styles.
    """
    rules = {
        "default-src": "'none'",
        "script-src": " ".join(["'self'", *script_hashes]),
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data:",
        "font-src": "'self'",
        "connect-src": "'self'",
        "base-uri": "'none'",
        "object-src": "'none'",
        "form-action": "'none'",
        "frame-ancestors": "'none'",
    }
    return "; ".join(f"{name} {value}" for name, value in rules.items())


PLAIN_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=()",
}
"""Headers of every answer whatever it holds."""


def _headers(script_hashes: Sequence[str]) -> dict[str, str]:
    return {"Content-Security-Policy": policy(script_hashes), **PLAIN_HEADERS}


def _host_name(host: str) -> str:
    return host.rsplit(":", 1)[0] if host.rpartition(":")[2].isdigit() else host


@dataclass(frozen=True, slots=True)
class _Pages:
    """Pages of a server by the prefix of their addresses, the one at the root under the empty text."""

    calls: Mapping[str, Calls]

    @property
    def closed(self) -> frozenset[str]:
        return frozenset({"/static/<path:filename>", *(prefix + rule for prefix in self.calls for rule in CLOSED)})

    @property
    def static(self) -> tuple[str, ...]:
        return tuple(prefix + part for prefix in self.calls for part in STATIC_PARTS)

    def called(self) -> Calls | None:
        """Calls of the page that the present request calls; None for any other request."""
        path = request.path
        return self.calls.get(path.removesuffix(CALLBACK_PATH)) if path.endswith(CALLBACK_PATH) else None


def _check_request(pages: _Pages) -> None:
    """Refuse what no page of ours would send."""
    if _host_name(request.host).lower() not in request.environ.get(HOSTS, LOCAL_HOSTS):
        raise MisdirectedRequest("open this page at 127.0.0.1")
    if request.url_rule is None or request.url_rule.rule in pages.closed:
        raise NotFound
    origin = request.headers.get("Origin")
    if request.method not in {"GET", "HEAD", "OPTIONS"}:
        if origin and origin != f"{request.scheme}://{request.host}":
            raise BadRequest("from another site")
        if not request.is_json:
            raise BadRequest("JSON only")
    calls = pages.called()
    if calls is not None:
        _check_call(calls)


def _check_call(calls: Calls) -> None:
    """The body must be one of the calls of this page, with exactly its parts."""
    try:
        call = _Call.model_validate(request.get_json())
    except (ValidationError, RecursionError):
        raise BadRequest("not a call of this page") from None
    known = calls.get(call.output)
    if known is None or not (_same(known["inputs"], call.inputs) and _same(known["state"], call.state)):
        raise BadRequest("no such call")
    outputs = call.outputs if isinstance(call.outputs, list) else [call.outputs]
    if [f"{part.id}.{part.property}" for part in outputs] != call.output.strip(".").split("..."):
        raise BadRequest("no such call")


def _same(known: Sequence[Mapping[str, str]], given: Sequence[_Part | list[_Part]]) -> bool:
    """Whether the parts of a call are those that it has: one for a plain id, a list for a pattern."""
    return len(known) == len(given) and all(_fits(one, other) for one, other in zip(known, given, strict=True))


def _fits(known: Mapping[str, str], given: _Part | list[_Part]) -> bool:
    if not known["id"].startswith("{"):
        return isinstance(given, _Part) and (given.id, given.property) == (known["id"], known["property"])
    keys = json.loads(known["id"]).keys()
    return isinstance(given, list) and all(
        isinstance(part.id, dict) and part.id.keys() == keys and part.property == known["property"] for part in given
    )


def _plain(error: Exception) -> Response:
    """A short answer without a word about the inside."""
    if isinstance(error, DependencyException):
        error = NotFound()
    if isinstance(error, HTTPException):
        code, said = error.code or 500, error.name
    else:
        _log.error("%s %s failed: %s", request.method, request.path, type(error).__name__, exc_info=error)
        code, said = 500, "Something went wrong. Nothing was changed."
    return Response(f"{said}\n", status=code, mimetype="text/plain")


def protect(
    server: Flask, script_hashes: Sequence[str], calls: Calls, further: Mapping[str, Calls] | None = None
) -> None:
    """Put headers, size cap, request check and plain errors on a server.

    Parameters
    ----------
    script_hashes
        Hashes of the inline scripts of the page.
    calls
        The calls of the page at the root.
    further
        Those of further pages of the same server, by the prefix of their addresses, as in `/desk`.
    """
    server.config["MAX_CONTENT_LENGTH"] = MOST_BODY_BYTES
    server.config["MAX_FORM_MEMORY_SIZE"] = MOST_BODY_BYTES
    headers = _headers(script_hashes)
    pages = _Pages({"": calls, **(further or {})})

    def check() -> None:
        _check_request(pages)

    def dress(response: Response) -> Response:
        response.headers.update(headers)
        if not request.path.startswith(pages.static):
            response.headers["Cache-Control"] = "no-store"
        return response

    server.before_request(check)
    server.after_request(dress)
    server.register_error_handler(Exception, _plain)
