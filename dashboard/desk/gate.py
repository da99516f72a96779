"""Who may come to the desk: browsers on this computer. To anybody else its addresses do not exist.

After OWASP ASVS 5.0.0, 8.3.1 (enforced on the server) and 8.2.1: the test is the address that the connection comes
from, never a header that a client can write.
"""

from __future__ import annotations

import ipaddress

from flask import Flask, request
from werkzeug.exceptions import NotFound

DESK = "/desk"


def is_here(address: str | None) -> bool:
    """Whether an address is this computer's own."""
    try:
        found = ipaddress.ip_address(address or "")
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    return bool((mapped or found).is_loopback)


def asked_here() -> bool:
    """Whether the present request comes from this computer."""
    return is_here(request.remote_addr)


def keep_desk_here(server: Flask) -> None:
    """Answer 404 for everything of the desk to whoever is not on this computer."""

    def check() -> None:
        path = request.path.lower()
        if (path == DESK or path.startswith(f"{DESK}/")) and not asked_here():
            raise NotFound

    server.before_request(check)
