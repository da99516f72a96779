"""What a result rests on besides the house: reference data, code, version, Python and libraries. No cost is read."""

from __future__ import annotations

import platform
from collections.abc import Iterator
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from importlib.resources.abc import Traversable

from compare.jobs.canonical import digest_of, sha256_of

LIBRARIES = ("numpy", "scipy", "numba", "pandas", "pvlib", "fluids", "shapely", "pydantic", "pint", "psychrolib")
NOT_READ = frozenset({"office", "__pycache__"})
"""Folders of which customer-side code opens nothing."""


def _below(folder: Traversable, name: str = "") -> Iterator[tuple[str, Traversable]]:
    for item in sorted(folder.iterdir(), key=lambda found: found.name):
        path = f"{name}/{item.name}" if name else item.name
        if item.is_dir():
            if item.name not in NOT_READ:
                yield from _below(item, path)
        else:
            yield path, item


@cache
def _digests() -> tuple[dict[str, str], dict[str, str]]:
    """Digests of data files and of source files of the computation."""
    data: dict[str, str] = {}
    code: dict[str, str] = {}
    for path, item in _below(files("compare")):
        if path.endswith(".py"):
            code[path] = sha256_of(item.read_bytes())
        elif path.startswith("data/"):
            data[path] = sha256_of(item.read_bytes())
    return data, code


def data_digests() -> dict[str, str]:
    """Digest of each reference-data file, by its path in the package."""
    return dict(_digests()[0])


def program() -> dict[str, object]:
    """Version, digest of the code, Python and libraries."""
    return {
        "version": _version("heat-pump-layouts"),
        "code_sha256": digest_of(_digests()[1]),
        "python": platform.python_version(),
        "libraries": {name: _version(name) for name in LIBRARIES},
    }


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "not installed"
