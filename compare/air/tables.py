"""Readers for the data tables of the air side."""

from __future__ import annotations

import csv
import math
from functools import cache
from importlib.resources import files

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Rows of `compare/data/air/<name>.csv`, each with its unit and source."""
    text = (files("compare.data.air") / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def row(name: str, key: str, value: str) -> dict[str, str]:
    """The one row of a table whose column `key` holds `value`.

    Raises ValueError that lists the words the table knows.
    """
    for entry in rows(name):
        if entry[key] == value:
            return entry
    known = ", ".join(dict.fromkeys(entry[key] for entry in rows(name)))
    raise ValueError(f"{name}: {key} '{value}' is not in the table; use one of {known}")


@cache
def constant(name: str, table: str = "constants") -> float:
    """A single value from a name/value table (`constants`, `siting_rules`, `line_rules`)."""
    return float(row(table, "name", name)["value"])


@cache
def fitting(name: str) -> float:
    """Loss coefficient of a fitting, in velocity heads."""
    return float(row("fittings", "name", name)["loss_coefficient"])


@cache
def column(name: str, key: str) -> FloatArray:
    """A column of a table as floats, in the order of its rows (read-only)."""
    values = np.array([float(entry[key]) for entry in rows(name)])
    values.flags.writeable = False
    return values


def require_positive(value: float, field: str, unit: str) -> None:
    """Raise ValueError unless `value` is a finite number above zero."""
    if not 0 < value < math.inf:
        raise ValueError(f"{field} must be above 0 {unit}, got {value}; give a measured or design value")
