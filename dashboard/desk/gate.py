"""Who may come to the desk: browsers on this computer, and designers who signed in. To others it does not exist.

After OWASP ASVS 5.0.0, 8.3.1 (enforced on the server) and 8.2.1: the test is the address that the connection comes
from, or a role told by the door, never a header that a client can write.
"""

from __future__ import annotations

from flask import Flask, request
from werkzeug.exceptions import NotFound

from dashboard.role import is_here, may_design

__all__ = ["DESK", "asked_here", "is_here", "keep_desk_here"]
DESK = "/desk"


def asked_here() -> bool:
    """Whether the present request may open the desk."""
    return may_design()


def keep_desk_here(server: Flask) -> None:
    """Answer 404 for everything of the desk to whoever may not open it."""

    def check() -> None:
        path = request.path.lower()
        if (path == DESK or path.startswith(f"{DESK}/")) and not may_design():
            raise NotFound

    server.before_request(check)
