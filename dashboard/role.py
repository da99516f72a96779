"""Who asks: told by the door to the pages behind it, never by anything that a client can write."""

from __future__ import annotations

import ipaddress
from collections.abc import Mapping
from enum import StrEnum
from typing import Any

import flask

ROLE, HOSTS = "hplayouts.role", "hplayouts.hosts"
"""Names under which the door tells a request's role, and the host names of this site. No header can have them."""
FORWARDED = ("HTTP_X_FORWARDED_FOR", "HTTP_FORWARDED", "HTTP_X_REAL_IP", "HTTP_VIA")


class Role(StrEnum):
    """Who asks."""

    HERE = "here"
    """A browser on this computer."""
    DESIGNER = "designer"
    """A paired device whose user gave the desk's password."""
    TABLE = "table"
    """A paired device."""
    STRANGER = "stranger"
    """Anybody else."""


DESIGNERS = frozenset({Role.HERE, Role.DESIGNER})


def is_here(address: str | None) -> bool:
    """Whether an address is this computer's own."""
    found = _address(address)
    return found is not None and found.is_loopback


def is_near(address: str | None) -> bool:
    """Whether an address belongs to this computer or to a private network (RFC 1918, RFC 4193, RFC 3927, RFC 4291)."""
    found = _address(address)
    return found is not None and (found.is_loopback or found.is_private or found.is_link_local)


def _address(address: str | None) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        found = ipaddress.ip_address((address or "").partition("%")[0])
    except ValueError:
        return None
    return getattr(found, "ipv4_mapped", None) or found


def from_here(environ: Mapping[str, Any]) -> bool:
    """Whether a request comes from a browser on this computer; what a proxy passes on does not."""
    return is_here(environ.get("REMOTE_ADDR")) and not any(name in environ for name in FORWARDED)


def may_design() -> bool:
    """Whether the present request may open the desk."""
    role = flask.request.environ.get(ROLE)
    return role in DESIGNERS if role is not None else from_here(flask.request.environ)


def within(path: str) -> str:
    """An address of the house that is being served; houses of a folder stand each under an address of their own."""
    return f"{flask.request.script_root}{path}" if flask.has_request_context() else path
