"""Reading a CSV table whose second line names the unit of each column.

Lines that start with ``#`` are remarks. The first other line holds the column names, the next one the unit of each
column, and every further line is a row. Any unit of the right quantity is accepted; values come out in SI.
All problems of a table are collected and raised together, each with its line.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

BTU_H_W: Final = 0.29307107017222
"""One British thermal unit (international table) per hour [W]."""
CFM_M3_S: Final = 0.3048**3 / 60.0
"""One cubic foot per minute [m3/s]."""
IN_WC_PA: Final = 249.08891
"""One inch of water column at 4 degC [Pa]."""


class CatalogueError(ValueError):
    """A catalogue table cannot be used; the text names file, line, column and the cure, one problem a line."""


UNITS: Final[Mapping[str, Mapping[str, float]]] = {
    "text": {"text": 1.0},
    "ratio": {"-": 1.0},
    "capacity": {"kBtu/h": 1000.0 * BTU_H_W, "Btu/h": BTU_H_W, "kW": 1000.0, "W": 1.0},
    "size": {"kBtu/h": 1.0, "Btu/h": 0.001, "kW": 1.0 / BTU_H_W, "W": 0.001 / BTU_H_W},
    "flow": {"cfm": CFM_M3_S, "m3/s": 1.0, "m3/h": 1.0 / 3600.0, "L/s": 0.001},
    "fan": {"W/cfm": 1.0 / CFM_M3_S, "W/(m3/s)": 1.0, "W/(L/s)": 1000.0},
    "static": {"in. w.c.": IN_WC_PA, "Pa": 1.0},
    "length": {"in": 0.0254, "ft": 0.3048, "mm": 0.001, "cm": 0.01, "m": 1.0},
    "level": {"dBA": 1.0, "dB": 1.0},
    "current": {"A": 1.0},
    "mass": {"kg": 1.0, "lb": 0.45359237, "g": 0.001},
    "temperature": {"C": 1.0, "F": 1.0},
    "time": {"h": 1.0},
}
"""Quantity -> unit words -> factor to SI (size classes stay in kBtu/h, temperatures are converted apart)."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table; numbers must lie from `least` to `most` in SI."""

    name: str
    quantity: str
    least: float = -math.inf
    most: float = math.inf
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table in SI; `where` is ``file:line``."""

    where: str
    texts: Mapping[str, str]
    numbers: Mapping[str, float]


def to_c(value_f: float) -> float:
    """Degrees Fahrenheit to degrees Celsius."""
    return (value_f - 32.0) / 1.8


def read_table(text: str, name: str, columns: tuple[Column, ...]) -> tuple[Row, ...]:
    """Read a table and check every cell.

    Parameters
    ----------
    text
        The file's content.
    name
        The file's name, for messages.
    columns
        What the table must hold; the order in the file is free.

    Raises
    ------
    CatalogueError
        With every problem found, each naming line, column and what is allowed.
    """
    lines = list(_content_lines(text))
    if len(lines) < 3:
        raise CatalogueError(f"{name}: needs a line of column names, a line of units and at least one row")
    problems: list[str] = []
    (head_no, head), (unit_no, units) = lines[0], lines[1]
    problems += _head_problems(f"{name}:{head_no}", head, columns)
    if len(units) != len(head):
        problems.append(f"{name}:{unit_no}: the line of units has {len(units)} cells, the line above has {len(head)}")
    if problems:
        raise CatalogueError("\n".join(problems))
    unit_of = dict(zip(head, units, strict=True))
    problems += _unit_problems(f"{name}:{unit_no}", unit_of, columns)
    if problems:
        raise CatalogueError("\n".join(problems))
    rows: list[Row] = []
    for number, cells in lines[2:]:
        row, found = _read_row(f"{name}:{number}", dict(zip(head, cells, strict=False)), unit_of, columns)
        if len(cells) != len(head):
            found = [f"{name}:{number}: has {len(cells)} cells, the line of column names has {len(head)}"]
        problems += found
        rows.append(row)
    if problems:
        raise CatalogueError("\n".join(problems))
    return tuple(rows)


def _content_lines(text: str) -> Iterator[tuple[int, list[str]]]:
    numbered = ((no, line) for no, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1))
    for no, line in numbered:
        if line.strip() and not line.lstrip().startswith("#"):
            yield no, [cell.strip() for cell in next(csv.reader([line]))]


def column_names(text: str) -> tuple[str, ...]:
    """Column names of a table, empty when there are none."""
    return tuple(next((cells for _, cells in _content_lines(text)), ()))


def _head_problems(where: str, head: list[str], columns: tuple[Column, ...]) -> list[str]:
    found = [f"{where}: column {name!r} stands twice" for name in sorted({n for n in head if head.count(n) > 1})]
    needed = [column.name for column in columns if not column.optional]
    found += [f"{where}: column {name!r} is missing" for name in needed if name not in head]
    known = {column.name for column in columns}
    found += [
        f"{where}: column {name!r} is not known; allowed: {', '.join(sorted(known))}"
        for name in head
        if name not in known
    ]
    return found


def _unit_problems(where: str, unit_of: Mapping[str, str], columns: tuple[Column, ...]) -> list[str]:
    found = []
    for column in columns:
        unit = unit_of.get(column.name)
        allowed = UNITS[column.quantity]
        if unit is not None and unit not in allowed:
            found.append(f"{where}: column {column.name!r} has the unit {unit!r}; allowed: {', '.join(allowed)}")
    return found


def _read_row(
    where: str, cells: Mapping[str, str], unit_of: Mapping[str, str], columns: tuple[Column, ...]
) -> tuple[Row, list[str]]:
    texts: dict[str, str] = {}
    numbers: dict[str, float] = {}
    problems: list[str] = []
    for column in columns:
        if column.name not in unit_of:
            continue
        cell = cells.get(column.name, "")
        if column.quantity == "text":
            texts[column.name] = cell
            continue
        try:
            numbers[column.name] = _number(cell, unit_of[column.name], column)
        except ValueError as error:
            problems.append(f"{where}: column {column.name!r}: {error}")
    return Row(where, texts, numbers), problems


def _number(cell: str, unit: str, column: Column) -> float:
    try:
        typed = float(cell)
    except ValueError:
        raise ValueError(f"{cell!r} is not a number; give one in {unit}") from None
    if not math.isfinite(typed):
        raise ValueError(f"{cell!r} is not a finite number; give one in {unit}")
    value = to_c(typed) if unit == "F" else typed * UNITS[column.quantity][unit]
    if not column.least <= value <= column.most:
        factor = 1.0 if column.quantity == "temperature" else UNITS[column.quantity][unit]
        low, high = column.least / factor, column.most / factor
        if unit == "F":
            low, high = low * 1.8 + 32.0, high * 1.8 + 32.0
        raise ValueError(f"{typed:g} {unit} is outside {low:g} to {high:g} {unit}")
    return value
