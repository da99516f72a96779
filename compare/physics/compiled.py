"""Compile a function with numba where numba is there; leave it as it is elsewhere (slow, same result)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NoReturn


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function, compiled at its first call and kept on disk."""
    try:
        from numba import njit
    except ImportError:  # pragma: no cover - depends on the platform
        return function
    spare_scipy()
    return njit(cache=True, nogil=True)(function)


def spare_scipy() -> None:
    """Load numba's array functions without scipy's linear algebra, which takes a quarter of a second.

    At its first call numba loads all it can do with arrays, and looks there for a BLAS, for convolutions alone. Told
    that there is none, it adds up their products itself; products of matrices still find the BLAS when one is compiled.
    Does nothing where numba keeps its parts elsewhere.
    """
    try:
        from numba.np import linalg

        found = linalg.ensure_blas
    except (ImportError, AttributeError):  # pragma: no cover - depends on numba's version
        return
    linalg.ensure_blas = _no_blas
    try:
        import numba.np.arraymath  # noqa: F401 - asks for the BLAS as it loads
    finally:
        linalg.ensure_blas = found


def _no_blas() -> NoReturn:
    raise ImportError("not looked for")
