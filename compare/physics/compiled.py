"""Numba, loaded without what this program does not use of it; and functions compiled where numba is there."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from types import ModuleType
from typing import Any, NoReturn


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function, compiled at its first call and kept on disk; unchanged where numba is missing (slow, same)."""
    try:
        numba = load_numba()
    except ImportError:  # pragma: no cover - depends on the platform
        return function
    kept: Callable[..., Any] = numba.njit(cache=True, nogil=True)(function)
    return kept


def load_numba() -> ModuleType:
    """Numba with all that it otherwise loads at the first call; raises ImportError without it.

    No garbage is looked for meanwhile, nor later among what is there now: numba makes some hundred thousand objects,
    nearly all stay, and going through them again and again is what made pages pause.
    """
    first, looks = "numba" not in sys.modules, gc.isenabled()
    gc.disable()
    try:
        import numba

        if first:
            _load_arrays()
            _load_targets()
            gc.freeze()
    finally:
        if looks:
            gc.enable()
    return numba


def _load_arrays() -> None:
    """Load numba's array functions without scipy's linear algebra, which takes a quarter of a second.

    As they load they look for a BLAS, for convolutions alone. Told that there is none, numba adds up their products
    itself; products of matrices still find the BLAS when one is compiled. Does nothing where numba keeps its parts
    elsewhere.
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


def _load_targets() -> None:
    """Load what numba's first call loads, whether it compiles or finds its result on disk."""
    try:
        from numba.core.registry import cpu_target
    except ImportError:  # pragma: no cover - depends on numba's version
        return
    cpu_target.target_context.refresh()


def _no_blas() -> NoReturn:
    raise ImportError("not looked for")
