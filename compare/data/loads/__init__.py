"""Tables for air leakage, gains and the load factor method: CSV with units in the heading and a source on each row."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Every row of a table of this folder, by its file name without ending; values as text."""
    text = (files(__package__) / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
