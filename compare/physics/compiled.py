"""Numba, loaded without what this program does not use of it; and functions compiled where numba is there."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import ModuleType
from typing import Any, NoReturn


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function, compiled at its first call and kept on disk; unchanged where numba is missing (slow, same)."""
    try:
        return kept_code(function)
    except ImportError:  # pragma: no cover - depends on the platform
        return function


def kept_code(function: Callable[..., Any], **options: object) -> Callable[..., Any]:
    """The function as numba compiles it at its first call, with no lock held; its machine code is kept on disk.

    Before numba takes machine code from disk it sets up all types and functions that it can compile, a tenth of a
    second's work that the code itself has no use for: here only what it calls as it runs is set up. Good for functions
    that do arithmetic on arrays and call nothing else. The usual way where numba keeps its parts elsewhere.
    """
    numba = load_numba()
    kept: Callable[..., Any] = numba.njit(nogil=True, **options)(function)
    try:
        kept._cache = _files_of(function)  # type: ignore[attr-defined]  # noqa: SLF001 - numba has no other place
    except (ImportError, AttributeError):  # pragma: no cover - depends on numba's version
        kept.enable_caching()  # type: ignore[attr-defined]
    return kept


def _files_of(function: Callable[..., Any]) -> object:
    """Numba's own files on disk, read without setting up what compiling needs; compiling sets it up itself."""
    from numba.core.caching import FunctionCache
    from numba.core.runtime.nrt import rtsys

    class Files(FunctionCache):  # type: ignore[misc, unused-ignore]
        def load_overload(self, sig: object, target_context: object) -> object:
            try:
                rtsys.initialize(target_context)
                with self._guard_against_spurious_io_errors():
                    return self._load_overload(sig, target_context)  # type: ignore[no-untyped-call]
            except AttributeError:  # pragma: no cover - depends on numba's version
                return super().load_overload(sig, target_context)  # type: ignore[no-untyped-call]

    return Files(function)  # type: ignore[no-untyped-call]


def load_numba() -> ModuleType:
    """Numba with the functions on arrays that kept code may refer to; raises ImportError without it."""
    if "numba" in sys.modules:
        return sys.modules["numba"]
    with _many_that_stay():
        import numba

        _load_arrays()
    return numba


def load_compiler() -> None:
    """Numba with all that it otherwise loads when it first compiles, or reads kept code in its usual way.

    Raises ImportError without numba.
    """
    load_numba()
    try:
        from numba.core.registry import cpu_target
    except ImportError:  # pragma: no cover - depends on numba's version
        return
    with _many_that_stay():
        cpu_target.target_context.refresh()


@contextmanager
def _many_that_stay() -> Iterator[None]:
    """No garbage is looked for meanwhile, nor later among what is there by then.

    Numba makes some hundred thousand objects, nearly all stay, and going through them again and again is what made
    pages pause.
    """
    looks = gc.isenabled()
    gc.disable()
    try:
        yield
        gc.freeze()
    finally:
        if looks:
            gc.enable()


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


def _no_blas() -> NoReturn:
    raise ImportError("not looked for")
