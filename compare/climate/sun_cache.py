"""Arrays kept on disk between runs: atomic writes, checked reads, and a miss wherever anything looks wrong.

Folder: the environment variable HPLAYOUTS_CACHE, else `heat-pump-layouts` in XDG_CACHE_HOME, else in ~/.cache. A cache
that cannot be read or written costs time, never a result.
"""

from __future__ import annotations

import os
import tempfile
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

Arrays = Mapping[str, npt.NDArray[np.float64]]

_KEEP_FILES = 60


def cache_folder() -> Path:
    """Where the tool keeps what it can compute again."""
    chosen = os.environ.get("HPLAYOUTS_CACHE")
    if chosen:
        return Path(chosen)
    home = os.environ.get("XDG_CACHE_HOME")
    return (Path(home) if home else Path("~/.cache").expanduser()) / "heat-pump-layouts"


def _sun_folder() -> Path:
    return cache_folder() / "sun"


def load_arrays(key: str, shapes: Mapping[str, tuple[int, ...]]) -> dict[str, npt.NDArray[np.float64]] | None:
    """Arrays stored under a key, or None where the file is absent, damaged or of another shape."""
    path = _sun_folder() / f"{key}.npz"
    try:
        with path.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
            found = {name: stored[name] for name in shapes}
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, NotImplementedError):
        return None
    for name, shape in shapes.items():
        values = found[name]
        if values.dtype != np.float64 or values.shape != shape or not np.all(np.isfinite(values)):
            return None
    return found


def store_arrays(key: str, arrays: Arrays) -> bool:
    """Write under a key by a rename in the same folder; False where the folder cannot be written."""
    folder = _sun_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=folder, prefix=".part-", suffix=".npz")
    except OSError:
        return False
    part = Path(name)
    columns: dict[str, Any] = dict(arrays)
    try:
        with os.fdopen(handle, "wb") as stream:
            np.savez(stream, **columns)
        part.replace(folder / f"{key}.npz")
    except OSError:
        part.unlink(missing_ok=True)
        return False
    _prune(folder)
    return True


def _prune(folder: Path) -> None:
    """Keep the newest files only, so that the cache stays below about 100 MB."""
    try:
        files = sorted(folder.glob("*.npz"), key=lambda path: path.stat().st_mtime, reverse=True)
        for path in files[_KEEP_FILES:]:
            path.unlink(missing_ok=True)
    except OSError:
        return
