"""Reading the scoring data: CSV tables with a unit column, values turned into SI."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from functools import cache
from importlib import resources
from typing import Final

DATA_PACKAGE: Final = "compare.data.scoring"


class ScoringDataError(ValueError):
    """A scoring table cannot be used; the text names the file, the row and the cure."""


_TO_SI: Final[dict[str, Callable[[float], float]]] = {
    "°F": lambda x: (x - 32.0) / 1.8,
    "°F diff": lambda x: x / 1.8,
    "%": lambda x: x / 100.0,
}
_PLAIN: Final = frozenset({"h", "/h", "days", "W", "ratio", "points", "dB(A)", "starts/yr", "units", "USD"})

SUFFIX: Final[dict[str, str]] = {
    "h": "_h",
    "/h": "_per_h",
    "°F": "_c",
    "°F diff": "_k",
    "%": "_frac",
    "W": "_w",
    "dB(A)": "_dba",
    "USD": "_usd",
}
"""Unit of a table -> suffix of the SI name that holds the value."""


def to_si(value: float, unit: str) -> float:
    """A value of a table in SI (shares as fractions).

    Raises
    ------
    ScoringDataError
        For a unit that scoring tables do not use.
    """
    if unit in _PLAIN:
        return value
    if unit not in _TO_SI:
        raise ScoringDataError(f"unit {unit!r} is not known: use one of {', '.join(sorted({*_PLAIN, *_TO_SI}))}")
    return _TO_SI[unit](value)


@cache
def read_text(name: str) -> str:
    """The text of a scoring data file."""
    return resources.files(DATA_PACKAGE).joinpath(name).read_text(encoding="utf-8")


def read_rows(name: str, text: str | None = None) -> list[dict[str, str]]:
    """Rows of a scoring table, or of `text` in its place.

    Raises
    ------
    ScoringDataError
        When a row has more or fewer cells than the table has columns.
    """
    reader = csv.reader(io.StringIO(read_text(name) if text is None else text))
    heads = next(reader, [])
    rows = []
    for line, cells in enumerate(reader, start=2):
        if not cells:
            continue
        if len(cells) != len(heads):
            raise ScoringDataError(
                f"{name}:{line}: {len(cells)} cells for {len(heads)} columns; quote text with a comma"
            )
        rows.append(dict(zip(heads, (cell.strip() for cell in cells), strict=True)))
    return rows


def number(row: dict[str, str], column: str, table: str) -> float:
    """A finite number of a row.

    Raises
    ------
    ScoringDataError
        When the cell is no finite number.
    """
    text = row.get(column, "")
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ScoringDataError(f"{table}: {column} of {next(iter(row.values()))!r} is {text!r}: give a finite number")
    return value
