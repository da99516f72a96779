"""Compile a function with numba where numba is there; leave it as it is elsewhere (slow, same result)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function, compiled at its first call and kept on disk."""
    try:
        from numba import njit
    except ImportError:  # pragma: no cover - depends on the platform
        return function
    return njit(cache=True, nogil=True)(function)
