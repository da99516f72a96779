"""Cases and published ranges of the thermal fabric tests of ANSI/ASHRAE Standard 140-2020, as data.

A case is its parameters; a further case of the family is one more row.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

NIGHT_HOURS = frozenset({23, 0, 1, 2, 3, 4, 5, 6})
"""Hours of the setback (from memory)."""


@dataclass(frozen=True, slots=True)
class Case:
    """One case: set points, mass, gains, air change, emissivities, absorptances, opening and its shades."""

    name: str
    heat_set_c: float
    cool_set_c: float
    setback_c: float | None
    heavy: bool
    gain_w: float
    air_changes_per_h: float
    ir_inside_frac: float
    ir_outside_frac: float
    sw_inside_frac: float
    sw_outside_frac: float
    opening: str
    """"none", "panel south", "glass south" or "glass east west"."""
    overhang_m: float
    fin_m: float
    free: bool
    """Whether the air floats without heating and cooling."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Range:
    """Published lowest and highest result of the reference programs."""

    case: str
    quantity: str
    unit: str
    low: float
    high: float
    source: str


def _rows(name: str) -> list[dict[str, str]]:
    text = (files("compare.data") / "validation" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def cases() -> tuple[Case, ...]:
    """Every case of the table, in its order."""
    return tuple(_case(row) for row in _rows("standard140_cases.csv"))


def case_named(name: str) -> Case:
    """One case; `KeyError` lists what there is."""
    for case in cases():
        if case.name == name:
            return case
    raise KeyError(f"case {name!r} is not in the table; there are: {', '.join(case.name for case in cases())}")


def _case(row: dict[str, str]) -> Case:
    return Case(
        name=row["case"],
        heat_set_c=float(row["heat_set_c"]),
        cool_set_c=float(row["cool_set_c"]),
        setback_c=float(row["setback_c"]) if row["setback_c"] else None,
        heavy=row["heavy"] == "1",
        gain_w=float(row["gain_w"]),
        air_changes_per_h=float(row["air_changes_per_h"]),
        ir_inside_frac=float(row["ir_inside_frac"]),
        ir_outside_frac=float(row["ir_outside_frac"]),
        sw_inside_frac=float(row["sw_inside_frac"]),
        sw_outside_frac=float(row["sw_outside_frac"]),
        opening=row["opening"],
        overhang_m=float(row["overhang_m"]),
        fin_m=float(row["fin_m"]),
        free=row["free"] == "1",
        note=row["note"],
    )


@cache
def ranges() -> tuple[Range, ...]:
    """Every published range, with its source."""
    return tuple(
        Range(row["case"], row["quantity"], row["unit"], float(row["low"]), float(row["high"]), row["source"])
        for row in _rows("standard140_ranges.csv")
    )
